// Package session is the work on one document: its text and file, its history, what is
// reported of it, and the recovery copy of what is not saved.
package session

import (
	"context"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model"
	"example.com/needlewright/model/file"
	"example.com/needlewright/model/report"
	"example.com/needlewright/ui/jobs"
	"example.com/needlewright/ui/notice"
)

// A Session is the work on one document: the text with its file and its history, what
// is reported of it, and which of its hands is in view. All others read it, and change
// it by its methods.
type Session struct {
	Path     string
	stamp    file.Stamp // of the file as it was last read or written
	Saved    string     // the text as it is on the disk, with long values clipped as in doc
	NotSaved bool       // the last saving failed
	GivenUp  bool       // the person chose to leave without saving
	keep     keeper

	Doc     *model.Document
	entered string   // the text when the visit to the focused field began
	Undo    []string // former texts, one a visit to a field
	redo    []string
	Hand    int // which hand the forms and the dial are of

	Report *report.Report // of the last text without problems; nil if none was
	Base   *report.Report // before the last edit
	advice *jobs.Job[*report.Report, *report.Report]
	found  report.Found // as it was asked for last
	moved  []func(now *model.Document)
}

// A Start is what a session begins with.
type Start struct {
	Path, Text string
	Stamp      file.Stamp // of the file when it was read
	Copies     string     // the folder of recovery copies; "": none are kept
}

// New returns the work on a text. say is told what goes wrong beside the keys.
func New(o Start, say *notice.Notice) *Session {
	s := &Session{keep: keeper{folder: o.Copies}}
	s.advice = jobs.New[*report.Report](nil, func(advised *report.Report, err error) {
		if err != nil {
			say.Fail("What would be better could not be worked out: " + err.Error() + ".")
			return
		}
		s.advised(advised)
	})
	s.Open(o.Path, o.Text, o.Stamp)
	return s
}

// Open takes a file's text as the present document, with a history of its own.
// What is kept of the former one is given up.
func (s *Session) Open(path, text string, stamp file.Stamp) tea.Cmd {
	cmd := s.keep.remove()
	s.keep.of(path)
	s.Path, s.stamp, s.NotSaved = path, stamp, false
	s.Undo, s.redo, s.Report, s.Base, s.Hand = nil, nil, nil, nil, 0
	s.Show(model.Open(text))
	s.Saved, s.entered = s.Doc.Text, s.Doc.Text
	return cmd
}

// Begin takes a new build, which has never been saved, for a file that is not there
// yet or for none.
func (s *Session) Begin(path, text string) tea.Cmd {
	cmd := s.Open(path, text, file.Stamp{})
	s.Saved = ""
	return cmd
}

// Show makes a document the present one. The last good report stays while the
// new text has problems.
func (s *Session) Show(d *model.Document) {
	s.Doc = d
	if r := report.Of(d); r != nil {
		s.Report = r
	}
	s.ShowHand(s.Hand)
	for _, do := range s.moved {
		do(d)
	}
}

// OnMove has something done whenever a document takes the place of another: the Keep of a
// job drops what goes on for the former one.
func (s *Session) OnMove(do func(now *model.Document)) { s.moved = append(s.moved, do) }

// ShowHand brings a hand into view, or the last where there are fewer.
func (s *Session) ShowHand(hand int) {
	s.Hand = max(0, min(hand, len(s.Doc.Build.Hands)-1))
}

// Stale says whether the report is of an earlier text.
func (s *Session) Stale() bool { return len(s.Doc.Problems) > 0 }

// Unsaved says whether the text differs from the one on the disk.
func (s *Session) Unsaved() bool { return s.Doc.Text != s.Saved }

// Text returns the document as it stands, as its file would hold it.
func (s *Session) Text() string { return s.Doc.Whole() }

// Name is how the document is called on the screen.
func (s *Session) Name() string {
	if s.Doc.Build.Title != "" {
		return s.Doc.Build.Title
	}
	if s.Path != "" {
		return s.Path[strings.LastIndexAny(s.Path, `/\`)+1:]
	}
	return "untitled"
}

// ReportHand is the hand in view as the report knows it, which may be of an
// earlier text; -1 where it does not.
func (s *Session) ReportHand() int {
	if s.Report == nil || s.Hand >= len(s.Doc.Build.Hands) {
		return -1
	}
	hands := s.Report.Build.Hands
	if len(hands) == len(s.Doc.Build.Hands) {
		return s.Hand // its name alone may have changed
	}
	return slices.IndexFunc(hands, func(h model.Hand) bool { return h.Name == s.Doc.Build.Hands[s.Hand].Name })
}

// SeekAdvice has what would mend the findings, which parts would be better, and the
// bands of the results worked out beside the keys; nil where that is known or being
// worked out.
func (s *Session) SeekAdvice() tea.Cmd {
	if s.Report == nil || isWhole(s.Report) {
		return nil
	}
	return s.advice.Seek(s.Report, adviceOn(s.Report))
}

// AdviseNow waits for it, for what cannot do without.
func (s *Session) AdviseNow() { s.AdviseBy(nil) }

// A Known is whole reports by their texts; who opens the same text many times need not work
// them out again.
type Known map[string]*report.Report

// AdviseBy is AdviseNow, unless known has it; then known has it.
func (s *Session) AdviseBy(known Known) {
	r := s.Report
	if r == nil || isWhole(r) {
		return
	}
	work := adviceOn(r)
	if like := known[r.Text()]; like != nil {
		work = func(context.Context, func(int)) (*report.Report, error) { return r.Like(like), nil }
	}
	s.advice.Now(r, work)
	if known != nil && s.Report != r {
		known[r.Text()] = s.Report.Like(s.Report)
	}
}

// advised takes what was worked out on the report in view.
func (s *Session) advised(r *report.Report) {
	if s.Report == s.advice.Of() {
		s.Report = r
	}
}

// adviceOn works it out.
func adviceOn(r *report.Report) jobs.Work[*report.Report] {
	return func(context.Context, func(int)) (*report.Report, error) { return r.Advised().Banded(), nil }
}

// isWhole says whether nothing is missing from a report.
func isWhole(r *report.Report) bool { return r.IsAdvised() && r.IsBanded() }
