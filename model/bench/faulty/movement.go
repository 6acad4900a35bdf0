package faulty

import "example.com/needlewright/calc"

// A movement is what makes a place on the scale of a coil's current.
type movement struct {
	fullScale, sensitivity, polarity float64 // A, factor, ±1
	zero, stick, stop                float64 // shares of the scale
	law                              calc.Law
	bend                             float64 // by how much half is off, share
	class                            float64 // the class's error at half, share
	period, damping                  float64
}

// scale is the share of the scale for a share of full-scale current.
func (m *movement) scale(x float64) float64 {
	y := m.lawAt(x)
	if x > 0 && x < 1 {
		y += m.bend * 4 * x * (1 - x)
	}
	if y > 0 && y < 1 {
		y += m.class * 4 * y * (1 - y)
	}
	return y
}

func (m *movement) lawAt(x float64) float64 {
	switch {
	case m.law.Kind == calc.Square:
		return x * x
	case m.law.Kind == calc.Linear:
		return x
	case x < 0:
		return -m.lawAt(-x)
	}
	p := m.law.Points
	i := 1
	for i < len(p)-1 && x > p[i].Current {
		i++
	}
	return p[i-1].Scale + (x-p[i-1].Current)*(p[i].Scale-p[i-1].Scale)/(p[i].Current-p[i-1].Current)
}
