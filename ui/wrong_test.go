package ui

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/quantity"
	"example.com/needlewright/ui/uitest"
)

// The error budget of the hand in view stands with its sums and its rows, the
// largest first, as the report has them, at every size and for each time since the
// clock was set.
func TestErrorBudget(t *testing.T) {
	for _, size := range [][2]int{{60, 20}, {80, 24}, {120, 40}, {200, 60}} {
		a := open(exampleText(t, "station-platform"), size[0], size[1])
		press(a, "ctrl+n")
		require.Equal(t, 1, a.session.ReportHand())
		for h := judge.AfterDay; h <= judge.AfterCells; h++ {
			press(a, "ctrl+r")
			b := a.session.Report.Budget(1, h)
			screen := strings.NewReplacer("█", "", "▌", "").Replace(uitest.Squeezed(strings.Join(sideOf(a), " ")))
			assert.Contains(t, screen, uitest.Squeezed("Error budget, "+h.Since()))
			assert.Contains(t, screen, uitest.Squeezed("likely "+quantity.DialTime(b.RSS)+", at worst "+quantity.DialTime(b.Worst)))
			at := 0
			for _, row := range b.Rows[:3] {
				label := uitest.Squeezed(string([]rune(row.Label)[:9]))
				next := strings.Index(screen[at:], label)
				require.NotEqual(t, -1, next, "%s at %v in %s", row.Label, size, screen)
				at += next
				assert.Contains(t, screen[at:min(at+60, len(screen))], uitest.Squeezed(quantity.DialTime(row.Amount)))
			}
		}
		press(a, "ctrl+r")
		assert.Equal(t, judge.AfterDay, a.side.Views.Horizon, "round again")
	}
}

// sideOf are the rows of the screen's right side.
func sideOf(a *App) []string {
	var rows []string
	for _, row := range splitLines(a.Plain()) {
		r := []rune(row)
		if from := a.screen.layout().Side.Min.X + 1; len(r) > from {
			rows = append(rows, strings.TrimRight(string(r[from:]), "│ "))
		}
	}
	return rows
}

// Page up and down choose a row; its advice stands below, and F3 does it in one
// step of undo.
func TestMendTheBudget(t *testing.T) {
	a := open(exampleText(t, "reading-room"), 120, 40)
	focusOn(t, a, "title")
	press(a, "ctrl+r")
	for i, row := range a.side.Views.Wrong.Got().Budget.Rows[:3] {
		text := uitest.Squeezed(strings.Join(sideOf(a), " "))
		assert.Contains(t, text, uitest.Squeezed(row.Advice), "row %d", i)
		assert.Contains(t, text, "▸"+uitest.Squeezed(row.Label))
		assert.Equal(t, len(row.Changes) > 0, strings.Contains(text, "(F3does"+"it)"), "row %d", i)
		press(a, "pgdown")
	}
	press(a, "pgup", "pgup", "pgup", "pgup")
	first := slices.IndexFunc(a.side.Views.Wrong.Got().Budget.Rows, func(row judge.BudgetRow) bool { return len(row.Changes) > 0 })
	require.NotEqual(t, -1, first)
	for range first {
		press(a, "pgdown")
	}
	row := a.side.Views.Wrong.Got().Budget.Rows[first]
	before, likely := a.Text(), a.side.Views.Wrong.Got().Budget.RSS
	press(a, "f3")
	assert.Equal(t, model.Open(before).Make(row.Changes).Text, a.Text())
	assert.Contains(t, a.notice.Text, "Taken over: ")
	// the gain that the row promised, by the budget of the changed build
	assert.InEpsilon(t, likely-row.Gain, a.side.Views.Wrong.Got().Budget.RSS, 1e-9)
	press(a, "ctrl+z")
	assert.Equal(t, before, a.Text())
}

