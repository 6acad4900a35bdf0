package front

import (
	"slices"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model/circuit"
	"example.com/needlewright/ui/cells"
	"example.com/needlewright/ui/draw"
	"example.com/needlewright/ui/input"
	"example.com/needlewright/ui/keys"
)

// The longest texts that prompts take, in characters; those of fields are in
// the fields table.
const (
	longestAnswer = 200
	LongestPath   = 1024 // macOS takes no longer one (PATH_MAX, from memory)
)

// fewEntries are as many as any window shows at once.
const fewEntries = 7

// A Prompt asks for a line of text, for an entry of a list, or for either; it
// stands where the form stood, so that the needle stays in view.
type Prompt struct {
	Title   string
	Hint    string   // what to do
	Heads   []string // of the entries' figures
	Entries []Entry  // to choose from; typing narrows them
	Fixed   bool     // the list is short: nothing is typed
	Alone   bool     // the needle alone stands beside it, without readout, findings and results
	Most    int      // characters that may be typed; 0: longestAnswer
	Wants   string   // what is asked for, where that is a number

	// accept takes what is typed: problem says why not, and the prompt stays; else do
	// is done when it is closed. Its entries, where it has any, are other answers: typing
	// does not narrow them.
	Accept func(text string) (problem string, do func() tea.Cmd)
	Meant  func(text string) string  // what else a text may mean, which a key puts in its place; "": nothing
	Other  func(text string) tea.Cmd // takes a text that no entry holds
	Pin    func(e Entry) []Entry     // pins what is chosen, or lets it go, and gives the list as it is then

	Reach func(e Entry) tea.Cmd // asks which value of an input makes the chosen result so much

	Back         func(typed string) tea.Cmd // what esc goes back to; nil: it leaves
	Help         func(ascii bool) Page      // all that is to be known of it; nil: its words
	Words        bool                       // its keys say that words are explained
	Working      func() Page                // how what is chosen comes about; nil: it does not
	Danger, More string                     // below the form while no entry is chosen

	line    *input.Line
	matched struct { // the entries that hold what is typed
		typed string
		of    *Entry // the first of the list
		all   []Entry
	}
	chosen  int    // among the entries that match; inLine: the line is
	Problem string // why the last answer, or what was typed last, was not taken
}

// An Entry is one line of a prompt's list.
type Entry struct {
	Text, Hint string
	Also       string    // other words that find it
	Below      string    // what is said of it, which is searched last
	Mark       string    // before the text, of the one that is in force
	Danger     string    // what can be hurt, below the form while the entry is chosen
	Figures    []string  // behind the text, under the prompt's heads; it is cut where they need the room
	More       string    // all of it, below the form while the entry is chosen
	Of         ResultKey // that is looked into while the entry is chosen
	Do         func() tea.Cmd
	Read       func() Page // in place of Do: a page that is opened over the list
}

// A ResultKey names a result, whichever report has its value.
type ResultKey struct {
	Result *circuit.Result
	Index  int
}

// inLine is chosen where no entry is, but what stands in the line.
const inLine = -1

// begin begins it with a text in its line.
func (p *Prompt) begin(line *input.Line, text string) {
	if p.Most == 0 {
		p.Most = longestAnswer
	}
	p.chosen = p.first()
	p.line = line
	line.Fill(text, p.Most)
	line.Wants(p.Wants)
}

// Typed is what stands in its line.
func (p *Prompt) Typed() string { return p.line.Value() }

// first is what is chosen before a key.
func (p *Prompt) first() int {
	if p.Accept != nil {
		return inLine
	}
	return 0
}

// Choose chooses the i-th entry.
func (p *Prompt) Choose(i int) { p.chosen = i }

// Refill gives it another list and hint; what is chosen of the list stays chosen, but the
// first, which is the best that there is.
func (p *Prompt) Refill(hint string, entries []Entry) {
	was, ok := p.at()
	p.Hint, p.Entries = hint, entries
	if !ok || p.chosen == p.first() {
		return
	}
	p.chosen = max(p.first(), slices.IndexFunc(p.matching(), func(e Entry) bool { return e.Text == was.Text && e.More == was.More }))
}

