package scale

import (
	"math"
	"slices"

	"example.com/needlewright/calc"
)

// A gap is what lies between two neighbouring points of the law.
type gap struct {
	from, to calc.Point
	off      float64 // by how much the law may be off in its middle, share of the scale
}

// gapsOf are the gaps of a law. How far a point stands off the law through the others
// says how far that is off in the wider gap that it leaves; the error goes with the
// square of the width. Of the points on both sides the one that stands off less counts:
// where the scale is straight on one side, it is the other side that is bent.
func gapsOf(law *calc.Law) []gap {
	points, off := law.Points, law.LeftOut()
	gaps := make([]gap, len(points)-1)
	for i := range gaps {
		g := gap{from: points[i], to: points[i+1], off: math.Inf(1)}
		for _, k := range [2]int{i, i + 1} {
			if 0 < k && k < len(points)-1 {
				share := (g.to.Current - g.from.Current) / (points[k+1].Current - points[k-1].Current)
				g.off = min(g.off, math.Abs(off[k])*share*share)
			}
		}
		if math.IsInf(g.off, 1) { // there are no others
			g.off = 0
		}
		gaps[i] = g
	}
	return gaps
}

// Left returns by how much, ±, the law may be off at a share of the scale, 0 to 1, what the
// readings and the interpolation between them leave: a share of the scale. Both ends are
// set, so that nothing is left there. 0.5 % between them where there is no law.
func (f *Fitted) Left(share float64) float64 {
	if !f.Enough {
		return readTo * 4 * share * (1 - share)
	}
	x := f.Law.Inverse(share)
	for i, g := range f.gaps {
		if x > g.to.Current && i < len(f.gaps)-1 {
			continue
		}
		way := min(1, max(0, (x-g.from.Current)/(g.to.Current-g.from.Current)))
		read := f.reading
		if i == 0 {
			read *= way
		}
		if i == len(f.gaps)-1 {
			read *= 1 - way
		}
		return math.Hypot(read, g.off*4*way*(1-way))
	}
	return 0
}

// MostLeft returns the largest of Left over the dial.
func (f *Fitted) MostLeft() float64 {
	if !f.Enough {
		return readTo
	}
	return f.mostLeft
}

// mostOfLeft works that out.
func (f *Fitted) mostOfLeft() float64 {
	const parts = 720
	most := 0.0
	for k := range parts {
		most = max(most, f.Left(float64(k)/parts))
	}
	return most
}

// nextGap is the code in the middle of the gap in which the law may be off by most, of equal
// ones the one in which the scale rises most. Code -1 where no code lies in any.
func (f *Fitted) nextGap() Next {
	next, most, rise := Next{Code: -1}, -1.0, 0.0
	for _, g := range f.gaps {
		const same = 1e-9
		code, inside := f.between(g.from.Current, g.to.Current)
		if rises := g.to.Scale - g.from.Scale; inside && (g.off > most+same || g.off > most-same && rises > rise) {
			next, most, rise = Next{code, g.off}, g.off, rises
		}
	}
	return next
}

// nextOf is what is to be measured before there is a law: the ends, then the middle of
// the widest gap. How far it is off is not known.
func (f *Fitted) nextOf(points []point, zero, top bool) Next {
	switch {
	case !zero:
		return Next{0, math.NaN()}
	case !top:
		return Next{f.hand.Top, math.NaN()}
	}
	from, low, high := 0.0, 0.0, 0.0
	for _, p := range append(points[:len(points):len(points)], point{Point: calc.Point{Current: 1}}) {
		if p.Current-from > high-low {
			low, high = from, p.Current
		}
		from = p.Current
	}
	code, _ := f.between(low, high)
	return Next{code, math.NaN()}
}

// between is the present code in the middle between two currents; inside is false where none
// lies there.
func (f *Fitted) between(from, to float64) (code int, inside bool) {
	top, offset := float64(f.hand.Top), float64(f.hand.Offset)
	at := math.Round((from+to)/2*(top+offset) - offset)
	share := (at + offset) / (top + offset)
	return int(at), from+together/2 < share && share < to-together/2
}

// evenly is into how many parts the codes divide the dial at which it is looked at first.
// The contract, "It is done when".
const evenly = 6

// Wanted returns the present codes at which the needle is still to be looked at: 0, 1/6, …,
// 1 of the top code where no row was read, rising; when none is left, the one that tells
// most, or none where there is no law.
func (f *Fitted) Wanted() []int {
	var codes []int
	for k := range evenly + 1 {
		if code := int(math.Round(float64(k*f.hand.Top) / evenly)); !f.isSeen(code) && !slices.Contains(codes, code) {
			codes = append(codes, code)
		}
	}
	if codes == nil && f.Enough && f.Next.Code >= 0 {
		codes = []int{f.Next.Code}
	}
	return codes
}

// isSeen says whether a row was read at a present code.
func (f *Fitted) isSeen(code int) bool {
	share := f.CurrentOf(code, 0)
	return slices.ContainsFunc(f.Seen, func(s Seen) bool {
		end := code == 0 || code == f.hand.Top
		return s.Current == share || !end && math.Abs(s.Current-share) < together
	})
}

// CurrentOf returns the share of full-scale current at a code of a top code; 0: of the
// present one.
func (f *Fitted) CurrentOf(code, of int) float64 {
	offset := float64(f.hand.Offset)
	return (float64(code) + offset) / (float64(f.of(&Row{Of: of})) + offset)
}
