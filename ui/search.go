package ui

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	built "example.com/needlewright/model/bench"
	engine "example.com/needlewright/model/walk"
	"example.com/needlewright/model/words"
	"example.com/needlewright/ui/form"
	"example.com/needlewright/ui/front"
	"example.com/needlewright/ui/session"
)

// What the search goes through.
const (
	aField  = "field"
	aPoint  = "test point"
	aResult = "result"
	aWord   = "word"
	aCause  = "cause"
	aStage  = "stage"
)

// search lists fields, results, words, causes and stages together; typing narrows the list.
func (f *finder) search() {
	var entries []front.Entry
	for _, some := range [][]front.Entry{f.fields(), f.points(), f.results(), f.stages(), wordEntries(), causeEntries()} {
		entries = append(entries, some...)
	}
	f.form.Leave()
	f.front.Ask(&front.Prompt{
		Title: "Search all", Heads: []string{"is a"}, Entries: entries, Words: true,
		Hint: "A few letters of a name, or words of what it is about: the list gets shorter.",
	}, "")
}

// leaveWalk leaves the walk, where it is open, for what stands on the forms.
func (f *finder) leaveWalk() {
	if f.walk.IsOpen() {
		f.walk.Close()
	}
}

// found is an entry of the search.
func found(kind, text string, do func()) front.Entry {
	return front.Entry{Text: strings.TrimSpace(text), Figures: []string{kind}, Do: func() tea.Cmd { do(); return nil }}
}

// fields are those of all forms, each with the form that it stands on.
func (f *finder) fields() []front.Entry {
	var entries []front.Entry
	for pane := range f.form.Panes {
		for i, r := range f.form.Rows(pane) {
			if r.Cell > 0 {
				continue
			}
			text := r.Field.Label
			if kind := r.Field.List(); kind != "" && kind != "hand" {
				text += ", " + session.ElementName(f.s.Doc.Build, kind, r.Index)
			}
			e := found(aField, text, func() { f.leaveWalk(); f.form.GoTo(pane, i) })
			e.Also, e.Below, e.More = f.form.Panes[pane].Name, r.Field.Help, "On the form "+f.form.Panes[pane].Name+". "+r.Field.Help
			entries = append(entries, e)
		}
	}
	return entries
}

// points are the test points of the hand in view and of the clock.
func (f *finder) points() []front.Entry {
	var entries []front.Entry
	for _, p := range f.bench.All() {
		e := found(aPoint, p.Text, func() { f.leaveWalk(); f.bench.GoToPoint(p.ID) })
		e.Also, e.More = form.BenchName, "On the pane "+form.BenchName+", where the built clock is compared with its plan."
		entries = append(entries, e)
	}
	return entries
}

// results are those of the hand in view; each leads to the list in which it is looked into.
func (f *finder) results() []front.Entry {
	if f.s.Report == nil {
		return nil
	}
	var entries []front.Entry
	for _, of := range f.side.LookEntries(f.goToBlame) {
		e := found(aResult, of.Text, func() { f.leaveWalk(); f.lookAt(of.Of) })
		e.Below = of.Of.Result.Help
		e.More = of.Hint + ". " + of.More
		entries = append(entries, e)
	}
	return entries
}

// stages are those of the walk.
func (f *finder) stages() []front.Entry {
	var entries []front.Entry
	for i := range engine.Stages {
		s := &engine.Stages[i]
		e := found(aStage, s.ID, func() { f.walk.OpenAt(s.ID) })
		e.Also, e.Below, e.More = s.Title, s.Purpose, s.Title+" "+s.Purpose
		entries = append(entries, e)
	}
	return entries
}

// wordEntries are the words of the trade.
func wordEntries() []front.Entry {
	entries := make([]front.Entry, len(words.All))
	for i := range words.All {
		w := &words.All[i]
		entries[i] = front.Entry{
			Text: w.Name, Also: w.Also, Below: w.Says, More: w.Says, Figures: []string{aWord},
			Read: func() front.Page { return wordPage(w) },
		}
	}
	return entries
}

// causeEntries are the causes of readings that are not as planned.
func causeEntries() []front.Entry {
	var entries []front.Entry
	for _, c := range built.AllTold() {
		said := c.Confirm + " " + c.Mend
		entries = append(entries, front.Entry{
			Text: c.Title, Below: said, More: said, Figures: []string{aCause},
			Read: func() front.Page { return causePage(&c) },
		})
	}
	return entries
}
