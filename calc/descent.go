package calc

import (
	"math"

	"gonum.org/v1/gonum/integrate/quad"
)

// at returns the supply with the pack's resistance where a share is used.
func (p *Pack) at(used float64) Supply {
	s := p.Supply
	s.Resistance += p.ResistanceRise * used
	return s
}

// A duty is what the clock takes, awake or asleep.
type duty struct {
	share        float64 // of the time
	load, direct float64 // A on the rail, and straight from the pack
	power        float64 // W that the load asks of a boost's input
}

func (p *Pack) awake(share float64) duty {
	return duty{share, p.On, p.DirectOn, p.Supply.power(p.On)}
}

func (p *Pack) asleep(share float64) duty {
	return duty{share, p.Off, p.DirectOff, p.Supply.power(p.Off)}
}

// draw is Supply.draw of what a duty takes.
func (u *duty) draw(s *Supply, rest float64) (current, voltage float64) {
	return s.draw(rest, u.load, u.power, u.direct)
}

// carriesFrom returns the voltage at rest, V, from which on a duty can be carried;
// 0 where it never comes, or there is no boost to ask for a fixed power.
func (u *duty) carriesFrom(s *Supply) float64 {
	if s.Kind != Boost || u.share == 0 {
		return 0
	}
	return s.Drop + 2*math.Sqrt(s.Resistance*u.power) + s.Resistance*(s.Quiescent+u.direct)
}

// A level is what a pack comes down to on its way.
type level uint8

const (
	ended        level = iota // the clock's end
	collapsed                 // a load can no longer be carried
	boostsAwake               // a boost begins to work for the waking load
	boostsAsleep              // or for the sleeping one
	levels
)

// A descent is a pack on its way down its curve.
type descent struct {
	*Pack
	awake, asleep duty
	loss, floor   float64         // A, self-discharge; V of the input at which it ends
	supply        Supply          // with the resistance of the share looked at last
	rises         bool            // the resistance does
	less          bool            // asleep it takes less in every way than awake, and is carried wherever that is
	still         [levels]float64 // the levels, V, where it does not
	last          rooted          // the point that was looked at last, which is where the next piece begins
}

// A rooted is a point with its root.
type rooted struct {
	at    Charge
	root  float64
	known bool
}

func (p *Pack) descend(hoursOn float64) descent {
	share := hoursOn / hoursADay
	d := descent{Pack: p, awake: p.awake(share), asleep: p.asleep(1 - share),
		loss: p.Capacity * p.SelfDischarge / HoursAYear, floor: p.InputFloor(), supply: p.Supply, rises: p.ResistanceRise != 0}
	d.less = share > 0 && d.asleep.power <= d.awake.power && d.asleep.direct <= d.awake.direct
	s := p.at(p.Curve[0].Used)
	for l := range levels {
		d.still[l] = d.restAt(l, &s)
	}
	return d
}

// meeting returns the duty that meets the floor.
func (d *descent) meeting() *duty {
	if d.awake.share > 0 {
		return &d.awake
	}
	return &d.asleep
}

// restAt returns the voltage at rest, V, of a level with a supply. It does not
// fall as the resistance rises, but to 0 where a boost has no step to lose.
func (d *descent) restAt(l level, s *Supply) float64 {
	switch l {
	case boostsAwake:
		return s.PassesAt(d.awake.load) + s.Resistance*d.awake.direct
	case boostsAsleep:
		return s.PassesAt(d.asleep.load) + s.Resistance*d.asleep.direct
	case ended:
		u := d.meeting()
		ends := s.endsAt(d.floor, u.load, u.power) + s.Resistance*u.direct
		if d.less {
			return ends
		}
		return max(ends, d.asleep.carriesFrom(s))
	}
	if d.less {
		return d.awake.carriesFrom(s)
	}
	return max(d.awake.carriesFrom(s), d.asleep.carriesFrom(s))
}

// rest returns the voltage at rest, V, of a level where a share is used.
func (d *descent) rest(l level, used float64) float64 {
	if d.rises {
		d.supply.Resistance = d.Supply.Resistance + d.ResistanceRise*used
		return d.restAt(l, &d.supply)
	}
	return d.still[l]
}

// over returns how far the pack at rest is above a level, V, at a point.
func (d *descent) over(l level, at Charge) float64 {
	return d.Cells*at.Rest - d.rest(l, at.Used)
}

