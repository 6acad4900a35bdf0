package session

import (
	"slices"

	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/report"
)

// found is what was found last, as people read it.
type found struct {
	of     *report.Report
	all    []judge.Finding
	places []int // in all, of each finding of the report
}

// Found are the findings of the report as people read them. Where there is one hand they
// do not say whose they are.
func (s *Session) Found() []judge.Finding {
	if s.found.of == s.Report {
		return s.found.all
	}
	all, places := report.JoinedAt(s.Report.Findings)
	if hands := s.Report.Build.Hands; len(hands) == 1 {
		for i := range all {
			if f := &all[i]; f.About == hands[0].Name {
				f.About = ""
			}
		}
	}
	s.found = found{s.Report, all, places}
	return all
}

// PlaceOf is the place among them of one of the report's findings, as it is now; -1 where it
// is there no more.
func (s *Session) PlaceOf(f *judge.Finding) int {
	s.Found()
	k := slices.IndexFunc(s.Report.Findings, func(now judge.Finding) bool { return now.ID == f.ID && now.About == f.About })
	if k < 0 {
		return -1
	}
	return s.found.places[k]
}
