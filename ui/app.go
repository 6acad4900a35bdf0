// Package ui is the dashboard: forms made from the fields table, the needle on
// its dial, the results and the findings beside them.
//
// App is the root. State flows down from it and messages come up to it; Update
// does no reading or writing of files and View changes nothing that matters:
// its canvas is only paper. No physics is computed here.
package ui

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/file"
	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/report"
	"example.com/needlewright/model/spread"
	"example.com/needlewright/ui/cells"
)

// A mode says what keys do at the moment.
type mode uint8

const (
	editing    mode = iota // keys go to the focused field
	asking                 // keys go to the prompt
	helping                // the list of keys is open
	paging                 // a page of text is open
	confirming             // something would lose unsaved work
)

// Options are what App needs to know of the world outside.
type Options struct {
	Path  string // of the file; "" where the build has none yet
	Text  string
	Stamp file.Stamp // of the file when it was read
	ASCII bool       // draw with plain characters only
	Light bool       // for a light background
	At    int        // time of day the needle shows at first, s from midnight

	CanSuspend     bool        // a shell waits to take over
	RecoveryFolder string      // of recovery copies; "": none are kept
	Found          []file.Copy // unsaved work of earlier runs, the newest first
	Warning        string      // of something found at the start
	Example        bool        // the text is an example
	Fresh          bool        // there is no file at the path yet: a new build begins
	NoMouse        bool        // the mouse was left to the terminal
}

// App is the dashboard.
type App struct {
	path     string
	stamp    file.Stamp // of the file as it was last read or written
	saved    string     // the text as it is on the disk, with long values clipped as in doc
	notSaved bool       // the last saving failed
	doc      *model.Document
	report   *report.Report // of the last text without problems; nil if none was
	base     *report.Report // before the last edit
	sought   *report.Report // the last one of which more was sought
	undo     []string       // former texts, one a visit to a field
	redo     []string
	keep     keeper

	mode    mode
	prompt  *prompt
	confirm *confirmation
	waiting bool         // for a command that works on files
	held    []tea.KeyMsg // keys that came meanwhile
	givenUp bool         // the person chose to leave without saving

	pane    model.Pane
	hand    int        // which hand the forms and the dial are of
	focus   [panes]int // row of each form
	input   input      // of the focused field or the prompt, re-seeded at each move
	entered string     // the text when the focused field was entered

	pace    pace
	round   int // of ticks; those of earlier rounds are not heeded
	seconds int // time of day on the dial
	motion  circuit.Motion
	large   bool // one dial, though there is room for all
	plot    int  // the view in place of the results, 0: none
	bare    bool // results without their bands, so that more are in view

	scroll   int            // lines of results above the window
	helpTop  int            // keys above the window of the list of keys
	seen     []string       // findings and problems gone to in this round
	advising *judge.Finding // gone to last: its advice is in view; nil: none is
	notice   notice

	page   page // open while paging
	sensed sensed

	wrong       wrong // worked out last
	wrongSought wrongOf
	horizon     judge.Horizon
	blame       int // the row of the budget that is chosen

	making *making       // nil: no kits are being made
	yield  *spread.Yield // of the last kits

	formRows struct { // made last
		of   rowsOf
		rows []row
	}
	cautions struct { // made last
		of  cautionsOf
		all []judge.Caution
	}

	width, height int
	canvas        *cells.Canvas
	palette       cells.Palette
	keys          keyMap
	commands      []command
	light         bool
	mouseOff      bool
	suspendable   bool
}

const panes = int(model.NoPane)

// firstField is the one a person comes with: the first reading of a meter.
const firstField = "hand.meter.coil"

// New returns the dashboard on a build.
func New(o Options) *App {
	a := &App{
		seconds: o.At, light: o.Light, suspendable: o.CanSuspend, mouseOff: o.NoMouse,
		input: newInput(), canvas: cells.New(0, 0), palette: newPalette(o.Light), keys: newKeyMap(),
	}
	a.commands = newCommands(&a.keys)
	a.canvas.ASCII = o.ASCII
	a.keep.folder = o.RecoveryFolder
	a.open(o.Path, o.Text, o.Stamp)
	switch {
	case o.Warning != "":
		a.notice = notice{warned, o.Warning}
	case o.Fresh:
		a.notice = notice{said, "An empty build: New build, from " + a.keys.Menu.Help().Key + ", asks for the readings it begins with."}
	case o.Example:
		a.notice = notice{said, "This is an example. " + a.keys.Menu.Help().Key + ", New build, begins one of yours."}
	}
	var begin func(*App) tea.Cmd
	if o.Fresh {
		begin = func(a *App) tea.Cmd { return a.askReading(o.Path, nil) }
	}
	switch {
	case len(o.Found) > 0:
		a.offer(o.Found, begin)
	case o.Fresh:
		begin(a)
	}
	return a
}

