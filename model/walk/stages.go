package walk

import "example.com/needlewright/model/judge"

// harmful are the findings that no row meets: what overloads a meter or a pin, a rail that is
// too high or too low, cells that cannot carry the clock or would be hurt, and a meter that
// is still in what it came from.
var harmful = []string{
	"overload_worst", "driven", "pin_mean_current", "pin_peak_current", "pins_together", "resistor_power", "trimmer_power", "capacitor_voltage", "bridge_capacitor",
	"rail_maximum", "pack_voltage", "brown_out", "fade_error", "lamp_current", "lamp_power",
	"pack_carries", "peak_cell_current", "stranded", "life_on", "life_standby", "origin",
}

// Stages is the table of the stages, in their order. Ids and what each is done with are the
// contract's; purposes, questions and cautions are common practice, no source.
var Stages = []Stage{
	{ID: "survey", Title: "What is this meter?", OfHand: true,
		Purpose: "Find out what your meter is, before anything is joined to it. Two numbers say it: the current for its last mark, and the ohms of its coil.",
		Caution: "Never an ohmmeter on an unknown coil, nor a cell without a resistor. Still in a set, or glowing paint: stop, ask.",
		Pages: []Page{
			{
				{Field: "hand.meter.origin", What: "Where is it from?", How: "Bought as a part: new. Out of what had a mains plug: mains. Out of a junk box or what ran on batteries: salvaged."},
				{Field: "hand.meter.removed", What: "Is it out, nothing on its terminals?", How: "Asked of what came from mains, high voltage or a vehicle. Taking it out is for licensed practice.", when: fromASet},
				{Field: "hand.meter.glow", What: "Painted parts that may glow?", How: "Hands and figures. No: go on. Yes, or not known: do not open it, show it to your teacher."},
			},
			{
				{Field: "hand.meter.marked", What: "What does its dial say?", How: "alt+s surveys the meter, connection by connection, and fills these in. Or type the range as it stands: 30 V, 500 µA."},
				{Field: "hand.meter.full_scale", What: "Current for its last mark?", How: "The survey (alt+s) finds it; or the current that the multimeter in the row says, the needle on its last mark.", when: ofMeter("hand.meter.full_scale")},
				{Field: "hand.meter.coil", What: "Ohms of its coil?", How: "Volts across its terminals at that current, over the current. Never the ohmmeter.", when: ofMeter("hand.meter.coil")},
			},
			{
				{Field: "hand.meter.terminal_full_scale", What: "Current for its last mark, closed?", How: "At its terminals, what is inside left in. The survey finds it.", when: ofMeter("hand.meter.terminal_full_scale")},
				{Field: "hand.meter.terminal_resistance", What: "Ohms at its terminals, closed?", How: "Volts across them over that current, what is inside left in. Never the ohmmeter.", when: ofMeter("hand.meter.terminal_resistance")},
			},
			{
				{Sign: "from-dial", What: "One of the two only from the dial?", How: "Where one could be measured and the other not: sign that it is as the dial has it.", when: oneMissing},
			},
		},
		Shows: []string{"hand.full_scale_voltage", "hand.terminal_resistance", "hand.terminal_full_scale"},
		asks: []condition{
			known("where it is from is said", "hand.meter.origin"),
			free("it is out of its set and no paint glows", judge.Warning, "origin", "glow"),
			meter,
			free("it is a meter that a clock can drive", judge.Fault, "kind", "driven", "terminals_apart"),
		},
		rests: ground{paths: join(meters, []string{"hand.meter.origin", "hand.meter.removed", "hand.meter.glow", "hand.meter.kind", "hand.meter.zero_at", "hand.meter.scale_from"})}},
	{ID: "drive", Title: "Just enough current", OfHand: true,
		Purpose: "A pin gives more than the needle needs; resistors let through just enough. The fixed one protects the coil, the trimmer sets the last mark.",
		Caution: "Too small a resistor burns the coil. The trimmer stands at its maximum before any power comes on.",
		Pages: []Page{
			{
				{Field: "rail.voltage", What: "Volts at the controller?", How: "Multimeter on volts, from its supply pin to ground; not built yet: what the supply is sold for."},
				{Field: "hand.drive.counts", What: "Steps of its PWM?", How: "256 of a pin that has 8 bits; a timer that you program yourself counts what you like. The codes go to it."},
				{Field: "hand.drive.pin_limit", What: "The most a pin of it gives?", How: "In the board's papers; 20 mA is usual, 10 mA is kinder."},
			},
			{
				{Field: "hand.drive.fixed", What: "Fixed resistor", How: "Chosen for you; another of the E24 series, if that is what you have."},
				{Field: "hand.drive.trimmer", What: "Trimmer", How: "One of many turns can be set finely."},
			},
		},
		Shows: []string{"hand.series_needed", "hand.trimmer_travel", "hand.overload_worst"},
		asks: []condition{
			meter,
			known("the rail is measured", "rail.voltage"),
			free("the trimmer reaches the last mark in 95 % of kits", judge.Warning, "trimmer_travel", "travel_band", "full_scale_reached"),
			free("no overload beyond what the meter stands", judge.Warning, "overload_worst"),
			free("pin and resistors bear it", judge.Fault, "pin_mean_current", "pin_peak_current", "resistor_power", "trimmer_power", "bridge_rest", "bridge_capacitor", "suppressed_zero"),
		},
		rests: ground{paths: driven}},
	{ID: "smooth", Title: "A needle that stands still", OfHand: true,
		Purpose: "The pin gives pulses, and the needle shall stand still. A capacitor evens them out, or the needle's own weight does.",
		Caution: "An electrolytic the wrong way round can burst: its stripe goes to ground. Goggles at first power.",
		Pages: []Page{{
			{Field: "hand.drive.capacitor", What: "Capacitor", How: "Chosen for you; 0 is none, where the needle alone is slow enough."},
			{Field: "hand.drive.capacitor_kind", What: "Of which kind?", How: "Film and ceramic go either way round, an electrolytic does not."},
			{Sign: "no-hum", What: "Is no hum heard, once it runs?", How: "In a quiet room, the ear at the meter. Until it runs: go on.", when: humFeared},
		}},
		Shows: []string{"hand.ripple_needle", "hand.filter_settling"},
		asks: []condition{
			free("ripple is below 0.2 % of the scale", judge.Note, "ripple_needle"),
			free("the pulses are fast enough for the needle", judge.Warning, "pwm_slow"),
			either("no hum is to be feared, or none is heard", noHum, signed("no-hum")),
			free("the capacitor stands its volts", judge.Fault, "capacitor_voltage", "bridge_capacitor"),
		},
		rests: ground{paths: smoothing}},
	{ID: "time", Title: "What counts the seconds",
		Purpose: "A crystal, or the board's own clock, counts the seconds. How far it strays is minutes a month; set once a week, it need not be known.",
		Caution: "Never a probe on the crystal's own pins: it stops or slows. Measure at a buffered output.",
		Pages: []Page{
			{
				{Field: "crystal.frequency", What: "Which crystal counts the time?", How: "A watch crystal, 32.768 kHz, yours or the board's. None, only the controller's own clock: empty it (ctrl+u, enter)."},
				{Sign: "set-weekly", What: "Set it once a week, and let it stray?", How: "Yes where the board's own clock counts, or nothing is known of the crystal."},
			},
			{
				{Field: "crystal.load", What: "Load printed in the crystal's papers?", How: "Such as 9 pF or 12.5 pF; not known: set the clock once a week.", when: crystalAdded},
				{Field: "crystal.tolerance", What: "How true is it sold?", How: "Mostly within 20 ppm, 1.7 s a day.", when: crystalAdded},
			},
			{
				{Field: "crystal.capacitor_in", What: "Capacitor at its input", How: "Chosen for you; what shops have.", when: crystalAdded},
				{Field: "crystal.capacitor_out", What: "Capacitor at its output", How: "Chosen for you; what shops have.", when: crystalAdded},
				{Field: "crystal.measured", What: "Frequency, if you can measure it", How: "With a counter better than 2 ppm at a buffered output. Else leave it.", when: crystalAdded},
			},
		},
		Shows: []string{"crystal.rate", "crystal.month_drift", "crystal.load_offset"},
		asks: []condition{
			either("drift is known, or it is set once a week", condition{"drift is known", driftKnown, nil}, signed("set-weekly")),
			free("the crystal starts and is not far off", judge.Fault, "gain_margin", "stray_alone", "load_offset"),
		},
		rests: ground{paths: crystals}},
	{ID: "power", Title: "What feeds it",
		Purpose: "Cells or a plug-in supply feed the clock. What is awake longest empties the cells, and a rail that is too high kills the controller.",
		Caution: "Coin cells kill when swallowed. Never mains inside the clock: cells, or a bought, isolated 5 V supply.",
		Pages: []Page{
			{
				{Field: "battery.cells", What: "How many cells in a row?", How: "0: a plug-in 5 V supply, such as of a phone, and no cells."},
				{Field: "battery.cell", What: "Which cells?", How: "Alkaline AA are safe and everywhere.", when: onCells},
				{Field: "load.hours_on", What: "Hours a day it shows the time?", How: "It sleeps for the others, and the cells last.", when: onCells},
			},
			{
				{Field: "converter.kind", What: "What is between them and the board?", How: "A step-up holds the rail until the cells are empty.", when: onCells},
				{Field: "load.controller_on", What: "Current of the controller, awake?", How: "In its papers, or in the cells' lead without lamps and meter.", when: onCells},
				{Field: "load.controller_off", What: "Asleep?", How: "A few µA; in the cells' lead, the multimeter bridged with a clip until it sleeps.", when: onCells},
			},
		},
		Shows: []string{"battery.life_mixed", "battery.life_on", "battery.life_standby"},
		asks: []condition{
			known("what feeds it is chosen", "battery.cells"),
			free("no fault of the supply", judge.Fault, "rail_maximum", "pack_voltage", "brown_out", "fade_error", "pack_carries", "peak_cell_current", "stranded",
				"life_on", "life_standby", "pins_together", "lamp_voltage", "lamp_current", "lamp_power"),
		},
		rests: ground{paths: fed}},
	{ID: "dial", Title: "A dial of your own", OfHand: true, Command: "needlewright dial FILE -o dial.pdf", Makes: "the dial",
		Purpose: "A new dial is printed at true size and laid over the old one. The ruler that is printed with it shows whether the printer kept the size.",
		Caution: "Old dials may be painted with radium: never scrape, sand or open one. The glass's edges cut.",
		Pages: []Page{{
			{Field: "hand.dial.radius", What: "From the pivot to the scale's arc?", How: "A ruler over the glass, such as 48 mm: the old arc is right. Absent: what the plate has room for."},
			{Field: "hand.meter.sweep", What: "Angle from first to last mark?", How: "With a protractor at the needle's pivot, through the glass."},
			{Field: "hand.correct", What: "What straightens an uneven scale?", How: "none; codes: a table in the firmware; dial: the marks are drawn where the needle stands."},
		}, {
			{Sign: "ruler-true", What: "Do both printed rulers measure 50 mm?", How: "A steel ruler on the two check lines. If not: no; print again at 100 %, without fitting to the page."},
		}},
		Shows: []string{"hand.step", "hand.code_error_max"},
		asks: []condition{
			known("the needle's sweep is measured", "hand.meter.sweep"),
			signed("ruler-true"),
		},
		rests: ground{paths: dialled}},
	{ID: "build", Title: "Solder and measure",
		Purpose: "Parts are joined one after another, each measured before the next; what a ready-made board has is in already. Never soldered? First on scrap.",
		Caution: "Goggles, fresh air, the iron in its stand. No cells in while you solder, and the meter stays off.",
		Pages: []Page{{
			{Sign: "parts-ticked", What: "Is every part in, and measured right?", How: "All are ticked. A ✓ means: it is joined, and the multimeter said so."},
		}},
		asks:  []condition{signed("parts-ticked")},
		rests: ground{paths: soldered}},
	{ID: "bring-up", Title: "First power", OfHand: true, Command: "needlewright codes FILE --as c -o codes.h", Makes: "the codes for its program, with a mode that sends these",
		Purpose: "First power goes through a plain resistor of the coil's size, which cannot be hurt. When its volts fit at three codes, the meter takes its place.",
		Caution: "Meter OFF until all three fit. Then power off, trimmer at maximum, meter on, codes rising from 0. Odd: cells out.",
		Pages: []Page{
			{
				{Point: "dummy_voltage_zero", What: "Volts on the resistor, code 0", How: "Step 1: the plain resistor in the meter's place, trimmer at maximum, power on. Multimeter on DC volts across it."},
				{Point: "dummy_voltage_top", What: "… at the top code", How: "Step 2: turn the trimmer until it reads so: it must come there."},
				{Point: "dummy_voltage_half", What: "… at half of it", How: "Step 3: the trimmer as it stands now."},
			},
			{
				{Sign: "first-power", What: "All three fit: may the meter go on?", How: "You or your teacher signs. Step 4: power OFF, trimmer at maximum, meter in its place, + towards the pin."},
				{Sign: "needle-steady", What: "Does the needle stand still, unheard?", How: "Step 5: power on, codes rising from 0 to the top, slowly; a minute at the top."},
			},
		},
		Shows: []string{"hand.overload_worst"},
		asks: []condition{
			meter,
			free("no fault of overload, rail, cells or origin", judge.Fault, harmful...),
			inside("the resistor's three volts fit", dummies...),
			signed("first-power"),
			either("the needle stands still", signed("needle-steady"), inside("it was seen to", "needle_moving")),
		},
		rests: ground{paths: powered, points: dummies}},
	{ID: "set", Title: "Set it, and let it run", OfHand: true,
		Purpose: "The needle is brought to its last mark with the trimmer, then looked at half way, and the clock runs for a day.",
		Caution: "Turn the trimmer slowly, never with the needle at its stop. Leads back to volts after any current.",
		Pages: []Page{
			{
				{Point: "needle_unpowered", What: "Where it rests without power", How: "Case closed, in its place; tap it, and set the screw to the first mark."},
				{Point: "needle_top", What: "… at the top code", How: "Warm for 5 minutes, from below, tap; turn the trimmer until it is on the last mark."},
				{Point: "needle_half", What: "… at half of it", How: "From below, tap: a share of the scale, or the dial's time."},
			},
			{
				{Sign: "ran-a-day", What: "Did it run a day, and show the time?", How: "Set it by a good clock, look again after 24 h."},
			},
		},
		Shows: []string{"hand.trimmer_travel", "hand.trim_step"},
		asks: []condition{
			inside("the needle stands right, at half and at the top", needles...),
			signed("ran-a-day"),
		},
		rests: ground{paths: powered, points: needles}},
	{ID: "write-up", Title: "Write it down", Command: "needlewright sheet FILE -o sheet.html", Makes: "the sheet",
		Purpose: "What you built is written down, so that somebody else can build or mend it. Each finding that is left says why it may stay.",
		Caution: "A fault is never accepted: mend it. Local codes and licensed practice have the last word.",
		Pages: []Page{{
			{Field: "title", What: "What is the clock called?", How: "A name that you find again."},
			{Sign: "accepted", What: "Why may what is listed stay as it is?", How: "Beside stands what is still found. In a few words: the room is warm and dry; or yes where nothing is left."},
		}},
		asks: []condition{
			free("no fault is left", judge.Fault),
			signed("accepted"),
		},
		rests: ground{findings: true}},
}
