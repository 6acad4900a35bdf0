package ui

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// F6 in the list of results shows how the chosen one comes about, and any key goes back to
// the list; in the list of a part's choices, where that part comes from.
func TestWorkings(t *testing.T) {
	a := open(exampleText(t, "reading-room"), 80, 24)
	press(a, "f6", "worst over", "f6")
	// The contract's sketch, computed by hand.
	assert.Contains(t, a.Plain(), "574.74 µA / 495 µA         =  1.1611")
	assert.Contains(t, a.Plain(), "Why it matters: ")
	press(a, "x")
	assert.Contains(t, a.Plain(), "Look into", "it goes back to the list")
	assert.Contains(t, a.Plain(), "F6 working  F5 words")
	press(a, "esc")
	focusOn(t, a, "hand.hours.drive.fixed")
	press(a, "f4", "f6")
	assert.Contains(t, a.Plain(), "9.375 kΩ − 690 Ω           =  8.685 kΩ")
	press(a, "x")
	assert.Contains(t, a.Plain(), "F6 working  F5 words")
}

// In a narrow window its lines are broken where they were made: what goes on stands below the
// words, and no answer by itself at the left.
func TestANarrowWorking(t *testing.T) {
	a := open(exampleText(t, "reading-room"), 60, 20)
	press(a, "f6", "worst over", "f6")
	for _, line := range splitLines(a.Plain())[2:15] {
		assert.Regexp(t, `^│( [ 1-9]\d? |    )`, line)
	}
}
