package ui

import (
	"cmp"
	"strings"

	"example.com/needlewright/model"
	"example.com/needlewright/model/judge"
)

// offered is what is suggested for a row, and the change it makes there; nil
// where nothing is, and while the report is of an earlier text.
func (f *form) offered(r row) (*judge.Suggestion, model.Change) {
	if f.s.report == nil || f.s.stale() || r.cell >= 0 {
		return nil, model.Change{}
	}
	for i := range f.s.report.Better {
		s := &f.s.report.Better[i]
		if c, ok := s.At(r.field, r.index); ok {
			return s, c
		}
	}
	return nil, model.Change{}
}

// offeredHere is what is suggested for the focused field; nil where nothing is.
func (f *form) offeredHere() *judge.Suggestion {
	r, ok := f.focused()
	if !ok {
		return nil
	}
	s, _ := f.offered(r)
	return s
}

// offerSign stands before what is offered beside a field.
const offerSign = "→"

// offerTexts are how an offer stands beside its field: in full, without the
// tolerance, or where that does not fit as the sign alone.
func offerTexts(c model.Change) (full, short string) {
	nominal, _, _ := strings.Cut(c.Text, " ±")
	return offerSign + " " + cmp.Or(nominal, "none"), offerSign
}

// offerHelp says what is offered for a row, behind the key that takes it; "" where
// nothing is.
func (f *form) offerHelp(r row) string {
	s, _ := f.offered(r)
	if s == nil {
		return ""
	}
	return f.keys.Take.Help().Key + " " + offerSign + " " + s.Text + " " + f.keys.Choose.Help().Key + " shows others."
}
