package front

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"example.com/needlewright/ui/keys"
)

// What is called so comes first, then what begins so, has a word that does, holds it, has
// another name that does, and last what is said of it.
func TestNearest(t *testing.T) {
	entries := []Entry{
		{Text: "Rail", Below: "What feeds the coil's pin"}, {Text: "recoil"}, {Text: "Moving coil"}, {Text: "Winding", Also: "coils"},
		{Text: "Coil open"}, {Text: "coil"}, {Text: "Coil"}, {Text: "Sand"},
	}
	names := func(typed string) (all []string) {
		for _, e := range nearest(entries, typed) {
			all = append(all, e.Text)
		}
		return all
	}
	assert.Equal(t, []string{"coil", "Coil", "Coil open", "Moving coil", "recoil", "Winding", "Rail"}, names("Coil"))
	assert.Equal(t, []string{"Rail"}, names("pin coil"), "in any order")
	assert.Equal(t, []string{"Rail"}, names("feeds"))
	assert.Empty(t, names("eeds"), "from the beginning of a word on")
	assert.Len(t, names(""), len(entries))
}

// A list that is narrowed follows each key, and one that is given anew.
func TestMatchingFollows(t *testing.T) {
	p := &Prompt{Entries: []Entry{{Text: "Sand"}, {Text: "Silt"}}}
	f := New(keys.New())
	p.begin(&f.line, "")
	assert.Len(t, p.matching(), 2)
	f.line.Fill("sa", 9)
	assert.Len(t, p.matching(), 1)
	p.Entries = []Entry{{Text: "Salt"}, {Text: "Sawdust"}}
	assert.Len(t, p.matching(), 2)
}
