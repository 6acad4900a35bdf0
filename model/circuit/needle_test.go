package circuit

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"example.com/needlewright/calc/nodal"
	"example.com/needlewright/model/modeltest"
)

// At the wrap instant a linear hand at the top shows what full scale reaches,
// and one at zero shows nothing.
func TestNeedleAtTheWrap(t *testing.T) {
	text := modeltest.Text(t, "three-hands.toml")
	for _, c := range []struct{ noon, setting string }{{"top", ""}, {"zero", ""}, {"top", "100 Ω"}, {"zero", "2 kΩ"}} {
		_, p := soundPlan(t, modeltest.With(t, text, "hand.hours.noon", c.noon, "hand.hours.drive.setting", c.setting))
		for _, seconds := range []float64{0, 12 * 3600, 24 * 3600} {
			n := p.Needle(0, seconds)
			if c.noon == "zero" {
				assert.Equal(t, Needle{}, n)
				continue
			}
			assert.Equal(t, 1.0, n.Share)
			assert.Equal(t, 240.0, n.Code) // the file's top code
			assert.InDelta(t, 240.0/256, n.Duty, 1e-15)
			assert.InEpsilon(t, p.Hands[0].FullScaleReached, n.Place, 1e-14)
			assert.InEpsilon(t, p.Hands[0].TopVoltage, n.Pin, 1e-14)
			assert.InEpsilon(t, p.Hands[0].FullScaleReached*p.Hands[0].FullScaleVoltage, n.Coil, 1e-14)
		}
	}
}

// Birthplace: derived by hand; a 12 h hand of 240 codes, nearest: 3 min a code.
func TestNeedleDuringTheDay(t *testing.T) {
	_, p := soundPlan(t, modeltest.With(t, modeltest.Text(t, "three-hands.toml"), "hand.hours.noon", "top"))
	for _, c := range []struct {
		clock string
		share float64
		code  float64
	}{
		{"00:01", 1.0 / 720, 0}, {"00:02", 2.0 / 720, 1}, {"01:00", 1.0 / 12, 20}, {"06:00", 0.5, 120},
		{"11:59", 719.0 / 720, 240}, {"12:00", 1, 240}, {"18:00", 0.5, 120}, {"23:57", 717.0 / 720, 239},
	} {
		var h, m int
		_, err := fmt.Sscanf(c.clock, "%d:%d", &h, &m)
		require.NoError(t, err)
		n := p.Needle(0, float64(h*3600+m*60))
		assert.InDelta(t, c.share, n.Share, 1e-12, c.clock)
		assert.Equal(t, c.code, n.Code, c.clock)
		assert.InDelta(t, c.code/240, n.Shown, 1e-12, c.clock)
	}
	// The minutes hand starts anew each hour, the seconds hand each minute.
	assert.InDelta(t, 0.25, p.Needle(1, 5*3600+15*60).Share, 1e-12)
	assert.InDelta(t, 0.5, p.Needle(2, 5*3600+15*60+30).Share, 1e-12)
}

// A trimmed hand whose law is straightened shows the time within half a step of
// its codes, and one that rounds down within a whole one, behind.
func TestNeedleWithinHalfACode(t *testing.T) {
	builds := map[string]*Plan{}
	for _, law := range []string{"linear", "square", "table"} {
		for _, correct := range []string{"none", "codes", "dial"} {
			for _, rounding := range []string{"nearest", "down"} {
				if law != "linear" && correct == "none" {
					continue
				}
				_, p := soundPlan(t, modeltest.With(t, modeltest.Text(t, "public-1.toml"), "hand.hours.meter.law", law,
					"hand.hours.correct", correct, "hand.hours.drive.rounding", rounding))
				builds[law+", "+correct+", "+rounding] = p
			}
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		seconds := rapid.Float64Range(0, 24*3600).Draw(t, "seconds")
		for name, p := range builds {
			n, h := p.Needle(0, seconds), &p.Circuit.Hands[0]
			// Half a code on either side of the wanted one, as time on the dial.
			wanted := n.Share
			if h.Codes {
				wanted = h.Law.Inverse(n.Share)
			}
			half, up := 0.5/h.Top, 0.5/h.Top
			if h.Down {
				half, up = 1/h.Top, 0
			}
			shownAt := func(code float64) float64 {
				if h.Codes {
					return h.Law.At(code)
				}
				return code
			}
			const little = 2e-9 // a code's break counts as on it from 1e-9 of a code below
			require.GreaterOrEqual(t, n.Shown, shownAt(max(0, wanted-half))-little, name)
			require.LessOrEqual(t, n.Shown, shownAt(wanted+up)+little, name)
			require.InDelta(t, p.Mark(0, n.Shown), n.Place, 1e-12, "%s: the needle is not on the mark it shows", name)
		}
	})
}

