// Package cells is a grid of terminal cells on which a whole frame is laid
// out before it becomes one string, once a View.
//
// Everything is drawn through an Area, which clips: text, lines, boxes and
// dots never leave it, whatever their size. What comes out has the exact size
// of the canvas, and no byte of the drawn text reaches the terminal as a
// command: what cannot be shown safely is shown as a sign standing for it.
//
// The package knows colours only as places in a Palette, and no meanings.
package cells

import "unicode/utf8"

// maxSide bounds the canvas, so that a window of absurd size costs memory for
// no more than four million cells.
const maxSide = 2000

// tail stands in the right half of a wide character.
const tail rune = 0

// A cell is one column of one row. A wide character holds two: its own with
// wide set, and a tail. A pair that was half overwritten is shown as blanks;
// so drawing in one area never has to touch a cell of its neighbour.
type cell struct {
	r     rune // a negative one is -1 minus the place in Canvas.clusters
	style Style
	wide  bool
}

// A Canvas is the grid. It and its byte buffer are meant to be kept from frame
// to frame: Clear, draw, String. Not for use by several goroutines at once.
type Canvas struct {
	// ASCII replaces every sign outside ASCII by a plain one, for terminals
	// that have no others. Set it before drawing.
	ASCII bool

	w, h     int
	cells    []cell
	clusters []string // characters of several runes: a letter with its marks
	buf      []byte
}

// New returns a blank canvas of w columns and h rows. A size below 0 counts as
// 0, one above 2000 as 2000.
func New(w, h int) *Canvas {
	c := &Canvas{}
	c.Resize(w, h)
	return c
}

// UseASCII draws with plain characters only, or with all of them.
func (c *Canvas) UseASCII(only bool) { c.ASCII = only }

// Resize gives the canvas w columns and h rows, with the bounds of New, and
// clears it. Areas taken before are out of date; drawing in them does no harm.
func (c *Canvas) Resize(w, h int) {
	c.w, c.h = min(max(w, 0), maxSide), min(max(h, 0), maxSide)
	if n := c.w * c.h; n <= cap(c.cells) {
		c.cells = c.cells[:n]
	} else {
		c.cells = make([]cell, n)
	}
	c.Clear()
}

// Clear makes all cells blank, in style 0. Begin each frame with it.
func (c *Canvas) Clear() {
	for i := range c.cells {
		c.cells[i] = cell{r: ' '}
	}
	clear(c.clusters)
	c.clusters = c.clusters[:0]
}

// Size returns the columns and rows.
func (c *Canvas) Size() (w, h int) { return c.w, c.h }

// Area returns the whole canvas as an area to draw in.
func (c *Canvas) Area() Area { return Area{c: c, w: c.w, h: c.h} }

// String returns the frame: the rows joined by newlines, each of exactly the
// canvas's columns, with the palette's sequences where the style changes and
// closed at the end of the row. The last cell of the last row is left out,
// since a terminal wipes it when its window shrinks.
func (c *Canvas) String(p Palette) string {
	buf := c.buf[:0]
	for y := range c.h {
		if y > 0 {
			buf = append(buf, '\n')
		}
		buf = c.appendRow(buf, c.shown(y), p)
	}
	c.buf = buf
	return string(buf)
}

func (c *Canvas) appendRow(buf []byte, row []cell, p Palette) []byte {
	var on mark
	now := -1
	for x := range row {
		if st := row[x].style; int(st) != now {
			now = int(st)
			buf = append(buf, on.suffix...)
			on = p.mark(st)
			buf = append(buf, on.prefix...)
		}
		if r := row[x].r; r >= ' ' && r < utf8.RuneSelf && !row[x].wide {
			buf = append(buf, byte(r)) // most cells by far
		} else {
			buf = c.appendCell(buf, row, x)
		}
	}
	return append(buf, on.suffix...)
}

// Plain returns the frame as text without styles, trailing spaces cut from
// each row: for tests and for eyes.
func (c *Canvas) Plain() string {
	buf := c.buf[:0]
	for y := range c.h {
		if y > 0 {
			buf = append(buf, '\n')
		}
		start := len(buf)
		row := c.shown(y)
		for x := range row {
			buf = c.appendCell(buf, row, x)
		}
		for len(buf) > start && buf[len(buf)-1] == ' ' {
			buf = buf[:len(buf)-1]
		}
	}
	c.buf = buf
	return string(buf)
}

// shown returns the cells of row y that are sent.
func (c *Canvas) shown(y int) []cell {
	row := c.cells[y*c.w : (y+1)*c.w]
	if y == c.h-1 && c.w > 0 {
		row = row[:c.w-1]
	}
	return row
}

// appendCell appends what stands in column x of the row, one column for each
// cell, or two for a wide character and then nothing for its tail.
func (c *Canvas) appendCell(buf []byte, row []cell, x int) []byte {
	at := row[x]
	whole := at.wide && x+1 < len(row) && row[x+1].r == tail
	switch {
	case at.r == tail && x > 0 && row[x-1].wide: // the wide one has filled it
		return buf
	case at.r == tail || at.wide && !whole:
		return append(buf, ' ')
	case c.ASCII && at.wide:
		return append(buf, unknown, unknown)
	case c.ASCII:
		return append(buf, standIn(c.base(at.r)))
	case at.r < 0:
		return append(buf, c.clusters[-1-at.r]...)
	}
	return utf8.AppendRune(buf, at.r)
}

// base returns the first rune of what a cell holds.
func (c *Canvas) base(r rune) rune {
	if r < 0 {
		r, _ = utf8.DecodeRuneInString(c.clusters[-1-r])
	}
	return r
}

// put writes g at column x of a row that has room for it on the right; what
// lies left of the row is dropped, and half a character leaves a blank.
func (c *Canvas) put(row []cell, x int, g glyph, st Style) {
	if x < 0 {
		if x+g.width > 0 {
			row[0] = cell{r: ' ', style: st}
		}
		return
	}
	r := g.r
	if g.cluster != "" {
		c.clusters = append(c.clusters, g.cluster)
		r = -rune(len(c.clusters))
	}
	row[x] = cell{r: r, style: st, wide: g.width == 2}
	if g.width == 2 {
		row[x+1] = cell{r: tail, style: st}
	}
}
