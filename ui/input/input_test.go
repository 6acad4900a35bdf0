package input

import (
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"

	"example.com/needlewright/ui/cells"
	"example.com/needlewright/ui/uitest"
)

// A line takes text, moves and deletes, and no more than there is room for.
func TestLine(t *testing.T) {
	in := New()
	in.Fill("640", 5)
	for _, c := range []struct {
		key     string
		changed bool
		want    string
	}{{"5", true, "6405"}, {"left", false, "6405"}, {"backspace", true, "645"}, {"12", true, "64125"}, {"9", false, "64125"}, {"home", false, "64125"}} {
		changed, says := in.Press(uitest.Key(c.key))
		assert.Equal(t, c.changed, changed, c.key)
		assert.Equal(t, c.want, in.Value(), c.key)
		assert.Equal(t, c.key == "9", strings.Contains(says, "delete some before you type more"), c.key)
	}
	before, behind := in.parts()
	assert.Equal(t, "", before)
	assert.Equal(t, "64125", behind)
	assert.True(t, in.Empties(uitest.Key("ctrl+u")))
	assert.False(t, in.Empties(uitest.Key("5")))
	in.Fill("longer than it takes", 5)
	assert.Equal(t, "longer than it takes", in.Value(), "what is there stays")
	changed, _ := in.Press(uitest.Key("x"))
	assert.False(t, changed)
}

// Two lines share nothing.
func TestTwoLines(t *testing.T) {
	one, other := New(), New()
	one.Fill("one", 10)
	other.Fill("other", 10)
	one.Press(uitest.Key("x"))
	other.Press(uitest.Key("backspace"))
	assert.Equal(t, "onex", one.Value())
	assert.Equal(t, "othe", other.Value())
}

// Several letters at once are text, though they spell a key.
func TestAsTyped(t *testing.T) {
	assert.True(t, AsTyped(uitest.Key("f1x")).Paste)
	assert.False(t, AsTyped(uitest.Key("x")).Paste)
	assert.False(t, AsTyped(tea.KeyMsg{Type: tea.KeyEnter}).Paste)
}

// The cursor is in view; a long text that is untouched begins at its head, any other ends
// at the cursor.
func TestDraw(t *testing.T) {
	in := New()
	drawn := func(untouched bool) string {
		return uitest.Screen(10, 1, func(at cells.Area) { in.Draw(at, "(0 %)", untouched) })[0]
	}
	assert.Equal(t, "(0 %)", strings.TrimSpace(drawn(false)))
	in.Fill("0123456789abc", 60)
	assert.Equal(t, "012345678…", drawn(true))
	assert.Equal(t, "…56789abc", drawn(false))
	for range 13 {
		in.Press(uitest.Key("left"))
	}
	assert.True(t, strings.HasPrefix(drawn(true), "01234567"), "the cursor stands at the head")
}
