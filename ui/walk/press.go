package walk

import (
	"slices"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model"
	"example.com/needlewright/model/report"
	engine "example.com/needlewright/model/walk"
	"example.com/needlewright/ui/keys"
)

// Press gives a key to the page.
func (v *Walk) Press(msg tea.KeyMsg) tea.Cmd {
	if v.isTicking() {
		v.problem = ""
		if cmd, did := v.tick(msg); did {
			return cmd
		}
	}
	switch {
	case key.Matches(msg, v.keys.Revert):
		v.escape()
	case key.Matches(msg, v.keys.Accept):
		if text, ok := v.assumedChoice(); ok {
			return v.takeThen(text, v.onwards)
		}
		return v.settled(v.onwards)
	case key.Matches(msg, v.keys.ResultsDown):
		return v.settled(func() tea.Cmd { v.turn(1); return nil })
	case key.Matches(msg, v.keys.ResultsUp):
		return v.settled(func() tea.Cmd { v.turn(-1); return nil })
	case key.Matches(msg, v.keys.Up):
		return v.Wheel(-1)
	case key.Matches(msg, v.keys.Down):
		return v.Wheel(1)
	case key.Matches(msg, v.keys.Skip):
		return v.unknown()
	case v.isChoice(v.question()):
		return v.choose(msg)
	default:
		v.typed(msg)
	}
	return nil
}

// settled takes what is typed, then goes on; where it cannot be read nothing moves.
func (v *Walk) settled(then func() tea.Cmd) tea.Cmd {
	if !v.typing {
		return then()
	}
	return v.takeThen(v.line.Value(), then)
}

// Wheel gives the keys to the question above or below, as its keys do.
func (v *Walk) Wheel(by int) tea.Cmd {
	return v.settled(func() tea.Cmd { v.Move(by); return nil })
}

// Settle takes what is typed into the document; false where it cannot be read: the page says
// why, and it stays.
func (v *Walk) Settle() (tea.Cmd, bool) {
	if !v.typing {
		return nil, true
	}
	return v.answer(v.line.Value())
}

// takeThen takes an answer, then goes on.
func (v *Walk) takeThen(text string, then func() tea.Cmd) tea.Cmd {
	cmd, ok := v.answer(text)
	if !ok {
		return cmd
	}
	return tea.Batch(cmd, then())
}

// assumedChoice is what stands for a question only assumed, where it is up to the person: to
// go on is to choose it. What is measured is not chosen so.
func (v *Walk) assumedChoice() (text string, ok bool) {
	q := v.question()
	if v.typing || q.Field == "" || model.Builds.Field(q.Field).Evidence {
		return "", false
	}
	text, mark, _ := v.state().Given(q)
	return text, mark == "assumed"
}

// escape gives the line its former text, or leaves the pages.
func (v *Walk) escape() {
	if v.typing {
		v.fill()
		return
	}
	v.Close()
	v.say.Say(keys.First(v.keys.Menu) + ", The walk, comes back to this page.")
}

// Move gives the keys to the question above or below.
func (v *Walk) Move(by int) {
	v.goTo(place{v.at.state, v.at.page, max(0, min(v.at.row+by, len(v.questions())-1))})
}

// onwards goes to the next question, page or stage. A stage that is left at its end is
// looked at: with what it was done is kept.
func (v *Walk) onwards() tea.Cmd {
	if v.at.row < len(v.questions())-1 {
		v.Move(1)
		return nil
	}
	if why := v.state().Stop(); why != "" {
		v.problem = why
		return nil
	}
	if v.at.page < len(v.state().Asked())-1 {
		v.turn(1)
		return nil
	}
	s := v.state()
	var cmd tea.Cmd
	if d := s.Looked(); d.Text != v.s.Doc.Text {
		cmd = v.take(d)
	}
	v.leaveStage(s)
	return cmd
}

