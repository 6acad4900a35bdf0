package cells

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// plotted returns the plain rows of a canvas of w by h cells, the last row of
// which is spare, with what draw has drawn.
func plotted(w, h int, draw func(*Plot)) string {
	c := New(w, h+1)
	p := NewPlot(c.Area().Rows(0, h))
	draw(p)
	p.Draw(1)
	return c.Plain()
}

// derived by hand from the numbering of the dots: 1 2 3 7 down the left, 4 5 6
// 8 down the right, bits 01 02 04 40 and 08 10 20 80 over U+2800 (Unicode,
// braille patterns).
func TestLinesSetTheirDots(t *testing.T) {
	for name, tt := range map[string]struct {
		line [4]float64
		want string
	}{
		"top":             {[4]float64{0, 0, 3, 0}, "\u2809\u2809"},           // 1, 4
		"bottom, back":    {[4]float64{3, 3, 0, 3}, "\u28c0\u28c0"},           // 7, 8
		"left edge":       {[4]float64{0, 0, 0, 3}, "\u2847"},                 // 1 2 3 7
		"second column":   {[4]float64{1, 3, 1, 0}, "\u28b8"},                 // 4 5 6 8
		"falling":         {[4]float64{0, 0, 3, 3}, "\u2811\u2884"},           // 1 5, then 3 8
		"rising":          {[4]float64{0, 3, 3, 0}, "\u2860\u280a"},           // 7 6, then 2 4
		"a dot":           {[4]float64{1, 2, 1, 2}, "\u2820"},                 // 6
		"between dots":    {[4]float64{0, 0.4, 1, 0.4}, "\u2809"},             // the nearest row, the first
		"far beyond":      {[4]float64{-1e300, 1, 1e300, 1}, "\u2812\u2812"},  // 2 5
		"across from far": {[4]float64{-1e6, -1e6, 1e6, 1e6}, "\u2811\u2884"}, // as falling
		"outside":         {[4]float64{-5, 9, 5, 9}, ""},
		"not a number":    {[4]float64{0, 0, math.NaN(), 0}, ""},
		"infinite":        {[4]float64{0, 0, math.Inf(1), 0}, ""},
	} {
		got := plotted(2, 1, func(p *Plot) { p.Line(tt.line[0], tt.line[1], tt.line[2], tt.line[3]) })
		assert.Equal(t, tt.want+"\n", got, name)
	}
}

// Law: a line is one dot in each column, or in each row if it is steep; each
// touches the next, corners counting, and none lies further than half a dot
// from the line.
func TestLinesHaveNoGaps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := NewPlot(New(20, 10).Area())
		in := rapid.Float64Range(1, 38) // of 0 to 39 dots, so that no end is cut
		x0, y0, x1, y1 := in.Draw(t, "x0"), in.Draw(t, "y0"), in.Draw(t, "x1"), in.Draw(t, "y1")
		p.Line(x0, y0, x1, y1)
		dots := dotsOf(p)
		span := math.Abs(math.Round(x1) - math.Round(x0))
		if math.Abs(y1-y0) > math.Abs(x1-x0) {
			span = math.Abs(math.Round(y1) - math.Round(y0))
		}
		require.Len(t, dots, int(span)+1)
		require.Equal(t, len(dots), connected(dots), "gaps")
		for d := range dots {
			off := math.Abs((d[0]-x0)*(y1-y0) - (d[1]-y0)*(x1-x0))
			require.LessOrEqual(t, off, 0.5*math.Hypot(x1-x0, y1-y0)+1e-9)
		}
	})
}

func dotsOf(p *Plot) map[[2]float64]bool {
	dots := map[[2]float64]bool{}
	for y := range p.h {
		for x := range p.w {
			if p.bits[y/4*p.area.w+x/2]&dotBits[y%4][x%2] != 0 {
				dots[[2]float64{float64(x), float64(y)}] = true
			}
		}
	}
	return dots
}

// connected counts the dots that hang together with one of them.
func connected(dots map[[2]float64]bool) int {
	var todo [][2]float64
	for d := range dots {
		todo = append(todo, d)
		break
	}
	seen := map[[2]float64]bool{todo[0]: true}
	for len(todo) > 0 {
		d := todo[0]
		todo = todo[1:]
		for _, s := range [][2]float64{{-1, -1}, {-1, 0}, {-1, 1}, {0, -1}, {0, 1}, {1, -1}, {1, 0}, {1, 1}} {
			if n := [2]float64{d[0] + s[0], d[1] + s[1]}; dots[n] && !seen[n] {
				seen[n] = true
				todo = append(todo, n)
			}
		}
	}
	return len(seen)
}

// Law: every dot of an arc lies within a dot of the circle (half a dot of the
// line, and the chords' 0.14).
func TestArcLiesOnItsCircle(t *testing.T) {
	p := NewPlot(New(40, 12).Area())
	p.Arc(40, 44, 30, -1, 1)
	dots := dotsOf(p)
	require.Equal(t, len(dots), connected(dots))
	for d := range dots {
		assert.InDelta(t, 30, math.Hypot(d[0]-40, d[1]-44), 0.65)
	}
	// derived: 0 is straight up, and 30·sin 1 = 25.2 to either side
	assert.True(t, dots[[2]float64{40, 14}])
	for x := 0.0; x < 80; x++ {
		has := false
		for y := 0.0; y < 48; y++ {
			has = has || dots[[2]float64{x, y}]
		}
		assert.Equal(t, x >= 15 && x <= 65, has, "column %g", x)
	}
}

// derived: a quarter clockwise from straight up is to the right.
func TestOnCircle(t *testing.T) {
	end := OnCircle(10, 20, 5, math.Pi/2)
	assert.InDelta(t, 15, end.X, 1e-12)
	assert.InDelta(t, 20, end.Y, 1e-12)
}

// derived: dots 1 4 in style 1, then dots 1 2 3 7 of the first cell in style
// 2, make 1 2 3 4 7 in style 2; the second cell keeps 1 4 in style 1, and the
// numeral, where no dot is, stays.
func TestLayers(t *testing.T) {
	c := New(3, 2)
	c.Area().Text(2, 0, 3, "5")
	p := NewPlot(c.Area())
	p.Line(0, 0, 3, 0)
	p.Draw(1)
	p.Line(0, 0, 0, 3)
	p.Draw(2)
	assert.Equal(t, []cell{{r: 0x284f, style: 2}, {r: 0x2809, style: 1}, {r: '5', style: 3}}, c.cells[:3])
	p.Draw(4) // empty by now
	assert.Equal(t, Style(2), c.cells[0].style)
}

// derived: dots 1 and 4 of three cells are the upper edge of the plot.
func ExamplePlot() {
	c := New(4, 2)
	p := NewPlot(c.Area())
	p.Line(0, 0, 5, 0)
	p.Draw(0)
	fmt.Println(c.Plain())
	// Output: ⠉⠉⠉
}