// On a dial drawn to the needle the mark of a share is where the needle stands
// for it; else marks are even.
func TestMark(t *testing.T) {
	text := modeltest.Text(t, "public-1.toml")
	// Birthplace: the law's table in the file, and halfway between two of its points.
	for share, want := range map[float64]float64{0: 0, 0.25: 0.21, 0.375: 0.335, 0.5: 0.46, 1: 1} {
		_, p := soundPlan(t, modeltest.With(t, text, "hand.hours.correct", "dial"))
		assert.InDelta(t, want, p.Mark(0, share), 1e-15)
		_, p = soundPlan(t, text)
		assert.Equal(t, share, p.Mark(0, share))
	}
}

// Needle and coding error tell the same story: over the instants of the
// definition the largest difference of shown and true is code_error_max.
func TestNeedleHasTheQuantisationError(t *testing.T) {
	for _, file := range []string{"public-1.toml", "three-hands.toml"} {
		b, p := soundPlan(t, modeltest.Text(t, file))
		for i := range b.Hands {
			h := &p.Circuit.Hands[i]
			if p.Hands[i].TrimmerTravel < 0 || p.Hands[i].TrimmerTravel > 1 {
				continue
			}
			largest := 0.0
			for s := 1; s < h.Steps; s++ { // the wrap instant apart: noon plays no part there
				n := p.Needle(i, float64(s)*h.Minutes*60/float64(h.Steps))
				largest = math.Max(largest, math.Abs(n.Shown-n.Share)*h.Minutes)
			}
			assert.InDelta(t, p.Hands[i].CodeErrorMax, largest, 1e-9*h.Minutes, "%s: %s", file, b.Hands[i].Name)
		}
	}
}

// Birthplace: derived by hand.
func TestShownAndErrorText(t *testing.T) {
	_, p := soundPlan(t, modeltest.Text(t, "three-hands.toml"))
	for _, c := range []struct {
		hand                int
		share               float64
		shown, error, minus string
	}{
		{0, 0.2, "2:24", "+144.0 min", "-144.0 min"}, {0, 1, "12:00", "+720.0 min", "-720.0 min"}, {0, 0.0001, "0:00", "+0.1 min", "-0.1 min"},
		{1, 25.0 / 60, "25.0 min", "+25.0 min", "-25.0 min"}, {1, 0.0005, "0.0 min", "0.0 min", "0.0 min"},
		{2, 0.5, "30.0 s", "+30.0 s", "-30.0 s"}, {2, 0, "0.0 s", "0.0 s", "0.0 s"},
	} {
		assert.Equal(t, []string{c.shown, c.error, c.minus},
			[]string{p.ShownText(c.hand, c.share), p.ErrorText(c.hand, c.share), p.ErrorText(c.hand, -c.share)})
	}
}

// leakByNodes is an independent computation, package nodal: of a leak that takes a
// small part of 3 µA at full scale's voltage of the node, by which share the coil gets
// less, over that part.
func leakByNodes(t *testing.T, h *HandCircuit) float64 {
	const small = 1e-5
	coil, node := 2+AtCoil, 2+BehindTrimmer
	if h.AtStage {
		node = 2 + BehindStage
	}
	sound := nodal.Voltages(2+int(places), network(h))
	_, fullScale := h.Shunted()
	through := sound[coil]/h.Coil + sound[coil]/h.Shunt // of 1 V at the pin
	atFullScale := sound[node] * fullScale / through
	leak := nodal.Branch{From: node, Ohms: atFullScale / (3e-6 * small)}
	leaking := nodal.Voltages(2+int(places), append(network(h), leak))
	return (1 - leaking[coil]/sound[coil]) / small
}

