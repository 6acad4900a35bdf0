package ui

import (
	"cmp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model/caution"
	"example.com/needlewright/ui/form"
	"example.com/needlewright/ui/front"
	"example.com/needlewright/ui/uitest"
)

// Where a value is about to be found, the first caution stands before the help,
// behind a sign, and the help still says what the field is.
func TestCautionAtTheField(t *testing.T) {
	for _, size := range uitest.Sizes {
		a := open(exampleText(t, "reading-room"), size[0], size[1])
		here := caution.At(a.session.Doc.Build, focusedRow(a).Field, 0)
		require.NotEmpty(t, here, "at the coil")
		screen := a.Plain()
		sign, help := strings.Index(screen, "⚠ "), strings.Index(screen, "Of the moving coil")
		require.Positive(t, sign, size)
		assert.Greater(t, help, sign, size)
		assert.Contains(t, uitest.Squeezed(screen), uitest.Squeezed("⚠ "+here[0].Text), "in full at %v", size)
		assert.Contains(t, screen, "Measure: ", size)
		for len(caution.At(a.session.Doc.Build, focusedRow(a).Field, 0)) > 0 {
			press(a, "down")
		}
		assert.NotContains(t, a.Plain(), "⚠")
	}
}

// In plain characters the sign is !!.
func TestCautionInPlainCharacters(t *testing.T) {
	a := New(Options{Text: exampleText(t, "reading-room"), At: teatime, ASCII: true})
	a.Update(windowSize(80, 24))
	assert.Regexp(t, `(?m)^ !! \w`, a.Plain())
	press(a, "f5")
	assert.Regexp(t, `(?m)^\| !! \w`, a.Plain())
}

// At every size each field's help says at least how it begins; what there is no
// room for is named a key for.
func TestHelpBeginsAlways(t *testing.T) {
	for _, name := range examples {
		for _, size := range uitest.Sizes {
			a := open(exampleText(t, name), size[0], size[1])
			for range form.Panes {
				for range a.form.Rows(a.form.Pane) {
					r, screen := focusedRow(a), a.Plain()
					words := strings.Fields(a.form.WhatItIs(r))
					begins := strings.Join(words[:min(3, len(words))], " ")
					assert.Contains(t, uitest.Squeezed(screen), uitest.Squeezed(begins), "%s at %v", r.Field.Path, size)
					all := true
					for _, p := range a.form.HelpParts(r, false, false) {
						all = all && contains(uitest.Squeezed(screen), uitest.Squeezed(p.Text))
					}
					assert.Equal(t, !all, contains(screen, "F5 shows all"), "%s: %s at %v", name, r.Field.Path, size)
					press(a, "down")
				}
				press(a, "tab")
			}
		}
	}
}

// A key opens a page with all of the help and every caution of the build, with
// whom it hurts and its source; it scrolls to its end, and any key closes it.
func TestHelpAndCautions(t *testing.T) {
	for _, size := range uitest.Sizes {
		a := open(exampleText(t, "reading-room"), size[0], size[1])
		focusOn(t, a, "hand.hours.drive.fixed")
		press(a, "f5")
		read := pageText(a)
		for _, p := range a.form.HelpParts(focusedRow(a), false, false) {
			assert.Contains(t, read, uitest.Squeezed(p.Text), size)
		}
		all := caution.Of(a.session.Doc.Build)
		require.NotEmpty(t, all)
		for _, c := range all {
			assert.Equal(t, 1, strings.Count(read, uitest.Squeezed("⚠ "+c.Text)), "%s at %v", c.ID, size)
			assert.Contains(t, read, uitest.Squeezed("Hurts "+c.To+". Source: "+cmp.Or(c.Source, "common practice")))
		}
		press(a, "5")
		assert.Equal(t, front.Editing, a.front.Mode)
		assert.Equal(t, a.session.Saved, a.Text(), "the key is not typed")
		press(a, "f2", "Cautions", "enter")
		assert.Contains(t, a.Plain(), "Help and cautions")
	}
}

// The bottom line names the keys of what is open, and the one that ends does so
// from a page too, asking first where something would be lost.
func TestKeysOfAPage(t *testing.T) {
	for _, opens := range []string{"f1", "f5"} {
		a := open(exampleText(t, "reading-room"), 80, 24)
		press(a, opens)
		foot := splitLines(a.Plain())[23]
		assert.Contains(t, foot, "esc leave", opens)
		assert.Contains(t, foot, "ctrl+q quit", opens)
		assert.NotContains(t, foot, "field", opens)
		press(a, "ctrl+q")
		assert.True(t, a.session.GivenUp, "nothing is unsaved, after %s", opens)

		b := open(exampleText(t, "reading-room"), 80, 24)
		press(b, "down", "1", opens, "ctrl+q")
		assert.Equal(t, front.Confirming, b.front.Mode, "asks first, after %s", opens)
		assert.False(t, b.session.GivenUp)
	}
}

// pageText is what scrolling through a page shows, line after line.
func pageText(a *App) string {
	var all []string
	for {
		rows := splitLines(a.Plain())
		for _, s := range rows[2 : len(rows)-3] {
			all = append(all, strings.Trim(s, "│ "))
		}
		top := a.front.Page.Top
		press(a, "pgdown")
		if a.front.Page.Top == top {
			return uitest.Squeezed(strings.Join(all, " "))
		}
		over := len(rows) - 5 - (a.front.Page.Top - top) // lines that were shown already
		all = all[:len(all)-over]
	}
}
