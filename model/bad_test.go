package model

import (
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/calc"
	"example.com/needlewright/model/quantity"
)

// badInputs are at least five for each field that not every text fits, made
// from its row.
func badInputs(f *Field) []string {
	var bad []string
	switch f.zero().(type) {
	case *quantity.Value:
		bad = badQuantities(f)
	case *int:
		bad = []string{"4.7", "many", "3 V", "2 ±1", "1e3", strconv.Itoa(int(f.low) - 1), strconv.Itoa(int(f.high) + 1)}
	case *[]calc.Point:
		bad = []string{"half", `[["0 %"], ["100 %"]]`, `[[0, 0]]`, `[[0, 0], [50, "10 V"], [100, 100]]`, `[[0, 0], [50, "47 % ±1 %"], [100, 100]]`, `[0, 50, 100]`}
	case *[]calc.Charge:
		bad = []string{"flat", `[["0 %"], ["100 %"]]`, `[[0, 1.5]]`, `[[0, 1.5], [50, "10 %"], [100, 1]]`, `[[0, 1.5], [50, "1.2 V ±0.1 V"], [100, 1]]`, `[0, 50, 100]`}
	case *[]Hole:
		bad = []string{"many", `[["0 mm"], ["10 mm"]]`, `[[0, 0]]`, `[[0, 0, "10 V"]]`, `[[0, 0, "3 mm ±1 mm"]]`, `[0, 50, 100]`, `[[0, 0, 0]]`, `[[0, 0, -3]]`, `[[0, "900 mm", 3]]`}
	case *string:
		switch {
		case f.Choices != nil:
			bad = []string{f.Choices[0] + "x", "X" + f.Choices[0], " " + f.Choices[0], "3 V", "none or so"}
		case last(f.Path) == "name":
			bad = []string{"Hours!", "rail", "9lives", "two words", "-", "lämpchen"}
		}
	}
	if f.Must && f.Spared == nil {
		bad = append(bad, "")
	}
	return bad
}

func badQuantities(f *Field) []string {
	foreign := "3 V"
	if f.Unit.Base() == "V" {
		foreign = "3 Ω"
	}
	below := f.low / 2 // of a range that starts above 0
	if f.low <= 0 {
		below = 2*f.low - 1
	}
	return []string{
		"abc", foreign, "1.2.3", "1 ±", valueText(below, f.Unit), valueText(2*f.high, f.Unit),
	}
}

// TestBadInputs sets every field of a whole, sound build to each of its bad
// inputs: there is one problem, it says all it should, and the rest is read.
func TestBadInputs(t *testing.T) {
	text := testdata(t, "whole.toml")
	sound := soundBuild(t, text)
	for _, f := range Builds.Fields {
		bad := badInputs(f)
		if f.isWords() && last(f.Path) != "name" || f.list == "reading" { // any text fits, but none where one must be
			require.Equal(t, f.Must && f.Spared == nil, len(bad) == 1, f.Path)
		} else {
			require.GreaterOrEqual(t, len(bad), 5, f.Path)
		}
		for _, input := range bad {
			t.Run(f.Path+"="+input, func(t *testing.T) {
				checkBadInput(t, text, sound, f, input)
			})
		}
	}
}

func checkBadInput(t *testing.T, text string, sound *Build, f *Field, input string) {
	changed := with(t, text, f.PathOf(sound, 0), input)
	b, problems := Read(changed)
	require.Len(t, problems, 1, messages(problems))
	p := problems[0]
	header := f.Path[:max(0, len(f.Path)-len(last(f.Path))-1)]
	assert.Equal(t, lineOf(text, header, last(f.Path)), p.Line)
	assert.Equal(t, f.PathOf(b, 0), p.Path)
	assert.Equal(t, f.Label, p.Label)
	assert.Equal(t, input, p.Given)
	assert.NotEmpty(t, p.Wrong)
	assert.NotEmpty(t, p.Remedy)
	assert.Equal(t, f.Allowed(), p.Allowed)
	for _, part := range []string{p.Label, p.Wrong, p.Allowed, p.Remedy} {
		assert.Contains(t, p.Message(), part)
	}
	for _, other := range Builds.Fields {
		if other != f {
			assert.Equal(t, other.At(sound, 0), other.At(b, 0), "%s is not read", other.Path)
		}
	}
}

// TestBadKinds gives every field TOML values that are no text and no number.
func TestBadKinds(t *testing.T) {
	text := testdata(t, "whole.toml")
	for _, f := range Builds.Fields {
		v := Builds.scan(text).find(f.Path, 0)
		require.NotNil(t, v, f.Path)
		for _, kind := range []string{"true", "2024-02-29", "09:30:00", "inf", "nan", "[]", "{}", "[1, [2]]"} {
			changed := text[:v.start] + kind + text[v.end:]
			_, problems := Read(changed)
			if f.Path == "reading.value" && (kind == "inf" || kind == "nan") {
				continue // what the multimeter said is judged where it is used
			}
			if _, holes := f.zero().(*[]Hole); holes && kind == "[]" {
				continue // none
			}
			if f.spelled(kind) != kind {
				continue // it is TOML's word for yes
			}
			require.Len(t, problems, 1, "%s = %s: %v", f.Path, kind, messages(problems))
			assert.Equal(t, v.line, problems[0].Line, "%s = %s", f.Path, kind)
			assert.Equal(t, kind, problems[0].Given, "%s = %s", f.Path, kind)
			assert.NotEmpty(t, problems[0].Remedy, "%s = %s", f.Path, kind)
		}
	}
}

