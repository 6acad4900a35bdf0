package circuit

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"example.com/needlewright/model"
	"example.com/needlewright/model/modeltest"
)

// sixHours and twelve are times of day at which a 12 h hand is driven to half
// its scale and to its end.
const sixHours, twelve = 6 * 3600, 12 * 3600

// stepped lets a hand that rests at zero be driven to its end for some seconds, in
// steps, and returns its farthest place and its largest change in one step.
func stepped(p *Plan, seconds, dt float64) (farthest, change, last float64) {
	var m Motion
	m.Reset(p, 1) // a second past midnight: code 0
	before := m.Place(0)
	for t := 0.0; t < seconds-dt/2; t += dt {
		m.Advance(p, twelve, dt)
		farthest = max(farthest, m.Place(0))
		change = max(change, math.Abs(m.Place(0)-before))
		before = m.Place(0)
	}
	return farthest, change, before
}

// TestMotionOvershoots: derived; the first swing passes the end by the overshoot
// that the build gives, 18 % of the step, in a thirtieth of a second as in a
// thousandth, and never jumps: no faster than ω a second.
func TestMotionOvershoots(t *testing.T) {
	_, p := soundPlan(t, modeltest.Example("reading-room"))
	farthest, change, last := stepped(p, 10, 1.0/1000)
	assert.InDelta(t, 1.18, farthest, 1e-4)
	assert.Less(t, change, 2*math.Pi/1.1/1000)
	assert.InDelta(t, 1, last, 1e-3)

	farthest, change, _ = stepped(p, 10, 1.0/30)
	assert.InDelta(t, 1.18, farthest, 0.003) // a peak falls between two frames
	assert.Less(t, change, 2*math.Pi/1.1/30)
}

// TestMotionInOneStep: derived; a second in one is a second in thirty parts.
func TestMotionInOneStep(t *testing.T) {
	for _, file := range []string{"../../examples/reading-room.toml", "../../examples/station-platform.toml", "../testdata/whole.toml", "../testdata/three-hands.toml"} {
		_, p := soundPlan(t, modeltest.FileText(file))
		var one, parts Motion
		one.Reset(p, 0)
		parts.Reset(p, 0)
		one.Advance(p, sixHours+1000, 1)
		for range 30 {
			parts.Advance(p, sixHours+1000, 1.0/30)
		}
		for i := range p.Hands {
			assert.InDelta(t, one.Place(i), parts.Place(i), 1e-12, "%s, hand %d", file, i)
		}
	}
}

// TestMotionComesToRest: derived; long after, each needle stands where Needle
// says, whatever its law, and at rest at once after a Reset.
func TestMotionComesToRest(t *testing.T) {
	text := modeltest.Example("reading-room")
	for _, law := range []string{"linear", "square"} {
		_, p := soundPlan(t, modeltest.With(t, text, "hand.hours.meter.law", law))
		rapid.Check(t, func(t *rapid.T) {
			from, to := rapid.Float64Range(0, 86400).Draw(t, "from"), rapid.Float64Range(0, 86400).Draw(t, "to")
			var m Motion
			m.Reset(p, from)
			assert.InDelta(t, p.Needle(0, from).Place, m.Place(0), 1e-15)
			m.Advance(p, from, 5)
			assert.InDelta(t, p.Needle(0, from).Place, m.Place(0), 1e-12, "what rests stays")
			m.Advance(p, to, 0)
			assert.InDelta(t, p.Needle(0, from).Place, m.Place(0), 1e-12, "no time, no motion")
			m.Advance(p, to, 100)
			assert.InDelta(t, p.Needle(0, to).Place, m.Place(0), 1e-9)
		})
	}
}

// TestMotionSwingsInCurrent: derived; of a square law the needle's equation
// stays in the current, so that from 1/4 of the scale (half the current) to zero
// it swings below by the square of 18 % of a half.
func TestMotionSwingsInCurrent(t *testing.T) {
	_, p := soundPlan(t, modeltest.With(t, modeltest.Example("reading-room"), "hand.hours.meter.law", "square"))
	var m Motion
	m.Reset(p, sixHours)
	require.InDelta(t, 0.25, m.Place(0), 1e-12)
	lowest := 1.0
	for range 3000 {
		m.Advance(p, 1, 0.001)
		lowest = min(lowest, m.Place(0))
	}
	assert.InDelta(t, -0.09*0.09, lowest, 1e-5)
}

// TestMotionOfAnotherPlan: derived; hands that come start at rest, hands that go
// are forgotten, the others keep swinging.
func TestMotionOfAnotherPlan(t *testing.T) {
	d := model.Open(modeltest.Example("reading-room"))
	more, problem := d.Add("hand", "minutes", 0)
	require.Nil(t, problem)
	_, one := soundPlan(t, d.Text)
	_, two := soundPlan(t, more.Text)
	var m Motion
	m.Advance(one, 1, 0.1) // without a Reset
	assert.InDelta(t, 0, m.Place(0), 1e-12)
	m.Advance(two, sixHours, 0.3)
	swinging := m.Place(0)
	assert.True(t, 0.01 < swinging && swinging < 0.49, "%v", swinging)
	assert.InDelta(t, 0.5, m.Place(1), 1e-12)
	m.Advance(one, sixHours, 0)
	assert.InDelta(t, swinging, m.Place(0), 1e-15)
	assert.Panics(t, func() { m.Place(1) })
}

func BenchmarkMotion(b *testing.B) {
	_, p := soundPlan(b, modeltest.Example("station-platform"))
	var m Motion
	m.Reset(p, 0)
	b.ReportAllocs()
	for b.Loop() {
		m.Advance(p, 30000, 1.0/30)
	}
}
