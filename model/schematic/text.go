package schematic

import "strings"

// crossings are the runes of lines by their arms.
var crossings = [16]rune{' ', '│', '│', '│', '─', '┘', '┐', '┤', '─', '└', '┌', '├', '─', '┴', '┬', '┼'}

// plainCrossings are the same in ASCII.
var plainCrossings = [16]rune{' ', '|', '|', '|', '-', '+', '+', '+', '-', '+', '+', '+', '-', '+', '+', '+'}

// Lines are the drawing as text, a line a row, at most Width columns each.
func (d *Drawing) Lines() []string {
	grid := make([][]rune, d.height)
	for y := range grid {
		grid[y] = []rune(strings.Repeat(" ", Width))
	}
	set := func(x, y int, r rune) {
		if 0 <= x && x < Width {
			grid[y][x] = r
		}
	}
	signs := crossings
	if d.plain {
		signs = plainCrossings
	}
	for at, arms := range d.arms {
		set(at.x, at.y, signs[arms])
	}
	for _, m := range d.marks {
		p := symbols[m.kind]
		rows := p.rows
		if d.plain {
			rows = p.plain
		}
		for k, row := range rows {
			for x, r := range []rune(row) {
				set(m.at.x-p.offset(k)+x, m.at.y+k, r)
			}
		}
	}
	for _, w := range d.texts {
		runes := []rune(w.text)
		if w.boxed {
			runes = []rune("[ " + w.text + " ]")
		}
		x := w.at.x
		if w.ends {
			x -= len(runes) - 1
		}
		for k, r := range runes {
			set(x+k, w.at.y, r)
		}
	}
	lines := make([]string, len(grid))
	for y := range grid {
		lines[y] = strings.TrimRight(string(grid[y]), " ")
	}
	return lines
}

// Text is the drawing as text.
func (d *Drawing) Text() string { return strings.Join(d.Lines(), "\n") + "\n" }
