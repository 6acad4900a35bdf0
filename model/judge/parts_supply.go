package judge

import (
	"math"
	"slices"
	"strings"

	"example.com/needlewright/calc"
	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
)

// lampOptions are resistors for currents from bright to just not dim, and four
// times the present one.
func (s subject) lampOptions() [][]model.Change {
	f, l := model.Builds.Field("lamp.resistor"), &s.b.Lamps[s.i]
	over := s.b.Rail.Voltage.Number - l.Forward.Number
	if !(over > 0) {
		return nil
	}
	sizes := []float64{4 * l.Resistor.Number}
	for _, current := range [...]float64{1.5e-3, 1e-3, 0.75e-3, 0.5e-3, 0.3e-3} {
		sizes = append(sizes, over/current-l.PinResistance.Number)
	}
	least, most := f.Range()
	var list shortlist[float64]
	trial := newChoice(s.b, nil)
	for k, x := range sizes {
		if !(x >= least && x <= most) {
			continue
		}
		x = calc.NearestPreferred(x, calc.E24)
		if over/(x+l.PinResistance.Number) < 0.3e-3 { // dim
			x = calc.NextPreferred(x, calc.E24, false)
		}
		_, score := trial.of([]model.Change{s.size(f.Path, x, lampResistorTolerance)})
		list.add(x, ranked(score, number01(k == 0)))
	}
	return list.changes(func(x float64) []model.Change { return []model.Change{s.size(f.Path, x, lampResistorTolerance)} })
}

// supplyParts are cells in series, and what stands between them and the rail.
type supplyParts struct {
	cell  *model.Cell
	count int
	kind  string
}

// supplyOptions are built-in cells, how many of them, and what stands between
// them and the rail.
func (s subject) supplyOptions() [][]model.Change {
	if !s.b.Battery.HasCells() {
		return nil
	}
	return s.cellOptions()
}

// supplyChoices are those, and a plug-in supply, which is never offered: whether there is an
// outlet the person knows.
func (s subject) supplyChoices() [][]model.Change {
	cells := s.cellOptions()
	changes := make([]model.Change, 0, len(plugIn)+len(ownOfCell))
	for _, v := range plugIn {
		if v.text != "" || !model.Builds.Field(v.path).IsAsAbsent(s.b, 0) {
			changes = append(changes, s.change(v.path, v.text))
		}
	}
	for _, path := range ownOfCell {
		if s.b.Battery.Gives(path) {
			changes = append(changes, s.change(path, ""))
		}
	}
	return append(cells[:min(len(cells), mostOptions-1)], changes)
}

// supplyName is what a plug-in supply is called: it gives the rail itself.
func (s subject) supplyName(changes []model.Change) string {
	for _, c := range changes {
		if c.Field.Path == "battery.cells" && c.Text == "0" {
			return "a plug-in " + model.NominalText(model.Builds.Field("rail.voltage").Text(s.b, 0)) + " supply"
		}
	}
	return ""
}

// cellOptions are cells with their converters, the best first.
func (s subject) cellOptions() [][]model.Change {
	var list shortlist[supplyParts]
	bench := s.supplyBench()
	for k := range model.Cells {
		for count := 1; count <= 4; count++ {
			for _, kind := range model.Builds.Field("converter.kind").Choices {
				parts := supplyParts{&model.Cells[k], count, kind}
				if !s.fits(parts) {
					continue
				}
				list.add(parts, ranked(bench.of(s.supplyChanges(parts)),
					number01(model.Cells[k].Name != s.b.Battery.Cell && asksCare(&model.Cells[k])), number01(kind != s.b.Converter.Kind), number01(model.Cells[k].Name != s.b.Battery.Cell),
					math.Abs(float64(count-s.b.Battery.Cells)), float64(k)))
			}
		}
	}
	return list.changes(s.supplyChanges)
}

// asksCare says whether a cell can do graver harm than others: it stands behind
// them where they do as well.
func asksCare(c *model.Cell) bool {
	return strings.HasPrefix(c.Name, "Li-ion") || strings.HasPrefix(c.Name, "CR")
}

// fits says whether a supply may do at all; one cell may always be stepped up.
func (s subject) fits(parts supplyParts) bool {
	fresh := float64(parts.count) * parts.cell.Curve[0].Rest
	return feeds(s.b.Rail.Voltage.Number, fresh, parts.kind) || parts.kind == "boost" && parts.count == 1
}

// feeds says whether a fresh pack, V, can feed a rail, V: it is above what a regulator
// holds, not above what a step-up does, or as high as the rail that it is itself.
func feeds(rail, fresh float64, converter string) bool {
	switch converter {
	case "linear":
		return fresh > rail
	case "boost":
		return fresh <= rail
	}
	return math.Abs(fresh/rail-1) <= 0.1
}

// A supplyBench is a copy of a build's plan on which the supply is exchanged.
type supplyBench struct {
	build *model.Build
	plan  circuit.Plan
}

