package ui

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model"
	"example.com/needlewright/model/file"
	"example.com/needlewright/model/judge"
)

// newBuild asks for the three readings a build begins with; the rest is assumed.
func (a *App) newBuild() tea.Cmd {
	return a.unlessUnsaved(a.keys.Menu, func(a *App) tea.Cmd { return a.askReading("", nil) })
}

// newQuestions are what a new build asks, with what stands there at first.
var newQuestions = []struct{ title, hint, first, path string }{
	{"New build: coil", "Resistance of the moving coil, such as 640 or 1k2. Measure it by half deflection, never with an ohmmeter.", "", "hand.hours.meter.coil"},
	{"New build: full scale", "The current for the last mark, such as 500 µA or 1 mA.", "", "hand.hours.meter.full_scale"},
	{"New build: rail", "What a high pin delivers.", "5 V ±1 %", "rail.voltage"},
}

// askReading asks the next of the questions, or makes the build from the
// answers, for a file that is not there yet or for none.
func (a *App) askReading(path string, answers []string) tea.Cmd {
	q := newQuestions[len(answers)]
	return a.ask(&prompt{title: q.title, hint: q.hint + " Enter goes on, esc leaves.", replaced: true, accept: func(a *App, text string) tea.Cmd {
		now := slices.Concat(answers, []string{text})
		tried := [3]string{"640", "500 µA", "5 V"} // sound values for what is still to be asked
		copy(tried[:], now)
		build, problems := judge.NewBuild(tried[0], tried[1], tried[2])
		for _, p := range problems {
			if p.Path == q.path {
				a.prompt.problem = p.Message()
				return nil
			}
		}
		a.close()
		if len(now) < len(newQuestions) {
			return a.askReading(path, now)
		}
		cmd := a.open(path, build, file.Stamp{})
		a.saved = "" // it has never been saved
		a.notice = notice{said, "Values marked ? are assumed: measure the coil's tolerance, the needle's period and overshoot next."}
		return tea.Sequence(cmd, a.changed())
	}}, q.first)
}

// open takes a file's text as the present document, with a history of its own.
// What is kept of the former one is given up.
func (a *App) open(path, text string, stamp file.Stamp) tea.Cmd {
	cmd := a.keep.remove()
	a.keep.of(path)
	a.path, a.stamp, a.notSaved = path, stamp, false
	a.undo, a.redo, a.report, a.base = nil, nil, nil, nil
	a.hand, a.focus, a.scroll, a.seen = 0, [panes]int{}, 0, nil
	a.show(model.Open(text))
	a.saved, a.entered = a.doc.Text, a.doc.Text
	a.goToField(firstField)
	a.enter()
	return cmd
}

// await runs a command that works on files. Keys that come before it is done
// are held for what they meet then.
func (a *App) await(cmd tea.Cmd) tea.Cmd {
	a.waiting = true
	return cmd
}

// awaited ends the waiting and lets the held keys in.
func (a *App) awaited(cmd tea.Cmd) tea.Cmd {
	a.waiting = false
	cmds := []tea.Cmd{cmd}
	for len(a.held) > 0 && !a.waiting {
		if a.mode == confirming { // they came before the question, and are no answer to it
			a.held = nil
			break
		}
		msg := a.held[0]
		a.held = a.held[1:]
		cmds = append(cmds, a.press(msg))
	}
	return tea.Batch(cmds...)
}

// openList lists the builds of the folder of the present one.
func (a *App) openList() tea.Cmd {
	return a.unlessUnsaved(a.keys.Open, func(a *App) tea.Cmd { return a.await(listFolder(filepath.Dir(a.path))) })
}

// listed shows the builds of a folder to choose from; a path may be typed too.
func (a *App) listed(msg listedMsg) tea.Cmd {
	if msg.err != nil {
		a.notice = notice{failed, "The folder cannot be listed: " + reason(msg.err)}
		return nil
	}
	var entries []entry
	for _, e := range msg.entries {
		path := filepath.Join(msg.folder, e.Name)
		if e.Folder {
			entries = append(entries, entry{text: e.Name + string(filepath.Separator), hint: "folder", do: func(a *App) tea.Cmd { return a.await(listFolder(path)) }})
			continue
		}
		entries = append(entries, entry{text: e.Name, hint: e.Title, do: func(a *App) tea.Cmd { return a.await(openFile(path, a.keep.folder)) }})
	}
	what := "Builds in "
	if msg.part {
		what = "Some of the builds in "
	}
	return a.ask(&prompt{
		title: "Open", hint: what + msg.folder + ", or a path:", entries: entries, most: longestPath,
		other: func(a *App, typed string) tea.Cmd { return a.await(openFile(expanded(typed), a.keep.folder)) },
	}, "")
}

