package ui

import (
	"cmp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model/caution"
	"example.com/needlewright/model/modeltest"
	"example.com/needlewright/ui/form"
	"example.com/needlewright/ui/front"
	"example.com/needlewright/ui/session"
	"example.com/needlewright/ui/uitest"
)

// Where a value is about to be found, the help says what the field is, and then the
// gravest caution stands behind a sign, in a line of its own.
func TestCautionAtTheField(t *testing.T) {
	for _, size := range uitest.Sizes {
		a := open(exampleText(t, "reading-room"), size[0], size[1])
		here := caution.At(a.session.Doc.Build, focusedRow(a).Field, 0)
		require.NotEmpty(t, here, "at the coil")
		screen := a.Plain()
		sign, help := strings.Index(screen, "⚠ "), strings.Index(screen, "Of the moving coil")
		require.Positive(t, sign, size)
		require.Positive(t, help, size)
		assert.Less(t, help, sign, size)
		assert.Equal(t, 1, strings.Count(screen, "⚠"), size)
		assert.Contains(t, uitest.Squeezed(screen), uitest.Squeezed("⚠ "+here[0].Line()), "in full at %v", size)
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

// No caution is cut in the middle, at any field, size and origin of the meter, with or
// without something said above it, and none stands where nothing is done.
func TestNoHalfCaution(t *testing.T) {
	t.Parallel()
	shown := 0
	for _, origin := range append([]string{""}, session.FieldOf("hand.meter.origin").Choices...) {
		text := modeltest.With(t, exampleText(t, "reading-room"), "hand.hours.meter.origin", origin)
		for _, size := range uitest.Sizes {
			a := open(text, size[0], size[1])
			for range form.Panes {
				for range a.form.Rows(a.form.Pane) {
					r := focusedRow(a)
					here := caution.At(a.session.Doc.Build, r.Field, r.Index)
					for _, said := range []string{"", "Said.", strings.Repeat("Said at length. ", 8)} {
						a.notice.Say(said)
						screen := a.Plain()
						require.LessOrEqual(t, strings.Count(screen, "⚠"), 1)
						if contains(screen, "⚠") {
							require.NotEmpty(t, here, r.Field.Path)
							require.Contains(t, uitest.Squeezed(screen), uitest.Squeezed("⚠ "+here[0].Line()), "%s at %v below %q", r.Field.Path, size, said)
							shown++
						} else if said == "" {
							require.Empty(t, here, "%s at %v", r.Field.Path, size)
						}
						framed(t, a)
					}
					press(a, "down")
				}
				press(a, "tab")
			}
		}
	}
	assert.Greater(t, shown, 100)
	a := open(exampleText(t, "reading-room"), 80, 24)
	for _, path := range []string{"title", "hand.hours.name", "hand.hours.shows", "hand.hours.noon", "hand.hours.correct"} {
		focusOn(t, a, path)
		assert.NotContains(t, a.Plain(), "⚠", path)
	}
}

// The room that help leaves says what to do next: mend what cannot be read, then what was
// found, measure what was assumed, and look at what came of it. What is said of a key
// leaves the help of the field in view.
func TestHelpSaysWhatIsNext(t *testing.T) {
	at := func(text, path string) *App {
		a := open(text, 80, 24)
		focusOn(t, a, path)
		return a
	}
	a := at(exampleText(t, "reading-room"), "title")
	assert.Contains(t, uitest.Squeezed(a.Plain()), uitest.Squeezed("Next: ctrl+g leads to the worst finding and what mends it. "+a.session.Report.Findings[0].Advice))
	a = at(exampleText(t, "school-store"), "title")
	assert.Contains(t, a.Plain(), "Next: ctrl+g leads to the worst finding and what mends it.")
	a = at(soundBuild(t), "title")
	assert.Contains(t, uitest.Squeezed(a.Plain()), uitest.Squeezed("Next: ctrl+s saves it"))
	focusOn(t, a, "hand.hours.meter.coil")
	press(a, "ctrl+u", "x")
	focusOn(t, a, "title")
	assert.Contains(t, a.Plain(), "Next: mend Coil; ctrl+g goes there.")

	a = at(strings.Replace(soundBuild(t), `class = "2.5 %"`, `class = "2.5 %" # assumed`, 1), "title")
	assert.Contains(t, a.Plain(), "Next: measure what is assumed, marked ?: Accuracy class.")

	a = at(exampleText(t, "reading-room"), "hand.hours.meter.coil")
	press(a, "ctrl+z")
	help := strings.Join(splitLines(a.Plain())[19:23], "\n")
	assert.Regexp(t, `(?s)^ Nothing left to undo\..* Of the moving coil.* ⚠ Never an ohmmeter`, help)
	press(a, "ctrl+u", "700", "ctrl+q")
	assert.NotContains(t, a.Plain(), "Of the moving coil", "a question stands alone")
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
		here := caution.At(a.session.Doc.Build, focusedRow(a).Field, 0)
		require.NotEmpty(t, here)
		for _, p := range a.form.HelpParts(focusedRow(a), false, false) {
			if p.Text == "⚠ "+here[0].Line() {
				p.Text = "⚠ " + here[0].Text // there is all of it
			}
			assert.Contains(t, read, uitest.Squeezed(p.Text), size)
		}
		help, first := strings.Index(read, uitest.Squeezed(a.form.WhatItIs(focusedRow(a)))), strings.Index(read, "⚠")
		require.Positive(t, help)
		assert.Less(t, help, strings.Index(read, "Measure:"), "first what it is")
		assert.Less(t, strings.Index(read, "Measure:"), first, "then the cautions")
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
		assert.Contains(t, foot, "any other key closes it", opens)
		assert.Regexp(t, "(?i)any (other )?key closes", strings.Join(splitLines(a.Plain())[:23], "\n"), "in the same words")
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
