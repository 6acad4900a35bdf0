package ui

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/ui/keys"
)

// The README's key table and screen are the program's own.
func TestReadme(t *testing.T) {
	text, err := os.ReadFile("../README.md")
	require.NoError(t, err)
	readme := string(text)
	assert.Contains(t, readme, "| key | does |\n| --- | --- |\n"+keyTable()+"\n")
	a := open(exampleText(t, "reading-room"), 80, 24)
	assert.Contains(t, readme, "```text\n"+strings.TrimRight(a.Plain(), "\n")+"\n```\n")
}

// keyTable is the README's table of keys.
func keyTable() string {
	var b strings.Builder
	keys := keys.New()
	for _, k := range keys.All() {
		fmt.Fprintf(&b, "| %s | %s |\n", k.Help().Key, k.Help().Desc)
	}
	return b.String()
}
