package survey

import (
	"slices"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/ui/cells"
	"example.com/needlewright/ui/keys"
)

// Press gives a key to the page.
func (v *Survey) Press(msg tea.KeyMsg) tea.Cmd {
	switch {
	case key.Matches(msg, v.keys.Revert, v.keys.Unknown):
		v.Close()
	case key.Matches(msg, v.keys.Accept):
		return v.accept()
	case key.Matches(msg, v.keys.Skip):
		v.skip()
	case key.Matches(msg, v.keys.AnswerBefore):
		v.back()
	case key.Matches(msg, v.keys.Up):
		v.Move(-1)
	case key.Matches(msg, v.keys.Down):
		v.Move(1)
	case v.hasLine():
		v.typed(msg)
	case msg.Type == tea.KeyRunes, msg.Type == tea.KeySpace:
		v.seek(string(msg.Runes))
	case key.Matches(msg, v.keys.Deletes()...):
		v.sought, v.problem = "", ""
	}
	return nil
}

// hasLine says whether an answer may be typed.
func (v *Survey) hasLine() bool {
	return v.ask != nil && v.ask.Choices == nil && !words[v.ask.Kind].fixed
}

// Move chooses the option above or below; above the first the line is, where there is one.
func (v *Survey) Move(by int) {
	v.sought, v.problem = "", ""
	first := 0
	if v.hasLine() {
		first = noOption
	}
	v.chosen = max(first, min(v.chosen+by, len(v.options())-1))
}

// accept takes what is chosen, or what is typed.
func (v *Survey) accept() tea.Cmd {
	switch {
	case v.chosen == noOption && v.hasLine():
		v.take(v.meant(v.line.Value()))
		return nil
	case v.chosen == noOption:
		v.problem = "Nothing is chosen yet: " + keys.First(v.keys.Up) + keys.First(v.keys.Down) + " choose."
		return nil
	}
	options := v.options()
	if do := options[v.chosen].do; do != nil {
		return do()
	}
	v.take(options[v.chosen].value)
	return nil
}

// meant is a typed answer as the dialogue has it: its own words in any letters.
func (v *Survey) meant(typed string) string {
	typed = strings.TrimSpace(typed)
	for _, o := range v.options() {
		if strings.EqualFold(typed, o.value) {
			return o.value
		}
	}
	return typed
}

// skip goes on without an answer. What is typed is not lost by it.
func (v *Survey) skip() {
	switch {
	case v.ask == nil:
		v.problem = "Nothing is asked any more: there is nothing to skip."
	case v.hasLine() && strings.TrimSpace(v.line.Value()) != "":
		v.problem = "Something is typed: " + v.keys.Accept.Help().Key + " takes it; " + v.keys.Empty.Help().Key + " empties the line, then " + v.keys.Skip.Help().Key + " skips the question."
	default:
		v.take(skip)
	}
}

// typed gives a key to the line, which then is chosen.
func (v *Survey) typed(msg tea.KeyMsg) {
	changed, says := v.line.Press(msg)
	if changed {
		v.chosen, v.problem = noOption, ""
	}
	if says != "" {
		v.problem = says
	}
}

// seek chooses the next option that begins with what is typed: letters that follow each
// other are a word, as long as one begins with them.
func (v *Survey) seek(typed string) {
	v.problem = ""
	for _, sought := range []string{v.sought + typed, typed} {
		if i := v.beginning(strings.ToLower(strings.TrimSpace(sought)), len([]rune(sought)) > 1); i >= 0 {
			v.chosen, v.sought = i, sought
			return
		}
	}
	if len(v.options()) > 0 {
		const named = 20 // columns of it
		v.sought, v.problem = "", "None begins with “"+cells.Cut(strings.TrimSpace(typed), named)+"”: "+keys.First(v.keys.Up)+keys.First(v.keys.Down)+" choose, "+v.keys.Accept.Help().Key+" takes it."
	}
}

// beginning is the option that begins with a text: of a word the present one first, by a
// letter the next; -1: none does.
func (v *Survey) beginning(sought string, word bool) int {
	options := v.options()
	from := v.chosen + 1
	if word {
		from = max(0, v.chosen)
	}
	for k := range options {
		i := (from + k) % len(options)
		if o := &options[i]; slices.ContainsFunc([]string{o.text, o.hint}, func(s string) bool {
			return sought != "" && strings.HasPrefix(strings.ToLower(s), sought)
		}) {
			return i
		}
	}
	return -1
}
