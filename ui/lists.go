package ui

import (
	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model"
	"example.com/needlewright/model/judge"
	"example.com/needlewright/ui/form"
	"example.com/needlewright/ui/front"
	"example.com/needlewright/ui/keys"
	"example.com/needlewright/ui/notice"
	"example.com/needlewright/ui/session"
)

// lists changes what a build has several of: hands, lamps, drains and buttons.
type lists struct {
	s     *session.Session
	form  *form.Form
	front *front.Front
	say   *notice.Notice
	keys  *keys.Map
}

// entries are what can be done to the hand in view, and to all lamps, drains and
// buttons.
func (l *lists) entries() []front.Entry {
	var entries []front.Entry
	for _, k := range session.Kinds {
		entries = append(entries, front.Entry{Text: "Add a " + k.List, Do: func() tea.Cmd { return l.add(k, -1) }})
		for i := range session.Elements(l.s.Doc.Build, k.List) {
			if k.List != "hand" || i == l.s.Hand {
				entries = append(entries, l.entriesOf(k, i)...)
			}
		}
	}
	return entries
}

// entriesOf are what can be done to the i-th of a kind.
func (l *lists) entriesOf(k session.Kind, i int) []front.Entry {
	called := " the " + k.List + " " + session.ElementName(l.s.Doc.Build, k.List, i)
	return []front.Entry{
		{Text: "Copy" + called, Do: func() tea.Cmd { return l.add(k, i) }},
		{Text: "Rename" + called, Do: func() tea.Cmd {
			return l.askName(k, func(d *model.Document, name string) (*model.Document, *model.Problem) {
				return d.Rename(k.List, i, name)
			})
		}},
		{Text: "Remove" + called, Do: func() tea.Cmd { return l.take(l.s.Doc.Remove(k.List, i)) }},
	}
}

// add asks for a name and adds one of a kind, a copy where copyOf is not -1. Of a hand that
// is new more is asked.
func (l *lists) add(k session.Kind, copyOf int) tea.Cmd {
	if k.List == "hand" && copyOf < 0 {
		return l.addHand()
	}
	return l.askName(k, func(d *model.Document, name string) (*model.Document, *model.Problem) {
		return d.Add(k.List, name, copyOf)
	})
}

// addHand asks what a further hand shows, and of its meter; it comes with parts that suit
// that.
func (l *lists) addHand() tea.Cmd {
	if problem := l.s.Doc.NoRoomFor("hand"); problem != nil {
		l.say.Warn(problem.Message())
		return nil
	}
	return l.askHand(handQuestions(l.s.Doc), furtherHand(l.s.Doc.Build), nil)
}

// askHand asks questions of a further hand, of which some things are said, and adds it;
// with puts into it what else is known of its meter, nil: nothing.
func (l *lists) askHand(of []question, said answers, with func(d *model.Document, hand int) *model.Document) tea.Cmd {
	v := &interview{form: l.form, front: l.front, keys: l.keys, what: "Add a hand", of: of, said: said}
	v.done = func(a *answers) tea.Cmd {
		d, problem := judge.NewHand(l.s.Doc, a.name, a.shows, a.meter())
		if problem != nil {
			l.say.Warn(problem.Message())
			return nil
		}
		if with != nil {
			d = with(d, len(d.Build.Hands)-1)
		}
		cmd := l.form.Replace(d)
		l.form.ShowHand(len(d.Build.Hands) - 1)
		if l.s.Stale() {
			l.say.Warn("Its resistor and trimmer are still to be chosen, once every value can be read: " + l.s.ToMend() + ".")
			return cmd
		}
		l.say.Say(a.next(l.keys))
		return cmd
	}
	return v.begin()
}

// askName asks for the name of one of a kind and changes the document with it.
// One that is new comes into view.
func (l *lists) askName(k session.Kind, with func(*model.Document, string) (*model.Document, *model.Problem)) tea.Cmd {
	l.form.Leave()
	l.front.Ask(&front.Prompt{
		Title: "A name for the " + k.List,
		Hint:  "Small letters, digits and -, such as " + k.Such + ".",
		Accept: func(name string) (string, func() tea.Cmd) {
			before := session.Elements(l.s.Doc.Build, k.List)
			d, problem := with(l.s.Doc, name)
			if problem != nil {
				return problem.Message(), nil
			}
			return "", func() tea.Cmd {
				cmd := l.form.Replace(d)
				if n := session.Elements(d.Build, k.List); n > before {
					l.show(k, n-1)
				}
				return cmd
			}
		},
	}, "")
	return nil
}

// show brings the i-th of a kind into view: a hand on the form that is open, another
// by its first field.
func (l *lists) show(k session.Kind, i int) {
	if k.List == "hand" {
		l.form.ShowHand(i)
		return
	}
	l.form.GoToValue(session.Names[k.List], i)
}

// take takes a document with one more or less, or says why it is not to be had.
func (l *lists) take(d *model.Document, problem *model.Problem) tea.Cmd {
	if problem != nil {
		l.say.Warn(problem.Message())
		return nil
	}
	return l.form.Replace(d)
}
