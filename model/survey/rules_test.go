package survey

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model/survey/unknown"
)

// begun is a survey of a moving coil up to its first connection.
func begun(t *testing.T, rest, kind string) *Survey {
	s := &Survey{}
	answer(t, s, "salvaged", "no", "free", rest, "unknown", kind, "1.500 V")
	return s
}

// asks says what is asked now.
func asks(t *testing.T, s *Survey) *Ask {
	ask, verdict := s.Next()
	require.Nil(t, verdict)
	return ask
}

// A needle that stands low may press its lower stop, at -5 %, whatever flows: the leads are
// turned round before more is connected. Found by the simulator: rest -2 %, read as -3 % at a
// quarter of full scale the wrong way.
func TestNeedleAtItsStop(t *testing.T) {
	for _, stands := range []string{"-3 %", "-5 %", "below"} {
		s := begun(t, "-2 %", "moving coil")
		answer(t, s, stands)
		assert.Equal(t, "swap", asks(t, s).Kind, stands)
	}
	s := begun(t, "-3 %", "moving coil") // no room below to be seen moving in
	answer(t, s, "none")
	assert.Equal(t, "swap", asks(t, s).Kind)
	answer(t, s, "done", "none")
	assert.Equal(t, "terminals", asks(t, s).Kind)
	s = begun(t, "0 %", "moving coil")
	answer(t, s, "below", "done", "below")
	_, verdict := s.Next()
	require.NotNil(t, verdict)
	assert.Contains(t, verdict.Why, "both ways round")
}

// A place may be a reading of the end value: 6 of 30 is a fifth of the scale, and in the middle
// of one that rests there a tenth of it above. A moving iron's marks are crowded: there it is
// not taken.
func TestReadingOfTheScale(t *testing.T) {
	for _, c := range []struct {
		rest, text string
		moved      float64
	}{{"0 %", "6 of 30", 0.2}, {"0 %", "20 %", 0.2}, {"50 %", "6 of 30", 0.2}, {"50 %", "-6 of 30", -0.2}, {"50 %", "60 %", 0.2}} {
		s := begun(t, c.rest, "moving coil")
		answer(t, s, c.text)
		d := s.stands().dialogue
		require.Len(t, d.readings, 1)
		assert.InDelta(t, c.moved, d.moved(&d.readings[0]), 1e-12, c)
	}
	for _, nonsense := range []string{"6 of", "of 30", "6 of 0", "6 of -30", "a of 30", "60 of 30"} {
		s := begun(t, "0 %", "moving coil")
		require.NoError(t, s.Answer(nonsense))
		assert.NotEmpty(t, asks(t, s).Problem, nonsense)
	}
	s := begun(t, "0 %", "moving iron")
	require.NoError(t, s.Answer("6 of 30"))
	assert.Contains(t, asks(t, s).Problem, "not evenly spaced")
}

// Places count from the right end where the needle rests there.
func TestZeroAtTheRight(t *testing.T) {
	s := begun(t, "99 %", "moving coil")
	assert.Contains(t, asks(t, s).Text, "from its right end")
	answer(t, s, "21 %")
	d := s.stands().dialogue
	assert.InDelta(t, 0.2, d.moved(&d.readings[0]), 1e-12)
}

// Without a single cell nothing may be connected, and it says what is needed; who has no 9 V
// block is told what that would bring.
func TestSourcesThatAreMissing(t *testing.T) {
	s := &Survey{}
	answer(t, s, "salvaged", "no", "free", "0 %", "unknown", "moving coil", "skip")
	_, verdict := s.Next()
	require.NotNil(t, verdict)
	assert.Equal(t, Partly, verdict.Verdict)
	assert.Contains(t, verdict.Why, "single cell of 1.5 V")
	assert.False(t, verdict.Resistance.IsKnown())

	m := unknown.DrawOf(unknown.MultiplierTo30V, rand.New(rand.NewPCG(1, 1)))
	m.Coil, m.InsideOhms, m.FullScale, m.Marked, m.Kind, m.Looks, m.Law, m.Reversed, m.Rest = 100, 29.9e3, 1e-3, "unknown", "moving coil", "moving coil", unknown.Linear, false, 0
	random := rand.New(rand.NewPCG(2, 1))
	b := unknown.NewBench(m, random)
	b.Block = nil
	v := surveyed(t, b)
	assert.Equal(t, Partly, v.Verdict)
	assert.True(t, v.Resistance.held(30e3), v.Resistance)
	assert.Contains(t, v.Why, "a block of 9 V would")
}

// Who does not measure one resistor is not asked for another; who leaves out where the needle
// stands gets what is known by then.
func TestWhatIsLeftOut(t *testing.T) {
	random := rand.New(rand.NewPCG(8, 1))
	for range 20 {
		b := unknown.NewBench(unknown.DrawOf(unknown.BareMeter, random), random)
		b.AsMarked = true
		surveyed(t, b)
		assert.LessOrEqual(t, b.Asked["resistor"], 1)
	}
	s := begun(t, "0 %", "moving coil")
	answer(t, s, "none", "1.5 mV", "31 %", "31.2 mV", "skip")
	if ask, _ := s.Next(); ask != nil && ask.Kind == "needle" {
		answer(t, s, "skip")
	}
	_, verdict := s.Next()
	require.NotNil(t, verdict)
	assert.True(t, verdict.Resistance.held(1000), verdict.Resistance)
}

