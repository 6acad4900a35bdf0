package bench

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/modeltest"
)

func benchOf(t *testing.T, changes ...string) *Bench {
	t.Helper()
	return New(modeltest.Sound(t, modeltest.With(t, modeltest.Example("reading-room"), changes...)))
}

func (r *Report) pointOf(t *testing.T, id string) Point {
	t.Helper()
	at := slices.IndexFunc(r.Points, func(p Point) bool { return p.ID == id })
	require.GreaterOrEqual(t, at, 0, id)
	return r.Points[at]
}

// Worked by hand from reading-room: 4.6875 V at the top over 9375 Ω are 500 µA; with the
// multimeter's 10 MΩ across 8.2 kΩ the chain has 6.72 Ω less, across 485 Ω 0.02 Ω. In the
// meter's place stand 620 Ω, the E24 value next to 640 Ω.
func TestPointsByHand(t *testing.T) {
	r := benchOf(t).Judge(nil)
	across := func(element float64) float64 {
		with := element * 10e6 / (element + 10e6)
		return 4.6875 * with / (9375 - element + with)
	}
	dummy := 620 * 10e6 / (620 + 10e6)
	for id, want := range map[string]float64{
		"hours.fixed_voltage_top": across(8200), "hours.trimmer_voltage_top": across(485), "hours.coil_voltage_top": across(640),
		"hours.dummy_voltage_top": 4.6875 * dummy / (9375 - 640 + dummy),
		"hours.needle_half":       0.5, "hours.needle_top": 1, "hours.series_resistance": 8685, "hours.terminals_ohms": 640,
		"rail.voltage_asleep": 5, "lamp.seconds.voltage_on": 3.05, "lamp.seconds.resistance": 1500, "clock.tick": 1, // 5 V less 1.95 V; no pin resistance
	} {
		assert.InEpsilon(t, want, r.pointOf(t, id).Value, 1e-9, id)
	}
	assert.Empty(t, r.Causes)
	require.NotEmpty(t, r.Next)
	assert.Zero(t, r.Next[0].Cost, "the first question costs nothing")
}

// Every limit of a point's reading lies beyond its 95 % band, and both about its value.
func TestBandsOfPoints(t *testing.T) {
	for _, name := range []string{"reading-room", "harbour-office", "station-platform"} {
		for _, p := range New(modeltest.Sound(t, modeltest.Example(name))).Judge(nil).Points {
			if p.Words != nil {
				assert.True(t, math.IsNaN(p.Value), p.ID)
				continue
			}
			assert.True(t, p.Least <= p.Low && p.Low <= p.Value && p.Value <= p.High && p.High <= p.Most, "%s: %+v", p.ID, p)
		}
	}
}

// What a person writes, and what it means. Derived: 5:38 is 338 of 720 minutes, 120 s in
// 3 days are 40 s a day.
func TestReadings(t *testing.T) {
	x := benchOf(t)
	for _, c := range []struct {
		at, given string
		value     float64
		verdict   Verdict
	}{
		{"hours.needle_half", "50 %", 0.5, Inside}, {"hours.needle_half", "5:38", 338.0 / 720, Inside},
		{"hours.needle_half", "over", math.Inf(1), Outside}, {"hours.needle_half", "below", math.Inf(-1), Outside},
		{"clock.drift", "+120 s in 3 d", 40, Outside}, {"clock.drift", "-1 s in 1 wk", -1.0 / 7, Inside},
		{"hours.pin_voltage_asleep", "none", 0, Inside}, {"hours.pin_voltage_asleep", "2 mV", 2e-3, Inside}, {"hours.pin_voltage_asleep", "4.9 V", 4.9, Outside},
		{"hours.needle_moving", "steady", math.NaN(), Inside}, {"hours.needle_moving", "jumps", math.NaN(), Outside},
		{"rail.voltage_on", "about five", math.NaN(), Unread}, {"rail.voltage_on", "", math.NaN(), Unread}, {"hours.needle_moving", "wobbles", math.NaN(), Unread},
		{"minutes.needle_half", "50 %", math.NaN(), Foreign},
	} {
		r := x.Judge([]model.Reading{{At: c.at, Value: c.given}})
		require.Len(t, r.Readings, 1)
		got := r.Readings[0]
		assert.Equal(t, c.verdict, got.Verdict, "%s %s", c.at, c.given)
		if math.IsNaN(c.value) {
			assert.True(t, math.IsNaN(got.Value), "%s %s", c.at, c.given)
			continue
		}
		if math.IsInf(c.value, 0) {
			assert.Equal(t, c.value, got.Value)
			continue
		}
		assert.InDelta(t, c.value, got.Value, 1e-12, "%s %s", c.at, c.given)
	}
}

