package input

import (
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"

	"example.com/needlewright/ui/cells"
	"example.com/needlewright/ui/keys"
	"example.com/needlewright/ui/uitest"
)

// A line takes text, moves and deletes, and no more than there is room for.
func TestLine(t *testing.T) {
	in := New(keys.New())
	in.Fill("640", 5)
	for _, c := range []struct {
		key     string
		changed bool
		want    string
	}{{"end", false, "640"}, {"5", true, "6405"}, {"left", false, "6405"}, {"backspace", true, "645"}, {"12", true, "64125"}, {"9", false, "64125"}, {"home", false, "64125"}} {
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
	in.Press(uitest.Key("end"))
	changed, _ := in.Press(uitest.Key("x"))
	assert.False(t, changed)
}

// Two lines share nothing.
func TestTwoLines(t *testing.T) {
	one, other := New(keys.New()), New(keys.New())
	one.Fill("one", 10)
	other.Fill("other", 10)
	one.Press(uitest.Key("end"))
	one.Press(uitest.Key("x"))
	other.Press(uitest.Key("end"))
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

// The cursor is in view; a long text that is marked, or cannot be edited, begins at its
// head, any other ends at the cursor.
func TestDraw(t *testing.T) {
	in := New(keys.New())
	drawn := func(fixed bool) string {
		return strings.TrimRight(uitest.Screen(10, 1, func(at cells.Area) { in.Draw(at, "(0 %)", fixed) })[0], " ")
	}
	assert.Equal(t, "(0 %)", drawn(false))
	in.Fill("640 Ω", 60)
	assert.Equal(t, "[640 Ω]", drawn(false))
	in.Mark(1)
	assert.Equal(t, "640 [Ω]", drawn(false))
	in.Fill("640 Ω ±1", 60)
	assert.Equal(t, "[640 Ω ±1]", drawn(false))
	in.Fill("640 Ω ±11", 60)
	assert.Equal(t, "640 Ω ±11", drawn(false), "all of it is better than the signs")
	in.Fill("640 Ω", 60)
	in.Mark(0)
	assert.Equal(t, "640 Ω", drawn(false))
	in.Fill("0123456789abc", 60)
	assert.Equal(t, "012345678…", drawn(true))
	assert.Equal(t, "[0123456…]", drawn(false))
	in.Mark(3)
	assert.Equal(t, "…6789[abc]", drawn(false))
	in.Mark(8)
	assert.Equal(t, "01234[56…]", drawn(false))
	in.Press(uitest.Key("end"))
	assert.Equal(t, "…56789abc", drawn(false))
	for range 13 {
		in.Press(uitest.Key("left"))
	}
	assert.Equal(t, "012345678…", drawn(false), "the cursor stands at the head")
}

// What a line was filled with goes with the first that is typed or deletes; a key that
// moves begins to edit it, from the left the one to the left, from the right any other.
func TestMarked(t *testing.T) {
	for _, c := range []struct {
		keys []string
		want string
	}{
		{[]string{"7"}, "7"}, {[]string{"7", "0"}, "70"}, {[]string{" "}, " "}, {[]string{"700 Ω"}, "700 Ω"},
		{[]string{"backspace"}, ""}, {[]string{"delete"}, ""}, {[]string{"ctrl+u"}, ""}, {[]string{"ctrl+w"}, ""},
		{[]string{"alt+d"}, ""}, {[]string{"ctrl+k"}, ""}, {[]string{"backspace", "7"}, "7"},
		{[]string{"right", "7"}, "640 Ω7"}, {[]string{"end", "7"}, "640 Ω7"}, {[]string{"home", "7"}, "7640 Ω"},
		{[]string{"left", "7"}, "7640 Ω"}, {[]string{"left", "delete"}, "40 Ω"}, {[]string{"right", "backspace"}, "640 "},
		{[]string{"ctrl+left", "7"}, "640 7Ω"}, {[]string{"ctrl+right", "7"}, "640 Ω7"},
		{[]string{"ctrl+b", "7"}, "7"}, {[]string{"\u200b", "7"}, "7"}, {[]string{"\u200b"}, "640 Ω"}, // neither is anything
		{[]string{"12345678901"}, "640 Ω"}, {[]string{"12345678901", "7"}, "7"}, // too much is refused
	} {
		in := New(keys.New())
		in.Fill("640 Ω", 10)
		for _, name := range c.keys {
			msg := uitest.Key(name)
			if msg.Type == tea.KeyRunes {
				msg = AsTyped(uitest.Pressed(name))
			}
			in.Press(msg)
		}
		assert.Equal(t, c.want, in.Value(), "%q", c.keys)
	}
}

// A part that is marked goes alone; nothing marked, typing goes on. What is amended is
// marked where it was.
func TestMark(t *testing.T) {
	in := New(keys.New())
	for _, c := range []struct {
		marked int
		key    string
		want   string
	}{
		{4, "8", "50 % : 8"}, {4, "backspace", "50 % : "}, {4, "left", "50 % : 47 %"}, {0, "8", "50 % : 47 %8"}, {99, "8", "8"},
	} {
		in.Fill("50 % : 47 %", 20)
		in.Mark(c.marked)
		in.Press(uitest.Key(c.key))
		assert.Equal(t, c.want, in.Value(), c.key)
		in.Press(uitest.Key("9"))
		if c.key == "left" {
			assert.Equal(t, "50 % : 947 %", in.Value())
		}
	}
	in.Fill("640", 20)
	in.Amend("640 Ω")
	in.Press(uitest.Key("7"))
	assert.Equal(t, "7", in.Value())
	in.Amend("7 Ω")
	in.Press(uitest.Key("0"))
	assert.Equal(t, "70 Ω", in.Value(), "typing goes on where it was")
}

// A click begins to edit at its column, where the text is drawn from its head.
func TestPoint(t *testing.T) {
	for _, c := range []struct {
		marked, column int
		want           string
	}{
		{5, 0, "x640 Ω"}, {5, 1, "x640 Ω"}, {5, 3, "64x0 Ω"}, {5, 99, "640 Ωx"}, {0, 3, "640x Ω"}, {1, 2, "64x0 Ω"}, {1, 5, "640 xΩ"}, {5, -3, "x640 Ω"},
	} {
		in := New(keys.New())
		in.Fill("640 Ω", 10)
		in.Mark(c.marked)
		in.Point(c.column, 10)
		in.Press(uitest.Key("x"))
		assert.Equal(t, c.want, in.Value(), "column %d", c.column)
	}
	in := New(keys.New())
	in.Fill("日本0123456789", 20)
	in.Point(4, 10)
	in.Press(uitest.Key("x"))
	assert.Equal(t, "日x本0123456789", in.Value(), "whole characters")
	in.Press(uitest.Key("end"))
	in.Point(0, 10)
	in.Press(uitest.Key("x"))
	assert.Equal(t, "日x本0123456789x", in.Value(), "its beginning is not in view")
}
