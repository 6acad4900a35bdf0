// Package ui is the dashboard: forms made from the fields table, the needle on
// its dial, the results and the findings beside them.
//
// App is the root, and routes: each message goes to the part that it is for, each key
// to what is open in front of the form, to a command, or to the form. A part owns its
// state, and no other writes into it: the session has the document, its history and
// what is reported of it; all parts read that, and change it by its methods. Update
// does no reading or writing of files and View changes nothing that matters: its
// canvas is only paper. No physics is computed here.
package ui

import (
	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model/file"
	"example.com/needlewright/model/spread"
	"example.com/needlewright/ui/bench"
	"example.com/needlewright/ui/fit"
	"example.com/needlewright/ui/form"
	"example.com/needlewright/ui/front"
	"example.com/needlewright/ui/input"
	"example.com/needlewright/ui/jobs"
	"example.com/needlewright/ui/keys"
	"example.com/needlewright/ui/layout"
	"example.com/needlewright/ui/notice"
	"example.com/needlewright/ui/scale"
	"example.com/needlewright/ui/session"
	"example.com/needlewright/ui/side"
	"example.com/needlewright/ui/survey"
	"example.com/needlewright/ui/walk"
	"example.com/needlewright/ui/whatif"
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
	Answers        []string    // of a survey that was not taken over, kept at the last end
	Found          []file.Copy // unsaved work of earlier runs, the newest first
	Warning        string      // of something found at the start
	Example        bool        // the text is an example
	Fresh          bool        // there is no file at the path yet: a new build begins
	Walk           bool        // the walk opens on it
	Finished       string      // the text of an example that is finished
	NoMouse        bool        // the mouse was left to the terminal
	Drawer         string      // the text of the example drawer
}

// App is the dashboard.
type App struct {
	session *session.Session
	notice  *notice.Notice
	front   *front.Front // a prompt, a page or a question before the form
	form    *form.Form
	side    *side.Side // the needle, and below it the results
	bench   *bench.Bench
	scale   *scale.Scale
	survey  *survey.Survey
	walk    *walk.Walk
	fit     *fit.View // a drawer of meters

	files  *files
	finder *finder
	offers *offers
	lists  *lists
	kits   *kits
	teach  *teaching

	screen      *screen
	keys        *keys.Map
	commands    []command
	suspendable bool
}

// New returns the dashboard on a build.
func New(o Options) *App { return newApp(o, form.Panes) }

// newApp returns it with the panes that its header is to name.
func newApp(o Options, panes []form.Pane) *App {
	say, keys := &notice.Notice{}, keys.New()
	s := session.New(session.Start{Path: o.Path, Text: o.Text, Stamp: o.Stamp, Copies: o.RecoveryFolder}, say)
	front := front.New(keys)
	form := form.New(s, say, keys, panes)
	side := side.New(s, form, front, say, keys, o.At)
	bench, scale := bench.New(s, form, say, keys), scale.New(s, form, say, keys)
	walk := walk.New(s, form, say, keys)
	finder := &finder{s: s, form: form, front: front, side: side, say: say, bench: bench, scale: scale, walk: walk, reach: whatif.New(s, form, front, say, keys)}
	files := &files{s: s, form: form, front: front, say: say, keys: keys, begun: func() {
		side.Results.Begin()
		bench.Begin()
		scale.Begin()
		finder.begin()
		walk.Begin()
	}}
	lists := &lists{s, form, front, say, keys}
	a := &App{
		session: s, notice: say, front: front, form: form, side: side, bench: bench, scale: scale,
		survey: survey.New(s, form, say, keys, lists.addSurveyed), fit: fit.New(s, form, front, say, o.Drawer), walk: walk,
		files: files, finder: finder, offers: &offers{s, form, front, side, say}, lists: lists,
		teach:  newTeaching(files),
		kits:   newKits(s, front, say, keys, spread.NewYield),
		screen: newScreen(o.ASCII, o.Light, o.NoMouse), keys: keys, commands: newCommands(keys),
		suspendable: o.CanSuspend,
	}
	a.survey.Restore(o.Answers)
	a.welcome(&o)
	return a
}

// welcome says what there is to be known at the start, and asks what is to be asked.
func (a *App) welcome(o *Options) {
	menu := a.keys.Menu.Help().Key
	switch {
	case o.Warning != "":
		a.notice.Warn(o.Warning)
	case o.Walk:
	case o.Fresh:
		a.notice.Say("An empty build: New build, from " + menu + ", asks for the readings it begins with.")
	case o.Example:
		a.notice.Say("This is an example. " + menu + ", New build, begins one of yours.")
	}
	if !o.Walk {
		a.sayWalk()
	}
	var begin func() tea.Cmd
	switch {
	case o.Walk && (o.Fresh || o.Path == ""):
		begin = func() tea.Cmd { return a.walkFromNothing(o.Path) }
	case o.Walk:
		begin = func() tea.Cmd { a.walk.Open(); return nil }
	case o.Fresh:
		begin = func() tea.Cmd { return a.files.interview(o.Path) }
	case o.Example && o.Finished != "":
		begin = func() tea.Cmd { a.first(o.Finished); return nil }
	}
	switch {
	case len(o.Found) > 0:
		a.files.offer(o.Found, begin)
	case begin != nil:
		begin()
	}
}

// Init looks what would mend the first build; then an idle dashboard does nothing.
func (a *App) Init() tea.Cmd { return a.session.SeekAdvice() }

// Unsaved says whether the text differs from the one on the disk.
func (a *App) Unsaved() bool { return a.session.Unsaved() }

