package walk

import (
	"slices"
	"strings"

	"example.com/needlewright/model"
	"example.com/needlewright/model/bench"
	"example.com/needlewright/model/judge"
)

// noHand stands for the hand of a stage that is the clock's.
const noHand = -1

// What is shared by all stages of a document.
type shared struct {
	d     *model.Document
	b     *model.Build
	found []judge.Finding
	walk  *Walk

	verdicts map[string]bench.Verdict // of the readings, by test point; nil: not asked for yet
}

// A site is a stage of one hand, or of the clock.
type site struct {
	*shared
	id    string // of the stage
	hand  int
	rests ground
}

func (s *site) handName() string {
	if s.hand == noHand {
		return ""
	}
	return s.b.Hands[s.hand].Name
}

// index is which of its list a field of the stage is of.
func (s *site) index(f *model.Field) int {
	if f.List() == "hand" {
		return s.hand
	}
	return 0
}

// row is the last of the file's rows of the stage that says with what it was done, -1 where
// none does.
func (s *site) row() int {
	for i := len(s.b.Walk) - 1; i >= 0; i-- {
		if s.isOwn(i) && s.b.Walk[i].RestedOn != "" {
			return i
		}
	}
	return -1
}

// isOwn says whether a row of the file is of this stage and hand.
func (s *site) isOwn(row int) bool {
	r := &s.b.Walk[row]
	return r.Stage == s.id && r.Hand == s.handName()
}

// signed is where the last word on a condition stands: the row, and the place in it; row -1
// where there is none.
func (s *site) signed(id string) (row, at int) {
	for row := len(s.b.Walk) - 1; row >= 0; row-- {
		for at := len(s.b.Walk[row].Met) - 1; at >= 0; at-- {
			if s.isOwn(row) && s.b.Walk[row].Met[at].ID == id {
				return row, at
			}
		}
	}
	return -1, 0
}

// saysYes says whether what was said of a condition is more than no, and of all of it.
func saysYes(value string) bool {
	value = strings.ToLower(strings.TrimSpace(value))
	return value != "" && value != "no" && !partly.MatchString(value)
}

// isKnown says whether a field is given, and not only assumed.
func (s *site) isKnown(path string) bool {
	f := model.Builds.Field(path)
	if f.Of(s.b) == 0 {
		return false
	}
	text, given := s.d.Given(f, s.index(f))
	if !given || strings.TrimSpace(text) == "" {
		return false
	}
	mark := s.d.Mark(f, s.index(f))
	return !slices.Contains(notKnown, mark)
}

// Known is the text of a field of the stage's hand that somebody gave; "" of one that is
// absent or only assumed.
func (s *State) Known(path string) string {
	if !s.site.isKnown(path) {
		return ""
	}
	f := model.Builds.Field(path)
	text, _ := s.site.d.Given(f, s.site.index(f))
	return text
}

// notKnown are the marks behind values that nobody has measured or chosen.
var notKnown = []string{"assumed", "measure it"}

// pathOf is the path of a field of the stage, with the name of its hand.
func (s *site) pathOf(path string) string {
	f := model.Builds.Field(path)
	return f.PathOf(s.b, s.index(f))
}

// pointID is the id of a test point of the stage's hand.
func (s *site) pointID(point string) string { return s.handName() + "." + point }

// isInside says whether the reading that counts at a test point is what a sound clock reads
// there, with all its parts within their tolerances.
func (s *site) isInside(id string) bool {
	if s.readingAt(id) < 0 {
		return false
	}
	if s.verdicts == nil {
		s.verdicts = map[string]bench.Verdict{}
		for _, r := range bench.Sound(s.b).Verdicts(s.b.Readings).Readings {
			if !r.Before {
				s.verdicts[r.At] = r.Verdict
			}
		}
	}
	return s.verdicts[id] == bench.Inside || s.verdicts[id] == bench.Edge
}

// readingAt is which reading counts at a test point: the last since the last repair; -1 where
// there is none.
func (s *site) readingAt(id string) int {
	for i := len(s.b.Readings) - 1; i >= 0; i-- {
		if r := &s.b.Readings[i]; r.At == id && r.Before != "yes" && r.Value != "" {
			return i
		}
	}
	return -1
}

// list joins what there is to be said in a line.
func list(what []string) string { return strings.Join(what, ", ") }
