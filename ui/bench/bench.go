// Package bench is the pane on which the built clock is compared with its plan: the test
// points with their readings, what may be wrong, and what to measure next. The model's
// package of the same name, here called built, works all of that out.
package bench

import (
	"context"
	"strconv"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model"
	built "example.com/needlewright/model/bench"
	"example.com/needlewright/ui/form"
	"example.com/needlewright/ui/input"
	"example.com/needlewright/ui/jobs"
	"example.com/needlewright/ui/keys"
	"example.com/needlewright/ui/notice"
	"example.com/needlewright/ui/session"
)

// A Bench is the pane: the test points, one of which has the keys.
type Bench struct {
	s    *session.Session
	form *form.Form
	say  *notice.Notice
	keys *keys.Map

	prepared *jobs.Job[string, *built.Bench] // of the build's text without its readings
	keyed    struct {                        // last
		doc *model.Document
		key string
	}
	weighed *jobs.Job[weighedOf, *built.Report] // the readings, all together
	judged  struct {                            // last
		of     weighedOf
		whole  *built.Report // what was weighed last
		report *built.Report
	}
	rows struct { // last
		report *built.Report
		hand   int
		all    []row
	}

	focus  string     // the point that has the keys, or "#" and the number of a reading of none
	line   input.Line // of its reading
	filled string     // the row that the line was filled for
	rested bool       // nobody has gone to a point yet
	again  []string   // the points that were read before the repair, to be read again
}

// weighedOf is what causes, and what to measure next, depend on; neither ever changes.
type weighedOf struct {
	x   *built.Bench
	doc *model.Document
}

// New returns the pane of a session. It says in say what a key could not do.
func New(s *session.Session, form *form.Form, say *notice.Notice, keys *keys.Map) *Bench {
	b := &Bench{s: s, form: form, say: say, keys: keys, line: input.New(keys), rested: true}
	b.prepared = jobs.New[string](nil, func(_ *built.Bench, err error) {
		if err != nil {
			say.Fail("What sound clocks read could not be worked out: " + err.Error() + ".")
		}
	})
	b.weighed = jobs.New[weighedOf](nil, func(_ *built.Report, err error) {
		if err != nil {
			say.Fail("The readings could not be weighed: " + err.Error() + ".")
		}
	})
	return b
}

// IsOpen says whether the pane is open.
func (b *Bench) IsOpen() bool { return b.form.IsOpen(form.BenchName) }

// Begin forgets where the keys were: another document was taken up.
func (b *Bench) Begin() { b.focus, b.filled, b.rested = "", "", true }

// Seek has worked out, beside the keys, what the test points of the present build read
// while the pane is open, and what the readings say together; nil where that is known or
// being worked out.
func (b *Bench) Seek() tea.Cmd {
	if key, ok := b.key(); ok {
		if cmd := b.prepared.Seek(key, prepare(b.s.Report.Build)); cmd != nil {
			return cmd
		}
	}
	if of, ok := b.toWeigh(); ok && b.weighed.Running() == nil { // one at a time: the latest follows
		return b.weighed.Seek(of, weigh(of))
	}
	return nil
}

// A Known is what test points read, by what that depends on; who opens the same build
// many times need not work it out again.
type Known map[string]*built.Bench

// PrepareNow waits for it, unless it is known already; then known has it, where there is
// such.
func (b *Bench) PrepareNow(known Known) {
	if key, ok := b.key(); ok {
		work := prepare(b.s.Report.Build)
		if x := known[key]; x != nil {
			work = func(context.Context, func(int)) (*built.Bench, error) { return x, nil }
		}
		b.prepared.Now(key, work)
		if known != nil {
			known[key] = b.prepared.Got()
		}
	}
	b.weighNow()
	b.Heed()
}

// toWeigh is what is to be weighed; false where nothing is.
func (b *Bench) toWeigh() (weighedOf, bool) {
	of := weighedOf{b.prepared.Got(), b.s.Doc}
	return of, b.IsOpen() && of.x != nil && b.s.Report != nil
}

