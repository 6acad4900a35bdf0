package model

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model/quantity"
)

// unitOf is a unit, as it is typed, of what the table of what to enter instead speaks of.
var unitOf = map[string]string{"voltage": "mV", "current": "mA", "power": "mW", "time": "µs", "frequency": "Hz", "offset": "ppm"}

// Each row of what to enter instead is of a quantity that is not measured so, is said where
// such a unit is given, and not where the unit is none or the number is.
func TestWhatToEnterInstead(t *testing.T) {
	text := testdata(t, "whole.toml")
	require.NotEmpty(t, instead)
	seen := map[[2]string]bool{}
	for _, row := range instead {
		f := Builds.Field(row.path)
		require.NotNil(t, f, row.path)
		assert.False(t, seen[[2]string{row.path, row.measures}], "%s is there twice", row.path)
		seen[[2]string{row.path, row.measures}] = true
		unit := unitOf[row.measures]
		require.NotEmpty(t, unit, row.measures)
		_, err := quantity.Parse("3 "+unit, f.Unit)
		require.Error(t, err, row.path)

		d := Open(text).Set(f, 0, "3 "+unit)
		p := d.Problem(f, 0)
		require.NotNil(t, p, row.path)
		assert.Equal(t, row.enter, p.Remedy, row.path)
		assert.Contains(t, p.Message(), "is a unit of "+row.measures, row.path)
		assert.Equal(t, f.Allowed(), p.Allowed)
		p = Open(text).Set(f, 0, "3 zz").Problem(f, 0)
		require.NotNil(t, p, row.path)
		assert.NotEqual(t, row.enter, p.Remedy, row.path)
	}
	// What the dial of a voltmeter says, at full scale.
	p := Open(text).Set(Builds.Field("hand.meter.full_scale"), 0, "60 mV").Problem(Builds.Field("hand.meter.full_scale"), 0)
	assert.Contains(t, p.Remedy, "enter the current")
	assert.Contains(t, p.Remedy, "divided by its resistance")
}

// Names of choices as people write them, and what fits nothing. Birthplace: the tables of
// choices, and IEC 60086's names in cells.go.
func TestFitting(t *testing.T) {
	cell := Builds.Field("battery.cell")
	for text, want := range map[string][]string{
		"AA":           {"alkaline AA", "zinc-carbon AA", "lithium FeS2 AA", "LSD NiMH AA"},
		"aaa cells":    {"alkaline AAA"},
		"D battery":    {"alkaline D"},
		"9V":           {"alkaline 9 V block"},
		"9 v":          {"alkaline 9 V block"},
		"coin cell":    {"CR2032"},
		"cr 2032":      {"CR2032"},
		"ALKALINE AA":  {"alkaline AA"},
		"NiMH":         {"LSD NiMH AA"},
		"rechargeable": {"LSD NiMH AA", "Li-ion 18650, protected"},
		"lr6":          {"alkaline AA"},
		"AAAA":         nil,
		"battery":      nil,
		"":             nil,
		"3 V":          nil,
	} {
		assert.Equal(t, want, cell.Fitting(text), text)
	}
	assert.Equal(t, []string{"12 h"}, Builds.Field("hand.shows").Fitting("12h"))
	assert.Nil(t, Builds.Field("title").Fitting("12h"))
	assert.Equal(t, []string{"boost"}, Builds.Field("converter.kind").Fitting("step up"))
	for _, f := range Builds.Fields {
		for name := range f.Called {
			assert.Contains(t, f.Choices, name, f.Path)
		}
	}
}