// Text returns the document as it stands, as its file would hold it.
func (a *App) Text() string { return a.session.Text() }

// Rescue keeps unsaved work where the program ends without having been told to
// give it up: at a hang-up, a signal, a panic. It is called when the screen is
// gone, and says whether there was anything to keep.
func (a *App) Rescue() (kept bool, err error) { return a.session.Rescue() }

// SurveyAnswers are those that no hand has taken over: they are kept for the next start.
func (a *App) SurveyAnswers() []string { return a.survey.Answers() }

// Update takes one message. What it leads to is worked out beside the keys.
func (a *App) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	cmd := a.receive(msg)
	a.side.Heed()
	a.bench.Heed()
	a.walk.Heed()
	a.scale.Heed()
	for _, further := range [...]tea.Cmd{a.session.SeekAdvice(), a.side.Views.Seek(), a.bench.Seek(), a.fit.Seek()} {
		if further != nil {
			cmd = tea.Batch(cmd, further)
		}
	}
	return a, cmd
}

// receive gives a message to the part that it is for.
func (a *App) receive(msg tea.Msg) tea.Cmd {
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		a.screen.resize(msg.Width, msg.Height)
	case tea.KeyMsg:
		return a.press(input.AsTyped(msg))
	case tea.MouseMsg:
		return a.mouse(msg)
	case tea.ResumeMsg:
		return a.resumed()
	case side.TickMsg:
		return a.side.Preview.Tick(msg)
	case session.SavedMsg:
		a.files.arrived()
		return a.letIn(a.files.saved(msg))
	case session.OpenedMsg:
		a.files.arrived()
		cmd := a.files.opened(msg)
		a.sayWalk()
		return a.letIn(cmd)
	case session.ListedMsg:
		a.files.arrived()
		return a.letIn(a.files.listed(msg))
	case session.KeepMsg:
		return a.session.WriteCopy()
	case session.KeptMsg:
		a.files.kept(msg)
	case jobs.Msg:
		return msg.Take()
	}
	return nil
}

// letIn lets the keys in that were held while files were waited for.
func (a *App) letIn(cmd tea.Cmd) tea.Cmd {
	cmds := []tea.Cmd{cmd}
	for msg, ok := a.files.next(); ok; msg, ok = a.files.next() {
		cmds = append(cmds, a.press(msg))
	}
	return tea.Batch(cmds...)
}

// press gives a key to what is open in front of the form, to a command, or to the form.
func (a *App) press(msg tea.KeyMsg) tea.Cmd {
	if a.files.hold(msg) {
		return nil
	}
	if a.screen.tooSmall() && a.front.Mode != front.Confirming && !key.Matches(msg, a.keys.Quit) {
		return nil // nothing is typed unseen
	}
	switch a.front.Mode {
	case front.Confirming:
		return a.files.decide(msg)
	case front.Asking:
		return a.answer(msg)
	case front.Helping, front.Paging:
		return a.read(msg)
	}
	a.notice.Clear()
	switch {
	case a.survey.IsOpen():
		return a.surveyed(msg)
	case a.walk.IsOpen():
		return a.walked(msg)
	}
	if key.Matches(msg, a.keys.Revert) && a.kits.end() {
		return nil
	}
	if !key.Matches(msg, a.keys.Take, a.keys.Menu, a.keys.Cautions) { // those do what is advised, or explain it
		a.finder.forget()
	}
	if key.Matches(msg, a.keys.Take) && a.finder.advised() == nil {
		if cmd, ok := a.form.TakeMeant(); ok {
			return cmd
		}
	}
	for i := range a.commands {
		if c := &a.commands[i]; key.Matches(msg, c.key) {
			return tea.Batch(a.settle(), c.do(a))
		}
	}
	if p := a.own(); p != nil {
		return p.Edit(msg)
	}
	return a.form.Edit(msg)
}

// settle makes of what was typed what is to stand in the file.
func (a *App) settle() tea.Cmd {
	a.form.Settle()
	return tea.Batch(a.bench.Settle(), a.scale.Settle())
}

// answer gives a key to the prompt. When that closes, the form has the keys again.
func (a *App) answer(msg tea.KeyMsg) tea.Cmd {
	if key.Matches(msg, a.keys.Quit) {
		a.front.Close()
		a.form.Enter()
		return a.quit()
	}
	if key.Matches(msg, a.keys.Help) {
		a.listKeys()
		return nil
	}
	if key.Matches(msg, a.keys.Cautions) {
		a.explainPrompt()
		return nil
	}
	if page, ok := a.front.Reads(msg); ok {
		a.front.Open(page)
		return nil
	}
	in := layout.Inside(a.promptLayout().Form)
	do, closed := a.front.Answer(msg, in.Dx(), in.Dy())
	if !closed {
		a.finder.sense()
		return nil
	}
	a.form.Enter()
	if do == nil {
		return nil
	}
	return do()
}

// read gives a key to the list of keys or a page.
func (a *App) read(msg tea.KeyMsg) tea.Cmd {
	if key.Matches(msg, a.keys.Quit) {
		if a.front.Prompt != nil { // behind it
			a.form.Enter()
		}
		a.front.Close()
		return a.quit()
	}
	if key.Matches(msg, a.keys.Cautions) && a.front.Mode == front.Paging && !a.front.Page.Explains {
		a.explainPage()
		return nil
	}
	in := layout.Inside(a.screen.layout().Page)
	a.front.Turn(msg, in.Dx(), in.Dy())
	return nil
}
