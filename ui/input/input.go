// Package input is the line in which a person types.
package input

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"example.com/needlewright/model/quantity"
	"example.com/needlewright/ui/cells"
	"example.com/needlewright/ui/draw"
)

// An Line is the line in which a person types, of the focused field or of a
// prompt. It takes nothing but text, and no more of it than there is room for.
type Line struct {
	line   textinput.Model
	text   string // what stands in it
	length int    // of it, in characters
	most   int    // it takes
}

// New returns an empty line.
func New() Line {
	in := Line{line: textinput.New()}
	in.line.Cursor.SetMode(draw.CursorMode)
	in.line.Focus()
	for _, unused := range []*key.Binding{ // it suggests nothing, and the terminal pastes
		&in.line.KeyMap.AcceptSuggestion, &in.line.KeyMap.NextSuggestion, &in.line.KeyMap.PrevSuggestion, &in.line.KeyMap.Paste,
	} {
		unused.Unbind()
	}
	return in
}

// Value is what stands in the line.
func (in *Line) Value() string { return in.text }

// Position is how many characters stand before the cursor.
func (in *Line) Position() int { return in.line.Position() }

// parts are what stands before the cursor and from it on.
func (in *Line) parts() (before, behind string) {
	at := len(in.text)
	for range in.length - in.Position() {
		_, size := utf8.DecodeLastRuneInString(in.text[:at])
		at -= size
	}
	return in.text[:at], in.text[at:]
}

// Fill puts a text into the line, which takes at most so many characters, and
// the cursor behind it. A longer one stays whole, but nothing is added to it.
func (in *Line) Fill(text string, most int) {
	in.most = most
	in.line.SetValue(text)
	in.line.CursorEnd()
	in.note()
}

// Amend puts a text into the line and leaves the cursor where it is, so that typing
// goes on there.
func (in *Line) Amend(text string) {
	at := in.line.Position()
	in.line.SetValue(text)
	in.line.SetCursor(at)
	in.note()
}

// note notes what stands in the line.
func (in *Line) note() {
	in.text = in.line.Value()
	in.length = utf8.RuneCountInString(in.text)
}

// Press gives a key to the line. It says what of it was not taken, and why.
func (in *Line) Press(msg tea.KeyMsg) (changed bool, says string) {
	if msg.Type == tea.KeyRunes && !bound(msg, in.line.KeyMap) {
		if msg.Runes, says = onlyText(msg.Runes); len(msg.Runes) > in.most-in.length {
			return false, in.noRoom(len(msg.Runes))
		}
	}
	if key.Matches(msg, in.line.KeyMap.DeleteWordForward) && in.Position() == in.length-1 {
		msg = tea.KeyMsg{Type: tea.KeyDelete} // the word's last letter: textinput itself would look past its end
	}
	before := in.text
	in.line, _ = in.line.Update(msg)
	in.note()
	return in.text != before, says
}

// Empties says whether a key empties the line.
func (in *Line) Empties(msg tea.KeyMsg) bool {
	return key.Matches(msg, in.line.KeyMap.DeleteBeforeCursor)
}

// noRoom says that so many characters are too many.
func (in *Line) noRoom(given int) string {
	text := fmt.Sprintf("At most %s characters fit here", quantity.Grouped(in.most))
	if in.length > 0 {
		text += fmt.Sprintf(", and %s stand here", quantity.Grouped(in.length))
	}
	if given == 1 {
		return text + ": delete some before you type more."
	}
	return text + fmt.Sprintf("; %s were given. Nothing was put in: paste less.", counted(given))
}

// counted is a number of pasted characters. The keyboard's reader leaves out the
// rest of a very long paste.
func counted(n int) string {
	const most = 10_000
	if n > most {
		return "over " + quantity.Grouped(most)
	}
	return quantity.Grouped(n)
}

// bound says whether a key moves in the line or deletes from it.
func bound(msg tea.KeyMsg, k textinput.KeyMap) bool {
	return key.Matches(msg, k.CharacterForward, k.CharacterBackward, k.WordForward, k.WordBackward,
		k.DeleteWordBackward, k.DeleteWordForward, k.DeleteAfterCursor, k.DeleteBeforeCursor,
		k.DeleteCharacterBackward, k.DeleteCharacterForward, k.LineStart, k.LineEnd)
}

// AsTyped is a key as it is meant: several letters that come at once, which are
// typed fast or pasted, are text, though they spell the name of a key.
func AsTyped(msg tea.KeyMsg) tea.KeyMsg {
	if msg.Type == tea.KeyRunes && len(msg.Runes) != 1 {
		msg.Paste = true // Bubble Tea then gives it no key's name
	}
	return msg
}

// onlyText is what of the runes can stand in one line: line ends and tabs as
// blanks, but none at the ends, and nothing that commands a terminal, turns the
// direction or is not seen. It says how much was left out.
func onlyText(given []rune) (text []rune, says string) {
	line := strings.Trim(strings.ReplaceAll(string(given), "\r\n", "\n"), "\r\n")
	out := 0
	if strings.ContainsRune(line, ansi.ESC) { // with all that belongs to its commands
		out = utf8.RuneCountInString(line)
		line = ansi.Strip(line)
		out -= utf8.RuneCountInString(line)
	}
	text = make([]rune, 0, len(line))
	for _, r := range line {
		switch {
		case unicode.IsSpace(r) && !unicode.Is(unicode.Zs, r): // line ends and tabs
			text = append(text, ' ')
		case cells.IsText(r) && r != utf8.RuneError:
			text = append(text, r)
		default:
			out++
		}
	}
	return text, leftOut(out)
}

// leftOut says that so many characters were not taken.
func leftOut(n int) string {
	switch n {
	case 0:
		return ""
	case 1:
		return "1 character was left out: it is no text."
	}
	return quantity.Grouped(n) + " characters were left out: they are no text."
}

// Draw draws the text being typed, with its cursor always in view, or what is assumed
// where there is none, and returns the columns it took. A long text that is untouched
// begins at its head.
func (in *Line) Draw(at cells.Area, assumed string, untouched bool) int {
	w, _ := at.Size()
	text := in.text
	if text == "" {
		at.Text(0, 0, draw.FocusDim, assumed)
		first, _ := utf8.DecodeRuneInString(assumed + " ")
		at.Text(0, 0, draw.CursorCell, string(first))
		return w
	}
	before, behind := in.parts()
	if untouched && behind == "" && !cells.Fits(text, w-1) {
		at.Text(0, 0, draw.FocusValue, text)
		at.Text(w-1, 0, draw.CursorCell, "…")
		return w
	}
	if !cells.Fits(before, w-1) {
		before = "…" + cells.Tail(before, w-2)
	}
	x := at.Text(0, 0, draw.FocusValue, before)
	if behind == "" {
		return x + at.Text(x, 0, draw.CursorCell, " ")
	}
	_, size := utf8.DecodeRuneInString(behind)
	x += at.Text(x, 0, draw.CursorCell, behind[:size])
	return x + at.Text(x, 0, draw.FocusValue, behind[size:])
}
