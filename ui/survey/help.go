package survey

import (
	"github.com/charmbracelet/bubbles/key"

	"example.com/needlewright/model/quantity"
	"example.com/needlewright/ui/draw"
	"example.com/needlewright/ui/form"
	"example.com/needlewright/ui/front"
)

// Bindings are the keys that the bottom line names.
func (v *Survey) Bindings() []key.Binding { return v.keys.Surveying(v.ask != nil) }

// HelpPage is a page with all that is to be known at the question: what may be answered,
// what can be hurt, what was answered so far.
func (v *Survey) HelpPage(ascii bool) front.Page {
	p := front.Page{Title: "Survey: help and cautions"}
	for _, b := range v.texts(false) {
		p.Add(b.style, labelled(b.label, b.text))
	}
	if v.ask != nil {
		if current := currentText(v.ask); current != "" {
			p.Add(draw.Value, current+leaveIn)
		}
		p.Add(draw.Dim, words[v.ask.Kind].may)
	}
	if v.verdict != nil {
		_, ohmmeter := ofOhmmeter(v.verdict.Why)
		p.Add(draw.Value, ohmmeter)
	}
	if cautions := v.cautions(); len(cautions) > 0 {
		p.Add(draw.Heading, "\nWhat can be hurt")
		form.AddCautions(&p, cautions, ascii)
	}
	if len(v.steps) > 0 {
		p.Add(draw.Heading, "\nAnswered so far")
		for _, s := range v.steps {
			p.Add(draw.Value, labelled(labelOf(s.ask), s.shown()+connectedText(s)))
		}
	}
	p.Add(draw.Heading, "\nHow it goes")
	p.Add(draw.Value, "First a look, then one connection after another, from the least current up: none lets more through than the answers before it allow. It ends with what the meter is, in bands.")
	p.Add(draw.Value, "It wants "+tools)
	return p
}

// connectedText says at which connection something was read, "" where at none.
func connectedText(s step) string {
	if s.ask.Of == nil || s.ask.Of.Series == 0 {
		return ""
	}
	return ", " + exactly(s.ask.Of.Volts, quantity.Volts) + " and " + exactly(s.ask.Of.Series, quantity.Ohms)
}
