// Package reader reads a printed working as a pupil does: line by line, with a
// calculator. Tests alone use it: it judges what writes workings, and so it shares
// nothing with that. It rests on what the lines are promised to be, and on nothing
// else of ours.
//
// Where that leaves something open, it is decided here:
//
//   - An angle is in radians, as π in the same expression says.
//   - Hours, years and days are themselves, and an Ah is one ampere for one hour; 7 Ah ×
//     2 %/a / 8766 is 7 × 0.02 / 8766 A. An expression that has seconds too is refused.
//   - A minute is 60 s, and a degree Celsius counts as it is written.
//   - A working's lines are numbered from 1 without a gap.
package reader

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"
)

// Width is how many columns a line may take.
const Width = 76

// A Line is one numbered line of a working.
type Line struct {
	Number     int
	Words      string
	Expression string // "": a part that was tried, of which there is none
	Answer     string
	Exact      bool // false: the expression only comes near the answer
}

var (
	numbered = regexp.MustCompile(`^ ?(\d+) (\S.*)$`)
	answered = regexp.MustCompile(`^(.*?) *([=≈])  (\S.*)$`)
	within   = regexp.MustCompile(`within (\S+ %)`)
)

// Lines returns the numbered lines of a printed working. An error says which line has
// no answer, no expression, a number out of turn, or too many columns.
func Lines(text string) ([]Line, error) {
	var lines []Line
	open, tried := false, false
	for row := range strings.SplitSeq(strings.TrimRight(text, "\n"), "\n") {
		if n := utf8.RuneCountInString(row); n > Width {
			return nil, fmt.Errorf("%d columns, more than %d: %q", n, Width, row)
		}
		if m := numbered.FindStringSubmatch(row); m != nil {
			if n, _ := strconv.Atoi(m[1]); n != len(lines)+1 {
				return nil, fmt.Errorf("line %s stands where line %d is due: %q", m[1], len(lines)+1, row)
			}
			if open && !tried {
				return nil, fmt.Errorf("no answer before %q", row)
			}
			words, rest, _ := strings.Cut(m[2], "  ")
			lines = append(lines, Line{Number: len(lines) + 1, Words: words})
			open = !lines[len(lines)-1].take(rest)
			continue
		}
		tried = tried || strings.HasPrefix(row, "   Tried")
		if !open || len(lines) == 0 {
			continue
		}
		last := &lines[len(lines)-1]
		switch {
		case strings.HasPrefix(row, "     ") && last.Expression == "" && !strings.ContainsAny(row, "=≈"):
			open = false // the figures of a part without an expression
		case strings.HasPrefix(row, "    "):
			open = !last.take(row)
		default:
			last.Words += " " + strings.TrimSpace(row)
		}
	}
	if open && !tried {
		return nil, fmt.Errorf("no answer in line %d", len(lines))
	}
	return lines, nil
}

// take takes a piece of an expression, and tells whether its answer stands at the end.
func (l *Line) take(piece string) (whole bool) {
	m := answered.FindStringSubmatch(piece)
	if m != nil {
		piece, l.Exact, l.Answer = m[1], m[2] == "=", strings.TrimSpace(m[3])
	}
	l.Expression = strings.TrimSpace(l.Expression + " " + strings.TrimSpace(piece))
	return m != nil
}

// String returns the line as it is reported.
func (l Line) String() string {
	sign := "≈"
	if l.Exact {
		sign = "="
	}
	return fmt.Sprintf("%d %s: %s %s %s", l.Number, l.Words, l.Expression, sign, l.Answer)
}

// near is how near a line that is not exact comes to its answer.
const near = 0.02

// Check computes the line's expression from what is printed, in SI units. An error says
// that it cannot be read, or does not give the printed answer: to half a unit of its
// last digit where the line is exact, else within 2 %, or what its words say.
func (l Line) Check() (float64, error) {
	answer, half, err := Number(l.Answer)
	if err != nil {
		return 0, fmt.Errorf("answer: %w", err)
	}
	got, err := Compute(l.Expression)
	if err != nil {
		return 0, err
	}
	allowed := half
	if !l.Exact {
		share := near
		if m := within.FindStringSubmatch(l.Words); m != nil {
			if share, _, err = Number(m[1]); err != nil || share > near {
				return got, fmt.Errorf("within %q", m[1])
			}
		}
		allowed = share * math.Abs(answer)
	}
	if !same(got, answer, allowed) {
		return got, fmt.Errorf("gives %.9g, printed is %.9g ± %.3g", got, answer, allowed)
	}
	return got, nil
}

// grain is what a result in a unit may be off nought by rounding in binary: a dial has up
// to 1440 min and a day 86400 s, of which it is far below the last digit.
var grain = map[string]float64{"min": 1e-12, "s": 1e-12, "s/day": 1e-12, "ppm": 1e-12}

// Tells returns an error unless the last exact line's answer is the value, in a unit, to
// all its digits, at least four; nought has none.
func Tells(lines []Line, value float64, unit string) error {
	size, err := Size(unit)
	if err != nil {
		return err
	}
	for i := len(lines) - 1; i >= 0; i-- {
		if !lines[i].Exact {
			continue
		}
		answer, half, err := Number(lines[i].Answer)
		switch {
		case err != nil:
			return err
		case max(math.Abs(answer), math.Abs(value*size)) <= grain[unit]*size: // both are nought
			return nil
		case !same(answer, value*size, half):
			return fmt.Errorf("line %s: the value is %.9g %s", lines[i], value, unit)
		case value != 0 && digits(lines[i].Answer) < 4:
			return fmt.Errorf("line %s: less than four digits of %.9g %s", lines[i], value, unit)
		}
		return nil
	}
	return fmt.Errorf("no exact line")
}

// Loose returns the exact lines, but the last, whose answer no later line has: a step that
// leads nowhere. Nought may be left out of a later line.
func Loose(lines []Line) []Line {
	var loose []Line
	for k, l := range lines {
		if !l.Exact || k == len(lines)-1 || digits(l.Answer) == 0 {
			continue
		}
		used := false
		for _, later := range lines[k+1:] {
			used = used || later.Answer == l.Answer || slices.Contains(inside.FindAllString(later.Expression, -1), l.Answer)
		}
		if !used {
			loose = append(loose, l)
		}
	}
	return loose
}

// same allows a difference, and what rounding in binary does to it.
func same(got, want, allowed float64) bool {
	return math.Abs(got-want) <= allowed*(1+1e-9)+1e-12*math.Abs(want)
}

// digits counts the figures of a number from the first that is not 0.
func digits(number string) int {
	number, _, _ = strings.Cut(number, " ")
	number, _, _ = strings.Cut(number, "e")
	return len(strings.TrimLeft(strings.NewReplacer("-", "", ".", "").Replace(number), "0"))
}
