package judge

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"example.com/needlewright/calc"
	"example.com/needlewright/model/modeltest"
	"example.com/needlewright/model/quantity"
)

// sayings are what findings say, with their numbers derived by hand, as said
// above each; what is done to the build is a case's, or stands here.
var sayings = []struct {
	id, about string
	changes   []string
	says      []string
}{
	// 250 µA; 5 V/1550 Ω.
	{"pin_mean_current", "hours", []string{"hand.hours.drive.pin_limit", "0.998 mA"}, []string{"250 µA", "25.1 %"}},
	{"pin_peak_current", "hours", []string{"hand.hours.drive.pin_limit", "6.45 mA"}, []string{"3.23 mA", "50.0 %"}},
	// 188/18 750, 0.3·720 min of it; 0.7·5/18.75, 0.393·720/10 min of it.
	{"pin_share", "hours", []string{"hand.hours.drive.pin_resistance", "188 Ω"}, []string{"1.00 %", "2.166 min"}},
	{"coil_share", "hours", []string{"hand.hours.meter.coil", "5 kΩ", "hand.hours.drive.fixed", "10 kΩ"}, []string{"18.7 %", "5.282 min"}},
	// 10.339 and 14.222 mW, as in the cases.
	{"resistor_power", "hours", []string{"hand.hours.drive.resistor_rating", "20.6 mW", "hand.hours.drive.stage", "500 Ω"}, []string{"10.3 mW", "50.2 %"}},
	{"trimmer_power", "hours", and(small, []string{"hand.hours.drive.resistor_rating", "28.4 mW"}), []string{"14.2 mW", "50.1 %"}},
	// 0.2 % at 28.517 Hz falls with the frequency's square: 58.3 kHz/2048 is 28.467 Hz; ·0.9 s; ·720 min.
	{"ripple_needle", "hours", and(noFilter, []string{"hand.hours.drive.clock", "58.3 kHz"}), []string{"0.201 %", "1.445 min"}},
	{"pwm_slow", "hours", and(noFilter, []string{"hand.hours.drive.clock", "40.96 kHz"}), []string{"20.0 Hz", "18.0 periods"}},
	// 16/15 of full scale; 2 MHz/2048; 1/(2π·0.343 µF·1421.87 Ω); 645.16 µA (public-1.json), 125 of them the meter's.
	{"hum", "hours", and(noFilter, pure), []string{"107 %", "977 Hz"}},
	{"filter_idle", "hours", []string{"hand.hours.drive.capacitor", "0.343 µF"}, []string{"326 Hz", "977 Hz"}},
	{"filter_draws", "hours", nil, []string{"520 µA", "4.16 times"}},
	{"capacitor_voltage", "hours", []string{"hand.hours.drive.capacitor_rating", "7.57 V"}, []string{"5.05 V", "1.50 times"}},
	{"law_ripple", "hours", []string{"hand.hours.meter.table", halfAt("50.417 %"), "hand.hours.drive.capacitor", "0", "hand.hours.meter.inductance", "0"},
		[]string{"If the law is that of a moving iron: the coil's", "-3.002 min"}}, // 0.417 % of 720 min
	// 2.5 nA·(e^(0.24975/0.0463) - 1).
	{"diode_bend", "hours", []string{"hand.hours.meter.coil", "999 Ω", "hand.hours.meter.diodes", "silicon"}, []string{"548 nA"}},
	{"equal_steps", "hours", []string{"hand.hours.drive.top", "250", "hand.hours.correct", "none"}, []string{"250 codes", "720 steps"}},
	{"top_code", "hours", []string{"hand.hours.drive.top", "256"}, []string{"256 counts", "255"}},
	{"code_step", "hours", []string{"hand.hours.mark", "5.99 min"}, []string{"3.000 min", "5.990 min"}},
	{"scale_class", "hours", []string{"hand.hours.meter.class", "0.417 %", "hand.hours.meter.law", "linear"}, []string{"0.417 %", "±3.002 min"}},
	// A square shows a quarter at half: three hours of twelve.
	{"uneven_scale", "hours", []string{"hand.hours.meter.law", "square", "hand.hours.correct", "none"}, []string{"180.0 min wrong"}},
	{"coil_voltage", "hours", []string{"hand.hours.meter.coil", "640 Ω", "hand.hours.meter.full_scale", "5 mA"}, []string{"3.20 V", "20 to 500 mV"}},
	{"inside", "hours", and(multiplier, []string{"hand.hours.meter.internal", "3.47 kΩ"}), []string{"multiplier", "99.0 %"}},
	{"inside_is_coil", "hours", []string{"hand.hours.meter.internal_kind", "multiplier", "hand.hours.meter.internal", "920 Ω"}, []string{"both 920 Ω"}},
	{"inside_value", "hours", []string{"hand.hours.meter.in_circuit", "yes", "hand.hours.meter.internal_kind", "multiplier", "hand.hours.meter.internal", ""}, []string{"The multiplier that is left inside has no value here"}},
	{"inside_value", "hours", []string{"hand.hours.meter.in_circuit", "yes", "hand.hours.meter.internal_kind", "none", "hand.hours.meter.internal", ""}, []string{"What is left inside has no value here"}},
	{"origin", "hours", []string{"hand.hours.meter.origin", "mains"}, []string{"not said to be out of its set", "mains equipment"}},
	{"origin", "hours", []string{"hand.hours.meter.origin", "vehicle"}, []string{"not said to be out of its set", "airbags"}},
	{"origin", "hours", []string{"hand.hours.meter.origin", "high voltage"}, []string{"high-voltage equipment"}},
	{"rail_maximum", "", []string{"rail.maximum", "5.04 V"}, []string{"5.05 V", "5.04 V"}},
	{"passes_through", "", []string{"rail.voltage", "4.96 V"}, []string{"4.77 V", "4.96 V"}},
	{"kind", "hours", []string{"hand.hours.meter.kind", "cross coil"}, []string{"cross coil has no spring"}},
	{"law_assumed", "hours", []string{"hand.hours.meter.kind", "thermal", "hand.hours.meter.law", ""}, []string{"judged as a square"}},
	{"glow", "hours", []string{"hand.hours.meter.glow", "yes"}, []string{"may be radium"}},
	{"half_scale", "hours", []string{"hand.hours.meter.zero_at", "centre"}, []string{"half of the scale is the dial"}},
	{"bridge_rest", "hours", []string{"hand.hours.drive.by", "bridge"}, []string{"rests at an end"}},
	{"bridge_capacitor", "hours", []string{"hand.hours.drive.by", "bridge", "hand.hours.drive.capacitor", "1 µF"}, []string{"charged both ways"}},
	// 20 % of 720 min.
	{"suppressed_zero", "hours", []string{"hand.hours.correct", "none", "hand.hours.meter.scale_from", "20 %"}, []string{"20.0 %", "144.0 min"}},
	{"scale_few", "hours", scaleRows("0 %", "", "", "", "", "", "100 %"), []string{"2 of 3 points"}},
	{"scale_rescaled", "hours", and(evenScale, []string{"hand.hours.scale.4.of", "241"}), []string{"Row 4", "another top code"}},
	{"brown_out", "", []string{"load.minimum_voltage", "4.81 V"}, []string{"5.00 V", "4.81 V"}},
	// 720 min and 240 codes of it.
	{"rail_drift", "", []string{"rail.drift", "3.01 %"}, []string{"3.01 %", "21.67 min", "7.22 codes"}},
	{"fade_error", "", []string{"load.minimum_voltage", "4.94 V", "converter.kind", "none"}, []string{"8.640 min", "1.20 %"}},
	{"pins_together", "", []string{"load.package_limit", "14.7 mA"}, []string{"7.36 mA", "50.1 %"}},
	{"load_unknown", "", []string{"load.controller_on", ""}, []string{"the controller's currents and the cells' capacity"}},
	{"pack_carries", "", []string{"battery.resistance", "48.9 Ω"}, []string{"cannot carry"}},
	{"peak_cell_current", "", and(dark, []string{"battery.cell", "CR2032", "load.controller_on", "2.13 mA"}), []string{"3.01 mA", "CR2032 is good for 3.00 mA"}},
	{"stranded", "", []string{"converter.minimum_input", "3.21 V", "battery.resistance", "0"}, []string{"within 0.1 V", "3.21 V"}},
	{"life_standby", "", []string{"battery.shelf", "5 a"}, []string{"5.00 years"}},
	// 1500·(1/12.55 - 1/13.7) ppm, 0.0864 s a day each.
	{"load_offset", "", []string{"crystal.stray", "11.35 pF", "crystal.capacitor_in", "0"}, []string{"10.0 ppm", "0.867 s/day"}},
	{"gain_margin", "", []string{"crystal.transconductance", "8.2 µS"}, []string{"5.00 times", "1.64 µS"}}, // 1.6409 µS by public-1.json
	{"gain_margin", "", []string{"crystal.transconductance", ""}, []string{"1.64 µS"}},
	// 1.13/32 768·86 400 s·30.4375.
	{"month_drift", "", and(true32, []string{"crystal.measured", "32769.13 Hz"}), []string{"90.7 s", "3.000 min"}},
	{"lamp_power", "seconds", []string{"lamp.seconds.resistor_rating", "19.2 mW"}, []string{"9.61 mW", "50.1 %"}}, // (3.1 mA)²·1 kΩ
	{"lamp_unknown", "seconds", []string{"lamp.seconds.forward", ""}, []string{"not known"}},
	{"unusual", "hours", []string{"hand.hours.meter.coil", "10.01 kΩ"}, []string{"Coil of 10.01 kΩ", "5 Ω to 10 kΩ"}},
	{"unusual", "hours", []string{"hand.hours.meter.full_scale", "20.01 mA"}, []string{"Full scale of 20.01 mA", "10 µA to 20 mA"}},
	{"unusual", "", []string{"rail.voltage", "5.51 V ±1 %"}, []string{"Rail of 5.51 V is", "1.8 V to 5.5 V"}},
	{"unusual", "hours", []string{"hand.hours.drive.counts", "1025"}, []string{"Counts of 1025", "240 to 1024"}},
	{"unusual", "hours", []string{"hand.hours.drive.trimmer", "99 Ω"}, []string{"Trimmer of 99 Ω", "100 Ω to 100 kΩ"}},
	{"unusual", "", []string{"crystal.load", "5.99 pF"}, []string{"Specified load of 5.99 pF", "6 pF to 12.5 pF"}},
}

