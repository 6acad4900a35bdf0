package survey

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model/survey/unknown"
)

// surveyed goes through a survey of a meter with a person at the bench.
func surveyed(t *testing.T, b *unknown.Bench) *Verdict {
	s := &Survey{}
	for range 80 {
		ask, verdict := s.Next()
		if verdict != nil {
			return verdict
		}
		line, err := json.Marshal(ask)
		require.NoError(t, err)
		var object map[string]any
		require.NoError(t, json.Unmarshal(line, &object))
		answer := b.Answer(object)
		require.NoError(t, s.Answer(answer))
		if _, again := s.Next(); again == nil && s.problem != "" {
			t.Fatalf("%s is not taken: %s", answer, s.problem)
		}
	}
	t.Fatal("the survey does not end")
	return nil
}

// held says whether a band holds a value.
func (v Value) held(x float64) bool {
	return !(v.Low > x) && !(v.High < x)
}

// TestUnknownMeters: meters that were made up apart from the survey are found out, and
// none is hurt. What is asked of the survey is printed by the long run:
//
//	METERS=500 SEED=1 go test ./model/survey -run TestUnknownMeters -v -timeout 1h
func TestUnknownMeters(t *testing.T) {
	number, seed := 30, uint64(1)
	if n, err := strconv.Atoi(os.Getenv("METERS")); err == nil {
		number = n
	}
	if n, err := strconv.Atoi(os.Getenv("SEED")); err == nil {
		seed = uint64(n)
	}
	random := rand.New(rand.NewPCG(seed, 14))
	var hurt, stops, stopped, insides, right, ohms, ohmsHeld, scales, scalesHeld int
	widths := map[unknown.Group][]float64{}
	given, of := map[unknown.Group]int{}, map[unknown.Group]int{}
	var ohmWidths []float64
	var asks, connects []int
	for n := range number {
		m := unknown.Draw(random)
		b := unknown.NewBench(m, random)
		v := surveyed(t, b)
		truth := m.Truth()
		for _, c := range b.Connections {
			if !math.IsNaN(c.Stated) {
				assert.LessOrEqual(t, math.Abs(c.Movement), c.Stated, "%d: what can pass its movement at most", n)
			}
		}
		if b.Most > 1 {
			hurt++
			t.Logf("%d hurt %.2f: %+v", n, b.Most, *m)
		}
		if truth.Stop {
			stops++
			if v.Verdict == Stopped {
				stopped++
			} else {
				t.Logf("%d not stopped: %s %+v", n, v.Why, *m)
			}
			continue
		}
		if v.Verdict == Stopped {
			if !truth.EitherWay {
				t.Logf("%d stopped: %s: %+v", n, v.Why, *m)
			}
			continue
		}
		all := 0
		for _, k := range b.Asked {
			all += k
		}
		asks, connects = append(asks, all), append(connects, b.Asked["needle"]+b.Asked["terminals"]+b.Asked["resistor"])
		of[m.Group]++
		if v.Resistance.IsKnown() {
			ohms++
			if v.Resistance.held(truth.TerminalResistance) {
				ohmsHeld++
			} else {
				t.Logf("%d ohms %v, truth %.4g: %+v", n, v.Resistance, truth.TerminalResistance, *m)
			}
			if m.Group != unknown.ShuntAbove {
				ohmWidths = append(ohmWidths, v.Resistance.half())
			}
		}
		if v.FullScale.IsKnown() {
			scales++
			given[m.Group]++
			widths[m.Group] = append(widths[m.Group], v.FullScale.half())
			if v.FullScale.held(truth.TerminalFullScale) {
				scalesHeld++
			} else {
				t.Logf("%d full scale %v, truth %.4g: %+v", n, v.FullScale, truth.TerminalFullScale, *m)
			}
		} else if m.Group == unknown.BareMeter || m.Group == unknown.MultiplierTo30V || m.Group == unknown.ShuntTo300mA {
			t.Logf("%d no full scale, %s: %+v", n, v.Why, *m)
		}
		if v.Inside != "unknown" {
			insides++
			if v.Inside == m.Inside {
				right++
			} else {
				t.Logf("%d inside %s: %+v", n, v.Inside, *m)
			}
		}
	}
	slices.Sort(asks)
	slices.Sort(connects)
	t.Logf("hurt %d; stopped %d of %d; ohms held %d of %d, half-width %.3f; full scale held %d of %d; inside said %d of %d, right %d; asks %d, of the bench %d", hurt, stopped, stops, ohmsHeld, ohms, middle(ohmWidths), scalesHeld, scales, insides, len(asks), right, asks[len(asks)/2], connects[len(connects)/2])
	for _, g := range unknown.Groups() {
		if of[g] > 0 {
			t.Logf("%s: full scale of %d of %d, half-width %.3f", g, given[g], of[g], middle(widths[g]))
		}
	}
	assert.Zero(t, hurt)
	assert.Equal(t, stops, stopped)
	for _, c := range []struct {
		what      string
		right, of int
		asked     float64 // by the issue, within the noise of so many meters
	}{
		{"resistance held", ohmsHeld, ohms, 0.93}, {"full scale held", scalesHeld, scales, 0.93}, {"inside said", insides, len(asks), 0.9}, {"inside right", right, insides, 0.95},
		{"full scale of bare meters", given[unknown.BareMeter], of[unknown.BareMeter], 0.95}, {"full scale to 30 V", given[unknown.MultiplierTo30V], of[unknown.MultiplierTo30V], 0.95},
	} {
		require.NotZero(t, c.of, c.what)
		noise := 2.5 * math.Sqrt(c.asked*(1-c.asked)/float64(c.of))
		assert.GreaterOrEqual(t, float64(c.right)/float64(c.of), c.asked-noise, c.what)
	}
	assert.LessOrEqual(t, middle(ohmWidths), 0.06)
	if number >= 100 { // of fewer, medians tell little
		assert.LessOrEqual(t, asks[len(asks)/2], 18)
		assert.LessOrEqual(t, connects[len(connects)/2], 9)
	}
}

