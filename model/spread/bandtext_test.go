package spread

import (
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/quantity"
)

// Value and band in the same unit, with the same decimals. Derived.
func TestBandText(t *testing.T) {
	for _, c := range []struct {
		unit             quantity.Unit
		value, low, high float64
		text, band       string
	}{
		{quantity.Ohms, 485, 295, 675, "485.0 Ω", "295.0 … 675.0 Ω"},
		{quantity.Ohms, 995, 985, 1005, "995.0 Ω", "985.0 … 1005.0 Ω"},
		{quantity.Ohms, 16280, 15842, 16732, "16.28 kΩ", "15.84 … 16.73 kΩ"},
		{quantity.Percent, 0.485, 0.302, 0.6725, "48.50 %", "30.20 … 67.25 %"},
		{quantity.Times, 1.161, 1.103, 1.1609, "1.161", "1.103 … 1.161"},
		{quantity.SecondsPerDay, -0.6263, -3.4856, 0.00001, "-0.6263 s/day", "-3.4856 … 0.0000 s/day"},
		{quantity.PPM, 0, -20, 20, "0 ppm", "-20.00 … 20.00 ppm"},
		{quantity.SecondsPerDay, 0.0006, -1.5, 2.25, "0.0006000 s/day", "-1.500 … 2.250 s/day"},
		{quantity.Seconds, 0.02, -64.74, 68.68, "20.00 ms", "-64.74 … 68.68 s"},
		{quantity.Minutes, 2.585, 2.549, 2.622, "2.585 min", "2.549 … 2.622 min"},
		{quantity.Minutes, 0.9, 0.8, 1.1, "54.00 s", "48.00 … 66.00 s"},
		{quantity.Minutes, 0.05 / 60, 0.04 / 60, 0.06 / 60, "50.00 ms", "40.00 … 60.00 ms"},
		{quantity.Minutes, 1e-8, 1e-9, 2e-8, "under 1 ms", "under 1 ms"},
		{quantity.Minutes, 1e-8, 0, 1.0 / 60, "under 1 ms", "0.000 … 1.000 s"},
		{quantity.Hours, 240, 200, 300, "10.0 days", "8.3 … 12.5 days"},
		{quantity.Hours, 8766, 7000, 17532, "12.0 months", "9.6 … 24.0 months"},
		{quantity.Picofarads, 12e-12, 11e-12, 13e-12, "12.00 pF", "11.00 … 13.00 pF"},
	} {
		row := Row{Outcome: circuit.Outcome{Result: &circuit.Result{Unit: c.unit}, Value: c.value}, Band: &Band{Low: c.low, High: c.high}}
		assert.Equal(t, c.text, row.Text())
		assert.Equal(t, c.band, row.BandText())
	}
	assert.Empty(t, Row{Outcome: circuit.Outcome{Result: &circuit.Result{}}}.BandText(), "not worked out")
	assert.Empty(t, Row{Outcome: circuit.Outcome{Result: &circuit.Result{}, Value: 2}, Band: &Band{Low: 2, High: 2}}.BandText(), "nothing moves it")
}

// What is far below what anyone can measure, or mere rounding, reads as 0, and its
// band in the band's own digits. Derived: a month has 30.4375 days.
func TestDustReadsAsNothing(t *testing.T) {
	named := map[string]*circuit.Result{}
	for i := range circuit.Results {
		named[circuit.Results[i].ID] = &circuit.Results[i]
	}
	for _, c := range []struct {
		id               string
		value, low, high float64
		text, band       string
	}{
		{"crystal.rate", 0.00049, -1.5, 2.25, "0 s/day", "-1.500 … 2.250 s/day"},
		{"crystal.rate", -0.00051, -0.002, 0.001, "-0.0005100 s/day", "-0.0020000 … 0.0010000 s/day"},
		{"crystal.load_offset", 4.6e-14, -11.52, 14.32, "0 ppm", "-11.52 … 14.32 ppm"},
		{"crystal.month_drift", 60.19e-15, -64.737860, 68.677213, "0 s", "-64.74 … 68.68 s"},
		{"crystal.month_drift", -0.0152, -0.5, 0.3, "0 s", "-500.0 … 300.0 ms"},
		{"crystal.month_drift", 0.0153, -0.5, 0.3, "15.30 ms", "-500.00 … 300.00 ms"},
	} {
		row := Row{Outcome: circuit.Outcome{Result: named[c.id], Value: c.value}, Band: &Band{Low: c.low, High: c.high}}
		assert.Equal(t, c.text, row.Text(), c.id)
		assert.Equal(t, c.band, row.BandText(), c.id)
	}
}

// Every band of the examples reads as two numbers and the unit of the value.
func TestBandTextsOfExamples(t *testing.T) {
	parts := regexp.MustCompile(`^(-?\d+(?:\.(\d+))?) … (-?\d+(?:\.(\d+))?)(.*)$`)
	value := regexp.MustCompile(`^-?\d+(?:\.(\d+))?(.*)$`)
	for _, name := range exampleNames {
		for _, row := range exampleBanded(t, name).Results {
			if text := row.BandText(); text != "" && text != "under 1 ms" && !strings.HasPrefix(row.Text(), "0 ") {
				band, own := parts.FindStringSubmatch(text), value.FindStringSubmatch(row.Text())
				if assert.NotNil(t, band, text) && assert.NotNil(t, own, row.Text()) {
					decimals := len(own[1])
					assert.Equal(t, []any{decimals, decimals, own[2]}, []any{len(band[2]), len(band[4]), band[5]}, "%s: %s, %s", row.ID, row.Text(), text)
				}
			}
		}
	}
}
