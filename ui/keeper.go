package ui

import (
	"errors"
	"fmt"
	"io/fs"
	"sync"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model/file"
)

// A keeper keeps a recovery copy of unsaved work.
type keeper struct {
	folder string // of the copies; "": none are kept
	copy   file.Recovery
	armed  bool // a copy will be written within keepDelay
	turn   int  // of the last command given
	turns  *turns
}

// turns lets the keeper's commands, which run beside each other, take effect in
// the order they were given: a late writing never follows a removal.
type turns struct {
	sync.Mutex
	done int
}

// keepDelay is how long after a change the copy is written.
const keepDelay = time.Second

// of makes the copy that of another build.
func (k *keeper) of(path string) {
	if k.folder != "" {
		k.copy, k.turn, k.turns = file.RecoveryFor(k.folder, path), 0, new(turns)
	}
}

// do is the command that does something with the copy, unless a later one has
// done so already.
func (k *keeper) do(what func(file.Recovery) error) tea.Cmd {
	if k.turns == nil {
		return nil
	}
	k.turn++
	turn, turns, kept := k.turn, k.turns, k.copy
	return func() tea.Msg {
		turns.Lock()
		defer turns.Unlock()
		if turn < turns.done {
			return nil
		}
		turns.done = turn
		return keptMsg{err: what(kept)}
	}
}

// remove takes the copy away, as its build is saved or given up.
func (k *keeper) remove() tea.Cmd { return k.do(file.Recovery.Remove) }

// changed arms the keeper after a change of the text.
func (a *App) changed() tea.Cmd {
	if a.keep.folder == "" || a.keep.armed {
		return nil
	}
	a.keep.armed = true
	return tea.Tick(keepDelay, func(time.Time) tea.Msg { return keepMsg{} })
}

// writeCopy keeps the text as it stands, or takes the copy away where nothing
// is unsaved any more.
func (a *App) writeCopy() tea.Cmd {
	a.keep.armed = false
	if !a.Unsaved() {
		return a.keep.remove()
	}
	text, path, stamp := a.Text(), a.path, a.stamp
	write := a.keep.do(func(r file.Recovery) error { return r.Write(text) })
	return tea.Batch(write, func() tea.Msg {
		if path == "" || stamp == (file.Stamp{}) {
			return nil // it was never there
		}
		changed, err := stamp.Changed(path)
		switch {
		case errors.Is(err, fs.ErrNotExist):
			return keptMsg{gone: path}
		case err != nil:
			return nil // saving tells of it
		}
		return keptMsg{changed: changed}
	})
}

// Rescue keeps unsaved work where the program ends without having been told to
// give it up: at a hang-up, a signal, a panic. It is called when the screen is
// gone, and says whether there was anything to keep.
func (a *App) Rescue() (kept bool, err error) {
	if a.keep.turns == nil || a.givenUp || !a.Unsaved() {
		return false, nil
	}
	a.keep.turns.Lock()
	defer a.keep.turns.Unlock()
	return true, a.keep.copy.Write(a.Text())
}

// offer asks whether work found at the start is to be taken up, and goes on with
// what waits for it to be left.
func (a *App) offer(found []file.Copy, then func(*App) tea.Cmd) {
	if then == nil {
		then = func(*App) tea.Cmd { return nil }
	}
	var entries []entry
	for _, c := range found {
		e := entry{
			text: "Take up " + orElse(c.Title(), "untitled"), hint: c.Written.Format("2 Jan 15:04"),
			do: func(a *App) tea.Cmd { return a.takeUp(c) },
		}
		if c.Path != "" && a.path == "" {
			e.more = "It is of " + c.Path + ", which is not there or cannot be opened. Saving writes it there, or under another name."
		}
		entries = append(entries, e)
	}
	forget := "Delete it"
	if len(found) > 1 {
		forget = fmt.Sprintf("Delete all %d", len(found))
	}
	entries = append(entries,
		entry{text: "Leave it for now", do: then},
		entry{text: forget, do: func(a *App) tea.Cmd { return tea.Batch(removeAll(found), then(a)) }})
	a.ask(&prompt{
		title: "Unsaved work was found",
		hint: fmt.Sprintf("On %s needlewright ended with work that was not saved. Choose with ↑↓, enter does it.",
			found[0].Written.Format("2 January at 15:04")),
		entries: entries, fixed: true,
	}, "")
}

// removeAll takes copies away.
func removeAll(copies []file.Copy) tea.Cmd {
	return func() tea.Msg {
		for _, c := range copies {
			if err := c.Remove(); err != nil {
				return keptMsg{err: err}
			}
		}
		return nil
	}
}

// takeUp makes a recovery copy the present text; undo gives the saved one. Where
// no file is open it becomes the build of the copy's own.
func (a *App) takeUp(c file.Copy) tea.Cmd {
	var former tea.Cmd
	if a.path == "" && c.Path != "" {
		former = a.open(c.Path, "", file.Stamp{})
	}
	a.undo = append(a.undo, a.doc.Text)
	a.show(a.doc.Reopen(c.Text))
	a.enter()
	a.notice = notice{said, "Taken up. Save it; undo gives what was here before."}
	return tea.Sequence(former, a.keep.do(func(r file.Recovery) error {
		if err := r.Write(c.Text); err != nil {
			return err
		}
		return c.Remove()
	}))
}