func middle(x []float64) float64 {
	if len(x) == 0 {
		return math.NaN()
	}
	slices.Sort(x)
	return x[len(x)/2]
}

// answer takes answers in turn and fails where one is not taken.
func answer(t *testing.T, s *Survey, all ...string) {
	for _, a := range all {
		require.NoError(t, s.Answer(a))
		require.Empty(t, s.problem, a)
	}
}

// What is asked first, in the contract's order, and what stops it before anything is
// connected.
func TestOrder(t *testing.T) {
	s := &Survey{}
	for _, c := range []struct{ kind, answer string }{
		{"origin", "mains"}, {"removed", "yes"}, {"glow", "no"}, {"swing", "free"}, {"rest", "-1 %"}, {"marked", "30 V"}, {"kind", "moving coil"}, {"source", "1.530 V"},
	} {
		ask, verdict := s.Next()
		require.Nil(t, verdict)
		assert.Equal(t, c.kind, ask.Kind)
		assert.Zero(t, ask.Current, c.kind)
		answer(t, s, c.answer)
	}
	ask, _ := s.Next()
	assert.Equal(t, "needle", ask.Kind)
	assert.Equal(t, Connection{1.5, 1e6}, *ask.Of)
	// 1.530 V and its error of 0.8 % + 3.5 digits of 1 mV, over 1 MΩ less 5 %: by hand.
	assert.InEpsilon(t, (1.530*1.008+0.0035)/0.95e6, ask.Current, 1e-9)
	for _, stops := range [][]string{
		{"mains", "no"}, {"vehicle", "unknown"}, {"high voltage", "skip"}, {"new", "yes"}, {"new", "unknown"}, {"new", "no", "stuck"}, {"new", "no", "skip"},
	} {
		s := &Survey{}
		answer(t, s, stops...)
		_, verdict := s.Next()
		require.NotNil(t, verdict, stops)
		assert.Equal(t, Stopped, verdict.Verdict)
		assert.NotEmpty(t, verdict.Why)
		assert.ErrorIs(t, s.Answer("no"), ErrNothingAsked)
	}
}

// An answer that cannot be read is asked for again, and says why; back takes one back.
func TestAnswers(t *testing.T) {
	s := &Survey{}
	require.NoError(t, s.Answer("a shed"))
	ask, _ := s.Next()
	assert.Equal(t, "origin", ask.Kind)
	assert.Contains(t, ask.Problem, "a shed")
	answer(t, s, "new", "no")
	answer(t, s, "back")
	ask, _ = s.Next()
	assert.Equal(t, "glow", ask.Kind)
	assert.Empty(t, ask.Problem)
	answer(t, s, "no", "free", "0 %", "unknown", "unknown", "1.5 V")
	for _, nonsense := range []string{"", "up", "900 %", "-90 %", "\x1b[31m"} {
		require.NoError(t, s.Answer(nonsense))
		ask, _ := s.Next()
		assert.Equal(t, "needle", ask.Kind)
		assert.NotEmpty(t, ask.Problem, nonsense)
	}
}

