package ui

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"example.com/needlewright/ui/uitest"
)

// Esc gives the focused field its former text back, and then leaves whatever view stands in
// place of the results; the screen says so, and the list of keys.
func TestEscLeavesEveryView(t *testing.T) {
	for _, size := range uitest.Sizes {
		a := open(exampleText(t, "reading-room"), size[0], size[1])
		focusOn(t, a, "hand.hours.meter.coil")
		plain, text := a.Plain(), a.Text()
		for n := 1; ; n++ {
			for range n {
				press(a, "ctrl+p")
			}
			if a.side.Views.At == 0 {
				assert.Greater(t, n, 5, "budget, day and plots of the plan")
				break
			}
			assert.Contains(t, a.Plain(), "esc needle", size)
			press(a, "650", "esc")
			assert.Equal(t, text, a.Text())
			assert.NotZero(t, a.side.Views.At, "the field first")
			press(a, "esc")
			assert.Zero(t, a.side.Views.At)
			assert.Equal(t, plain, a.Plain())
		}
		press(a, "ctrl+r", "ctrl+r", "f6", "esc")
		assert.NotZero(t, a.side.Views.At, "what was in view before the result that was looked into")
		press(a, "esc")
		assert.Equal(t, plain, a.Plain())
		press(a, "f1")
		for i := 0; i < 3 && !contains(a.Plain(), "leave the view"); i++ {
			press(a, "down")
		}
		assert.Contains(t, a.Plain(), "leave the view")
	}
}
