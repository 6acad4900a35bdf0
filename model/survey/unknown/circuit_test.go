package unknown

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// bare is 100 µA and 1 kΩ, without friction.
func bare() *Meter {
	return &Meter{Coil: 1e3, FullScale: 100e-6, Law: Linear, Inside: NothingInside, ZeroAt: "left", Kind: MovingCoil,
		Looks: MovingCoil, Marked: "100 µA", Origin: "radio", Removed: "yes", Glow: "no"}
}

// ammeter is a movement of 60 mV and 1 mA with a shunt for a full scale in amperes.
func ammeter(amps float64) *Meter {
	m := bare()
	m.Coil, m.FullScale, m.Inside, m.InsideOhms = 60, 1e-3, ShuntInside, 0.06/(amps-1e-3)
	return m
}

// voltmeter is 30 V of 1 mA: 30 kΩ.
func voltmeter() *Meter {
	m := bare()
	m.Coil, m.FullScale, m.Inside, m.InsideOhms = 100, 1e-3, MultiplierInside, 29.9e3
	return m
}

// exact is a bench without errors: 1.5 V and 0.5 Ω, 9 V and 2 Ω.
func exact(m *Meter) *Bench {
	b := NewBench(m, seeded(1))
	b.Cell, b.Block = &Source{1.5, 0.5}, &Source{9, 2}
	b.Multimeter, b.Eye, b.Tolerance, b.AsMarked = Multimeter{Input: 10e6}, 0, 0, false
	return b
}

func asked(ask string, volts float64, series, across any) map[string]any {
	return map[string]any{"ask": ask, "volts": volts, "series": series, "across": across}
}

// By hand. 1.5 V through 1 MΩ into 1 kΩ is 1.5/1 001 000.5 = 1.4985 µA, 1.4985 % of
// 100 µA, under 2 %. Through 220 kΩ 6.787 µA, through 15 kΩ 93.75 µA, through 10 kΩ
// 136.4 µA: beyond the stop at 105 %.
func TestNeedleOfABareMeter(t *testing.T) {
	b := exact(bare())
	assert.Equal(t, "none", b.Answer(asked("needle", 1.5, 1e6, nil)))
	assert.InDelta(t, 0.014985, b.Most, 1e-6)
	assert.Equal(t, "7 %", b.Answer(asked("needle", 1.5, 220e3, nil)))
	assert.Equal(t, "94 %", b.Answer(asked("needle", 1.5, 15e3, nil)))
	assert.Equal(t, "over", b.Answer(asked("needle", 1.5, 10e3, nil)))
	assert.InDelta(t, 1.36357, b.Most, 1e-4)
	// Most is the largest ever: a lesser current leaves it.
	assert.Equal(t, "none", b.Answer(asked("needle", 1.5, 10e6, nil)))
	assert.InDelta(t, 1.36357, b.Most, 1e-4)
	assert.Equal(t, 5, b.Asked["needle"])
	assert.Len(t, b.Connections, 5)
}

// By hand: 470 kΩ gives −3.185 %, 220 kΩ −6.8 %, below the stop at −5 %.
func TestReversed(t *testing.T) {
	m := bare()
	m.Reversed = true
	b := exact(m)
	assert.Equal(t, "-3 %", b.Answer(asked("needle", 1.5, 470e3, nil)))
	assert.Equal(t, "below", b.Answer(asked("needle", 1.5, 220e3, nil)))
	assert.Equal(t, "done", b.Answer(map[string]any{"ask": "swap"}))
	assert.Equal(t, "7 %", b.Answer(asked("needle", 1.5, 220e3, nil)))
	assert.Equal(t, "done", b.Answer(map[string]any{"ask": "swap"}))
	assert.Equal(t, "below", b.Answer(asked("needle", 1.5, 220e3, nil)))
	assert.Less(t, b.Connections[1].Movement, 0.0)
	assert.Greater(t, b.Connections[1].Terminals, 0.0)

	b = exact(m)
	b.Answer(asked("needle", 1.5, 10e3, nil))
	assert.InDelta(t, 1.36357, b.Most, 1e-4, "backwards it is as much")
}

