package cells

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/charmbracelet/x/ansi"
)

// A Fit is what is shown of a piece of text: one rune, or a cluster of a
// rune and its marks, in 1 or 2 columns.
type glyph struct {
	r       rune
	cluster string // empty for a single rune
	width   int
}

// replaced stands for what must not be sent.
var replaced = glyph{r: utf8.RuneError, width: 1}

// maxMarks is how many marks a letter may carry; more are not a script but a
// way to draw over the neighbours.
const maxMarks = 4

// Text writes s on row y from column x on, and returns the columns it took.
// Text that runs over the right edge ends there in …; text that begins left of
// the area loses its beginning. Rows outside the area show nothing.
//
// Control characters are shown as their pictures (␛ for escape), and invalid
// UTF-8, direction overrides, invisible characters and marks without a letter
// as �. Characters of several runes about whose width terminals disagree
// (joined emoji, flags, some signs of Indian and Thai scripts) are taken apart.
func (a Area) Text(x, y int, st Style, s string) int {
	row := a.row(y)
	if len(row) == 0 || x >= len(row) {
		return 0
	}
	at := x
	for s = a.spelled(s); s != ""; {
		g, n := next(s)
		if at+g.width > len(row) {
			row[len(row)-1] = cell{r: '…', style: st}
			return len(row) - x
		}
		a.c.put(row, at, g, st)
		at += g.width
		s = s[n:]
	}
	return at - x
}

// TextRight writes s on row y so that it ends at the right edge, and returns
// the columns it took. Text too long for the area begins at its left edge and
// is cut as by Text. For a column of a table, take the column with Sub.
func (a Area) TextRight(y int, st Style, s string) int {
	return a.Text(max(a.w-Width(a.spelled(s)), 0), y, st, s)
}

// Wrap writes s in lines as wide as the area from row y on, broken as by
// Lines, and returns the rows it needs, also where the area ended before.
func (a Area) Wrap(y int, st Style, s string) int {
	lines := a.Lines(s)
	for i, line := range lines {
		a.Text(0, y+i, st, line)
	}
	return len(lines)
}

// Lines returns the lines in which Wrap would write s.
func (a Area) Lines(s string) []string { return Lines(a.spelled(s), a.w) }

// spelled returns s as the canvas will show it: in ASCII, powers grow by a ^.
func (a Area) spelled(s string) string {
	if a.c != nil && a.c.ASCII {
		return spellPowers(s)
	}
	return s
}

// Width returns the columns that Text takes for s where there is room.
func Width(s string) int {
	w := 0
	for s != "" {
		g, n := next(s)
		w += g.width
		s = s[n:]
	}
	return w
}

// Fits tells whether Text takes at most w columns for s. It reads no further
// than it must.
func Fits(s string, w int) bool {
	for s != "" && w >= 0 {
		g, n := next(s)
		w -= g.width
		s = s[n:]
	}
	return w >= 0
}

// Cut returns s where it fits in w columns, else its head and … in as many.
func Cut(s string, w int) string {
	if Fits(s, w) {
		return s
	}
	return Head(s, w-1) + "…"
}

// CutFront returns s where it fits in w columns, else … and its tail in as many.
func CutFront(s string, w int) string {
	if Fits(s, w) {
		return s
	}
	return "…" + Tail(s, w-1)
}

// Head returns the beginning of s that takes at most w columns, whole characters only.
func Head(s string, w int) string {
	end := 0
	for end < len(s) {
		g, n := next(s[end:])
		if w -= g.width; w < 0 {
			break
		}
		end += n
	}
	return s[:end]
}

// Tail returns the end of s that takes at most w columns, whole characters only.
// It reads no more of s than it must.
func Tail(s string, w int) string {
	start := len(s)
	for range (w + 1) * (1 + maxMarks) { // the most runes that stand in w columns
		_, n := utf8.DecodeLastRuneInString(s[:start])
		start -= n
	}
	s = s[start:]
	for room := Width(s); room > w; {
		g, n := next(s)
		room -= g.width
		s = s[n:]
	}
	return s
}

// Lines breaks s into lines of at most w columns: at each newline, else at
// spaces, which are dropped there, else inside a word that is too long. Spaces
// elsewhere, those at the beginning too, stay. There are none for an empty s
// or w < 1. Only a wide character in one column makes a line too wide.
func Lines(s string, w int) []string {
	if s == "" || w < 1 {
		return nil
	}
	var lines []string
	for part := range strings.SplitSeq(s, "\n") {
		part = strings.TrimRight(part, " ")
		for {
			end, begin := lineBreak(part, w)
			lines = append(lines, part[:end])
			if begin == len(part) {
				break
			}
			part = part[begin:]
		}
	}
	return lines
}

