package front

import "example.com/needlewright/ui/cells"

// Of a list with figures: the columns between two of them, and those that are left at
// least for the texts of its entries.
const (
	figureGap = 2
	leastText = 14
)

// figureColumns are how wide the figures of the entries are, with their heads.
func (p *Prompt) figureColumns() []int {
	columns := make([]int, len(p.Heads))
	for i, head := range p.Heads {
		columns[i] = cells.Width(head)
		for _, e := range p.Entries {
			if i < len(e.Figures) {
				columns[i] = max(columns[i], cells.Width(e.Figures[i]))
			}
		}
	}
	return columns
}

// Columns is how wide a list with figures is at most, 0 for any other.
func (p *Prompt) Columns() int {
	if len(p.Heads) == 0 {
		return 0
	}
	wide := leastText
	for _, e := range p.Entries {
		wide = max(wide, cells.Width(e.Mark+e.Text))
	}
	for _, c := range p.figureColumns() {
		wide += figureGap + c
	}
	return wide
}

// drawFigures draws figures at the right end of a row, the first of them that fit, and
// returns what is left of it for a text.
func (p *Prompt) drawFigures(row cells.Area, style cells.Style, figures []string) cells.Area {
	w, _ := row.Size()
	columns, taken, n := p.figureColumns(), 0, 0
	for n < len(columns) && w-taken-figureGap-columns[n] >= leastText {
		taken += figureGap + columns[n]
		n++
	}
	x := w - taken
	for i, c := range columns[:n] {
		if i < len(figures) {
			row.Sub(x+figureGap, 0, c, 1).TextRight(0, style, figures[i])
		}
		x += figureGap + c
	}
	return row.Sub(0, 0, w-taken, 1)
}
