package bench

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/modeltest"
)

// withRows is reading-room, whose top code is 240, with rows of its scale: code, of, where it stood, where from.
func withRows(t *testing.T, rows ...[4]string) *Bench {
	t.Helper()
	d := model.Open(modeltest.Example("reading-room"))
	for _, r := range rows {
		values := map[string]model.NewValue{}
		for i, key := range []string{"code", "of", "stands", "going"} {
			values["hand.scale."+key] = model.NewValue{Text: r[i]}
		}
		var problem *model.Problem
		d, problem = d.AddRow("hand.scale", 0, values)
		require.Nil(t, problem)
	}
	return New(modeltest.Sound(t, d.Text))
}

// A row with the top code, and one with half of it, are readings of the needle there: worked by hand, 3:00 of 12 h is a
// quarter. A reading of the file goes before; a row with another top code says nothing of this one.
func TestRowsOfTheScaleAreReadings(t *testing.T) {
	for _, c := range []struct {
		name string
		rows [][4]string
		want map[string]float64
	}{
		{"none", nil, map[string]float64{}},
		{"both", [][4]string{{"240", "", "98 %", ""}, {"120", "240", "3:00", ""}, {"60", "240", "20 %", ""}}, map[string]float64{"hours.needle_top": 0.98, "hours.needle_half": 0.25}},
		{"another top", [][4]string{{"120", "120", "98 %", ""}, {"240", "250", "90 %", ""}}, map[string]float64{}},
		{"up and down", [][4]string{{"120", "240", "48 %", "up"}, {"120", "240", "50 %", "down"}}, map[string]float64{"hours.needle_half": 0.49}},
		{"tapped too", [][4]string{{"120", "240", "51 %", ""}, {"120", "240", "48 %", "up"}, {"120", "240", "50 %", "down"}}, map[string]float64{"hours.needle_half": 0.51}},
		{"the later", [][4]string{{"240", "240", "96 %", ""}, {"240", "240", "97 %", ""}}, map[string]float64{"hours.needle_top": 0.97}},
	} {
		got := map[string]float64{}
		for _, r := range withRows(t, c.rows...).Judge(nil).Readings {
			got[r.At] = r.Value
			assert.Equal(t, -1, r.Index, c.name)
			assert.NotEmpty(t, r.Given, c.name)
		}
		require.Len(t, got, len(c.want), c.name)
		for id, want := range c.want {
			assert.InDelta(t, want, got[id], 1e-12, "%s: %s", c.name, id)
		}
	}
	r := withRows(t, [4]string{"240", "240", "98 %", ""}).Judge([]model.Reading{{At: "hours.needle_top", Value: "60 %"}})
	require.Len(t, r.Readings, 1)
	assert.InDelta(t, 0.6, r.Readings[0].Value, 1e-12, "the file's own goes before")
	assert.Equal(t, 0, r.Readings[0].Index)
}

// It is weighed like any other: a needle at a tenth of the scale with the top code is a fault, and says so without a reading.
func TestRowsOfTheScaleAreWeighed(t *testing.T) {
	r := withRows(t, [4]string{"240", "240", "11 %", ""}).Judge(nil)
	assert.Equal(t, Outside, r.Readings[0].Verdict)
	require.NotEmpty(t, r.Causes)
	assert.NotEqual(t, Nothing, r.Causes[0].ID)
	assert.True(t, r.IsWeighed())
	assert.Equal(t, Outside, withRows(t, [4]string{"240", "240", "11 %", ""}).Verdicts(nil).Readings[0].Verdict)
}
