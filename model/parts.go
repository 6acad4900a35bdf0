package model

import (
	"fmt"
	"math"
	"strconv"

	"example.com/needlewright/calc"
	"example.com/needlewright/model/quantity"
)

// parts is the table of parts that are suggested.
var parts = []part{
	{id: "pwm", field: "hand.drive.pwm_wanted", title: "Prescaler and counts",
		options: subject.pwmOptions, missing: subject.otherPWMWanted,
		told: func(s subject) string {
			return show(s.hand().PWMFrequency, quantity.Hertz) + ", one code " + dialTime(s.hand().Step)
		}},
	{id: "top", field: "hand.drive.top", title: "Top code",
		options: subject.topOptions,
		told: func(s subject) string {
			return "one code " + dialTime(s.hand().Step) + ", coding error " + dialTime(s.hand().CodeErrorMax)
		}},
	{id: "series", field: "hand.drive.fixed", title: "Fixed resistor and trimmer",
		options: subject.seriesOptions,
		missing: func(s subject) bool {
			d := s.drive()
			return d.Fixed.Number == 0 && d.Trimmer.Number == 0 && s.hand().SeriesNeeded > 0
		},
		told: func(s subject) string {
			h := s.hand()
			text := "travel " + show(h.TrimmerTravel, quantity.Percent) + ", worst overload " + show(h.OverloadWorst, quantity.Times)
			if !math.IsNaN(h.TrimStep) {
				text += ", sets to " + dialTime(h.TrimStep)
			}
			return text
		}},
	{id: "filter", field: "hand.drive.capacitor", title: "Stage and capacitor",
		options: subject.filterOptions,
		told: func(s subject) string {
			h := s.hand()
			text := "trembles by " + show(h.RippleNeedle/s.minutes(), quantity.Percent) + ", coil's ripple " + show(h.RippleCurrent, quantity.Percent)
			if !math.IsNaN(h.FilterSettling) {
				text += ", settles in " + show(h.FilterSettling, quantity.Seconds) + ", draws " + show(h.FilterCurrent, quantity.Microamperes)
			}
			return text
		}},
	{id: "load_capacitors", field: "crystal.capacitor_in", title: "Load capacitors",
		options: subject.loadCapacitorOptions,
		missing: func(s subject) bool { return s.p.circuit.Crystal.In == 0 && s.p.circuit.Crystal.Out == 0 },
		told: func(s subject) string {
			c := &s.p.Crystal
			text := show(c.LoadOffset, quantity.PPM) + ", " + show(calc.SecondsADay*c.LoadOffset, quantity.SecondsPerDay)
			if !math.IsNaN(c.GainMargin) {
				text += ", margin " + show(c.GainMargin, quantity.Times)
			}
			return text
		}},
	{id: "lamp", field: "lamp.resistor", title: "Lamp's resistor",
		options: subject.lampOptions,
		told: func(s subject) string {
			text := show(s.p.Lamps[s.i].Current, quantity.Milliamperes)
			if share := s.p.Battery.Awake.Lamps; !math.IsNaN(share) {
				text += ", lamps " + show(share, quantity.Percent) + " of the waking current"
			}
			return text
		}},
	{id: "supply", field: "battery.cells", title: "Cells and converter",
		options: subject.supplyOptions,
		told: func(s subject) string {
			return "awake " + figureText(s.p.Battery.LifeOn, quantity.Hours) + ", as used " + figureText(s.p.Battery.LifeMixed, quantity.Hours)
		}},
}

// partFields are the fields beside which a part is offered.
var partFields = map[string][]string{
	"pwm":             {"hand.drive.pwm_wanted", "hand.drive.prescale", "hand.drive.counts"},
	"top":             {"hand.drive.top"},
	"series":          {"hand.drive.fixed", "hand.drive.trimmer", "hand.drive.setting"},
	"filter":          {"hand.drive.capacitor", "hand.drive.stage", "hand.drive.capacitor_at", "hand.drive.capacitor_kind"},
	"load_capacitors": {"crystal.capacitor_in", "crystal.capacitor_out"},
	"lamp":            {"lamp.resistor"},
	"supply":          {"battery.cells", "battery.cell", "converter.kind"},
}

// A bench is a copy of a build on which one hand's parts are exchanged, and
// judged by the rules of hands alone.
type bench struct {
	build *Build
	plan  Plan
	i     int
}

func (s subject) bench() *bench {
	b := &bench{build: s.b.changed(nil), i: s.i}
	b.plan.Hands = append(b.plan.Hands, s.p.Hands...)
	b.plan.Lamps, b.plan.Battery, b.plan.Crystal, b.plan.circuit = s.p.Lamps, s.p.Battery, s.p.Crystal, s.p.circuit
	b.plan.circuit.Hands = append([]HandCircuit(nil), s.p.circuit.Hands...)
	return b
}

func (b *bench) drive() *Drive { return &b.build.Hands[b.i].Drive }

