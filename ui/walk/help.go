package walk

import (
	"strings"

	"github.com/charmbracelet/bubbles/key"

	"example.com/needlewright/model"
	"example.com/needlewright/model/caution"
	"example.com/needlewright/model/measure"
	"example.com/needlewright/ui/draw"
	"example.com/needlewright/ui/form"
	"example.com/needlewright/ui/front"
)

// Bindings are the keys that the bottom line names.
func (v *Walk) Bindings() []key.Binding {
	if t := v.ticksHere(); t.Next(0) >= 0 {
		return v.keys.Ticking()
	}
	return v.keys.Walking(v.isChoice(v.question()), v.state().ID == "survey")
}

// StageText is all that the pages of the stage say, of results their names.
func (v *Walk) StageText() string {
	s := v.state()
	texts := []string{s.Title, s.Purpose, s.Caution}
	for _, page := range s.Asked() {
		for i := range page {
			texts = append(texts, page[i].What, page[i].How)
			if page[i].Field != "" {
				texts = append(texts, model.Builds.Field(page[i].Field).Label)
			}
		}
	}
	texts = append(texts, v.doneText())
	for _, row := range v.results() {
		texts = append(texts, row.Label)
	}
	return strings.Join(texts, ".\n")
}

// HelpPage is a page with what first adds, then all that is to be known at the question: what
// it asks and how to find that, what the field is, what can be hurt, and what the stage is
// done with.
func (v *Walk) HelpPage(ascii bool, first func(*front.Page)) front.Page {
	s, q := v.state(), v.question()
	p := front.Page{Title: "The walk: " + s.Title}
	first(&p)
	p.Add(draw.Value, s.Purpose)
	p.Add(draw.Caution, draw.CautionSign(ascii)+s.Caution)
	p.Add(draw.Heading, "\n"+q.What)
	p.Add(draw.Value, q.How)
	if v.isTicking() {
		p.Add(draw.Value, v.jointText())
	}
	if q.Field != "" {
		v.addField(&p, s.HandIndex(), ascii)
	}
	if q.Point != "" {
		v.addPoint(&p, s.PointOf(q))
	}
	p.Add(draw.Heading, "\nThe stage")
	p.Add(draw.Value, v.doneText())
	p.Add(draw.Value, "At the top a sign for each of the ten stages: ✓ done, ▸ comes next, ! to be looked at again, _ open; [ ] is this one.")
	return p
}

// addField adds what is to be known of the field that is asked for.
func (v *Walk) addField(p *front.Page, hand int, ascii bool) {
	f, i := v.state().FieldOf(v.question())
	p.Add(draw.Value, f.Help)
	if f.Measure != "" {
		p.Add(draw.Value, "Measure: "+f.Measure)
	}
	b := v.s.Report.Build
	if hand >= 0 {
		m := &b.Hands[hand].Meter
		form.AddSteps(p, measure.Steps(f.Path, measure.Meter{Origin: m.Origin, Removed: m.Removed, FullScale: m.FullScale.Number}))
	}
	if cautions := caution.At(b, f, i); len(cautions) > 0 {
		p.Add(draw.Heading, "\nWhat can be hurt")
		form.AddCautions(p, cautions, ascii)
	}
}

// addPoint adds where the probes go at a test point.
func (v *Walk) addPoint(p *front.Page, id string) {
	text := v.planned(id)
	for i := range v.sound.Points {
		if at := &v.sound.Points[i]; at.ID == id {
			p.Add(draw.Value, "Where: "+at.Probes+". When: "+at.State+".")
		}
	}
	p.Add(draw.Value, text)
	f := model.Builds.Field("reading.value")
	p.Add(draw.Value, f.Help)
}
