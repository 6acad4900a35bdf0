package calc

import "math"

// HoursAYear is a year of 365.25 days, h.
const HoursAYear = 8766

const hoursADay = 24

// A Pack is a battery with what it feeds. Capacity and Cells are over 0, the
// curve has two points at least, all else is 0 or more. Off is usually far below
// On, which alone is held against the floor of a clock that ever wakes.
//
// Source: derived
type Pack struct {
	Supply              Supply   // its resistance that of the unused pack
	ResistanceRise      float64  // Ω that the used up pack has more, growing with the used share
	Curve               []Charge // of one cell: Used rising from 0, Rest not rising
	Cells               float64
	Floor               float64 // V at the converter's input, or the rail without one, at which the clock ends
	Cutoff              float64 // V of the loaded pack itself at which it ends too
	Capacity            float64 // Ah
	SelfDischarge       float64 // share of the full capacity lost in a year
	Shelf               float64 // h, the longest life; +Inf: none
	On, Off             float64 // A on the rail, awake and asleep
	DirectOn, DirectOff float64 // A straight from the pack, beside the converter's
}

// Fresh returns the voltage at rest of the unused pack, V.
func (p *Pack) Fresh() float64 { return p.Cells * p.Curve[0].Rest }

// From returns the pack that is left when a share of its charge is used, 0 to 1: what is
// left of the curve, drawn out to a whole one, and of the capacity.
func (p Pack) From(used float64) Pack {
	first, last := p.Curve[0], p.Curve[len(p.Curve)-1]
	used = min(max(used, first.Used), last.Used)
	rest := []Charge{{0, p.restAt(used)}}
	left := last.Used - used
	for _, c := range p.Curve {
		if c.Used > used {
			rest = append(rest, Charge{(c.Used - used) / left, c.Rest})
		}
	}
	if len(rest) == 1 {
		rest = append(rest, Charge{1, last.Rest})
	}
	p.Supply.Resistance += p.ResistanceRise * used
	p.ResistanceRise *= left
	p.Capacity *= left
	p.Curve = rest
	return p
}

// restAt returns the voltage at rest, V, of a cell of which a share is used.
func (p *Pack) restAt(used float64) float64 {
	for k := 1; k < len(p.Curve); k++ {
		if a, b := p.Curve[k-1], p.Curve[k]; used <= b.Used {
			return along(a, b, (used-a.Used)/(b.Used-a.Used)).Rest
		}
	}
	return p.Curve[len(p.Curve)-1].Rest
}

// DrawFresh returns what the clock, awake or asleep, draws from the unused pack,
// what it takes straight from it included. ok is false where the pack cannot
// carry it.
func (p *Pack) DrawFresh(awake bool) (d Draw, ok bool) {
	u := p.asleep(1)
	if awake {
		u = p.awake(1)
	}
	s := p.at(p.Curve[0].Used)
	d.Current, d.Voltage = u.draw(&s, p.Fresh())
	return d, !math.IsInf(d.Current, 1)
}

// DrawUsedUp returns what the waking clock would draw from the used up pack; ok is
// false where that cannot carry it.
func (p *Pack) DrawUsedUp() (d Draw, ok bool) {
	end := p.Curve[len(p.Curve)-1]
	u, s := p.awake(1), p.at(end.Used)
	d.Current, d.Voltage = u.draw(&s, p.Cells*end.Rest)
	return d, !math.IsInf(d.Current, 1)
}

// InputFloor returns the voltage at the converter's input, or of the rail
// without one, V, at which the clock ends: its floor, or what the pack's cutoff
// leaves behind the drop, whichever is higher.
func (p *Pack) InputFloor() float64 { return max(p.Floor, p.Cutoff-p.Supply.Drop) }

