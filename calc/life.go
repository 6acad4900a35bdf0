package calc

import (
	"math"

	"gonum.org/v1/gonum/integrate/quad"
)

// HoursAYear is a year of 365.25 days, h.
const HoursAYear = 8766

const hoursADay = 24

// A Pack is a battery with what it feeds. Capacity and Cells are over 0, the
// curve has two points at least. Off is usually far below On, which alone is
// held against the floor of a clock that ever wakes.
//
// Source: derived
type Pack struct {
	Supply        Supply
	Curve         []Charge // of one cell: Used rising from 0, Rest not rising
	Cells         float64
	Floor         float64 // V of the loaded pack at which the clock ends
	Capacity      float64 // Ah
	SelfDischarge float64 // share of the full capacity lost in a year
	Shelf         float64 // h, the longest life; +Inf: none
	On, Off       float64 // A on the rail, awake and asleep
}

// Fresh returns the voltage at rest of the unused pack, V.
func (p *Pack) Fresh() float64 { return p.Cells * p.Curve[0].Rest }

// Life returns how many hours the pack lasts when the clock is awake for
// hoursOn of every 24 h: until the loaded pack meets its floor, its curve ends,
// or its shelf life is over. The load that meets the floor is the waking one
// when the clock ever wakes; the sleeping one must be carried too. hoursOn is 0
// to 24. 0 where the pack starts at or below the floor or cannot carry a load; +Inf where nothing is drawn, nothing
// lost, and there is no shelf life.
//
// Source: derived; the used share grows at (h/24·I_on + (1-h/24)·I_off)/capacity
// + self-discharge, the currents following the pack's voltage down its curve.
func (p *Pack) Life(hoursOn float64) float64 {
	life := 0.0
	p.walk(hoursOn, func(a, b Charge) { life += p.smooth(a, b, hoursOn/hoursADay) })
	return min(life, p.Shelf)
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
	load, hours := p.meets(hoursOn), 0.0
	add := func(rest float64) {
		if d, ok := p.Supply.Draw(rest, load); ok {
			samples = append(samples, Sample{hours, d.Voltage})
		}
	}
	p.walk(hoursOn, func(a, b Charge) {
		add(p.Cells * a.Rest * (1 - inside))
		for i := range parts {
			from, to := along(a, b, float64(i)/float64(parts)), along(a, b, float64(i+1)/float64(parts))
			hours += p.smooth(from, to, hoursOn/hoursADay)
			add(p.Cells * to.Rest * (1 + inside))
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

// meets returns the load, A on the rail, that meets the floor.
func (p *Pack) meets(hoursOn float64) float64 {
	if hoursOn > 0 {
		return p.On
	}
	return p.Off
}

// carriesFrom returns the voltage at rest, V, from which on each load the pack
// meets, awake for a share of the time, can be carried.
func (p *Pack) carriesFrom(awake float64) float64 {
	from := 0.0
	if awake > 0 {
		from = p.Supply.carriesFrom(p.On)
	}
	if awake < 1 {
		from = max(from, p.Supply.carriesFrom(p.Off))
	}
	return from
}

// walk visits the straight pieces of the curve one after the other, down to
// where the pack ends, cut where the waking or the sleeping load starts to need
// the boost: there the current jumps.
func (p *Pack) walk(hoursOn float64, visit func(a, b Charge)) {
	end := max(p.Supply.EndsAt(p.Floor, p.meets(hoursOn)), p.carriesFrom(hoursOn/hoursADay))
	first := p.Supply.PassesAt(p.On) / p.Cells
	second := p.Supply.PassesAt(p.Off) / p.Cells
	if first < second {
		first, second = second, first
	}
	for i := 1; i < len(p.Curve); i++ {
		a, b := p.Curve[i-1], p.Curve[i]
		if p.Cells*a.Rest <= end {
			break
		}
		if p.Cells*b.Rest < end {
			b = between(a, b, end/p.Cells)
		}
		for _, v := range [2]float64{first, second} {
			if a.Rest > v && v > b.Rest {
				cut := between(a, b, v)
				visit(a, cut)
				a = cut
			}
		}
		visit(a, b)
	}
}

// between returns the point of the straight line a-b at which a cell rests at v.
func between(a, b Charge, v float64) Charge {
	return Charge{a.Used + (b.Used-a.Used)*(a.Rest-v)/(a.Rest-b.Rest), v}
}

// gaussNodes and gaussWeights are the 5-point Gauss-Legendre rule on 0..1.
var gaussNodes, gaussWeights = gaussLegendre(5)

func gaussLegendre(n int) (nodes, weights []float64) {
	nodes, weights = make([]float64, n), make([]float64, n)
	quad.Legendre{}.FixedLocations(nodes, weights, 0, 1)
	return nodes, weights
}

// smooth returns the hours spent between two points with no jump between them.
//
// Near the voltage at which a boost can no longer carry its load the current
// goes with the square root of the distance to it. The rule is therefore laid
// out evenly over that root, s: rest = collapse + s².
func (p *Pack) smooth(a, b Charge, awake float64) float64 {
	collapse := min(p.carriesFrom(awake), p.Cells*b.Rest)
	sa, sb := math.Sqrt(p.Cells*a.Rest-collapse), math.Sqrt(p.Cells*b.Rest-collapse)
	sum := 0.0
	for i, x := range gaussNodes {
		s := sa + x*(sb-sa)
		sum += gaussWeights[i] * s / p.rate(collapse+s*s, awake)
	}
	return sum * (b.Used - a.Used) * 2 / (sa + sb)
}

// rate returns the share of the charge used in an hour at a voltage at rest.
func (p *Pack) rate(rest, awake float64) float64 {
	current := 0.0
	if awake > 0 {
		current += awake * p.current(rest, p.On)
	}
	if awake < 1 {
		current += (1 - awake) * p.current(rest, p.Off)
	}
	return current/p.Capacity + p.SelfDischarge/HoursAYear
}

// current returns what a load takes from the pack, +Inf where it cannot carry it.
func (p *Pack) current(rest, load float64) float64 {
	d, ok := p.Supply.Draw(rest, load)
	if !ok {
		return math.Inf(1)
	}
	return d.Current
}