// By hand. 15 kΩ: 93.75 µA of 100 µA, 50 + 46.9 = 96.9 %. Reversed, 33 kΩ: 44.12 µA,
// 50 − 22.1 = 27.9 %.
func TestCentreZero(t *testing.T) {
	m := bare()
	m.ZeroAt, m.Rest = "centre", 0.5
	assert.Equal(t, "97 %", exact(m).Answer(asked("needle", 1.5, 15e3, nil)))
	assert.Equal(t, "50 %", exact(m).Answer(map[string]any{"ask": "rest"}))
	assert.Equal(t, "none", exact(m).Answer(asked("needle", 1.5, 470e3, nil))) // 3.19 µA: 1.6 % of the scale
	m.Reversed = true
	assert.Equal(t, "28 %", exact(m).Answer(asked("needle", 1.5, 33e3, nil)))
}

// By hand: 1.5 V through 22 kΩ + 1 kΩ + 0.5 Ω is 65.22 µA. Its square is 42.5 %; an
// uneven law of 0.1 adds 0.4·0.6522·0.3478 = 9.07 %; a rest of 2 % adds 2 %.
func TestLaws(t *testing.T) {
	m := bare()
	m.Law, m.Rest = Square, 0.02
	assert.Equal(t, "45 %", exact(m).Answer(asked("needle", 1.5, 22e3, nil)))
	m.Reversed = true // moves the same way
	assert.Equal(t, "45 %", exact(m).Answer(asked("needle", 1.5, 22e3, nil)))
	m = bare()
	m.Law, m.Bend = Uneven, 0.1
	assert.Equal(t, "74 %", exact(m).Answer(asked("needle", 1.5, 22e3, nil)))
	assert.InDelta(t, 0.4, m.law(0.5)-0.2, 1e-12) // half is 60 %
	assert.InDelta(t, -0.6, m.law(-0.5), 1e-12)
	assert.InDelta(t, 1.06, m.law(1.1), 1e-12) // the last slope is 1 − 0.4
}

// By hand: the 1 kΩ beside the coil takes half of 1.5/(1 MΩ + 0.5 kΩ) = 1.49925 µA.
func TestAcross(t *testing.T) {
	b := exact(bare())
	b.Answer(asked("needle", 1.5, 1e6, 1e3))
	assert.InDelta(t, 0.749625e-6, b.Connections[0].Movement, 1e-11)
	assert.InDelta(t, 0.749625e-6, b.Connections[0].Terminals, 1e-11)
	assert.Equal(t, 1e3, b.Connections[0].Across)
}

// By hand. 1 kΩ beside 10 MΩ is 999.9 Ω: 1.5·999.9/11 000.4 = 136.35 mV. The multimeter
// off, the 10 MΩ is not there: 1.5/20 MΩ·10 MΩ = 0.750 V shows only when it is on.
func TestTerminals(t *testing.T) {
	assert.Equal(t, "136.3 mV", exact(bare()).Answer(asked("terminals", 1.5, 10e3, nil)))
	m := bare()
	m.Open = true
	b := exact(m)
	assert.Equal(t, "0.750 V", b.Answer(asked("terminals", 1.5, 10e6, nil)))
	assert.Zero(t, b.Most)
	assert.Equal(t, "none", b.Answer(asked("needle", 1.5, 15.0, nil)))
	assert.Zero(t, b.Most)
}

// By hand. 60 Ω beside 0.06/0.999 Ω is 0.06 Ω. 1.5/(15 + 0.5 + 0.06) = 96.40 mA: 9.64 %
// of 1 A, 5.784 mV; the cell falls by 48.2 mV. Of 10 A it is 0.96 %.
func TestShunt(t *testing.T) {
	m := ammeter(1)
	b := exact(m)
	assert.Equal(t, "10 %", b.Answer(asked("needle", 1.5, 15.0, nil)))
	assert.InDelta(t, 96.40e-3, b.Connections[0].Terminals, 1e-5)
	assert.InDelta(t, 96.40e-6, b.Connections[0].Movement, 1e-8)
	assert.InDelta(t, 0.0964, b.Most, 1e-5)
	assert.Equal(t, "5.8 mV", b.Answer(asked("terminals", 1.5, 15.0, nil)))
	assert.Equal(t, "1.452 V", b.Answer(asked("source", 1.5, 15.0, nil)))
	assert.Equal(t, "none", exact(ammeter(10)).Answer(asked("needle", 1.5, 15.0, nil)))

	truth := m.Truth()
	assert.InDelta(t, 0.06, truth.TerminalResistance, 1e-9)
	assert.InDelta(t, 1, truth.TerminalFullScale, 1e-9)
	assert.Equal(t, ShuntInside, truth.Inside)
	assert.False(t, truth.Stop || truth.EitherWay)
}

