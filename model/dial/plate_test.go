package dial

import (
	"math"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/modeltest"
)

// drawn is the dial of the first hand of a text, with values set.
func drawn(t testing.TB, text string, pathsAndValues ...string) *Plate {
	t.Helper()
	b := modeltest.Sound(t, modeltest.With(t, text, pathsAndValues...))
	p := new(circuit.Plan)
	circuit.Evaluate(b, p)
	return New(b, p, 0, xy(105, 60))
}

// angles are those of a plate's ticks by their times.
func angles(p *Plate) map[string]float64 {
	at := map[string]float64{}
	for _, t := range p.Ticks {
		at[t.Time] = t.Angle
	}
	return at
}

// Where ticks stand. Birthplace: derived by hand of each law and of where the zero stands: a
// share y of the dial's time is at start + sweep·y where the scale is even, at start +
// sweep·y² of a square; between pins a square goes 2y − 1 both ways from the middle; the
// net loft's places are those that its file says, 2:00 at 0:27 and so on.
func TestTicksStand(t *testing.T) {
	room, loft := modeltest.Example("reading-room"), modeltest.Example("net-loft")
	even := func(y float64) float64 { return y }
	square := func(y float64) float64 { return y * y }
	both := func(y float64) float64 { return 0.5 + 0.5*(2*y-1)*math.Abs(2*y-1) }
	table := func(y float64) float64 { // 50 % : 40 %
		if y <= 0.5 {
			return 0.8 * y
		}
		return 0.4 + 1.2*(y-0.5)
	}
	drawnTable := []string{"hand.hours.meter.law", "table", "hand.hours.meter.table", `[["0 %", "0 %"], ["50 %", "40 %"], ["100 %", "100 %"]]`, "hand.hours.correct", "dial"}
	for _, c := range []struct {
		name, text   string
		set          []string
		start, sweep float64
		place        func(float64) float64
	}{
		{"linear", room, nil, -45, 90, even},
		{"240°", room, []string{"hand.hours.meter.sweep", "240°"}, -120, 240, even},
		{"square, straightened by codes", room, []string{"hand.hours.meter.law", "square", "hand.hours.correct", "codes"}, -45, 90, even},
		{"square, drawn", room, []string{"hand.hours.meter.law", "square", "hand.hours.correct", "dial"}, -45, 90, square},
		{"table, drawn", room, drawnTable, -45, 90, table},
		{"zero at the right", room, []string{"hand.hours.meter.zero_at", "right"}, 45, -90, even},
		{"square from the right", room, []string{"hand.hours.meter.zero_at", "right", "hand.hours.meter.law", "square", "hand.hours.correct", "dial"}, 45, -90, square},
		{"zero in the middle, one way", room, []string{"hand.hours.meter.zero_at", "centre"}, 0, 45, even},
		{"square from the middle, one way", room, []string{"hand.hours.meter.zero_at", "centre", "hand.hours.meter.law", "square", "hand.hours.correct", "dial"}, 0, 45, square},
		{"between pins", room, []string{"hand.hours.meter.zero_at", "centre", "hand.hours.drive.by", "bridge"}, -45, 90, even},
		{"square between pins", room, []string{"hand.hours.meter.zero_at", "centre", "hand.hours.drive.by", "bridge", "hand.hours.meter.law", "square", "hand.hours.correct", "dial"}, -45, 90, both},
		{"its own start", room, []string{"hand.hours.dial.start", "-100°", "hand.hours.meter.sweep", "80°"}, -100, 80, even},
	} {
		p := drawn(t, c.text, c.set...)
		assert.InDelta(t, c.start, p.Start, 1e-12, c.name)
		assert.InDelta(t, c.sweep, p.Sweep, 1e-12, c.name)
		require.Greater(t, len(p.Ticks), 30, c.name)
		for _, tick := range p.Ticks {
			want := c.start + c.sweep*c.place(tick.Share)
			assert.InDelta(t, want, tick.Angle, 1e-9, "%s: %s", c.name, tick.Time)
			for i, end := range []Point{tick.From, tick.To} {
				x, y := end.X-p.Pivot.X, p.Pivot.Y-end.Y
				assert.InDelta(t, 0, math.Remainder(math.Atan2(x, y)*180/math.Pi-want, 360), 1e-9, "%s: %s", c.name, tick.Time)
				assert.InDelta(t, p.Radius+float64(i)*(math.Hypot(x, y)-p.Radius), math.Hypot(x, y), 1e-9)
				assert.GreaterOrEqual(t, math.Hypot(x, y), p.Radius-1e-9, "outward")
			}
		}
	}
	at := angles(drawn(t, loft, "hand.hours.correct", "dial"))
	for time, stands := range map[string]float64{"0:00": 0, "2:00": 27.0 / 720, "4:00": 105.0 / 720, "8:00": 0.53, "10:00": 553.0 / 720, "12:00": 1} {
		require.Contains(t, at, time)
		assert.InDelta(t, -45+90*stands, at[time], 1e-9, time)
	}
}

