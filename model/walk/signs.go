package walk

// A sign is a row of the table of what somebody says yes to, since no field and no reading
// tells it. The yes is void as soon as something of its ground changes.
type sign struct {
	says   string // what is so then
	ground ground
}

// A ground is what a stage or a yes rests on.
type ground struct {
	paths    []string // of fields
	points   []string // readings, behind the name of the hand
	findings bool     // all that is found
}

// Conditions of which more is asked: that one value of the meter is what its dial says, and
// that the parts are soldered.
const fromDial, soldering = "from-dial", "parts-ticked"

// signs is that table, by the ids that the file has.
var signs = map[string]sign{
	fromDial: {"what nobody measured is signed as the dial has it",
		ground{paths: []string{"hand.meter.marked", "hand.meter.coil", "hand.meter.full_scale", "hand.meter.terminal_resistance", "hand.meter.terminal_full_scale"}}},
	"no-hum":        {"no hum is heard in a quiet room", ground{paths: smoothing}},
	"set-weekly":    {"it is set once a week", ground{}},
	"ruler-true":    {"the printed ruler measures true", ground{paths: dialled}},
	soldering:       {"every part is in, and measures right", ground{paths: soldered}},
	"first-power":   {"first power is signed", ground{paths: powered, points: dummies}},
	"needle-steady": {"the needle stands still, and nothing is heard", ground{paths: powered}},
	"ran-a-day":     {"it ran for a day", ground{paths: powered}},
	"accepted":      {"why what is left may stay is said", ground{findings: true}},
}

// What stages and signs rest on, what matters most first: it stays readable.
var (
	meters    = []string{"hand.meter.full_scale", "hand.meter.coil", "hand.meter.terminal_full_scale", "hand.meter.terminal_resistance", "hand.meter.in_circuit", "hand.meter.internal_kind", "hand.meter.internal", "hand.meter.diodes"}
	pins      = []string{"hand.drive.top", "hand.drive.counts", "hand.drive.duty_offset", "hand.drive.by", "hand.drive.pin_resistance", "hand.drive.switch_resistance", "hand.drive.switch_drop"}
	chain     = []string{"hand.drive.fixed", "hand.drive.trimmer", "hand.drive.stage"}
	pulses    = []string{"hand.drive.capacitor", "hand.drive.capacitor_at", "hand.drive.capacitor_kind", "hand.drive.clock", "hand.drive.prescale", "hand.meter.period", "hand.meter.overshoot", "hand.meter.damping", "hand.meter.inductance"}
	source    = []string{"rail.voltage", "rail.maximum", "battery.cell", "battery.cells", "converter.kind"}
	lampParts = []string{"lamp.resistor", "lamp.count"}
	crystals  = []string{"crystal.frequency", "crystal.measured", "crystal.capacitor_in", "crystal.capacitor_out", "crystal.load", "crystal.stray", "crystal.motional", "crystal.shunt", "crystal.tolerance", "crystal.reload", "crystal.prescale", "crystal.counter_bits", "crystal.lost_counts", "crystal.tick_counted"}

	driven    = join(source[:1], meters, chain, pins, []string{"hand.meter.overload", "hand.drive.pin_limit"})
	smoothing = join(pulses, chain, meters[:2], pins[:2])
	fed       = join(source, []string{"battery.capacity", "battery.series_drop", "converter.efficiency", "converter.minimum_input", "converter.dropout", "load.controller_on", "load.controller_off", "load.hours_on", "load.minimum_voltage", "lamp.forward"}, lampParts)
	dialled   = []string{"hand.shows", "hand.noon", "hand.correct", "hand.meter.sweep", "hand.meter.zero_at", "hand.meter.law", "hand.meter.scale_from", "hand.meter.table",
		"hand.dial.radius", "hand.dial.start", "hand.dial.ticks", "hand.dial.width", "hand.dial.height", "hand.dial.pivot_x", "hand.dial.pivot_y"}
	soldered = join(chain, []string{"hand.drive.capacitor", "hand.drive.capacitor_at", "hand.drive.capacitor_kind", "hand.drive.by", "hand.meter.diodes"}, lampParts, []string{"crystal.frequency", "crystal.capacitor_in", "crystal.capacitor_out", "rail.capacitor", "battery.cell", "battery.cells", "battery.series_drop", "converter.kind", "button.pull"})
	powered  = join(chain, source[:1], meters[:2], pins[:2], []string{"hand.drive.dummy", "hand.drive.capacitor"}, meters[2:], pins[2:], source[1:])
	dummies  = []string{"dummy_voltage_zero", "dummy_voltage_half", "dummy_voltage_top"}
	needles  = []string{"needle_half", "needle_top"}
)

func join(lists ...[]string) (all []string) {
	for _, l := range lists {
		all = append(all, l...)
	}
	return all
}
