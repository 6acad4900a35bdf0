package form

import (
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/modeltest"
	"example.com/needlewright/ui/cells"
	"example.com/needlewright/ui/front"
	"example.com/needlewright/ui/keys"
	"example.com/needlewright/ui/layout"
	"example.com/needlewright/ui/notice"
	"example.com/needlewright/ui/session"
	"example.com/needlewright/ui/uitest"
)

// on is the form of a text, by itself.
func on(text string, more ...Pane) *Form {
	say := &notice.Notice{}
	s := session.New(session.Start{Text: text}, say)
	return New(s, say, keys.New(), append(Panes[:len(Panes):len(Panes)], more...))
}

// typed gives keys to the focused field.
func typed(f *Form, names ...string) {
	for _, name := range names {
		f.Edit(uitest.Key(name))
	}
}

// drawn are the rows of the form in a frame of w by h.
func drawn(f *Form, w, h int) []string {
	return uitest.Screen(w, h, func(at cells.Area) { f.Draw(at) })
}

// What is typed goes into the document at once, and into no other field.
func TestEdit(t *testing.T) {
	f := on(modeltest.Example("reading-room"))
	r, ok := f.Focused()
	require.True(t, ok)
	require.Equal(t, firstField, r.Field.Path)
	typed(f, "ctrl+u", "6", "5", "0")
	assert.Equal(t, "650", f.Typed())
	assert.InDelta(t, 650, f.s.Doc.Build.Hands[0].Meter.Coil.Number, 1e-9) // as typed
	assert.Equal(t, 1, f.s.Doc.ChangedValues(model.Open(modeltest.Example("reading-room"))))
	typed(f, "x")
	assert.Contains(t, strings.Join(drawn(f, 40, 20), "\n"), "!Coil")
	f.Revert()
	assert.False(t, f.s.Unsaved())
	assert.Equal(t, "640 Ω ±1 %", f.Typed())
}

// A form by itself goes round its rows and panes, and undo leads back to the field.
func TestGoing(t *testing.T) {
	f := on(modeltest.Example("reading-room"))
	typed(f, "ctrl+u", "650")
	n := len(f.Rows(f.Pane))
	for range n {
		f.Move(1)
	}
	r, _ := f.Focused()
	assert.Equal(t, firstField, r.Field.Path, "once round")
	f.Turn(-1)
	assert.Equal(t, BenchName, f.Panes[f.Pane].Name)
	f.Undo()
	r, _ = f.Focused()
	assert.Equal(t, firstField, r.Field.Path)
	assert.Equal(t, "640 Ω ±1 %", f.Typed())
	f.Redo()
	assert.Equal(t, "650 Ω ±1 %", f.Typed())
	f.Turn(1)
	f.NextHand()
	assert.Contains(t, f.say.Text, "There is no other hand")
}

// Every line of the window has the row of a click there, and none else moves the keys.
func TestClick(t *testing.T) {
	f := on(uitest.WithEachList(t, modeltest.Example("reading-room")))
	const w, h = 34, 16
	for pane := range f.Panes {
		f.TurnTo(pane)
		lines, start := f.window(f.Rows(pane), w, h)
		for y := range h {
			f.TurnTo(pane)
			before := f.Focus[pane]
			f.Click(0, y, w, h)
			if start+y >= len(lines) || lines[start+y].heading != "" || lines[start+y].blank {
				assert.Equal(t, before, f.Focus[pane])
			} else {
				assert.Equal(t, lines[start+y].row, f.Focus[pane])
			}
			f.Focus[pane] = before
		}
	}
}

// A pane without fields has no row to have the keys; all that is done there does nothing.
func TestNoRows(t *testing.T) {
	f := on(modeltest.Example("reading-room"), Pane{"Empty", model.NoPane})
	f.Turn(-1)
	require.Equal(t, "Empty", f.Panes[f.Pane].Name)
	assert.Equal(t, model.NoPane, f.Fields())
	assert.False(t, f.HasProblem(f.Pane))
	before := f.s.Text()
	for _, do := range []func(){
		func() { f.Move(1) }, func() { f.Move(-1) }, func() { f.Step(true) }, func() { f.Step(false) }, func() { f.Revert() },
		func() { f.Undo() }, func() { f.Redo() }, func() { f.NextHand() }, func() { f.Click(0, 3, 30, 10) }, f.Leave, f.Enter,
		func() { typed(f, "5", "backspace", "ctrl+u", " ", "left") }, func() { f.Edit(tea.KeyMsg{Type: tea.KeyRight}) },
		func() { f.ReplaceUnder(f.s.Doc) },
	} {
		require.NotPanics(t, do)
		assert.Equal(t, "Empty", f.Panes[f.Pane].Name)
	}
	assert.Equal(t, before, f.s.Text())
	_, ok := f.Focused()
	assert.False(t, ok)
	assert.Nil(t, f.OfferedHere())
	rows := drawn(f, 30, 8)
	assert.Contains(t, rows[0], "Empty")
	assert.Empty(t, strings.Trim(strings.Join(rows[1:7], ""), "│ "), "nothing stands inside")
	help := uitest.Screen(60, 4, func(at cells.Area) { f.DrawHelp(at, nil) })
	assert.Empty(t, strings.TrimSpace(strings.Join(help, "")))
	assert.NotEmpty(t, f.HelpPage(false, func(*front.Page) {}, func(*front.Page) {}).Title)
	f.Turn(1)
	assert.Equal(t, "640 Ω ±1 %", f.Typed())
}

// Help is never cut where nothing else is to be said: what a field is and how to
// measure it is read in full.
func TestHelpFits(t *testing.T) {
	f := on(uitest.WithEachList(t, modeltest.Example("reading-room")))
	for _, size := range uitest.Sizes {
		for pane := range f.Panes {
			rows := f.Rows(pane)
			require.Equal(t, f.Panes[pane].Fields >= model.ScalePane, len(rows) == 0)
			for _, r := range rows {
				needs := 0
				for _, text := range []string{f.WhatItIs(r) + " " + allowedText(r.Field), measureText(r.Field)} {
					needs += len(cells.Lines(text, size[0]-2))
				}
				assert.LessOrEqual(t, needs, layout.HelpRows(size[0]), "%s at %d columns", r.Field.Path, size[0])
			}
		}
	}
}

// Labels leave room for a sign before them, and for a space and a mark behind.
func TestLabelsFit(t *testing.T) {
	for _, f := range model.Builds.Fields {
		assert.LessOrEqual(t, cells.Width(f.Label), layout.LabelColumns-3, f.Path)
	}
}
