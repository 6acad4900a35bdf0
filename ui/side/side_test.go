package side

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/modeltest"
	"example.com/needlewright/ui/cells"
	"example.com/needlewright/ui/form"
	"example.com/needlewright/ui/front"
	"example.com/needlewright/ui/jobs"
	"example.com/needlewright/ui/keys"
	"example.com/needlewright/ui/layout"
	"example.com/needlewright/ui/notice"
	"example.com/needlewright/ui/session"
	"example.com/needlewright/ui/uitest"
)

// teatime is 14:25.
const teatime = 14*3600 + 25*60

// on is the side of a text.
func on(text string) *Side {
	say, k := &notice.Notice{}, keys.New()
	s := session.New(session.Start{Text: text}, say)
	f := front.New(k)
	return New(s, form.New(s, say, k, form.Panes), f, say, k, teatime)
}

// drawn is what stands in its place in a window of w by h.
func drawn(d *Side, w, h int) string {
	l := layout.Of(w, h)
	return strings.Join(uitest.Screen(w, h, func(at cells.Area) { d.Draw(at, &l) }), "\n")
}

// Nothing is drawn outside its place.
func TestDrawnInPlace(t *testing.T) {
	for _, size := range uitest.Sizes {
		d, l := on(modeltest.Example("station-platform")), layout.Of(size[0], size[1])
		views := 0
		for ; views == 0 || d.Views.At != 0; views++ {
			require.LessOrEqual(t, views, dayView+len(plots), "it goes round")
			for y, row := range strings.Split(drawn(d, size[0], size[1]), "\n") {
				for x, r := range []rune(row) {
					inside := x >= l.Side.Min.X && x < l.Side.Max.X && y >= l.Side.Min.Y && y < l.Side.Max.Y
					assert.True(t, inside || r == ' ', "%v: %q at %d, %d", size, r, x, y)
				}
			}
			d.Views.Next()
		}
		assert.Greater(t, views, dayView)
	}
}

// Time goes round the day, and stands still once it was moved by hand. A tick of a
// former pace moves nothing.
func TestTime(t *testing.T) {
	p := on(modeltest.Example("reading-room")).Preview
	p.MoveTime(-15 * 3600)
	assert.Equal(t, 23*3600+25*60, p.Seconds) // derived: 24 h less 35 min
	require.NotNil(t, p.Follow())
	old := TickMsg{Round: p.Round, Now: time.Date(2026, 3, 4, 9, 41, 30, 0, time.UTC)}
	require.NotNil(t, p.Tick(old))
	assert.Equal(t, 9*3600+41*60+30, p.Seconds)
	p.MoveTime(60)
	assert.Nil(t, p.Tick(old))
	assert.Equal(t, 9*3600+42*60+30, p.Seconds)
}

// In a fast day the needle begins anew where the build has changed.
func TestMotionOfAnotherBuild(t *testing.T) {
	d := on(modeltest.Example("reading-room"))
	p := d.Preview
	require.NotNil(t, p.FastDay())
	for range 5 {
		p.Tick(TickMsg{Round: p.Round})
	}
	lags := p.Place(0)
	stands := d.s.Report.Plan.Needle(0, float64(p.Seconds)).Place
	assert.NotEqual(t, stands, lags)
	d.s.Show(d.s.Doc)
	assert.Equal(t, lags, p.Place(0), "the build has not changed")
	f, index, ok := d.s.Doc.Find("hand.hours.drive.setting")
	require.True(t, ok)
	d.s.Replace(d.s.Doc.Set(f, index, "0"))
	require.False(t, d.s.Stale())
	assert.InDelta(t, d.s.Report.Plan.Needle(0, float64(p.Seconds)).Place, p.Place(0), 1e-12)
}

// The budget is of the hand in view and of the time since the clock was set; what was
// asked for before is dropped.
func TestBudgetOfTheHandInView(t *testing.T) {
	d := on(modeltest.Example("station-platform"))
	assert.Nil(t, d.Views.Seek(), "not in view")
	d.Views.ErrorBudget()
	hours := d.Views.Seek()
	require.NotNil(t, hours)
	d.s.ShowHand(1)
	minutes := d.Views.Seek()
	require.NotNil(t, minutes)
	hours().(jobs.Msg).Take()
	assert.Contains(t, drawn(d, 120, 40), "being worked out")
	minutes().(jobs.Msg).Take()
	assert.Equal(t, d.s.Report.Budget(1, judge.AfterDay).RSS, d.Views.Wrong.Got().Budget.RSS)
	assert.NotContains(t, drawn(d, 120, 40), "being worked out")
	d.s.ShowHand(0)
	assert.Contains(t, drawn(d, 120, 40), "being worked out", "that of another hand is not shown")
}

// Results stand under their questions, those of the open pane first; where there are no
// fields none goes before.
func TestOrder(t *testing.T) {
	d := on(modeltest.Example("reading-room"))
	first := func(pane model.Pane) string { return allResults(d.s, pane)[0].heading }
	assert.Equal(t, "How long do cells last?", first(model.BatteryPane))
	assert.Equal(t, "How fast does it drift?", first(model.CrystalPane))
	assert.Equal(t, "Does the needle reach?", first(model.NoPane))
	n := len(allResults(d.s, model.MeterPane))
	for pane := range model.NoPane + 1 {
		assert.Len(t, allResults(d.s, pane), n, "nothing is left out")
	}
}

// What is listed to be looked into is every result, and each can be.
func TestLookEntries(t *testing.T) {
	d := on(modeltest.Example("reading-room"))
	d.s.AdviseNow()
	entries := d.LookEntries(nil)
	assert.Len(t, entries, len(d.s.Report.Results))
	for _, e := range entries {
		row, ok := d.Look.into(e)
		require.True(t, ok, e.Text)
		assert.Equal(t, e.Hint, row.Text())
		d.Look.Sense(e)
		screen := strings.Join(uitest.Screen(50, 30, func(at cells.Area) { d.Look.draw(at, row) }), "\n")
		assert.Contains(t, screen, "What changes it")
	}
	_, ok := d.Look.into(front.Entry{Text: "no result"})
	assert.False(t, ok)
}