// Refilled is Refill with heads for its figures, for what was asked for and came.
func (p *Prompt) Refilled(hint string, heads []string, entries []Entry) {
	p.Heads = heads
	p.Refill(hint, entries)
}

// matching are the entries that hold what is typed, the nearest first.
func (p *Prompt) matching() []Entry {
	if len(p.Entries) == 0 || p.Accept != nil {
		return p.Entries
	}
	typed := p.line.Value()
	if m := &p.matched; m.typed != typed || m.of != &p.Entries[0] {
		m.typed, m.of, m.all = typed, &p.Entries[0], nearest(p.Entries, typed)
	}
	return p.matched.all
}

// at is the entry that is chosen of those that match; false where none does.
func (p *Prompt) at() (Entry, bool) {
	found := p.matching()
	if p.chosen == inLine || p.chosen >= len(found) {
		return Entry{}, false
	}
	return found[p.chosen], true
}

// press takes a key, in a room of w by h. It says whether that closes the prompt, and
// what is to be done then; nil: nothing.
func (p *Prompt) press(msg tea.KeyMsg, k *keys.Map, w, h int) (do func() tea.Cmd, closed bool) {
	switch {
	case key.Matches(msg, k.Revert):
		return p.back(), true
	case key.Matches(msg, k.Accept):
		return p.take()
	case p.Meant != nil && key.Matches(msg, k.Take):
		if text := p.Meant(p.line.Value()); text != "" {
			p.line.Fill(text, p.Most)
			p.chosen, p.Problem = p.first(), ""
		}
		return nil, false
	case p.Pin != nil && key.Matches(msg, k.Pin):
		if e, ok := p.at(); ok {
			p.Entries = p.Pin(e)
		}
		return nil, false
	}
	last := len(p.matching()) - 1
	if p.Reach != nil && key.Matches(msg, k.Reach) {
		e, ok := p.at()
		return func() tea.Cmd { return p.Reach(e) }, ok
	}
	by, goes := pageBy(msg, k, max(1, h-p.above(w)), last)
	if p.chosen == inLine && key.Matches(msg, k.Start, k.End) {
		goes = false // those are of the line
	}
	switch {
	case goes && last >= 0:
		p.chosen = max(p.first(), min(p.chosen+by, last))
	case !p.Fixed:
		p.typed(msg)
	case msg.Type == tea.KeyRunes:
		p.jump(string(msg.Runes))
	}
	return nil, false
}

// jump goes to the next entry that begins with what is typed, or has a word that does, where
// nothing narrows them.
func (p *Prompt) jump(typed string) {
	p.Problem = ""
	typed = strings.ToLower(typed)
	for _, before := range []string{"", " "} {
		for i := range p.Entries {
			next := (p.chosen + 1 + i) % len(p.Entries)
			text := strings.ToLower(p.Entries[next].Text)
			if before == "" && strings.HasPrefix(text, typed) || before != "" && strings.Contains(text, before+typed) {
				p.chosen = next
				return
			}
		}
	}
	p.Problem = "Nothing begins with " + cells.Cut(strings.TrimSpace(typed), mostNamed) + "; ↑↓ choose."
}

// above is how many rows of a room of a width stand above the list.
func (p *Prompt) above(w int) int {
	rows := len(cells.Lines(p.Hint, w)) + len(cells.Lines(p.Problem, w)) + 1
	if !p.Fixed {
		rows++
	}
	return rows
}

// back is what esc does, nil where it leaves.
func (p *Prompt) back() func() tea.Cmd {
	if p.Back == nil {
		return nil
	}
	typed := p.line.Value()
	return func() tea.Cmd { return p.Back(typed) }
}

// typed gives a key to the line.
func (p *Prompt) typed(msg tea.KeyMsg) {
	changed, says := p.line.Press(msg)
	switch {
	case changed:
		p.chosen, p.Problem = p.first(), says
		if says == "" && p.Other == nil && len(p.Entries) > 0 && len(p.matching()) == 0 {
			p.Problem = p.nothingHolds()
		}
	case says != "":
		p.Problem = says
	}
}