// By hand, of a source of 1 MΩ so that the 10 MΩ shows: it stands at
// 1.5/(1 + 1/10 + 1/1.001) = 0.7146 V; without the multimeter it would at 0.7504 V.
func TestMultimeterCountsAtTheSource(t *testing.T) {
	b := exact(bare())
	b.Cell.Ohms = 1e6
	assert.Equal(t, "0.715 V", b.Answer(asked("source", 1.5, 1e6, nil)))
	assert.Equal(t, "1.364 V", b.Answer(map[string]any{"ask": "source", "volts": 1.5, "series": nil})) // 1.5·10/11
}

// By hand: 9/(30 kΩ + 1 kΩ + 2 Ω) = 290.3 µA of 1 mA.
func TestMultiplier(t *testing.T) {
	assert.Equal(t, "29 %", exact(voltmeter()).Answer(asked("needle", 9, 1e3, nil)))
	truth := voltmeter().Truth()
	assert.InDelta(t, 30e3, truth.TerminalResistance, 1e-6)
	assert.InDelta(t, 1e-3, truth.TerminalFullScale, 1e-12)
	assert.Equal(t, MultiplierInside, truth.Inside)
	assert.False(t, truth.Stop || truth.EitherWay)
}

// By hand, backwards from 100 µA: 2.0 V over 20 kΩ, 1.5005 V over 15 kΩ and 5 Ω, and
// 2·0.036·ln(1 + 100) = 0.332 29 V over the diodes: 3.832 79 V. At 1 mA the diodes take
// 0.072·ln 1001 = 0.497 43 V, and the meter is 20 497 Ω.
func TestRectifier(t *testing.T) {
	m := voltmeter()
	m.Kind, m.Coil, m.InsideOhms, m.Reversed = Rectifier, 500, 19.5e3, true
	b := exact(m)
	b.Block = &Source{3.83279, 5}
	assert.Equal(t, "10 %", b.Answer(asked("needle", 9, 15e3, nil)))
	assert.InDelta(t, 100e-6, math.Abs(b.Connections[0].Movement), 1e-9)
	b.Answer(map[string]any{"ask": "swap"})
	assert.Equal(t, "10 %", b.Answer(asked("needle", 9, 15e3, nil)))
	assert.InDelta(t, 20497.4, m.Truth().TerminalResistance, 0.1)
	assert.InDelta(t, 1e-3, m.Truth().TerminalFullScale, 1e-12)
}

// Independent: Kirchhoff's laws, node by node, at what the solver gives.
func TestFlowKeepsKirchhoffsLaws(t *testing.T) {
	d := drawer{seeded(5)}
	absent := func(ohms float64) float64 {
		if d.chance(0.5) {
			return math.Inf(1)
		}
		return ohms
	}
	for range 2000 {
		m := Draw(d.Rand)
		w := wiring{Source{d.within(1.2, 9.6), d.within(0.3, 40)}, d.logWithin(15, 10e6), absent(d.logWithin(15, 1e6)), absent(10e6), absent(10e6)}
		f := m.flow(w)
		total := (w.source.Volts - f.sourceVolts) / w.source.Ohms
		series := (f.sourceVolts - f.volts) / w.series
		near := total*1e-6 + 1e-13
		assert.InDelta(t, series+f.sourceVolts/w.atSource, total, near+1e-14*w.source.Volts/w.source.Ohms)
		assert.InDelta(t, f.volts/w.across+f.volts/w.atTerminals+f.terminals, series, near)
		assert.InDelta(t, f.movement+f.volts/m.beside(), f.terminals, near)
		if m.Open {
			assert.Zero(t, f.movement)
			continue
		}
		assert.InDelta(t, f.movement*m.branch()+m.drop(f.movement), f.volts, 1e-9)
	}
}