// lineBreak returns where the first line of s ends and where the next begins.
func lineBreak(s string, w int) (end, begin int) {
	col := 0
	for i := 0; i < len(s); {
		if s[i] == ' ' && i > 0 && s[i-1] != ' ' {
			end, begin = i, len(s)-len(strings.TrimLeft(s[i:], " "))
		}
		g, n := next(s[i:])
		col += g.width
		if col > w && end > 0 {
			return end, begin
		}
		if col > w && i > 0 {
			return i, i
		}
		i += n
	}
	return len(s), len(s)
}

// next returns the first glyph of s, which is not empty, and its bytes.
func next(s string) (glyph, int) {
	if b := s[0]; b >= ' ' && b < 0x7f && simpleStart(s[1:]) {
		return glyph{r: rune(b), width: 1}, 1
	}
	r, n := utf8.DecodeRuneInString(s)
	switch {
	case r == utf8.RuneError && n == 1:
		return replaced, 1
	case r < ' ':
		return glyph{r: '␀' + r, width: 1}, n
	case r == 0x7f:
		return glyph{r: '␡', width: 1}, n
	case simple(r) && simpleStart(s[n:]):
		return glyph{r: r, width: 1}, n
	}
	return nextCluster(s, r, n)
}

// simple tells whether r is one of the common signs known to be one column
// wide and never to join another: a short way past the tables.
func simple(r rune) bool {
	return r > 0xa0 && r < 0x250 && r != 0xad || // Latin, µ ° ± ² · ×
		r >= 'Α' && r <= 'ω' && r != 0x3a2 || // Greek
		r >= '‐' && r <= '‧' || // dashes, quotes, …
		r >= 0x2190 && r < 0x2300 || // arrows, mathematical signs, −
		r >= 0x2500 && r < 0x25fd || // lines, blocks, ▸ ●
		r >= 0x2800 && r < 0x2900 // braille
}

// simpleStart tells whether nothing at the start of s can join what is before.
func simpleStart(s string) bool {
	if s == "" || s[0] < utf8.RuneSelf {
		return true
	}
	r, _ := utf8.DecodeRuneInString(s)
	return simple(r)
}

// nextCluster is next by the Unicode tables, for an s that begins with the
// rune r of n bytes. A cluster that cannot be kept whole is taken apart: its
// first rune here, the others when their turn comes.
func nextCluster(s string, r rune, n int) (glyph, int) {
	cluster, width := ansi.FirstGraphemeCluster(head(s), ansi.GraphemeWidth)
	if len(cluster) > n && keeps(cluster, width) {
		return glyph{r: r, cluster: cluster, width: width}, len(cluster)
	}
	width = ansi.StringWidth(s[:n])
	if !IsText(r) || width < 1 || width > 2 || joins(s[:n]) {
		return replaced, n
	}
	// A choice between two pictures of one sign is dropped: it says nothing,
	// and terminals disagree about the width it makes.
	for _, selector := range []string{"\ufe0e", "\ufe0f"} {
		if strings.HasPrefix(s[n:], selector) {
			n += len(selector)
		}
	}
	return glyph{r: r, width: width}, n
}

// head returns the beginning of s that decides about its first cluster: the
// runes before the first broken one, and one more than a cluster may have.
func head(s string) string {
	end := 0
	for range 1 + maxMarks + 1 {
		r, n := utf8.DecodeRuneInString(s[end:])
		if r == utf8.RuneError && n <= 1 {
			break
		}
		end += n
	}
	return s[:end]
}

// keeps tells whether a cluster is safe to send whole: nothing in it is
// invisible, and its runes taken one by one are as wide as the cluster, so
// that terminals that know clusters and those that do not agree.
func keeps(cluster string, width int) bool {
	if width < 1 || width > 2 || utf8.RuneCountInString(cluster) > 1+maxMarks {
		return false
	}
	sum := 0
	for i, r := range cluster {
		if !IsText(r) {
			return false
		}
		sum += ansi.StringWidth(cluster[i : i+utf8.RuneLen(r)])
	}
	return sum == width && !joins(cluster)
}

// IsText tells whether r is shown as it is: no control character, none that turns
// the direction, and none that is not seen.
func IsText(r rune) bool {
	return unicode.IsGraphic(r) &&
		!unicode.In(r, unicode.Other_Default_Ignorable_Code_Point, unicode.Variation_Selector, unicode.Regional_Indicator)
}

// joins tells whether a glyph could melt with its neighbour on the row into
// one of another width: a mark without a letter, part of a Hangul syllable. It asks with one neighbour of each joining kind.
func joins(g string) bool {
	for _, before := range []string{"x", "가"} {
		if first, _ := ansi.FirstGraphemeCluster(before+g, ansi.GraphemeWidth); len(first) > len(before) {
			return true
		}
	}
	for _, after := range []string{"x", "가", "क", "🕐"} {
		if first, _ := ansi.FirstGraphemeCluster(g+after, ansi.GraphemeWidth); len(first) > len(g) {
			return true
		}
	}
	return false
}
