// Package caution is the table of the dangers of the work: what can happen to whom or
// what, when, and what to do instead.
package caution

import (
	"cmp"
	"slices"
	"strings"

	"example.com/needlewright/model"
)

// A Caution is of a danger of the work: what can happen to whom or what, and what
// to do instead. It judges no number; findings do.
type Caution struct {
	ID     string
	To     string // whom or what it hurts: "you", "children", "the meter" ...
	Text   string // the danger and what to do, in a sentence or two
	line   string // the same in a line; "": the text is one
	Source string // where it is from; "" is common practice

	when   condition
	fields []string // paths of the fields where the hand is about to act; behind a = the one choice at which it is
}

// Line returns the danger and what to do in a line of 75 columns: it says less than the
// text, and nothing else.
func (c *Caution) Line() string { return cmp.Or(c.line, c.Text) }

// Of returns the cautions that hold for a build, the gravest first: what
// can kill, what can hurt people, what can hurt things.
func Of(b *model.Build) []Caution {
	var found []Caution
	for k := range cautions {
		if cautions[k].holds(b) {
			found = append(found, cautions[k])
		}
	}
	return found
}

// At returns those of the cautions that are to be shown at a field. At a
// field of a hand they are those of the index-th hand.
func At(b *model.Build, f *model.Field, index int) []Caution {
	var found []Caution
	for k := range cautions {
		d := &cautions[k]
		if d.isAt(b, f, index) && (f.List() == "hand" && d.when(b, index) || f.List() != "hand" && d.holds(b)) {
			found = append(found, *d)
		}
	}
	return found
}

// isAt says whether a caution is to be shown at a field.
func (d *Caution) isAt(b *model.Build, f *model.Field, index int) bool {
	return slices.ContainsFunc(d.fields, func(at string) bool {
		path, choice, only := strings.Cut(at, "=")
		return path == f.Path && (!only || index < f.Of(b) && f.Text(b, index) == choice)
	})
}

// holds says whether a caution holds for any hand, or for the build itself.
func (d *Caution) holds(b *model.Build) bool {
	for hand := range max(1, len(b.Hands)) {
		if d.when(b, hand) {
			return true
		}
	}
	return false
}

// A condition says whether a caution holds for a hand of a build.
type condition func(b *model.Build, hand int) bool

// whenHand is a condition on the hand alone.
func whenHand(so func(h *model.Hand) bool) condition {
	return func(b *model.Build, hand int) bool { return hand < len(b.Hands) && so(&b.Hands[hand]) }
}

// whenFrom holds for meters of these origins; "" is one that is not given.
func whenFrom(origins ...string) condition {
	return whenHand(func(h *model.Hand) bool { return slices.Contains(origins, h.Meter.Origin) })
}

// notNew holds for a meter that is not known to be new.
var notNew = whenHand(func(h *model.Hand) bool { return h.Meter.Origin != "new" })

// shunted holds where an old meter was found with a shunt.
var shunted = whenHand(func(h *model.Hand) bool {
	return h.Meter.Origin != "new" && h.Meter.InternalKind == "shunt"
})

// whenCell holds for cells whose name begins in one of these ways.
func whenCell(begins ...string) condition {
	return func(b *model.Build, _ int) bool {
		return b.Battery.Cells > 0 && slices.ContainsFunc(begins, func(s string) bool { return strings.HasPrefix(b.Battery.Cell, s) })
	}
}

// onUnknownCells holds for cells that are of no built-in kind.
func onUnknownCells(b *model.Build, _ int) bool {
	_, known := model.CellTable[b.Battery.Cell]
	return b.Battery.Cells > 0 && !known
}

// onCells holds where cells of any kind power the clock.
func onCells(b *model.Build, _ int) bool { return b.Battery.Cells > 0 }

// onSupply holds where an external supply powers it.
func onSupply(b *model.Build, _ int) bool { return b.Battery.Cells == 0 }