// byHand goes through a survey of a bare meter of 100 µA and 1 kΩ, worked by hand: 1.5 V over
// 1 MΩ and 1 kΩ are 1.5 µA, over 33 kΩ and 1 kΩ 44.1 µA; at the terminals I·R. A slip may put
// another number for what is read, in % or mV.
func byHand(t *testing.T, slip func(ask *Ask, reads float64) float64) *Verdict {
	s := &Survey{}
	answer(t, s, "salvaged", "no", "free", "0 %", "unknown", "moving coil")
	for range 30 {
		ask, verdict := s.Next()
		if verdict != nil {
			return verdict
		}
		current := 0.0
		if ask.Of != nil && ask.Of.Series > 0 {
			current = ask.Of.Volts / (ask.Of.Series + 1000)
			assert.LessOrEqual(t, current, 100e-6)
		}
		switch ask.Kind {
		case "source":
			answer(t, s, map[float64]string{1.5: "1.500 V", 9: "skip"}[ask.Of.Volts])
		case "needle":
			answer(t, s, strconv.Itoa(int(math.Round(slip(ask, current/100e-6*100))))+" %")
		case "terminals":
			answer(t, s, strconv.FormatFloat(slip(ask, current*1e6), 'f', 1, 64)+" mV") // A · 1 kΩ, in mV
		case "resistor":
			answer(t, s, "as marked")
		default:
			t.Fatal(ask.Kind)
		}
	}
	t.Fatal("the survey does not end")
	return nil
}

func TestByHand(t *testing.T) {
	verdict := byHand(t, func(_ *Ask, place float64) float64 { return place })
	assert.Equal(t, Known, verdict.Verdict)
	assert.Equal(t, "none", verdict.Inside)
	assert.True(t, verdict.Resistance.held(1000), verdict.Resistance)
	assert.True(t, verdict.FullScale.held(100e-6), verdict.FullScale)
	assert.Equal(t, "linear", verdict.Law)
	verdict.Prefix("hand.hours.")
	assert.Equal(t, "hand.hours.meter.coil", verdict.Changes[0].Path)
}

// More current that moves the needle less is a slip: it is asked for once more, and what is
// said then counts; said twice it is a contradiction, of which nothing is concluded.
func TestSlip(t *testing.T) {
	var seen []Connection
	slip := func(times int) func(*Ask, float64) float64 {
		seen = nil
		return func(ask *Ask, place float64) float64 {
			if ask.Kind != "needle" {
				return place
			}
			if again := strings.Contains(ask.Text, "at less current"); again != (len(seen) > 0 && len(seen) <= times && *ask.Of == seen[0]) {
				t.Errorf("asked once more: %v of %v after %v", again, ask.Of, seen)
			}
			if len(seen) > 0 && len(seen) <= times || len(seen) == 0 && place > 40 {
				seen = append(seen, *ask.Of)
				if len(seen) <= times {
					return place / 16
				}
			}
			return place
		}
	}
	verdict := byHand(t, slip(1))
	assert.Equal(t, Known, verdict.Verdict)
	assert.True(t, verdict.FullScale.held(100e-6), verdict.FullScale)
	for _, step := range verdict.Steps {
		assert.NotEqual(t, "3 %", step.Needle, "the slip is no reading")
	}
	verdict = byHand(t, slip(2))
	assert.Equal(t, Stopped, verdict.Verdict)
	assert.Contains(t, verdict.Why, "contradict")
	assert.False(t, verdict.FullScale.IsKnown())
}

// Volts of another connection, or half or twice of what they are, do not fit what else was read:
// they are asked for once more, and what is said then counts. Found by a beginner, who left the
// former resistor in.
func TestSlipOfTerminals(t *testing.T) {
	for _, wrong := range []float64{0.45, 0.5, 2} {
		for nth := range 3 {
			count, again := 0, 0
			var at Connection
			verdict := byHand(t, func(ask *Ask, reads float64) float64 {
				doubted := strings.Contains(ask.Text, "does not fit what was read besides")
				if doubted {
					again++
					assert.Equal(t, "terminals", ask.Kind, "%v of the reading %d", wrong, nth)
					assert.Equal(t, at, *ask.Of, "%v of the reading %d", wrong, nth)
				}
				if ask.Kind != "terminals" || doubted {
					return reads
				}
				if count++; count == nth+1 {
					at = *ask.Of
					return wrong * reads
				}
				return reads
			})
			if count <= nth {
				continue // it was not asked so often
			}
			if nth > 0 || wrong > 1 { // 0.7 of the first 1.5 mV are within the multimeter's digits
				assert.Equal(t, 1, again, "%v of the reading %d", wrong, nth)
			}
			assert.Equal(t, Known, verdict.Verdict)
			assert.True(t, verdict.Resistance.held(1000), "%v of the reading %d: %v", wrong, nth, verdict.Resistance)
			assert.True(t, verdict.FullScale.held(100e-6), "%v of the reading %d: %v", wrong, nth, verdict.FullScale)
		}
	}
}
