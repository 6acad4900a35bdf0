package form

import (
	"cmp"
	"strings"

	"example.com/needlewright/model"
	"example.com/needlewright/model/judge"
)

// Offered is what is suggested for a row, and the change it makes there; nil
// where nothing is, and while the report is of an earlier text.
func (f *Form) Offered(r Row) (*judge.Suggestion, model.Change) {
	if f.s.Report == nil || f.s.Stale() || r.Cell >= 0 {
		return nil, model.Change{}
	}
	for i := range f.s.Report.Better {
		s := &f.s.Report.Better[i]
		if c, ok := s.At(r.Field, r.Index); ok {
			return s, c
		}
	}
	return nil, model.Change{}
}

// OfferedHere is what is suggested for the focused field; nil where nothing is.
func (f *Form) OfferedHere() *judge.Suggestion {
	r, ok := f.Focused()
	if !ok {
		return nil
	}
	s, _ := f.Offered(r)
	return s
}

// OfferSign stands before what is offered beside a field.
const OfferSign = "→"

// offerTexts are how an offer stands beside its field: in full, without the
// tolerance, or where that does not fit as the sign alone.
func offerTexts(c model.Change) (full, short string) {
	nominal, _, _ := strings.Cut(c.Text, " ±")
	return OfferSign + " " + cmp.Or(nominal, "none"), OfferSign
}

// offerHelp says what is offered for a row, behind the key that takes it; "" where
// nothing is.
func (f *Form) offerHelp(r Row) string {
	s, _ := f.Offered(r)
	if s == nil {
		return ""
	}
	return f.keys.Take.Help().Key + " " + OfferSign + " " + s.Text + " " + f.keys.Choose.Help().Key + " shows others."
}
