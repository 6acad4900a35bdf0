// Package walk leads a beginner through the work on a clock, a page at a time: what to do and
// to measure, what can be hurt, what the answers mean, and when a stage is done. The model's
// package of the same name, here called engine, has the stages and says how they stand.
package walk

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model"
	"example.com/needlewright/model/bench"
	"example.com/needlewright/model/network"
	"example.com/needlewright/model/report"
	engine "example.com/needlewright/model/walk"
	"example.com/needlewright/ui/form"
	"example.com/needlewright/ui/input"
	"example.com/needlewright/ui/keys"
	"example.com/needlewright/ui/notice"
	"example.com/needlewright/ui/session"
)

// A Walk is the pages. Where they stand follows from the document; which of them is open is
// theirs.
type Walk struct {
	s    *session.Session
	form *form.Form
	say  *notice.Notice
	keys *keys.Map

	open bool
	left bool // they were open before, on this build
	at   place

	line    input.Line
	typing  bool         // something is typed that is not taken yet
	tried   *engine.Walk // where the work would stand with it; nil: nothing is typed, or it cannot be read
	sought  string       // what was typed to choose, a letter after another
	problem string       // why the last answer was not taken
	shown   int          // of the stage's results, how many workings were looked at

	on    *engine.Walk   // where the work stands,
	of    *report.Report // by this report
	sound *bench.Report  // what a sound clock reads; nil: not asked for yet
	bench *bench.Bench
	made  []network.Connection // that are ticked one after another; nil: not asked for yet
	joint int                  // of these, the one that has the keys
}

// A place is a page: of which state, which page of it, and which question has the keys.
type place struct{ state, page, row int }

// New returns the pages of a session.
func New(s *session.Session, form *form.Form, say *notice.Notice, keys *keys.Map) *Walk {
	return &Walk{s: s, form: form, say: say, keys: keys, line: input.New(keys)}
}

// IsLeft says whether there is a page to come back to.
func (v *Walk) IsLeft() bool { return v.left }

// IsOpen says whether the pages have the keys.
func (v *Walk) IsOpen() bool { return v.open }

// Begin has the pages begin anew, with another build.
func (v *Walk) Begin() { v.left, v.at = false, place{} }

// Open opens the page that was left, or else that of what comes next. What a starter file
// leaves open of a meter is supposed, as one step of undo. While another value cannot be read
// it says so.
func (v *Walk) Open() {
	if d, ok := engine.Supposed(v.s.Doc); ok {
		v.s.Replace(d)
		v.say.Say("What is not measured yet of the meter stands as is usual, marked ?.")
	}
	if v.s.Stale() {
		v.say.Warn("The walk goes by what can be read: first " + v.s.ToMend() + ".")
		return
	}
	v.form.Leave()
	v.open = true
	v.look()
	if !v.left {
		v.at = v.next()
	}
	v.goTo(v.at)
}

// OpenAt opens the first page of a stage, of the hand in view where each hand has its own. It
// says why it cannot, as Open does.
func (v *Walk) OpenAt(stage string) {
	v.Open()
	if !v.open {
		return
	}
	for i := range v.on.States {
		if s := &v.on.States[i]; s.ID == stage && (s.HandIndex() < 0 || s.HandIndex() == v.s.Hand) {
			v.goTo(place{state: i})
			return
		}
	}
}

// Close leaves the pages.
func (v *Walk) Close() {
	v.open, v.left, v.typing, v.tried = false, true, false, nil
	v.form.Enter()
}

// next is the first page of the stage that comes next; of a clock that is done the last.
func (v *Walk) next() place {
	next := v.on.Next()
	for i := range v.on.States {
		if next == &v.on.States[i] {
			return place{state: i}
		}
	}
	return place{state: len(v.on.States) - 1}
}

// look has the walk be that of the present report.
func (v *Walk) look() {
	if v.of == v.s.Report && v.on != nil {
		return
	}
	v.of, v.on = v.s.Report, v.s.Report.Walk()
	v.sound, v.bench, v.made = nil, nil, nil
	v.at = v.within(v.at)
}

// within is a place that is there.
func (v *Walk) within(at place) place {
	state := min(at.state, len(v.on.States)-1)
	pages := v.on.States[state].Asked()
	page := min(at.page, len(pages)-1)
	return place{state, page, min(at.row, len(pages[page])-1)}
}

// Heed follows what was done to the document elsewhere: with a value that cannot be read, by
// undo, the pages end.
func (v *Walk) Heed() {
	switch {
	case !v.open:
	case v.s.Stale():
		v.Close()
		v.say.Warn("The walk goes by what can be read: first " + v.s.ToMend() + ".")
	default:
		if before := v.of; before != v.s.Report {
			v.look()
			if !v.typing {
				v.fill()
			}
		}
	}
}

// state is the stage that is open, and questions are those of its page.
func (v *Walk) state() *engine.State       { return &v.on.States[v.at.state] }
func (v *Walk) questions() engine.Page     { return v.state().Asked()[v.at.page] }
func (v *Walk) question() *engine.Question { return &v.questions()[v.at.row] }

