package dial

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/modeltest"
)

// pagesOf are the sheets of some hands of a text.
func pagesOf(t *testing.T, paper string, hands []int, text string, pathsAndValues ...string) ([]*Page, error) {
	t.Helper()
	b := modeltest.Sound(t, modeltest.With(t, text, pathsAndValues...))
	p := new(circuit.Plan)
	circuit.Evaluate(b, p)
	of, ok := PaperNamed(paper)
	require.True(t, ok)
	return Pages(b, p, hands, of)
}

// Three dials go on one sheet, larger ones on more; a wide one on a sheet on its side; each
// sheet has its check lines of 50 mm, nothing leaves the margin, and no plates overlap.
// Birthplace: derived by hand: 3 plates of 70 mm with 14 mm round them are 252 mm, of the 261 mm there are on A4.
func TestPages(t *testing.T) {
	platform := modeltest.Example("station-platform")
	low := []string{"hand.hours.dial.height", "70 mm", "hand.minutes.dial.height", "70 mm"}
	for _, c := range []struct {
		paper         string
		set           []string
		pages         int
		width, height float64
	}{
		{"a4", low, 1, 210, 297},
		{"A4", nil, 2, 210, 297}, // two of them go more than half round: 100 mm
		{"letter", low, 2, 215.9, 279.4},
		{"a4", []string{"hand.hours.dial.width", "230 mm", "hand.hours.dial.height", "120 mm"}, 2, 297, 210},
	} {
		pages, err := pagesOf(t, c.paper, []int{0, 1, 2}, platform, c.set...)
		require.NoError(t, err)
		assert.Len(t, pages, c.pages, "%s %v", c.paper, c.set)
		var hands []string
		for _, p := range pages {
			assert.InDelta(t, c.width, p.Width, 1e-9)
			assert.InDelta(t, c.height, p.Height, 1e-9)
			for _, l := range p.Checks {
				assert.InDelta(t, 50, math.Hypot(l.To.X-l.From.X, l.To.Y-l.From.Y), 1e-9)
			}
			assert.InDelta(t, p.Checks[0].From.Y, p.Checks[0].To.Y, 1e-9, "across")
			assert.InDelta(t, p.Checks[1].From.X, p.Checks[1].To.X, 1e-9, "along")
			for i, plate := range p.Plates {
				hands = append(hands, plate.Hand)
				for _, cut := range plate.Cuts {
					for _, end := range []Point{cut.From, cut.To} {
						assert.True(t, end.X >= 10 && end.X <= p.Width-10 && end.Y >= 10 && end.Y <= p.Height-10)
					}
				}
				for _, other := range p.Plates[:i] {
					a, b := plate.Edge, other.Edge
					assert.True(t, a.X >= b.X+b.Width || b.X >= a.X+a.Width || a.Y >= b.Y+b.Height || b.Y >= a.Y+a.Height)
				}
			}
		}
		assert.Equal(t, []string{"hours", "minutes", "seconds"}, hands)
	}
}

// A plate that fits on no side of a paper is told apart, with the paper that it fits on.
func TestTooLarge(t *testing.T) {
	room := modeltest.Example("reading-room")
	_, err := pagesOf(t, "a4", []int{0}, room, "hand.hours.dial.width", "250 mm", "hand.hours.dial.height", "260 mm")
	var tooLarge *TooLargeError
	require.ErrorAs(t, err, &tooLarge)
	assert.Equal(t, "a3", tooLarge.Fits)
	assert.EqualError(t, err, "the plate of hours, 250 × 260 mm, does not fit on a4, which takes 168 × 247 mm upright and 255 × 160 mm on its side: nothing is scaled")
	_, err = pagesOf(t, "a3", []int{0}, room, "hand.hours.dial.width", "900 mm", "hand.hours.dial.height", "900 mm")
	require.ErrorAs(t, err, &tooLarge)
	assert.Empty(t, tooLarge.Fits)
	_, ok := PaperNamed("a5")
	assert.False(t, ok)
}
