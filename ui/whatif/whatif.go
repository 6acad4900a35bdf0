// Package whatif asks which value of an input makes a result so much: which result, what it
// is to be, which input may change. What comes of it is worked out beside the keys, and a
// value of it is taken over as one step of undo.
package whatif

import (
	"context"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model/spread"
	"example.com/needlewright/model/whatif"
	"example.com/needlewright/ui/form"
	"example.com/needlewright/ui/front"
	"example.com/needlewright/ui/jobs"
	"example.com/needlewright/ui/keys"
	"example.com/needlewright/ui/notice"
	"example.com/needlewright/ui/session"
)

// A View is the question that is being asked, and what came of it.
type View struct {
	s     *session.Session
	form  *form.Form
	front *front.Front
	say   *notice.Notice
	keys  *keys.Map

	row    spread.Row     // the result
	back   func() tea.Cmd // where esc leads from the first question
	want   string         // what it is to be, as it was typed
	table  *front.Prompt  // of the answer; nil: none is open
	worked *jobs.Job[*whatif.Question, *whatif.Answer]
}

// New returns the view, with nothing asked.
func New(s *session.Session, f *form.Form, front *front.Front, say *notice.Notice, keys *keys.Map) *View {
	v := &View{s: s, form: f, front: front, say: say, keys: keys}
	v.worked = jobs.New[*whatif.Question](nil, v.ended)
	return v
}

// Ask begins with a result: what it is to be. Esc goes back to where that was chosen.
func (v *View) Ask(of front.ResultKey, back func() tea.Cmd) tea.Cmd {
	for _, row := range v.s.Report.Results {
		if row.Result == of.Result && row.Index == of.Index {
			v.row, v.back, v.want = row, back, ""
			return v.askValue()
		}
	}
	v.say.Warn("This build has no such result any more.")
	return nil
}

// name is what the result is called, with its hand where there are several.
func (v *View) name() string {
	name, b := strings.TrimSpace(v.row.Label), v.s.Doc.Build
	list, _, _ := strings.Cut(v.row.ID, ".")
	if session.Names[list] != nil && (list != "hand" || len(b.Hands) > 1) {
		name += ", " + session.ElementName(b, list, v.row.Index)
	}
	return name
}

// askValue asks what the result is to be.
func (v *View) askValue() tea.Cmd {
	v.form.Leave()
	v.table = nil
	v.front.Ask(&front.Prompt{
		Title: "Reach: " + v.name(), More: v.row.Help,
		Hint: v.name() + " is " + v.row.Text() + " now. What is it to be, such as " + v.row.Unit.Example() + "?",
		Accept: func(text string) (string, func() tea.Cmd) {
			if strings.TrimSpace(text) == "" {
				return "Type what it is to be.", nil
			}
			if _, err := whatif.Wanted(text, v.row.Result, v.name()); err != nil {
				return whatif.Says(err), nil
			}
			return "", func() tea.Cmd { v.want = text; return v.askInput() }
		},
		Back: func(string) tea.Cmd { return v.back() },
	}, v.want)
	return nil
}

// askInput asks which input may change.
func (v *View) askInput() tea.Cmd {
	v.table = nil
	v.front.Ask(&front.Prompt{
		Title:   "Reach: " + v.name() + " " + v.want,
		Hint:    "By which value? Those that move it most stand first. Type a few letters: the list gets shorter.",
		Entries: v.inputs(),
		Back:    func(string) tea.Cmd { return v.askValue() },
	}, "")
	return nil
}

// work has the answer worked out beside the keys, and opens the table that it comes into.
func (v *View) work(path string) tea.Cmd {
	q, err := whatif.Ask(v.s.Doc, v.row.IDOf(v.s.Doc.Build, v.row.Index), v.want, path)
	if err != nil { // what was typed was read, and the input is one of the list
		v.say.Fail(whatif.Says(err))
		return nil
	}
	v.table = &front.Prompt{
		Title: "Reach: " + v.name() + " " + v.want, Fixed: true,
		Hint: "It is being worked out; " + v.keys.Revert.Help().Key + " ends that.",
		Back: func(string) tea.Cmd { v.worked.Cancel(); return v.askInput() },
	}
	v.front.Ask(v.table, "")
	return v.worked.Start(q, func(context.Context, func(int)) (*whatif.Answer, error) { return whatif.Reach(q), nil })
}

// ended puts the answer into the table; nothing where that was left meanwhile.
func (v *View) ended(a *whatif.Answer, err error) {
	switch {
	case v.table == nil || v.front.Prompt != v.table:
	case err != nil:
		v.front.Close()
		v.form.Enter()
		v.say.Fail("It could not be worked out: " + err.Error() + ".")
	default:
		v.fill(a)
	}
}
