package scale

import (
	"fmt"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model"
	"example.com/needlewright/ui/form"
)

// Edit gives a key to the row that has the keys; the law follows at once.
func (s *Scale) Edit(msg tea.KeyMsg) tea.Cmd {
	r, ok := s.focused()
	if !ok || s.s.Doc.Broken() {
		return nil
	}
	changed, says := s.line.Press(msg)
	if says != "" {
		s.say.Warn(says)
	}
	switch text := s.line.Value(); {
	case !changed:
		return nil
	case r.further:
		s.draft, s.filled.text = text, text
		return nil
	case s.typesCode(r):
		return s.show(r, s.withCode(s.s.Doc, s.index(r.n), text))
	default:
		return s.putPlace(r, text)
	}
}

// putPlace puts where the needle stands into a row; one that was proposed becomes one of the
// file.
func (s *Scale) putPlace(r row, text string) tea.Cmd {
	doc := s.s.Doc
	place, going, said := placeOf(text)
	if r.n < 0 {
		values := map[string]model.NewValue{
			codeField.Path: {Text: fmt.Sprint(r.code)}, ofField.Path: {Text: fmt.Sprint(r.of)}, standsField.Path: {Text: place}, atField.Path: {Text: r.At},
		}
		var problem *model.Problem
		if doc, problem = doc.AddRow("hand.scale", s.s.Hand, values); problem != nil {
			s.say.Warn(problem.Message())
			s.line.Fill("", standsField.Longest())
			return nil
		}
		r.n = len(s.s.Doc.Build.Hands[s.s.Hand].Scale)
		s.asked = slices.DeleteFunc(s.asked, func(a asked) bool { return a.hand == s.s.Hand && a.code == r.code })
	}
	doc = doc.Set(standsField, s.index(r.n), place)
	if said {
		doc = doc.Set(goingField, s.index(r.n), going)
	}
	return s.show(r, doc)
}

// placeOf is what is typed of a place, with where the needle came from where that is said
// behind it: "5:53 up".
func placeOf(text string) (place, going string, said bool) {
	words := strings.Fields(text)
	if n := len(words); n > 1 {
		switch last := strings.ToLower(words[n-1]); last {
		case "up", "down":
			return strings.Join(words[:n-1], " "), last, true
		}
	}
	return text, "", false
}

// withCode is the document with what is typed as the code of a row: a code, or a time that
// the table in force makes one.
func (s *Scale) withCode(doc *model.Document, index int, text string) *model.Document {
	a, problem := s.codeOf(text)
	if problem != "" || a.at == "" {
		return doc.Set(codeField, index, text).Set(atField, index, "")
	}
	top := s.s.Doc.Build.Hands[s.s.Hand].Drive.Top
	return doc.Set(codeField, index, fmt.Sprint(a.code)).Set(atField, index, a.at).Set(ofField, index, fmt.Sprint(top))
}

// show takes a document in which the row that has the keys has other values; what is typed
// stays in the line.
func (s *Scale) show(r row, doc *model.Document) tea.Cmd {
	s.s.Rebase()
	s.s.Show(doc)
	for _, now := range s.list() {
		if now.n == r.n {
			s.focus, s.last = now.key(), now.code
			s.filled.key, s.filled.text = now.key(), s.given(now)
		}
	}
	return s.s.Changed()
}

// ask takes a further code that is typed as one to be looked at, and goes to its row; false
// where none is typed.
func (s *Scale) ask() bool {
	r, ok := s.focused()
	if !ok || !r.further || strings.TrimSpace(s.draft) == "" {
		return false
	}
	a, problem := s.codeOf(s.draft)
	if problem != "" {
		s.say.Warn(problem + ".")
		s.draft = ""
		return true
	}
	s.asked, s.draft = append(s.asked, a), ""
	for _, r := range s.list() {
		if r.n < 0 && r.code == a.code {
			s.goTo(r)
		}
	}
	return true
}

// Forget gives up a further code that is typed; false where none is.
func (s *Scale) Forget() bool {
	was := s.draft
	s.draft = ""
	return was != "" && s.IsOpen()
}

// tidy takes a row out of the file that was emptied in this visit, and says which; below 0
// none.
func (s *Scale) tidy() int {
	r, ok := s.focused()
	if !ok || r.n < 0 || s.s.Untouched() || s.s.Doc.Broken() {
		return -1
	}
	if text, _ := s.s.Doc.Given(standsField, s.index(r.n)); strings.TrimSpace(text) != "" {
		return -1
	}
	doc, problem := s.s.Doc.Remove("hand.scale", s.index(r.n))
	if problem != nil {
		return -1
	}
	s.s.Show(doc)
	gone := r.n
	r.n = -1
	s.focus, s.last, s.onCode = r.key(), r.code, false
	return gone
}

