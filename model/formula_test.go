package model

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"
	"unicode"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A formula is the text of a results row being evaluated: + − · / ^ and ²,
// brackets, numbers, names and calls.
type formula struct {
	rest    []rune
	symbols symbols
}

// symbols are what the letters of a formula stand for: float64s, and functions
// of one, two or three.
type symbols map[string]any

// evaluate computes a formula's text; an error tells what it does not
// understand.
func evaluate(text string, s symbols) (x float64, err error) {
	f := formula{[]rune(strings.ReplaceAll(text, " ", "")), s}
	defer func() {
		if trouble := recover(); trouble != nil {
			err = fmt.Errorf("%s: %v at %q", text, trouble, string(f.rest))
		}
	}()
	x = f.sum()
	if len(f.rest) > 0 {
		panic("something is left over")
	}
	return x, nil
}

// take eats a sign if it is next.
func (f *formula) take(sign rune) bool {
	if len(f.rest) == 0 || f.rest[0] != sign {
		return false
	}
	f.rest = f.rest[1:]
	return true
}

func (f *formula) sum() float64 {
	x := f.product()
	for {
		switch {
		case f.take('+'):
			x += f.product()
		case f.take('−'):
			x -= f.product()
		default:
			return x
		}
	}
}

func (f *formula) product() float64 {
	x := f.signed()
	for {
		switch {
		case f.take('·'):
			x *= f.signed()
		case f.take('/'):
			x /= f.signed()
		default:
			return x
		}
	}
}

func (f *formula) signed() float64 {
	if f.take('−') {
		return -f.signed()
	}
	x := f.atom()
	switch {
	case f.take('²'):
		return x * x
	case f.take('^'):
		return math.Pow(x, f.signed())
	}
	return x
}

func (f *formula) atom() float64 {
	if f.take('(') {
		x := f.sum()
		f.must(')')
		return x
	}
	word := f.word()
	if x, err := strconv.ParseFloat(word, 64); err == nil && word[0] <= '9' {
		return x
	}
	switch s := f.symbols[word].(type) {
	case float64:
		return s
	case func(float64) float64:
		return s(f.arguments(1)[0])
	case func(float64, float64) float64:
		a := f.arguments(2)
		return s(a[0], a[1])
	case func(float64, float64, float64) float64:
		a := f.arguments(3)
		return s(a[0], a[1], a[2])
	}
	panic("no such name: " + word)
}

func (f *formula) must(sign rune) {
	if !f.take(sign) {
		panic("no " + string(sign))
	}
}

func (f *formula) arguments(n int) []float64 {
	f.must('(')
	list := []float64{f.sum()}
	for f.take(',') {
		list = append(list, f.sum())
	}
	f.must(')')
	if len(list) != n {
		panic(fmt.Sprintf("%d arguments, not %d", len(list), n))
	}
	return list
}

func (f *formula) word() string {
	n := 0
	for n < len(f.rest) && (f.rest[n] == '_' || f.rest[n] == '.' || f.rest[n] != '²' && (unicode.IsLetter(f.rest[n]) || unicode.IsDigit(f.rest[n]))) {
		n++
	}
	word := string(f.rest[:n])
	f.rest = f.rest[n:]
	return word
}

func TestEvaluator(t *testing.T) {
	s := symbols{"a": 3.0, "ω_n": 2.0, "twice": func(x float64) float64 { return 2 * x }}
	for text, want := range map[string]float64{ // derived
		"1 + 2·a": 7, "−a²": -9, "(−a)²": 9, "10^−2·a": 0.03, "a/2/3": 0.5, "2^a − 1": 7, "1 − 2 − 3": -4,
		"twice(a + 1)·ω_n": 16, "0.0864": 0.0864, "1/(2·ω_n)": 0.25,
	} {
		got, err := evaluate(text, s)
		require.NoError(t, err)
		assert.InDelta(t, want, got, 1e-15, text)
	}
	for _, text := range []string{"", "a +", "b", "(a", "a a", "a)", "twice(1, 2)", "a*a", "a-a"} {
		_, err := evaluate(text, s)
		assert.Error(t, err, text)
	}
}

// formulaBuilds are builds of our own that between them have every result and
// every variant of a formula.
func formulaBuilds(t *testing.T) map[string]string {
	builds := map[string]string{}
	for _, name := range []string{"public-1.toml", "public-2.toml", "whole.toml", "three-hands.toml", "bare-cells.toml"} {
		builds[name] = testdata(t, name)
	}
	whole := builds["whole.toml"]
	builds["whole, trimmed, straight"] = with(t, whole, "hand.hours.drive.setting", "", "hand.hours.correct", "codes", "hand.hours.drive.rounding", "nearest")
	builds["whole, not measured, room around turnover"] = with(t, whole, "crystal.measured", "", "crystal.tick_counted", "", "crystal.room_high", "31 °C")
	builds["whole, measured on the day of trimming"] = with(t, whole, "crystal.measured_at", "")
	builds["one, odd counts"] = with(t, builds["public-1.toml"], "hand.hours.drive.counts", "255")
	builds["one, held trimmer"] = with(t, builds["public-1.toml"], "hand.hours.drive.fixed", "20 kΩ", "load.hours_on", "0 h")
	builds["one, drowsy"] = with(t, builds["public-1.toml"], "hand.hours.meter.damping", "1", "hand.hours.drive.capacitor_at", "coil", "battery.cells", "4")
	return builds
}

// TestFormulas evaluates the text of every row with what the BUILD says, and
// must reach the plan: the formula shown to people is the formula computed.
func TestFormulas(t *testing.T) {
	checked := map[string]int{}
	for name, text := range formulaBuilds(t) {
		t.Run(name, func(t *testing.T) {
			b, p := soundPlan(t, text)
			for _, row := range Rows(p) {
				text, kind := row.Formula, row.ID
				if row.OfHand() && b.Hands[row.Index].Drive.Capacitor.Number == 0 && row.Bare != "" {
					text, kind = row.Bare, row.ID+", bare"
				}
				got, err := evaluate(text, symbolsOf(b, p, row.Result, row.Index))
				require.NoError(t, err, row.ID)
				assert.True(t, near(got, row.Value, 1e-12), "%s: %s = %v, but the plan has %v", row.IDOf(b, row.Index), text, got, row.Value)
				checked[kind]++
			}
		})
	}
	for _, r := range results {
		assert.Positive(t, checked[r.ID], "%s is in no build", r.ID)
		if r.Bare != "" {
			assert.Positive(t, checked[r.ID+", bare"], "%s without a capacitor is in no build", r.ID)
		}
	}
}
