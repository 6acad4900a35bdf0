// Package ui is the dashboard: forms made from the fields table, the needle on
// its dial, the results and the findings beside them.
//
// App is the root. State flows down from it and messages come up to it; Update
// does no reading or writing of files and View changes nothing that matters:
// its canvas is only paper. No physics is computed here.
package ui

import (
	"strings"

	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model"
	"example.com/needlewright/ui/cells"
)

// A mode says what keys do at the moment.
type mode uint8

const (
	editing mode = iota // keys go to the focused field
	helping             // the list of keys is open
	leaving             // quit was asked for with unsaved changes
)

// Options are what App needs to know of the world outside.
type Options struct {
	Path  string // of the file; "" where the build has none yet
	Text  string
	ASCII bool // draw with plain characters only
	Light bool // for a light background
	At    int  // time of day the needle shows at first, s from midnight
}

// App is the dashboard.
type App struct {
	path   string
	saved  string // the text as it is on the disk
	doc    *model.Document
	report *model.Report // of the last text without problems; nil if none was
	undo   []string      // former texts, one a visit to a field
	redo   []string

	mode    mode
	pane    model.Pane
	hand    int             // which hand the forms and the dial are of
	focus   [panes]int      // row of each form
	input   textinput.Model // of the focused field, re-seeded at each move
	entered string          // the text when the focused field was entered

	seconds int // time of day on the dial
	scroll  int // lines of results above the window
	notice  notice

	width, height int
	canvas        *cells.Canvas
	palette       cells.Palette
	keys          keyMap
}

const panes = int(model.NoPane)

// firstField is the one a person comes with: the first reading of a meter.
const firstField = "hand.meter.coil"

// New returns the dashboard on a build.
func New(o Options) *App {
	a := &App{
		path: o.Path, saved: o.Text, doc: model.Open(o.Text), seconds: o.At,
		input: textinput.New(), canvas: cells.New(0, 0), palette: newPalette(o.Light), keys: newKeyMap(),
	}
	a.canvas.ASCII = o.ASCII
	a.input.Prompt = ""
	a.input.Cursor.SetMode(cursorMode)
	a.report = a.doc.Report()
	for i, r := range a.rows(a.pane) {
		if r.field.Path == firstField {
			a.focus[a.pane] = i
		}
	}
	a.enter()
	return a
}

// Init starts nothing: an idle dashboard does nothing.
func (a *App) Init() tea.Cmd { return nil }

// Unsaved says whether the text differs from the one on the disk.
func (a *App) Unsaved() bool { return a.doc.Text != a.saved }

// Text returns the document as it stands.
func (a *App) Text() string { return a.doc.Text }

// Update takes one message.
func (a *App) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		a.width, a.height = msg.Width, msg.Height
		a.canvas.Resize(msg.Width, msg.Height)
	case savedMsg:
		return a, a.afterSave(msg)
	case tea.KeyMsg:
		return a, a.press(msg)
	}
	return a, nil
}

// press takes one key.
func (a *App) press(msg tea.KeyMsg) tea.Cmd {
	k := &a.keys
	if a.mode == leaving {
		return a.decide(msg)
	}
	if a.mode == helping {
		a.mode = editing
		return nil
	}
	a.notice = notice{}
	switch {
	case key.Matches(msg, k.Quit):
		return a.quit()
	case key.Matches(msg, k.Help):
		a.mode = helping
	case key.Matches(msg, k.Save):
		return a.save()
	case key.Matches(msg, k.Undo):
		a.step(&a.undo, &a.redo, "undone")
	case key.Matches(msg, k.Redo):
		a.step(&a.redo, &a.undo, "done again")
	case key.Matches(msg, k.Revert):
		a.revert()
	case key.Matches(msg, k.Up):
		a.move(-1)
	case key.Matches(msg, k.Down):
		a.move(1)
	case key.Matches(msg, k.NextPane):
		a.turn(1)
	case key.Matches(msg, k.PreviousPane):
		a.turn(-1)
	case key.Matches(msg, k.NextHand):
		a.nextHand()
	case key.Matches(msg, k.ResultsUp):
		a.scroll = max(0, a.scroll-a.layout().resultLines()+1)
	case key.Matches(msg, k.ResultsDown):
		a.scroll += a.layout().resultLines() - 1
	case a.pressTime(msg):
	default:
		a.edit(msg)
	}
	return nil
}