// opened takes a file that was read.
func (a *App) opened(msg openedMsg) tea.Cmd {
	if msg.err != nil {
		a.notice = notice{failed, "Not opened: " + reason(msg.err)}
		return nil
	}
	f := msg.file
	cmd := a.open(f.Path, f.Text, f.Stamp)
	a.notice = notice{said, "Opened " + f.Path}
	if f.Warning != "" {
		a.notice = notice{warned, f.Warning}
	}
	if len(f.Found) > 0 {
		a.offer(f.Found, nil)
	}
	return cmd
}

// save writes the file, or asks for a name where there is none yet.
func (a *App) save() tea.Cmd { return a.saveThen(nil) }

// saveThen saves, and goes on with what waits for it.
func (a *App) saveThen(then func(*App) tea.Cmd) tea.Cmd {
	if a.path == "" {
		return a.saveAsThen(then)
	}
	return a.await(saveFile(saving{a.path, a.Text(), a.keep.folder, then}, a.stamp))
}

// saveAs asks for a path and saves there.
func (a *App) saveAs() tea.Cmd { return a.saveAsThen(nil) }

func (a *App) saveAsThen(then func(*App) tea.Cmd) tea.Cmd {
	first := a.path
	if first == "" {
		first = "clock.toml"
	}
	return a.ask(&prompt{title: "Save as", hint: "The file's path. Enter saves, esc leaves.", most: longestPath, accept: func(a *App, typed string) tea.Cmd {
		if strings.TrimSpace(typed) == "" {
			a.prompt.problem = "A path is needed, such as clock.toml."
			return nil
		}
		a.close()
		path := expanded(typed)
		if filepath.Ext(path) == "" {
			path += ".toml"
		}
		if path == a.path {
			return a.saveThen(then)
		}
		return a.await(saveNew(saving{path, a.Text(), a.keep.folder, then}))
	}}, first)
}

// expanded is a path as typed, with the home folder in place of ~.
func expanded(typed string) string {
	typed = strings.TrimSpace(typed)
	if rest, ok := strings.CutPrefix(typed, "~"+string(filepath.Separator)); ok {
		if home, err := os.UserHomeDir(); err == nil {
			return filepath.Join(home, rest)
		}
	}
	return typed
}

// reason is an error without the paths of the program's own making.
func reason(err error) string {
	var at *fs.PathError
	var link *os.LinkError
	switch {
	case errors.As(err, &at):
		return at.Err.Error()
	case errors.As(err, &link):
		return link.Err.Error()
	}
	return err.Error()
}

// overwriteQuestions are why a file is not simply overwritten.
var overwriteQuestions = []struct {
	err  error
	what string
}{
	{errThere, "There is another file of this name"},
	{file.ErrChangedOnDisk, "The file has changed on the disk since it was opened"},
	{file.ErrWriteProtected, "The file is write-protected"},
}

// afterSave says how saving went, and does what waited for it. A file that is
// not the one this build came from is overwritten only when asked to again.
func (a *App) afterSave(msg savedMsg) tea.Cmd {
	a.notSaved = msg.err != nil
	if a.notSaved && msg.gone {
		a.saved = "" // nothing of it is on the disk
	}
	for _, q := range overwriteQuestions {
		if errors.Is(msg.err, q.err) {
			a.confirm = &confirmation{a.keys.Save, func(a *App) tea.Cmd { return a.await(overwrite(msg.saving)) }}
			a.mode = confirming
			a.notice = notice{warned, q.what + " (" + msg.path + "): " + a.keys.Save.Help().Key + " overwrites it, any other key leaves it."}
			return nil
		}
	}
	if msg.err != nil {
		a.notice = notice{failed, "Not saved to " + msg.path + ": " + reason(msg.err) + ". Your work is still here: mend that and save again, or save under another name (" + a.keys.Menu.Help().Key + ")."}
		return a.changed()
	}
	cmd := a.keep.remove()
	a.path, a.saved, a.stamp = msg.path, a.doc.Reopen(msg.text).Text, msg.done.Stamp
	a.keep.of(msg.path)
	a.notice = notice{said, "Saved " + a.path}
	if msg.done.Note != "" {
		a.notice = notice{warned, a.notice.text + ". " + msg.done.Note}
	}
	if msg.then != nil {
		return tea.Sequence(cmd, msg.then(a))
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
	a.leave()
	if !a.Unsaved() {
		return then(a)
	}
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
		return a.saveThen(c.then)
	}
	return nil
}
