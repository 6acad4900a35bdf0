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
	"example.com/needlewright/ui/keys"
)

// A Line is the line in which a person types, of the focused field or of a
// prompt. It takes nothing but text, and no more of it than there is room for.
// What it is filled with is marked: what is typed first takes its place, and a
// key that moves in it begins to edit it.
type Line struct {
	line   textinput.Model
	keys   *keys.Map
	text   string // what stands in it
	length int    // of it, in characters
	marked int    // characters at its end that go as a whole
	most   int    // it takes
	wants  string // what is asked for, "" where any text is
}

// New returns an empty line that goes by these keys.
func New(k *keys.Map) Line {
	in := Line{line: textinput.New(), keys: k}
	in.line.Cursor.SetMode(draw.CursorMode)
	in.line.Focus()
	in.line.KeyMap = textinput.KeyMap{ // it suggests nothing, and the terminal pastes
		CharacterBackward: k.Left, CharacterForward: k.Right, WordBackward: k.WordLeft, WordForward: k.WordRight,
		LineStart: k.Start, LineEnd: k.End, DeleteCharacterBackward: k.DeleteLeft, DeleteCharacterForward: k.DeleteRight,
		DeleteWordBackward: k.DeleteWord, DeleteWordForward: k.DeleteWordRight, DeleteAfterCursor: k.DeleteRest,
	}
	return in
}

// Value is what stands in the line.
func (in *Line) Value() string { return in.text }

// Position is how many characters stand before the cursor.
func (in *Line) Position() int { return in.line.Position() }

// parts are what stands before the cursor and from it on.
func (in *Line) parts() (before, behind string) { return in.cut(in.length - in.Position()) }

// halves are what stands before what is marked, and that.
func (in *Line) halves() (before, marked string) { return in.cut(in.marked) }

// cut cuts the text before its last n characters.
func (in *Line) cut(n int) (before, behind string) {
	at := len(in.text)
	for range n {
		_, size := utf8.DecodeLastRuneInString(in.text[:at])
		at -= size
	}
	return in.text[:at], in.text[at:]
}

// Fill puts a text into the line, which takes at most so many characters, and
// marks it. A longer one stays whole, but nothing is added to it.
func (in *Line) Fill(text string, most int) {
	in.most = most
	in.line.SetValue(text)
	in.line.CursorEnd()
	in.note()
	in.marked = in.length
}

// Wants has the line ask for this where too much is pasted: "a number, such as 85 %".
func (in *Line) Wants(what string) { in.wants = what }

// Mark marks no more than so many characters at the end of what the line was filled
// with; with 0 typing goes on behind it.
func (in *Line) Mark(n int) { in.marked = min(n, in.length) }

// Amend puts a text into the line and leaves the cursor where it is, so that typing
// goes on there.
func (in *Line) Amend(text string) {
	if in.marked > 0 {
		in.Fill(text, in.most)
		return
	}
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
	before := in.text
	switch {
	case in.Empties(msg):
		in.Fill("", in.most)
	case key.Matches(msg, in.keys.Deletes()...):
		in.deleteBy(msg)
	case key.Matches(msg, in.keys.Moves()...):
		in.moveBy(msg)
	case msg.Type == tea.KeyRunes || msg.Type == tea.KeySpace:
		says = in.typed(msg)
	}
	in.note()
	return in.text != before, says
}

// Empties says whether a key empties the line.
func (in *Line) Empties(msg tea.KeyMsg) bool { return key.Matches(msg, in.keys.Empty) }

// typed puts what is typed or pasted at the cursor, in the place of what is marked.
func (in *Line) typed(msg tea.KeyMsg) (says string) {
	msg.Runes, says = onlyText(msg.Runes)
	switch {
	case len(msg.Runes) == 0:
		return says
	case len(msg.Runes) > in.most-in.length+in.marked:
		return in.noRoom(len(msg.Runes))
	}
	in.deleteMarked()
	in.line, _ = in.line.Update(msg)
	return says
}

