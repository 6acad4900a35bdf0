package unknown

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model/quantity"
)

func seeded(n uint64) *rand.Rand { return rand.New(rand.NewPCG(n, 14)) }

// derived: 4 000 counts end at 399.9 mV with a digit of 0.1 mV, and at 3.999 V with one of
// a millivolt.
func TestDisplay(t *testing.T) {
	for volts, want := range map[float64]string{0: "0.0 mV", 0.00004: "0.0 mV", 0.213: "213.0 mV", 0.39994: "399.9 mV", 0.39996: "0.400 V",
		1.53: "1.530 V", 3.9994: "3.999 V", 3.9996: "4.00 V", 9.284: "9.28 V"} {
		assert.Equal(t, want, written(voltRanges, volts))
	}
	for ohms, want := range map[float64]string{14.96: "15.0 Ω", 468: "0.468 kΩ", 9930: "9.93 kΩ", 47e3: "47.0 kΩ", 1.02e6: "1.020 MΩ", 10e6: "10.00 MΩ"} {
		assert.Equal(t, want, written(ohmRanges, ohms))
	}
}

// Source: IEC 60063, the series E6; its ends as in the contract.
func TestStockedIsE6(t *testing.T) {
	for _, ohms := range []float64{15, 22, 33, 47, 68, 100, 1.5e3, 4.7e3, 680e3, 1e6, 6.8e6, 10e6} {
		assert.True(t, stocked(ohms), "%v", ohms)
	}
	for _, ohms := range []float64{0, -100, 10, 14, 12e3, 20e3, 56e3, 15e6, math.NaN(), math.Inf(1)} {
		assert.False(t, stocked(ohms), "%v", ohms)
	}
}

// Source of the words: the contract's table. The objects come from JSON text.
func TestAnswersToWhatIsNotConnected(t *testing.T) {
	m := bare()
	m.Origin, m.Removed, m.Glow, m.Rest, m.Marked = Mains, "unknown", "yes", -0.02, "30 V"
	b := exact(m)
	for text, want := range map[string]string{
		`{"ask":"origin","choices":["radio","mains equipment","vehicle"]}`:      "mains equipment",
		`{"ask":"removed","text":"…"}`:                                          "unknown",
		`{"ask":"glow"}`:                                                        "yes",
		`{"ask":"swing"}`:                                                       "free",
		`{"ask":"rest"}`:                                                        "-2 %",
		`{"ask":"marked"}`:                                                      "30 V",
		`{"ask":"kind","choices":["moving coil","moving iron"]}`:                "moving coil",
		`{"ask":"kind","choices":["moving iron"]}`:                              "unknown",
		`{"ask":"resistor","nominal":1e4}`:                                      "10.00 kΩ",
		`{"ask":"resistor","nominal":1.2e4}`:                                    "skip",
		`{"ask":"source","volts":9,"series":null}`:                              "9.00 V",
		`{"ask":"needle","volts":1.5,"series":1e6,"across":null,"problem":"?"}`: "none",
		`{"ask":"needle","volts":1.5,"series":1.2e6,"across":null}`:             "skip",
		`{"ask":"needle","volts":1.5,"series":1e6,"across":20}`:                 "skip",
		`{"done":true,"verdict":"stop"}`:                                        "",
	} {
		var object map[string]any
		require.NoError(t, json.Unmarshal([]byte(text), &object))
		assert.Equal(t, want, b.Answer(object), text)
	}
	assert.Equal(t, 1, b.Problems)
	assert.Equal(t, 2, b.Skipped)
	assert.Len(t, b.Connections, 1, "a source alone and a skip connect nothing")
	assert.Equal(t, 3, b.Asked["needle"])

	b.Block, b.AsMarked = nil, true
	assert.Equal(t, "skip", b.Answer(map[string]any{"ask": "source", "volts": 9.0, "series": nil}))
	assert.Equal(t, "as marked", b.Answer(map[string]any{"ask": "resistor", "nominal": 1e4}))
	m.Jammed, m.Rest = true, 0.3
	assert.Equal(t, "stuck", b.Answer(map[string]any{"ask": "swing"}))
	assert.Equal(t, "none", b.Answer(asked("needle", 1.5, 15.0, nil)), "a jammed needle does not move")
	assert.Greater(t, b.Most, 10.0, "but the current passes: 1.5 V over 1 kΩ of 100 µA is 15 times")
	assert.Panics(t, func() { b.Answer(map[string]any{"ask": "weight"}) })
	assert.Panics(t, func() { b.Answer(map[string]any{"ask": "origin", "choices": []any{"radio"}}) })
}

func TestOrigin(t *testing.T) {
	assert.Equal(t, "vehicle", origin(Vehicle, []string{"mains", "vehicle", "old vehicle"}))
	assert.Equal(t, "other", origin("radio", []string{"mains", "other", "unknown"}))
	assert.Equal(t, "shop", origin("radio", []string{"mains", "high voltage", "vehicle", "shop"}))
	assert.Equal(t, "skip", origin("radio", []string{"mains"}))
}

