package unknown

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model/quantity"
)

// Source of the ranges: the contract and its acceptance. 1.026 is the class: a full
// scale off by 1.5 % and a resistor by 1 %.
func TestGroupsAreWithinTheirRanges(t *testing.T) {
	for seed := range uint64(1500) {
		m := DrawOf(BareMeter, seeded(seed))
		volts := m.Coil * m.FullScale
		assert.True(t, volts >= 20e-3 && volts <= 500e-3 && m.FullScale >= 20e-6 && m.FullScale <= 10e-3, "%+v", m)
		assert.Equal(t, NothingInside, m.Inside)

		for group, ends := range map[Group][2]float64{MultiplierTo30V: {1 * 0.9, 30}, MultiplierAbove: {50 * 0.9, 500}} {
			m := DrawOf(group, seeded(seed))
			volts := m.Truth().TerminalFullScale * m.Truth().TerminalResistance
			assert.True(t, volts >= ends[0]/1.026 && volts <= ends[1]*1.026, "%+v", m)
			assert.Equal(t, MultiplierInside, m.Inside)
			assert.Positive(t, m.InsideOhms)
		}
		for group, ends := range map[Group][2]float64{ShuntTo300mA: {30e-3, 0.3}, ShuntAbove: {0.5, 30}} {
			m := DrawOf(group, seeded(seed))
			amps := m.Truth().TerminalFullScale
			assert.True(t, amps >= ends[0]/1.026 && amps <= ends[1]*1.026, "%+v", m)
			assert.Equal(t, ShuntInside, m.Inside)
			drop := m.Coil * m.FullScale
			assert.True(t, drop >= 30e-3*0.985 && drop <= 100e-3*1.015, "%v", drop)
		}
	}
}

// A dial that is said to hold does, within the class of 2.5 %; a rectifier's takes
// 2·√2/π of its word at DC (derived: the mean of a rectified sine).
func TestDialsThatHold(t *testing.T) {
	hold, wrong := 0, 0
	for seed := range uint64(4000) {
		m := Draw(seeded(seed))
		if m.Open || m.Jammed || m.Strap > 0 {
			continue
		}
		unit, is := quantity.Amperes, m.Truth().TerminalFullScale
		if strings.HasSuffix(m.Marked, "V") {
			unit, is = quantity.Volts, is*m.Truth().TerminalResistance
		}
		v, err := quantity.Parse(m.Marked, unit)
		if err == nil && m.Kind == Rectifier {
			v.Number *= 2 * math.Sqrt2 / math.Pi
		}
		if m.Dial {
			require.NoError(t, err, m.Marked)
			assert.InEpsilon(t, v.Number, is, 0.026, "%+v", m)
			hold++
		} else if err == nil {
			assert.Greater(t, math.Abs(is/v.Number-1), 0.026, "%+v", m)
			wrong++
		}
	}
	assert.Greater(t, hold, 2000)
	assert.Greater(t, wrong, 50)
}

// The shares are the package's own; a hit of 20 000 draws may be off by 4 standard
// deviations of a binomial.
func TestShares(t *testing.T) {
	const n = 20000
	groups, reversed := map[Group]int{}, 0
	for seed := range uint64(n) {
		m := Draw(seeded(seed))
		groups[m.Group]++
		if m.Reversed {
			reversed++
		}
	}
	near := func(share float64, hits int, name string) {
		assert.InDelta(t, share, float64(hits)/n, 4*math.Sqrt(share*(1-share)/n), name)
	}
	total := 0
	for _, s := range sorts {
		near(float64(s.share)/100, groups[s.group], string(s.group))
		total += s.share
	}
	assert.Equal(t, 100, total)
	near(1./6, reversed, "reversed")
}

// Each group has what it is called after, and no other trouble.
func TestGroupsAreWhatTheyAreCalled(t *testing.T) {
	for _, g := range Groups() {
		kinds, laws := map[string]bool{}, map[string]bool{}
		for seed := range uint64(400) {
			m := DrawOf(g, seeded(seed))
			truth := m.Truth()
			assert.Equal(t, g, m.Group)
			assert.Equal(t, g == JammedNeedle, m.Jammed)
			assert.Equal(t, g == OpenCoil, m.Open)
			assert.Equal(t, g == Strapped, m.Strap > 0)
			assert.Equal(t, g == GlowPaint, m.Glow != "no")
			assert.Equal(t, g == OnMains, m.Removed != "yes")
			if g == ReversedLeads {
				assert.True(t, m.Reversed)
			}
			if g == CentreZero {
				assert.InDelta(t, 0.5, m.Rest, 0.02)
			}
			switch g {
			case JammedNeedle, OpenCoil, GlowPaint, OnMains:
				assert.True(t, truth.Stop, "%+v", m)
			case Strapped:
				assert.True(t, truth.Stop || truth.EitherWay, "%+v", m)
				assert.Equal(t, ShuntInside, truth.Inside)
			case BareMeter, MultiplierTo30V, MultiplierAbove, ShuntTo300mA:
				assert.False(t, truth.Stop || truth.EitherWay, "%+v", m)
			}
			assert.Equal(t, m.Jammed || m.Open, math.IsNaN(truth.TerminalFullScale))
			assert.LessOrEqual(t, m.Friction, 0.01)
			kinds[m.Kind], laws[m.Law] = true, true
		}
		assert.True(t, kinds[MovingCoil] && laws[Linear] && laws[Uneven], g)
		if g == MultiplierTo30V || g == MultiplierAbove {
			assert.True(t, kinds[MovingIron] && kinds[Rectifier] && laws[Square], g)
		}
	}
}

// By hand: most a cell gives at 15 Ω is 1.7/(14.25 + 0.3) = 116.8 mA, least
// 1.2/(15.75 + 1) = 71.6 mA. 2 % of 3 A is 60 mA: moves. Of 5 A it is 100 mA: either. Of
// 6 A 120 mA: still. (The shunt's own 60 mV over full scale changes less than 1 %.)
func TestWhatMovesAt15Ohms(t *testing.T) {
	for amps, want := range map[float64][2]bool{3: {false, false}, 5: {false, true}, 6: {true, false}, 30: {true, false}} {
		truth := ammeter(amps).Truth()
		assert.Equal(t, want, [2]bool{truth.Stop, truth.EitherWay}, "%v A", amps)
	}
	m := bare() // 1 mΩ takes 117 µV at most, 0.117 µA of 100: still
	m.Strap = 1e-3
	assert.True(t, m.Truth().Stop)
	assert.InDelta(t, 1e-3, m.Truth().TerminalResistance, 1e-8)
}

// By hand: open, a bare meter conducts nothing and an ammeter is its shunt.
func TestTruthOfAnOpenCoil(t *testing.T) {
	m := bare()
	m.Open = true
	assert.True(t, math.IsInf(m.Truth().TerminalResistance, 1))
	assert.True(t, m.Truth().Stop)
	a := ammeter(1)
	a.Open = true
	assert.InDelta(t, 0.06006, a.Truth().TerminalResistance, 1e-6)
}

// Source: the contract asks further after mains, high voltage and vehicle alone.
func TestRemovedMattersAfterRiskyOrigins(t *testing.T) {
	m := bare()
	m.Removed = "no"
	assert.False(t, m.Truth().Stop)
	for _, m.Origin = range []string{Mains, HighVoltage, Vehicle} {
		assert.True(t, m.Truth().Stop, m.Origin)
	}
	m.Removed = "yes"
	assert.False(t, m.Truth().Stop)
}