// pressTime moves the time of day if the key is one that does.
func (a *App) pressTime(msg tea.KeyMsg) bool {
	for _, t := range [...]struct {
		key     key.Binding
		seconds int
	}{
		{a.keys.MinuteBack, -60}, {a.keys.MinuteOn, 60},
		{a.keys.FiveBack, -300}, {a.keys.FiveOn, 300},
		{a.keys.HourBack, -3600}, {a.keys.HourOn, 3600},
	} {
		if key.Matches(msg, t.key) {
			const day = 24 * 3600
			a.seconds = (a.seconds + t.seconds + day) % day
			return true
		}
	}
	return false
}

// quit ends at once, or asks where something would be lost.
func (a *App) quit() tea.Cmd {
	if !a.Unsaved() {
		return tea.Quit
	}
	a.mode = leaving
	a.notice = notice{warned, "Changes are not saved: " + a.keys.Save.Help().Key + " saves and leaves, " +
		a.keys.Quit.Help().Key + " leaves without them, any other key stays."}
	return nil
}

// decide takes the answer to quit's question.
func (a *App) decide(msg tea.KeyMsg) tea.Cmd {
	a.mode, a.notice = editing, notice{}
	switch {
	case key.Matches(msg, a.keys.Quit):
		return tea.Quit
	case key.Matches(msg, a.keys.Save):
		if save := a.save(); save != nil {
			a.mode = leaving
			return save
		}
	}
	return nil
}

// save writes the file, if the build has one.
func (a *App) save() tea.Cmd {
	if a.path == "" {
		a.notice = notice{warned, "This build has no file yet: start with  needlewright FILE  to give it one."}
		return nil
	}
	return saveFile(a.path, a.doc.Text)
}

// afterSave says how saving went, and leaves if it was asked for on leaving.
func (a *App) afterSave(msg savedMsg) tea.Cmd {
	left := a.mode == leaving
	a.mode = editing
	if msg.err != nil {
		a.notice = notice{failed, "Not saved: " + msg.err.Error() + ". Your work is still here; free the place and save again."}
		return nil
	}
	a.saved = msg.text
	a.notice = notice{said, "Saved " + a.path}
	if left {
		return tea.Quit
	}
	return nil
}

// change puts a value into the focused field and recomputes.
func (a *App) change(given string) {
	row := a.focused()
	a.show(a.doc.Set(row.field, row.index, given))
}

// show makes a document the present one. The last good report stays while the
// new text has problems.
func (a *App) show(d *model.Document) {
	a.doc = d
	if r := d.Report(); r != nil {
		a.report = r
	}
	a.hand = max(0, min(a.hand, len(d.Build.Hands)-1))
}

// stale says whether the report is of an earlier text.
func (a *App) stale() bool { return len(a.doc.Problems) > 0 }

// leave ends the visit to a field: its former text can be had back by undo.
func (a *App) leave() {
	if a.doc.Text != a.entered {
		a.undo, a.redo = append(a.undo, a.entered), nil
	}
}

// step goes one visit back, or forth again.
func (a *App) step(from, to *[]string, said_ string) {
	a.leave()
	if len(*from) == 0 {
		a.enter()
		a.notice = notice{said, "Nothing left to be " + said_ + "."}
		return
	}
	last := len(*from) - 1
	*to = append(*to, a.doc.Text)
	a.show(model.Open((*from)[last]))
	*from = (*from)[:last]
	a.enter()
}

// revert gives the focused field back the text it was entered with.
func (a *App) revert() {
	if a.doc.Text == a.entered {
		return
	}
	a.show(model.Open(a.entered))
	a.enter()
	a.notice = notice{said, "As it was."}
}

// name is how the document is called on the screen.
func (a *App) name() string {
	if a.doc.Build.Title != "" {
		return a.doc.Build.Title
	}
	if a.path != "" {
		return a.path[strings.LastIndexAny(a.path, `/\`)+1:]
	}
	return "untitled"
}