// walk visits the straight pieces of the curve one after the other, down to
// where the pack ends, cut where the waking or the sleeping load starts to need
// the boost: there the current jumps.
func (d *descent) walk(visit func(a, b Charge)) {
	fresh := d.Curve[0]
	passes := d.Supply.Kind == Boost && (d.over(boostsAwake, fresh) > 0 || d.over(boostsAsleep, fresh) > 0)
	over := d.over(ended, fresh)
	for i := 1; i < len(d.Curve) && !(over <= 0); i++ { // NaN goes on
		a, b := d.Curve[i-1], d.Curve[i]
		under := d.over(ended, b)
		b = d.between(ended, a, b, over, under)
		over = under
		if passes {
			awake, asleep := d.over(boostsAwake, b), d.over(boostsAsleep, b)
			a = d.cut(a, b, awake, asleep, visit)
			passes = awake > 0 || asleep > 0 // further down nothing passes through
		}
		visit(a, b)
		if b != d.Curve[i] {
			break
		}
	}
}

// cut visits what a boost, for one load or for both, passes through of a straight
// piece, and returns where the rest begins. The pack is at its end over the levels by
// so much, V.
func (d *descent) cut(a, b Charge, awake, asleep float64, visit func(a, b Charge)) Charge {
	const hair = 1e-13 // of the charge: what is nearer is one place but for rounding
	first := d.between(boostsAwake, a, b, d.over(boostsAwake, a), awake)
	second := d.between(boostsAsleep, a, b, d.over(boostsAsleep, a), asleep)
	if first.Used > second.Used {
		first, second = second, first
	}
	for _, to := range [...]Charge{first, second} {
		if a.Used+hair < to.Used && to.Used < b.Used-hair {
			visit(a, to)
			a = to
		}
	}
	return a
}

// between returns the point of the straight line a-b at which the pack comes down
// to a level, b where it does not; it is known by how much, V, it is over the level at
// a and at b. With a constant resistance the chord of what
// it is over the level meets 0 there. Else chords are drawn again between the two
// nearest points known, the end that stays weighing half (the Illinois rule).
func (d *descent) between(l level, a, b Charge, over, under float64) Charge {
	const rounding = 4e-16
	if !(under < 0 && over > 0) { // NaN neither
		return b
	}
	low, high, stays := 0.0, 1.0, 0
	for range 100 {
		share := low + (high-low)*over/(over-under)
		at := along(a, b, share)
		now := d.over(l, at)
		switch {
		case !d.rises || math.Abs(now) <= rounding*d.Cells*at.Rest:
			return at
		case now > 0:
			low, over = share, now
			if stays > 0 {
				under /= 2
			}
			stays = 1
		default:
			high, under = share, now
			if stays < 0 {
				over /= 2
			}
			stays = -1
		}
	}
	return along(a, b, low)
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
// out evenly over that root, s, its square taken as straight between the ends.
func (d *descent) smooth(a, b Charge) float64 {
	sa, sb := d.root(a), d.root(b)
	collapse, supply, sum := d.Cells*b.Rest-sb*sb, d.Supply, 0.0
	each := 1 / (sa + sb)
	fresh, more := supply.Resistance+d.ResistanceRise*a.Used, d.ResistanceRise*(b.Used-a.Used)
	for i, x := range gaussNodes {
		s := sa + x*(sb-sa)
		rest := collapse + s*s
		if d.rises {
			share := x * (s + sa) * each
			supply.Resistance, rest = fresh+share*more, d.Cells*(a.Rest+share*(b.Rest-a.Rest))
		}
		sum += gaussWeights[i] * s / d.mean(&supply, rest)
	}
	return sum * d.Capacity * (b.Used - a.Used) * 2 * each
}

// root returns the square root of the pack's distance, V, to where it collapses;
// a hair of it on the brink, to divide by.
func (d *descent) root(at Charge) float64 {
	const hair = 1e-30
	if d.last.known && d.last.at == at {
		return d.last.root
	}
	d.last = rooted{at, hair, true}
	if over := d.over(collapsed, at); over > 0 {
		d.last.root = math.Sqrt(over)
	}
	return d.last.root
}

// mean returns the current, A, that uses up the charge over the day, what the
// cells lose of themselves included; +Inf where a load cannot be carried.
func (d *descent) mean(s *Supply, rest float64) float64 {
	mean := d.loss
	if d.awake.share > 0 {
		current, _ := d.awake.draw(s, rest)
		mean += d.awake.share * current
	}
	if d.asleep.share > 0 {
		current, _ := d.asleep.draw(s, rest)
		mean += d.asleep.share * current
	}
	return mean
}
