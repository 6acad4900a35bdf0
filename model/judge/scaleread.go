package judge

import (
	"math"

	"example.com/needlewright/calc"
)

// readToUsual is how well a scale is known at the points that were read off it and
// between them, a share of the scale, where the points do not say better. Common
// practice, no source.
const readToUsual = 0.005

// readTo is how well the scale of a meter is known from what was measured of it, a
// share of the scale; 0 where nobody measured it between its ends.
func (s subject) readTo() float64 {
	if m := s.meter(); m.Law == "table" && len(m.Table) > 2 {
		return min(readToUsual, max(roundedTo(m.Table)/2, offNeighbours(m.Table)))
	}
	return 0
}

// roundedTo is the coarsest of 1 %, 0.1 %, … that the places of points are whole
// multiples of.
func roundedTo(points []calc.Point) float64 {
	unit := 0.01
	for _, p := range points {
		for unit > 1e-6 && math.Abs(p.Scale/unit-math.Round(p.Scale/unit)) > 1e-6 {
			unit /= 10
		}
	}
	return unit
}

// offNeighbours is the most by which a point stands off the straight line between the
// two beside it: less is not known of what stands between points.
func offNeighbours(points []calc.Point) float64 {
	most := 0.0
	for k := 1; k+1 < len(points); k++ {
		a, p, b := points[k-1], points[k], points[k+1]
		line := a.Scale + (b.Scale-a.Scale)*(p.Current-a.Current)/(b.Current-a.Current)
		most = max(most, math.Abs(p.Scale-line))
	}
	return most
}
