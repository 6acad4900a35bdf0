package draw

import (
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/dial"
	"example.com/needlewright/ui/cells"
	"example.com/needlewright/ui/uitest"
)

// twelve are the marks of twelve hours, spread evenly.
func twelve() []dial.Mark {
	marks := make([]dial.Mark, 13)
	for k := range marks {
		marks[k] = dial.Mark{Place: float64(k) / 12, Large: k%3 == 0, Numeral: strconv.Itoa(k)}
	}
	return marks
}

// The numerals of a dial stand in their order, as many as there is room for, and are read
// apart; the needle is drawn at any place, beyond the ends too.
func TestDial(t *testing.T) {
	for width, want := range map[int]string{60: "0 1 2 3 4 5 6 7 8 9 10 11 12", 24: "0 3 6 9 12", 14: "0 6 12"} {
		for _, sweep := range []float64{40, 60, 90} {
			if width == 14 && sweep == 90 { // some stand lower there, clear of the others
				continue
			}
			for _, place := range []float64{-1, 0, 0.3, 1, 2} {
				d := Dial{Sweep: sweep, Marks: twelve(), Place: place, Style: Needle}
				found := map[int]string{} // by the column of its first digit: none stands above another
				for _, row := range uitest.Screen(width, 12, d.Draw) {
					runes := []rune(row)
					for x := 0; x < len(runes); x++ {
						begin := x
						for x < len(runes) && runes[x] >= '0' && runes[x] <= '9' {
							x++
						}
						if x > begin {
							found[begin] = string(runes[begin:x])
						}
					}
				}
				var numerals []string
				for _, x := range slices.Sorted(maps.Keys(found)) {
					numerals = append(numerals, found[x])
				}
				assert.Equal(t, want, strings.Join(numerals, " "), "%d columns, %g degrees", width, sweep)
			}
		}
	}
}

// dots are those that are set on a screen of braille.
func dots(rows []string) map[[2]int]bool {
	bits := [4][2]rune{{0x01, 0x08}, {0x02, 0x10}, {0x04, 0x20}, {0x40, 0x80}} // Unicode, chapter on braille patterns
	set := map[[2]int]bool{}
	for y, row := range rows {
		for x, r := range []rune(row) {
			for i := range bits {
				for j := range bits[i] {
					if r >= 0x2800 && r < 0x2900 && (r-0x2800)&bits[i][j] != 0 {
						set[[2]int{2*x + j, 4*y + i}] = true
					}
				}
			}
		}
	}
	return set
}

// Marks are told apart from the scale: no dot of one touches a dot of it, whatever the sweep,
// and there are marks.
func TestMarksStandFreeOfTheScale(t *testing.T) {
	for _, size := range [][2]int{{25, 6}, {24, 12}, {40, 9}, {70, 14}, {140, 20}} {
		for _, sweep := range []float64{20, 40, 60, 90, 120, 180, 240, 300} {
			bare := Dial{Sweep: sweep, Place: 0.37, Style: Needle}
			with := Dial{Sweep: sweep, Place: 0.37, Style: Needle, Marks: twelve()}
			scale := dots(uitest.Screen(size[0], size[1], bare.Draw))
			marks, touching := 0, 0
			for dot := range dots(uitest.Screen(size[0], size[1], with.Draw)) {
				if scale[dot] {
					continue
				}
				marks++
				for dx := -1; dx <= 1; dx++ {
					for dy := -1; dy <= 1; dy++ {
						if at := [2]int{dot[0] + dx, dot[1] + dy}; scale[at] && !needleAt(with, size, at) {
							touching++
						}
					}
				}
			}
			assert.Greater(t, marks, 10, "%v, %g degrees", size, sweep)
			assert.Zero(t, touching, "%v, %g degrees", size, sweep)
		}
	}
}

// needleAt says whether a dot is of the needle, which a mark may touch.
func needleAt(d Dial, size [2]int, at [2]int) bool {
	w, h := size[0]*cells.DotsWide, size[1]*cells.DotsHigh
	f := newFace(w, h, d.Sweep)
	dx, dy := float64(at[0])-f.x, f.y-float64(at[1])
	off := math.Atan2(dx, dy) - f.angle(d.Place)
	return math.Hypot(dx, dy)*math.Abs(off) < 2.5
}

// Dials side by side stand on one line: each reaches down as far as the others, whatever
// their sweeps.
func TestDialsShareABaseline(t *testing.T) {
	for _, size := range [][2]int{{24, 12}, {47, 19}} {
		lowest := map[int]bool{}
		for place, sweep := range map[int]float64{0: 240, 1: 240, 2: 90} {
			rows := uitest.Screen(3*size[0], size[1], func(at cells.Area) {
				var dials []Dial
				var places []cells.Area
				for i, s := range []float64{240, 240, 90} {
					dials = append(dials, Dial{Sweep: s, Place: 0.4, Style: Needle, Marks: twelve()})
					places = append(places, at.Sub(i*size[0], 0, size[0], size[1]))
				}
				Dials(dials, places)
			})
			low := 0
			for dot := range dots(rows) {
				if dot[0]/(2*size[0]) == place {
					low = max(low, dot[1])
				}
			}
			lowest[low] = true
			assert.Positive(t, low, "%g degrees", sweep)
		}
		least, most := 1000, 0
		for low := range lowest {
			least, most = min(least, low), max(most, low)
		}
		assert.LessOrEqual(t, most-least, 1, "%v: the lowest dots of dials side by side, but for rounding: %v", size, lowest)
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
