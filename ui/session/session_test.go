package session

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/file"
	"example.com/needlewright/model/modeltest"
	"example.com/needlewright/ui/jobs"
	"example.com/needlewright/ui/notice"
)

// on is a session on a text, without a file.
func on(text string) *Session { return New(Start{Text: text}, &notice.Notice{}) }

// with is the document with another coil.
func (s *Session) with(t *testing.T, coil string) *model.Document {
	t.Helper()
	f, index, ok := s.Doc.Find("hand.hours.meter.coil")
	require.True(t, ok)
	return s.Doc.Set(f, index, coil)
}

// A row has no name: what is wrong with one is told by its line.
func TestRowsAreToldByTheirLine(t *testing.T) {
	text := modeltest.Example("reading-room")
	s := on(text)
	s.Show(s.Doc.Reopen(modeltest.With(t, text, "hand.hours.scale.1.code", "120", "hand.hours.scale.1.stands", "5:53", "hand.hours.scale.2.code", "many")))
	above, _, _ := strings.Cut(s.Text(), "code = \"many\"")
	line := 1 + strings.Count(above, "\n")
	assert.Equal(t, fmt.Sprintf("mend Code in line %d", line), s.ToMend())
	assert.Nil(t, s.Homeless(), "the pane of the scale shows it")
}

// A visit is one step of undo, however much is typed in it; what stands there now is
// compared with what stood there before it.
func TestVisits(t *testing.T) {
	text := modeltest.Example("reading-room")
	s := on(text)
	before := s.Report
	s.Enter()
	for _, coil := range []string{"6", "65", "650"} {
		s.Rebase()
		s.Show(s.with(t, coil))
	}
	assert.Same(t, before, s.Base)
	assert.True(t, s.Unsaved())
	s.Leave()
	assert.Len(t, s.Undo, 1)
	s.Leave()
	assert.Len(t, s.Undo, 1, "nothing was changed since")
	s.Replace(s.with(t, "700"))
	s.Enter()
	typed := s.Text()
	require.NotNil(t, s.UndoVisit())
	s.Enter()
	require.NotNil(t, s.UndoVisit())
	assert.Equal(t, text, s.Text())
	assert.False(t, s.Unsaved())
	assert.Nil(t, s.UndoVisit(), "none is left")
	require.NotNil(t, s.RedoVisit())
	require.NotNil(t, s.RedoVisit())
	assert.Equal(t, typed, s.Text())
	assert.Nil(t, s.RedoVisit())

	s.Enter()
	assert.False(t, s.Revert(), "nothing to give back")
	s.Show(s.with(t, "x"))
	assert.True(t, s.Stale())
	assert.Contains(t, s.LastGood(), "mend Coil")
	assert.True(t, s.Revert())
	assert.Equal(t, typed, s.Text())
}

// The hand in view is one there is.
func TestHandInView(t *testing.T) {
	s := on(modeltest.Example("station-platform"))
	require.Len(t, s.Doc.Build.Hands, 3)
	s.ShowHand(2)
	assert.Equal(t, 2, s.ReportHand())
	d, problem := s.Doc.Remove("hand", 2)
	require.Nil(t, problem)
	s.Replace(d)
	assert.Equal(t, 1, s.Hand)
	s.Open("", "x = = 1", file.Stamp{})
	assert.Zero(t, s.Hand)
	assert.Equal(t, -1, s.ReportHand())
}

// What would be better is sought once a report. What comes of an earlier text is dropped.
func TestAdvice(t *testing.T) {
	s := on(modeltest.Example("school-store"))
	early := s.SeekAdvice()
	require.NotNil(t, early)
	assert.Nil(t, s.SeekAdvice(), "it is on its way")
	s.Show(s.with(t, "650"))
	late := s.SeekAdvice()
	require.NotNil(t, late)
	assert.Nil(t, early().(jobs.Msg).Take())
	assert.False(t, s.Report.IsAdvised(), "that was of another text")
	assert.Nil(t, late().(jobs.Msg).Take())
	assert.True(t, s.Report.IsAdvised())
	assert.True(t, s.Report.IsBanded())
	assert.Nil(t, s.SeekAdvice(), "it is known")

	s.Show(s.with(t, "x"))
	assert.True(t, s.Report.IsAdvised(), "the last good report stays")
	assert.Nil(t, s.SeekAdvice())
	s.Show(s.with(t, "660"))
	s.AdviseNow()
	assert.True(t, s.Report.IsAdvised())
}