func TestTolerances(t *testing.T) {
	text := testdata(t, "whole.toml")
	// Birthplace: catalogue.md, "Quantities as text": symmetric only; none on
	// counts, names, curve or table cells; a % on a temperature is a problem.
	for _, c := range []struct{ path, input, wrong string }{
		{"hand.hours.meter.coil", "1.2 kΩ ±100 %", "its tolerance reaches zero"},
		{"hand.hours.drive.fixed", "27 kΩ ±101 %", "its tolerance reaches below zero"},
		{"hand.hours.drive.fixed", "27 kΩ +5 -2 %", "only a symmetric tolerance is understood, the same up and down"},
		{"crystal.turnover", "24 °C ±5 %", ""},
		{"battery.cells", "4 ±1", "a count has no tolerance"},
	} {
		_, problems := Read(with(t, text, c.path, c.input))
		require.Len(t, problems, 1, "%s = %s", c.path, c.input)
		assert.Equal(t, c.input, problems[0].Given)
		assert.Contains(t, problems[0].Wrong, c.wrong)
	}
	assert.Empty(t, second(Read(with(t, text, "hand.hours.drive.fixed", "27 kΩ ±100 %"))), "down to nothing is in range")
	assert.Empty(t, second(Read(with(t, text, "crystal.turnover", "24 °C ±5 °C"))))
}

func second(_ *Build, problems []Problem) []Problem { return problems }

// Birthplace: common practice, no source: 2 to 100 points of a law, 2 to 50 of a
// curve.
func TestLengthOfTables(t *testing.T) {
	text := testdata(t, "whole.toml")
	for path, most := range map[string]int{"hand.hours.meter.table": 100, "battery.curve": 50} {
		rows := func(n int) string {
			list := make([][]string, n)
			for i := range list {
				share := valueText(float64(i)/float64(n-1), quantity.Percent)
				list[i] = []string{share, share}
				if path == "battery.curve" {
					list[i][1] = "1.5 V" // flat, which a curve may be
				}
			}
			return rowsText(list)
		}
		for _, n := range []int{2, most} {
			assert.Empty(t, second(Read(with(t, text, path, rows(n)))), path)
		}
		problems := second(Read(with(t, text, path, rows(most+1))))
		require.Len(t, problems, 1, path)
		assert.Contains(t, problems[0].Wrong, "pairs are needed")
	}
}

// Marks and numerals of a dial that cannot be read for what the hand shows are one problem
// each, which says what is wrong with them; those of the other kinds are sound.
// Birthplace: derived by hand, from what a dial of 24 hours and the others have.
func TestBadDial(t *testing.T) {
	text := testdata(t, "whole.toml")
	for _, c := range [][3]string{
		{"ticks", "15 min", "three kinds of marks are needed, 1 given"},
		{"ticks", "15 min, 1 h", "three kinds of marks are needed, 2 given"},
		{"ticks", "1 h, 15 min, 3 h", "not among those every 1 h"},
		{"ticks", "7 min, 1 h, 3 h", "do not come out even"},
		{"ticks", "15, 60, 180", `"15" is no time between marks`},
		{"ticks", "15 min, 1 h, 5 h", "do not come out even"},
		{"ticks", "0 min, 1 h, 3 h", "no time between marks"},
		{"ticks", "30 s, 1 h, 3 h", "no time between marks"},
		{"ticks", "0.5 min, 1 h, 3 h", "finer than a dial is marked"},
		{"numerals", "12, 3, x", `"x" is no numeral of this dial`},
		{"numerals", "12, 6, 3", "6 does not stand behind 12"},
		{"numerals", "3, 3", "3 does not stand behind 3"},
		{"numerals", "12, 25", "25 is not on this dial"},
		{"numerals", "3,,6", "is no numeral"},
		{"numerals", "-3", "is not on this dial"},
		{"numerals", "24, 0", "0 does not stand behind 24"},
	} {
		_, problems := Read(with(t, text, "hand.hours.dial."+c[0], c[1]))
		require.Len(t, problems, 1, c[1])
		assert.Equal(t, "hand.hours.dial."+c[0], problems[0].Path)
		assert.Equal(t, c[1], problems[0].Given)
		assert.Contains(t, problems[0].Message(), c[2])
		assert.NotEmpty(t, problems[0].Remedy)
		assert.NotEmpty(t, problems[0].Allowed)
	}
	for _, c := range [][2]string{
		{"ticks", "30 min, 1 h, 1 h"}, {"ticks", "1min,1h,6h"}, {"numerals", "all"}, {"numerals", "none"}, {"numerals", "0, 24"},
		{"numerals", "24, 6, 12, 18, 24"}, {"numerals", "24"}, {"numerals", "6"}, {"holes", "[]"},
	} {
		_, problems := Read(with(t, text, "hand.hours.dial."+c[0], c[1]))
		assert.Empty(t, problems, c[1])
	}
}