// No survey makes more than 20 connections, takes 9 V behind less than 1 kΩ or before the
// terminals have shown 900 Ω, or takes less resistance while a needle that does not move
// should. Source: the contract.
func TestRulesOfTheBench(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 9))
	for range 40 {
		b := unknown.NewBench(unknown.Draw(random), random)
		surveyed(t, b)
		connections, was := 0, unknown.Connection{}
		for _, c := range b.Connections {
			if c.Volts != was.Volts || c.Series != was.Series {
				connections++
			}
			if c.Volts == 9 {
				assert.GreaterOrEqual(t, c.Series, 1e3)
			}
			was = c
		}
		assert.LessOrEqual(t, connections, 20)
	}
}

// An open coil is told from the 10 MΩ of the multimeter alone, whatever the errors are; a meter
// of 500 V and 50 µA, 10 MΩ, is none.
func TestOpenCoil(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 3))
	for range 60 {
		m := unknown.DrawOf(unknown.OpenCoil, random)
		m.Glow, m.Removed, m.Inside = "no", "yes", unknown.MultiplierInside
		v := surveyed(t, unknown.NewBench(m, random))
		assert.Equal(t, Stopped, v.Verdict)
		assert.Contains(t, v.Why, "open coil")
	}
	m := unknown.DrawOf(unknown.MultiplierAbove, random)
	m.Coil, m.InsideOhms, m.FullScale, m.Kind, m.Looks, m.Law = 2e3, 10e6-2e3, 50e-6, "moving coil", "moving coil", unknown.Linear
	for range 20 {
		assert.NotEqual(t, Stopped, surveyed(t, unknown.NewBench(m, random)).Verdict)
	}
}

// Rectifiers take volts of their own at DC: bands hold them as they hold others.
func TestRectifiers(t *testing.T) {
	random := rand.New(rand.NewPCG(11, 2))
	ohms, scales, heldOhms, heldScales := 0, 0, 0, 0
	for ohms < 40 {
		m := unknown.DrawOf(unknown.MultiplierTo30V, random)
		if m.Kind != unknown.Rectifier {
			continue
		}
		v, truth := surveyed(t, unknown.NewBench(m, random)), m.Truth()
		ohms++
		if v.Resistance.held(truth.TerminalResistance) {
			heldOhms++
		}
		if v.FullScale.IsKnown() {
			scales++
			if v.FullScale.held(truth.TerminalFullScale) {
				heldScales++
			}
		}
	}
	t.Logf("resistance %d of %d, full scale %d of %d", heldOhms, ohms, heldScales, scales)
	// 95 % asked for; of 40 a fair survey holds 33 or more but once in a thousand times (by hand,
	// the binomial).
	assert.GreaterOrEqual(t, heldOhms, 33)
	assert.GreaterOrEqual(t, float64(heldScales), 33./40*float64(scales))
	assert.GreaterOrEqual(t, scales, 30)
}

// What an ohmmeter does to a needle. Ranges: common practice, no source.
func TestNoOhmmeter(t *testing.T) {
	for _, c := range []struct {
		amps  float64
		words string
	}{
		{1e-3, "200 Ω range of a multimeter drives 300 µA to 1.5 mA, and may"}, {200e-6, "2 kΩ range of a multimeter drives 100 µA to 400 µA, and may"},
		{15e-6, "20 kΩ range of a multimeter drives 20 µA to 80 µA, and would"}, {1, "which this meter bears"}, {math.NaN(), "not known"},
	} {
		words := noOhmmeter(Value{c.amps, c.amps, c.amps})
		assert.True(t, strings.Contains(words, c.words), words)
	}
}

// The largest rise of the current takes the terminals for what makes most of it: where they may
// have anything, nine volts behind more resistance make up to as much more as the volts are.
func TestRise(t *testing.T) {
	d := &dialogue{sources: map[float64]measured{1.5: {value: 1.5}, 9: {value: 9}}, series: map[float64]measured{10e3: {value: 10e3}, 33e3: {value: 33e3}, 1e3: {value: 1e3}}}
	s := &state{at: Connection{1.5, 10e3}, high: math.Inf(1)}
	for _, c := range []struct {
		low, high float64
		to        Connection
		rise      float64 // by hand
	}{
		{0, math.Inf(1), Connection{9, 33e3}, 6},
		{0, math.Inf(1), Connection{1.5, 1e3}, 10},
		{5e3, 10e3, Connection{9, 33e3}, 6 * 20. / 43},
		{5e3, 10e3, Connection{1.5, 1e3}, 15. / 6},
	} {
		s.low, s.high = c.low, c.high
		assert.InEpsilon(t, c.rise, d.rise(s, c.to), 1e-12, c)
	}
}
