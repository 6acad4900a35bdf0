package report

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/modeltest"
)

func example(t *testing.T, name string) *Report {
	t.Helper()
	report, problems := Check(modeltest.Example(name))
	require.Empty(t, problems)
	return report
}

// What is sound raises no caution: the first example but for its step-up board, which drifts by 2 %, and those built with
// care.
func TestSoundExamples(t *testing.T) {
	for _, name := range []string{"reading-room", "harbour-office", "station-platform"} {
		for _, f := range example(t, name).Findings {
			assert.True(t, f.Severity <= judge.Note || name == "reading-room" && f.ID == "rail_drift", "%s: %s", name, f)
		}
	}
}

// The faulty example raises what was built into it, as its first lines say, and
// nothing else.
func TestFaultyExample(t *testing.T) {
	built := map[string][]string{
		"the fixed resistor is a size too small": {"fault hours trimmer_travel", "fault hours full_scale_reached", "caution hours overload_worst"},
		"the trimmer has one turn":               {"note hours trim_step"},
		"the capacitor hangs straight on the pin": {
			"fault hours pin_peak_current", "note hours filter_draws", "note hours filter_idle",
		},
		"250 codes do not divide the dial":      {"note hours equal_steps"},
		"the scale was never measured":          {"note hours scale_class"},
		"the step-up board drifts":              {"caution  rail_drift"},
		"its power lamp is still on":            {"caution  converter_share", "fault  life_standby"},
		"four fresh cells stand above the rail": {"fault  rail_maximum", "caution  passes_through"},
		"the load capacitors are twice too big": {"fault  load_offset", "fault  gain_margin", "caution  month_drift"},
		"the lamps eat the cells": {
			"fault seconds lamp_current", "caution  pins_together", "note  lamps_share", "fault  life_on",
		},
		"the step-up goes on past their end": {"note  past_cutoff"},
	}
	var want, got []string
	for _, findings := range built {
		want = append(want, findings...)
	}
	for _, f := range example(t, "school-store").Findings {
		got = append(got, f.Severity.String()+" "+f.About+" "+f.ID)
	}
	assert.ElementsMatch(t, want, got)
}
