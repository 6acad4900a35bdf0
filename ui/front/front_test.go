package front

import (
	"fmt"
	"strings"
	"testing"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/ui/cells"
	"example.com/needlewright/ui/draw"
	"example.com/needlewright/ui/keys"
	"example.com/needlewright/ui/uitest"
)

// listed is a prompt with entries that do nothing but tell their name.
func listed(done *string, names ...string) *Prompt {
	p := &Prompt{Title: "Choose", Hint: "One of them."}
	for _, name := range names {
		p.Entries = append(p.Entries, Entry{Text: name, Do: func() tea.Cmd { *done = name; return nil }})
	}
	return p
}

// answer gives keys to the open prompt, and does what the last asks for.
func answer(f *Front, names ...string) (closed bool) {
	for _, name := range names {
		var do func() tea.Cmd
		if do, closed = f.Answer(uitest.Key(name), 36, 16); do != nil {
			do()
		}
	}
	return closed
}

// Typing narrows the list, those that begin with it first; enter does the chosen one.
func TestPromptWithAList(t *testing.T) {
	f, done := New(keys.New()), ""
	f.Ask(listed(&done, "Blue sand", "Sand", "Gravel"), "")
	e, ok := f.Chosen()
	require.True(t, ok)
	assert.Equal(t, "Blue sand", e.Text)
	assert.False(t, answer(f, "s", "a"))
	e, _ = f.Chosen()
	assert.Equal(t, "Sand", e.Text, "it begins so")
	assert.False(t, answer(f, "q"))
	assert.Contains(t, f.Prompt.Problem, "holds saq.", "before enter")
	assert.False(t, answer(f, "enter"))
	assert.Contains(t, f.Prompt.Problem, "holds saq.")
	_, ok = f.Chosen()
	assert.False(t, ok)
	assert.True(t, answer(f, "backspace", "down", "down", "enter"))
	assert.Equal(t, "Blue sand", done)
	assert.Equal(t, Editing, f.Mode)
	_, ok = f.Chosen()
	assert.False(t, ok, "nothing is open")

	f.Ask(listed(&done, "Sand"), "")
	done = ""
	assert.True(t, answer(f, "esc"))
	assert.Empty(t, done)
}

// A list that is longer than its window says at which end more follows.
func TestPromptSaysThatMoreFollows(t *testing.T) {
	f, done := New(keys.New()), ""
	var names []string
	for i := range 20 {
		names = append(names, fmt.Sprintf("entry %02d", i))
	}
	f.Ask(listed(&done, names...), "")
	ends := func() string {
		return strings.Join(uitest.Screen(30, 12, func(at cells.Area) { f.Prompt.Draw(at) }), "\n")
	}
	assert.Contains(t, ends(), "↓│")
	assert.NotContains(t, ends(), "↑│")
	answer(f, "pgdown")
	assert.Contains(t, ends(), "↓│")
	assert.Contains(t, ends(), "↑│")
	answer(f, "end", "pgdown", "pgdown")
	assert.NotContains(t, ends(), "↓│")
	assert.Contains(t, ends(), "↑│")
	answer(f, "entry 1")
	assert.NotContains(t, ends(), "↑│", "ten are left, from the first on")
}

// In a short list, which nothing narrows, a letter leads to what begins with it.
func TestLetterInAShortList(t *testing.T) {
	f, done := New(keys.New()), ""
	p := listed(&done, "Sand", "Gravel", "Silt")
	p.Fixed = true
	f.Ask(p, "")
	for _, want := range [][2]string{{"g", "Gravel"}, {"S", "Silt"}, {"s", "Sand"}} {
		answer(f, want[0])
		e, _ := f.Chosen()
		assert.Equal(t, want[1], e.Text)
		assert.Empty(t, f.Prompt.Problem)
	}
	answer(f, "x")
	assert.Contains(t, f.Prompt.Problem, "Nothing begins with x")
	answer(f, "down")
	assert.True(t, answer(f, "enter"))
	assert.Equal(t, "Gravel", done)
}

// What is not accepted keeps the prompt open with its reason.
func TestPromptForAText(t *testing.T) {
	f, taken := New(keys.New()), ""
	f.Ask(&Prompt{Title: "Name", Accept: func(text string) (string, func() tea.Cmd) {
		if text == "no" {
			return "Not that.", nil
		}
		return "", func() tea.Cmd { taken = text; return nil }
	}}, "as it was")
	assert.Equal(t, "as it was", f.Prompt.Typed())
	assert.False(t, answer(f, "n", "o", "enter"))
	assert.Equal(t, "no", f.Prompt.Typed(), "the first letter takes its place")
	assert.Contains(t, strings.Join(uitest.Screen(40, 10, func(at cells.Area) { f.Prompt.Draw(at) }), "\n"), "Not that.")
	assert.True(t, answer(f, "t", "enter"))
	assert.Equal(t, "not", taken)
}