// series solves the hand's chain anew; the rest of its plan stays.
func (b *bench) series() *HandPlan {
	h, p := &b.plan.circuit.Hands[b.i], &b.plan.Hands[b.i]
	floor := h.Floor
	*h = wireHand(b.build, &b.build.Hands[b.i])
	h.Floor = floor
	h.solveSeries(p, h.chain())
	return p
}

// smooth solves its chain and its ripple anew.
func (b *bench) smooth() *HandPlan {
	p := b.series()
	h := &b.plan.circuit.Hands[b.i]
	h.solveSmooth(p, h.chain())
	return p
}

// score counts what the rules of hands find.
func (b *bench) score() score {
	var s score
	for k := range handRules {
		severity, _ := handRules[k].grade(subject{b.build, &b.plan, b.i})
		s.add(severity)
	}
	return s
}

// quantityText is the text of a chosen part, with the tolerance of the present one, or the
// usual one of its kind.
func quantityText(f *Field, present quantity.Value, x, tolerance float64) string {
	v := quantity.Value{Number: x}
	if x > 0 {
		v.Tolerance, v.Share = tolerance, true
		if present.Share && present.Tolerance > 0 {
			v.Tolerance = present.Tolerance
		}
	}
	return quantity.Format(v, f.Unit)
}

// pwmOptions are prescalers and counts: for the frequency that is wanted, or
// else for one that nobody hears and the needle does not follow.
func (s subject) pwmOptions() [][]Change {
	var all []ranked
	d := s.drive()
	wanted := d.PWMWanted.Number
	_, steps := dial(s.b.Hands[s.i].Shows)
	bench := s.bench()
	for prescale := 1; prescale <= 1024; prescale *= 2 {
		for _, counts := range s.countsFor(prescale) {
			top := equalTop(steps, counts)
			x := bench.drive()
			x.Prescale, x.Counts, x.Top = prescale, counts, top
			h := bench.smooth()
			off := 0.0
			if !math.IsNaN(wanted) {
				off = math.Abs(math.Log(h.PWMFrequency / wanted))
				if off > 0.7 { // not even half or double
					continue
				}
			}
			all = append(all, ranked{
				changes: []Change{
					{fieldTable["hand.drive.prescale"], s.i, strconv.Itoa(prescale)},
					{fieldTable["hand.drive.counts"], s.i, strconv.Itoa(counts)},
					{fieldTable["hand.drive.top"], s.i, strconv.Itoa(top)},
				},
				score: bench.score(),
				worth: []float64{off, number01(counts != d.Counts), math.Abs(math.Log(float64(prescale) / float64(d.Prescale)))},
			})
		}
	}
	return best(all)
}

// countsFor are counts worth trying with a prescaler: usual ones, and those
// nearest to the frequency that is wanted.
func (s subject) countsFor(prescale int) []int {
	d := s.drive()
	if d.PWMWanted.Given() {
		exact := d.Clock.Number / (float64(prescale) * d.PWMWanted.Number)
		if exact < 2 || exact > 65536 {
			return nil
		}
		nearest := int(math.Round(exact))
		if even := nearest / 240 * 240; even > 0 && even != nearest {
			return []int{nearest, even, even + 240}
		}
		return []int{nearest}
	}
	counts := []int{240, 256, 480, 512, 720, 960, 1024}
	for _, c := range counts {
		if c == d.Counts {
			return counts
		}
	}
	return append(counts, d.Counts)
}

// otherPWMWanted says whether a PWM frequency is asked for that is not there.
func (s subject) otherPWMWanted() bool {
	return math.Abs(s.hand().PWMFrequency/s.drive().PWMWanted.Number-1) > 0.1
}

// topOptions are top codes that share the dial evenly: of the present counts, and
// of more.
func (s subject) topOptions() [][]Change {
	_, steps := dial(s.b.Hands[s.i].Shows)
	change := func(path string, n int) Change { return Change{fieldTable[path], s.i, strconv.Itoa(n)} }
	present := s.drive().Counts
	options := [][]Change{{change("hand.drive.top", equalTop(steps, present))}}
	for _, counts := range []int{256, 480, 720, 1024} {
		if counts > present {
			options = append(options, []Change{
				change("hand.drive.counts", counts),
				change("hand.drive.top", equalTop(steps, counts)),
			})
		}
	}
	return options
}

// equalTop is the largest top code up to counts that shares the dial's steps
// evenly.
func equalTop(steps, counts int) int {
	if counts >= steps {
		return counts / steps * steps
	}
	for t := counts; t > 1; t-- {
		if steps%t == 0 {
			return t
		}
	}
	return 1
}

