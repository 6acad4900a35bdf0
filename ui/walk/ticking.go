package walk

import (
	"fmt"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model/network"
	engine "example.com/needlewright/model/walk"
	"example.com/needlewright/ui/cells"
	"example.com/needlewright/ui/draw"
)

// joints are the connections that are ticked one after another: all but those of the meters,
// which come on after first power.
func (v *Walk) joints() []network.Connection {
	if v.made == nil {
		for _, c := range network.Of(v.s.Report.Build, &v.s.Report.Plan).Connections {
			if !c.Meter {
				v.made = append(v.made, c)
			}
		}
	}
	return v.made
}

// isTicking says whether connections are ticked at this question.
func (v *Walk) isTicking() bool { return v.question().IsTicked() }

// ticks are those that stand in the document.
func (v *Walk) ticks() engine.Ticks {
	t, _ := v.state().Ticks(len(v.joints()))
	return t
}

// ticksHere are those of this question; nil where none are asked for.
func (v *Walk) ticksHere() engine.Ticks {
	if !v.isTicking() {
		return nil
	}
	return v.ticks()
}

// tick does what a key does to the ticks; false where it is not one of theirs.
func (v *Walk) tick(msg tea.KeyMsg) (cmd tea.Cmd, did bool) {
	t := v.ticks()
	last := len(t) - 1
	switch {
	case last < 0, key.Matches(msg, v.keys.Accept) && t.Next(v.joint) < 0:
		return nil, false
	case key.Matches(msg, v.keys.Accept) && !t[v.joint]:
		return v.put(t, true), true
	case key.Matches(msg, v.keys.Accept):
		v.joint = t.Next(v.joint)
	case key.Matches(msg, v.keys.Up):
		v.joint = max(0, v.joint-1)
	case key.Matches(msg, v.keys.Down):
		v.joint = min(last, v.joint+1)
	case key.Matches(msg, v.keys.Deletes()...) && t[v.joint]:
		return v.put(t, false), true
	case key.Matches(msg, v.keys.Deletes()...):
		v.problem = "This one is not ticked."
	case key.Matches(msg, v.keys.ChoiceOn, v.keys.ChoiceBack) && t.Count() > 0 && t.Next(0) >= 0:
		v.problem = "Enter ticks one after another; y says that all of them are."
	default:
		return nil, false
	}
	return nil, true
}

// put ticks the chosen connection, and goes on to the next that is not; or takes its tick
// away.
func (v *Walk) put(t engine.Ticks, is bool) tea.Cmd {
	s, at := v.state(), v.joint
	if why := s.MaySign(v.question().Sign); is && why != "" {
		v.problem = why
		return nil
	}
	t[at] = is
	cmd := v.take(s.Tick(t, "builder"))
	v.joint = at
	if next := t.Next(at); is && next >= 0 {
		v.joint = next
	}
	return cmd
}

// ticked is how many connections are ticked, where these are not all: "12 of 25".
func (v *Walk) ticked() string {
	t := v.ticks()
	if n := t.Count(); n > 0 && n < len(t) {
		return fmt.Sprintf("%d of %d", n, len(t))
	}
	return ""
}

// jointText says which connection is next, what to expect there, and what to mind.
func (v *Walk) jointText() string {
	all := v.joints()
	if len(all) == 0 {
		return ""
	}
	c := &all[v.joint]
	text := fmt.Sprintf("%d of %d. %s → %s. %s: %s.", v.joint+1, len(all), c.From, c.To, sentence(string(c.State)), c.Expect)
	if c.Mind != "" {
		text += " Mind: " + c.Mind
	}
	return text
}

// sentence is a text with a large first letter.
func sentence(text string) string {
	for i, r := range text {
		return string(r-'a'+'A') + text[i+1:]
	}
	return text
}

// drawJoints draws the connections around the chosen one, with their ticks.
func (v *Walk) drawJoints(at cells.Area) {
	_, h := at.Size()
	all, t := v.joints(), v.ticks()
	top := max(0, min(v.joint-h/2, len(all)-h))
	for y := range min(h, len(all)) {
		k := top + y
		sign, style := "_", draw.Value
		if t[k] {
			sign, style = "✓", draw.Dim
		}
		if k == v.joint {
			draw.Here(at.Sub(0, y, 1, 1))
			style = draw.FocusLabel
		}
		at.Text(1, y, style, fmt.Sprintf("%s %d %s", sign, k+1, all[k].From))
	}
}
