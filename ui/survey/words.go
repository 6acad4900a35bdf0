package survey

import (
	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model/quantity"
	engine "example.com/needlewright/model/survey"
)

// An option is an answer that can be chosen, or on the last page what can be done.
type option struct {
	value      string
	text, hint string
	do         func() tea.Cmd // nil: it is an answer
}

// A wording is what the pages say of a kind of question, besides what the dialogue says.
type wording struct {
	label    string            // of the answer, in the list of what is known
	hints    map[string]string // of the dialogue's choices
	options  []option          // besides typing
	fixed    bool              // nothing is typed
	may      string            // what an answer may be
	cautions []string          // the first of these that holds stands below
}

// Cautions where a meter is looked at, and where it is connected.
var (
	ofSet  = []string{"mains_circuit", "airbag", "once_mains", "sealed_lights"}
	ofGlow = []string{"radium"}
	ofCoil = []string{"ohmmeter"}
)

// words are those of each kind of question, by the contract's names.
var words = map[string]wording{
	"origin": {label: "Where from", cautions: ofSet, may: "Choose one: what can hurt you differs.", hints: map[string]string{
		"new": "bought as a part", "salvaged": "junk box, ran on batteries", "mains": "out of what had a mains plug",
		"high voltage": "out of a high-voltage set", "vehicle": "out of a vehicle", "military": "or an aircraft's",
	}},
	"removed": {label: "Out of its set", cautions: ofSet, may: "Anything but yes ends here: what is not out for certain is not connected.", hints: map[string]string{
		"yes": "out, nothing on its terminals", "no": "not yet", "unknown": "I cannot tell",
	}},
	"glow": {label: "Glow paint", cautions: ofGlow, may: "Anything but no ends here, and says what to do. Paint that once glowed and is dark now counts as yes.", hints: map[string]string{
		"no": "plain ink or paint", "yes": "it glows, or did", "unknown": "I cannot tell",
	}},
	"swing": {label: "Needle", may: "Turn it over and back in the hand: the needle falls a little and comes to rest again.", hints: map[string]string{
		"free": "it swings and comes back", "stuck": "it stays, or scrapes",
	}},
	"rest": {label: "Rests at", may: "0 % is the left end of the scale, 100 % its right end. Without a unit: %.", options: []option{
		{value: "0 %", text: "0 %", hint: "on its first mark"}, {value: "50 %", text: "50 %", hint: "in the middle"},
	}},
	"marked": {label: "Dial says", may: "As it stands at the end of the scale, with its unit: 30 V, 1 mA, 10 A.", options: []option{
		{value: "unknown", text: "unknown", hint: "it says nothing"},
	}},
	"kind": {label: "Kind", may: "Nothing is lost by unknown: the readings tell what matters.", hints: map[string]string{
		"moving coil": "a horseshoe", "moving iron": "crowded at its start", "rectifier": "horseshoe with a ~ or a diode", "thermal": "a hot wire, slow",
		"cross coil": "rests anywhere", "other": "none of these", "unknown": "I cannot tell",
	}},
	"source": {label: "Source", cautions: ofCoil, may: "DC volts as the multimeter shows them. Without a unit: V.", options: []option{
		{value: skip, text: "skip", hint: "I have none"},
	}},
	"needle": {label: "Needle", cautions: ofCoil, may: "A share of the scale from its left end: 6 parts of 30 are 20 %. Without a unit: %.", options: []option{
		{value: "none", text: "none", hint: "less than 2 % off"}, {value: "below", text: "below", hint: "at its lower stop"}, {value: "over", text: "over", hint: "at its upper stop"},
	}},
	"terminals": {label: "Terminals", cautions: ofCoil, may: "DC volts as the multimeter shows them, black on −, with their unit: 13.2 mV, 0.31 V.", options: []option{
		{value: skip, text: "skip", hint: "I cannot measure it"},
	}},
	"resistor": {label: "Resistor", cautions: ofCoil, may: "Ohms as the multimeter shows them; k and M may stand for kΩ and MΩ. Without a unit: Ω.", options: []option{
		{value: "as marked", text: "as marked", hint: "within 5 %"},
	}},
	"swap": {label: "Leads", cautions: ofCoil, fixed: true, may: "The needle pressed below its start: the current flows the wrong way through it.", options: []option{
		{value: "done", text: "done", hint: "they are turned round"},
	}},
}

// wanted is the unit of a typed answer and an example of one.
func wanted(a *engine.Ask) string {
	switch a.Kind {
	case "rest":
		return "%, such as -1 %"
	case "marked":
		return "such as 30 V"
	case "needle":
		return "%, such as 12 %"
	case "source":
		if a.Of != nil && a.Of.Volts == 9 {
			return "V, such as 9.2 V"
		}
		return "V, such as 1.53 V"
	case "terminals":
		return "unit too: 13.2 mV"
	case "resistor":
		const off = 0.993
		return "Ω, such as " + quantity.Show(off*a.Nominal, quantity.Ohms, 3)
	}
	return ""
}

// mostOfAny is the current, A, below which no panel meter is near its full scale: the
// contract's first connection.
const mostOfAny = 2e-6

// leaveIn goes on from what can flow.
const leaveIn = " Never leave the resistor out."

// currentText says in words what can flow through the movement; "" of what is not connected.
func currentText(a *engine.Ask) string {
	if a.Current <= 0 {
		return ""
	}
	text := "At most " + quantity.Show(a.Current, quantity.Microamperes, 2) + " can pass its movement: "
	if a.Current <= mostOfAny {
		return text + "far below what any panel meter takes."
	}
	return text + "by your answers, it bears that."
}
