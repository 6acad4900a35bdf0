package side

import (
	"example.com/needlewright/model/judge"
	"example.com/needlewright/ui/cells"
	"example.com/needlewright/ui/draw"
)

// A findingLine is a finding where it stands.
type findingLine struct {
	finding judge.Finding
	text    string
	y, rows int
}

// ShowFinding has the finding that was gone to stand first, until nil is.
func (r *results) ShowFinding(f *judge.Finding) { r.goneTo = f }

// firstShown is the place of the one that was gone to among those that were found; 0, the
// worst, where none was, or it was mended.
func (r *results) firstShown() int {
	if r.goneTo == nil {
		return 0
	}
	return max(0, r.s.Found().Place(r.goneTo))
}

// findingLines lays findings out, worst first or from the one that was gone to, in up to two
// fifths of w by h, the first in three rows where it needs them; rows is what they take.
func (r *results) findingLines(w, h int) (lines []findingLine, rows int) {
	room := max(1, h*2/5)
	for _, f := range r.s.Found().All[r.firstShown():] {
		text := f.String()
		needs := len(cells.Lines(text, w-2))
		if len(lines) > 0 && rows+needs > room {
			break
		}
		needs = min(needs, max(room, min(3, h/2)))
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
