package measure

import (
	"math"
	"strings"

	"example.com/needlewright/model"
	"example.com/needlewright/model/quantity"
)

// FromDial is the comment behind a value that the dial's word alone gives.
const FromDial = "from the dial"

// dialWithin is how far off its dial's word a meter may be at its terminals, a share. Common
// practice, no source: twice a class of 2.5.
const dialWithin = 0.05

// A Proposal is a value of a meter that follows from what its dial says.
type Proposal struct {
	Path string // "hand.meter.terminal_full_scale"
	Text string
}

// Said returns what a dial says, in V or A, of a range with its unit: "30 V", "0-30 V",
// "500 µA". Each is NaN where that is not what it says.
func Said(marked string) (volts, amperes float64) {
	text := strings.ReplaceAll(marked, "–", "-")
	text = strings.TrimSpace(text[strings.LastIndex(text, "-")+1:])
	volts, amperes = math.NaN(), math.NaN()
	if !strings.ContainsAny(text, "VAva") { // a number without its unit says nothing
		return volts, amperes
	}
	if v, err := quantity.ParsePlain(text, quantity.Volts); err == nil && v.Number > 0 {
		volts = v.Number
	}
	if a, err := quantity.ParsePlain(text, quantity.Amperes); err == nil && a.Number > 0 {
		amperes = a.Number
	}
	return volts, amperes
}

// Proposals returns what follows for the terminals of a meter from what its dial says, from
// ohms per volt and from the volts of a shunt outside, where nobody measured it. Source:
// Ohm's law; the width is common practice, no source.
func Proposals(m *model.Meter) []Proposal {
	volts, amperes := Said(m.Marked)
	resistance, fullScale := m.TerminalResistance.Number, m.TerminalFullScale.Number
	if m.ShuntDrop.Given() { // the amperes are those of the shunt
		volts, amperes = m.ShuntDrop.Number, math.NaN()
	}
	said := func(of, otherwise float64) float64 {
		if math.IsNaN(of) {
			return otherwise
		}
		return of
	}
	current := said(fullScale, said(1/m.OhmsPerVolt.Number, said(amperes, volts/resistance)))
	ohms := said(resistance, volts/current)
	var all []Proposal
	for _, p := range [...]struct {
		path         string
		given, value float64
		u            quantity.Unit
	}{
		{"hand.meter.terminal_resistance", resistance, ohms, quantity.Ohms},
		{"hand.meter.terminal_full_scale", fullScale, current, quantity.Microamperes},
	} {
		least, most := model.Builds.Field(p.path).Range()
		if math.IsNaN(p.given) && p.value >= least && p.value <= most {
			within := quantity.Show(dialWithin, quantity.Percent, 1)
			all = append(all, Proposal{p.path, quantity.Show(p.value, p.u, 3) + " ±" + within})
		}
	}
	return all
}

// Propose returns the document with what a hand's dial says of its terminals put where
// nobody measured them, marked as from the dial; what was so put before follows the dial's
// words as they stand now.
func Propose(d *model.Document, hand int) *model.Document {
	m := d.Build.Hands[hand].Meter
	terminals := map[string]*quantity.Value{
		"hand.meter.terminal_resistance": &m.TerminalResistance, "hand.meter.terminal_full_scale": &m.TerminalFullScale,
	}
	for path, v := range terminals {
		if d.Mark(model.Builds.Field(path), hand) == FromDial {
			*v = quantity.Absent()
		}
	}
	proposed := map[string]string{}
	for _, p := range Proposals(&m) {
		proposed[p.Path] = p.Text
	}
	for _, path := range [...]string{"hand.meter.terminal_resistance", "hand.meter.terminal_full_scale"} {
		f := model.Builds.Field(path)
		given, stands := d.Given(f, hand)
		if stands && d.Mark(f, hand) != FromDial || given == proposed[path] {
			continue
		}
		d = d.Set(f, hand, proposed[path])
		if proposed[path] != "" {
			d = d.SetMarked(f, hand, proposed[path], FromDial)
		}
	}
	return d
}