// A failure of the program while it is worked out is said, and not met again at every key.
func TestAdviceThatFails(t *testing.T) {
	say := &notice.Notice{}
	s := New(Start{Text: modeltest.Example("school-store")}, say)
	require.NotNil(t, s.SeekAdvice())
	s.advice.Running().Ended(nil, errors.New("no advice today")).Take()
	assert.Equal(t, notice.Failed, say.Tone)
	assert.Contains(t, say.Text, "no advice today")
	assert.False(t, s.Report.IsAdvised())
	assert.Nil(t, s.SeekAdvice())
}

// A writing that was asked for before a removal does nothing after it.
func TestRecoveryInOrder(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "keep")
	s := New(Start{Path: filepath.Join(t.TempDir(), "hall.toml"), Text: modeltest.Example("reading-room"), Copies: folder}, &notice.Notice{})
	s.Show(s.with(t, "6"))
	assert.NotNil(t, s.Changed())
	assert.Nil(t, s.Changed(), "one writing is enough")
	late := s.WriteCopy()
	do := func(cmd tea.Cmd) {
		if batch, ok := cmd().(tea.BatchMsg); ok {
			for _, c := range batch {
				c()
			}
		}
	}
	do(s.keep.remove())
	do(late)
	copies, _ := os.ReadDir(folder)
	assert.Empty(t, copies)
	assert.NotNil(t, s.Changed(), "the next change is kept again")
	do(s.WriteCopy())
	copies, err := os.ReadDir(folder)
	require.NoError(t, err)
	assert.Len(t, copies, 1)
}

// Work that was taken up is offered to no one any more once it is saved, though saving was
// quicker than what moves its copy.
func TestTakenUpAndSaved(t *testing.T) {
	folder, path := filepath.Join(t.TempDir(), "keep"), filepath.Join(t.TempDir(), "hall.toml")
	require.NoError(t, file.RecoveryFor(folder, path).Write("title = \"found\"\n"))
	left, err := os.ReadDir(folder)
	require.NoError(t, err)
	require.Len(t, left, 1)
	ended := strings.Replace(left[0].Name(), fmt.Sprintf("-%d-", os.Getpid()), "-2147483647-", 1) // of a program that runs no more
	require.NoError(t, os.Rename(filepath.Join(folder, left[0].Name()), filepath.Join(folder, ended)))
	found, err := file.RecoveryFor(folder, path).Offer("")
	require.NoError(t, err)
	require.Len(t, found, 1)

	s := New(Start{Path: path, Text: "", Copies: folder}, &notice.Notice{})
	late := s.TakeUp(found[0])
	s.WasSaved(s.Save(nil)().(SavedMsg))()
	late()
	left, err = os.ReadDir(folder)
	require.NoError(t, err)
	assert.Empty(t, left)
}

// Saving makes the text the one on the disk; a file that is gone is written anew, and one
// that changed meanwhile is not overwritten.
func TestSaving(t *testing.T) {
	path := filepath.Join(t.TempDir(), "hall.toml")
	s := on(modeltest.Example("reading-room"))
	s.Show(s.with(t, "650"))
	saved := s.SaveNew(path, nil)().(SavedMsg)
	require.NoError(t, saved.Err)
	assert.Nil(t, s.WasSaved(saved), "no copy is kept that would go")
	assert.Equal(t, path, s.Path)
	assert.False(t, s.Unsaved())
	again := s.SaveNew(path, nil)().(SavedMsg)
	require.ErrorIs(t, again.Err, ErrThere)

	require.NoError(t, os.WriteFile(path, []byte("# by someone else\n"), 0o600))
	s.Show(s.with(t, "660"))
	changed := s.Save(nil)().(SavedMsg)
	require.ErrorIs(t, changed.Err, file.ErrChangedOnDisk)
	s.WasSaved(changed)
	assert.True(t, s.NotSaved)
	assert.True(t, s.Unsaved())
	s.WasSaved(changed.Overwrite().(SavedMsg))
	assert.False(t, s.NotSaved)
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, s.Text(), string(text))

	require.NoError(t, os.Remove(path))
	assert.False(t, s.NoteGone(path+"2"), "another file")
	assert.True(t, s.NoteGone(path))
	assert.True(t, s.Unsaved(), "it is nowhere")
	anew := s.Save(nil)().(SavedMsg)
	require.NoError(t, anew.Err)
	s.WasSaved(anew)
	assert.FileExists(t, path)
	assert.False(t, s.Unsaved())
}
