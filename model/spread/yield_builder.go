package spread

import (
	"math"
	"math/rand/v2"
	"slices"
	"sync"

	"example.com/needlewright/calc"
	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
)

// A production is many kits of a build: what is known beforehand, and a number of
// each kit, by its place.
type production struct {
	build                   *model.Build
	kits                    int
	seed                    uint64
	hands                   []handProduction
	rate, lifeOn, lifeMixed []float64

	tallying sync.Mutex
	tallies  []*tally // of each builder
}

// A handProduction is one hand of a production.
type handProduction struct {
	name            string
	nominal         circuit.HandCircuit
	wrong           *calc.Misreading
	errors, travels []float64 // min, share of the trimmer
	tighter         []comparison
}

// A comparison is the errors of a hand, min, with an input's tolerance halved.
type comparison struct {
	input  Input
	number int // of the input
	errors []float64
}

func newProduction(b *model.Build, kits int, seed uint64) *production {
	p := &production{build: b, kits: kits, seed: seed}
	numbers := func(n int) []float64 { return make([]float64, n) }
	p.rate, p.lifeOn, p.lifeMixed = numbers(kits), numbers(kits), numbers(kits)
	var c circuit.Circuit
	circuit.Wire(b, &c)
	p.hands = make([]handProduction, len(c.Hands))
	for i := range c.Hands {
		coding := c.Hands[i].Quantisation()
		p.hands[i] = handProduction{
			name: b.Hands[i].Name, nominal: c.Hands[i], wrong: coding.Misreading(),
			errors: numbers(kits), travels: numbers(kits),
		}
	}
	m := p.newBuilder()
	for i := range p.hands {
		for k, in := range m.kit.inputs {
			if m.moves(k, i) {
				h := &p.hands[i]
				h.tighter = append(h.tighter, comparison{in, k, numbers(min(kits, MostCompared))})
			}
		}
	}
	return p
}

// A builder makes up one kit after the other.
type builder struct {
	*production
	kit    *kit
	plan   circuit.Plan
	places []float64 // of the inputs, -1 to 1
	source rand.PCG
	count  *tally
}

func (p *production) newBuilder() *builder {
	m := &builder{production: p, kit: newKit(p.build)}
	m.places = make([]float64, len(m.kit.inputs))
	circuit.Wire(m.kit.build, &m.plan.Circuit)
	m.plan.Solve(circuit.Reach)
	return m
}

// builder makes a builder that makes up blocks of kits.
func (p *production) builder() func(block int) {
	m := p.newBuilder()
	m.count = p.newTally()
	return m.block
}

// block makes up the kits of a block, from a stream of random numbers of its own.
func (m *builder) block(block int) {
	m.source.Seed(m.seed, uint64(block))
	for n := block * blockOfKits; n < min((block+1)*blockOfKits, m.kits); n++ {
		m.draw()
		m.make(n)
	}
}

// draw takes parts from the shelf.
func (m *builder) draw() {
	random := rand.New(&m.source)
	for k := range m.places {
		m.places[k] = 2*random.Float64() - 1
		m.kit.set(k, m.places[k])
	}
}

// make makes up the n-th kit of its parts.
func (m *builder) make(n int) {
	b, c := m.kit.build, &m.plan.Circuit
	c.Rail = b.Rail.Voltage.Number
	all := true
	for i := range m.hands {
		h, p, t := &c.Hands[i], &m.hands[i], &m.count.hands[i]
		f := m.fit(i, circuit.Reach|circuit.FromRail)
		p.errors[n], p.travels[n] = f.wrong, f.setting/h.Trimmer
		t.sort(h, &p.nominal, &f)
		all = all && f.trimsUp()
		if n < MostCompared {
			m.compare(n, i, f)
		}
	}
	if all {
		m.count.trimUp++
	}
	c.Crystal = circuit.WireCrystal(b)
	m.plan.Solve(circuit.Time)
	m.rate[n] = m.plan.Crystal.Rate
	m.lifeOn[n], m.lifeMixed[n] = m.lives()
}

// A fitting is a hand as its builder leaves it.
type fitting struct {
	setting, trimmer float64 // Ω, what full scale asks of the trimmer, and what it has
	wrong            float64 // min, the dial_error
}

// Shares of its travel between which a trimmer can be set: the end turns are coarse.
// Common practice, no source.
const leastTravel, mostTravel = 0.02, 0.98

func (f *fitting) trimsUp() bool {
	return leastTravel*f.trimmer <= f.setting && f.setting <= mostTravel*f.trimmer
}

// held says whether the trimmer stands at an end and does not reach full scale.
func (f *fitting) held() bool { return f.setting < 0 || f.setting > f.trimmer }

// noError is a dial_error, min, that is none but for rounding.
const noError = 1e-9

// fit wires a hand anew, trims it, and works out groups of its results.
func (m *builder) fit(i int, groups circuit.Groups) fitting {
	h, wrong := &m.plan.Circuit.Hands[i], m.hands[i].wrong
	h.WireSeries(m.kit.build, &m.kit.build.Hands[i])
	m.plan.SolveHand(i, groups)
	p := &m.plan.Hands[i]
	f := fitting{setting: p.TrimmerSetting, trimmer: h.Trimmer}
	reached := 1.0 // but for rounding
	if f.held() || !math.IsNaN(h.Setting) {
		reached = p.FullScaleReached
	}
	largest := wrong.Largest(reached)
	for _, warm := range p.Warm {
		if off := wrong.Largest(reached * (1 + warm)); off > largest { // NaN where the room is not known
			largest = off
		}
	}
	if f.wrong = h.Minutes * largest; f.wrong < noError {
		f.wrong = 0
	}
	return f
}