// TestFindingsSay: a finding carries its numbers. The text of every row is in
// sayings, or carries the figure that is judged, to three digits, in every case.
func TestFindingsSay(t *testing.T) {
	said := map[int]bool{}
	for _, c := range sayings {
		j := judgedText(t, modeltest.With(t, caseText(t), c.changes...))
		found := false
		for k, f := range j.findings {
			if f.ID == c.id && f.About == c.about && saysAll(f.Text, c.says) {
				found, said[rowOf(j.all[k].rule)] = true, true
			}
		}
		assert.True(t, found, "%s %v: none says %q of %v", c.id, c.changes, c.says, j.findings)
	}
	for _, text := range casesTexts(t) {
		j := judgedText(t, text)
		for k, f := range j.findings {
			g := j.all[k]
			if strings.Contains(g.rule.says(subject{j.b, j.p, g.i}, "§"), "§") || !said[rowOf(g.rule)] {
				assertCarries(t, f, g)
			}
		}
	}
}

func saysAll(text string, parts []string) bool {
	return !slices.ContainsFunc(parts, func(part string) bool { return !strings.Contains(text, part) })
}

func assertCarries(t *testing.T, f Finding, g graded) {
	t.Helper()
	figures := figuresIn(f.Text, g.rule.unit)
	figure := g.x
	if strings.Contains(f.Text, " past it") { // what is below 0 is so much past its end
		figure = -figure
	}
	assert.True(t, slices.ContainsFunc(figures, func(x float64) bool { return modeltest.Near(x, figure, 0.0051) }), "%s: %v is not in %v", f, figure, figures)
}

// numbered are a number and the word behind it.
var numbered = regexp.MustCompile(`-?[0-9]+(?:\.[0-9]+)?(?: ?[^\s0-9.,:;]+)?`)

// figuresIn are the numbers of a text that can be read in a unit.
func figuresIn(text string, u quantity.Unit) []float64 {
	var found []float64
	add := func(words string, u quantity.Unit, factor float64) {
		if v, err := quantity.Parse(words, u); err == nil {
			found = append(found, v.Number*factor)
		}
	}
	for _, words := range numbered.FindAllString(text, -1) {
		number, word, _ := strings.Cut(words, " ")
		switch hours := map[string]float64{"h": 1, "days": 24, "months": calc.HoursAYear / 12.0, "years": calc.HoursAYear}[word]; {
		case u == quantity.Hours:
			add(number, quantity.Times, hours)
		case u == quantity.Times:
			add(number, quantity.Times, 1)
		case u == quantity.Minutes:
			add(words, quantity.Minutes, 1)
			add(words, quantity.Seconds, 1.0/60)
		default:
			add(words, u, 1)
			if word == "times" {
				add(number, quantity.Times, 1)
			}
		}
	}
	return found
}
