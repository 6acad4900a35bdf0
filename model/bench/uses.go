package bench

import (
	"math"
	"slices"

	"example.com/needlewright/model"
)

// A use is a part of how far the cells may be used, where nothing is said of it.
type use struct {
	middle, half float64 // shares of the charge
	weight       float64
}

// usesOf cuts how far the cells may be used into parts over which the pack's voltage falls
// alike: one normal law does not hold for fresh and for used cells at once. More parts where
// the converter passes fresh cells through and converts used ones. None where there are no
// cells, or it is said.
func (w *world) usesOf(b *model.Build) (all []use, bent bool) {
	if !b.Battery.HasCells() || b.Battery.Used.Given() {
		return nil, false
	}
	rest := func(used float64) (volts float64, converts [2]bool) { // as it is, and with the multimeter in its lead
		was := w.used
		w.used = used
		s, _ := w.scene(&setup{hand: -1}, &b.Meter)
		w.used = was
		read := s.supply(func(rail float64) float64 { return s.awake(rail, -1, 0, true) }, true, b.Meter.BurdenLarge.Number)
		return s.c.Battery.Pack.Fresh(), [2]bool{s.on.rail == s.c.Rail, read.rail == s.c.Rail}
	}
	const few, many, steps = 3, 5, 60
	first, passes := rest(0)
	last, converts := rest(usedMost)
	parts := few
	if bent = passes != converts; bent {
		parts = many
	}
	at := func(n int) float64 { return usedMost * float64(n) / steps }
	from, was := 0, passes
	for n := 1; n <= steps; n++ {
		volts, converts := rest(at(n))
		if n < steps && converts == was && first-volts < (first-last)*float64(len(all)+1)/float64(parts) {
			continue
		}
		low, high := at(from), at(n)
		all, from, was = append(all, use{(low + high) / 2, (high - low) / 2, (high - low) / usedMost}), n, converts
	}
	return all, bent
}

// tail is the share of sound clocks that read beyond either end of the band that holds
// 95 % of them.
const tail = 0.025

// soundOf is a way of the sound clock with all that the cells may be used in it, by which
// its readings are judged one by one.
func (x *Bench) soundOf(w *world, one *way) *way {
	sound := *one
	if len(x.uses) == 0 {
		return &sound
	}
	middle := x.readUsed(w, one, w.used)
	row := make([]float64, len(middle))
	for _, beyond := range []float64{tail, 0} {
		fresh, used := x.readUsed(w, one, beyond*usedMost), x.readUsed(w, one, (1-beyond)*usedMost)
		var cells []reach
		for j, m := range middle {
			a, b := orNothing(fresh[j]-m), orNothing(used[j]-m)
			cells = append(cells, reach{-min(a, b, 0), max(a, b, 0)})
			row[j] = spread((b - a) / 2)
		}
		sound.cells = append(sound.cells, cells)
	}
	sound.rows = append(slices.Clone(one.rows), row)
	return &sound
}

// A reach is how far something moves a point, either way.
type reach struct{ down, up float64 }

// readUsed is what all points read of a way whose cells are used so far.
func (x *Bench) readUsed(w *world, one *way, used float64) []float64 {
	was := w.used
	w.used = used
	u := one.setup
	s, _ := w.scene(&u, &x.build.Meter)
	w.used = was
	s.less = one.less
	return x.read(s)
}

// byUse cuts ways by how far the cells are used. What else is not known moves the points
// alike in all of them.
func (x *Bench) byUse(w *world, ways []*way) []*way {
	if len(x.uses) == 0 {
		return ways
	}
	var all []*way
	for _, one := range ways {
		if one.setup.has("cells_weak") {
			all = append(all, one)
			continue
		}
		base := x.readUsed(w, one, w.used)
		for n := range x.uses {
			part := &x.uses[n]
			mean := x.readUsed(w, one, part.middle)
			off := x.readUsed(w, one, part.middle+spread(part.half))
			here := *one
			here.weight *= part.weight
			here.part = part
			here.mean = slices.Clone(one.mean)
			row := make([]float64, len(mean))
			for j := range mean {
				here.mean[j] += orNothing(mean[j] - base[j])
				row[j] = orNothing(off[j] - mean[j])
			}
			here.rows = append(slices.Clone(one.rows), row)
			all = append(all, &here)
		}
	}
	return all
}

// byShare works ways out; where they hold the controller by a rail too low for it they are
// cut by the share of its waking current that it takes then, which may be anything in a
// decade.
func (x *Bench) byShare(w *world, work func() []*way) []*way {
	ways := work()
	if !ways[0].lowRail {
		return ways
	}
	const parts = 6
	was, width := w.held, w.heldWidth
	defer func() { w.held, w.heldWidth = was, width }()
	by := math.Pow(mostHeld/leastHeld, 1.0/parts)
	w.heldWidth = spread(math.Log(by) / 2)
	var all []*way
	for n := range parts {
		w.held = leastHeld * math.Pow(by, float64(n)+0.5)
		for _, one := range work() {
			one.weight /= parts
			all = append(all, one)
		}
	}
	return all
}
