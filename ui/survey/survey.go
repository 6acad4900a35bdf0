// Package survey finds out what an unknown meter is, in pages that lead a person at the
// bench from a look to a verdict: what to connect next, drawn, what it can do to the meter,
// and what is known so far. The model's package of the same name, here called engine, asks
// and weighs.
package survey

import (
	"slices"
	"strconv"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	engine "example.com/needlewright/model/survey"
	"example.com/needlewright/ui/form"
	"example.com/needlewright/ui/input"
	"example.com/needlewright/ui/keys"
	"example.com/needlewright/ui/notice"
	"example.com/needlewright/ui/session"
)

// A Survey is the pages. What was answered stays, and is kept when the program ends.
type Survey struct {
	s       *session.Session
	form    *form.Form
	say     *notice.Notice
	keys    *keys.Map
	addHand func(*Found) tea.Cmd // begins a further hand with the meter

	open    bool
	dial    *engine.Survey  // the dialogue
	ask     *engine.Ask     // what it asks; nil: nothing more
	verdict *engine.Verdict // what was found; nil: something is asked
	known   engine.Summary  // of the meter, so far
	steps   []step          // what was answered
	later   []step          // what had been, before it was gone back past
	taken   bool            // a hand has taken it over

	line    input.Line // of what is typed
	chosen  int        // among the options; noOption: the line is, or nothing yet
	sought  string     // what was typed to choose one, a letter after another
	problem string     // why the last answer was not taken
}

// A step is an answer, and what it answers.
type step struct {
	ask    *engine.Ask
	answer string
}

// noOption is chosen where what stands in the line is; without a line nothing is: what may
// be dangerous is not answered by a key too many.
const noOption = -1

// mostTyped are the characters that an answer may have.
const mostTyped = 60

// New returns the pages of a session, with nothing answered. addHand is to add a hand with
// a meter that was found out.
func New(s *session.Session, form *form.Form, say *notice.Notice, keys *keys.Map, addHand func(*Found) tea.Cmd) *Survey {
	v := &Survey{s: s, form: form, say: say, keys: keys, addHand: addHand, line: input.New(keys)}
	v.anew()
	return v
}

// anew forgets all answers.
func (v *Survey) anew() {
	v.dial, v.steps, v.later, v.taken = &engine.Survey{}, nil, nil, false
	ask, verdict := v.dial.Next()
	v.show(ask, verdict, "")
}

// IsOpen says whether the pages have the keys.
func (v *Survey) IsOpen() bool { return v.open }

// IsBegun says whether something was answered.
func (v *Survey) IsBegun() bool { return len(v.steps) > 0 }

// IsUntaken says whether something was answered that no hand has taken over.
func (v *Survey) IsUntaken() bool { return len(v.steps) > 0 && !v.taken }

// Open opens the page at which the survey was left.
func (v *Survey) Open() {
	v.form.Leave()
	v.open = true
}

// OpenOn opens the survey of a meter of which something is known: what is, by the kind of a
// question, "" where nothing is. From the first question on what is known is answered; what is
// asked later stands there to be taken. Once something is answered it is as Open.
func (v *Survey) OpenOn(known func(kind string) string) {
	if !v.IsBegun() {
		for v.ask != nil && v.problem == "" && known(v.ask.Kind) != "" {
			v.take(known(v.ask.Kind))
		}
		for _, kind := range []string{"marked", "kind"} {
			if answer := known(kind); answer != "" {
				v.later = append(v.later, step{&engine.Ask{Kind: kind}, answer})
			}
		}
	}
	v.Open()
}

// Answers are what was answered that no hand has taken over: to be kept when the program ends.
func (v *Survey) Answers() []string {
	if !v.IsUntaken() {
		return nil
	}
	return v.dial.Answers()
}

// Restore gives the answers that were kept, as far as they can be taken.
func (v *Survey) Restore(answers []string) {
	for _, answer := range answers {
		if v.ask == nil {
			return
		}
		if v.take(answer); v.problem != "" {
			v.problem = ""
			return
		}
	}
}