// soldered holds where there is a part to be soldered.
func soldered(b *model.Build, hand int) bool {
	lit := slices.ContainsFunc(b.Lamps, func(l model.Lamp) bool { return l.Count > 0 })
	return lit || whenHand(func(h *model.Hand) bool {
		d := &h.Drive
		return d.Fixed.Number > 0 || d.Trimmer.Number > 0 || d.Stage.Number > 0 || d.Capacitor.Number > 0
	})(b, hand)
}

// reversible holds where a capacitor is, or may be, an electrolytic.
func reversible(b *model.Build, hand int) bool {
	return b.Rail.Capacitor.Number > 0 || whenHand(func(h *model.Hand) bool { return h.Drive.MayLeak() })(b, hand)
}

// hurtByOhmmeter holds for a meter that is not known to stand the strongest
// ohmmeter: old analogue ones give up to 150 mA (common practice, no
// source). What is given for a meter that is not new may be what its dial says,
// with a shunt inside.
var hurtByOhmmeter = whenHand(func(h *model.Hand) bool {
	return h.Meter.Origin != "new" || !(h.Meter.FullScale.Number >= 0.15)
})

// Fields at which the hand is about to do the same.
var (
	meterFields   = []string{"hand.meter.origin", "hand.meter.removed", "hand.meter.coil", "hand.meter.full_scale", "hand.meter.internal_kind", "hand.meter.internal"}
	openingFields = []string{"hand.meter.origin", "hand.meter.internal_kind", "hand.meter.internal", "hand.meter.in_circuit", "hand.meter.coil_copper", "hand.meter.sweep", "hand.meter.stick", "hand.correct=dial"}
	leadFields    = []string{"hand.meter.origin", "hand.meter.internal_kind", "hand.meter.internal"}
	originField   = []string{"hand.meter.origin"}
	cellFields    = []string{"battery.cell", "battery.cells"}
	solderFields  = []string{"hand.drive.fixed", "hand.drive.trimmer", "hand.drive.stage", "lamp.resistor"}
	currentFields = []string{"load.controller_on", "load.controller_off", "converter.quiescent", "drain.on", "drain.off", "reading.at", "reading.value"}
)

// cautions is the cautions table. A row belongs into the list of the worst it can
// do; within a list the graver, and what is more likely at the bench, comes first.
// Where a row has no source it is common practice.
var cautions = slices.Concat(killing, hurting, spoiling)

// killing holds what can kill.
var killing = []Caution{
	{"coin_cell", "children",
		"A swallowed coin cell kills: a holder that is screwed shut, spares out of reach. Swallowed: emergency help at once.",
		"Swallowed coin cells kill: out of children's reach; else emergency help.", "", whenCell("CR"), cellFields},
	{"mains_circuit", "you",
		"Never take a meter out of a live panel. Mains circuits and voltage transformers are not to be worked on here: licensed practice and local codes decide.",
		"Never take a meter out of a live panel: licensed practice, local codes.", "CDC/NIOSH 2022-141, read second-hand", whenFrom("mains", "high voltage"), meterFields},
	{"current_transformer", "you",
		"A current transformer opened while current flows makes a deadly voltage: not to be worked on here. Licensed practice and local codes decide.",
		"An opened current transformer is deadly: licensed practice, local codes.", "engineering notes", whenFrom("mains"), meterFields},
	{"high_voltage", "you",
		"Leave high-voltage, X-ray and radio sets alone: only a meter already out, with no capacitor in its case. Licensed practice and local codes decide.",
		"Leave high-voltage sets alone: licensed practice and local codes decide.", "", whenFrom("high voltage"), meterFields},
	{"stored_charge", "you",
		"Unplugged, the set may hold charge for days: leave it to licensed practice, which discharges it through a resistor and verifies with a meter.",
		"The unplugged set may hold charge for days: leave it to licensed practice.", "UC Berkeley EH&S, 31 May 2005; NFPA 70E, read second-hand", whenFrom("mains", "high voltage"), meterFields},
	{"once_mains", "you",
		"If it was ever on the mains: only a meter already out, for its set may hold charge for days. Licensed practice and local codes decide.",
		"If ever on the mains: only a meter already out. Local codes decide.", "", whenFrom("", "salvaged"), originField},
	{"airbag", "you",
		"Leave the airbag's circuits alone, which can fire, and all high voltage of an electric vehicle, which kills. Licensed practice decides.",
		"Leave airbag circuits and a vehicle's high voltage to licensed practice.", "", whenFrom("vehicle"), originField},
	{"mains_adapter", "you",
		"Buy a plug-in supply finished, certified and isolated; never open it, wire nothing to a mains adapter's bare leads. Local codes decide.",
		"Buy a plug-in supply finished, never open it. Local codes decide.", "", onSupply, []string{"battery.cell", "battery.cells", "rail.voltage"}},
}

