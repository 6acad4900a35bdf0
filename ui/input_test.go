package ui

import (
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/file"
	"example.com/needlewright/ui/front"
	"example.com/needlewright/ui/keys"
	"example.com/needlewright/ui/uitest"
)

// lineKeys are the names of all keys that textinput knows.
func lineKeys() []string {
	var names []string
	bindings := reflect.ValueOf(textinput.DefaultKeyMap)
	for i := range bindings.NumField() {
		b := bindings.Field(i).Interface().(key.Binding)
		names = append(names, b.Keys()...)
	}
	return names
}

// allKeys are these and all of the dashboard's own.
func allKeys() []string {
	names := append(lineKeys(), "enter", "esc", " ")
	k := keys.New()
	for _, b := range k.All() {
		names = append(names, b.Keys()...)
	}
	return names
}

// within fails a test that hangs.
func within(t *testing.T, patience time.Duration, do func()) {
	t.Helper()
	done := make(chan struct{})
	go func() {
		defer close(done)
		do()
	}()
	select {
	case <-done:
	case <-time.After(patience):
		require.FailNow(t, "it hangs")
	}
}

// lines are texts with words and blanks at either end, wide characters and such of
// several code points.
var lines = []string{"", "5", " ", "640 Ω", "  a", "a  ", "a b  c", "日本 日", "e\u0301", "a\u0301\u0302\u0303\u0304\u0305", "😀😀", "한국"}

// Every key of the line is taken with the cursor anywhere in any text, in a field
// and in each kind of prompt.
func TestEveryKeyOfTheLine(t *testing.T) {
	t.Parallel()
	a := open("format = 1\n[[hand]]\nname = \"hours\"\n", 80, 24) // without results: they take their time
	for _, opened := range [][]string{nil, {"f2"}, {"ctrl+f"}, {"ctrl+s"}, {"f6"}, {"f2", "New build", "enter", "enter"}, {"f2", "Rename the hand", "enter"}} {
		for _, line := range lines {
			for _, name := range lineKeys() {
				for back := range len([]rune(line)) + 1 {
					for a.front.Mode != front.Editing {
						press(a, "esc")
					}
					press(a, "esc")
					focusOn(t, a, "title")
					press(a, opened...)
					a.Update(uitest.Pressed("ctrl+u"))
					a.Update(uitest.Pasted(line))
					for range back {
						a.Update(uitest.Pressed("left"))
					}
					require.NotPanics(t, func() { a.Update(uitest.Pressed(name)); a.View() }, "%v %q, %d back, %s", opened, line, back, name)
				}
			}
		}
	}
}

// derived: from the cursor to the end of its word goes, at the word's last letter
// that letter, at the end nothing.
func TestDeleteWordForward(t *testing.T) {
	for _, name := range []string{"alt+d", "alt+delete"} {
		for _, c := range []struct {
			back int
			left string
		}{{0, "one two"}, {1, "one tw"}, {2, "one t"}, {3, "one "}, {4, "one"}, {7, " two"}} {
			a := open(exampleText(t, "reading-room"), 80, 24)
			focusOn(t, a, "title")
			press(a, "ctrl+u", "one", " ", "two")
			for range c.back {
				press(a, "left")
			}
			a.Update(uitest.Pressed(name))
			assert.Equal(t, c.left, typedIn(a), "%s, %d back", name, c.back)
			assert.Contains(t, a.Text(), `title = "`+c.left+`"`)
		}
	}
}

// A word that is typed fast, or pasted, is text, though a key is called so.
func TestWordsAreText(t *testing.T) {
	for _, word := range allKeys() {
		if len(word) == 1 {
			continue
		}
		for _, paste := range []bool{false, true} {
			msg := tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(word), Paste: paste}
			a := open(exampleText(t, "reading-room"), 80, 24)
			focusOn(t, a, "title")
			press(a, "ctrl+u")
			a.Update(msg)
			assert.Equal(t, front.Editing, a.front.Mode, word)
			assert.Contains(t, a.Text(), `title = "`+word+`"`)

			a.Update(uitest.Pressed("f2")) // a prompt
			a.Update(msg)
			assert.Equal(t, front.Asking, a.front.Mode, word)
			assert.Equal(t, word, typedIn(a))
			a.Update(uitest.Pressed("esc"))

			for _, page := range []string{"f1", "f5"} { // any other key closes it
				a.Update(uitest.Pressed(page))
				a.Update(msg)
				assert.Equal(t, front.Editing, a.front.Mode, "%s at %s", word, page)
			}

			a.Update(uitest.Pressed("ctrl+q")) // a question
			require.Equal(t, front.Confirming, a.front.Mode)
			_, cmd := a.Update(msg)
			assert.Equal(t, front.Editing, a.front.Mode, word)
			assert.False(t, quits(cmd), word)
			assert.False(t, a.files.waiting, "%s does not save", word)
		}
	}
}

