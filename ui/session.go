package ui

import (
	"context"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model"
	"example.com/needlewright/model/file"
	"example.com/needlewright/model/report"
	"example.com/needlewright/ui/jobs"
)

// A session is the work on one document: the text with its file and its history, what
// is reported of it, and which of its hands is in view. All others read it, and change
// it by its methods.
type session struct {
	path     string
	stamp    file.Stamp // of the file as it was last read or written
	saved    string     // the text as it is on the disk, with long values clipped as in doc
	notSaved bool       // the last saving failed
	givenUp  bool       // the person chose to leave without saving
	keep     keeper

	doc     *model.Document
	entered string   // the text when the visit to the focused field began
	undo    []string // former texts, one a visit to a field
	redo    []string
	hand    int // which hand the forms and the dial are of

	report *report.Report // of the last text without problems; nil if none was
	base   *report.Report // before the last edit
	advice *jobs.Job[*report.Report, *report.Report]
}

// newSession returns the work on a text. say is told what goes wrong beside the keys.
func newSession(path, text string, stamp file.Stamp, copies string, say *notice) *session {
	s := &session{keep: keeper{folder: copies}}
	s.advice = jobs.New[*report.Report](nil, func(advised *report.Report, err error) {
		if err != nil {
			say.fail("What would be better could not be worked out: " + err.Error() + ".")
			return
		}
		s.advised(advised)
	})
	s.open(path, text, stamp)
	return s
}

// open takes a file's text as the present document, with a history of its own.
// What is kept of the former one is given up.
func (s *session) open(path, text string, stamp file.Stamp) tea.Cmd {
	cmd := s.keep.remove()
	s.keep.of(path)
	s.path, s.stamp, s.notSaved = path, stamp, false
	s.undo, s.redo, s.report, s.base, s.hand = nil, nil, nil, nil, 0
	s.show(model.Open(text))
	s.saved, s.entered = s.doc.Text, s.doc.Text
	return cmd
}

// begin takes a new build, which has never been saved, for a file that is not there
// yet or for none.
func (s *session) begin(path, text string) tea.Cmd {
	cmd := s.open(path, text, file.Stamp{})
	s.saved = ""
	return cmd
}

// show makes a document the present one. The last good report stays while the
// new text has problems.
func (s *session) show(d *model.Document) {
	s.doc = d
	if r := report.Of(d); r != nil {
		s.report = r
	}
	s.showHand(s.hand)
}

// showHand brings a hand into view, or the last where there are fewer.
func (s *session) showHand(hand int) {
	s.hand = max(0, min(hand, len(s.doc.Build.Hands)-1))
}

// stale says whether the report is of an earlier text.
func (s *session) stale() bool { return len(s.doc.Problems) > 0 }

// Unsaved says whether the text differs from the one on the disk.
func (s *session) Unsaved() bool { return s.doc.Text != s.saved }

// Text returns the document as it stands, as its file would hold it.
func (s *session) Text() string { return s.doc.Whole() }

// name is how the document is called on the screen.
func (s *session) name() string {
	if s.doc.Build.Title != "" {
		return s.doc.Build.Title
	}
	if s.path != "" {
		return s.path[strings.LastIndexAny(s.path, `/\`)+1:]
	}
	return "untitled"
}

// reportHand is the hand in view as the report knows it, which may be of an
// earlier text; -1 where it does not.
func (s *session) reportHand() int {
	if s.report == nil || s.hand >= len(s.doc.Build.Hands) {
		return -1
	}
	hands := s.report.Build.Hands
	if len(hands) == len(s.doc.Build.Hands) {
		return s.hand // its name alone may have changed
	}
	return slices.IndexFunc(hands, func(h model.Hand) bool { return h.Name == s.doc.Build.Hands[s.hand].Name })
}

// seekAdvice has what would mend the findings, which parts would be better, and the
// bands of the results worked out beside the keys; nil where that is known or being
// worked out.
func (s *session) seekAdvice() tea.Cmd {
	if s.report == nil || isWhole(s.report) {
		return nil
	}
	return s.advice.Seek(s.report, adviceOn(s.report))
}

// adviseNow waits for it, for what cannot do without.
func (s *session) adviseNow() {
	if s.report != nil && !isWhole(s.report) {
		s.advice.Now(s.report, adviceOn(s.report))
	}
}

// advised takes what was worked out on the report in view.
func (s *session) advised(r *report.Report) {
	if s.report == s.advice.Of() {
		s.report = r
	}
}

// adviceOn works it out.
func adviceOn(r *report.Report) jobs.Work[*report.Report] {
	return func(context.Context, func(int)) (*report.Report, error) { return r.Advised().Banded(), nil }
}

// isWhole says whether nothing is missing from a report.
func isWhole(r *report.Report) bool { return r.IsAdvised() && r.IsBanded() }
