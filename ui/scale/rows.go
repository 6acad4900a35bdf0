package scale

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/quantity"
	measured "example.com/needlewright/model/scale"
	"example.com/needlewright/ui/session"
)

// The fields of a row, and that which says how the scale is straightened.
var (
	atField      = session.FieldOf("hand.scale.at")
	codeField    = session.FieldOf("hand.scale.code")
	ofField      = session.FieldOf("hand.scale.of")
	standsField  = session.FieldOf("hand.scale.stands")
	goingField   = session.FieldOf("hand.scale.going")
	correctField = session.FieldOf("hand.correct")
)

// A row of the table is one of the file, one that is proposed, or the last, in which a
// further code is typed.
type row struct {
	n       int // of the rows of its hand from 0; below 0: it is not in the file
	further bool
	model.ScaleRow
	code, of int // the same with the top code that is meant
}

// key tells the row from all others of its hand.
func (r *row) key() string {
	switch {
	case r.further:
		return "further"
	case r.n < 0:
		return fmt.Sprint("code ", r.code)
	}
	return fmt.Sprint("row ", r.n)
}

// isWanted says whether the row is to be looked at, and is no row of the file yet.
func (r *row) isWanted() bool { return r.n < 0 && !r.further }

// fitted is what the rows of the hand in view tell, as the document has them.
func (s *Scale) fitted() *measured.Fitted {
	s.list()
	return s.made.fitted
}

// list is all rows, by their codes; none where there is no hand.
func (s *Scale) list() []row {
	doc := s.s.Doc
	if len(doc.Build.Hands) == 0 {
		s.made.fitted = nil
		return nil
	}
	if m := &s.made; m.doc != doc || m.hand != s.s.Hand || m.asked != len(s.asked) || m.fitted == nil {
		m.doc, m.hand, m.asked = doc, s.s.Hand, len(s.asked)
		h := &doc.Build.Hands[s.s.Hand]
		if m.fitted = measured.Of(h); m.fitted == nil {
			m.fitted = measured.Fit(nil, measured.HandOf(h))
		}
		m.wired = circuit.WireHand(doc.Build, h)
		m.all = s.makeRows(h, m.fitted)
	}
	return s.made.all
}

func (s *Scale) makeRows(h *model.Hand, f *measured.Fitted) []row {
	top := h.Drive.Top
	var all []row
	for n, r := range h.Scale {
		all = append(all, row{n: n, ScaleRow: r, code: r.Code, of: cmp.Or(r.Of, top)})
	}
	add := func(code int, at string) {
		if !slices.ContainsFunc(all, func(r row) bool { return r.n < 0 && r.code == code }) {
			all = append(all, row{n: -1, ScaleRow: model.ScaleRow{At: at}, code: code, of: top})
		}
	}
	for _, a := range s.asked {
		if a.hand == s.s.Hand && a.code <= top {
			add(a.code, a.at)
		}
	}
	for _, code := range f.Wanted() {
		if !slices.ContainsFunc(all, func(r row) bool { return r.code == code && r.of == top }) {
			add(code, "")
		}
	}
	slices.SortStableFunc(all, func(a, b row) int { return cmp.Compare(f.CurrentOf(a.code, a.of), f.CurrentOf(b.code, b.of)) })
	return append(all, row{n: -1, further: true, code: noCode})
}

// at is the row that has the keys: where that is gone, one with its code; at first the one
// that is wanted.
func (s *Scale) at() int {
	all := s.list()
	for _, is := range []func(r row) bool{
		func(r row) bool { return r.key() == s.focus },
		func(r row) bool { return s.focus != "" && !r.further && r.code == s.last },
		func(r row) bool { return r.isWanted() },
	} {
		if i := slices.IndexFunc(all, is); i >= 0 {
			return i
		}
	}
	return 0
}

