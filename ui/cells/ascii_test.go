package cells

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func plainCanvas(w, h int) *Canvas {
	c := New(w, h)
	c.ASCII = true
	return c
}

// Our own choice of stand-ins (no source), one column for one; powers alone
// grow, since 3² must not be read as 32.
func TestStandIns(t *testing.T) {
	for given, want := range map[string]string{
		"4.7 kΩ ±5 %":       "4.7 kR ~5 %",
		"61.2 µA · −3 °C":   "61.2 uA * -3 *C",
		"→ next ↑↓ ▸ ● ○ …": "> next ^v > * o >",
		"10⁻³ m² 3²·R":      "10^-3 m^2 3^2*R",
		"“a”—‘b’":           `"a"-'b'`,
		"V₁":                "V1",
		"e\u0301t\u00e9":    "et?",
		"界":                 "??",
		"\x1b\xff\u202e":    "???",
		"█░":                "#.",
		"ΩΩµμ┼═│╮":          "RRuu+-|+",
		"plain ~!@{}":       "plain ~!@{}",
		"\xff²":             "?^2",
	} {
		c := plainCanvas(30, 2)
		c.Area().Text(0, 0, 0, given)
		assert.Equal(t, want+"\n", c.Plain(), "%q", given)
	}
}

// derived: "m²" becomes "m^2", three columns.
func TestPowersAreMeasuredAsShown(t *testing.T) {
	c := plainCanvas(8, 3)
	c.Area().TextRight(0, 0, "m²")
	assert.Equal(t, 2, c.Area().Sub(0, 1, 4, 2).Wrap(0, 0, "1 m²"))
	assert.Equal(t, frame("     m^2", "1", "m^2"), c.Plain())
}

// Our own choice of strokes (no source); dots set by hand on one cell.
func TestStrokes(t *testing.T) {
	for want, lines := range map[byte][][4]float64{
		'|':  {{0, 0, 0, 3}, {1, 0, 1, 3}, {1, 1, 1, 3}},
		'-':  {{0, 0, 1, 0}, {0, 1, 1, 1}, {0, 2, 1, 2}, {0, 1, 1, 2}, {0, 2, 1, 1}},
		'_':  {{0, 3, 1, 3}},
		'\\': {{0, 0, 1, 3}, {0, 0, 1, 2}, {0, 1, 1, 3}},
		'/':  {{0, 3, 1, 0}, {0, 3, 1, 1}, {0, 2, 1, 0}},
		'\'': {{0, 0, 0, 0}, {1, 1, 1, 1}, {1, 0, 1, 1}, {0, 0, 1, 1}, {0, 1, 1, 0}},
		'.':  {{0, 3, 0, 3}, {1, 2, 1, 2}, {0, 2, 0, 3}, {0, 2, 1, 3}, {0, 3, 1, 2}},
	} {
		for _, l := range lines {
			p := NewPlot(New(1, 1).Area())
			p.Line(l[0], l[1], l[2], l[3])
			assert.Equal(t, string(want), string(strokeOf(p.bits[0])), "%v", l)
		}
	}
	assert.Equal(t, byte('#'), strokeOf(0xff))
}

// Laws of a steep needle in ASCII: each row it crosses has a sign, within a
// column of where the needle is, and no sign leans the other way.
func TestNeedleIsLegible(t *testing.T) {
	const cx, cy, length = 40, 47, 44 // dots, on 40 x 12 cells
	for _, angle := range []float64{-0.6, -0.46, -0.2, 0, 0.1, 0.3, 0.46, 0.6} {
		c := plainCanvas(40, 13)
		p := NewPlot(c.Area().Rows(0, 12))
		tip := OnCircle(cx, cy, length, angle)
		p.Line(cx, cy, tip.X, tip.Y)
		p.Draw(1)
		drawn := c.Plain()
		for y, row := range strings.Split(drawn, "\n")[:12] {
			if float64(y*4) < tip.Y {
				continue
			}
			first, last := len(row)-len(strings.TrimLeft(row, " ")), len(row)-1
			require.GreaterOrEqual(t, last, first, "row %d of\n%s", y, drawn)
			middle := cx + (cy-(float64(y)*4+1.5))*math.Tan(angle)
			assert.InDelta(t, middle/2, float64(first+last)/2+0.25, 1, "row %d of\n%s", y, drawn)
		}
		if angle >= 0 {
			assert.NotContains(t, drawn, "\\")
		}
		if angle <= 0 {
			assert.NotContains(t, drawn, "/")
		}
	}
}