// Life returns how many hours the pack lasts when the clock is awake for
// hoursOn of every 24 h: until the loaded pack meets its floor or its cutoff, its
// curve ends, or its shelf life is over. The load that meets them is the waking
// one when the clock ever wakes; the sleeping one must be carried too. hoursOn is
// 0 to 24. 0 where the pack starts at or below its end or cannot carry a load;
// +Inf where nothing is drawn, nothing lost, and there is no shelf life.
//
// Source: derived; the used share grows at (h/24·I_on + (1-h/24)·I_off)/capacity
// + self-discharge, the currents following the pack's voltage down its curve and
// its resistance up.
func (p *Pack) Life(hoursOn float64) float64 {
	life, d := 0.0, p.descend(hoursOn)
	d.walk(func(a, b Charge) { life += d.smooth(a, b) })
	return min(life, p.Shelf)
}

// EndUsed returns the share of the charge that is used or lost where the
// discharge of Life(hoursOn) ends, were there no shelf life: 0 where it does not
// start, the curve's last where that ends it, NaN where what ends it is not known.
func (p *Pack) EndUsed(hoursOn float64) float64 {
	used, d := p.Curve[0].Used, p.descend(hoursOn)
	if math.IsNaN(d.still[ended]) {
		return math.NaN()
	}
	d.walk(func(_, b Charge) { used = b.Used })
	return used
}

// Stranded returns the share of the charge that is left in the cells where the
// discharge of Life(hoursOn) ends, were there no shelf life: 0 where the curve is
// used up, 1 where it does not start, NaN where what ends it is not known.
func (p *Pack) Stranded(hoursOn float64) float64 {
	used := p.EndUsed(hoursOn)
	if used == p.Curve[len(p.Curve)-1].Used {
		return 0
	}
	return 1 - used
}

// A Sample is a curve's value at a time; the units are those of the function
// that returns it.
type Sample struct{ Time, Value float64 }

// Discharge returns the voltage, V, of the loaded pack against the hours gone
// by, down to the end of its Life(hoursOn), each straight piece of its curve in
// so many parts (1 or more). The load is the one that meets the floor: the
// waking one when the clock ever wakes. Where a boost begins to work the voltage
// jumps: two samples at one time. None where the pack does not start at all, or
// never ends, or something is not known.
func (p *Pack) Discharge(hoursOn float64, parts int) []Sample {
	const inside = 1e-12 // of the voltage: on the piece's own side of a jump
	var samples []Sample
	hours, d := 0.0, p.descend(hoursOn)
	add := func(at Charge, side float64) {
		s := p.at(at.Used)
		if current, voltage := d.meeting().draw(&s, p.Cells*at.Rest*side); !math.IsInf(current, 1) {
			samples = append(samples, Sample{hours, voltage})
		}
	}
	d.walk(func(a, b Charge) {
		add(a, 1-inside)
		for i := range parts {
			from, to := along(a, b, float64(i)/float64(parts)), along(a, b, float64(i+1)/float64(parts))
			hours += d.smooth(from, to)
			add(to, 1+inside)
		}
	})
	if !(hours < math.Inf(1)) { // NaN neither
		return nil
	}
	return before(samples, p.Shelf)
}

// before cuts samples off at a time.
func before(samples []Sample, end float64) []Sample {
	for i := 1; i < len(samples); i++ {
		if a, b := samples[i-1], samples[i]; b.Time > end {
			b.Value = a.Value + (b.Value-a.Value)*(end-a.Time)/(b.Time-a.Time)
			return append(samples[:i], Sample{end, b.Value})
		}
	}
	return samples
}

// along returns the point at a share of the straight line a-b.
func along(a, b Charge, share float64) Charge {
	return Charge{a.Used + share*(b.Used-a.Used), a.Rest + share*(b.Rest-a.Rest)}
}

// HoldUp returns how long a capacitor, F, carries a constant current, A, while it
// falls from one voltage to another, V: changing cells while the clock sleeps on,
// down to its brown-out level. All are 0 or more. 0 without a capacitor, and where
// it starts at or below the level; +Inf where nothing is drawn; NaN where both are
// so (0/0), or one of them is not known.
//
// Source: derived, C·ΔU = I·t
func HoldUp(capacitance, from, to, current float64) float64 {
	return capacitance * max(0, from-to) / current
}
