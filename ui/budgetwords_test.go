package ui

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/quantity"
	"example.com/needlewright/ui/uitest"
)

// The budget says that its bars do not add up, at which times of the dial likely and at
// worst are, and what they are; F5 has all of it whole, at every size.
func TestTheBudgetIsToldWhole(t *testing.T) {
	for _, size := range uitest.Sizes {
		for _, name := range examples {
			a := open(exampleText(t, name), size[0], size[1])
			focusOn(t, a, "hand.hours.meter.coil")
			press(a, "ctrl+r")
			b := a.session.Report.Budget(0, judge.AfterDay)
			sums := "likely " + quantity.DialTime(b.RSS) + ", at worst " + quantity.DialTime(b.Worst)
			if b.LikelyAt == b.WorstAt {
				sums += ", both near " + b.LikelyAt
			} else {
				sums += ", near " + b.LikelyAt + " and " + b.WorstAt
			}
			side := uitest.Squeezed(strings.Join(sideOf(a), " "))
			assert.Contains(t, side, uitest.Squeezed(sums), "%s at %v", name, size)
			if size[0] >= 80 {
				assert.Contains(t, side, uitest.Squeezed("Each bar is at its own worst place."), "%s at %v", name, size)
			}
			for k, row := range b.Rows[:3] {
				press(a, "f5")
				page := wholePage(a)
				flat := uitest.Squeezed(strings.NewReplacer("│", "", "█", "", "▌", "").Replace(page))
				assert.Contains(t, page, "own worst place", "%s at %v", name, size)
				assert.Contains(t, page, "root of the sum", "%s at %v", name, size)
				// lines are broken anywhere: no word of the advice is missing
				for _, word := range strings.Fields(row.Advice) {
					assert.Contains(t, flat, word, "%s at %v, row %d", name, size, k)
				}
				assert.Contains(t, page, "Of the moving coil.", "the field's help too")
				press(a, "esc", "pgdown")
			}
		}
	}
}

// The largest are in view first, whatever was chosen before the budget was left, and where
// more stand above or below an arrow says so.
func TestTheBudgetBeginsWithTheLargest(t *testing.T) {
	a := open(exampleText(t, "reading-room"), 60, 20)
	press(a, "ctrl+r")
	rows := a.side.Views.Wrong.Got().Budget.Rows
	require.Greater(t, len(rows), 4)
	first := "▸" + string([]rune(rows[0].Label)[:9])
	inFrame := func(a *App) string { return strings.Join(sideOf(a)[:a.screen.layout().Side.Max.Y], "\n") }
	in := func() string { return inFrame(a) }
	assert.Contains(t, in(), first)
	assert.Contains(t, in(), "↓")
	assert.NotContains(t, in(), "↑")
	press(a, "pgdown", "pgdown", "pgdown", "pgdown")
	assert.Contains(t, in(), "↑")
	assert.NotContains(t, in(), "↓")
	press(a, "esc", "ctrl+r")
	assert.Contains(t, in(), first)
	wide := open(exampleText(t, "reading-room"), 120, 40)
	press(wide, "ctrl+r")
	assert.NotContains(t, inFrame(wide), "↓", "all are in view")
}
