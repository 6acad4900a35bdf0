// Package scale is the pane on which a person measures the scale of a meter: at which code
// the needle stands where, what law that makes, and what it does to the minutes. The model's
// package of the same name, here called measured, works all of that out.
package scale

import (
	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/report"
	measured "example.com/needlewright/model/scale"
	"example.com/needlewright/ui/form"
	"example.com/needlewright/ui/input"
	"example.com/needlewright/ui/keys"
	"example.com/needlewright/ui/notice"
	"example.com/needlewright/ui/session"
)

// A Scale is the pane: the rows of the hand in view, one of which has the keys.
type Scale struct {
	s    *session.Session
	form *form.Form
	say  *notice.Notice
	keys *keys.Map

	focus  string // the row that has the keys, by its key
	last   int    // its code
	hand   int    // it is of
	onCode bool   // its code is typed, not its place
	line   input.Line
	filled struct{ key, text string } // what the line was filled for, and what the file had there then
	draft  string                     // what is typed of a further code
	asked  []asked                    // codes that were typed, to be looked at

	made struct { // last
		doc    *model.Document
		hand   int
		asked  int
		fitted *measured.Fitted
		wired  circuit.HandCircuit // which says what codes mean
		all    []row
	}
	told struct { // last
		report *report.Report
		all    []report.Scale
	}
}

// An asked code is one that a person typed, or the time that it meant, to be looked at.
type asked struct {
	hand, code int
	at         string
}

// New returns the pane of a session. It says in say what a key could not do.
func New(s *session.Session, form *form.Form, say *notice.Notice, keys *keys.Map) *Scale {
	return &Scale{s: s, form: form, say: say, keys: keys, line: input.New(keys), last: noCode}
}

// noCode is that of a row without one.
const noCode = -1

// IsOpen says whether the pane is open.
func (s *Scale) IsOpen() bool { return s.form.IsOpen(form.ScaleName) }

// Begin forgets where the keys were: another document was taken up.
func (s *Scale) Begin() {
	s.focus, s.last, s.onCode, s.draft, s.asked = "", noCode, false, "", nil
	s.filled.key = ""
}

// Heed fills the line with what the row that has the keys has, where that is another than it
// was. It is to be called after each message.
func (s *Scale) Heed() {
	if !s.IsOpen() {
		return
	}
	if s.hand != s.s.Hand {
		s.hand, s.focus, s.last, s.onCode = s.s.Hand, "", noCode, false
	}
	r, ok := s.focused()
	if !ok {
		return
	}
	if key, text := r.key(), s.given(r); s.filled.key != key || s.filled.text != text {
		s.focus, s.last = key, r.code
		s.fill(r)
	}
}

// fill puts what the file has for a row into the line.
func (s *Scale) fill(r row) {
	s.filled.key, s.filled.text = r.key(), s.given(r)
	field := standsField
	if s.typesCode(r) {
		field = atField
	}
	s.line.Fill(s.filled.text, field.Longest())
}

// Move goes up or down the rows, round their ends. From a further code that is typed it goes
// to the row of that.
func (s *Scale) Move(by int) {
	if s.ask() {
		return
	}
	all := s.list()
	if n := len(all); n > 0 {
		s.goTo(all[((s.at()+by)%n+n)%n])
	}
}

// goTo gives the keys to a row.
func (s *Scale) goTo(r row) {
	if gone := s.tidy(); gone >= 0 && r.n > gone {
		r.n--
	}
	s.s.Leave()
	s.focus, s.last, s.onCode = r.key(), r.code, r.code == noCode && r.n >= 0
	s.filled.key = ""
	s.s.Enter()
	s.Heed()
}

// GoToRow opens the pane at a row of the file, counted through all hands; false where there
// is none.
func (s *Scale) GoToRow(index int) bool {
	for hand := range s.s.Doc.Build.Hands {
		n := len(s.s.Doc.Build.Hands[hand].Scale)
		if index >= n {
			index -= n
			continue
		}
		s.form.OpenPane(form.ScaleName)
		if hand != s.s.Hand {
			s.form.ShowHand(hand)
		}
		s.hand = s.s.Hand
		for _, r := range s.list() {
			if r.n == index {
				s.goTo(r)
			}
		}
		return true
	}
	return false
}

// toldOf is what the report says of the scale of the hand in view, which may be of an earlier
// text; nil where it has no rows.
func (s *Scale) toldOf() *report.Scale {
	at := s.s.ReportHand()
	if at < 0 {
		return nil
	}
	if s.told.report != s.s.Report {
		s.told.report, s.told.all = s.s.Report, s.s.Report.Scales()
	}
	for i := range s.told.all {
		if s.told.all[i].Hand == s.s.Report.Build.Hands[at].Name {
			return &s.told.all[i]
		}
	}
	return nil
}
