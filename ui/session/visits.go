package session

import (
	"cmp"
	"fmt"
	"strings"

	"example.com/needlewright/model"
)

// Enter begins a visit to a field: undo brings back what was there before it.
func (s *Session) Enter() { s.entered = s.Doc.Text }

// Entered is the document as it was when the visit began.
func (s *Session) Entered() *model.Document { return s.Doc.Reopen(s.entered) }

// Untouched says whether nothing was changed since the visit began.
func (s *Session) Untouched() bool { return s.Doc.Text == s.entered }

// Leave ends the visit: its former text can be had back by undo.
func (s *Session) Leave() {
	if s.Doc.Text != s.entered {
		s.Undo, s.redo = append(s.Undo, s.entered), nil
		s.entered = s.Doc.Text
	}
}

// Rebase remembers the results before an edit, so that what it changes can be
// shown. Changes within one visit to a field count as one edit.
func (s *Session) Rebase() {
	if s.Untouched() {
		s.Base = s.Report
	}
}

// Replace takes a document in place of the present one, as a visit of its own.
func (s *Session) Replace(d *model.Document) {
	s.Rebase()
	s.Undo, s.redo = append(s.Undo, s.Doc.Text), nil
	s.Show(d)
}

// UndoVisit goes one visit back, and returns the document that was there; nil where
// none is left.
func (s *Session) UndoVisit() *model.Document { return s.goBack(&s.Undo, &s.redo) }

// RedoVisit goes forth again.
func (s *Session) RedoVisit() *model.Document { return s.goBack(&s.redo, &s.Undo) }

func (s *Session) goBack(from, to *[]string) *model.Document {
	last := len(*from) - 1
	if last < 0 {
		return nil
	}
	s.Rebase()
	before := s.Doc
	*to = append(*to, before.Text)
	s.Show(before.Reopen((*from)[last]))
	*from = (*from)[:last]
	return before
}

// Revert gives the text back that the visit began with; false where nothing was
// changed.
func (s *Session) Revert() bool {
	if s.Untouched() {
		return false
	}
	s.Show(s.Doc.Reopen(s.entered))
	return true
}

// ToMend names what keeps the results from being of the present text.
func (s *Session) ToMend() string {
	text := "mend " + s.called(&s.Doc.Problems[0])
	if more := len(s.Doc.Problems) - 1; more > 0 {
		text += fmt.Sprintf(" and %d more", more)
	}
	return text
}

// Unread says of the first problem which value cannot be read, and why; "" where there is
// none.
func (s *Session) Unread() string {
	if len(s.Doc.Problems) == 0 {
		return ""
	}
	p := s.Doc.Problems[0]
	text := s.called(&p)
	if more := len(s.Doc.Problems) - 1; more > 0 {
		text += fmt.Sprintf(" and %d more", more)
	}
	return text + " cannot be read: " + model.Problem{Wrong: p.Wrong, Allowed: p.Allowed, Remedy: p.Remedy}.Message()
}

// called is what the value of a problem is called: by its field, and of which hand it is
// where there are several.
func (s *Session) called(p *model.Problem) string {
	if p.Label == "" {
		return cmp.Or(p.Path, fmt.Sprintf("line %d", p.Line))
	}
	label := strings.TrimSpace(p.Label)
	f, i, ok := s.Doc.Find(p.Path)
	if ok && f.IsRow() {
		return fmt.Sprintf("%s in line %d", label, p.Line)
	}
	if !ok || Names[f.List()] == nil || Elements(s.Doc.Build, f.List()) < 2 {
		return label
	}
	return label + " of " + ElementName(s.Doc.Build, f.List(), i)
}

// LastGood says that the results are of an earlier text, and first what to mend: its end
// may be cut.
func (s *Session) LastGood() string { return s.ToMend() + "; last good results" }

// Homeless is the first problem that no field on any form shows.
func (s *Session) Homeless() *model.Problem {
	for i := range s.Doc.Problems {
		if p := &s.Doc.Problems[i]; !s.HasHome(p) {
			return p
		}
	}
	return nil
}

// HasHome says whether a field on a form shows a problem.
func (s *Session) HasHome(p *model.Problem) bool {
	f, _, ok := s.Doc.Find(p.Path)
	return ok && f.Pane != model.NoPane
}
