package bench

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"

	"example.com/needlewright/model"
	"example.com/needlewright/model/quantity"
)

// A Planted fault is one that a made-up clock has, for who is to find it.
type Planted struct {
	ID, About     string
	Title         string // in words, with its amount and its place
	Confirm, Mend string
	Shows         []string // test points that read otherwise than without it
}

// A Made clock is one that was made up: what is read at its test points, and what is wrong.
type Made struct {
	Readings []model.Reading
	Faults   []Planted
}

// mostMade is how many clocks are made up until each fault shows in one.
const mostMade = 1000

// Make makes up a clock of the build with so many faults, 1 or 2, of the table of causes:
// parts anywhere within their tolerances, trimmed by eye, read with the errors of the
// build's multimeter and of the eye. Each fault shows in the readings. The same seed makes
// the same clock. It is an error where no fault of the build shows.
func (x *Bench) Make(seed uint64, faults int) (*Made, error) {
	random := rand.New(rand.NewPCG(seed, 0x6e656564))
	for range mostMade {
		k := x.draw(random, faults)
		if made := k.made(); made != nil {
			return made, nil
		}
	}
	return nil, fmt.Errorf("no clock with %s whose readings tell of each was found in %d", quantity.Counted(faults, "fault"), mostMade)
}

// A kit is one clock that is made up.
type kit struct {
	x      *Bench
	world  *world
	setup  setup
	causes []*cause
	random *rand.Rand // of the errors of its readings
}

// draw draws the parts of a clock and what is wrong with it.
func (x *Bench) draw(random *rand.Rand, faults int) *kit {
	k := &kit{x: x, world: newWorld(x.build), setup: setup{hand: -1}, random: random}
	even := func(limit float64) float64 { return limit * (2*random.Float64() - 1) }
	for _, u := range x.unknowns {
		u.put(k.world, even(u.width*math.Sqrt(3)))
	}
	if !x.build.Battery.Used.Given() {
		k.world.used = usedMost * random.Float64()
	}
	k.world.floating = floatingMost * random.Float64()
	k.world.sensitivity = leastSensitivity + (mostSensitivity-leastSensitivity)*random.Float64()
	k.world.held = leastHeld * math.Pow(mostHeld/leastHeld, random.Float64())
	trims := random.IntN(2) == 0
	for len(k.causes) < min(faults, len(x.all)-1) {
		a := x.anyCandidate(random)
		if slices.Contains(k.causes, a.causes[0]) {
			continue
		}
		c := a.causes[0]
		k.causes = append(k.causes, c)
		k.setup.faults = append(k.setup.faults, placed{fault: a.faults[0], index: a.index[0], amount: x.anyAmount(a, random)})
		trims = trims && c.trims
	}
	k.setup.trimmed = trims
	return k
}

// anyCandidate is any single cause, each as likely, of any of its elements.
func (x *Bench) anyCandidate(random *rand.Rand) *candidate {
	var ids []string
	for _, a := range x.all[1:] {
		if id := a.causes[0].id; !slices.Contains(ids, id) {
			ids = append(ids, id)
		}
	}
	id := ids[random.IntN(len(ids))]
	var of []*candidate
	for _, a := range x.all[1:] {
		if a.causes[0].id == id {
			of = append(of, a)
		}
	}
	return of[random.IntN(len(of))]
}

// anyAmount is any that a cause may have.
func (x *Bench) anyAmount(a *candidate, random *rand.Rand) float64 {
	c := a.causes[0]
	spans := c.spans
	if spans == nil {
		spans = a.faults[0].Spans(x.circuit, a.index[0])
	}
	if len(spans) == 0 {
		return 0
	}
	s := spans[random.IntN(len(spans))]
	at := random.Float64()
	switch {
	case c.whole:
		return math.Round(s.Least + at*(s.Most-s.Least))
	case c.factor && s.Least > 0:
		return s.Least * math.Pow(s.Most/s.Least, at)
	}
	return s.Least + at*(s.Most-s.Least)
}

// made is the clock as it is read; nil where a fault does not show.
func (k *kit) made() *Made {
	out := &Made{}
	with, _ := k.world.scene(&k.setup, &k.x.build.Meter)
	for n, c := range k.causes {
		others := k.setup
		others.faults = slices.Delete(slices.Clone(k.setup.faults), n, n+1)
		without, _ := k.world.scene(&others, &k.x.build.Meter)
		shows := k.differ(with, without, &others)
		if len(shows) == 0 {
			return nil
		}
		f := k.setup.faults[n]
		p := Planted{ID: c.id, Title: k.titleOf(n), Confirm: c.confirm, Mend: c.mend, Shows: shows}
		if f.fault.Of != "" {
			p.About = k.x.build.NameOf(f.fault.Of, f.index)
		}
		out.Faults = append(out.Faults, p)
	}
	for j := range k.x.spots {
		if text := k.write(with, &k.setup, j); text != "" {
			out.Readings = append(out.Readings, model.Reading{At: k.x.spots[j].id, Value: text})
		}
	}
	return out
}

