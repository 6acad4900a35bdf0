package survey

import "math"

// A sort is a kind of meter that the readings may be of: the power of the current that its
// needle follows, how far half of its scale may be off (one deviation, share), and the volts
// over its rectifier at 1 mA with how far these may be off (one deviation), 0 without one.
type sort struct {
	share        float64 // of the meters that there are
	power, bend  float64
	drop, around float64
}

// Sorts of meters as they are met, by what the dial's sign and the looks say. One scale in
// twelve is uneven by more than the eye sees; a rectifier is of germanium or copper oxide, or
// of silicon, two of its diodes in a row. Common practice, no source.
var (
	coils      = []sort{{0.92, 1, 0, 0, 0}, {0.08, 1, 0.085, 0, 0}}
	irons      = []sort{{0.8, 2, 0.01, 0, 0}, {0.2, 1.6, 0.05, 0, 0}}
	rectifiers = []sort{{0.3, 1, 0, 0.35, 0.08}, {0.35, 1, 0, 0.6, 0.12}, {0.35, 1, 0, 1.1, 0.2}}
)

// sorts are those that a meter may be of.
func (d *dialogue) sorts() []sort {
	switch {
	case d.kind == "moving coil":
		return coils
	case d.kind == "rectifier":
		return rectifiers
	case d.kind == "moving iron" || d.kind == "thermal":
		return irons
	}
	return mixed(0.8, 0.1, 0.1)
}

// mixed are all sorts, by how many of a hundred are coils, irons and rectifiers.
func mixed(ofCoils, ofIrons, ofRectifiers float64) []sort {
	var all []sort
	for _, of := range []struct {
		share float64
		sorts []sort
	}{{ofCoils, coils}, {ofIrons, irons}, {ofRectifiers, rectifiers}} {
		for _, s := range of.sorts {
			if s.share *= of.share; s.share > 0 {
				all = append(all, s)
			}
		}
	}
	return all
}

// A meter is one that may be there: its resistance at full scale, Ω, and its full scale, A,
// at the terminals, and its sort.
type meter struct {
	ohms, fullScale float64
	sort
}

// slope is how much the volts over two diodes rise for each factor e of their current, V,
// and knee the current, A, from which they do. From memory: small rectifiers of all kinds.
const slope = 0.075

func (s *sort) knee() float64 { return 1e-3 / math.Expm1(s.drop/slope) }

// over is the volts over the rectifier at a current, A.
func (m *meter) over(current float64) float64 { return slope * math.Log1p(current/m.knee()) }

// A guess is what a reading would be of a meter, and by how much it would be more with a
// source and a resistor that are more by their own size, with more bend of the scale, and
// with 1 V more over a rectifier at 1 mA, the resistance at full scale being the same.
type guess struct{ here, bySource, bySeries, byBend, byDrop float64 }

// place is where the needle stands, of its span.
func (m *meter) place(volts, series float64) guess {
	r := series + m.ohms
	i := flow{volts / r, volts / r, -volts / r * series / r, 0}
	if m.drop > 0 {
		i = m.rectified(volts, series)
	}
	x := i.current / m.fullScale
	y := x
	if m.power != 1 {
		y = math.Pow(x, m.power)
	}
	by := m.power * y / i.current
	return guess{y, i.bySource * by, i.bySeries * by, 4 * x * max(1-x, 0), i.byDrop * by}
}

// across is the volts at the terminals, the multimeter's input across them.
func (m *meter) across(volts, series float64) guess {
	if m.drop == 0 {
		together := m.ohms * input / (m.ohms + input)
		t := volts * together / (series + together)
		return guess{t, t, -t * series / (series + together), 0, 0}
	}
	share := input / (input + series) // the input makes one source of what is before it
	i := m.rectified(volts*share, series*share)
	t := volts*share - i.current*series*share
	// The share falls as the series resistance rises: by its part of both together.
	falls := series / (input + series)
	bySeries := -falls*volts*share - share*series*(i.current*(1-falls)) - series*share*(i.bySource*-falls+i.bySeries*(1-falls))
	return guess{t, volts*share - i.bySource*series*share, bySeries, 0, -i.byDrop * series * share}
}

// A flow is a current, A, and by how much it would be more; see guess.
type flow struct{ current, bySource, bySeries, byDrop float64 }

// rectified is the current through a rectifier and what is behind it. Newton's steps rise to
// it: the volts over diodes bend downwards.
func (m *meter) rectified(volts, series float64) flow {
	ohms := m.ohms - m.over(m.fullScale)/m.fullScale
	knee := m.knee()
	i, slopes := 0.0, 0.0
	for range 40 {
		slopes = series + ohms + slope/(i+knee)
		step := (volts - i*(series+ohms) - slope*math.Log1p(i/knee)) / slopes
		if i += step; step < 1e-6*i {
			break
		}
	}
	falls := m.fullScale / (m.fullScale + knee) * i / m.fullScale // the rest has less, so that all is as much at full scale
	return flow{i, volts / slopes, -i * series / slopes, (falls - i/(i+knee)) / slopes}
}

// isPossible says whether there is any resistance behind the rectifier.
func (m *meter) isPossible() bool {
	return m.drop == 0 || m.ohms*m.fullScale > m.over(m.fullScale)
}