// Ticks, numerals and their times of each dial. Birthplace: counted by hand.
func TestDialsTimes(t *testing.T) {
	room := modeltest.Example("reading-room")
	for _, c := range []struct {
		set             []string
		ticks, long     int
		middle          string // time of the tick in the middle
		texts, numerals []string
	}{
		{nil, 49, 5, "6:00", []string{"12", "3", "6", "9", "12"}, []string{"0:00", "3:00", "6:00", "9:00", "12:00"}},
		{[]string{"hand.hours.shows", "24 h"}, 49, 5, "12:00", []string{"0", "6", "12", "18", "24"}, []string{"0:00", "6:00", "12:00", "18:00", "24:00"}},
		{[]string{"hand.hours.shows", "60 min"}, 61, 5, "30:00", []string{"0", "15", "30", "45", "60"}, []string{"0:00", "15:00", "30:00", "45:00", "60:00"}},
		{[]string{"hand.hours.shows", "60 s"}, 61, 5, "30", []string{"0", "15", "30", "45", "60"}, []string{"0", "15", "30", "45", "60"}},
		{[]string{"hand.hours.dial.ticks", "30 min, 2 h, 6 h", "hand.hours.dial.numerals", "12, 4, 8, 12", "hand.hours.dial.numeral_style", "roman"}, 25, 3, "6:00", []string{"XII", "IV", "VIII", "XII"}, []string{"0:00", "4:00", "8:00", "12:00"}},
		{[]string{"hand.hours.mark", "30 min", "hand.hours.dial.numerals", "6, 12"}, 25, 5, "6:00", []string{"6", "12"}, []string{"6:00", "12:00"}},
		{[]string{"hand.hours.dial.numerals", "none"}, 49, 5, "6:00", nil, nil},
		{[]string{"hand.hours.dial.numerals", "all"}, 49, 5, "6:00", []string{"12", "1", "2", "3", "4", "5", "6", "7", "8", "9", "10", "11", "12"}, nil},
	} {
		p := drawn(t, room, c.set...)
		assert.Len(t, p.Ticks, c.ticks, "%v", c.set)
		assert.Equal(t, c.middle, p.Ticks[len(p.Ticks)/2].Time, "%v", c.set)
		long := 0
		for _, tick := range p.Ticks {
			if tick.Kind == Long {
				long++
			}
		}
		assert.Equal(t, c.long, long, "%v", c.set)
		var texts, times []string
		for _, n := range p.Numerals {
			texts, times = append(texts, n.Text), append(times, n.Time)
		}
		assert.Equal(t, c.texts, texts, "%v", c.set)
		if c.numerals != nil {
			assert.Equal(t, c.numerals, times, "%v", c.set)
		}
		assert.Empty(t, p.Notes, "%v", c.set)
	}
}

