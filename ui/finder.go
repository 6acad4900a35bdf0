package ui

import (
	"fmt"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model/judge"
)

// A finder goes to fields: from what is wrong to what mends it, from a result to what
// spreads it, and by name.
type finder struct {
	s     *session
	form  *form
	front *front
	side  *side
	say   *notice

	seen     []string       // findings and problems gone to in this round
	advising *judge.Finding // gone to last: its advice is in view; nil: none is
}

// begin forgets what was gone to.
func (f *finder) begin() { f.seen = nil }

// forget ends the advice.
func (f *finder) forget() { f.advising = nil }

// advised is the finding that was gone to last, as the report has it now, with what
// mends it; nil where there is none.
func (f *finder) advised() *judge.Finding {
	if f.advising == nil || f.s.report == nil {
		return f.advising
	}
	for i := range f.s.report.Findings {
		if now := &f.s.report.Findings[i]; now.ID == f.advising.ID && now.About == f.advising.About && now.Text == f.advising.Text {
			return now
		}
	}
	return f.advising
}

// A wrongThing is a problem or a finding, with the field to go to.
type wrongThing struct {
	key, path string
	finding   *judge.Finding // nil: a problem
}

// wrongThings are all of them: the problems first, for without their end nothing is
// judged.
func (f *finder) wrongThings() []wrongThing {
	var all []wrongThing
	for i := range f.s.doc.Problems {
		if p := &f.s.doc.Problems[i]; f.s.hasHome(p) {
			all = append(all, wrongThing{p.Path, p.Path, nil})
		}
	}
	if f.s.stale() {
		return all
	}
	for i := range f.s.report.Findings {
		finding := &f.s.report.Findings[i]
		all = append(all, wrongThing{finding.ID + " " + finding.About, finding.Field, finding})
	}
	return all
}

// next goes to what is wrong next, and what to do about it.
func (f *finder) next() {
	all := f.wrongThings()
	if len(all) == 0 {
		if !f.s.stale() {
			f.say.say("Nothing to remark.")
		}
		return
	}
	next := slices.IndexFunc(all, func(w wrongThing) bool { return !slices.Contains(f.seen, w.key) })
	if next < 0 { // round again
		f.seen, next = nil, 0
	}
	f.seen = append(f.seen, all[next].key)
	if field, index, ok := f.s.doc.Find(all[next].path); ok {
		f.form.goToValue(field, index)
	}
	f.advising = all[next].finding
}

// jump lists every field; typing narrows the list.
func (f *finder) jump() {
	var entries []entry
	for pane := range f.form.panes {
		for i, r := range f.form.rows(pane) {
			if r.cell > 0 {
				continue
			}
			text := r.field.Label
			if kind := r.field.List(); kind != "" && kind != "hand" {
				text += ", " + elementName(f.s.doc.Build, kind, r.index)
			}
			entries = append(entries, entry{text: text, hint: f.form.panes[pane].name, do: func() tea.Cmd {
				f.form.goTo(pane, i)
				return nil
			}})
		}
	}
	f.form.leave()
	f.front.ask(&prompt{title: "Jump to", hint: "Type a part of the field's label.", entries: entries}, "")
}

// look lists the results to be looked into one by one.
func (f *finder) look() {
	if f.s.report == nil {
		f.say.say("There are no results to look into yet: mend what is marked first.")
		return
	}
	entries := f.side.look.entries(f.form.fields(), f.goToBlame)
	f.form.leave()
	f.front.ask(&prompt{title: "Look into", hint: "Type a part; enter goes to what spreads it most.", entries: entries}, "")
	f.sense()
}

// sense has what changes the result that is looked into worked out.
func (f *finder) sense() {
	if e, ok := f.front.chosen(); ok {
		f.side.look.sense(e)
	}
}

// goToBlame goes to the field that has the largest share in a result's spread.
func (f *finder) goToBlame(k resultKey) tea.Cmd {
	f.s.adviseNow()
	row, ok := f.side.look.result(k)
	if !ok || len(row.Band.Shares) == 0 || !row.Band.Moved() {
		f.say.say("No tolerance moves " + strings.TrimSpace(k.result.Label) + ".")
		return nil
	}
	in := row.Band.Shares[0].Input
	name := f.side.look.inputName(in)
	if !f.form.goToValue(in.Field, in.Index) {
		f.say.say(name + " is on no form now.")
		return nil
	}
	f.say.say(fmt.Sprintf("%s makes %s of the spread of %s.", name, shareText(row.Band.Shares[0].Share), strings.TrimSpace(row.Label)))
	return nil
}
