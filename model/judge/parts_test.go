package judge

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/calc"
	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/modeltest"
	"example.com/needlewright/model/quantity"
)

// counted counts faults, cautions and notes of a build, by Evaluate and every rule
// of the table.
func counted(b *model.Build, p *circuit.Plan) (n [3]int) {
	circuit.Evaluate(b, p)
	for _, g := range gradeAll(b, p) {
		n[Fault-g.severity]++
	}
	return n
}

// A rival is a copy of a build on which a test exchanges parts by hand, to find
// what beats it.
type rival struct {
	model.Build
	plan    circuit.Plan
	from    *model.Build
	present [3]int
	reached float64
	best    [3]int
	what    string
}

func newRival(b *model.Build) *rival {
	r := &rival{from: b}
	r.restore()
	r.present = counted(&r.Build, &r.plan)
	r.reached = max(0.01, math.Abs(r.plan.Hands[0].FullScaleReached-1))
	r.best = r.present
	return r
}

// restore takes all exchanged parts out again.
func (r *rival) restore() {
	r.Build = *r.from
	r.Hands, r.Lamps = slices.Clone(r.from.Hands), slices.Clone(r.from.Lamps)
}

func (r *rival) drive() *model.Drive { return &r.Hands[0].Drive }

// judge remembers what beats the build: it leaves fewer faults, or as many and
// fewer cautions, or where notes count fewer of these. A needle that comes less
// far than the build's is no better, whatever is not found of it then.
func (r *rival) judge(notes bool, what ...any) {
	n := counted(&r.Build, &r.plan)
	if !notes {
		n[2] = r.present[2]
	}
	if slices.Compare(n[:], r.best[:]) < 0 && math.Abs(r.plan.Hands[0].FullScaleReached-1) <= r.reached {
		r.best, r.what = n, fmt.Sprint(what...)
	}
}

// beaten says whether the build was, and by what.
func (r *rival) beaten(t *testing.T, part string, k int) {
	r.restore()
	assert.Empty(t, r.what, "meter %d, %s: faults, cautions and notes %v, could be %v", k, part, r.present, r.best)
	r.best, r.what = r.present, ""
}

// corners are the worst overload with the trimmer at zero and the pin stuck high,
// and whether the trimmer brings the needle to full scale, at all ends of the
// tolerances. Derived: Ohm's law at each of the 2^7 corners.
func corners(b *model.Build) (overload float64, reached bool) {
	m, d := &b.Hands[0].Meter, &b.Hands[0].Drive
	parts := [...]quantity.Value{b.Rail.Voltage, m.FullScale, m.Coil, d.PinResistance, d.Stage, d.Fixed, d.Trimmer}
	pack := 0.0
	if b.Battery.Cells > 0 && b.Converter.Kind != "linear" { // a fresh pack may come through
		pack = float64(b.Battery.Cells) * b.Battery.Curve[0].Rest
	}
	reached = true
	for corner := range 1 << len(parts) {
		var x [len(parts)]float64
		for k, v := range parts {
			x[k] = v.Low()
			if corner>>k&1 == 1 {
				x[k] = v.High()
			}
		}
		chain := x[2] + x[3] + x[4] + x[5]
		overload = max(overload, max(x[0], pack)/chain/x[1])
		left := x[0]*float64(d.Top)/float64(d.Counts)/x[1] - chain
		reached = reached && 0 <= left && left <= x[6]
	}
	return overload, reached
}

// TestSuggestionsForAnyMeter: derived; what is offered comes to an end for any
// meter, its parts keep the coil safe and reach full scale at all corners wherever
// any do, and nothing is left to be found that one other choice would avoid, by
// searches that know nothing of the program's own.
func TestSuggestionsForAnyMeter(t *testing.T) {
	modeltest.Long(t)
	const batches, searched = 4, 25 // every so manieth meter is searched in full
	meters := modeltest.Sampled(t, 160)
	for batch := range batches {
		t.Run(fmt.Sprint(batch), func(t *testing.T) {
			t.Parallel()
			random := rand.New(rand.NewPCG(20, uint64(batch)))
			clean := 0
			for k := range meters / batches {
				b := takeAll(t, randomBuild(t, random))
				r := newRival(b)
				if r.present[0]+r.present[1] == 0 {
					clean++
				}
				safeIfAnyIs(t, r, k)
				if k%searched == 0 {
					search(t, r, k)
				}
			}
			t.Logf("%d of %d without fault and caution", clean, meters/batches)
		})
	}
}