// A second scale of 24 h counts the second turn of a hand of 12 h, and else divides the
// whole. Birthplace: derived by hand.
func TestSecondScale(t *testing.T) {
	room := modeltest.Example("reading-room")
	for _, c := range []struct{ shows, second, first, middle, last, time string }{
		{"12 h", "24 h", "12", "18", "24", "6:00"},
		{"12 h", "60 min", "0", "30", "60", "30:00"},
		{"60 min", "24 h", "0", "12", "24", "12:00"},
	} {
		p := drawn(t, room, "hand.hours.shows", c.shows, "hand.hours.dial.second_scale", c.second)
		require.NotNil(t, p.Second)
		all := p.Second.Numerals
		require.GreaterOrEqual(t, len(all), 3, c.second)
		assert.Equal(t, []string{c.first, c.middle, c.last}, []string{all[0].Text, all[len(all)/2].Text, all[len(all)-1].Text})
		assert.Equal(t, c.time, all[len(all)/2].Time)
		for _, m := range p.Second.Lines {
			assert.InDelta(t, p.Start+p.Sweep*m.Share, m.Angle, 1e-9)
			assert.Less(t, math.Hypot(m.To.X-p.Pivot.X, m.To.Y-p.Pivot.Y), p.Second.Radius, "inward")
		}
	}
	assert.Contains(t, drawn(t, room, "hand.hours.shows", "24 h", "hand.hours.dial.second_scale", "24 h").Notes, "the second scale is of the same time as the first")
}

// What a person would not want to find on the print is said. Birthplace: derived by hand
// of a plate of 100 by 70 mm.
func TestNotes(t *testing.T) {
	room := modeltest.Example("reading-room")
	for _, c := range []struct {
		set  []string
		says string
	}{
		{[]string{"hand.hours.dial.holes", `[["-60 mm", 0, 3]]`}, "hole 1 is not within the plate"},
		{[]string{"hand.hours.dial.holes", `[[-40, -25, 3], [-41, -25, 3]]`}, "hole 1 and hole 2 overlap"},
		{[]string{"hand.hours.dial.holes", `[[-40, -25, 3]]`, "hand.hours.dial.windows", `[[-40, -26, 5]]`}, "hole 1 and window 1 overlap"},
		{[]string{"hand.hours.dial.windows", `[[0, "31 mm", 5]]`}, "window 1 cuts into numeral 6"},
		{[]string{"hand.hours.dial.numerals", "9, 10, 11", "hand.hours.dial.numeral_height", "9 mm"}, "numerals 10 and 11 run into each other: leave one out, or make them smaller"},
		{[]string{"hand.hours.dial.radius", "70 mm"}, "the scale runs over the plate's edge: a smaller radius, or a larger plate"},
		{[]string{"hand.hours.dial.radius", "55 mm"}, "a numeral runs over the plate's edge: a smaller radius, or a larger plate"},
		{[]string{"hand.hours.dial.title", "時計 clock"}, `the typeface has no "時計", which the title leaves out`},
		{[]string{"hand.hours.dial.title", "A title that is far too long for any plate of such a width, and for smaller letters as well, since nobody can read letters of less than a millimetre through glass"}, "the title runs into something or over the edge: a shorter one, or a smaller title_height"},
		{[]string{"hand.hours.meter.law", "square", "hand.hours.correct", "dial"}, "9 marks left out: closer than 0.6 mm to the next"},
		{[]string{"hand.hours.meter.law", "square", "hand.hours.correct", "dial", "hand.hours.dial.ticks", "15 min, 1 h, 3 h"}, "9 marks closer than 0.6 mm to the next: they run into each other, fewer in ticks can be read"},
	} {
		assert.Contains(t, drawn(t, room, c.set...).Notes, c.says)
	}
	asked := drawn(t, room, "hand.hours.meter.law", "square", "hand.hours.correct", "dial", "hand.hours.dial.ticks", "15 min, 1 h, 3 h")
	assert.Len(t, asked.Ticks, 49, "all that were asked for: 12 h by 15 min")
	assert.Empty(t, drawn(t, room).Notes)
	assert.Empty(t, drawn(t, room, "hand.hours.dial.holes", `[[-40, -25, 3], [40, -25, 3]]`, "hand.hours.dial.windows", `[[0, "-12 mm", 5]]`, "hand.hours.dial.title", "Lesesaal Χρόνος").Notes)
}

// Roman numerals. Birthplace: common practice: each is written by the rule that is taught.
func TestRoman(t *testing.T) {
	for n, want := range map[int]string{1: "I", 4: "IV", 9: "IX", 12: "XII", 14: "XIV", 24: "XXIV", 39: "XXXIX", 45: "XLV", 60: "LX"} {
		assert.Equal(t, want, roman(n), strconv.Itoa(n))
	}
}