// Looked is what was answered of where the meter is from and what can hurt, by the kinds of the
// questions.
func (v *Survey) Looked() map[string]string {
	looked := map[string]string{}
	for _, kind := range []string{"origin", "removed", "glow"} {
		looked[kind] = v.answered(kind)
	}
	return looked
}

// OpenAnew begins with another meter.
func (v *Survey) OpenAnew() {
	v.anew()
	v.Open()
}

// Close leaves the pages. The answers stay.
func (v *Survey) Close() {
	v.open = false
	v.form.Enter()
}

// show shows what is asked, or was found, with a text in its line or, where that is one of
// its options, with that chosen.
func (v *Survey) show(ask *engine.Ask, verdict *engine.Verdict, text string) {
	v.ask, v.verdict, v.known = ask, verdict, v.dial.Summary()
	v.problem, v.sought = "", ""
	v.chosen = noOption
	if ask == nil || words[ask.Kind].fixed {
		v.chosen = 0
	}
	if i := slices.IndexFunc(v.options(), func(o option) bool { return text != "" && o.value == text }); i >= 0 {
		v.chosen, text = i, ""
	}
	v.line.Fill(text, mostTyped)
}

// take gives an answer to the dialogue. One that cannot be read stays in the line, to be typed
// anew or edited.
func (v *Survey) take(answer string) {
	asked := v.ask
	if err := v.dial.Answer(answer); err != nil {
		v.problem = sentence(err.Error())
		return
	}
	ask, verdict := v.dial.Next()
	if ask != nil && ask.Problem != "" {
		v.problem = sentence(ask.Problem)
		if _, err := strconv.ParseFloat(strings.TrimSpace(answer), 64); err != nil {
			v.line.Fill(v.line.Value(), mostTyped) // behind a bare number its unit is typed on
		}
		return
	}
	v.steps = append(v.steps, step{asked, answer})
	v.taken = false
	v.show(ask, verdict, v.formerly(ask))
}

// keepShown keeps what stands for the present question, for when it is asked again.
func (v *Survey) keepShown() {
	if v.ask == nil {
		return
	}
	text := strings.TrimSpace(v.line.Value())
	if options := v.options(); v.chosen >= 0 && v.chosen < len(options) {
		text = options[v.chosen].value
	}
	if text != "" {
		v.later = slices.Insert(v.later, 0, step{v.ask, text})
	}
}

// formerly is what was answered to a question before it was gone back past; "" where it was
// not asked.
func (v *Survey) formerly(ask *engine.Ask) string {
	if ask == nil {
		return ""
	}
	i := slices.IndexFunc(v.later, func(s step) bool { return same(s.ask, ask) })
	if i < 0 {
		return ""
	}
	was := v.later[i].answer
	v.later = slices.Delete(v.later, i, i+1)
	if was == skip {
		return ""
	}
	return was
}

// same says whether two questions ask for the same.
func same(a, b *engine.Ask) bool {
	at := func(ask *engine.Ask) engine.Connection {
		if ask.Of == nil {
			return engine.Connection{}
		}
		return *ask.Of
	}
	return a.Kind == b.Kind && a.Nominal == b.Nominal && at(a) == at(b)
}

// back takes the last answer back, which then stands there to be mended.
func (v *Survey) back() {
	last := len(v.steps) - 1
	if last < 0 {
		v.problem = "This is the first question: nothing is answered yet."
		return
	}
	if err := v.dial.Answer("back"); err != nil {
		v.problem = sentence(err.Error())
		return
	}
	was := v.steps[last].answer
	v.keepShown()
	v.steps, v.taken = v.steps[:last], false
	ask, verdict := v.dial.Next()
	v.show(ask, verdict, was)
}

// answered is what was answered to a kind of question last; "" where it was not, or skipped.
func (v *Survey) answered(kind string) string {
	for _, s := range slices.Backward(v.steps) {
		if s.ask.Kind == kind && s.answer != skip {
			return s.answer
		}
	}
	return ""
}
