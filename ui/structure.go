package ui

import (
	"slices"
	"strconv"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model"
)

// A kind is what a build may have several of: its list in the file, and a name
// as one may have it.
type kind struct{ list, such string }

// kinds are all of them, in the order of the menu and the forms.
var kinds = []kind{{"hand", "minutes"}, {"lamp", "noon"}, {"drain", "divider"}, {"button", "set"}}

// names are the fields that hold the names of lists.
var names = func() map[string]*model.Field {
	m := map[string]*model.Field{}
	for _, k := range kinds {
		m[k.list] = fieldOf(k.list + ".name")
	}
	return m
}()

// fieldOf is the field of a path without a name.
func fieldOf(path string) *model.Field {
	i := slices.IndexFunc(model.Builds.Fields, func(f *model.Field) bool { return f.Path == path })
	return model.Builds.Fields[i]
}

// elements is how many of a list a build has.
func elements(b *model.Build, list string) int { return names[list].Of(b) }

// elementName is the name of the i-th of a list, its number from 1 where it has
// none.
func elementName(b *model.Build, list string, i int) string {
	if name := *names[list].At(b, i).(*string); name != "" {
		return name
	}
	return strconv.Itoa(i + 1)
}

// structureEntries are what can be done to the hand in view, and to all lamps,
// drains and buttons.
func (a *App) structureEntries() []entry {
	var entries []entry
	for _, k := range kinds {
		entries = append(entries, entry{text: "Add a " + k.list, do: func(a *App) tea.Cmd { return a.addElement(k, -1) }})
		for i := range elements(a.doc.Build, k.list) {
			if k.list != "hand" || i == a.hand {
				entries = append(entries, a.elementEntries(k, i)...)
			}
		}
	}
	return entries
}

// elementEntries are what can be done to the i-th of a kind.
func (a *App) elementEntries(k kind, i int) []entry {
	called := " the " + k.list + " " + elementName(a.doc.Build, k.list, i)
	return []entry{
		{text: "Copy" + called, do: func(a *App) tea.Cmd { return a.addElement(k, i) }},
		{text: "Rename" + called, do: func(a *App) tea.Cmd {
			return a.askName(k, func(d *model.Document, name string) (*model.Document, *model.Problem) {
				return d.Rename(k.list, i, name)
			})
		}},
		{text: "Remove" + called, do: func(a *App) tea.Cmd { return a.restructure(a.doc.Remove(k.list, i)) }},
	}
}

// addElement asks for a name and adds one of a kind, a copy where copyOf is not
// -1.
func (a *App) addElement(k kind, copyOf int) tea.Cmd {
	return a.askName(k, func(d *model.Document, name string) (*model.Document, *model.Problem) {
		return d.Add(k.list, name, copyOf)
	})
}

// askName asks for the name of one of a kind and changes the document with it.
// One that is new comes into view.
func (a *App) askName(k kind, with func(*model.Document, string) (*model.Document, *model.Problem)) tea.Cmd {
	return a.ask(&prompt{
		title: "A name for the " + k.list,
		hint:  "Small letters, digits and -, such as " + k.such + ".",
		accept: func(a *App, name string) tea.Cmd {
			before := elements(a.doc.Build, k.list)
			d, problem := with(a.doc, name)
			if problem != nil {
				a.prompt.problem = problem.Message()
				return nil
			}
			a.close()
			cmd := a.restructure(d, nil)
			if n := elements(d.Build, k.list); n > before {
				a.showElement(k, n-1)
			}
			return cmd
		},
	}, "")
}

// showElement brings the i-th of a kind into view: a hand on the form that is
// open, another by its first field.
func (a *App) showElement(k kind, i int) {
	if k.list != "hand" {
		a.goToValue(names[k.list], i)
		return
	}
	a.leave()
	a.hand = i
	a.enter()
}

// restructure takes a document with a hand or another more or less, or says why
// it is not to be had.
func (a *App) restructure(d *model.Document, problem *model.Problem) tea.Cmd {
	if problem != nil {
		a.notice = notice{warned, problem.Message()}
		return nil
	}
	return a.replace(d)
}

// replace takes a document in place of the present one, as one visit.
func (a *App) replace(d *model.Document) tea.Cmd {
	a.leave()
	a.rebase()
	a.undo, a.redo = append(a.undo, a.doc.Text), nil
	a.show(d)
	a.enter()
	return a.changed()
}
