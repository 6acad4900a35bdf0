// Package walk leads through the work on a clock, stage by stage: what is asked, when a
// stage is done, and what has to be looked at again because something it rested on has
// changed. All of it follows from the document alone. The contract is catalogue.md,
// "Stages". Nothing here knows a screen.
package walk

import (
	"slices"
	"strconv"

	"example.com/needlewright/model"
	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/quantity"
)

// A Stage is a row of the table: a part of the work.
type Stage struct {
	ID      string
	Title   string // "What is this meter?"
	OfHand  bool   // each hand has its own; else it is the clock's
	Purpose string // in two sentences
	Caution string // what can be hurt; it is never cut
	Pages   []Page
	Shows   []string // ids of results as the table of results has them: "hand.step"
	Command string   // that makes what the stage needs; "": none
	Makes   string   // what that is, in words

	asks  []condition
	rests ground
}

// A Page is what is asked at once: three questions at most.
type Page []Question

// A Question asks for one thing: the value of a field, a reading at a test point of the hand,
// or a yes to a condition that nothing else tells. One of the three is given.
type Question struct {
	Field string // its path
	Point string // behind the name of the hand
	Sign  string // id of a condition
	What  string // what is asked, in a line
	How   string // how to find it

	when func(s *site) bool // it is asked; nil: always
}

// Against is the worst finding that keeps the stage from being done; nil where none does.
func (s *State) Against() *judge.Finding {
	for k := range s.asks {
		if s.asks[k].against == nil || s.Conditions[k].IsMet() {
			continue
		}
		for i := range s.site.found {
			if f := &s.site.found[i]; s.asks[k].against(f) && s.site.concerns(f) {
				return f
			}
		}
	}
	return nil
}

// The states of a stage.
const (
	Done  = "done"
	Again = "again" // it was done, and what it rests on has changed since
	Here  = "here"  // the first that is neither
	Open  = "open"
)

// A Condition is one thing that a stage is done with.
type Condition struct {
	Says  string   // what is so then
	Needs []string // what of it is missing: paths, test points, ids of conditions
	Met   []string // what is there
}

// IsMet says whether nothing of it is missing.
func (c *Condition) IsMet() bool { return len(c.Needs) == 0 }

// A State is where the work on a stage, of one hand or of the clock, stands.
type State struct {
	*Stage
	Hand       string // "" of the clock
	State      string
	Conditions []Condition
	Changed    []string // of one to be looked at again: what it rested on, as it was → as it is

	site *site
	row  int // of the walk rows that says with what it was done; -1: none
}

// Needs lists what is missing, and Met what is there, each once.
func (s *State) Needs() []string { return s.list(func(c *Condition) []string { return c.Needs }) }

// Met lists what of the conditions is there, each once.
func (s *State) Met() []string { return s.list(func(c *Condition) []string { return c.Met }) }

func (s *State) list(of func(c *Condition) []string) []string {
	all := []string{}
	for k := range s.Conditions {
		for _, what := range of(&s.Conditions[k]) {
			if !slices.Contains(all, what) {
				all = append(all, what)
			}
		}
	}
	return all
}

// Asked are the pages of the stage, without the questions that do not arise.
func (s *State) Asked() []Page {
	var pages []Page
	for _, page := range s.Pages {
		page = slices.DeleteFunc(slices.Clone(page), func(q Question) bool { return q.when != nil && !q.when(s.site) })
		if len(page) > 0 {
			pages = append(pages, page)
		}
	}
	return pages
}

// Name is the stage, with its hand where there are several: "drive, hours".
func (s *State) Name() string {
	if s.Hand == "" || len(s.site.b.Hands) == 1 {
		return s.ID
	}
	return s.ID + ", " + s.Hand
}

// A Walk is where the work on a build stands: its stages in the order of the table, those of
// a hand once for each hand, in the order of the file.
type Walk struct {
	States []State
	shared *shared
}

// Of works it out for a document without problems, of which these are the findings.
func Of(d *model.Document, found []judge.Finding) *Walk {
	w := &Walk{}
	w.shared = &shared{d: d, b: d.Build, found: found, walk: w}
	for k := range Stages {
		if !Stages[k].OfHand {
			w.add(&Stages[k], noHand)
			continue
		}
		for i := range d.Build.Hands {
			w.add(&Stages[k], i)
		}
	}
	if i := w.first(func(s *State) bool { return s.State == Open }); i >= 0 {
		w.States[i].State = Here
	}
	return w
}

// add adds a stage; one that is not done, and was not, is open for now.
func (w *Walk) add(stage *Stage, hand int) {
	at := &site{shared: w.shared, id: stage.ID, hand: hand, rests: stage.rests}
	s := State{Stage: stage, Hand: at.handName(), State: Open, site: at, row: at.row()}
	done := true
	for _, c := range stage.asks {
		asked := Condition{Says: c.says}
		asked.Needs, asked.Met = c.asks(at)
		s.Conditions = append(s.Conditions, asked)
		done = done && asked.IsMet()
	}
	was, now := "", at.parts(stage.rests)
	if s.row >= 0 {
		was = w.shared.b.Walk[s.row].RestedOn
	}
	switch {
	case was != "" && was != fitting(now):
		s.State, s.Changed = Again, moved(was, now)
	case done:
		s.State = Done
	}
	w.States = append(w.States, s)
}

// first is the first of the states that is so, -1 where none is.
func (w *Walk) first(is func(s *State) bool) int {
	for i := range w.States {
		if is(&w.States[i]) {
			return i
		}
	}
	return -1
}

// Next is the stage that comes next: the first that is neither done nor to be done later; nil
// where all are done.
func (w *Walk) Next() *State {
	if i := w.first(func(s *State) bool { return s.State == Again || s.State == Here }); i >= 0 {
		return &w.States[i]
	}
	return nil
}

// Find returns the state of a stage of a hand, "" for the clock; nil where there is none.
func (w *Walk) Find(id, hand string) *State {
	if i := w.first(func(s *State) bool { return s.ID == id && s.Hand == hand }); i >= 0 {
		return &w.States[i]
	}
	return nil
}

// Count is how many of the stages are done.
func (w *Walk) Count() (done int) {
	for i := range w.States {
		if w.States[i].State == Done {
			done++
		}
	}
	return done
}

// Text says in a line or two where the work stands, and what comes next.
func (w *Walk) Text() string {
	all := quantity.Counted(len(w.States), "stage")
	next := w.Next()
	if next == nil {
		return "All " + all + " done."
	}
	text := strconv.Itoa(w.Count()) + " of " + all + " done; "
	if next.State == Again {
		return text + "look again at " + next.Name() + ": " + list(next.Changed) + "."
	}
	text += "here: " + next.Name()
	for k := range next.Conditions {
		if c := &next.Conditions[k]; !c.IsMet() {
			return text + ". Next: " + c.Says + " (" + list(c.Needs) + ")."
		}
	}
	return text + "."
}
