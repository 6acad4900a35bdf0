// Package fit is the view of a drawer: a table of meters, each tried in the clock that is
// open, the best first. It stands in the form's place, is worked out beside the keys in
// blocks, and ends when it is left.
package fit

import (
	"context"
	"fmt"
	"path/filepath"
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model"
	"example.com/needlewright/model/file"
	"example.com/needlewright/model/fit"
	"example.com/needlewright/model/quantity"
	"example.com/needlewright/ui/form"
	"example.com/needlewright/ui/front"
	"example.com/needlewright/ui/jobs"
	"example.com/needlewright/ui/notice"
	"example.com/needlewright/ui/session"
)

// A View is the drawer that is open, with what is known of its meters.
type View struct {
	s     *session.Session
	form  *form.Form
	front *front.Front
	say   *notice.Notice

	example string // the text of the example drawer; "": there is none
	path    string // of the drawer; "": the example
	drawer  *fit.Drawer
	frame   *fit.Frame
	doc     *model.Document // that the frame is of
	meters  []*fit.Meter    // that were tried, the best first

	table, ways *front.Prompt // that are open, the ways of one meter before the table; nil: none
	reading     *jobs.Job[string, *fit.Drawer]
	trying      *jobs.Job[block, []*fit.Meter]
}

// A block is some rows of a drawer in a clock.
type block struct {
	drawer *fit.Drawer
	frame  *fit.Frame
	from   int
}

// blockRows are so many rows that what comes of them is shown soon; the more there are
// before them, the more, for the table is sorted anew after each block.
func blockRows(before int) int { return max(16, before/4) }

// New returns the view, with nothing open.
func New(s *session.Session, f *form.Form, front *front.Front, say *notice.Notice, example string) *View {
	v := &View{s: s, form: f, front: front, say: say, example: example}
	v.reading = jobs.New[string](nil, v.wasRead)
	v.trying = jobs.New[block](nil, v.wereTried)
	return v
}

// Open asks which drawer is to be looked into.
func (v *View) Open() tea.Cmd {
	if v.s.Stale() || v.s.Report == nil || len(v.s.Doc.Build.Hands) == 0 {
		text := "No meter can be tried before the clock has a hand."
		if v.s.Stale() {
			text = "No meter can be tried until every value can be read: " + v.s.ToMend() + "."
		}
		v.say.Say(text)
		return nil
	}
	const more = "Write what you know of each meter into a spreadsheet and save it as CSV: name, coil, full_scale, marked, inside and others, all of which F5 lists. Nothing is changed by looking."
	var entries []front.Entry
	if v.drawer != nil {
		entries = append(entries, front.Entry{Text: "The same again", Hint: v.name(), More: more, Do: func() tea.Cmd { return v.again() }})
	}
	if v.example != "" {
		entries = append(entries, front.Entry{Text: "The example", Hint: "twelve meters", More: more, Do: func() tea.Cmd { return v.read("") }})
	}
	v.form.Leave()
	v.front.Ask(&front.Prompt{
		Title: "Drawer", Entries: entries, Most: front.LongestPath, Help: v.help, More: more,
		Hint:  "The path of a table of meters (CSV, a line each, the first names its columns), or the example:",
		Other: func(typed string) tea.Cmd { return v.read(session.Expanded(typed)) },
	}, "")
	return nil
}

// name is how the drawer is called.
func (v *View) name() string {
	if v.path == "" {
		return "the example"
	}
	return filepath.Base(v.path)
}

// read reads a drawer beside the keys, and shows its table when it is there.
func (v *View) read(path string) tea.Cmd {
	v.path, v.drawer = path, nil
	v.show()
	example := v.example
	return v.reading.Start(path, func(context.Context, func(int)) (*fit.Drawer, error) {
		text := example
		if path != "" {
			var err error
			if text, _, err = file.ReadFile(path); err != nil {
				return nil, err
			}
		}
		return fit.Read(text)
	})
}