// hurting holds what can hurt people: first what is usual at the bench, then
// what waits in old things.
var hurting = []Caution{
	{"solder_heat", "you",
		"Iron, wick and hot glue burn, and a springy lead flicks solder: cover the eyes, clamp the work.",
		"Iron and glue burn, leads flick solder: cover the eyes, clamp the work.", "", soldered, solderFields},
	{"solder_fume", "you",
		"Keep the head out of the fume and extract it: rosin fume can cause asthma, the more the hotter the iron. Wash hands: solder may hold lead.",
		"Head out of the fume, extract it; wash hands: solder may hold lead.", "HSE asthma pages, solderers; HSE INDG248; COSHH Essentials WL17", soldered, solderFields},
	{"reversed_capacitor", "you",
		"An electrolytic or tantalum capacitor put in backwards can burst: check its stripe, goggles on at first power.",
		"Electrolytics put in backwards can burst: check the stripe, goggles on.", "", reversible, []string{"hand.drive.capacitor", "hand.drive.capacitor_kind", "rail.capacitor"}},
	{"drilling", "you",
		"Drilling a panel: goggles, the panel clamped, no dust breathed.",
		"", "", whenHand(func(h *model.Hand) bool { return h.Meter.Panel != "" }), []string{"hand.meter.panel", "hand.meter.diameter"}},
	{"lithium_ion", "you",
		"Shorted or soldered to, a Li-ion cell burns: only protected ones, in a holder with a fuse, none loose in a pocket.",
		"A shorted Li-ion cell burns: protected ones only, in a fused holder.", "", whenCell("Li-ion"), cellFields},
	{"lithium_ion_charging", "you",
		"Charge Li-ion cells only on a charger made for them.",
		"", "", whenCell("Li-ion"), cellFields},
	{"lithium_primary", "you",
		"Do not recharge, short, crush or heat lithium cells, nor mix them with alkaline ones.",
		"Do not recharge, short, crush or heat lithium cells, nor mix kinds.", "makers' handbooks, read second-hand", whenCell("lithium", "CR"), cellFields},
	{"unknown_cell", "you",
		"Know what the cells are before wiring them: coin cells kill when swallowed, Li-ion ones burn when shorted.",
		"Know the cells: coin cells kill when swallowed, shorted Li-ion burns.", "", onUnknownCells, cellFields},
	{"recharging", "you",
		"Never recharge alkaline or zinc cells, nor mix old with new, or one type with another.",
		"Never recharge alkaline or zinc cells, nor mix old with new, or types.", "battery makers' support pages", whenCell("alkaline", "zinc"), cellFields},
	{"alkaline_leak", "you",
		"A leaking alkaline cell is caustic: gloves on; rinse skin or eyes with much water and see a doctor.",
		"A leak is caustic: gloves; rinse skin or eyes with water and see a doctor.", "battery makers' support pages", whenCell("alkaline"), cellFields},
	{"zinc_leak", "you",
		"Zinc cells leak early: take used ones out; gloves on, rinse skin or eyes with much water and see a doctor.",
		"Zinc cells leak early: gloves; rinse skin or eyes and see a doctor.", "", whenCell("zinc"), cellFields},
	{"nimh_leak", "you",
		"A leaking NiMH cell gives caustic potash: gloves on; rinse skin or eyes with much water and see a doctor. Hand it in as local rules say.",
		"A leak is caustic: gloves; rinse skin or eyes with water and see a doctor.", "", whenCell("LSD NiMH"), cellFields},
	{"nimh_charging", "you",
		"Charge NiMH cells out of the clock, on a charger made for them that ends by itself: overcharged they heat, gas and leak.",
		"Charge NiMH cells out of the clock, on a charger that ends by itself.", "", whenCell("LSD NiMH"), cellFields},
	{"lithium_leak", "you",
		"A leaking lithium cell: gloves on, air the room, no vinegar; rinse skin or eyes with much water and see a doctor. Hand it in as local rules say.",
		"Leaking lithium: gloves, air the room; rinse skin or eyes; see a doctor.", "", whenCell("Li-ion", "lithium", "CR"), cellFields},
	{"alkaline_short", "you",
		"A shorted fresh AA cell gives 5 to 10 A, a larger one more, and burns: a fuse or 1 Ω in the bench lead.",
		"A shorted fresh cell burns: a fuse or 1 Ω in the bench lead.", "makers' data sheets, read second-hand", whenCell("alkaline AA", "alkaline C", "alkaline D"), cellFields},
	{"nimh_short", "you",
		"A shorted NiMH cell gives more than 10 A and burns: a fuse or 1 Ω in the bench lead.",
		"A shorted NiMH cell burns: a fuse or 1 Ω in the bench lead.", "", whenCell("LSD NiMH"), cellFields},
	{"vinegar", "you",
		"Vinegar only on cold contacts with the cells out, never with lye on the skin; rinse, dry.",
		"Vinegar on cold contacts only, cells out, never with lye on the skin.", "battery makers' support pages", whenCell("alkaline"), []string{"battery.resistance"}},
	{"vehicle_battery", "you",
		"A vehicle's battery burns who shorts it: take a gauge only with the battery disconnected.",
		"A shorted vehicle battery burns: take a gauge with it disconnected.", "", whenFrom("vehicle"), leadFields},
	{"shunt_leads", "you",
		"Shunt leads of batteries and solar strings may have no fuse: a slip burns. Leave live ones alone; licensed practice decides.",
		"Shunt leads may have no fuse: leave live ones to licensed practice.", "", shunted, leadFields},
	{"radium", "you",
		"Old glow paint, dark or unmarked too, may be radium: never open, scrape or sand; its dust is the danger. Only a survey meter tells. Air the room, ask the regulator about disposal.",
		"Glow paint, dark too, may be radium: never open, scrape or sand it.", "US EPA, Radioactive Antiques; CNSC CC172-41 and NRC rule on Ra-226, read second-hand", notNew, openingFields},
	{"sealed_lights", "you",
		"Radium and tritium lights of military and aircraft dials stay sealed, not glowing is not safe; none for a school. Local rules decide.",
		"Radium and tritium lights stay sealed, none for a school. Local rules.", "", whenFrom("military"), openingFields},
	{"old_paint", "you",
		"Old cases may carry lead paint or cadmium: no sanding, wash hands.",
		"", "", notNew, openingFields},
	{"asbestos", "you",
		"Boards and arc parts of old switchgear may be asbestos: no drilling, no sanding, leave them. Local rules decide.",
		"Old boards may be asbestos: no drilling, no sanding. Local rules decide.", "", whenFrom("", "salvaged", "mains", "high voltage"), originField},
	{"mercury", "you",
		"Old switches and relays may hold mercury: leave them whole. Spilt: never vacuum or sweep, ventilate, contain it. Local rules decide.",
		"Old switches may hold mercury: leave them whole. Local rules decide.", "California DTSC, May 2005; EPA/ATSDR Cleaning up Mercury Spills, read second-hand", whenFrom("", "salvaged", "mains", "high voltage"), originField},
	{"oil_capacitor", "you",
		"Old oil-filled capacitors may hold PCB: gloves, do not open, hazardous waste. Until which year differs by country: local rules decide.",
		"Old oil-filled capacitors may hold PCB: do not open. Local rules decide.", "BNL ESH Highlight 20", whenFrom("", "salvaged", "mains", "high voltage"), originField},
	{"selenium", "you",
		"Selenium plates of old chargers and sets are toxic when overheated: leave them cold.",
		"Old selenium plates are toxic when overheated: leave them cold.", "", whenFrom("", "salvaged", "mains"), originField},
	{"glass", "you",
		"A meter's window and stamped rim cut: gloves on, and mind splinters.",
		"", "", notNew, openingFields},
}

