package form

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"example.com/needlewright/model"
	"example.com/needlewright/model/caution"
	"example.com/needlewright/model/measure"
	"example.com/needlewright/ui/draw"
	"example.com/needlewright/ui/front"
	"example.com/needlewright/ui/keys"
	"example.com/needlewright/ui/session"
)

// cautionsOf is what the cautions of a field depend on; a document never changes.
type cautionsOf struct {
	doc   *model.Document
	field *model.Field
	index int
}

// cautionsAt are those to be heeded where a value is about to be found or put in.
func (f *Form) cautionsAt(r Row) []caution.Caution {
	if k := (cautionsOf{f.s.Doc, r.Field, r.Index}); f.cautions.of != k {
		f.cautions.of, f.cautions.all = k, caution.At(f.s.Doc.Build, r.Field, r.Index)
	}
	return f.cautions.all
}

// HelpPage is a page with what first adds, then all that is to be known of the focused
// field, what it is first, then its cautions, what words adds to that, and all other cautions
// of the build.
func (f *Form) HelpPage(ascii bool, first, words func(*front.Page)) front.Page {
	p := front.Page{Title: "Help and cautions"}
	first(&p)
	var here []caution.Caution
	if r, ok := f.Focused(); ok {
		here = f.cautionsAt(r)
		p.Add(draw.Heading, strings.TrimSpace(r.Field.Label))
		p.Add(draw.Value, strings.TrimSpace(f.WhatItIs(r)+" "+allowedText(r.Field)))
		p.Add(draw.Dim, measureText(r.Field))
		p.Add(draw.Note, cmp.Or(f.meantHelp(r), f.offerHelp(r)))
		AddCautions(&p, here, ascii)
		AddSteps(&p, f.steps(r))
		AddSurvey(&p, r.Field.Path, keys.First(f.keys.Unknown))
	}
	words(&p)
	f.AddFurther(&p, here, ascii)
	return p
}

// AddFurther adds the cautions of the build that are not among those that hold here.
func (f *Form) AddFurther(p *front.Page, here []caution.Caution, ascii bool) {
	var further []caution.Caution
	for _, c := range caution.Of(f.s.Doc.Build) {
		if !slices.ContainsFunc(here, func(h caution.Caution) bool { return h.ID == c.ID }) {
			further = append(further, c)
		}
	}
	if len(further) > 0 {
		p.Add(draw.Heading, "\nFurther cautions for this build")
	}
	AddCautions(p, further, ascii)
}

// steps are how to find a row's value, of the meter in view as far as it is known: a full
// scale that is only assumed is not.
func (f *Form) steps(r Row) []string {
	m := measure.Meter{FullScale: math.NaN()}
	if hands := f.s.Doc.Build.Hands; f.s.Hand < len(hands) {
		known := &hands[f.s.Hand].Meter
		m.Origin, m.Removed = known.Origin, known.Removed
		if f.s.Doc.Mark(session.FieldOf("hand.meter.full_scale"), f.s.Hand) != "assumed" {
			m.FullScale = known.FullScale.Number
		}
	}
	return measure.Steps(r.Field.Path, m)
}

// AddSteps adds how to find a value, where there is anything to say of it.
func AddSteps(p *front.Page, steps []string) {
	if len(steps) > 0 {
		p.Add(draw.Heading, "\nHow to find it")
	}
	for k, s := range steps {
		p.Add(draw.Value, fmt.Sprintf("%d. %s", k+1, s))
	}
}

// AddSurvey adds, for what the survey of an unknown meter finds, how to begin it.
func AddSurvey(p *front.Page, path, begins string) {
	if slices.Contains([]string{"hand.meter.coil", "hand.meter.full_scale"}, path) {
		p.Add(draw.Note, "Or "+begins+", the survey, leads through it all.")
	}
}

// AddCautions adds cautions, each with whom it hurts and where it is from.
func AddCautions(p *front.Page, cautions []caution.Caution, ascii bool) {
	for _, c := range cautions {
		p.Add(draw.Caution, draw.CautionSign(ascii)+c.Text)
		p.Add(draw.Dim, "  Hurts "+c.To+". Source: "+cmp.Or(c.Source, "common practice")+".")
	}
}

// NewDanger is the gravest danger that changes of a build bring to where the hand is about to
// act, the i-th value of a field; "" where there is none that was not there.
func NewDanger(b *model.Build, changes []model.Change, f *model.Field, i int) string {
	there := caution.At(b, f, i)
	for _, c := range caution.At(b.Changed(changes), f, i) {
		if !slices.ContainsFunc(there, func(t caution.Caution) bool { return t.ID == c.ID }) {
			return c.Text
		}
	}
	return ""
}
