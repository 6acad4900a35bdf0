package side

import (
	"fmt"

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

// findingLines lays findings out, worst first, in up to two fifths of w by h;
// more is how many have no room, and rows what is taken with saying so.
func (r *results) findingLines(w, h int) (lines []findingLine, more, rows int) {
	found := r.s.Report.Findings
	room := max(1, h*2/5)
	for i, f := range found {
		text := f.String()
		needs := len(cells.Lines(text, w-2))
		if len(lines) > 0 && rows+needs > room {
			more = len(found) - i
			break
		}
		needs = min(needs, room)
		lines = append(lines, findingLine{f, text, rows, needs})
		rows += needs
	}
	if more > 0 && h >= tight && !r.moreFits(lines[len(lines)-1], more, w) {
		rows++
	}
	return lines, more, rows
}

// tight is the height below which the number of further findings stands in the
// line of the last one, whatever it covers.
const tight = 6

// moreText says how many findings have no room, and what leads to them.
func (r *results) moreText(more int) string {
	return fmt.Sprintf("%d more: %s", more, r.keys.Finding.Help().Key)
}

// moreFits says whether that stands behind the last line of a finding.
func (r *results) moreFits(l findingLine, more, w int) bool {
	lines := cells.Lines(l.text, w-2)
	return w-2-cells.Width(lines[l.rows-1]) > cells.Width(r.moreText(more))+1
}

// drawFindings lists what is wrong, as findingLines lays it out.
func (r *results) drawFindings(at cells.Area, lines []findingLine, more, rows int) {
	w, h := at.Size()
	sign := ""
	if more > 0 && h < tight {
		sign = fmt.Sprintf(" +%d", more)
	}
	for _, l := range lines {
		style := draw.SeverityStyles[l.finding.Severity]
		if r.s.Stale() {
			style = draw.Dim
		}
		at.Text(0, l.y, style, draw.Signs[l.finding.Severity])
		text := at.Sub(2, l.y, w-2-len(sign), l.rows)
		if l.rows == 1 {
			text.Text(0, 0, style, l.text) // where it is cut, a sign says so
		} else {
			text.Wrap(0, style, l.text)
		}
	}
	switch {
	case more == 0:
	case sign != "":
		at.Sub(w-len(sign), rows-1, len(sign), 1).Text(0, 0, draw.Dim, sign)
	case r.moreFits(lines[len(lines)-1], more, w):
		at.Sub(2, rows-1, w-2, 1).TextRight(0, draw.Dim, r.moreText(more))
	default:
		at.Text(2, rows-1, draw.Dim, r.moreText(more))
	}
}
