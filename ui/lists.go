package ui

import (
	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model"
)

// lists changes what a build has several of: hands, lamps, drains and buttons.
type lists struct {
	s     *session
	form  *form
	front *front
	say   *notice
}

// entries are what can be done to the hand in view, and to all lamps, drains and
// buttons.
func (l *lists) entries() []entry {
	var entries []entry
	for _, k := range kinds {
		entries = append(entries, entry{text: "Add a " + k.list, do: func() tea.Cmd { return l.add(k, -1) }})
		for i := range elements(l.s.doc.Build, k.list) {
			if k.list != "hand" || i == l.s.hand {
				entries = append(entries, l.entriesOf(k, i)...)
			}
		}
	}
	return entries
}

// entriesOf are what can be done to the i-th of a kind.
func (l *lists) entriesOf(k kind, i int) []entry {
	called := " the " + k.list + " " + elementName(l.s.doc.Build, k.list, i)
	return []entry{
		{text: "Copy" + called, do: func() tea.Cmd { return l.add(k, i) }},
		{text: "Rename" + called, do: func() tea.Cmd {
			return l.askName(k, func(d *model.Document, name string) (*model.Document, *model.Problem) {
				return d.Rename(k.list, i, name)
			})
		}},
		{text: "Remove" + called, do: func() tea.Cmd { return l.take(l.s.doc.Remove(k.list, i)) }},
	}
}

// add asks for a name and adds one of a kind, a copy where copyOf is not -1.
func (l *lists) add(k kind, copyOf int) tea.Cmd {
	return l.askName(k, func(d *model.Document, name string) (*model.Document, *model.Problem) {
		return d.Add(k.list, name, copyOf)
	})
}

// askName asks for the name of one of a kind and changes the document with it.
// One that is new comes into view.
func (l *lists) askName(k kind, with func(*model.Document, string) (*model.Document, *model.Problem)) tea.Cmd {
	l.form.leave()
	l.front.ask(&prompt{
		title: "A name for the " + k.list,
		hint:  "Small letters, digits and -, such as " + k.such + ".",
		accept: func(name string) (string, func() tea.Cmd) {
			before := elements(l.s.doc.Build, k.list)
			d, problem := with(l.s.doc, name)
			if problem != nil {
				return problem.Message(), nil
			}
			return "", func() tea.Cmd {
				cmd := l.form.replace(d)
				if n := elements(d.Build, k.list); n > before {
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
func (l *lists) show(k kind, i int) {
	if k.list == "hand" {
		l.form.showHand(i)
		return
	}
	l.form.goToValue(names[k.list], i)
}

// take takes a document with one more or less, or says why it is not to be had.
func (l *lists) take(d *model.Document, problem *model.Problem) tea.Cmd {
	if problem != nil {
		l.say.warn(problem.Message())
		return nil
	}
	return l.form.replace(d)
}
