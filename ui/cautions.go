package ui

import (
	"cmp"
	"slices"
	"strings"

	"example.com/needlewright/model"
	"example.com/needlewright/model/judge"
)

// cautionsOf is what the cautions of a field depend on; a document never changes.
type cautionsOf struct {
	doc   *model.Document
	field *model.Field
	index int
}

// cautionsAt are those to be heeded where a value is about to be found or put in.
func (f *form) cautionsAt(r row) []judge.Danger {
	if k := (cautionsOf{f.s.doc, r.field, r.index}); f.cautions.of != k {
		f.cautions.of, f.cautions.all = k, judge.CautionsAt(f.s.doc.Build, r.field, r.index)
	}
	return f.cautions.all
}

// cautionText is a caution behind its sign, which says so without a colour.
func cautionText(c judge.Danger, ascii bool) string {
	if ascii {
		return "!! " + c.Text
	}
	return "⚠ " + c.Text
}

// helpPage is a page with all that is to be known of the focused field, its cautions
// first, and all others of the build.
func (f *form) helpPage(ascii bool) page {
	p := page{title: "Help and cautions"}
	var here []judge.Danger
	if r, ok := f.focused(); ok {
		here = f.cautionsAt(r)
		p.add(heading, strings.TrimSpace(r.field.Label))
		addCautions(&p, here, ascii)
		p.add(note, f.offerHelp(r))
		p.add(value, strings.TrimSpace(f.whatItIs(r)+" "+allowedText(r.field)))
		p.add(dim, measureText(r.field))
	}
	var further []judge.Danger
	for _, c := range judge.Cautions(f.s.doc.Build) {
		if !slices.ContainsFunc(here, func(h judge.Danger) bool { return h.ID == c.ID }) {
			further = append(further, c)
		}
	}
	if len(further) > 0 {
		p.add(heading, "\nFurther cautions for this build")
	}
	addCautions(&p, further, ascii)
	return p
}

// addCautions adds cautions, each with whom it hurts and where it is from.
func addCautions(p *page, cautions []judge.Danger, ascii bool) {
	for _, c := range cautions {
		p.add(caution, cautionText(c, ascii))
		p.add(dim, "  Hurts "+c.To+". Source: "+cmp.Or(c.Source, "common practice")+".")
	}
}