// spoiling holds what can hurt the movement, which is the thing to be hurt, and
// other things.
var spoiling = []Caution{
	{"ohmmeter", "the meter",
		"Never an ohmmeter on an unknown coil: it can burn the coil, bend the needle.",
		"Never an ohmmeter on an unknown coil: it can burn it, and bend the needle.", "D-C Meter Formulas, handbook page; All About Circuits worksheet, Voltmeter Design", hurtByOhmmeter, []string{"hand.meter.coil", "hand.meter.full_scale", "hand.meter.coil_copper", "hand.meter.internal"}},
	{"first_current", "the meter",
		"Start with twice the series resistance you reckon with, and come down slowly.",
		"Start with twice the series resistance you expect, and come down slowly.", "D-C Meter Formulas, handbook page", notNew, []string{"hand.meter.coil", "hand.meter.full_scale", "hand.meter.table"}},
	{"magnet", "the meter",
		"Leave the magnet where it is: taken off, it loses strength for good.",
		"", "", notNew, openingFields},
	{"iron_dust", "the meter",
		"An open movement gathers iron: no steel swarf near, tape over the gap, no compressed air.",
		"An open movement gathers iron: no swarf, tape over the gap, no air jet.", "", notNew, openingFields},
	{"solvent", "the meter",
		"No solvent on dial or window.",
		"", "", notNew, openingFields},
	{"transport", "the meter",
		"Short the terminals for transport, which brakes the needle, and take the short off afterwards.",
		"Short the terminals for transport; take the short off afterwards.", "", notNew, []string{"hand.meter.origin", "hand.meter.period"}},
	{"programming", "the meter",
		"Unplug the meter while programming: pins float or idle high, and the needle hits its stop.",
		"Unplug the meter while programming: floating pins slam the needle.", "", whenHand(func(*model.Hand) bool { return true }), []string{"hand.drive.clock", "hand.drive.counts", "hand.drive.top"}},
	{"voltage_next", "the multimeter",
		"After a current reading the leads go back to volts, or the next voltage reading shorts the pack through the fuse, or through none.",
		"Current read: leads back to volts, or the next reading shorts the pack.", "", onCells, currentFields},
	{"feeding_cells", "the cells",
		"A programmer must not feed the cells: take them out, or switch its supply off.",
		"A programmer must not feed the cells: cells out, or its supply off.", "", onCells, []string{"battery.cells", "load.controller_on"}},
	{"feeding_converter", "the converter",
		"A programmer must not feed a step-up's output: cells out, or the programmer's supply off.",
		"A programmer must not feed a step-up: cells out, or its supply off.", "", func(b *model.Build, _ int) bool { return onCells(b, 0) && b.Converter.Kind == "boost" }, []string{"converter.kind", "converter.quiescent"}},
	{"metal_case", "the pack",
		"Against a metal case insulate with sheet, not paper, and relieve the cell leads of strain.",
		"In a metal case insulate with sheet, not paper; relieve the cell leads.", "", onCells, []string{"battery.cells", "hand.meter.panel"}},
	{"crystal_probe", "the crystal",
		"Never probe the crystal's pins: a probe's 10 pF slow it by 50 to 100 ppm or stop it. Use a buffered output.",
		"Never probe the crystal's pins: that slows or stops it. Buffered output.", "", func(b *model.Build, _ int) bool { return b.Crystal.Frequency.Given() }, []string{"crystal.stray", "crystal.measured"}},
}
