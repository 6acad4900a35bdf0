package modeltest

import (
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

// everyError makes each row of the budget of the reading room's hand, but for those
// of bare cells and of a seconds hand.
var everyError = []string{
	"hand.hours.meter.zero_offset", "1.5 %", "hand.hours.meter.diodes", "silicon", "hand.hours.meter.panel_for", "steel", "hand.hours.meter.panel", "not steel",
	"hand.hours.drive.pin_high", "75 Ω", "hand.hours.drive.pin_low", "40 Ω", "hand.hours.drive.capacitor_kind", "electrolytic", "hand.hours.drive.setting", "950 Ω",
	"battery.cells", "4",
}

// WithErrors returns builds by a name: the examples, those of testdata, and one hand
// with every error, of every law however it is straightened.
func WithErrors(t testing.TB) map[string]string {
	t.Helper()
	files, err := filepath.Glob("../../examples/*.toml")
	require.NoError(t, err)
	all := map[string]string{}
	for _, f := range append(files, "../testdata/whole.toml", "../testdata/three-hands.toml", "../testdata/public-1.toml", "../testdata/public-2.toml", "../testdata/bare-cells.toml") {
		all[f] = FileText(f)
	}
	bare := With(t, Example("reading-room"), everyError...)
	for _, correct := range []string{"none", "codes", "dial"} {
		text := With(t, bare, "hand.hours.correct", correct)
		all["linear, "+correct] = text
		all["square, "+correct] = With(t, text, "hand.hours.meter.law", "square")
		all["table, "+correct] = With(t, text, "hand.hours.meter.law", "table", "hand.hours.meter.table", "[[0, 0], [30, 20], [45, 60], [100, 100]]")
	}
	all["table, no filter"] = With(t, all["table, none"], "hand.hours.drive.capacitor", "0 F")
	all["stage"] = With(t, bare, "hand.hours.drive.capacitor_at", "stage", "hand.hours.drive.stage", "330 Ω", "hand.hours.meter.stick", "2 %")
	all["pin's bend"] = With(t, Example("reading-room"), "hand.hours.meter.class", "", "rail.drift", "0 %", "hand.hours.meter.stick", "0 %", "hand.hours.meter.coil_copper", "0 %",
		"hand.hours.drive.resistor_tempco", "0 ppm/K", "crystal.frequency", "", "hand.hours.drive.clock", "16 MHz", "hand.hours.drive.prescale", "1", "hand.hours.drive.pin_high", "1 kΩ", "hand.hours.drive.pin_low", "40 Ω")
	all["slow seconds"] = With(t, bare, "hand.hours.shows", "60 s", "hand.hours.meter.period", "3 s")
	return all
}
