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
	assert.Contains(t, uitest.Screen(20, 1, func(at cells.Area) { assert.True(t, n.Draw(at)) })[0], "really?")
	n.Clear()
	uitest.Screen(20, 1, func(at cells.Area) { assert.False(t, n.Draw(at)) })
	n.Fail("no kits")
	assert.Equal(t, Notice{Failed, "no kits"}, n)
}
