package ui

import (
	"cmp"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model/file"
	"example.com/needlewright/model/judge"
	"example.com/needlewright/ui/form"
	"example.com/needlewright/ui/front"
	"example.com/needlewright/ui/keys"
	"example.com/needlewright/ui/notice"
	"example.com/needlewright/ui/session"
)

// files begins, opens and saves builds, and asks before anything is lost.
type files struct {
	s     *session.Session
	form  *form.Form
	front *front.Front
	say   *notice.Notice
	keys  *keys.Map
	begun func() // what else begins anew with another document

	waiting bool         // for a command that works on files
	held    []tea.KeyMsg // keys that came meanwhile
}

// newBuild asks what a build begins with; the rest is assumed.
func (f *files) newBuild() tea.Cmd {
	return f.unlessUnsaved(f.keys.Lose, "begins a new build", func() tea.Cmd { return f.interview("") })
}

// interview asks of the meter and the rail, and makes the build from the answers, for a
// file that is not there yet or for none.
func (f *files) interview(path string) tea.Cmd {
	v := &interview{form: f.form, front: f.front, keys: f.keys, what: "New build", of: buildQuestions, said: unasked()}
	v.done = func(a *answers) tea.Cmd {
		build, _ := judge.NewBuild(a.meter(), a.supply())
		cmd := f.begin(path, build)
		f.say.Say(a.next(f.keys))
		return cmd
	}
	return v.begin()
}

// ask opens a prompt with a text to begin with.
func (f *files) ask(p *front.Prompt, text string) tea.Cmd {
	f.form.Leave()
	f.front.Ask(p, text)
	return nil
}

// begin takes a new build.
func (f *files) begin(path, build string) tea.Cmd {
	cmd := f.s.Begin(path, build)
	f.beginAll()
	return tea.Sequence(cmd, f.s.Changed())
}

// beginAll begins at the first field, and all else anew.
func (f *files) beginAll() {
	f.form.Begin()
	f.begun()
}

// open takes a file's text as the present document.
func (f *files) open(path, text string, stamp file.Stamp) tea.Cmd {
	cmd := f.s.Open(path, text, stamp)
	f.beginAll()
	return cmd
}

// await runs a command that works on files. Keys that come before it is done
// are held for what they meet then.
func (f *files) await(cmd tea.Cmd) tea.Cmd {
	f.waiting = true
	return cmd
}

// hold holds a key while a command is waited for; false where none is.
func (f *files) hold(msg tea.KeyMsg) bool {
	if f.waiting {
		f.held = append(f.held, msg)
	}
	return f.waiting
}

// arrived ends the waiting.
func (f *files) arrived() { f.waiting = false }

// next returns a key that was held; false where none is to be let in now. Those that
// came before a question are no answer to it.
func (f *files) next() (tea.KeyMsg, bool) {
	if f.front.Mode == front.Confirming {
		f.held = nil
	}
	if len(f.held) == 0 || f.waiting {
		return tea.KeyMsg{}, false
	}
	msg := f.held[0]
	f.held = f.held[1:]
	return msg, true
}

// openList lists the builds of the folder of the present one.
func (f *files) openList() tea.Cmd {
	return f.unlessUnsaved(f.keys.Open, "opens another build", func() tea.Cmd { return f.await(session.ListFolder(filepath.Dir(f.s.Path))) })
}

// listed shows the builds of a folder to choose from; a path may be typed too.
func (f *files) listed(msg session.ListedMsg) tea.Cmd {
	if msg.Err != nil {
		f.say.Fail("The folder cannot be listed: " + reason(msg.Err))
		return nil
	}
	var entries []front.Entry
	for _, e := range msg.Entries {
		path := filepath.Join(msg.Folder, e.Name)
		if e.Folder {
			entries = append(entries, front.Entry{Text: e.Name + string(filepath.Separator), Hint: "folder", Do: func() tea.Cmd { return f.await(session.ListFolder(path)) }})
			continue
		}
		entries = append(entries, front.Entry{Text: e.Name, Hint: e.Title, Do: func() tea.Cmd { return f.await(f.s.OpenFile(path)) }})
	}
	what := "Builds in "
	if msg.Part {
		what = "Some of the builds in "
	}
	p := &front.Prompt{
		Title: "Open", Hint: what + msg.Folder + ", or a path:", Entries: entries, Most: front.LongestPath,
		Other: func(typed string) tea.Cmd { return f.await(f.s.OpenFile(session.Expanded(typed))) },
	}
	cmd := f.ask(p, "")
	if first := slices.IndexFunc(msg.Entries, func(e file.Entry) bool { return !e.Folder }); first > 0 {
		p.Choose(first)
	}
	return cmd
}

// opened takes a file that was read.
func (f *files) opened(msg session.OpenedMsg) tea.Cmd {
	if msg.Err != nil {
		f.say.Fail("Not opened: " + reason(msg.Err))
		return nil
	}
	cmd := f.open(msg.File.Path, msg.File.Text, msg.File.Stamp)
	f.say.Say("Opened " + msg.File.Path)
	if msg.File.Warning != "" {
		f.say.Warn(msg.File.Warning)
	}
	if len(msg.File.Found) > 0 {
		f.offer(msg.File.Found, nil)
	}
	return cmd
}

