package ui

import (
	"fmt"

	"example.com/needlewright/model"
)

// enter begins a visit to a field: undo brings back what was there before it.
func (s *session) enter() { s.entered = s.doc.Text }

// untouched says whether nothing was changed since the visit began.
func (s *session) untouched() bool { return s.doc.Text == s.entered }

// leave ends the visit: its former text can be had back by undo.
func (s *session) leave() {
	if s.doc.Text != s.entered {
		s.undo, s.redo = append(s.undo, s.entered), nil
		s.entered = s.doc.Text
	}
}

// rebase remembers the results before an edit, so that what it changes can be
// shown. Changes within one visit to a field count as one edit.
func (s *session) rebase() {
	if s.untouched() {
		s.base = s.report
	}
}

// replace takes a document in place of the present one, as a visit of its own.
func (s *session) replace(d *model.Document) {
	s.rebase()
	s.undo, s.redo = append(s.undo, s.doc.Text), nil
	s.show(d)
}

// undoVisit goes one visit back, and returns the document that was there; nil where
// none is left.
func (s *session) undoVisit() *model.Document { return s.goBack(&s.undo, &s.redo) }

// redoVisit goes forth again.
func (s *session) redoVisit() *model.Document { return s.goBack(&s.redo, &s.undo) }

func (s *session) goBack(from, to *[]string) *model.Document {
	last := len(*from) - 1
	if last < 0 {
		return nil
	}
	s.rebase()
	before := s.doc
	*to = append(*to, before.Text)
	s.show(before.Reopen((*from)[last]))
	*from = (*from)[:last]
	return before
}

// revert gives the text back that the visit began with; false where nothing was
// changed.
func (s *session) revert() bool {
	if s.untouched() {
		return false
	}
	s.show(s.doc.Reopen(s.entered))
	return true
}

// toMend names what keeps the results from being of the present text.
func (s *session) toMend() string {
	text := "mend " + s.doc.Problems[0].Path
	if label := s.doc.Problems[0].Label; label != "" {
		text = "mend " + label
	}
	if more := len(s.doc.Problems) - 1; more > 0 {
		text += fmt.Sprintf(" and %d more", more)
	}
	return text
}

// lastGood says that the results are of an earlier text.
func (s *session) lastGood() string { return "last good results; " + s.toMend() }

// homeless is the first problem that no field on any form shows.
func (s *session) homeless() *model.Problem {
	for i := range s.doc.Problems {
		if p := &s.doc.Problems[i]; !s.hasHome(p) {
			return p
		}
	}
	return nil
}

func (s *session) hasHome(p *model.Problem) bool {
	f, _, ok := s.doc.Find(p.Path)
	return ok && f.Pane != model.NoPane
}