// Settle ends the typing, when a key does anything else.
func (s *Scale) Settle() tea.Cmd {
	if !s.IsOpen() || s.s.Untouched() {
		return nil
	}
	s.tidy()
	return s.s.Changed()
}

// Step says where the needle of a row came from, or takes that back: then it was tapped.
func (s *Scale) Step(up bool) tea.Cmd {
	r, ok := s.focused()
	if !ok || s.s.Doc.Broken() {
		return nil
	}
	if r.n < 0 {
		s.say.Say("First type where the needle stands.")
		return nil
	}
	going := "down"
	if up {
		going = "up"
	}
	if r.Going == going {
		going = ""
	}
	return s.show(r, s.s.Doc.Set(goingField, s.index(r.n), going))
}

// EditCode has the code of a row typed in place of where its needle stands, or goes back to
// that; with a row that is not in the file it goes to where a further code is typed.
func (s *Scale) EditCode() {
	r, ok := s.focused()
	switch {
	case !ok:
		s.say.Say("There is no hand yet whose scale could be measured.")
	case r.n >= 0:
		s.onCode = !s.onCode
		s.fill(r)
	default:
		all := s.list()
		s.goTo(all[len(all)-1])
	}
}

// Next goes to a row that does not agree with the others, else to where the needle is to be
// looked at next.
func (s *Scale) Next() {
	here, ok := s.focused()
	if !ok {
		s.say.Say("There is no hand yet whose scale could be measured.")
		return
	}
	for _, wrong := range []bool{true, false} {
		for _, r := range s.list() {
			_, outlies := s.outlier(r)
			switch isHere := r.key() == here.key(); {
			case wrong && (!outlies || isHere), !wrong && !r.isWanted():
			case isHere:
				s.say.Say("It is this one.")
				return
			default:
				s.goTo(r)
				return
			}
		}
	}
	s.say.Say("Nothing more is worth looking at.")
}

// offered is how the scale may be straightened, other than it is: by codes, or where one
// code moves the needle too far by a drawn dial; where that is so already, by the other. ""
// where there is no law, or a dial is drawn already to what codes could not straighten.
func (s *Scale) offered() string {
	told := s.toldOf()
	switch {
	case told == nil || !told.Enough || s.s.Stale():
		return ""
	case s.correct() == "dial" && told.Steep.TooSteep:
		return ""
	case s.correct() == "codes" || told.Steep.TooSteep:
		return "dial"
	}
	return "codes"
}

// correct is how the scale of the hand in view is straightened.
func (s *Scale) correct() string { return s.s.Doc.Build.Hands[s.s.Hand].Correct }

// Take has the scale straightened as it is offered, as one step of undo.
func (s *Scale) Take() tea.Cmd {
	to := s.offered()
	if to == "" {
		why := "There is no law of this scale yet to straighten it by."
		switch told := s.toldOf(); {
		case s.s.Stale():
			why = "First " + s.s.ToMend() + "."
		case told != nil && told.Enough:
			why = "A drawn dial is best for this scale: it is too steep for its codes."
		case told != nil:
			why = "There is no law yet: " + told.Why + "."
		}
		s.say.Say(why)
		return nil
	}
	told, was := *s.toldOf(), s.correct()
	s.tidy()
	s.s.Leave()
	s.s.Replace(s.s.Doc.Make([]model.Change{{Field: correctField, Index: s.s.Hand, Text: to}}))
	s.s.Enter()
	s.Heed()
	does := "The firmware straightens it now, by a table of codes"
	if to == "dial" {
		does = "The dial is to be drawn to its needle now"
	}
	s.say.Say(fmt.Sprintf("%s: off by %s → %s at most. %s gives it back.", does, told.Off(offBy(&told, was)), told.Off(offBy(&told, to)), s.keys.Undo.Help().Key))
	return s.s.Changed()
}

// Follow goes to the row that undo or redo has changed, where one was.
func (s *Scale) Follow(before *model.Document) {
	now := s.s.Doc
	if before == now || before.TextWithout("hand.scale") != now.TextWithout("hand.scale") {
		return
	}
	first := 0
	for hand := range min(len(before.Build.Hands), len(now.Build.Hands)) {
		a, b := before.Build.Hands[hand].Scale, now.Build.Hands[hand].Scale
		for n := range max(len(a), len(b)) {
			switch {
			case n < len(b) && (n >= len(a) || a[n] != b[n]):
				s.GoToRow(first + n)
				return
			case n >= len(b):
				s.form.OpenPane(form.ScaleName)
				s.form.ShowHand(hand)
				s.hand, s.last, s.focus = s.s.Hand, a[n].Code, "gone"
				s.Heed()
				return
			}
		}
		first += len(b)
	}
}