// One of them is open at a time: what opens takes the place of what was open.
func TestOneAtATime(t *testing.T) {
	f, done := New(keys.New()), ""
	f.Open(Page{Title: "Page"})
	f.Confirm(key.NewBinding(key.WithKeys("x")), func() tea.Cmd { done = "confirmed"; return nil })
	assert.Equal(t, Confirming, f.Mode)
	q := f.Close()
	q.Then()
	assert.Equal(t, "confirmed", done)
	assert.Equal(t, Editing, f.Mode, "the page is gone")
	f.ListKeys(f.keys.All())
	f.Ask(listed(&done, "Sand"), "")
	assert.Equal(t, Asking, f.Mode)
	assert.True(t, answer(f, "enter"))
	assert.Equal(t, Editing, f.Mode, "the list of keys is gone")
}

// A page goes to its end and no further, and another key closes it.
func TestPage(t *testing.T) {
	f := New(keys.New())
	var p Page
	for i := range 30 {
		p.Add(draw.Value, fmt.Sprintf("line %02d", i))
	}
	f.Open(p)
	screen := func() string { return strings.Join(uitest.Screen(30, 12, f.DrawPage), "\n") }
	assert.Contains(t, screen(), "line 00")
	seen := map[string]bool{}
	for range 10 {
		for _, row := range strings.Split(screen(), "\n") {
			seen[strings.Trim(row, "│ ")] = true
		}
		f.Turn(uitest.Key("pgdown"), 26, 10)
	}
	for i := range 30 {
		assert.True(t, seen[fmt.Sprintf("line %02d", i)], i)
	}
	assert.Contains(t, screen(), "line 29")
	assert.NotContains(t, screen(), "line 00")
	f.Turn(uitest.Key("up"), 26, 10)
	assert.NotContains(t, screen(), "line 29")
	f.Turn(uitest.Key("home"), 26, 10)
	assert.Contains(t, screen(), "line 00")
	f.Turn(uitest.Key("end"), 26, 10)
	assert.Contains(t, screen(), "line 29")
	f.Turn(uitest.Key("x"), 26, 10)
	assert.Equal(t, Editing, f.Mode)
}

// A prompt for a text may have other answers below its line: typing does not narrow them,
// and what was typed stays while one of them is chosen. Esc goes back with what stands there.
func TestPromptForATextOrAnEntry(t *testing.T) {
	f, done := New(keys.New()), ""
	ask := func() {
		p := listed(&done, "Not known")
		p.Accept = func(text string) (string, func() tea.Cmd) {
			if text == "" {
				return "Type something.", nil
			}
			return "", func() tea.Cmd { done = "typed " + text; return nil }
		}
		p.Back = func(typed string) tea.Cmd { done = "back with " + typed; return nil }
		p.Danger, p.More = "It bites.", "And more."
		f.Ask(p, "")
	}
	below := func() string {
		return strings.Join(uitest.Screen(40, 3, func(at cells.Area) { f.Prompt.DrawMore(at) }), "\n")
	}
	ask()
	_, ok := f.Chosen()
	assert.False(t, ok, "the line is")
	assert.Contains(t, below(), "⚠ It bites.")
	assert.Contains(t, below(), "And more.")
	assert.False(t, answer(f, "enter"))
	assert.Contains(t, f.Prompt.Problem, "Type something.")
	assert.False(t, answer(f, "5", "0", "down", "down"))
	e, ok := f.Chosen()
	require.True(t, ok)
	assert.Equal(t, "Not known", e.Text)
	assert.NotContains(t, below(), "It bites.", "of the line")
	drawn := strings.Join(uitest.Screen(40, 10, func(at cells.Area) { f.Prompt.Draw(at) }), "\n")
	assert.Contains(t, drawn, "50")
	assert.False(t, answer(f, "up", "up"))
	assert.True(t, answer(f, "enter"))
	assert.Equal(t, "typed 50", done)
	ask()
	assert.True(t, answer(f, "down", "enter"))
	assert.Equal(t, "Not known", done)
	ask()
	assert.True(t, answer(f, "4", "esc"))
	assert.Equal(t, "back with 4", done)
}

// A page or the list of keys that is opened over a prompt gives the keys back to it.
func TestPageOverAPrompt(t *testing.T) {
	f, done := New(keys.New()), ""
	f.Ask(&Prompt{Title: "Name", Accept: func(text string) (string, func() tea.Cmd) {
		return "", func() tea.Cmd { done = text; return nil }
	}}, "")
	answer(f, "a")
	f.Open(Page{Title: "Page"})
	f.Turn(uitest.Key("x"), 26, 10)
	assert.Equal(t, Asking, f.Mode)
	f.ListKeys(f.keys.All())
	f.Turn(uitest.Key("esc"), 26, 10)
	assert.Equal(t, Asking, f.Mode)
	assert.True(t, answer(f, "b", "enter"))
	assert.Equal(t, "ab", done)
	f.ListKeys(f.keys.All())
	f.Turn(uitest.Key("esc"), 26, 10)
	assert.Equal(t, Editing, f.Mode, "there is no prompt any more")
}