// deleteBy deletes what is marked, else what the key says.
func (in *Line) deleteBy(msg tea.KeyMsg) {
	if in.marked > 0 {
		in.deleteMarked()
		return
	}
	if key.Matches(msg, in.keys.DeleteWordRight) && in.Position() == in.length-1 {
		msg = tea.KeyMsg{Type: tea.KeyDelete} // the word's last letter: textinput itself would look past its end
	}
	in.line, _ = in.line.Update(msg)
}

// deleteMarked deletes what is marked.
func (in *Line) deleteMarked() {
	if in.marked > 0 {
		text := []rune(in.text)
		in.line.SetValue(string(text[:len(text)-in.marked]))
		in.line.CursorEnd()
		in.marked = 0
	}
}

// moveBy moves the cursor, which from what is marked goes to either end.
func (in *Line) moveBy(msg tea.KeyMsg) {
	if in.marked > 0 && key.Matches(msg, in.keys.Left) {
		in.line.SetCursor(in.length - in.marked)
	} else {
		in.line, _ = in.line.Update(msg)
	}
	in.marked = 0
}

// Point begins to edit the line at a column of the room of w columns in which it is
// drawn. Where that is not its beginning the cursor stays where it is.
func (in *Line) Point(column, w int) {
	head, _ := in.halves()
	if in.marked > 0 && column > cells.Width(head) {
		column-- // the sign before what is marked
	}
	if in.marked > 0 || cells.Fits(in.text, w-1) {
		in.line.SetCursor(utf8.RuneCountInString(cells.Head(in.text, column)))
	}
	in.marked = 0
}

// noRoom says that so many characters are too many.
func (in *Line) noRoom(given int) string {
	text := fmt.Sprintf("At most %s characters fit here", quantity.Grouped(in.most))
	if stand := in.length - in.marked; stand > 0 {
		text += fmt.Sprintf(", and %s stand here", quantity.Grouped(stand))
	}
	if given == 1 {
		return text + ": delete some before you type more."
	}
	text += fmt.Sprintf("; %s were given. Nothing was put in: ", counted(given))
	if in.wants != "" {
		return text + in.wants + ", is asked for."
	}
	return text + "paste less."
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
// where there is none, and returns the columns it took. What is marked stands between
// [ and ]. A text that cannot be edited begins at its head, however long it is.
func (in *Line) Draw(at cells.Area, assumed string, fixed bool) int {
	w, _ := at.Size()
	text := in.text
	if text == "" {
		at.Text(0, 0, draw.FocusDim, assumed)
		first, _ := utf8.DecodeRuneInString(assumed + " ")
		at.Text(0, 0, draw.CursorCell, string(first))
		return w
	}
	if fixed && !cells.Fits(text, w-1) {
		at.Text(0, 0, draw.FocusValue, text)
		at.Text(w-1, 0, draw.CursorCell, "…")
		return w
	}
	if in.marked > 0 {
		return in.drawMarked(at)
	}
	before, behind := in.parts()
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

// drawMarked draws a text of which something is marked, with as much of either as there
// is room for. Where all stands in view without the signs only, they are left out.
func (in *Line) drawMarked(at cells.Area) int {
	w, _ := at.Size()
	const least = 5 // columns of what is marked, with its signs
	before, marked := in.halves()
	if cells.Fits(in.text, w) && !cells.Fits(in.text, w-2) {
		x := at.Text(0, 0, draw.FocusValue, before)
		return x + at.Text(x, 0, draw.Marked, marked)
	}
	if !cells.Fits(before, w-least) {
		before = "…" + cells.Tail(before, max(0, w-least-1))
	}
	x := at.Text(0, 0, draw.FocusValue, before+"[")
	x += at.Text(x, 0, draw.Marked, cells.Cut(marked, w-x-1))
	return x + at.Text(x, 0, draw.FocusValue, "]")
}