// goTo opens a page at a question.
func (v *Walk) goTo(at place) {
	if at.state != v.at.state {
		v.shown = 0
	}
	v.at = at
	v.fill()
}

// fill puts what stands for the question into the line.
func (v *Walk) fill() {
	v.typing, v.tried, v.sought, v.problem = false, nil, "", ""
	q := v.question()
	text, _, _ := v.state().Given(q)
	if v.isChoice(q) {
		text = ""
	}
	v.line.Fill(text, v.most(q))
	v.line.Mark(len([]rune(text)))
	if t := v.ticksHere(); t != nil {
		v.joint = max(0, t.Next(0))
	}
}

// most are the characters that an answer may have.
func (v *Walk) most(q *engine.Question) int {
	path := "walk.met.value"
	switch {
	case q.Field != "":
		path = q.Field
	case q.Point != "":
		path = "reading.value"
	}
	return model.Builds.Field(path).Longest()
}

// accepted is the condition of which one says why, in words.
const accepted = "accepted"

// isChoice says whether the answer is chosen, not typed.
func (v *Walk) isChoice(q *engine.Question) bool {
	if q.Field != "" {
		return model.Builds.Field(q.Field).Choices != nil
	}
	return q.Sign != "" && q.Sign != accepted
}

// choices are the answers to choose from. Of a yes they say who gives it.
func (v *Walk) choices(q *engine.Question) []string {
	if q.Sign != "" {
		return []string{"", yesMine, yesTeachers, no}
	}
	f := model.Builds.Field(q.Field)
	if f.Absent == "" {
		return append([]string{""}, f.Choices...)
	}
	return f.Choices
}

// What may be said of a condition.
const (
	yesMine     = "yes, by me"
	yesTeachers = "yes, by my teacher"
	no          = "no"
)

// said is the choice that stands for a question.
func (v *Walk) said(q *engine.Question) string {
	text, by, _ := v.state().Given(q)
	if q.Sign == "" {
		return text
	}
	switch {
	case text == "" || text == no:
		return text
	case v.isTicking() && v.ticked() != "":
		return v.ticked()
	case by == "teacher":
		return yesTeachers
	}
	return yesMine
}

// answer takes an answer into the document, as one edit; false where it cannot be read: then
// it stays where it is typed, to be typed anew or edited.
func (v *Walk) answer(text string) (tea.Cmd, bool) {
	q, s := v.question(), v.state()
	by := "builder"
	if q.Sign != "" {
		if why := s.MaySign(q.Sign); why != "" && strings.HasPrefix(text, "yes") {
			v.problem = why
			return nil, false
		}
		if q.Sign != accepted && strings.HasPrefix(text, "yes") {
			if text == yesTeachers {
				by = "teacher"
			}
			text = "yes"
		}
	}
	d := s.Answer(q, text, by)
	if v.problem = v.wrong(q, d); v.problem != "" {
		if v.typing {
			v.line.Fill(text, v.most(q)) // marked: what is typed next takes its place
		}
		return nil, false
	}
	return v.take(d), true
}

// wrong is what is wrong with an answer, "" where nothing is.
func (v *Walk) wrong(q *engine.Question, d *model.Document) string {
	if len(d.Problems) > 0 {
		return d.Problems[0].Message()
	}
	if q.Point == "" {
		return ""
	}
	for _, r := range bench.Sound(d.Build).Verdicts(d.Build.Readings).Readings {
		if r.At == v.state().PointOf(q) && !r.Before && r.Problem != "" && r.Given != "" {
			return r.Problem
		}
	}
	return ""
}

// take makes a document the present one, where it is another.
func (v *Walk) take(d *model.Document) tea.Cmd {
	if d.Text == v.s.Doc.Text {
		v.fill()
		return nil
	}
	cmd := v.form.Replace(d)
	v.look()
	v.fill()
	return cmd
}

// Seen is what the build knows of the stage's meter that a question of the survey asks for, by
// that question's kind; "" where nobody said it, or no field has it.
func (v *Walk) Seen(kind string) string {
	path := "hand.meter." + kind
	if model.Builds.Field(path) == nil {
		return ""
	}
	return v.state().Known(path)
}

// Take puts in what the survey was told of the meter, by the kinds of its questions, where the
// walk does not know it yet; the parts follow what it found.
func (v *Walk) Take(told map[string]string) tea.Cmd {
	d, s := v.s.Doc, v.state()
	for _, f := range model.Builds.Fields { // in their order, so that the same answers make the same text
		kind, ofMeter := strings.CutPrefix(f.Path, "hand.meter.")
		if ofMeter && told[kind] != "" && s.HandIndex() >= 0 && s.Known(f.Path) == "" {
			d = d.Set(f, s.HandIndex(), told[kind])
		}
	}
	return v.take(engine.FollowMeters(d))
}