// What would have to be measured is not made up: the key leads to its empty field.
func TestWhatIsToBeMeasuredIsGoneTo(t *testing.T) {
	a := open(exampleText(t, "reading-room"), 120, 40)
	focusOn(t, a, "title")
	press(a, "ctrl+r")
	row := a.side.Views.Wrong.Got().Budget.Rows[0]
	require.Equal(t, "class", row.ID)
	require.Empty(t, row.Changes)
	before := a.Text()
	assert.Contains(t, uitest.Squeezed(strings.Join(sideOf(a), " ")), "(F3goesthere)")
	press(a, "f3")
	assert.Equal(t, before, a.Text())
	assert.Equal(t, "hand.meter.table", focusedRow(a).Field.Path)
	assert.Contains(t, a.notice.Text, "To be measured")
}

// What is offered for the field goes before what reduces the error.
func TestTheFieldsOfferGoesFirst(t *testing.T) {
	a := open(exampleText(t, "school-store"), 120, 40)
	press(a, "ctrl+r")
	require.NotNil(t, a.side.Mends())
	focusOn(t, a, "hand.hours.drive.fixed")
	s, _ := a.form.Offered(focusedRow(a))
	require.NotNil(t, s)
	assert.Nil(t, a.side.Mends())
	assert.NotContains(t, strings.Join(sideOf(a), " "), "(F3")
	press(a, "f3")
	assert.Contains(t, a.notice.Text, s.Text)
}

// It is worked out beside the keys: until it comes what was, of the same hand,
// stays, and a key waits for nothing. What was asked for before an edit, or for
// another time since the setting, is not shown.
func TestBudgetComesLater(t *testing.T) {
	a := open(exampleText(t, "reading-room"), 120, 40)
	_, cmd := a.Update(uitest.Key("ctrl+r"))
	require.NotNil(t, cmd)
	assert.Contains(t, a.Plain(), "being worked out")
	_, later := a.Update(uitest.Key("ctrl+r"))
	require.NotNil(t, later)
	early := cmd()
	a.Update(early)
	assert.Contains(t, a.Plain(), "being worked out", "that of a day after")
	a.Update(later())
	assert.Contains(t, a.Plain(), "a week after")
	assert.Nil(t, a.side.Views.Seek())

	focusOn(t, a, "hand.hours.meter.class")
	was := a.side.Views.Wrong.Got().Budget.RSS
	a.Update(uitest.Key("alt+up"))
	assert.Contains(t, a.Plain(), quantity.DialTime(was))
	assert.Nil(t, a.side.Mends(), "nothing is taken over of what was")
	settle(a)
	assert.NotContains(t, a.Plain(), quantity.DialTime(was))
}

// It comes also where the view was left meanwhile.
func TestBudgetIsNotLost(t *testing.T) {
	a := open(exampleText(t, "reading-room"), 120, 40)
	_, cmd := a.Update(uitest.Key("ctrl+r"))
	for a.side.Views.At != 0 {
		a.Update(uitest.Key("ctrl+p"))
	}
	a.Update(cmd())
	a.Update(uitest.Key("ctrl+r"))
	assert.Contains(t, a.Plain(), "likely")
}

// Without a hand, and where no text could ever be read, there is none.
func TestNoBudget(t *testing.T) {
	for _, text := range []string{"x = = 1", "format = 1\n", "format = 1\n[rail]\nvoltage = \"5 V\"\n"} {
		a := open(text, 80, 24)
		press(a, "ctrl+r", "ctrl+r", "pgdown", "f3")
		framed(t, a)
		assert.Zero(t, a.side.Views.At)
	}
}

// While the text has problems the last budget stays, and nothing is taken over.
func TestStaleBudget(t *testing.T) {
	a := open(exampleText(t, "reading-room"), 80, 24)
	focusOn(t, a, "hand.hours.meter.coil")
	press(a, "ctrl+r", "ctrl+u", "abc")
	require.True(t, a.session.Stale())
	assert.Contains(t, a.Plain(), "last good results")
	assert.Contains(t, a.Plain(), "likely")
	text := a.Text()
	press(a, "f3")
	assert.Equal(t, text, a.Text())
}

// The day curve is the report's.
func TestDayView(t *testing.T) {
	a := open(exampleText(t, "reading-room"), 120, 40)
	press(a, "ctrl+p", "ctrl+p")
	assert.Contains(t, a.Plain(), "Error over the day")
	assert.Equal(t, a.session.Report.DayCurve(0), a.side.Views.Wrong.Got().Day)
}