// loadCapacitorOptions are pairs of E24 by the rate they leave; one that is of E12
// too goes before one as near that is not.
func (s subject) loadCapacitorOptions() [][]Change {
	const least, most = 2e-12, 33e-12
	const scarcer = 1.0 // ppm that a pair of E12 may leave more
	var all []ranked
	plan, c := *s.p, s.p.circuit.Crystal
	in, out := fieldTable["crystal.capacitor_in"], fieldTable["crystal.capacitor_out"]
	for a := least; a <= most; a = calc.NextPreferred(a, calc.E24, true) {
		for b := a; b <= min(1.5*a, most); b = calc.NextPreferred(b, calc.E24, true) {
			c.In, c.Out = a, b
			plan.circuit.Crystal = c
			plan.Crystal = solveCrystal(&c)
			var score score
			for k := range crystalRules {
				severity, _ := crystalRules[k].grade(subject{s.b, &plan, 0})
				score.add(severity)
			}
			off := math.Abs(plan.Crystal.LoadOffset)
			for _, x := range [2]float64{a, b} {
				off += scarcer * number01(calc.NearestPreferred(x, calc.E12) != x)
			}
			all = append(all, ranked{
				changes: []Change{
					{in, 0, quantityText(in, s.b.Crystal.CapacitorIn, a, 0.05)},
					{out, 0, quantityText(out, s.b.Crystal.CapacitorOut, b, 0.05)},
				},
				score: score, worth: []float64{off, b / a},
			})
		}
	}
	return best(all)
}

// lampOptions are resistors for 1.5 and 1 mA, and four times the present one.
func (s subject) lampOptions() [][]Change {
	f, l := fieldTable["lamp.resistor"], &s.b.Lamps[s.i]
	over := s.b.Rail.Voltage.Number - l.Forward.Number
	if !(over > 0) {
		return nil
	}
	var options [][]Change
	for _, x := range [...]float64{over/1.5e-3 - l.PinResistance.Number, over/1e-3 - l.PinResistance.Number, 4 * l.Resistor.Number, over/0.5e-3 - l.PinResistance.Number} {
		if x >= f.low && x <= f.high {
			options = append(options, []Change{{f, s.i, quantityText(f, l.Resistor, calc.NearestPreferred(x, calc.E24), 0.05)}})
		}
	}
	return options
}

// supplyOptions are built-in cells, how many of them, and what stands between
// them and the rail.
func (s subject) supplyOptions() [][]Change {
	if !hasBattery(&s.b.Battery) {
		return nil
	}
	var all []ranked
	bench := s.supplyBench()
	for k := range cells {
		for count := 1; count <= 4; count++ {
			for _, kind := range fieldTable["converter.kind"].Choices {
				changes := s.supplyChanges(&cells[k], count, kind)
				all = append(all, ranked{changes, bench.of(changes), []float64{
					number01(kind != s.b.Converter.Kind), number01(cells[k].Name != s.b.Battery.Cell),
					math.Abs(float64(count - s.b.Battery.Cells)), float64(k), -bench.plan.Battery.LifeOn,
				}})
			}
		}
	}
	return best(all)
}

// A supplyBench is a copy of a plan on which the supply is exchanged.
type supplyBench struct {
	subject
	plan Plan
}

func (s subject) supplyBench() *supplyBench {
	b := &supplyBench{subject: s}
	b.plan.Lamps, b.plan.Crystal = s.p.Lamps, s.p.Crystal
	return b
}

// of solves the supply with changes made, and counts what is found of it and of
// the hands it drives.
func (b *supplyBench) of(changes []Change) score {
	build, p := b.b.changed(changes), &b.plan
	wire(build, &p.circuit)
	p.Hands = append(p.Hands[:0], b.p.Hands...)
	for i := range p.Hands {
		h := &p.circuit.Hands[i]
		h.solveSeries(&p.Hands[i], h.chain())
		p.Hands[i].FreshError = math.NaN()
	}
	p.solveSupply(&p.circuit)
	var s score
	for k := range rules {
		for i := range rules[k].count(build) {
			severity, _ := rules[k].grade(subject{build, p, i})
			s.add(severity)
		}
	}
	return s
}

// supplyChanges make a supply of a kind of cell and a kind of converter, which
// brings what is usual of it.
func (s subject) supplyChanges(c *Cell, count int, kind string) []Change {
	change := func(path, text string) Change { return Change{fieldTable[path], 0, text} }
	changes := []Change{change("battery.cell", c.Name), change("battery.cells", fmt.Sprint(count)), change("converter.kind", kind)}
	if c.Name != s.b.Battery.Cell { // what was given is of the other cell
		for _, key := range []string{"capacity", "cutoff", "resistance", "resistance_end", "self_discharge", "shelf", "curve"} {
			if s.b.Battery.gives(key) {
				changes = append(changes, change("battery."+key, ""))
			}
		}
	}
	if kind != s.b.Converter.Kind {
		usual := map[string][3]string{ // quiescent, dropout, minimum input; common practice, no source
			"boost": {"50 µA", "", "0.9 V"}, "linear": {"3 µA", "0.25 V", ""}, "none": {"", "", ""},
		}[kind]
		changes = append(changes, change("converter.quiescent", usual[0]), change("converter.dropout", usual[1]), change("converter.minimum_input", usual[2]))
	}
	return changes
}
