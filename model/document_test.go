package model

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestDocumentSet(t *testing.T) {
	d := Open(testdata(t, "public-1.toml"))
	require.Empty(t, d.Problems)
	coil := Builds.Field("hand.meter.coil")
	wrong := d.Set(coil, 0, "9 V")
	assert.Equal(t, with(t, d.Text, "hand.hours.meter.coil", "9 V"), wrong.Text)
	require.NotNil(t, wrong.Problem(coil, 0))
	assert.Equal(t, "9 V", wrong.Problem(coil, 0).Given)
	assert.Nil(t, d.Problem(coil, 0), "the former document is as it was")
	assert.Equal(t, d.Text, wrong.Set(coil, 0, "920 Ω ±2 %").Text)
	assert.Same(t, d, d.Set(coil, 0, "920 Ω ±2 %"), "nothing changed")
}

func TestDocumentGivenAndAssumed(t *testing.T) {
	d := Open(with(t, testdata(t, "public-1.toml"), "hand.hours.drive.setting", "", "battery.capacity", ""))
	for _, c := range []struct { // birthplace: the file, catalogue.md "Absent means", and the cell's table
		path, given, assumed string
		ok                   bool
	}{
		{"hand.meter.coil", "920 Ω ±2 %", "", true}, {"hand.drive.setting", "", "", false}, {"hand.drive.prescale", "8", "8", true},
		{"hand.drive.rounding", "", "nearest", false}, {"hand.meter.overload", "", "1.2", false}, {"battery.capacity", "", "2.5 Ah", false},
		{"rail.maximum", "", "", false}, {"lamp.count", "2", "2", true},
	} {
		given, ok := d.Given(Builds.Field(c.path), 0)
		assert.Equal(t, c.given, given, c.path)
		assert.Equal(t, c.ok, ok, c.path)
		assert.Equal(t, c.assumed, d.Assumed(Builds.Field(c.path), 0), c.path)
	}
	assert.Empty(t, d.Assumed(Builds.Field("hand.meter.table"), 0))
	assert.Equal(t, "1", d.Assumed(Builds.Field("lamp.count"), 1), "the second lamp's")
}

// A key that is not there stays so when it is set to nothing.
func TestDocumentSetNothing(t *testing.T) {
	d := Open(testdata(t, "public-1.toml"))
	assert.Same(t, d, d.Set(Builds.Field("hand.drive.setting"), 0, ""))
}

// A text that is not TOML is not touched, and opens all the same.
func TestDocumentBroken(t *testing.T) {
	d := Open("format = 1\n[rail\n")
	require.NotEmpty(t, d.Problems)
	assert.Same(t, d, d.Set(Builds.Field("rail.voltage"), 0, "5 V"))
}
