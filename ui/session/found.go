package session

import "example.com/needlewright/model/report"

// Found is what the report found, as people read it.
func (s *Session) Found() *report.Found {
	if s.found.Of != s.Report {
		s.found = report.FoundIn(s.Report)
	}
	return &s.found
}