// Of two readings at one point the later counts; one that was taken before the last repair
// is shown, not weighed, and taken again first. The probabilities add up to 1.
func TestReadingsCount(t *testing.T) {
	x := benchOf(t)
	r := x.Judge([]model.Reading{{At: "hours.needle_top", Value: "below"}, {At: "hours.needle_top", Value: "100 %"}})
	require.Len(t, r.Readings, 1)
	assert.Equal(t, Nothing, r.Causes[0].ID)
	assert.LessOrEqual(t, r.Causes[0].Probability, 0.9, "a look could still tell otherwise")
	sum := 0.0
	for _, c := range r.Causes {
		sum += c.Probability
	}
	assert.InDelta(t, 1, sum, 1e-9)
	r = x.Judge([]model.Reading{{At: "hours.coil_voltage_top", Value: "1 V", Before: "yes"}})
	assert.Empty(t, r.Causes)
	assert.Equal(t, "hours.coil_voltage_top", r.Next[0].At)
	assert.Equal(t, Outside, r.Readings[0].Verdict)
}

// Two readings name a coil whose lead is broken: the pin's voltage stands at the terminals,
// and no needle moves. What contradicts it is shown. Common practice, no source.
func TestACauseIsNamed(t *testing.T) {
	x := benchOf(t)
	readings := []model.Reading{{At: "hours.needle_top", Value: "0 %"}, {At: "hours.coil_voltage_top", Value: "4.68 V"}}
	r := x.Judge(readings)
	assert.Equal(t, "coil_open", r.Causes[0].ID)
	assert.Equal(t, "hours", r.Causes[0].About)
	assert.Equal(t, []string{"hours.needle_top", "hours.coil_voltage_top"}, r.Causes[0].Explains)
	assert.Empty(t, r.Causes[0].Contradicts)
	assert.NotEmpty(t, r.Causes[0].Mend)
	r = x.Judge(append(readings, model.Reading{At: "lamp.seconds.lights", Value: "no"}))
	assert.Contains(t, r.Causes[0].ID, "coil_open")
	if r.Causes[0].ID == "coil_open" {
		assert.Equal(t, []string{"lamp.seconds.lights"}, r.Causes[0].Contradicts)
	}
}

// Where the needle is likely driven far beyond its end, nothing is measured that keeps it there.
func TestNothingThatHurts(t *testing.T) {
	r := benchOf(t).Judge([]model.Reading{{At: "hours.needle_half", Value: "over"}, {At: "hours.needle_unpowered", Value: "0 %"}})
	for _, s := range r.Next {
		p := r.pointOf(t, s.At)
		assert.NotEqual(t, atTop, p.State, s.At)
		assert.NotEqual(t, atHalf, p.State, s.At)
	}
}

// Every fault of the circuit is a cause with words to confirm and to mend it, and stands in
// the catalogue's list; every point says where the probes go.
func TestTablesAreWhole(t *testing.T) {
	for _, f := range circuit.Faults {
		c := causeOf(f.ID)
		if assert.NotNil(t, c, f.ID) {
			assert.NotEmpty(t, c.confirm, f.ID)
			assert.NotEmpty(t, c.mend, f.ID)
		}
	}
	assert.Len(t, causes, len(circuit.Faults))
	for _, p := range points {
		assert.NotEmpty(t, p.probes, p.id)
		assert.NotEmpty(t, p.state, p.id)
	}
}

// Behind two transistors the volts of the pin are those where they meet; a pin is read itself.
func TestProbesOfASwitch(t *testing.T) {
	text := modeltest.Example("reading-room")
	for by, want := range map[string]string{"pin": "pin to ground, DC", "switch": "where the two transistors meet, to ground, DC"} {
		b, problems := model.Read(modeltest.With(t, text, "hand.hours.drive.by", by))
		require.Empty(t, problems)
		r := Sound(b).Verdicts(nil)
		i := slices.IndexFunc(r.Points, func(p Point) bool { return p.ID == "hours.pin_voltage_top" })
		assert.Equal(t, want, r.Points[i].Probes)
	}
}

// A reading outside that the likeliest cause has nothing to do with is named: here a trimmer
// that turned too far beside a crystal that is fast. Derived: what is read is made up.
func TestUnexplained(t *testing.T) {
	b, problems := model.Read(modeltest.Example("reading-room") + `
[[reading]]
at = "crystal.frequency"
value = "32.1 kHz"

[[reading]]
at = "clock.tick"
value = "1.021 s"

[[reading]]
at = "hours.turn_effect"
value = "-3.2 %"
`)
	require.Empty(t, problems)
	r := New(b).Judge(b.Readings)
	require.NotEmpty(t, r.Causes)
	c := &r.Causes[0]
	assert.Subset(t, c.Explains, []string{"clock.tick", "crystal.frequency"})
	require.NotContains(t, c.Contradicts, "hours.turn_effect")
	assert.Equal(t, []string{"hours.turn_effect"}, r.Unexplained(c))
}
