package ui

import (
	"errors"
	"path/filepath"
	"slices"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model"
)

// newBuild asks for the three readings a build begins with; the rest is assumed.
func (a *App) newBuild() tea.Cmd {
	return a.unlessUnsaved(a.keys.Menu, func(a *App) tea.Cmd { return a.askReading(nil) })
}

// newQuestions are what a new build asks, with what stands there at first.
var newQuestions = []struct{ title, hint, first, path string }{
	{"New build: coil", "Resistance of the moving coil, such as 640 or 1k2. Measure it by half deflection, never with an ohmmeter.", "", "hand.hours.meter.coil"},
	{"New build: full scale", "The current for the last mark, such as 500 µA or 1 mA.", "", "hand.hours.meter.full_scale"},
	{"New build: rail", "What a high pin delivers.", "5 V ±1 %", "rail.voltage"},
}

// askReading asks the next of the questions, or makes the build from the answers.
func (a *App) askReading(answers []string) tea.Cmd {
	q := newQuestions[len(answers)]
	return a.ask(&prompt{title: q.title, hint: q.hint + " Enter goes on, esc leaves.", accept: func(a *App, text string) tea.Cmd {
		now := slices.Concat(answers, []string{text})
		tried := [3]string{"640", "500 µA", "5 V"} // sound values for what is still to be asked
		copy(tried[:], now)
		build, problems := model.NewBuild(tried[0], tried[1], tried[2])
		for _, p := range problems {
			if p.Path == q.path {
				a.prompt.problem = p.Message()
				return nil
			}
		}
		a.close()
		if len(now) < len(newQuestions) {
			return a.askReading(now)
		}
		a.open("", build, model.Stamp{})
		a.saved = "" // it has never been saved
		a.notice = notice{said, "Assumed values are marked in the file. Save it under a name from " + a.keys.Menu.Help().Key + "."}
		return a.changed()
	}}, q.first)
}

// open takes a file's text as the present document, with a history of its own.
func (a *App) open(path, text string, stamp model.Stamp) {
	a.path, a.saved, a.stamp = path, text, stamp
	a.keep.of(path)
	a.undo, a.redo, a.report, a.base = nil, nil, nil, nil
	a.hand, a.focus, a.scroll, a.finding = 0, [panes]int{}, 0, 0
	a.show(model.Open(text))
	a.entered = text
	a.goToField(firstField)
	a.enter()
}

// openList lists the builds of the folder of the present one.
func (a *App) openList() tea.Cmd {
	return a.unlessUnsaved(a.keys.Open, func(a *App) tea.Cmd { return listFolder(filepath.Dir(a.path)) })
}

// listed shows the builds of a folder to choose from.
func (a *App) listed(msg listedMsg) tea.Cmd {
	if msg.err != nil {
		a.notice = notice{failed, "The folder cannot be listed: " + msg.err.Error()}
		return nil
	}
	var entries []entry
	for _, e := range msg.entries {
		path := filepath.Join(msg.folder, e.Name)
		if e.Folder {
			entries = append(entries, entry{text: e.Name + string(filepath.Separator), hint: "folder", do: func(*App) tea.Cmd { return listFolder(path) }})
			continue
		}
		entries = append(entries, entry{text: e.Name, hint: e.Title, do: func(*App) tea.Cmd { return openFile(path) }})
	}
	return a.ask(&prompt{title: "Open", hint: "Builds in " + msg.folder + ":", entries: entries}, "")
}

// opened takes a file that was read.
func (a *App) opened(msg openedMsg) {
	if msg.err != nil {
		a.notice = notice{failed, "Not opened: " + msg.err.Error()}
		return
	}
	a.open(msg.path, msg.text, msg.stamp)
	a.notice = notice{said, "Opened " + msg.path}
}

// save writes the file, or asks for a name where there is none yet.
func (a *App) save() tea.Cmd {
	if a.path == "" {
		return a.saveAs()
	}
	return saveFile(a.path, a.doc.Text, a.stamp)
}

// saveAs asks for a path and saves there.
func (a *App) saveAs() tea.Cmd {
	first := a.path
	if first == "" {
		first = "clock.toml"
	}
	return a.ask(&prompt{title: "Save as", hint: "The file's path. Enter saves, esc leaves.", accept: func(a *App, path string) tea.Cmd {
		if path == "" {
			a.prompt.problem = "A path is needed, such as clock.toml."
			return nil
		}
		a.close()
		if path == a.path {
			return a.save()
		}
		return saveNew(path, a.doc.Text)
	}}, first)
}

// afterSave says how saving went, and does what waited for it. A file that is
// not the one this build came from is overwritten only when asked to again.
func (a *App) afterSave(msg savedMsg) tea.Cmd {
	then := a.afterwards
	a.afterwards = nil
	switch {
	case errors.Is(msg.err, model.ErrChangedOnDisk), errors.Is(msg.err, errThere):
		what := "The file has changed on the disk since it was opened"
		if errors.Is(msg.err, errThere) {
			what = "There is another file at " + msg.path
		}
		a.confirm = &confirmation{a.keys.Save, func(a *App) tea.Cmd {
			a.afterwards = then
			return overwrite(msg.path, msg.text)
		}}
		a.mode = confirming
		a.notice = notice{warned, what + ": " + a.keys.Save.Help().Key + " overwrites it, any other key leaves it."}
		return nil
	case msg.err != nil:
		a.notice = notice{failed, "Not saved: " + msg.err.Error() + ". Your work is still here; free the place and save again."}
		return nil
	}
	cmd := a.keep.remove()
	a.path, a.saved, a.stamp = msg.path, msg.text, msg.stamp
	a.keep.of(msg.path)
	a.notice = notice{said, "Saved " + a.path}
	if then != nil {
		return tea.Sequence(cmd, then(a))
	}
	return cmd
}

// A confirmation waits for a key: the same one again goes on, and Save saves
// first; any other leaves things as they are.
type confirmation struct {
	key  key.Binding
	then func(*App) tea.Cmd
}

// unlessUnsaved does what would lose unsaved work, or asks first.
func (a *App) unlessUnsaved(k key.Binding, then func(*App) tea.Cmd) tea.Cmd {
	if !a.Unsaved() {
		return then(a)
	}
	a.leave()
	a.confirm = &confirmation{k, then}
	a.mode = confirming
	name := k.Help().Key
	a.notice = notice{warned, "Changes are not saved: " + a.keys.Save.Help().Key + " saves and goes on, " + name + " goes on without them, any other key stays."}
	return nil
}

// decide takes the answer to a confirmation.
func (a *App) decide(msg tea.KeyMsg) tea.Cmd {
	c := a.confirm
	a.mode, a.confirm, a.notice = editing, nil, notice{}
	switch {
	case key.Matches(msg, c.key):
		return c.then(a)
	case key.Matches(msg, a.keys.Save):
		a.afterwards = c.then
		return a.save()
	}
	return nil
}