// Init looks what would mend the first build; then an idle dashboard does nothing.
func (a *App) Init() tea.Cmd { return a.seekAdvice() }

// Unsaved says whether the text differs from the one on the disk.
func (a *App) Unsaved() bool { return a.doc.Text != a.saved }

// Text returns the document as it stands, as its file would hold it.
func (a *App) Text() string { return a.doc.Whole() }

// Update takes one message.
func (a *App) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	cmd := a.receive(msg)
	for _, further := range [...]tea.Cmd{a.seekAdvice(), a.seekWrong()} {
		if further != nil {
			cmd = tea.Batch(cmd, further)
		}
	}
	return a, cmd
}

// receive does what a message asks for.
func (a *App) receive(msg tea.Msg) tea.Cmd {
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		a.width, a.height = msg.Width, msg.Height
		a.canvas.Resize(msg.Width, msg.Height)
	case tea.KeyMsg:
		return a.press(asTyped(msg))
	case tea.MouseMsg:
		return a.mouse(msg)
	case tea.ResumeMsg:
		return a.resumed()
	case tickMsg:
		return a.tick(msg)
	case savedMsg:
		return a.awaited(a.afterSave(msg))
	case openedMsg:
		return a.awaited(a.opened(msg))
	case listedMsg:
		return a.awaited(a.listed(msg))
	case keepMsg:
		return a.writeCopy()
	case keptMsg:
		a.kept(msg)
	case advisedMsg:
		a.advised(msg)
	case wrongMsg:
		a.judged(msg)
	case makingMsg:
		return a.made(msg)
	case madeMsg:
		a.ended(msg)
	}
	return nil
}

// kept warns of what was seen while a recovery copy was written.
func (a *App) kept(msg keptMsg) {
	switch {
	case a.mode == confirming: // its question stays
	case msg.err != nil:
		a.notice = notice{warned, "No recovery copy could be kept: " + msg.err.Error()}
	case a.notice.tone == failed: // that matters more
	case msg.gone != "" && msg.gone == a.path:
		a.saved = "" // nothing of it is on the disk
		a.notice = notice{warned, "The file is no longer on the disk; saving writes it anew."}
	case msg.changed:
		a.notice = notice{warned, "The file has changed on the disk meanwhile; saving will ask before it overwrites it."}
	}
}

// tooSmall says whether the window is too small to draw in.
func (a *App) tooSmall() bool { return a.width < leastWidth || a.height < leastHeight }

// press takes one key.
func (a *App) press(msg tea.KeyMsg) tea.Cmd {
	if a.waiting {
		a.held = append(a.held, msg)
		return nil
	}
	if a.tooSmall() && a.mode != confirming && !key.Matches(msg, a.keys.Quit) {
		return nil // nothing is typed unseen
	}
	switch a.mode {
	case confirming:
		return a.decide(msg)
	case asking:
		return a.answer(msg)
	case helping, paging:
		return a.read(msg)
	}
	a.notice = notice{}
	if a.heedMaking(msg) {
		return nil
	}
	if !key.Matches(msg, a.keys.Take, a.keys.Menu) { // those do what is advised
		a.advising = nil
	}
	for i := range a.commands {
		if c := &a.commands[i]; key.Matches(msg, c.key) {
			return c.do(a)
		}
	}
	return a.edit(msg)
}

// read takes a key while the list of keys or a page is open.
func (a *App) read(msg tea.KeyMsg) tea.Cmd {
	switch {
	case key.Matches(msg, a.keys.Quit):
		a.mode = editing
		return a.quit()
	case a.mode == helping:
		a.turnHelp(msg)
	default:
		a.turnPage(msg)
	}
	return nil
}

// A command is what a key does whatever field is focused.
type command struct {
	key key.Binding
	do  func(*App) tea.Cmd
}