// titleOf is the n-th fault in words.
func (k *kit) titleOf(n int) string {
	f, c := k.setup.faults[n], k.causes[n]
	one := &Cause{ID: c.id, Amount: f.amount, entry: &entry{a: &candidate{causes: []*cause{c}, index: []int{f.index}}}}
	if f.fault.Of != "" {
		one.About = k.x.build.NameOf(f.fault.Of, f.index)
	}
	title := k.x.TitleOf(one)
	switch c.id {
	case "series_open":
		title += ", at " + []string{"the fixed resistor", "the trimmer", "the pin's wire", "the meter's wire"}[int(f.amount)-1]
	case "pins_swapped":
		if other := int(f.amount); other < len(k.x.build.Hands) {
			title += ", with " + k.x.build.Hands[other].Name
		} else {
			title += ", with lamp " + k.x.build.Lamps[other-len(k.x.build.Hands)].Name
		}
	}
	return title
}

// differ are the points that read otherwise in two scenes than the errors of two readings
// allow.
func (k *kit) differ(a, b *scene, other *setup) []string {
	var ids []string
	for j := range k.x.spots {
		p := &k.x.spots[j]
		if p.words != nil {
			if k.likeliest(a, &k.setup, j) != k.likeliest(b, other, j) {
				ids = append(ids, p.id)
			}
			continue
		}
		v, w := p.value(a, p.index), p.value(b, p.index)
		limit := func(v float64) float64 { return p.with.limit(&k.x.build.Meter, v, math.NaN(), 0) }
		switch far := math.Abs(v - w); {
		case math.IsNaN(v) || math.IsNaN(w) || math.IsInf(v, 1) && math.IsInf(w, 1):
		case p.with == levels && math.Max(v, leastLevel) < 4*math.Max(w, leastLevel) && math.Max(w, leastLevel) < 4*math.Max(v, leastLevel):
		case far > limit(v)+limit(w):
			ids = append(ids, p.id)
		}
	}
	return ids
}

// likeliest is the word that is most likely said at a point.
func (k *kit) likeliest(s *scene, u *setup, j int) string {
	p := &k.x.spots[j]
	c := &circumstance{}
	for _, f := range u.faults {
		hand := -1
		if f.fault.Of == "hand" {
			hand = f.index
		}
		c.causes, c.hands = append(c.causes, f.fault.ID), append(c.hands, hand)
	}
	chances, best := p.chance(s, p.index, c), 0
	for n := range chances {
		if chances[n] > chances[best] {
			best = n
		}
	}
	return p.words[best]
}

// write is what a person writes down at a point, in a form that a build's file takes; "" where
// there is nothing to read.
func (k *kit) write(s *scene, u *setup, j int) string {
	p := &k.x.spots[j]
	if p.words != nil {
		return k.likeliest(s, u, j)
	}
	v := p.value(s, p.index)
	even := func(limit float64) float64 { return limit * (2*k.random.Float64() - 1) }
	const percent, half = 0.01, 0.005
	switch {
	case math.IsNaN(v):
		return ""
	case p.isPlace():
		stick := 0.0
		if p.with == untapped {
			stick = math.Abs(s.c.Hands[p.index].Stick) * k.random.Float64() // it lags on the side that it comes from
		}
		return k.place(p, v+stick, v+stick+even(eyeTapped))
	case p.with == moving:
		at := s.needle(p.index, quarters(s.planTop(p.index)))
		if end := at + v; max(at, end) > 1+p.stop || min(at, end) < -p.stop { // it lies at its stop
			return ""
		}
		return inSteps(v+even(eyeMoves), percent)
	case p.with == tapping:
		return inSteps(math.Abs(v+even(eyeTaps)), half)
	case p.with == flashes && v != 0:
		return fmt.Sprintf("%.3f s", v+even(tickLimit))
	case p.with == days:
		return k.days(v)
	case p.with == counter && v != 0:
		return fmt.Sprintf("%.5f kHz", (v+even(ppmCounter*v))/1000)
	}
	return p.displayed(&k.x.build.Meter, v, even)
}

// place is where a needle stands, seen a little off; beyond a stop it lies there.
func (k *kit) place(p *spot, stands, seen float64) string {
	switch {
	case stands > 1+p.stop:
		return "over"
	case stands < -p.stop:
		return "below"
	}
	return inSteps(seen, 0.01)
}

// inSteps is a share in whole steps, as a person writes it.
func inSteps(share, step float64) string {
	steps := math.Round(share / step)
	if steps == 0 {
		return "0 %" // and not -0
	}
	return strings.TrimSuffix(fmt.Sprintf("%.1f", steps*step*100), ".0") + " %"
}

// days is a drift against a good clock, "" of one that stands still.
func (k *kit) days(rate float64) string {
	n := []int{1, 2, 3, 5, 7}[k.random.IntN(5)]
	seconds := math.Round(rate*float64(n) + driftLimit/2*(2*k.random.Float64()-1))
	if rate < -0.99*86400 {
		return ""
	}
	return fmt.Sprintf("%+.0f s in %d d", seconds, n)
}

// displayed is what a multimeter shows of a value.
func (p *spot) displayed(m *model.Multimeter, v float64, even func(limit float64) float64) string {
	off, digits := even(p.with.share(m)), even(float64(m.Digits))
	switch {
	case math.IsInf(v, 1):
		return "over"
	case math.Abs(v) <= p.with.nothing():
		return "none"
	}
	shown := v*(1+off) + digits*lastDigit(v, p.with.leastRange())
	digit := lastDigit(shown, p.with.leastRange())
	shown = math.Round(shown/digit) * digit
	if shown == 0 {
		return "none"
	}
	return quantity.Show(shown, p.unit, 1+int(math.Floor(math.Log10(math.Abs(shown)/digit)+1e-9)))
}