// save writes the file, or asks for a name where there is none yet.
func (f *files) save() tea.Cmd { return f.saveThen(nil) }

// saveThen saves, and goes on with what waits for it.
func (f *files) saveThen(then func() tea.Cmd) tea.Cmd {
	if f.s.Path == "" {
		return f.saveAsThen(then)
	}
	return f.await(f.s.Save(then))
}

// saveAs asks for a path and saves there.
func (f *files) saveAs() tea.Cmd { return f.saveAsThen(nil) }

func (f *files) saveAsThen(then func() tea.Cmd) tea.Cmd {
	hint := "The file's path. Enter saves, esc leaves."
	if f.s.Path != "" {
		hint = "The file's path; a name alone is put beside the present file. Enter saves, esc leaves."
	}
	return f.ask(&front.Prompt{Title: "Save as", Hint: hint, Most: front.LongestPath, Accept: func(typed string) (string, func() tea.Cmd) {
		if strings.TrimSpace(typed) == "" {
			return "A path is needed, such as clock.toml.", nil
		}
		path := f.pathOf(typed)
		if path == f.s.Path {
			return "", func() tea.Cmd { return f.saveThen(then) }
		}
		return "", func() tea.Cmd { return f.await(f.s.SaveNew(path, then)) }
	}}, cmp.Or(f.s.Path, "clock.toml"))
}

// pathOf is where what is typed is saved: a name alone beside the present file.
func (f *files) pathOf(typed string) string {
	path := session.Expanded(typed)
	if filepath.Ext(path) == "" {
		path += ".toml"
	}
	if f.s.Path != "" && filepath.Base(path) == path {
		path = filepath.Join(filepath.Dir(f.s.Path), path)
	}
	return path
}

// overwriteQuestions are why a file is not simply overwritten.
var overwriteQuestions = []struct {
	err  error
	what string
}{
	{session.ErrThere, "There is another file of this name"},
	{file.ErrChangedOnDisk, "The file has changed on the disk since it was opened"},
	{file.ErrWriteProtected, "The file is write-protected"},
}

// saved says how saving went, and does what waited for it. A file that is
// not the one this build came from is overwritten only when asked to again.
func (f *files) saved(msg session.SavedMsg) tea.Cmd {
	cmd := f.s.WasSaved(msg)
	for _, q := range overwriteQuestions {
		if errors.Is(msg.Err, q.err) {
			f.front.Confirm(f.keys.Save, func() tea.Cmd { return f.await(msg.Overwrite) })
			f.say.Ask(q.what + " (" + msg.Path + "): " + f.keys.Save.Help().Key + " overwrites it, any other key leaves it.")
			return nil
		}
	}
	if msg.Err != nil {
		f.say.Fail("Not saved to " + msg.Path + ": " + reason(msg.Err) + ". Your work is still here: mend that and save again, or save under another name (" + f.keys.Menu.Help().Key + ").")
		return f.s.Changed()
	}
	text := "Saved " + f.s.Path
	f.say.Say(text)
	if unread := f.s.Unread(); unread != "" {
		text = "Saved, but " + unread
		f.say.Warn(text + ". " + f.keys.Finding.Help().Key + " goes there.")
	}
	if msg.Done.Note != "" {
		f.say.Warn(text + ". " + msg.Done.Note)
	}
	if msg.Then != nil {
		return tea.Sequence(cmd, msg.Then())
	}
	return cmd
}

// unlessUnsaved does what would lose unsaved work, or asks first. does is that in words.
func (f *files) unlessUnsaved(k key.Binding, does string, then func() tea.Cmd) tea.Cmd {
	f.form.Leave()
	if !f.s.Unsaved() {
		return then()
	}
	f.front.Confirm(k, then)
	f.say.Ask(fmt.Sprintf("Changes are not saved: %s saves them and %s, %s %s and they are lost, any other key stays.",
		f.keys.Save.Help().Key, does, k.Help().Key, does))
	return nil
}

// decide takes the answer to a question.
func (f *files) decide(msg tea.KeyMsg) tea.Cmd {
	q := f.front.Close()
	f.say.Clear()
	switch {
	case key.Matches(msg, q.Again):
		return q.Then()
	case key.Matches(msg, f.keys.Save):
		return f.saveThen(func() tea.Cmd { return f.unlessUnread(q.Again, q.Then) })
	}
	return nil
}

// unlessUnread goes on with what waited for a saving. Where something that was saved cannot
// be read it stays instead, so that this is seen; nothing is unsaved then, and the key goes
// on.
func (f *files) unlessUnread(k key.Binding, then func() tea.Cmd) tea.Cmd {
	unread := f.s.Unread()
	if unread == "" {
		return then()
	}
	f.say.Warn("Saved, but " + unread + ". " + f.keys.Finding.Help().Key + " goes there, " + k.Help().Key + " leaves it so.")
	return nil
}