// leaveStage goes on to the next stage, and says what is missing of this one.
func (v *Walk) leaveStage(s *engine.State) {
	missing := ""
	for k := range s.Conditions {
		if c := &s.Conditions[k]; missing == "" && !c.IsMet() {
			missing = c.Says
		}
	}
	last := v.at.state == len(v.on.States)-1
	switch {
	case missing != "":
		v.say.Say("Not done yet: " + missing + ". " + v.keys.ResultsUp.Help().Key + " goes back to it.")
	case last && v.on.Next() != nil:
		v.goTo(v.next())
		v.say.Say("To be done yet: " + v.on.Next().Name() + ".")
		return
	case last:
		v.say.Say("All stages are done. " + v.keys.Save.Help().Key + " saves; esc leaves the walk.")
	}
	if !last {
		v.goTo(place{state: v.at.state + 1})
	}
}

// turn goes on or back by a page. Going back takes nothing away.
func (v *Walk) turn(by int) {
	state, page := v.at.state, v.at.page+by
	switch {
	case page == len(v.state().Asked()):
		state, page = state+1, 0
	case page < 0 && state > 0:
		state--
		page = len(v.on.States[state].Asked()) - 1
	}
	switch {
	case page < 0:
		v.say.Say("This is the first page.")
	case state == len(v.on.States):
		v.say.Say("This is the last page.")
	default:
		v.goTo(place{state: state, page: page})
	}
}

// unknown takes "I don't know" for an answer.
func (v *Walk) unknown() tea.Cmd {
	q := v.question()
	d, ok := v.state().Unknown(q)
	switch {
	case q.Sign != "":
		v.problem = "Nobody else can know it: look, or ask your teacher."
	case q.Point != "":
		v.problem = "A reading is taken or left: page down goes on."
	case !ok:
		v.problem = "Nothing is usual here: leave it, and ask your teacher."
	default:
		cmd := v.take(d)
		cmd = tea.Batch(cmd, v.onwards())
		if q.Field != "" && model.Builds.Field(q.Field).Evidence {
			v.say.Say("What is usual stands there, assumed. The stage is done once it is known.")
		}
		return cmd
	}
	return nil
}

// typed gives a key to the line, and tries what stands there.
func (v *Walk) typed(msg tea.KeyMsg) {
	changed, says := v.line.Press(msg)
	if says != "" {
		v.problem = says
	}
	if !changed {
		return
	}
	v.typing, v.problem, v.tried = true, says, nil
	q := v.question()
	d := v.state().Typed(q, v.line.Value(), "")
	if r := report.Of(d); r != nil && v.wrong(q, d) == "" {
		v.tried = r.Walk()
	}
}

// choose goes through the choices of a question, or to one that begins with what is typed.
func (v *Walk) choose(msg tea.KeyMsg) tea.Cmd {
	q := v.question()
	all := v.choices(q)
	now := max(0, slices.Index(all, v.said(q)))
	switch {
	case key.Matches(msg, v.keys.ChoiceOn):
		return v.chosen(all[(now+1)%len(all)])
	case key.Matches(msg, v.keys.ChoiceBack):
		return v.chosen(all[(now+len(all)-1)%len(all)])
	case key.Matches(msg, v.keys.Deletes()...):
		return v.chosen(all[0])
	case msg.Type != tea.KeyRunes:
		return nil
	}
	for _, sought := range []string{v.sought + string(msg.Runes), string(msg.Runes)} {
		if found := beginning(q, all, sought); found != "" {
			cmd := v.chosen(found)
			v.sought = sought
			return cmd
		}
	}
	v.problem = "None begins with “" + string(msg.Runes) + "”: " + v.keys.ChoiceOn.Help().Key + " goes through them."
	return nil
}

// chosen takes a choice.
func (v *Walk) chosen(text string) tea.Cmd {
	cmd, _ := v.answer(text)
	return cmd
}

// beginning is the first choice that begins with a text, or that people call so.
func beginning(q *engine.Question, all []string, sought string) string {
	for _, c := range all {
		if c != "" && strings.HasPrefix(c, strings.ToLower(sought)) {
			return c
		}
	}
	if q.Field != "" {
		if found := model.Builds.Field(q.Field).Beginning(sought); len(found) > 0 {
			return found[0]
		}
	}
	return ""
}