// sold are the numbers of a series from least to most.
func sold(series calc.Series, least, most float64) []float64 {
	all := []float64{}
	for x := least; x <= most; x = calc.NextPreferred(x, series, true) {
		all = append(all, x)
	}
	return all
}

var (
	soldResistors  = sold(calc.E24, 10, 2e6)
	soldTrimmers   = sold(calc.OneTwoFive, 10, 2e6)
	soldCapacitors = sold(calc.E6, 1e-9, 1e-3)
	soldPicofarads = sold(calc.E24, 2e-12, 100e-12) // less is lost in the stray
)

// of is a part of another size, with its tolerance or a usual one.
func of(v quantity.Value, x, tolerance float64) quantity.Value {
	if !v.Share || v.Tolerance == 0 {
		v.Tolerance, v.Share = tolerance, true
	}
	v.Number = x
	return v
}

// gridded tries all fixed resistors of E24 and trimmers of 1-2-5.
func (r *rival) gridded(least, most float64, try func()) {
	d := r.drive()
	for _, fixed := range append([]float64{0}, soldResistors...) {
		for _, trimmer := range soldTrimmers {
			if fixed <= most && fixed+trimmer >= least {
				d.Fixed, d.Trimmer = of(d.Fixed, fixed, 0.01), of(d.Trimmer, trimmer, 0.1)
				try()
			}
		}
	}
}

// safeIfAnyIs holds the chosen parts to what any of the grid reach at all corners,
// if it leaves no more faults and cautions.
func safeIfAnyIs(t *testing.T, r *rival, k int) {
	limit := r.from.Hands[0].Meter.Overload.Number
	if overload, reached := corners(r.from); overload <= limit && reached {
		return
	}
	needed := r.plan.Hands[0].SeriesNeeded
	r.gridded(needed, needed, func() {
		if overload, reached := corners(&r.Build); overload <= limit && reached {
			n := counted(&r.Build, &r.plan)
			d := r.drive()
			assert.Positive(t, slices.Compare(n[:2], r.present[:2]), "meter %d: %v and %v are safe and reach at all corners", k, d.Fixed.Number, d.Trimmer.Number)
		}
	})
	r.restore()
}

// search looks for other choices, of one part at a time, that leave less.
func search(t *testing.T, r *rival, k int) {
	needed := r.plan.Hands[0].SeriesNeeded
	if needed+r.from.Hands[0].Drive.Stage.Number < 10 {
		return // the voltage is too small for this meter, or so near that any part may tune it
	}
	d := r.drive()
	_, reachedByAll := corners(r.from)
	r.gridded(0, 2e6, func() {
		_, reached := corners(&r.Build)
		r.judge(reached || !reachedByAll, d.Fixed.Number, d.Trimmer.Number)
	})
	r.beaten(t, "series", k)
	r.searchCodes()
	r.beaten(t, "codes", k)
	r.searchFilters(needed + r.from.Hands[0].Drive.Stage.Number)
	r.beaten(t, "filter", k)
	for _, x := range soldResistors {
		if (r.Rail.Voltage.Number-r.Lamps[0].Forward.Number)/x >= 0.3e-3 { // it must be seen
			r.Lamps[0].Resistor = of(r.Lamps[0].Resistor, x, 0.05)
			r.judge(true, x)
		}
	}
	r.beaten(t, "lamp", k)
	for _, in := range soldPicofarads {
		for _, out := range soldPicofarads {
			r.Crystal.CapacitorIn, r.Crystal.CapacitorOut = of(r.Crystal.CapacitorIn, in, 0.05), of(r.Crystal.CapacitorOut, out, 0.05)
			r.judge(true, in, out)
		}
	}
	r.beaten(t, "load_capacitors", k)
	r.searchSupplies()
	r.beaten(t, "supply", k)
}

// searchCodes tries prescalers and counts with the largest top code that shares
// the dial evenly, and all such top codes of the present counts. Notes do not
// count: coarse codes hide some.
func (r *rival) searchCodes() {
	d := r.drive()
	minutes := map[string]int{"12 h": 720, "24 h": 1440, "60 min": 60, "60 s": 60}[r.Hands[0].Shows]
	even := func(top int) bool { return minutes%top == 0 || top%minutes == 0 }
	for d.Top = d.Counts; d.Top > 1; d.Top-- {
		if even(d.Top) {
			r.judge(false, "top ", d.Top)
		}
	}
	for d.Prescale = 1; d.Prescale <= 1024; d.Prescale *= 2 {
		for d.Counts = 240; d.Counts <= 1024; d.Counts += 16 {
			for d.Top = d.Counts; !even(d.Top); d.Top-- {
			}
			r.judge(false, d.Prescale, " ", d.Counts, " ", d.Top)
		}
	}
}