// What is absent is drawn as the forms say: 100 mm wide, 70 mm high, of the meter's diameter
// where that is known, as high as wide where the scale goes more than half round.
func TestAbsent(t *testing.T) {
	room := modeltest.Example("reading-room")
	for _, c := range []struct {
		set    []string
		w, h   float64
		pivotY float64 // from the middle down
	}{
		{nil, 100, 70, 0.43 * 70},
		{[]string{"hand.hours.meter.diameter", "60 mm"}, 60, 42, 0.43 * 42},
		{[]string{"hand.hours.meter.sweep", "240°"}, 100, 100, 0},
		{[]string{"hand.hours.dial.width", "80 mm", "hand.hours.dial.height", "50 mm", "hand.hours.dial.pivot_y", "-30 mm"}, 80, 50, 30},
	} {
		p := drawn(t, room, c.set...)
		assert.InDelta(t, c.w, p.Edge.Width, 1e-9)
		assert.InDelta(t, c.h, p.Edge.Height, 1e-9)
		assert.InDelta(t, c.pivotY, p.Pivot.Y-(p.Edge.Y+p.Edge.Height/2), 1e-9)
		assert.Len(t, p.Cuts, 8)
		for _, cut := range p.Cuts {
			assert.False(t, hull{cut.From}.within(p.Edge) || hull{cut.To}.within(p.Edge), "outside the plate")
		}
		assert.Len(t, p.Ends, 2)
		assert.Empty(t, p.Notes)
	}
}

// A law of any dial: all of it is finite, no tick is closer to the next than 0.6 mm but for
// long ones, ticks are in the order of their times, and the ends have one.
func TestAnyDial(t *testing.T) {
	room := modeltest.Example("reading-room")
	rapid.Check(t, func(t *rapid.T) {
		text := room
		set := func(path, value string) {
			next, problem := model.Set(text, path, value)
			require.Nil(t, problem)
			text = next
		}
		set("hand.hours.meter.sweep", strconv.Itoa(rapid.IntRange(10, 340).Draw(t, "sweep"))+"°")
		set("hand.hours.shows", rapid.SampledFrom([]string{"12 h", "24 h", "60 min", "60 s"}).Draw(t, "shows"))
		set("hand.hours.meter.zero_at", rapid.SampledFrom([]string{"left", "centre", "right"}).Draw(t, "zero"))
		set("hand.hours.meter.law", rapid.SampledFrom([]string{"linear", "square"}).Draw(t, "law"))
		set("hand.hours.correct", rapid.SampledFrom([]string{"none", "codes", "dial"}).Draw(t, "correct"))
		set("hand.hours.dial.width", strconv.Itoa(rapid.IntRange(20, 400).Draw(t, "width")))
		set("hand.hours.dial.height", strconv.Itoa(rapid.IntRange(20, 400).Draw(t, "height")))
		set("hand.hours.dial.pivot_y", strconv.Itoa(rapid.IntRange(-300, 300).Draw(t, "pivot")))
		set("hand.hours.dial.second_scale", rapid.SampledFrom([]string{"none", "24 h", "60 min"}).Draw(t, "second"))
		set("hand.hours.dial.numerals", rapid.SampledFrom([]string{"", "all", "none"}).Draw(t, "numerals"))
		set("hand.hours.dial.mirror", rapid.SampledFrom([]string{"yes", "no"}).Draw(t, "mirror"))
		b, problems := model.Read(text)
		require.Empty(t, problems)
		p := new(circuit.Plan)
		circuit.Evaluate(b, p)
		d := New(b, p, 0, xy(0, 0))
		for _, h := range d.hulls() {
			for _, at := range h {
				require.False(t, math.IsNaN(at.X+at.Y) || math.IsInf(at.X+at.Y, 0))
			}
		}
		require.InDelta(t, 0, d.Ticks[0].Share, 0)
		require.InDelta(t, 1, d.Ticks[len(d.Ticks)-1].Share, 0)
		for i := 1; i < len(d.Ticks); i++ {
			a, c := d.Ticks[i-1], d.Ticks[i]
			require.Less(t, a.Share, c.Share)
			if a.Kind != Long || c.Kind != Long {
				require.GreaterOrEqual(t, math.Abs(c.Angle-a.Angle)*math.Pi/180*d.Radius, closest-1e-9)
			}
		}
	})
}