// focused is the row that has the keys; false where there is none.
func (s *Scale) focused() (row, bool) {
	all := s.list()
	if len(all) == 0 {
		return row{}, false
	}
	return all[s.at()], true
}

// typesCode says whether the code of a row is typed, not its place.
func (s *Scale) typesCode(r row) bool { return r.further || r.n >= 0 && s.onCode }

// index is which of all hands' rows a row of the hand in view is.
func (s *Scale) index(n int) int {
	for i := range s.s.Hand {
		n += len(s.s.Doc.Build.Hands[i].Scale)
	}
	return n
}

// given is what the file has where a row is typed.
func (s *Scale) given(r row) string {
	switch {
	case r.further:
		return s.draft
	case r.n < 0:
		return ""
	case s.typesCode(r):
		text, _ := s.s.Doc.Given(codeField, s.index(r.n))
		return text
	}
	text, _ := s.s.Doc.Given(standsField, s.index(r.n))
	return text
}

// problem says why a row cannot be read; "" where it can, or nothing is typed in it yet.
func (s *Scale) problem(r row) string {
	switch {
	case r.further:
		if strings.TrimSpace(s.draft) == "" {
			return ""
		}
		_, problem := s.codeOf(s.draft)
		return problem
	case r.n < 0:
		return ""
	}
	for _, field := range []*model.Field{codeField, ofField, standsField, goingField, atField} {
		if p := s.s.Doc.Problem(field, s.index(r.n)); p != nil {
			return strings.TrimSpace(field.Label) + ": " + model.Problem{Wrong: p.Wrong, Allowed: p.Allowed, Remedy: p.Remedy}.Message()
		}
	}
	return ""
}

// codeOf is the code that is meant by what is typed: a code itself, or a time of the dial,
// which the table in force makes one.
func (s *Scale) codeOf(text string) (asked, string) {
	h := &s.s.Doc.Build.Hands[s.s.Hand]
	a := asked{hand: s.s.Hand, code: noCode}
	if !strings.Contains(text, ":") {
		code, err := quantity.ParseCount(strings.TrimSpace(text))
		if err != nil || code < 0 || code > h.Drive.Top {
			return a, fmt.Sprintf("%q is no code; write 0 to %d, or a time of this dial, for example %s", text, h.Drive.Top, exampleOf(h.Shows))
		}
		a.code = code
		return a, ""
	}
	share, err := quantity.ParseDial(text, h.Shows)
	if err != nil {
		return a, err.Error()
	}
	c := s.made.wired.Quantisation()
	code := int(c.Code(share))
	if code < 0 {
		return a, "it lies in the other half of the dial: the scale is measured from its middle up"
	}
	a.code, a.at = code, strings.TrimSpace(text)
	return a, ""
}

// exampleOf is a time of a dial, a little before its middle.
func exampleOf(shows string) string {
	const share = 0.49
	return quantity.FormatDial(share, shows)
}

// outlier is by how much a row stands off what the others say, a share of the scale; false
// where it counts.
func (s *Scale) outlier(r row) (off float64, ok bool) {
	for _, o := range s.fitted().Outliers {
		if o.Row == r.n+1 && r.n >= 0 {
			return o.Off, true
		}
	}
	return 0, false
}

// off is by how much the hand shows too much at a row, a share of its dial's time; false
// where that is not known.
func (s *Scale) off(r row) (off float64, ok bool) {
	for _, seen := range s.fitted().Seen {
		if seen.Row == r.n+1 && r.n >= 0 {
			return seen.Off(s.made.wired.Quantisation()), true
		}
	}
	return 0, false
}

// means is the time that a row's code has by the table in force; "" where it has none.
func (s *Scale) means(r row) string {
	if r.further || r.code < 0 {
		return ""
	}
	share := measured.Meant(s.fitted().CurrentOf(r.code, r.of), s.made.wired.Quantisation())
	return quantity.FormatDial(share, s.s.Doc.Build.Hands[s.s.Hand].Shows)
}
