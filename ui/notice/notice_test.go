package notice

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"example.com/needlewright/ui/cells"
	"example.com/needlewright/ui/uitest"
)

// The last thing said stands, but a question stays until it is answered.
func TestNotice(t *testing.T) {
	var n Notice
	n.Warn("careful")
	n.Say("done")
	assert.Equal(t, Notice{Said, "done"}, n)
	n.Ask("really?")
	n.Fail("no kits")
	assert.Equal(t, Notice{Asked, "really?"}, n)
	assert.Contains(t, uitest.Screen(20, 1, func(at cells.Area) {
		_, left := n.Draw(at).Size()
		assert.Zero(t, left, "nothing else is said")
	})[0], "really?")
	n.Clear()
	uitest.Screen(20, 1, func(at cells.Area) {
		_, left := n.Draw(at).Size()
		assert.Equal(t, 1, left)
	})
	n.Fail("no kits")
	assert.Equal(t, Notice{Failed, "no kits"}, n)
}

// What is said leaves the rows below it to others.
func TestRoomBelow(t *testing.T) {
	n := new(Notice)
	n.Say("one two three")
	rows := uitest.Screen(9, 3, func(at cells.Area) {
		_, left := n.Draw(at).Size()
		assert.Equal(t, 1, left)
	})
	assert.Equal(t, []string{"one two", "three", ""}, rows)
}
