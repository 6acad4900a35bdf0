package side

import (
	"context"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model"
	"example.com/needlewright/model/whatif"
	"example.com/needlewright/ui/jobs"
	"example.com/needlewright/ui/keys"
	"example.com/needlewright/ui/notice"
	"example.com/needlewright/ui/session"
)

// A differ says what differs between the build and another state of it: the file as saved, or
// a state that was kept, which stays until the program ends. It changes nothing.
type differ struct {
	s    *session.Session
	say  *notice.Notice
	keys *keys.Map

	kept   *model.Document // the state that was kept; nil: none was
	called string          // what its build is called
	byKept bool            // it is compared with that, not with the file
	saved  *model.Document // the file as saved, as it was opened last
	top    int             // lines above the window
	made   *jobs.Job[pair, *whatif.Comparison]
}

// A pair is what is compared; a document never changes.
type pair struct{ from, to *model.Document }

func newDiffer(s *session.Session, say *notice.Notice, keys *keys.Map) *differ {
	return &differ{s: s, say: say, keys: keys, made: jobs.New[pair](nil, func(_ *whatif.Comparison, err error) {
		if err != nil {
			say.Fail("The two could not be compared: " + err.Error() + ".")
		}
	})}
}

// Keep keeps the present state as the one to compare with.
func (d *differ) Keep() {
	if d.s.Stale() {
		d.say.Warn("A state is kept once every value can be read: " + d.s.ToMend() + ".")
		return
	}
	again := ""
	if d.kept != nil {
		again = ", in place of the one before"
	}
	d.kept, d.called, d.byKept, d.top = d.s.Doc, d.s.Name(), true, 0
	d.say.Say("This state is kept until needlewright ends" + again + ": " + keys.First(d.keys.Differ) + " shows what differs from it.")
}

// HasKept says whether a state was kept.
func (d *differ) HasKept() bool { return d.kept != nil }

// choose chooses what to compare with; false where there is no such thing, which is said.
func (d *differ) choose(kept bool) bool {
	if kept && d.kept == nil {
		d.say.Say("No state was kept yet: " + d.keys.Menu.Help().Key + ", Keep this state to compare, keeps the present one.")
		return false
	}
	d.byKept, d.top = kept, 0
	return true
}

// turn goes from the one to the other; false where no state was kept.
func (d *differ) turn() bool { return d.choose(!d.byKept) }

// open says whether there is something to compare with, and else what is missing.
func (d *differ) open() bool {
	from := d.from()
	switch {
	case from == nil && d.kept != nil:
		d.byKept = true
	case from == nil:
		d.say.Say("Nothing is saved yet to compare with: save it, or keep this state (" + d.keys.Menu.Help().Key + ").")
		return false
	case len(from.Problems) > 0:
		d.say.Warn("The file as saved cannot be compared: " + from.Problems[0].Message() + ".")
		return false
	}
	d.top = 0
	return true
}

// from is what the build is compared with; nil where nothing was saved.
func (d *differ) from() *model.Document {
	if d.byKept {
		return d.kept
	}
	if d.s.Saved == "" {
		return nil
	}
	if d.saved == nil || d.saved.Text != d.s.Saved {
		d.saved = d.s.Doc.Reopen(d.s.Saved)
	}
	return d.saved
}

// name is what it is compared with, in words.
func (d *differ) name() string {
	switch {
	case d.byKept && d.called != d.s.Name():
		return "the state you kept (" + d.called + ")"
	case d.byKept:
		return "the state you kept"
	case d.s.Path == "":
		return "what was opened"
	}
	return "the file as saved"
}

// wanted is what is to be compared; false where one of them cannot be.
func (d *differ) wanted() (pair, bool) {
	from := d.from()
	if from == nil || d.s.Stale() || len(from.Problems) > 0 {
		return pair{}, false
	}
	return pair{from, d.s.Doc}, true
}

// seek compares them beside the keys; nil where that is known.
func (d *differ) seek() tea.Cmd {
	p, ok := d.wanted()
	if !ok {
		return nil
	}
	return d.made.Seek(p, p.compare)
}

// now waits for it.
func (d *differ) now() {
	if p, ok := d.wanted(); ok {
		d.made.Now(p, p.compare)
	}
}

// compare is the work.
func (p pair) compare(context.Context, func(int)) (*whatif.Comparison, error) {
	return whatif.Compare(p.from, p.to), nil
}

// found is what differs, as far as it is known; present says whether of the build as it is.
func (d *differ) found() (c *whatif.Comparison, present bool) {
	p, ok := d.wanted()
	if of := d.made.Of(); of.to == nil || of.from != d.from() {
		return nil, false
	}
	return d.made.Got(), ok && d.made.Of() == p
}

// inputName is what an input that differs is called; several says whether there are several
// hands.
func inputName(in whatif.InputDiff, several bool) string {
	list, rest, _ := strings.Cut(in.Path, ".")
	owner, key, _ := strings.Cut(rest, ".")
	named := session.Names[list] != nil // its elements have names that people know
	switch {
	case in.Label == "": // a whole element: lamp.night
		return list + " " + rest
	case !named && strings.Contains(rest, "."), // of a row: reading.hours.pin_top.value
		strings.Count(key, ".") > 1: // of a hand's row: hand.hours.scale.3.at
		return in.Label + ", " + rest[:strings.LastIndex(rest, ".")]
	case named && (list != "hand" || several):
		return in.Label + ", " + owner
	}
	return in.Label
}
