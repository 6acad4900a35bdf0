package cells

import (
	"strings"
	"unicode/utf8"
)

// unknown stands for a sign without a stand-in.
const unknown = '?'

// standIns are the signs with a plain one to stand for them, one column for
// one. R for the ohm is the letter of resistor markings.
var standIns = func() map[rune]byte {
	m := map[rune]byte{}
	for _, row := range []struct {
		plain byte
		signs string
	}{
		{'~', "±≈∼"},
		{'-', "−\u2010\u2011\u2012–—―─━┄┅┈┉╌╍═"},
		{'V', "√"},
		{'[', "⌊"},
		{']', "⌋"},
		{'|', "∥│┃┆┇┊┋╎╏║▏▕"},
		{'*', "·•●∙⋅°★☆✓"},
		{'x', "×✗✕"},
		{'/', "÷∕╱"},
		{'\\', "╲"},
		{'u', "\u00b5\u03bc"},
		{'R', "\u03a9\u2126"},
		{'D', "Δ∆"},
		{'t', "τ"},
		{'p', "π"},
		{'n', "η"},
		{'o', "○◦º"},
		{'>', "→▸▶►›»≥…"}, // … is where a text goes on
		{'<', "←◂◀◄‹«≤"},
		{'^', "↑▴▲"},
		{'v', "↓▾▼"},
		{'=', "≡↔"},
		{'#', "█▉▊▋▌▐▀▄■▇▆▅▓"},
		{':', "▒"},
		{'.', "░"},
		{'_', "▁▂▃"},
		{'!', "⚠≠"},
		{'\'', "‘’′"},
		{'"', "“”″"},
		{' ', "\u00a0\u2007\u2009\u202f\u2800"},
	} {
		for _, r := range row.signs {
			m[r] = row.plain
		}
	}
	for i, r := range []rune("₀₁₂₃₄₅₆₇₈₉") {
		m[r] = '0' + byte(i)
	}
	return m
}()

// standIn returns the plain sign for r.
func standIn(r rune) byte {
	if r >= ' ' && r < 0x7f {
		return byte(r)
	}
	if dots := r - braille; dots > 0 && dots < 0x100 {
		return strokeOf(byte(dots))
	}
	if plain, ok := standIns[r]; ok {
		return plain
	}
	if r >= 0x2500 && r < 0x2580 { // corners and crossings of lines
		return '+'
	}
	return unknown
}

const (
	raised = "⁰¹²³⁴⁵⁶⁷⁸⁹⁻⁺"
	level  = "0123456789-+"
)

// spellPowers writes raised digits as ^ and level ones: 10⁻³ as 10^-3. No sign
// can stand for them one to one, since 3² must not be read as 32.
func spellPowers(s string) string {
	if !strings.ContainsAny(s, raised) {
		return s
	}
	var b strings.Builder
	up := false
	for s != "" {
		r, n := utf8.DecodeRuneInString(s)
		i := strings.IndexRune(raised, r)
		if r == utf8.RuneError || i < 0 {
			b.WriteString(s[:n])
			up = false
		} else {
			if !up {
				b.WriteByte('^')
			}
			b.WriteByte(level[utf8.RuneCountInString(raised[:i])])
			up = true
		}
		s = s[n:]
	}
	return b.String()
}

// strokeOf returns the plain sign that looks most like the dots of a braille
// cell: its slope where a line passes, its height where it only steps or
// touches a corner.
func strokeOf(dots byte) byte {
	left, right := column(dots, 0), column(dots, 1)
	top, bottom := min(left.top, right.top), max(left.bottom, right.bottom)
	both, tall := left.n > 0 && right.n > 0, bottom-top >= 2
	switch fall := right.middle() - left.middle(); {
	case left.n+right.n > 6:
		return '#'
	case both && fall >= 1 && tall:
		return '\\'
	case both && fall <= -1 && tall:
		return '/'
	case tall:
		return '|'
	case both && top == 3:
		return '_'
	case both && (top == bottom || top+bottom == 3):
		return '-'
	case top+bottom >= 3: // below the middle of the cell
		return '.'
	}
	return '\''
}

// A stretch is the dots of one column of a braille cell: how many, and the
// rows of the first and the last.
type stretch struct{ n, top, bottom int }

func column(dots byte, x int) stretch {
	s := stretch{top: DotsHigh, bottom: -1}
	for y := range DotsHigh {
		if dots&dotBits[y][x] != 0 {
			s.n++
			s.top, s.bottom = min(s.top, y), y
		}
	}
	return s
}

func (s stretch) middle() float64 { return float64(s.top+s.bottom) / 2 }