// What is too long is refused with a sentence, at once, and what stood there
// stands.
func TestTooLongIsRefused(t *testing.T) {
	t.Parallel()
	within(t, time.Minute, func() {
		for _, n := range []int{201, 16_000, megabyte} {
			a := open(exampleText(t, "reading-room"), 80, 24)
			before := a.Text()
			for path, instead := range map[string]string{
				"title": "paste less.", "hand.hours.meter.coil": "a number, such as 4.7 kΩ or 4k7, is asked for.", "hand.hours.meter.table": "paste less.",
			} {
				focusOn(t, a, path)
				a.Update(uitest.Pasted(strings.Repeat("x", n)))
				a.Update(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(strings.Repeat("y", n))}) // no bracketed paste
				screen := strings.Join(strings.Fields(a.Plain()), " ")
				assert.Contains(t, screen, "At most ", path)
				assert.Contains(t, screen, "were given. Nothing was put in: "+instead, path)
				assert.Equal(t, before, a.Text(), path)
			}
			for _, keys := range [][]string{{"f2"}, {"ctrl+f"}, {"f2", "New build", "enter", "enter"}, {"f2", "Rename the hand", "enter"}} {
				a := open(exampleText(t, "reading-room"), 80, 24)
				press(a, keys...)
				a.Update(uitest.Pasted("abc"))
				a.Update(uitest.Pasted(strings.Repeat("x", n)))
				assert.Contains(t, strings.Join(strings.Fields(a.Plain()), " "), "At most", keys)
				assert.Equal(t, "abc", typedIn(a), keys)
			}
		}
	})
	a := open(exampleText(t, "reading-room"), 80, 24)
	press(a, "f2", "New build", "enter")
	press(a, newMeter("500 uA", "640")...)
	require.Equal(t, "5 V ±1 %", typedIn(a), "that the next letter replaces")
	a.Update(uitest.Pasted(strings.Repeat("x", 300)))
	assert.Equal(t, "5 V ±1 %", typedIn(a), "but not a text that is too long")
	press(a, "6")
	assert.Equal(t, "6", typedIn(a))
}

// A field takes as much as it says and no more, a path more than a title.
func TestLongest(t *testing.T) {
	a := open(exampleText(t, "harbour-office"), 80, 24)
	for path, most := range map[string]int{"title": 200, "hand.hours.meter.coil": 60} {
		focusOn(t, a, path)
		press(a, "ctrl+u")
		for range most {
			a.Update(uitest.Key("5"))
		}
		assert.Len(t, typedIn(a), most, path)
		assert.Empty(t, a.notice.Text, path)
		press(a, "5")
		assert.Len(t, typedIn(a), most, path)
		assert.Contains(t, a.notice.Text, "delete some", path)
		press(a, "backspace", "6")
		assert.True(t, strings.HasSuffix(typedIn(a), "56"), path)
	}
	press(a, "ctrl+z", "ctrl+z", "ctrl+s", "ctrl+u")
	a.Update(uitest.Pasted(strings.Repeat("d/", front.LongestPath/2)))
	assert.Len(t, typedIn(a), front.LongestPath)
	a.Update(uitest.Pasted("d"))
	assert.Len(t, typedIn(a), front.LongestPath)
	assert.Contains(t, a.front.Prompt.Problem, "At most")
}

// A value is one line of text, whatever is pasted.
func TestOnlyText(t *testing.T) {
	for given, want := range map[string]string{
		"two\nlines":                  "two lines",
		"\r\nhall\r\n":                "hall",
		"a\tb\r\nc\u2028d":            "a b c d",
		"\x1b[31mred\x1b[0m":          "red",
		"\x1b]0;title\x07640":         "640",
		"a\x00\x07\x7f\u0085b":        "a b",
		"\u202egnp.\u2066x\u200f":     "gnp.x",
		"zero\u200bwidth\ufeff\u00ad": "zerowidth",
		"\ufdd0\ufffe\ue000x":         "x",
		"4.7\u00a0kΩ":                 "4.7\u00a0kΩ",
		"e\u0301":                     "e\u0301",
	} {
		for _, prompt := range []string{"", "f2"} {
			a := open(exampleText(t, "reading-room"), 80, 24)
			focusOn(t, a, "title")
			press(a, "ctrl+u")
			if prompt != "" {
				press(a, prompt)
			}
			a.Update(uitest.Pasted(given))
			assert.Equal(t, want, typedIn(a), "%q", given)
			if prompt == "" {
				assert.Contains(t, a.Text(), `title = "`+want+`"`, "%q", given)
			}
			framed(t, a)
		}
	}
	a := open(exampleText(t, "reading-room"), 80, 24)
	a.Update(uitest.Pasted("\u200b"))
	assert.Contains(t, a.Plain(), "1 character was left out")
	a.Update(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{'\u202e'}}) // typed
	assert.False(t, a.Unsaved())
}

