package cells

import (
	"image"
	"math"
)

// An Area is a rectangle of a canvas. What is drawn through it is placed
// relative to its top left cell and cut at its edges. The zero Area has no
// cells.
type Area struct {
	c          *Canvas
	x, y, w, h int
}

// Size returns the columns and rows.
func (a Area) Size() (w, h int) { return a.w, a.h }

// Sub returns the part of a that lies in the rectangle of w columns and h rows
// with its top left at column x and row y of a.
func (a Area) Sub(x, y, w, h int) Area {
	x, w = clip(x, w, a.w)
	y, h = clip(y, h, a.h)
	return Area{c: a.c, x: a.x + x, y: a.y + y, w: w, h: h}
}

// clip cuts the stretch of n from start to what lies in 0 to size.
func clip(start, n, size int) (int, int) {
	n = max(n, 0)
	if start < 0 {
		start, n = 0, max(n+start, 0)
	}
	start = min(start, size)
	return start, min(n, size-start)
}

// ASCII says whether it is drawn with plain characters only.
func (a Area) ASCII() bool { return a.c != nil && a.c.ASCII }

// In returns the part of a that lies in a rectangle.
func (a Area) In(r image.Rectangle) Area { return a.Sub(r.Min.X, r.Min.Y, r.Dx(), r.Dy()) }

// Inset returns a without dx columns left and right and dy rows above and
// below.
func (a Area) Inset(dx, dy int) Area { return a.Sub(dx, dy, a.w-2*dx, a.h-2*dy) }

// Rows returns the h rows of a from row y on.
func (a Area) Rows(y, h int) Area { return a.Sub(0, y, a.w, h) }

// SplitLeft returns the first n columns of a, and the others.
func (a Area) SplitLeft(n int) (left, rest Area) {
	n = min(max(n, 0), a.w)
	return a.Sub(0, 0, n, a.h), a.Sub(n, 0, a.w-n, a.h)
}

// SplitTop returns the first n rows of a, and the others.
func (a Area) SplitTop(n int) (top, rest Area) {
	n = min(max(n, 0), a.h)
	return a.Rows(0, n), a.Rows(n, a.h-n)
}

// row returns the cells of row y, none if there is no such row. It looks at
// the canvas's size too, for areas that are older than the last Resize.
func (a Area) row(y int) []cell {
	if y < 0 || y >= a.h || a.y+y >= a.c.h {
		return nil
	}
	from, to := min(a.x, a.c.w), min(a.x+a.w, a.c.w)
	start := (a.y + y) * a.c.w
	return a.c.cells[start+from : start+to]
}

// Fill puts r into every cell. A rune that is not one column wide, or must not
// be sent, is shown as in Text or as �.
func (a Area) Fill(st Style, r rune) {
	g, _ := next(string(r))
	if g.width != 1 {
		g = replaced
	}
	a.fill(st, g.r)
}

// fill is Fill for a rune known to be sound.
func (a Area) fill(st Style, r rune) {
	for y := range a.h {
		row := a.row(y)
		for x := range row {
			row[x] = cell{r: r, style: st}
		}
	}
}

// HLine draws a line of n columns to the right from column x of row y.
func (a Area) HLine(x, y, n int, st Style) { a.Sub(x, y, n, 1).fill(st, '─') }

// VLine draws a line of n rows downwards from column x of row y.
func (a Area) VLine(x, y, n int, st Style) { a.Sub(x, y, 1, n).fill(st, '│') }

// Box draws a line round the inside of a, with the title in its upper edge if
// there is one and room for it, and returns the area inside the line.
func (a Area) Box(st Style, title string) Area {
	right, bottom := a.w-1, a.h-1
	a.VLine(right, 0, a.h, st)
	a.VLine(0, 0, a.h, st)
	a.HLine(0, bottom, a.w, st)
	a.HLine(0, 0, a.w, st)
	a.set(right, bottom, st, '╯')
	a.set(0, bottom, st, '╰')
	a.set(right, 0, st, '╮')
	a.set(0, 0, st, '╭')
	if edge := a.Sub(2, 0, a.w-4, 1); title != "" && edge.w > 2 {
		n := edge.Inset(1, 0).Text(0, 0, st, title)
		edge.set(0, 0, st, ' ')
		edge.set(n+1, 0, st, ' ')
	}
	return a.Inset(1, 1)
}

func (a Area) set(x, y int, st Style, r rune) { a.Sub(x, y, 1, 1).fill(st, r) }

// Bar draws a bar on row y from column x on: as long as a share, 0 to 1, of what
// is left of the row, in half columns. What is above 0 is to be seen.
func (a Area) Bar(x, y int, st Style, share float64) {
	room := a.Sub(x, y, a.w-x, 1)
	if !(share > 0) { // NaN neither
		return
	}
	halves := max(1, int(math.Round(2*float64(room.w)*min(share, 1))))
	room.Sub(0, 0, halves/2, 1).fill(st, '█')
	room.Sub(halves/2, 0, halves%2, 1).fill(st, '▌')
}