// compare fits the n-th kit's hand again with each tolerance halved in its turn.
func (m *builder) compare(n, i int, whole fitting) {
	t := &m.count.hands[i]
	if whole.trimsUp() {
		t.compared++
	}
	for k := range m.hands[i].tighter {
		c := &m.hands[i].tighter[k]
		m.kit.set(c.number, m.places[c.number]/2)
		f := m.fit(i, circuit.Reach)
		m.kit.set(c.number, m.places[c.number])
		c.errors[n] = f.wrong
		if f.trimsUp() {
			t.tighter[k]++
		}
	}
}

// moves says whether an input moves a hand: from end to end, with the others
// anywhere.
func (m *builder) moves(input, hand int) bool {
	m.source.Seed(0, 0)
	for range 8 {
		m.draw()
		m.kit.set(input, -1)
		low := m.fit(hand, circuit.Reach)
		m.kit.set(input, 1)
		if m.fit(hand, circuit.Reach) != low {
			return true
		}
	}
	return false
}

// lives are how long the kit's cells last, always awake and as used, h; NaN without
// cells.
func (m *builder) lives() (on, mixed float64) {
	b, c := m.kit.build, &m.plan.Circuit
	c.Battery = circuit.WireBattery(b)
	if !c.Battery.Present {
		return math.NaN(), math.NaN()
	}
	c.WireLamps(b)
	c.Supply = circuit.WireSupply(b)
	m.plan.Solve(circuit.Lamps | circuit.Loads)
	on = m.plan.Pack.Life(24)
	if c.Battery.HoursOn == 24 {
		return on, on
	}
	return on, m.plan.Pack.Life(c.Battery.HoursOn)
}

// fixedResistors are those that may stand in the place of a fixed one; 0 is none.
var fixedResistors = slices.Concat([]float64{0}, model.Resistors)

// A tally counts the kits of one builder.
type tally struct {
	trimUp int
	hands  []handTally
}

type handTally struct {
	trimUp, more, less             int
	trimmers, fixedMore, fixedLess []int // by their places in the lists
	compared                       int   // that trim up, of those that are compared
	tighter                        []int // the same with a tolerance halved
}

func (p *production) newTally() *tally {
	t := &tally{hands: make([]handTally, len(p.hands))}
	for i := range t.hands {
		t.hands[i] = handTally{
			trimmers:  make([]int, len(model.Trimmers)),
			fixedMore: make([]int, len(fixedResistors)), fixedLess: make([]int, len(fixedResistors)),
			tighter: make([]int, len(p.hands[i].tighter)),
		}
	}
	p.tallying.Lock()
	defer p.tallying.Unlock()
	p.tallies = append(p.tallies, t)
	return t
}

// add adds another builder's.
func (t *tally) add(other *tally) {
	t.trimUp += other.trimUp
	for i := range t.hands {
		a, b := &t.hands[i], &other.hands[i]
		a.trimUp, a.more, a.less, a.compared = a.trimUp+b.trimUp, a.more+b.more, a.less+b.less, a.compared+b.compared
		for _, lists := range [...][2][]int{
			{a.trimmers, b.trimmers}, {a.fixedMore, b.fixedMore}, {a.fixedLess, b.fixedLess}, {a.tighter, b.tighter},
		} {
			for k, n := range lists[1] {
				lists[0][k] += n
			}
		}
	}
}

// sort counts a hand as one that trims up, or by the parts that it needs. Another
// part of the same make is off by the same share as the kit's own.
func (t *handTally) sort(h, nominal *circuit.HandCircuit, f *fitting) {
	if f.trimsUp() {
		t.trimUp++
		return
	}
	off := 1.0
	if nominal.Fixed > 0 {
		off = h.Fixed / nominal.Fixed
	}
	whole := f.setting + h.Fixed
	most := (whole - leastTravel*f.trimmer) / off // of the fixed resistor
	least, _ := slices.BinarySearch(fixedResistors, (whole-mostTravel*f.trimmer)/off)
	above, _ := slices.BinarySearch(fixedResistors, math.Nextafter(most, math.Inf(1)))
	if f.setting < leastTravel*f.trimmer {
		t.less++
		if above > least {
			t.fixedLess[above-1]++
		}
		return
	}
	t.more++
	if above > least {
		t.fixedMore[least]++
	}
	if nominal.Trimmer > 0 {
		off = h.Trimmer / nominal.Trimmer
	} else {
		off = 1
	}
	if larger, _ := slices.BinarySearch(model.Trimmers, f.setting/mostTravel/off); larger < len(model.Trimmers) {
		t.trimmers[larger]++
	}
}

// others are the parts that any kit needs.
func others(values []float64, kits []int) []Other {
	var list []Other
	for k, n := range kits {
		if n > 0 {
			list = append(list, Other{values[k], n})
		}
	}
	return list
}