func TestConnectionsRememberWhatTheSurveyStates(t *testing.T) {
	b := exact(bare())
	object := asked("needle", 1.5, 1e6, nil)
	b.Answer(object)
	object["current"] = 1.8e-6
	b.Answer(object)
	assert.True(t, math.IsNaN(b.Connections[0].Stated))
	assert.Equal(t, 1.8e-6, b.Connections[1].Stated)
	assert.True(t, math.IsInf(b.Connections[1].Across, 1))
	assert.Equal(t, 1e6, b.Connections[1].Series)
}

// value is a reading as the project's reader of quantities takes it.
func value(t *testing.T, text string, unit quantity.Unit) float64 {
	t.Helper()
	v, err := quantity.Parse(text, unit)
	require.NoError(t, err, text)
	return v.Number
}

// Source of the limits: the contract, 0.8 % + 3 digits, the eye 1.5 % of the scale,
// resistors 5 %. Each is nearly reached, and none is passed.
func TestErrorsAreWithinTheirLimits(t *testing.T) {
	var volts, eyes, parts float64
	places := map[string]bool{}
	for seed := range uint64(3000) {
		m := voltmeter()
		m.Friction = 0.01
		b := NewBench(m, seeded(seed))
		b.Cell = &Source{1.5, 0.5}
		// 1.5 V less 0.5 Ω of 10 MΩ is 1.5 V; 12 mV and 3 mV, and half a digit of rounding.
		x := value(t, b.Answer(map[string]any{"ask": "source", "volts": 1.5, "series": nil}), quantity.Volts)
		volts = max(volts, math.Abs(x-1.5)/0.0155)

		b.AsMarked = false
		first, _ := b.resistor(47e3)
		again, _ := b.resistor(47e3)
		require.Equal(t, first, again)
		parts = max(parts, math.Abs(first/47e3-1)/0.05)

		eyes = max(eyes, math.Abs(value(t, b.read(0.507), quantity.Percent)-0.507)/0.015)
		b.Eye, b.Tolerance, b.Block = 0, 0, &Source{9, 2}
		places[b.Answer(asked("needle", 9, 1e3, nil))] = true
	}
	// By hand: with the eye exact, 29.03 % and friction of 1 % is 28.03 to 30.03 %.
	assert.Equal(t, map[string]bool{"28 %": true, "29 %": true, "30 %": true}, places)
	for name, most := range map[string]float64{"volts": volts, "eye": eyes, "resistors": parts} {
		assert.LessOrEqual(t, most, 1.0000001, name)
		assert.Greater(t, most, 0.85, name)
	}
}

// Source of the ranges: the contract (cell) and the package's own words (block).
func TestSourcesOfABench(t *testing.T) {
	least, most := [4]float64{9, 9, 99, 99}, [4]float64{}
	for seed := range uint64(2000) {
		b := NewBench(bare(), seeded(seed))
		for i, x := range [4]float64{b.Cell.Volts, b.Cell.Ohms, b.Block.Volts, b.Block.Ohms} {
			least[i], most[i] = min(least[i], x), max(most[i], x)
		}
	}
	for i, want := range [4][2]float64{{1.2, 1.7}, {0.3, 1}, {7.5, 9.6}, {1.5, 40}} {
		width := want[1] - want[0]
		assert.True(t, least[i] >= want[0] && least[i] < want[0]+0.02*width, "%d: %v", i, least[i])
		assert.True(t, most[i] <= want[1] && most[i] > want[1]-0.02*width, "%d: %v", i, most[i])
	}
}

// Every answer of every group can be read: a word of the contract or a quantity.
func TestAnswersCanBeRead(t *testing.T) {
	words := []string{"none", "below", "over"}
	said := map[string]bool{}
	for _, g := range Groups() {
		for seed := range uint64(60) {
			r := seeded(seed)
			b := NewBench(DrawOf(g, r), r)
			for _, series := range []float64{10e6, 220e3, 4.7e3, 68, 15} {
				needle := b.Answer(asked("needle", 1.5, series, nil))
				said[needle] = true
				if !strings.HasSuffix(needle, " %") {
					assert.Contains(t, words, needle)
				} else {
					assert.InDelta(t, 0.5, value(t, needle, quantity.Percent), 0.5501)
				}
				assert.GreaterOrEqual(t, value(t, b.Answer(asked("terminals", 1.5, series, nil)), quantity.Volts), 0.0)
				assert.LessOrEqual(t, value(t, b.Answer(asked("source", 1.5, series, nil)), quantity.Volts), 1.72)
			}
		}
	}
	for _, w := range words {
		assert.True(t, said[w], w)
	}
}