func (s subject) supplyBench() *supplyBench {
	b := &supplyBench{build: s.b, plan: *s.p}
	b.plan.Circuit.Hands, b.plan.Circuit.Lamps, b.plan.Circuit.Buttons = nil, nil, nil
	b.plan.Hands, b.plan.Buttons = slices.Clone(s.p.Hands), nil
	return b
}

// supplyRuled are the rules whose figures a supply may move.
var supplyRuled = slices.DeleteFunc(slices.Clone(rules), func(r rule) bool {
	ofPack := r.id == "overload_worst" || r.id == "capacitor_voltage"
	return model.Builds.Field(r.field).List() == "hand" && !ofPack
})

// of solves the supply with changes made, and counts what is found of it and
// of the hands it drives.
func (b *supplyBench) of(changes []model.Change) score {
	build, p := b.build.Changed(changes), &b.plan
	circuit.Wire(build, &p.Circuit)
	p.Solve(circuit.Supply.With())
	var s score
	for k := range supplyRuled {
		r := &supplyRuled[k]
		for i := range r.count(build) {
			severity, _ := r.grade(subject{build, p, i})
			s.add(severity)
		}
	}
	return s
}

// supplyChanges make a supply, with what is usual of it.
func (s subject) supplyChanges(parts supplyParts) []model.Change {
	changes := []model.Change{
		s.change("battery.cell", parts.cell.Name), s.count("battery.cells", parts.count), s.change("converter.kind", parts.kind),
	}
	if parts.cell.Name != s.b.Battery.Cell { // what was given is of the other cell
		for _, path := range ownOfCell {
			if s.b.Battery.Gives(path) {
				changes = append(changes, s.change(path, ""))
			}
		}
	}
	if parts.kind != s.b.Converter.Kind {
		for _, usual := range usualConverters[parts.kind] {
			changes = append(changes, s.change(usual.path, usual.text))
		}
	}
	return changes
}

// ownOfCell are what a cell brings.
var ownOfCell = [...]string{
	"battery.capacity", "battery.cutoff", "battery.resistance", "battery.resistance_end", "battery.self_discharge", "battery.shelf", "battery.curve",
}

// usualConverters are the values of each kind of converter. Common practice, no
// source.
var usualConverters = map[string][]struct{ path, text string }{
	"boost":  {{"converter.efficiency", "80 % ±8 %"}, {"converter.quiescent", "50 µA"}, {"converter.minimum_input", "0.9 V"}, {"converter.dropout", ""}},
	"linear": {{"converter.quiescent", "3 µA"}, {"converter.minimum_input", ""}, {"converter.dropout", "0.25 V"}},
	"none":   {{"converter.quiescent", ""}, {"converter.minimum_input", ""}, {"converter.dropout", ""}},
}

// UsualConverter returns the values of a converter of a kind, by their paths, the kind
// first. Common practice, no source.
func UsualConverter(kind string) [][2]string {
	values := [][2]string{{"converter.kind", kind}}
	for _, v := range usualConverters[kind] {
		values = append(values, [2]string{v.path, v.text})
	}
	return values
}

// plugIn is what a build has that a plug-in supply feeds: no cells, nor what they bring, and
// no converter.
var plugIn = []struct{ path, text string }{
	{"battery.cell", ""}, {"battery.cells", "0"}, {"battery.series_drop", ""},
	{"converter.kind", "none"}, {"converter.efficiency", ""}, {"converter.quiescent", ""}, {"converter.minimum_input", ""}, {"converter.dropout", ""},
}

// loadCapacitorOptions are pairs of E24 by the rate they leave; one that is of E12
// too goes before one as near that is not.
func (s subject) loadCapacitorOptions() [][]model.Change {
	const scarcer = 1.0 // ppm that a pair may leave less for each that is not of E12
	type pair struct{ in, out float64 }
	var list shortlist[pair]
	plan := *s.p
	c := &plan.Circuit.Crystal
	for k, in := range model.LoadCapacitors {
		if in < 2e-12 || in > 33e-12 { // less is lost in the stray, more starts badly
			continue
		}
		for j, out := range model.LoadCapacitors[k:] {
			if out > 3*in {
				break
			}
			c.In, c.Out = in, out
			plan.Solve(circuit.Time)
			var score score
			for r := range crystalRules {
				severity, _ := crystalRules[r].grade(subject{s.b, &plan, 0})
				score.add(severity)
			}
			off := scarcer * (number01(!ofE12(k)) + number01(!ofE12(k+j)))
			if left := plan.Crystal.LoadOffset; !math.IsNaN(left) {
				off += math.Abs(left)
			}
			list.add(pair{in, out}, ranked(score, off, out/in))
		}
	}
	return list.changes(func(p pair) []model.Change {
		return []model.Change{
			s.size("crystal.capacitor_in", p.in, loadCapacitorTolerance),
			s.size("crystal.capacitor_out", p.out, loadCapacitorTolerance),
		}
	})
}

// ofE12 says whether the k-th of E24 is of E12 too: every other one is.
func ofE12(k int) bool { return k%2 == 0 }