// A value of a megabyte in a file opens, stands clipped with its problem, is not
// edited but replaced, and is saved as it was.
func TestLongValueOfAFile(t *testing.T) {
	long := strings.Repeat("x", megabyte)
	for path, kind := range map[string]string{
		"title": "text", "hand.hours.meter.coil": "number", "hand.hours.drive.top": "count", "hand.hours.shows": "choice",
		"hand.hours.meter.table": "table", "hand.hours.name": "name",
	} {
		within(t, time.Minute, func() {
			text, problem := model.Set(exampleText(t, "harbour-office"), path, long)
			require.Nil(t, problem)
			a := open(text, 80, 24)
			framed(t, a)
			f, _, ok := a.session.Doc.Find(strings.Replace(path, "hand.hours", "hand."+a.session.Doc.Build.Hands[0].Name, 1))
			require.True(t, ok, path)
			a.form.GoToValue(f, 0)
			require.Equal(t, f, focusedRow(a).Field)
			screen := uitest.Squeezed(a.Plain())
			assert.Contains(t, screen, "1048576charactersaretoo", "%s, a %s", path, kind)
			assert.Equal(t, text, a.Text(), path)
			if f.Choices == nil {
				for _, k := range []string{"5", "backspace", "alt+d", "delete", "left", "ctrl+k", "ctrl+w", "home", "end"} {
					a.Update(uitest.Pressed(k))
					require.True(t, text == a.Text(), "%s at %s", k, path)
				}
				assert.Contains(t, a.notice.Text, "ctrl+u empties it")
			}
			a.form.GoToField("rail.voltage")
			press(a, "ctrl+u", "4", " ", "V")                             // another field
			other, problem := model.Set(text, "rail.voltage", "4 V ±1 %") // the ± is kept
			require.Nil(t, problem)
			require.True(t, other == a.Text(), path)
			press(a, "ctrl+z")
			require.True(t, text == a.Text(), path)

			a.form.GoToValue(f, 0)
			if f.Choices == nil {
				press(a, "ctrl+u")
				assert.Zero(t, a.session.Doc.TooLong(f, 0))
				assert.Less(t, len(a.Text()), 100_000)
			} else {
				press(a, "right")
			}
			press(a, "ctrl+z")
			require.True(t, text == a.Text(), path)
		})
	}
}

// What is saved, kept and taken up again is the whole text.
func TestLongValueIsSaved(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "long.toml")
	text := withTitle(t, strings.Repeat("x", megabyte))
	require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
	_, stamp, err := file.ReadFile(path)
	require.NoError(t, err)
	a := New(Options{Path: path, Text: text, Stamp: stamp, RecoveryFolder: filepath.Join(folder, "kept")})
	a.Update(windowSize(80, 24))
	assert.False(t, a.Unsaved())
	focusOn(t, a, "hand.hours.meter.coil")
	press(a, "ctrl+u", "6500 Ω ±1 %")
	want := strings.Replace(text, `"640 Ω ±1 %"`, `"6500 Ω ±1 %"`, 1)
	require.NotEqual(t, len(text), len(want))
	drain(a, a.session.WriteCopy())
	found, err := file.RecoveryFor(filepath.Join(folder, "kept"), path).Offer(text)
	require.NoError(t, err)
	if len(found) > 0 { // this process's own is offered to none
		assert.True(t, want == found[0].Text)
	}
	kept, err := a.Rescue()
	require.NoError(t, err)
	assert.True(t, kept)
	drain(a, press(a, "ctrl+s"))
	saved, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.True(t, want == string(saved))
	assert.False(t, a.Unsaved())

	b := open(exampleText(t, "reading-room"), 80, 24)
	b.files.takeUp(file.Copy{Text: want})
	assert.True(t, want == b.Text())
	press(b, "ctrl+z")
	assert.Equal(t, exampleText(t, "reading-room"), b.Text())
	press(b, "ctrl+y")
	assert.True(t, want == b.Text())
}

// A table takes a stated number of pairs and characters; what is more is refused,
// and what stood there stands.
func TestTableLimits(t *testing.T) {
	table := func(pair string, n int) *App {
		rows := strings.TrimSuffix(strings.Repeat(pair+", ", n), ", ")
		text, problem := model.Set(exampleText(t, "harbour-office"), "hand.hours.meter.table", "["+rows+"]")
		require.Nil(t, problem)
		a := open(text, 80, 24)
		focusOn(t, a, "hand.hours.meter.table")
		press(a, "down")
		return a
	}
	rows := func(a *App) (n int) {
		for _, r := range a.form.Rows(a.form.Pane) {
			if r.Cell >= 0 {
				n++
			}
		}
		return n
	}
	assert.Equal(t, 100, rows(table(`["1 %", "2 %"]`, 99)), "one more")
	assert.Equal(t, 100, rows(table(`["1 %", "2 %"]`, 100)), "no more")
	assert.Equal(t, 102, rows(table(`["1 %", "2 %"]`, 102)), "as the file has them")

	a := table(`["1 %", "`+strings.Repeat("5", 49)+`"]`, 322) // derived: 322 x 62 = 19 964 characters
	require.Equal(t, 0, a.session.Doc.TooLong(focusedRow(a).Field, 0))
	press(a, "end", strings.Repeat("6", 36)) // to 20 000
	assert.Empty(t, a.notice.Text)
	before := a.Text()
	press(a, "7")
	assert.Contains(t, a.notice.Text, "20 000")
	assert.Equal(t, before, a.Text())
	assert.Equal(t, "1 % : "+strings.Repeat("5", 49)+strings.Repeat("6", 36), typedIn(a))
}
