package session

import (
	"errors"
	"io/fs"
	"math"
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
	taken  []file.Copy // that were taken up: their work is in the copy from then on
}

// turns lets the keeper's commands, which run beside each other, take effect in
// the order they were given: a late writing never follows a removal.
type turns struct {
	sync.Mutex
	done int
}

// may says whether a turn is still to be taken, and takes it.
func (t *turns) may(turn int) bool {
	if turn < t.done {
		return false
	}
	t.done = turn
	return true
}

// close lets no turn be taken any more.
func (t *turns) close() { t.done = math.MaxInt }

// keepDelay is how long after a change the copy is written.
const keepDelay = time.Second

// A KeepMsg asks for the recovery copy to be written.
type KeepMsg struct{}

// A KeptMsg tells how that went, and whether the build's file was seen to have changed
// meanwhile, or which one to be gone.
type KeptMsg struct {
	Err     error
	Changed bool
	Gone    string
}

// of makes the copy that of another build.
func (k *keeper) of(path string) {
	if k.folder != "" {
		k.copy, k.turn, k.turns, k.taken = file.RecoveryFor(k.folder, path), 0, new(turns), nil
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
		if !turns.may(turn) {
			return nil
		}
		return KeptMsg{Err: what(kept)}
	}
}

// remove takes the copy away, as its build is saved or given up, and those that were
// taken up.
func (k *keeper) remove() tea.Cmd {
	taken := k.taken
	return k.do(func(r file.Recovery) error {
		err := r.Remove()
		for _, c := range taken {
			err = errors.Join(err, c.Remove())
		}
		return err
	})
}

// takeUp is the command that puts a copy of earlier work in place of the own one.
func (k *keeper) takeUp(c file.Copy) tea.Cmd {
	k.taken = append(k.taken, c)
	return k.do(func(r file.Recovery) error {
		if err := r.Write(c.Text); err != nil {
			return err
		}
		return c.Remove()
	})
}

// arm has a copy written a while after a change of the text.
func (k *keeper) arm() tea.Cmd {
	if k.folder == "" || k.armed {
		return nil
	}
	k.armed = true
	return tea.Tick(keepDelay, func(time.Time) tea.Msg { return KeepMsg{} })
}

// disarm says that the copy is written now.
func (k *keeper) disarm() { k.armed = false }

// write is the command that keeps a text.
func (k *keeper) write(text string) tea.Cmd {
	return k.do(func(r file.Recovery) error { return r.Write(text) })
}

// now keeps a text at once, after what goes on.
func (k *keeper) now(text string) error {
	k.turns.Lock()
	defer k.turns.Unlock()
	return k.copy.Write(text)
}

// clear takes the copy away, after what goes on, and lets no command follow. One that
// cannot be removed is the same as the file: the next start removes it.
func (k *keeper) clear() {
	k.turns.Lock()
	defer k.turns.Unlock()
	k.turns.close()
	_ = k.copy.Remove()
	for _, c := range k.taken {
		_ = c.Remove()
	}
}

// Changed has the change of the text kept soon.
func (s *Session) Changed() tea.Cmd { return s.keep.arm() }

// WriteCopy keeps the text as it stands, or takes the copy away where nothing
// is unsaved any more.
func (s *Session) WriteCopy() tea.Cmd {
	s.keep.disarm()
	if !s.Unsaved() {
		return s.keep.remove()
	}
	path, stamp := s.Path, s.stamp
	return tea.Batch(s.keep.write(s.Text()), func() tea.Msg {
		if path == "" || stamp == (file.Stamp{}) {
			return nil // it was never there
		}
		changed, err := stamp.Changed(path)
		switch {
		case errors.Is(err, fs.ErrNotExist):
			return KeptMsg{Gone: path}
		case err != nil:
			return nil // saving tells of it
		}
		return KeptMsg{Changed: changed}
	})
}

// NoteGone notes that there is nothing of the text on the disk, where its file is the
// one that is gone.
func (s *Session) NoteGone(path string) bool {
	if path == "" || path != s.Path {
		return false
	}
	s.Saved = ""
	return true
}

// GiveUp leaves unsaved work.
func (s *Session) GiveUp() tea.Cmd {
	s.GivenUp = true
	return s.keep.remove()
}

// Rescue keeps unsaved work that nobody has given up, and says whether there was any;
// without any it leaves no copy, even where the command that removes it was not done yet.
func (s *Session) Rescue() (kept bool, err error) {
	switch {
	case s.keep.turns == nil:
		return false, nil
	case s.GivenUp || !s.Unsaved():
		s.keep.clear()
		return false, nil
	}
	return true, s.keep.now(s.Text())
}

// TakeUp makes a recovery copy the present text; undo gives the saved one.
func (s *Session) TakeUp(c file.Copy) tea.Cmd {
	s.Undo = append(s.Undo, s.Doc.Text)
	s.Show(s.Doc.Reopen(c.Text))
	return s.keep.takeUp(c)
}