// newCommands are all of them.
func newCommands(k *keyMap) []command {
	quietly := func(f func(*App)) func(*App) tea.Cmd {
		return func(a *App) tea.Cmd { f(a); return nil }
	}
	minutes := func(n int) func(*App) tea.Cmd {
		return quietly(func(a *App) { a.moveTime(n * 60) })
	}
	return []command{
		{k.Up, quietly(func(a *App) { a.move(-1) })},
		{k.Down, quietly(func(a *App) { a.move(1) })},
		{k.NextPane, quietly(func(a *App) { a.turn(1) })},
		{k.PreviousPane, quietly(func(a *App) { a.turn(-1) })},
		{k.NextHand, quietly((*App).nextHand)},
		{k.StepUp, func(a *App) tea.Cmd { return a.stepField(true) }},
		{k.StepDown, func(a *App) tea.Cmd { return a.stepField(false) }},
		{k.MinuteBack, minutes(-1)},
		{k.MinuteOn, minutes(1)},
		{k.FiveBack, minutes(-5)},
		{k.FiveOn, minutes(5)},
		{k.HourBack, minutes(-60)},
		{k.HourOn, minutes(60)},
		{k.Follow, (*App).follow},
		{k.FastDay, (*App).fastDay},
		{k.Plot, (*App).nextPlot},
		{k.Budget, (*App).errorBudget},
		{k.Large, (*App).toggleLarge},
		{k.ResultsUp, quietly(func(a *App) { a.scrollPages(-1) })},
		{k.ResultsDown, quietly(func(a *App) { a.scrollPages(1) })},
		{k.Jump, (*App).jump},
		{k.Finding, (*App).nextFinding},
		{k.Take, (*App).take},
		{k.Choose, (*App).choosePart},
		{k.Cautions, (*App).readCautions},
		{k.Look, (*App).look},
		{k.Kits, (*App).makeMany},
		{k.Revert, (*App).revert},
		{k.Undo, (*App).undoVisit},
		{k.Redo, (*App).redoVisit},
		{k.Open, (*App).openList},
		{k.Save, (*App).save},
		{k.Menu, (*App).menu},
		{k.Help, quietly(func(a *App) { a.mode, a.helpTop = helping, 0 })},
		{k.Suspend, (*App).suspend},
		{k.Quit, (*App).quit},
	}
}

// quit ends at once, or asks where something would be lost.
func (a *App) quit() tea.Cmd {
	return a.unlessUnsaved(a.keys.Quit, func(a *App) tea.Cmd {
		a.givenUp = true
		return tea.Sequence(a.keep.remove(), tea.Quit)
	})
}

// suspend hands the terminal to the shell until it calls back.
func (a *App) suspend() tea.Cmd {
	if !a.suspendable {
		a.notice = notice{warned, "No shell waits to take over: there is nothing to suspend to."}
		return nil
	}
	return tea.Suspend
}

// show makes a document the present one. The last good report stays while the
// new text has problems.
func (a *App) show(d *model.Document) {
	a.doc = d
	a.endMaking() // of what was
	if r := report.Of(d); r != nil {
		a.report = r
		if a.pace == racing {
			a.motion.Reset(&r.Plan, float64(a.seconds))
		}
	}
	a.hand = max(0, min(a.hand, len(d.Build.Hands)-1))
}

// stale says whether the report is of an earlier text.
func (a *App) stale() bool { return len(a.doc.Problems) > 0 }

// leave ends the visit to a field: its former text can be had back by undo.
func (a *App) leave() {
	a.tidy()
	if a.doc.Text != a.entered {
		a.undo, a.redo = append(a.undo, a.entered), nil
		a.entered = a.doc.Text
	}
}

func (a *App) undoVisit() tea.Cmd {
	a.leave()
	return a.step(&a.undo, &a.redo, "undo", "Undone")
}

func (a *App) redoVisit() tea.Cmd {
	a.leave()
	return a.step(&a.redo, &a.undo, "redo", "Done again")
}

// step goes one visit back, or forth again, and to the field that it changes.
func (a *App) step(from, to *[]string, what, done string) tea.Cmd {
	last := len(*from) - 1
	if last < 0 {
		a.notice = notice{said, "Nothing left to " + what + "."}
		return nil
	}
	a.rebase()
	before := a.doc
	*to = append(*to, before.Text)
	a.show(before.Reopen((*from)[last]))
	*from = (*from)[:last]
	a.enter()
	a.notice = notice{said, done + "."}
	if f, i, ok := before.FirstChange(a.doc); ok && a.goToValue(f, i) {
		if f.IsTable() {
			a.notice.text = done + ": " + f.Label + "."
			return a.changed()
		}
		was, _ := before.Given(f, i)
		now, _ := a.doc.Given(f, i)
		a.notice.text = done + ": " + f.Label + ", " + orElse(was, "nothing") + " → " + orElse(now, "nothing")
		if more := before.ChangedValues(a.doc) - 1; more > 0 {
			a.notice.text += fmt.Sprintf(", and %d more", more)
		}
	}
	return a.changed()
}

// orElse is a text, or another where it is not there.
func orElse(s, other string) string {
	if s == "" {
		return other
	}
	return s
}

// revert gives the focused field back the text it was entered with.
func (a *App) revert() tea.Cmd {
	if a.doc.Text == a.entered {
		return nil
	}
	a.show(a.doc.Reopen(a.entered))
	a.enter()
	a.notice = notice{said, "As it was."}
	return a.changed()
}

func (a *App) toggleASCII() tea.Cmd {
	a.canvas.ASCII = !a.canvas.ASCII
	return nil
}

func (a *App) toggleTheme() tea.Cmd {
	a.light = !a.light
	a.palette = newPalette(a.light)
	return nil
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
