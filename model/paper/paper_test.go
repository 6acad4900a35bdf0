package paper

import (
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/dial"
	"example.com/needlewright/model/modeltest"
)

// Every example has every paper, each of the kind that its name says, the same bytes again; the
// papers of a finished clock are those of its hands.
func TestEveryPaperOfEveryExample(t *testing.T) {
	names, err := modeltest.Examples()
	require.NoError(t, err)
	begins := map[string]string{".html": "<!DOCTYPE html>", ".pdf": "%PDF-", ".h": "/*", ".csv": "needed,what,", ".svg": "<"}
	on, _ := dial.PaperNamed("a4")
	for _, name := range names {
		d := model.Open(modeltest.Example(name))
		for k := range Kinds {
			text, err := Kinds[k].Make(d, on)
			require.NoError(t, err, "%s: %s", name, Kinds[k].Title)
			ending := Kinds[k].File[strings.LastIndexByte(Kinds[k].File, '.'):]
			assert.True(t, strings.HasPrefix(text, begins[ending]), "%s: %s begins %.20q", name, Kinds[k].File, text)
			if ending == ".html" {
				continue // its own room holds its bytes
			}
			again, err := Kinds[k].Make(model.Open(modeltest.Example(name)), on)
			require.NoError(t, err)
			assert.Equal(t, text, again, "%s: %s", name, Kinds[k].File)
		}
		all, err := All(d, on)
		require.NoError(t, err, name)
		var files []string
		for _, f := range all {
			files = append(files, f.Name)
		}
		wanted := []string{"dials.pdf"}
		for _, h := range d.Build.Hands {
			wanted = append(wanted, "dial-"+h.Name+".svg")
		}
		assert.Equal(t, append(wanted, "codes.h", "parts.csv", "sheet.html"), files, name)
	}
}

// Where one paper cannot be made there are none; a clock without a hand has no dials.
func TestAllOrNone(t *testing.T) {
	on, _ := dial.PaperNamed("a4")
	d := model.Open(modeltest.With(t, modeltest.Example("reading-room"), "hand.hours.dial.width", "400 mm"))
	require.Empty(t, d.Problems)
	all, err := All(d, on)
	assert.Empty(t, all)
	var large *dial.TooLargeError
	require.True(t, errors.As(err, &large), "%v", err)

	bare := model.Open("format = 1\n[rail]\nvoltage = \"5 V\"\n")
	require.Empty(t, modeltest.Messages(bare.Problems))
	all, err = All(bare, on)
	require.NoError(t, err)
	assert.Len(t, all, 3)
}
