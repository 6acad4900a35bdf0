package model

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model/quantity"
)

// practiceCells are the typical cells of the trade: Ah, cutoff V, Ω, share lost
// a year, shelf a (0: none), and the curve: % used and V at rest.
//
// Birthplace: common practice, no source; the alkaline curve TI SLVA194 (Aug
// 2004), second-hand. The block is six of them.
var practiceCells = []struct {
	name                                     string
	capacity, cutoff, resistance, self, life float64
	rise                                     float64 // times its resistance when used up
	curve                                    [][2]float64
}{
	{"alkaline AA", 2.5, 0.9, 0.25, 0.02, 10, 2, practiceAlkaline},
	{"alkaline AAA", 1.1, 0.9, 0.35, 0.02, 10, 2, practiceAlkaline},
	{"alkaline C", 7, 0.9, 0.2, 0.02, 10, 2, practiceAlkaline},
	{"alkaline D", 13, 0.9, 0.15, 0.02, 10, 2, practiceAlkaline},
	{"zinc-carbon AA", 0.9, 0.9, 0.6, 0.08, 3, 1.5, [][2]float64{{0, 1.60}, {20, 1.40}, {50, 1.28}, {80, 1.15}, {100, 0.9}}},
	{"lithium FeS2 AA", 3.0, 0.9, 0.2, 0.006, 20, 1.5, [][2]float64{{0, 1.80}, {2, 1.75}, {5, 1.72}, {20, 1.69}, {50, 1.66}, {80, 1.62}, {95, 1.50}, {100, 1.20}}},
	{"LSD NiMH AA", 1.9, 1.0, 0.05, 0.15, 0, 1.5, [][2]float64{{0, 1.42}, {5, 1.36}, {20, 1.31}, {50, 1.28}, {80, 1.25}, {90, 1.21}, {95, 1.15}, {100, 1.00}}},
	{"CR2032", 0.22, 2.0, 30, 0.01, 8, 5, [][2]float64{{0, 3.20}, {5, 3.05}, {20, 3.00}, {50, 2.95}, {75, 2.88}, {90, 2.75}, {95, 2.60}, {100, 2.00}}},
	{"Li-ion 18650, protected", 2.5, 3.0, 0.12, 0.20, 5, 1.5, [][2]float64{{0, 4.18}, {10, 4.06}, {20, 3.98}, {30, 3.90}, {40, 3.82}, {50, 3.74},
		{60, 3.68}, {70, 3.63}, {80, 3.57}, {90, 3.45}, {95, 3.33}, {100, 3.00}}},
	{"alkaline 9 V block", 0.5, 5.4, 2, 0.03, 5, 2, sixOf(practiceAlkaline)},
}

var practiceAlkaline = [][2]float64{{0, 1.59}, {10, 1.44}, {20, 1.38}, {30, 1.34}, {40, 1.32}, {50, 1.30}, {60, 1.28}, {70, 1.26}, {80, 1.23}, {90, 1.20}, {100, 1.10}}

func sixOf(curve [][2]float64) [][2]float64 {
	six := make([][2]float64, len(curve))
	for i, point := range curve {
		six[i] = [2]float64{point[0], 6 * point[1]}
	}
	return six
}

func TestCellsOfPractice(t *testing.T) {
	require.Len(t, Cells, len(practiceCells))
	for i, want := range practiceCells {
		require.Equal(t, want.name, Cells[i].Name)
		got := CellTable[want.name]
		const exact = 1e-15
		assert.InEpsilon(t, want.capacity, got.capacity.Number, exact, want.name)
		assert.InEpsilon(t, want.cutoff, got.cutoff.Number, exact, want.name)
		assert.InEpsilon(t, want.resistance, got.resistance.Number, exact, want.name)
		assert.InEpsilon(t, want.rise*want.resistance, got.resistanceEnd.Number, exact, want.name)
		assert.InEpsilon(t, want.self, got.selfDischarge.Number, exact, want.name)
		assert.Equal(t, want.life > 0, got.shelfLife.Given(), want.name)
		if want.life > 0 {
			assert.Equal(t, want.life, got.shelfLife.Number, want.name)
		}
		require.Len(t, got.curve, len(want.curve), want.name)
		for k, point := range want.curve {
			assert.InDelta(t, point[0]/100, got.curve[k].Used, 1e-15, want.name)
			assert.InDelta(t, point[1], got.curve[k].Rest, 1e-14, want.name)
		}
	}
}

