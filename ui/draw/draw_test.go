package draw

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/dial"
	"example.com/needlewright/ui/cells"
	"example.com/needlewright/ui/uitest"
)

// The numerals of a dial stand in their order, all of them where there is room; the needle
// is drawn at any place, beyond the ends too.
func TestDial(t *testing.T) {
	marks := []dial.Mark{{Large: true, Numeral: "0"}, {Place: 0.25, Large: true, Numeral: "3"}, {Place: 0.5, Large: true, Numeral: "6"}, {Place: 0.75, Large: true, Numeral: "9"}, {Place: 1, Large: true, Numeral: "12"}}
	for width, want := range map[int]string{40: "036912", 24: "0612"} {
		for _, sweep := range []float64{40, 60, 90} {
			for _, place := range []float64{-1, 0, 0.3, 1, 2} {
				d := Dial{Sweep: sweep, Marks: marks, Place: place, Style: Needle}
				columns := map[int]string{}
				for _, row := range uitest.Screen(width, 12, d.Draw) {
					for x, r := range []rune(row) {
						if r >= '0' && r <= '9' {
							columns[x] += string(r)
						}
					}
				}
				found := ""
				for x := range width {
					found += columns[x]
				}
				assert.Equal(t, want, found, "%d columns, %g degrees", width, sweep)
			}
		}
	}
}

// The longest bar takes all the room, others their share; where there is none the texts
// stand alone.
func TestBars(t *testing.T) {
	bars := []Bar{{"one", 1, "1.0"}, {"half", 0.5, "0.5"}}
	rows := uitest.Screen(30, 3, func(at cells.Area) { Bars(at, bars, Label) })
	// derived: 30 columns less four of labels, three of texts and three of gaps
	assert.Equal(t, 20, strings.Count(rows[0], "█"))
	assert.Equal(t, 10, strings.Count(rows[1], "█"))
	rows = uitest.Screen(14, 2, func(at cells.Area) { Bars(at, bars, Label) })
	assert.NotContains(t, strings.Join(rows, ""), "█")
	assert.Contains(t, rows[1], "half")
	assert.Contains(t, rows[1], "0.5")
}

// Each line of a plot is named once beside the title; one without points says so.
func TestPlot(t *testing.T) {
	line := func(name string, ys ...float64) circuit.Line {
		l := circuit.Line{Name: name}
		for i, y := range ys {
			l.Points = append(l.Points, circuit.Dot{X: float64(i), Y: y})
		}
		return l
	}
	p := circuit.Plot{Title: "Rise", Lines: []circuit.Line{line("up", 0, 1), line("up", 1, 2), line("down", 2, 0)}}
	screen := strings.Join(uitest.Screen(60, 12, func(at cells.Area) { Plot(at, p) }), "\n")
	assert.Equal(t, 1, strings.Count(screen, "─ up"))
	assert.Contains(t, screen, "╌ down")
	screen = strings.Join(uitest.Screen(60, 12, func(at cells.Area) { Plot(at, circuit.Plot{Title: "Rise"}) }), "\n")
	assert.Contains(t, screen, NothingToDraw)
}

// What does not fit is cut with a sign, but the tail stands.
func TestFit(t *testing.T) {
	rows := uitest.Screen(20, 2, func(at cells.Area) { Fit(at, Value, strings.Repeat("word ", 20), "(F3)") })
	assert.Contains(t, rows[1], "…")
	assert.Contains(t, rows[1], "(F3)")
	rows = uitest.Screen(20, 2, func(at cells.Area) { Fit(at, Value, "one word", "(F3)") })
	assert.Contains(t, rows[0], "one word (F3)")
}
