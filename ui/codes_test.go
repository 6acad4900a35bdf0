package ui

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model/codes"
	"example.com/needlewright/ui/front"
	"example.com/needlewright/ui/uitest"
)

// The menu opens a page with the codes at each hour's mark, their places, the recipe, the
// ramp and the timer; it scrolls through all of it and closes.
func TestCodesPage(t *testing.T) {
	for _, size := range uitest.Sizes {
		a := open(exampleText(t, "station-platform"), size[0], size[1])
		press(a, "f2", "Codes", "enter")
		require.Equal(t, front.Paging, a.front.Mode)
		c := codes.Of(a.session.Report.Build, &a.session.Report.Plan)
		page := uitest.Squeezed(wholePage(a))
		for i := range c.Hands {
			h := &c.Hands[i]
			for _, text := range append([]string{h.Name + ": " + h.Summary(), "time instant code place"}, h.Lines()...) {
				assert.Contains(t, page, begun(text), "%v", size)
			}
		}
		// By hand: 240 codes for 24 hours, ten an hour.
		assert.Contains(t, page, uitest.Squeezed("3:00 180 30 12.50 %"))
		for _, text := range append(c.Timer.Lines(), c.Setting.Lines()...) {
			assert.Contains(t, page, begun(text), "%v", size)
		}
		press(a, "x")
		assert.Equal(t, front.Editing, a.front.Mode)
	}
}

// While a value cannot be read there is no page, and why is said.
func TestCodesPageNeedsValues(t *testing.T) {
	a := open(exampleText(t, "reading-room"), 80, 24)
	focusOn(t, a, "hand.hours.drive.top")
	press(a, "x", "enter")
	press(a, "f2", "Codes", "enter")
	assert.Equal(t, front.Editing, a.front.Mode)
	assert.Contains(t, uitest.Squeezed(a.Plain()), uitest.Squeezed("There are no codes until every value can be read"))
}

// begun is how a text begins, in the part that is never broken.
func begun(text string) string {
	r := []rune(text)
	return uitest.Squeezed(string(r[:min(len(r), 40)]))
}
