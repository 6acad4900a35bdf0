package ui

import (
	"fmt"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model"
	"example.com/needlewright/model/judge"
	"example.com/needlewright/ui/bench"
	"example.com/needlewright/ui/form"
	"example.com/needlewright/ui/front"
	"example.com/needlewright/ui/notice"
	"example.com/needlewright/ui/scale"
	"example.com/needlewright/ui/session"
	"example.com/needlewright/ui/side"
	"example.com/needlewright/ui/walk"
	"example.com/needlewright/ui/whatif"
)

// A finder goes to fields: from what is wrong to what mends it, from a result to what
// spreads it, and by name.
type finder struct {
	s     *session.Session
	form  *form.Form
	front *front.Front
	side  *side.Side
	say   *notice.Notice
	bench *bench.Bench
	scale *scale.Scale
	walk  *walk.Walk
	reach *whatif.View

	seen     []string        // findings and problems gone to in this round
	of       *model.Document // that round is of; an edit begins another, at the worst
	advising *judge.Finding  // gone to last: its advice is in view; nil: none is
}

// begin forgets what was gone to.
func (f *finder) begin() {
	f.seen = nil
	f.forget()
}

// forget ends the advice.
func (f *finder) forget() {
	f.advising = nil
	f.side.Results.ShowFinding(nil)
}

// advised is the finding that was gone to last, as the report has it now, with what
// mends it; nil where there is none.
func (f *finder) advised() *judge.Finding {
	if f.advising == nil || f.s.Report == nil {
		return f.advising
	}
	for i := range f.s.Report.Findings {
		if now := &f.s.Report.Findings[i]; now.ID == f.advising.ID && now.About == f.advising.About && now.Text == f.advising.Text {
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
	for i := range f.s.Doc.Problems {
		if p := &f.s.Doc.Problems[i]; f.s.HasHome(p) {
			all = append(all, wrongThing{p.Path, p.Path, nil})
		}
	}
	if f.s.Stale() {
		return all
	}
	for i := range f.s.Report.Findings {
		finding := &f.s.Report.Findings[i]
		all = append(all, wrongThing{finding.ID + " " + finding.About, finding.Field, finding})
	}
	return all
}

// next goes to what is wrong next, and what to do about it.
func (f *finder) next() {
	all := f.wrongThings()
	if len(all) == 0 {
		if !f.s.Stale() {
			f.say.Say("Nothing to remark.")
		}
		return
	}
	if f.of != f.s.Doc {
		f.of, f.seen = f.s.Doc, nil
	}
	next := slices.IndexFunc(all, func(w wrongThing) bool { return !slices.Contains(f.seen, w.key) })
	if next < 0 { // round again
		f.seen, next = nil, 0
	}
	f.seen = append(f.seen, all[next].key)
	if field, index, ok := f.s.Doc.Find(all[next].path); ok && !f.form.GoToValue(field, index) && field.Pane == model.ScalePane {
		f.scale.GoToRow(index)
	}
	f.advising = all[next].finding
	f.side.Results.ShowFinding(f.advising)
}

// look lists the results to be looked into one by one.
func (f *finder) look() {
	if f.s.Report == nil {
		f.say.Say("There are no results to look into yet: mend what is marked first.")
		return
	}
	f.listResults("Look into", "Type a few letters: the list gets shorter. Enter goes to what spreads the result most.", f.goToBlame)
}

// reachOne lists the results, to ask which value of an input makes one so much.
func (f *finder) reachOne() {
	if f.s.Stale() || f.s.Report == nil {
		f.say.Say("Nothing can be reached until every value can be read: " + f.s.ToMend() + ".")
		return
	}
	f.listResults("Reach", "Which result is to be so much? Type a few letters: the list gets shorter.", func(of front.ResultKey) tea.Cmd {
		return f.reach.Ask(of, func() tea.Cmd { f.reachOne(); return nil })
	})
}

// listResults lists the results to do something with one.
func (f *finder) listResults(title, hint string, do func(front.ResultKey) tea.Cmd) {
	entries := func() []front.Entry { return f.side.LookEntries(do) }
	pin := func(e front.Entry) []front.Entry {
		f.side.Pin(e)
		return entries()
	}
	f.form.Leave()
	f.front.Ask(&front.Prompt{
		Title: title, Hint: hint, Entries: entries(), Pin: pin,
		Words: true, Working: f.works, Reach: f.reachChosen,
	}, "")
	f.sense()
}

// lookAt lists them with one of them chosen.
func (f *finder) lookAt(k front.ResultKey) {
	f.look()
	if p := f.front.Prompt; p != nil {
		p.Choose(max(0, slices.IndexFunc(p.Entries, func(e front.Entry) bool { return e.Of == k })))
		f.sense()
	}
}

// reachChosen asks it of the result that an entry names, and comes back to the list.
func (f *finder) reachChosen(e front.Entry) tea.Cmd {
	if f.s.Stale() {
		f.reachOne() // which says why not
		return nil
	}
	return f.reach.Ask(e.Of, func() tea.Cmd { f.lookAt(e.Of); return nil })
}

// works is the page of how the result comes about that is chosen in the list.
func (f *finder) works() front.Page {
	if e, ok := f.front.Chosen(); ok {
		if row, ok := f.side.Look.Result(e.Of); ok {
			return workingPage(f.s, row)
		}
	}
	return front.Page{Title: "No result is chosen"}
}

// sense has what changes the result that is looked into worked out.
func (f *finder) sense() {
	if e, ok := f.front.Chosen(); ok {
		f.side.Look.Sense(e)
	}
}

// goToBlame goes to the field that has the largest share in a result's spread.
func (f *finder) goToBlame(k front.ResultKey) tea.Cmd {
	f.s.AdviseNow()
	row, ok := f.side.Look.Result(k)
	if !ok || len(row.Band.Shares) == 0 || !row.Band.Moved() {
		f.say.Say("No tolerance moves " + strings.TrimSpace(k.Result.Label) + ".")
		return nil
	}
	in := row.Band.Shares[0].Input
	name := f.side.Look.InputName(in)
	if !f.form.GoToValue(in.Field, in.Index) {
		f.say.Say(name + " is on no form now.")
		return nil
	}
	f.say.Say(fmt.Sprintf("%s makes %s of the spread of %s.", name, side.ShareText(row.Band.Shares[0].Share), strings.TrimSpace(row.Label)))
	return nil
}