// take takes the chosen entry, or the text where it may be free.
func (p *Prompt) take() (do func() tea.Cmd, closed bool) {
	text, found := p.line.Value(), p.matching()
	if p.chosen == inLine {
		p.Problem, do = p.Accept(text)
		return do, do != nil
	}
	if p.chosen >= len(found) && p.Other != nil && strings.TrimSpace(text) != "" {
		return func() tea.Cmd { return p.Other(text) }, true
	}
	if p.chosen >= len(found) {
		p.Problem = p.nothingHolds()
		return nil, false
	}
	return found[p.chosen].Do, true
}

// nothingHolds says that no entry holds what is typed.
func (p *Prompt) nothingHolds() string {
	return "Nothing in the list holds " + cells.Cut(strings.TrimSpace(p.line.Value()), mostNamed) + "."
}

// mostNamed are the columns of a typed text that is named in a sentence.
const mostNamed = 40

// Draw draws the prompt in the form's place.
func (p *Prompt) Draw(frame cells.Area) {
	at := draw.Titled(frame, p.Title)
	w, h := at.Size()
	y := at.Wrap(0, draw.Label, p.Hint)
	if !p.Fixed {
		p.drawLine(at.Rows(y, 1))
		if p.chosen == inLine {
			draw.Here(frame.Sub(1, 1+y, 1, 1))
		}
		y++
	}
	at.Sub(0, y, w, h-y).Wrap(0, draw.Fault, p.Problem)
	above := p.above(w)
	p.drawFigures(at.Rows(above-1, 1), draw.Dim, p.Heads)
	wide, _ := frame.Size()
	list, marks, behind := at.Rows(above, h-above), frame.Sub(1, 1+above, 1, h-above), frame.Sub(wide-2, 1+above, 1, h-above)
	found := p.matching()
	_, rows := list.Size()
	start := max(0, min(p.chosen-rows/2, len(found)-rows))
	for i := 0; i < rows && start+i < len(found); i++ {
		e, row := found[start+i], list.Rows(i, 1)
		style, hintStyle := draw.Value, draw.Dim
		if start+i == p.chosen {
			style, hintStyle = draw.FocusValue, draw.FocusDim
			row.Fill(draw.FocusValue, ' ')
			draw.Here(marks.Rows(i, 1))
		}
		e.draw(p.drawFigures(row, hintStyle, e.Figures), style, hintStyle)
	}
	if start > 0 {
		behind.Text(0, 0, draw.Dim, "↑")
	}
	if start+rows < len(found) {
		behind.Text(0, rows-1, draw.Dim, "↓")
	}
}

// drawLine draws what is typed, with the cursor where it takes the keys.
func (p *Prompt) drawLine(at cells.Area) {
	if p.Accept != nil && p.chosen != inLine {
		at.Text(0, 0, draw.Value, p.line.Value())
		return
	}
	at.Fill(draw.FocusValue, ' ')
	p.line.Draw(at, "", false)
}

// draw draws an entry in its line, and what is said of it where that fits.
func (e *Entry) draw(row cells.Area, style, hintStyle cells.Style) {
	w, _ := row.Size()
	x := row.Text(0, 0, style, e.Mark+e.Text)
	behind := row.Sub(x+2, 0, w-x-2, 1)
	if room, _ := behind.Size(); cells.Fits(e.Hint, room) {
		behind.TextRight(0, hintStyle, e.Hint)
	}
}

// DrawMore draws all that is said of the chosen entry, or of the prompt; what can be hurt
// stands first.
func (p *Prompt) DrawMore(at cells.Area) {
	danger, more := p.Danger, p.More
	if e, ok := p.at(); ok {
		danger, more = e.Danger, e.More
	}
	y := 0
	if danger != "" {
		y = at.Wrap(0, draw.Caution, draw.CautionSign(at.ASCII())+danger)
	}
	_, h := at.Size()
	at.Rows(y, h-y).Wrap(0, draw.Value, more)
}