// searchFilters tries capacitors of E6 at the coil, and behind stage resistors with
// the fixed resistor and the trimmer that go with them best. A stage resistor is a
// second fixed one too: notes, which that may spare, do not count.
func (r *rival) searchFilters(whole float64) {
	d := r.drive()
	capacitors := func(what string) {
		for _, c := range soldCapacitors {
			d.Capacitor, d.CapacitorKind = of(d.Capacitor, c, 0.2), "ceramic"
			if c > 10e-6 {
				d.CapacitorKind = "electrolytic" // as is usual
			}
			r.judge(what == "coil", c, " at ", what)
		}
	}
	if d.CapacitorAt == "coil" {
		capacitors("coil")
	}
	for _, stage := range soldResistors {
		if stage < whole/30 || stage >= whole {
			continue
		}
		d.CapacitorAt, d.Stage, d.Capacitor.Number = "stage", of(d.Stage, stage, 0.01), 0
		fewest, room := [3]int{math.MaxInt}, *d
		r.gridded(whole-stage, whole-stage, func() {
			if n := counted(&r.Build, &r.plan); slices.Compare(n[:], fewest[:]) < 0 {
				fewest, room = n, *d
			}
		})
		*d = room
		capacitors("stage")
	}
}

// searchSupplies tries all built-in cells, one to four, and all converters, as long
// as they give such a rail at all: a regulator takes more, a step-up less, and
// without either the fresh pack is the rail.
func (r *rival) searchSupplies() {
	if r.from.Battery.Cells == 0 {
		return
	}
	s := subject{r.from, &r.plan, 0}
	for k := range model.Cells {
		for count := 1; count <= 4; count++ {
			ratio := float64(count) * model.Cells[k].Curve[0].Rest / r.Rail.Voltage.Number
			for kind, sensible := range map[string]bool{"boost": true, "linear": ratio > 1, "none": math.Abs(ratio-1) < 0.1} {
				if sensible {
					r.Build = *r.from.Changed(s.supplyChanges(supplyParts{&model.Cells[k], count, kind}))
					r.judge(false, count, " of ", model.Cells[k].Name, ", ", kind)
				}
			}
		}
	}
}

// TestPlugInSupplyIsChosen: wherever cells are chosen a plug-in supply of the rail's voltage
// can be too, in words; it takes all out that is of cells, says nothing of their life, and
// leads back. It is never offered: whether there is an outlet nobody knows but the person.
func TestPlugInSupplyIsChosen(t *testing.T) {
	for example, want := range map[string]string{
		"reading-room": "a plug-in 5 V supply", "school-store": "a plug-in 5 V supply", "harbour-office": "a plug-in 3.3 V supply", "station-platform": "a plug-in 5 V supply",
	} {
		d := model.Open(modeltest.With(t, modeltest.Example(example), "battery.series_drop", "0.3 V"))
		v, problems := verdictOn(d.Text)
		require.Empty(t, modeltest.Messages(problems))
		for _, path := range []string{"battery.cell", "battery.cells", "converter.kind"} {
			_, _, options := v.Options(model.Builds.Field(path), 0)
			require.Greater(t, len(options), 1, example)
			last := options[len(options)-1]
			assert.True(t, strings.HasPrefix(last.Text, want+": no cells to run down"), last.Text)
			assert.NotContains(t, last.Text, "awake", "what there is no more is not worse")
			fed := d.Make(last.Changes)
			after, problems := verdictOn(fed.Text)
			require.Empty(t, modeltest.Messages(problems))
			assert.Zero(t, after.Build.Battery.Cells)
			assert.Equal(t, "none", after.Build.Converter.Kind)
			assert.Equal(t, d.Build.Rail, after.Build.Rail, "the rail is as it was")
			for _, r := range circuit.Outcomes(&after.Plan) {
				assert.NotEqual(t, "battery", r.List(), r.ID)
			}
			_, _, back := after.Options(model.Builds.Field(path), 0)
			assert.Empty(t, back[len(back)-1].Changes, "it has that")
			again, problems := verdictOn(fed.Make(back[0].Changes).Text)
			require.Empty(t, modeltest.Messages(problems))
			assert.Positive(t, again.Build.Battery.Cells, example)
			assert.False(t, math.IsNaN(again.Plan.Battery.LifeOn), example)
		}
		for _, s := range v.Better {
			assert.NotContains(t, s.Text, "plug-in")
			if d.Build.Battery.Cells == 0 {
				assert.NotEqual(t, "supply", s.ID)
			}
		}
	}
}