func TestCellCurvesFall(t *testing.T) {
	for _, c := range Cells {
		assert.Empty(t, notFalling(c.Curve), c.Name)
		assert.Equal(t, 1.0, c.Curve[len(c.Curve)-1].Used, "%s does not end at 100 %%", c.Name)
		for i := 1; i < len(c.Curve); i++ {
			assert.Less(t, c.Curve[i].Rest, c.Curve[i-1].Rest, c.Name)
		}
	}
}

// A file that names only the cell is the same as one that writes all its values
// out, and one that writes a value overrides that alone.
func TestCellsFill(t *testing.T) {
	bare := testdata(t, "bare-cells.toml")
	for _, c := range Cells {
		named := with(t, bare, "battery.cell", c.Name)
		short := soundBuild(t, named)
		long := named
		for _, f := range Builds.Fields {
			if parent(f.Path) == "battery" && f.Path != "battery.cell" {
				long = with(t, long, f.Path, f.Text(short, 0))
			}
		}
		assert.NotEqual(t, named, long)
		assert.Equal(t, texts(short), texts(soundBuild(t, long)), c.Name)
		other := texts(soundBuild(t, with(t, named, "battery.cutoff", "0.7 V")))
		assert.Equal(t, valueText(0.7, quantity.Volts), other["battery.cutoff"], c.Name)
		other["battery.cutoff"] = texts(short)["battery.cutoff"]
		assert.Equal(t, texts(short), other, c.Name)
	}
}

// Without a built-in cell what is not given is 0, and there is no shelf.
//
// Birthplace: catalogue.md, "Absent means".
func TestNoCell(t *testing.T) {
	b := soundBuild(t, with(t, testdata(t, "bare-cells.toml"), "battery.cell", "", "battery.curve", "[[0, 1.6], [100, 1]]"))
	assert.Zero(t, b.Battery.Cutoff.Number+b.Battery.Resistance.Number+b.Battery.SelfDischarge.Number)
	assert.False(t, b.Battery.ShelfLife.Given())
	assert.False(t, b.Battery.Capacity.Given())
}

// TestUsedUpResistance: absent, it is the built-in cell's where the fresh one is; one
// that is typed stays.
//
// Birthplace: catalogue.md.
func TestUsedUpResistance(t *testing.T) {
	of := func(text string) quantity.Value {
		b, _ := Read("[battery]\ncells = 3\n" + text)
		return b.Battery.ResistanceEnd
	}
	assert.Equal(t, 0.5, of("cell = \"alkaline AA\"").Number)
	assert.Equal(t, 150.0, of("cell = \"CR2032\"").Number)
	assert.Equal(t, 0.9, of("cell = \"zinc-carbon AA\"").Number)
	assert.Equal(t, 0.8, of("cell = \"alkaline AA\"\nresistance_end = \"0.8 Ω\"").Number)
	assert.False(t, of("cell = \"alkaline AA\"\nresistance = \"0.25 Ω\"").Given(), "typed: as fresh")
	assert.False(t, of("").Given(), "no cell")
	b, _ := Read("[battery]\ncells = 3\ncell = \"alkaline AA\"")
	change := func(path, text string) Change { return Change{Field: Builds.Field(path), Text: text} }
	assert.False(t, b.Changed([]Change{change("battery.resistance", "0.3 Ω")}).Battery.ResistanceEnd.Given(), "typed by a change")
	assert.Equal(t, 150.0, b.Changed([]Change{change("battery.cell", "CR2032")}).Battery.ResistanceEnd.Number)
	assert.Equal(t, 0.5, b.Battery.ResistanceEnd.Number, "the build itself stays")
}
