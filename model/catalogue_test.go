package model

import (
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestCatalogue holds the tables to the catalogue, which is what people read:
// every result stands there in backquotes, by its last part or in full, and
// every key of the file by its name.
func TestCatalogue(t *testing.T) {
	text, err := os.ReadFile("catalogue.md")
	require.NoError(t, err, "the package keeps its catalogue beside its code")
	catalogue := string(text)
	for _, r := range results {
		key := last(r.ID)
		inFull := strings.NewReplacer("hand.", "<hand>.", "lamp.", "lamp.<lamp>.", "button.", "button.<button>.").Replace(r.ID)
		assert.True(t, strings.Contains(catalogue, "`"+inFull+"`") || strings.Contains(catalogue, "`."+key+"`"),
			"%s is not in the catalogue as `%s` or `.%s`", r.ID, inFull, key)
	}
	for _, f := range Builds.Fields {
		key := regexp.MustCompile(`\b` + last(f.Path) + `\b`)
		assert.True(t, key.MatchString(catalogue), "%s is not in the catalogue", f.Path)
	}
}

// TestCatalogueNamesFindings: every rule has its row.
func TestCatalogueNamesFindings(t *testing.T) {
	text, err := os.ReadFile("catalogue.md")
	require.NoError(t, err)
	for _, r := range rules {
		assert.Regexp(t, "(?m)^\\| (`\\w+` )*`"+r.id+"` ", string(text), r.id)
	}
	for _, part := range parts {
		assert.Contains(t, string(text), "| `"+part.id+"` |", part.id)
	}
}