// wasRead takes a drawer that was read.
func (v *View) wasRead(d *fit.Drawer, err error) {
	if v.table == nil || v.front.Prompt != v.table {
		return // it was left meanwhile
	}
	if err != nil || len(d.Rows) == 0 {
		text := "no line of it can be read"
		if err != nil {
			text = err.Error()
		} else if len(d.Problems) > 0 {
			text += ": " + d.Problems[0].String()
		}
		v.close()
		v.say.Fail("The drawer cannot be read: " + text + ".")
		return
	}
	v.drawer = d
	v.begin()
}

// again shows the drawer that was read, in the clock as it is now.
func (v *View) again() tea.Cmd {
	v.show()
	if v.doc != v.s.Doc || v.frame == nil || v.frame.Name() != v.hand() {
		v.begin()
	}
	v.fill()
	return nil
}

func (v *View) hand() string { return v.s.Doc.Build.Hands[v.s.Hand].Name }

// begin begins to try the meters in the clock that is open.
func (v *View) begin() {
	frame, err := fit.NewFrame(v.s.Doc, v.hand())
	if err != nil { // it has no problems, and the hand is one of its own
		v.close()
		v.say.Fail("No meter can be tried: " + err.Error() + ".")
		return
	}
	v.frame, v.doc, v.meters = frame, v.s.Doc, nil
	v.fill()
}

// show opens the table.
func (v *View) show() {
	v.form.Leave()
	v.ways = nil
	v.table = &front.Prompt{Title: "Drawer: " + v.name(), Heads: heads, Help: v.help}
	v.front.Ask(v.table, "")
	v.fill()
}

// close leaves the table.
func (v *View) close() {
	v.table, v.ways = nil, nil
	v.front.Close()
	v.form.Enter()
}

// isOpen says whether the table stands there, or the ways of one of its meters.
func (v *View) isOpen() bool {
	p := v.front.Prompt
	return p != nil && (p == v.table || p == v.ways)
}

// Seek returns the command that tries the next meters, nil where there is nothing to try.
// What goes on ends when the table is left.
func (v *View) Seek() tea.Cmd {
	if !v.isOpen() || v.drawer == nil || v.doc != v.s.Doc {
		v.trying.Cancel()
		return nil
	}
	from := len(v.meters)
	if from >= len(v.drawer.Rows) {
		return nil
	}
	frame, rows := v.frame, v.drawer.Rows[from:min(from+blockRows(from), len(v.drawer.Rows))]
	return v.trying.Seek(block{v.drawer, frame, from}, func(ctx context.Context, _ func(int)) ([]*fit.Meter, error) {
		return frame.All(ctx, rows, nil)
	})
}

// wereTried takes what came of a block.
func (v *View) wereTried(meters []*fit.Meter, err error) {
	switch {
	case err != nil:
		v.say.Fail("The meters could not be tried: " + err.Error() + ".")
	case v.trying.Of().frame == v.frame && v.trying.Of().from == len(v.meters):
		v.meters = append(slices.Clone(v.meters), meters...)
		fit.Sort(v.meters)
		v.fill()
	}
}

// fill puts what is known so far into the table.
func (v *View) fill() {
	if v.table == nil {
		return
	}
	entries := make([]front.Entry, len(v.meters))
	for k, m := range v.meters {
		entries[k] = v.entry(m)
	}
	v.table.Refill(v.hint(), entries)
}

// hint says what the table is of, how far it is, and what to do.
func (v *View) hint() string {
	if v.drawer == nil {
		return "It is being read."
	}
	text := quantity.Counted(len(v.drawer.Rows), "meter") + " for " + v.hand() + " of " + v.s.Name()
	if n := len(v.meters); n < len(v.drawer.Rows) {
		text += fmt.Sprintf(", %d tried so far", n)
	}
	if n := len(v.drawer.Problems); n > 0 {
		text += "; " + quantity.Counted(n, "line") + " cannot be read, F5 says why"
	}
	return text + ". Enter shows the ways of one; type to find a name or a verdict:"
}
