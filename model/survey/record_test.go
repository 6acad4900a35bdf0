package survey

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// bareMeter are the answers of a bare meter of 100 µA and 1 kΩ, by hand: 1.5 V over the resistor
// and 1 kΩ, and I·R at the terminals.
var bareMeter = []string{"salvaged", "no", "free", "0 %", "unknown", "moving coil", "1.500 V", "none", "1.5 mV", "31 %", "31.2 mV"}

// A survey goes on from the answers that were recorded, and each of them may be taken back.
func TestFromRecordedAnswers(t *testing.T) {
	s, err := New(bareMeter)
	require.NoError(t, err)
	assert.Equal(t, bareMeter, s.Answers())
	whole := &Survey{}
	answer(t, whole, bareMeter...)
	assert.Equal(t, asks(t, whole).Text, asks(t, s).Text)
	assert.Equal(t, whole.Summary(), s.Summary())
	for n := len(bareMeter); n > 0; n-- {
		assert.Len(t, s.Answers(), n)
		answer(t, s, "back")
	}
	assert.Equal(t, "origin", asks(t, s).Kind)

	s.Answers() // a copy: what is done with it does not matter
	s, err = New([]string{"salvaged", "perhaps", "free"})
	require.ErrorContains(t, err, `answer 2: "perhaps"`)
	assert.Equal(t, []string{"salvaged"}, s.Answers())
	assert.Empty(t, asks(t, s).Problem)
	_, err = New([]string{"new", "yes", "free"})
	assert.ErrorIs(t, err, ErrNothingAsked)
}

// What is known so far narrows with each reading, and holds the meter at any time.
func TestSummary(t *testing.T) {
	s := &Survey{}
	assert.False(t, s.Summary().Resistance.IsKnown())
	assert.Empty(t, s.Summary().Steps)
	last := Value{}
	for n, text := range bareMeter {
		answer(t, s, text)
		sum := s.Summary()
		assert.True(t, sum.Resistance.held(1000), "%d %v", n, sum.Resistance)
		assert.True(t, sum.FullScale.held(100e-6), "%d %v", n, sum.FullScale)
		last = sum.Resistance
	}
	assert.Less(t, last.half(), 0.1)
	assert.Equal(t, []Step{
		{1.5, "1.500 V", "1.0 MΩ ±5 %", "none", "1.5 mV"},
		{1.5, "1.500 V", "47 kΩ ±5 %", "31 %", "31.2 mV"},
	}, s.Summary().Steps)
}

// concluded are the changes of a survey that nothing more is said in, by their paths.
func concluded(t *testing.T, answers ...string) (*Verdict, map[string]Change) {
	s := &Survey{}
	answer(t, s, answers...)
	for range 40 {
		_, verdict := s.Next()
		if verdict == nil {
			answer(t, s, "skip")
			continue
		}
		verdict.Prefix("hand.hours.")
		all := map[string]Change{}
		for _, c := range verdict.Changes {
			path, found := strings.CutPrefix(c.Path, "hand.hours.")
			require.True(t, found, c.Path)
			all[path] = c
		}
		require.Len(t, all, len(verdict.Changes), "each path once")
		return verdict, all
	}
	t.Fatal("it does not end")
	return nil, nil
}

// What a file takes over: what was told, what was read, and what follows.
func TestChanges(t *testing.T) {
	_, all := concluded(t, bareMeter...)
	for path, value := range map[string]string{
		"meter.kind": "moving coil", "meter.origin": "salvaged", "meter.glow": "no", "meter.zero_offset": "0 %", "meter.internal_kind": "none", "meter.in_circuit": "no",
		"survey.step.1.volts": "1.5", "survey.step.1.source": "1.500 V", "survey.step.1.series": "1.0 MΩ ±5 %", "survey.step.1.needle": "none", "survey.step.1.terminals": "1.5 mV",
		"survey.step.2.needle": "31 %", "survey.step.2.terminals": "31.2 mV",
	} {
		assert.Equal(t, value, all[path].Value, path)
	}
	assert.Contains(t, all["meter.terminal_resistance"].Value, " ±")
	assert.Equal(t, all["meter.terminal_resistance"].Value, all["meter.coil"].Value, "nothing is inside")
	for _, path := range []string{"meter.marked", "meter.removed", "meter.zero_at", "survey.step.1.across"} {
		assert.NotContains(t, all, path)
	}

	_, all = concluded(t, "mains", "yes", "no", "free", "48 %", "30 V", "unknown", "1.5 V")
	assert.Equal(t, "yes", all["meter.removed"].Value)
	assert.Equal(t, "centre", all["meter.zero_at"].Value)
	assert.Equal(t, "-2 %", all["meter.zero_offset"].Value)
	assert.Equal(t, "30 V", all["meter.marked"].Value)
	assert.NotContains(t, all, "meter.kind", "unknown")

	_, all = concluded(t, "new", "no", "free", "101 %", "unknown", "skip", "1.5 V")
	assert.Equal(t, "right", all["meter.zero_at"].Value)
	assert.Equal(t, "-1 %", all["meter.zero_offset"].Value)
}

// A voltmeter that cannot be brought up rests on its dial's word, and that is noted where it
// does. By hand: 300 V and 1 mA are 300 kΩ; 9 V over 300 kΩ and 1 kΩ bring 3 % of it, and the
// terminals show 9 V but for 0.3 %.
func TestFromTheDial(t *testing.T) {
	s := &Survey{}
	answer(t, s, "salvaged", "no", "free", "0 %", "300 V", "moving coil")
	for range 40 {
		ask, verdict := s.Next()
		if verdict != nil {
			verdict.Prefix("")
			assert.True(t, verdict.FromDial)
			assert.Equal(t, "multiplier", verdict.Inside)
			notes, values := map[string]string{}, map[string]string{}
			for _, c := range verdict.Changes {
				notes[c.Path], values[c.Path] = c.Note, c.Value
			}
			assert.Equal(t, fromDial, notes["meter.terminal_full_scale"])
			assert.Equal(t, fromDial, notes["meter.full_scale"])
			assert.Equal(t, fromSurvey, notes["meter.terminal_resistance"])
			assert.Equal(t, "multiplier", values["meter.internal_kind"])
			assert.Equal(t, "yes", values["meter.in_circuit"])
			line, err := json.Marshal(verdict.Changes[0])
			require.NoError(t, err)
			assert.NotContains(t, string(line), "ote")
			return
		}
		switch ask.Kind {
		case "source":
			answer(t, s, map[float64]string{1.5: "1.500 V", 9: "9.00 V"}[ask.Of.Volts])
		case "needle":
			current := ask.Of.Volts / (ask.Of.Series + 300e3)
			answer(t, s, map[bool]string{true: "3 %", false: "none"}[current > 20e-6])
		case "terminals":
			together := 300e3 * 10e6 / (300e3 + 10e6)
			b, err := json.Marshal(ask.Of.Volts * together / (ask.Of.Series + together))
			require.NoError(t, err)
			answer(t, s, string(b)+" V")
		default:
			answer(t, s, "as marked")
		}
	}
	t.Fatal("it does not end")
}
