package side

import (
	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/report"
	"example.com/needlewright/ui/cells"
	"example.com/needlewright/ui/draw"
)

// A findingLine is a finding where it stands.
type findingLine struct {
	finding judge.Finding
	text    string
	y, rows int
}

// found are the findings of the report as people read them. Where there is one hand they
// do not say whose they are.
func (r *results) found() []judge.Finding {
	now := r.s.Report
	if r.joined.of == now {
		return r.joined.all
	}
	r.joined.of, r.joined.all = now, report.Joined(now.Findings)
	if hands := now.Build.Hands; len(hands) == 1 {
		for i := range r.joined.all {
			if f := &r.joined.all[i]; f.About == hands[0].Name {
				f.About = ""
			}
		}
	}
	return r.joined.all
}

// findingLines lays findings out, worst first, in up to two fifths of w by h; rows is
// what they take.
func (r *results) findingLines(w, h int) (lines []findingLine, rows int) {
	room := max(1, h*2/5)
	for _, f := range r.found() {
		text := f.String()
		needs := len(cells.Lines(text, w-2))
		if len(lines) > 0 && rows+needs > room {
			break
		}
		needs = min(needs, room)
		lines = append(lines, findingLine{f, text, rows, needs})
		rows += needs
	}
	return lines, rows
}

// drawFindings lists what is wrong, as findingLines lays it out.
func (r *results) drawFindings(at cells.Area, lines []findingLine) {
	w, _ := at.Size()
	for _, l := range lines {
		style := draw.SeverityStyles[l.finding.Severity]
		if r.s.Stale() {
			style = draw.Dim
		}
		at.Text(0, l.y, style, draw.Signs[l.finding.Severity])
		draw.Cut(at.Sub(2, l.y, w-2, l.rows), style, l.text, "")
	}
}