// weighNow waits for what the readings say together.
func (b *Bench) weighNow() {
	if of, ok := b.toWeigh(); ok {
		b.weighed.Now(of, weigh(of))
	}
}

// isWeighed says whether the causes are those of the present readings.
func (b *Bench) isWeighed() bool {
	return b.weighed.Of() == weighedOf{b.prepared.Got(), b.s.Doc}
}

func weigh(of weighedOf) jobs.Work[*built.Report] {
	return func(context.Context, func(int)) (*built.Report, error) { return of.x.Judge(of.doc.Build.Readings), nil }
}

// key is what the test points of the present build depend on; false where nothing is to
// be worked out now.
func (b *Bench) key() (string, bool) {
	if !b.IsOpen() || b.s.Report == nil || b.s.Stale() {
		return "", false
	}
	if b.keyed.doc != b.s.Doc {
		b.keyed.doc, b.keyed.key = b.s.Doc, b.s.Doc.TextWithout("reading")
	}
	return b.keyed.key, true
}

func prepare(of *model.Build) jobs.Work[*built.Bench] {
	return func(context.Context, func(int)) (*built.Bench, error) { return built.New(of), nil }
}

// isPresent says whether what the points read is of the present build.
func (b *Bench) isPresent() bool {
	key, ok := b.key()
	return ok && key == b.prepared.Of()
}

// Report is what the bench says: each reading judged with the key that changed it, and
// the causes and what is next as they were weighed last; nil while nothing is worked out.
func (b *Bench) Report() *built.Report {
	of := weighedOf{b.prepared.Got(), b.s.Doc}
	if of.x == nil || b.s.Report == nil {
		return nil
	}
	if whole := b.weighed.Got(); b.judged.of != of || b.judged.whole != whole {
		report := of.x.Verdicts(of.doc.Build.Readings)
		if whole != nil {
			report.Causes, report.Next = whole.Causes, whole.Next
		}
		b.judged.of, b.judged.whole, b.judged.report = of, whole, report
	}
	return b.judged.report
}

// Heed fills the line with the reading that has the keys, where that is another than it
// was. It is to be called after each message.
func (b *Bench) Heed() {
	if !b.IsOpen() || b.Report() == nil {
		return
	}
	if b.rested && b.isWeighed() {
		b.rested = false
		if next := b.Report().Next; len(next) > 0 {
			b.focus = next[0].At
		}
	}
	b.followHand()
	r, ok := b.focused()
	if !ok {
		return
	}
	if b.focus = r.key(); b.filled != b.focus || b.line.Value() != b.given(r) {
		b.filled = b.focus
		b.line.Fill(b.given(r), valueField.Longest())
	}
}

// followHand goes to the same point of the hand that was brought into view.
func (b *Bench) followHand() {
	hands := b.s.Doc.Build.Hands
	_, point, _ := strings.Cut(b.focus, ".")
	if p, ok := b.PlaceOf(b.focus); ok && p.Hand >= 0 && p.Hand != b.s.Hand && b.s.Hand < len(hands) {
		b.focus = hands[b.s.Hand].Name + "." + point
	}
}

// Move goes up or down the points, round their ends.
func (b *Bench) Move(by int) {
	all := b.list()
	if n := len(all); n > 0 {
		b.goTo(all[((b.at()+by)%n+n)%n].key())
	}
}

// goTo gives the keys to a point, or to a reading of none.
func (b *Bench) goTo(key string) {
	b.tidy()
	b.s.Leave()
	b.focus, b.filled = key, ""
	b.s.Enter()
	b.Heed()
}

// GoToPoint opens the pane at a point, and brings its hand into view.
func (b *Bench) GoToPoint(id string) {
	b.form.OpenPane(form.BenchName)
	if x := b.prepared.Got(); x != nil {
		if p, _ := x.PlaceOf(id); p.Hand >= 0 && p.Hand != b.s.Hand {
			b.form.ShowHand(p.Hand)
		}
	}
	b.rested = false
	b.goTo(id)
}

// numbered is the key of the row of a reading of no point.
func numbered(i int) string { return "#" + strconv.Itoa(i) }