// TestCapacitorLeak: an electrolytic behind a stage resistor takes from the pin, not
// from the coil.
func TestCapacitorLeak(t *testing.T) {
	text := modeltest.With(t, modeltest.Text(t, "public-1.toml"), "rail.voltage", "5 V", "hand.hours.meter.coil", "1.2 kΩ", "hand.hours.meter.full_scale", "100 µA",
		"hand.hours.drive.capacitor_kind", "electrolytic", "hand.hours.drive.stage", "220 Ω", "hand.hours.drive.fixed", "43 kΩ")
	_, p := soundPlan(t, text)
	assert.InDelta(t, 0.1244, p.Hands[0].CapacitorLeakError, 1e-4) // derived: 720 min·3 %·270 Ω/46 875 Ω
	_, p = soundPlan(t, modeltest.With(t, text, "hand.hours.drive.capacitor_at", "coil"))
	assert.InDelta(t, 21.047, p.Hands[0].CapacitorLeakError, 1e-3) // derived: 720 min·3 %·45 675 Ω/46 875 Ω
	leaky := 0
	for file, b := range everyBuild(t) {
		for i := range b.Hands {
			d := &b.Hands[i].Drive
			if d.Capacitor.Number == 0 {
				continue
			}
			d.CapacitorKind = "electrolytic"
			for _, d.CapacitorAt = range []string{"coil", "stage"} {
				Evaluate(b, p)
				h := &p.Circuit.Hands[i]
				moves := h.Minutes // catalogue.md: S_f, half of it between two pins
				if d.By == "bridge" {
					moves /= 2
				}
				assert.InEpsilon(t, leakByNodes(t, h), p.Hands[i].CapacitorLeakError/moves, 1e-5, "%s: hand %d at %s", file, i, d.CapacitorAt)
				leaky++
			}
		}
	}
	require.Greater(t, leaky, 10)
}

// TestDutyOffset: a timer whose pulse lasts code + 1 counts, by the mean of the pin over
// its counts.
func TestDutyOffset(t *testing.T) {
	text := modeltest.With(t, modeltest.Text(t, "public-1.toml"), "hand.hours.correct", "none", "hand.hours.meter.law", "linear")
	_, plain := soundPlan(t, text)
	assert.True(t, math.IsNaN(plain.Hands[0].ZeroLeft))
	_, p := soundPlan(t, modeltest.With(t, text, "hand.hours.drive.duty_offset", "1"))
	h := &p.Hands[0]
	assert.InDelta(t, 5.0*241/256, h.TopVoltage, 1e-12) // derived
	assert.InDelta(t, 1, h.FullScaleReached, 1e-12)
	assert.InDelta(t, 720.0/241, h.ZeroLeft, 1e-12) // derived: one count of 241
	assert.InDelta(t, 720.0/241, 720*p.Needle(0, 12*3600+1).Shown, 1e-9, "what the needle shows at code 0")
	// An independent sum: at each code the pin is high for code + 1 counts, the node steady; from the rail flows what goes
	// through the resistance before it then. The sweep's mean is Simpson's over codes 0 to 240.
	before, after := 1550.0, 5.0*241/256/250e-6-1550
	sum := 0.0
	for code := range 241 {
		on := float64(code+1) / 256
		weight := 2.0 + 2*float64(code%2)
		if code == 0 || code == 240 {
			weight = 1
		}
		sum += weight * on * (5 - 5*on*after/(before+after)) / before
	}
	assert.InEpsilon(t, sum/3/240, h.RailCurrent, 1e-12)
	assert.InDelta(t, 250e-6, h.PinMeanCurrent, 1e-12)
	_, p = soundPlan(t, modeltest.With(t, text, "hand.hours.drive.duty_offset", "1", "hand.hours.meter.law", "square"))
	assert.InDelta(t, 720.0/241/241, p.Hands[0].ZeroLeft, 1e-12) // derived
	_, p = soundPlan(t, modeltest.With(t, text, "hand.hours.drive.duty_offset", "1", "hand.hours.meter.law", "square", "hand.hours.correct", "dial"))
	assert.InDelta(t, 720.0/241, p.Hands[0].ZeroLeft, 1e-12) // derived
}
