package model

import (
	"math"

	"example.com/needlewright/calc"
	"example.com/needlewright/model/quantity"
)

// A Cell is a built-in kind of cell. All values are typical ones: a good guess
// where nothing was measured, never a promise of a maker.
type Cell struct {
	Name          string
	Capacity      string // at a clock's currents
	Cutoff        string
	Resistance    string // fresh, contacts not counted
	ResistanceEnd string // used up: 2 times of alkaline ones, 5 of coin cells, else 1.5
	SelfDischarge string
	ShelfLife     string        // "": none
	Most          string        // current beyond which much of the capacity is lost; "": more than a clock takes
	Curve         []calc.Charge // voltage at rest against share used
}

// curve makes a discharge curve of shares used, in %, each with a rest voltage.
func curve(percentAndVolts ...float64) []calc.Charge {
	var points []calc.Charge
	for i := 0; i < len(percentAndVolts); i += 2 {
		points = append(points, calc.Charge{Used: percentAndVolts[i] / 100, Rest: percentAndVolts[i+1]})
	}
	return points
}

// alkalineCurve is the rest voltage of an alkaline cell.
//
// Source: TI SLVA194 (Aug 2004) fig. 3, read second-hand, ±0.02 V.
var alkalineCurve = curve(0, 1.59, 10, 1.44, 20, 1.38, 30, 1.34, 40, 1.32, 50, 1.30, 60, 1.28, 70, 1.26, 80, 1.23, 90, 1.20, 100, 1.10)

// Cells are the built-in cells. Capacities, cutoffs, resistances and the other
// curves: common practice, no source.
var Cells = []Cell{
	{"alkaline AA", "2.5 Ah", "0.9 V", "0.25 Ω", "0.5 Ω", "2 %/a", "10 a", "300 mA", alkalineCurve},
	{"alkaline AAA", "1.1 Ah", "0.9 V", "0.35 Ω", "0.7 Ω", "2 %/a", "10 a", "150 mA", alkalineCurve},
	{"alkaline C", "7 Ah", "0.9 V", "0.2 Ω", "0.4 Ω", "2 %/a", "10 a", "600 mA", alkalineCurve},
	{"alkaline D", "13 Ah", "0.9 V", "0.15 Ω", "0.3 Ω", "2 %/a", "10 a", "1 A", alkalineCurve},
	{"zinc-carbon AA", "0.9 Ah", "0.9 V", "0.6 Ω", "0.9 Ω", "8 %/a", "3 a", "300 mA",
		curve(0, 1.60, 20, 1.40, 50, 1.28, 80, 1.15, 100, 0.9)},
	{"lithium FeS2 AA", "3.0 Ah", "0.9 V", "0.2 Ω", "0.3 Ω", "0.6 %/a", "20 a", "300 mA",
		curve(0, 1.80, 2, 1.75, 5, 1.72, 20, 1.69, 50, 1.66, 80, 1.62, 95, 1.50, 100, 1.20)},
	{"LSD NiMH AA", "1.9 Ah", "1.0 V", "0.05 Ω", "0.075 Ω", "15 %/a", "", "300 mA",
		curve(0, 1.42, 5, 1.36, 20, 1.31, 50, 1.28, 80, 1.25, 90, 1.21, 95, 1.15, 100, 1.00)},
	{"CR2032", "0.22 Ah", "2.0 V", "30 Ω", "150 Ω", "1 %/a", "8 a", "3 mA",
		curve(0, 3.20, 5, 3.05, 20, 3.00, 50, 2.95, 75, 2.88, 90, 2.75, 95, 2.60, 100, 2.00)},
	{"Li-ion 18650, protected", "2.5 Ah", "3.0 V", "0.12 Ω", "0.18 Ω", "20 %/a", "5 a", "",
		curve(0, 4.18, 10, 4.06, 20, 3.98, 30, 3.90, 40, 3.82, 50, 3.74, 60, 3.68, 70, 3.63, 80, 3.57, 90, 3.45, 95, 3.33, 100, 3.00)},
	{"alkaline 9 V block", "0.5 Ah", "5.4 V", "2 Ω", "4 Ω", "3 %/a", "5 a", "50 mA",
		curve(0, 9.54, 10, 8.64, 20, 8.28, 30, 8.04, 40, 7.92, 50, 7.80, 60, 7.68, 70, 7.56, 80, 7.38, 90, 7.20, 100, 6.60)},
}

