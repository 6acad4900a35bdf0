// Package schematic draws the network of a clock: as text in Unicode or plain ASCII, and as
// SVG. What is drawn is laid out once, on a grid of cells; both ways of printing read that.
package schematic

import (
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// Width is how many columns a drawing takes at most: so many a page of the dashboard has in a
// window of 80.
const Width = 76

// The arms of lines that meet in a cell.
const (
	up = 1 << iota
	down
	left
	right
)

// A place is a cell of the grid.
type place struct{ x, y int }

// A line is one straight line between the middles of two cells.
type line struct{ from, to place }

// A words is a text on the grid.
type words struct {
	at    place // of its first cell; of its last, where it ends there
	ends  bool
	text  string
	heavy bool
	boxed bool // brackets around it in text, a frame in SVG
}

// A mark is a symbol, of which text has runes and SVG a path of its own.
type mark struct {
	kind symbol
	at   place
}

// A Drawing is a circuit laid out on a grid.
type Drawing struct {
	Title string
	Drawn []string // ids of the parts, in the order in which they were drawn

	plain  bool // in ASCII alone
	height int
	arms   map[place]int
	lines  []line
	texts  []words
	marks  []mark
}

func newDrawing(title string, plain bool) *Drawing {
	d := &Drawing{plain: plain, arms: map[place]int{}}
	d.Title = d.printable(title)
	return d
}

// reach makes the grid as high as what stands in a row.
func (d *Drawing) reach(y int) { d.height = max(d.height, y+1) }

// down draws a line from one row to a lower one.
func (d *Drawing) down(x, from, to int) {
	for y := from; y < to; y++ {
		d.arms[place{x, y}] |= down
		d.arms[place{x, y + 1}] |= up
	}
	d.lines = append(d.lines, line{place{x, from}, place{x, to}})
	d.reach(to)
}

// across draws a line from one column to one further right.
func (d *Drawing) across(from, to, y int) {
	for x := from; x < to; x++ {
		d.arms[place{x, y}] |= right
		d.arms[place{x + 1, y}] |= left
	}
	d.lines = append(d.lines, line{place{from, y}, place{to, y}})
	d.reach(y)
}

// box draws a rectangle.
func (d *Drawing) box(x, y, toX, toY int) {
	d.across(x, toX, y)
	d.across(x, toX, toY)
	d.down(x, y, toY)
	d.down(toX, y, toY)
}

// put draws a symbol.
func (d *Drawing) put(kind symbol, x, y int) {
	d.marks = append(d.marks, mark{kind, place{x, y}})
	d.reach(y + len(symbols[kind].rows) - 1)
}

// text writes from a cell on, clipped to so many columns.
func (d *Drawing) text(x, y, most int, s string) {
	d.write(words{at: place{x, y}, text: clipped(d.printable(s), most)})
}

// heading writes a line that stands out.
func (d *Drawing) heading(y int, s string) {
	d.write(words{at: place{0, y}, text: clipped(d.printable(s), Width), heavy: true})
}

// number writes a text that ends before a column.
func (d *Drawing) number(x, y int, s string) {
	d.write(words{at: place{x - 1, y}, ends: true, text: d.printable(s)})
}

func (d *Drawing) write(w words) {
	if w.text != "" {
		d.texts = append(d.texts, w)
	}
	d.reach(w.at.y)
}

// spelled are signs that plain ASCII spells.
var spelled = strings.NewReplacer(
	"Ω", "ohm", "µ", "u", "μ", "u", "±", "+-", "−", "-", "–", "-", "×", "x", "°", " deg ", "…", "~", "’", "'", "²", "2", "½", "1/2", "→", "->",
)

// printable is a text with nothing in it that a terminal or a reader of XML could obey, and
// of a plain drawing in ASCII alone.
func (d *Drawing) printable(s string) string {
	s = strings.Map(func(r rune) rune {
		if !unicode.IsGraphic(r) {
			return unicode.ReplacementChar
		}
		if unicode.IsSpace(r) {
			return ' '
		}
		return r
	}, s)
	if !d.plain {
		return s
	}
	return strings.Map(func(r rune) rune {
		switch {
		case unicode.Is(unicode.Mn, r):
			return -1
		case r > unicode.MaxASCII:
			return '?'
		}
		return r
	}, norm.NFD.String(spelled.Replace(s)))
}

// width is how many columns a text takes at most: signs that may be two columns wide are.
func width(s string) (n int) {
	for _, r := range s {
		n++
		if r >= 0x1100 && (r < 0x2000 || r > 0x2bff) {
			n++
		}
	}
	return n
}

// clipped is as much of a text as fits, with a sign where some is left out.
func clipped(s string, most int) string {
	if width(s) <= most {
		return s
	}
	end := "…"
	if isASCII(s) {
		end = "~"
	}
	var kept strings.Builder
	n := 1
	for _, r := range s {
		if n += width(string(r)); n > most {
			break
		}
		kept.WriteRune(r)
	}
	return strings.TrimRight(kept.String(), " ") + end
}

func isASCII(s string) bool {
	return strings.IndexFunc(s, func(r rune) bool { return r > unicode.MaxASCII }) < 0
}
