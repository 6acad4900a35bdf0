package ui

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"os"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model/file"
	"example.com/needlewright/ui/front"
	"example.com/needlewright/ui/notice"
	"example.com/needlewright/ui/session"
)

// offer asks whether work found at the start is to be taken up, and goes on with
// what waits for it to be left.
func (f *files) offer(found []file.Copy, then func() tea.Cmd) {
	if then == nil {
		then = func() tea.Cmd { return nil }
	}
	var entries []front.Entry
	for _, c := range found {
		e := front.Entry{
			Text: "Take up " + cmp.Or(c.Title(), "untitled"), Hint: c.Written.Format("2 Jan 15:04"),
			Do: func() tea.Cmd { return f.takeUp(c) },
		}
		if c.Path != "" && f.s.Path == "" {
			e.More = "It is of " + c.Path + ", which is not there or cannot be opened. Saving writes it there, or under another name."
		}
		entries = append(entries, e)
	}
	forget := "Delete it"
	if len(found) > 1 {
		forget = fmt.Sprintf("Delete all %d", len(found))
	}
	entries = append(entries,
		front.Entry{Text: "Leave it for now", Do: then},
		front.Entry{Text: forget, Do: func() tea.Cmd { return tea.Batch(removeAll(found), then()) }})
	f.ask(&front.Prompt{
		Title: "Unsaved work was found",
		Hint: fmt.Sprintf("On %s needlewright ended with work that was not saved. Choose with ↑↓, enter does it.",
			found[0].Written.Format("2 January at 15:04")),
		Entries: entries, Fixed: true,
	}, "")
}

// removeAll takes copies away.
func removeAll(copies []file.Copy) tea.Cmd {
	return func() tea.Msg {
		for _, c := range copies {
			if err := c.Remove(); err != nil {
				return session.KeptMsg{Err: err}
			}
		}
		return nil
	}
}

// takeUp makes a recovery copy the present text; undo gives the saved one. Where
// no file is open it becomes the build of the copy's own.
func (f *files) takeUp(c file.Copy) tea.Cmd {
	var former tea.Cmd
	if f.s.Path == "" && c.Path != "" {
		former = f.open(c.Path, "", file.Stamp{})
	}
	cmd := f.s.TakeUp(c)
	f.form.Enter()
	f.say.Say("Taken up. Save it; undo gives what was here before.")
	return tea.Sequence(former, cmd)
}

// kept warns of what was seen while a recovery copy was written.
func (f *files) kept(msg session.KeptMsg) {
	switch {
	case f.front.Mode == front.Confirming: // its question stays
	case msg.Err != nil:
		f.say.Warn("No recovery copy could be kept: " + msg.Err.Error())
	case f.say.Tone == notice.Failed: // that matters more
	case f.s.NoteGone(msg.Gone):
		f.say.Warn("The file is no longer on the disk; saving writes it anew.")
	case msg.Changed:
		f.say.Warn("The file has changed on the disk meanwhile; saving will ask before it overwrites it.")
	}
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