// cellsCalled are other names of the built-in cells: those of IEC 60086 and what people say.
// From memory.
var cellsCalled = map[string]string{
	"alkaline AA":             "LR6",
	"alkaline AAA":            "LR03",
	"alkaline C":              "LR14",
	"alkaline D":              "LR20",
	"zinc-carbon AA":          "R6",
	"lithium FeS2 AA":         "FR6",
	"LSD NiMH AA":             "HR6 rechargeable",
	"CR2032":                  "coin button 2032 lithium",
	"Li-ion 18650, protected": "lithium rechargeable",
	"alkaline 9 V block":      "9V 6LR61 PP3",
}

// cellNames lists the built-in cells in the table's order.
func cellNames() []string {
	names := make([]string, len(Cells))
	for i, c := range Cells {
		names[i] = c.Name
	}
	return names
}

// cellData is a Cell as numbers.
type cellData struct {
	capacity, cutoff, resistance, resistanceEnd quantity.Value
	selfDischarge, shelfLife                    quantity.Value
	most                                        float64 // A, NaN: no limit
	curve                                       []calc.Charge
}

// CellTable holds the numbers of each built-in cell by name.
var CellTable = readCells()

func readCells() map[string]cellData {
	table := make(map[string]cellData, len(Cells))
	for _, c := range Cells {
		table[c.Name] = cellData{
			quantity.MustParse(c.Capacity, quantity.AmpereHours), quantity.MustParse(c.Cutoff, quantity.Volts),
			quantity.MustParse(c.Resistance, quantity.Ohms), quantity.MustParse(c.ResistanceEnd, quantity.Ohms), quantity.MustParse(c.SelfDischarge, quantity.PercentPerYear),
			quantity.MustParse(c.ShelfLife, quantity.Years), quantity.MustParse(c.Most, quantity.Amperes).Number, c.Curve,
		}
	}
	return table
}

// MostOf is the current, A, beyond which a built-in cell loses much of its
// capacity; NaN where that is not known.
func MostOf(name string) float64 {
	if c, known := CellTable[name]; known {
		return c.most
	}
	return math.NaN()
}

// noCell stands for a cell that is not built in: what is not given is 0, has no
// shelf, and no capacity.
var noCell = cellData{
	capacity: quantity.Absent(), shelfLife: quantity.Absent(), resistanceEnd: quantity.Absent(),
}

// fill puts the numbers of the named cell where the build gives none.
func (b *Battery) fill() {
	b.given = given{
		b.Capacity.Given(), b.Cutoff.Given(), b.Resistance.Given(), b.ResistanceEnd.Given(),
		b.SelfDischarge.Given(), b.ShelfLife.Given(), b.Curve != nil,
	}
	b.complete()
}

// of is the place of a key's mark, nil where no cell brings its number.
func (g *given) of(key string) *bool {
	return map[string]*bool{
		"capacity": &g.capacity, "cutoff": &g.cutoff, "resistance": &g.resistance, "resistance_end": &g.resistanceEnd,
		"self_discharge": &g.selfDischarge, "shelf": &g.shelfLife, "curve": &g.curve,
	}[key]
}

// mark says whether the build itself gives a key's number.
func (g *given) mark(key string, given bool) {
	if mark := g.of(key); mark != nil {
		*mark = given
	}
}

// complete puts the numbers of the named cell where the build gives none. The cell's
// resistance used up goes with its own fresh one alone.
func (b *Battery) complete() {
	c, known := CellTable[b.Cell]
	if !known {
		c = noCell
	}
	if b.given.resistance {
		c.resistanceEnd = quantity.Absent()
	}
	for _, v := range [...]struct {
		to    *quantity.Value
		from  quantity.Value
		given bool
	}{
		{&b.Capacity, c.capacity, b.given.capacity}, {&b.Cutoff, c.cutoff, b.given.cutoff}, {&b.Resistance, c.resistance, b.given.resistance},
		{&b.ResistanceEnd, c.resistanceEnd, b.given.resistanceEnd},
		{&b.SelfDischarge, c.selfDischarge, b.given.selfDischarge}, {&b.ShelfLife, c.shelfLife, b.given.shelfLife},
	} {
		if !v.given {
			*v.to = v.from
		}
	}
	if !b.given.curve {
		b.Curve = c.curve
	}
}

// Gives says whether the build itself gives a number of its cell, by its path.
func (b *Battery) Gives(path string) bool {
	mark := b.given.of(last(path))
	return mark != nil && *mark
}

// HasCells says whether there are cells whose discharge is known.
func (b *Battery) HasCells() bool { return b.Cells > 0 && len(b.Curve) > 0 }
