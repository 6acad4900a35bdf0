package working

import (
	"cmp"
	"fmt"
	"strings"
	"unicode/utf8"

	"example.com/needlewright/model/quantity"
)

// Width is how many columns the lines of a working take at most, but for a number that alone
// is longer.
const Width = 76

// A page is how many columns lines may take.
type page int

// Where the columns of a line begin: words, expression, answer.
const (
	wordsAt      = 3
	expressionAt = 34
	answerAt     = 61
)

// Lines returns a working as text: what it is of, its steps, the band and who makes it, why it
// matters, and where it is from.
func (w *Working) Lines() []string { return append(w.heading(), w.Body(Width)...) }

// Body returns the lines below the heading, of so many columns, Width at most.
func (w *Working) Body(columns int) []string {
	p := page(min(columns, Width))
	var lines []string
	for k := range w.Steps {
		lines = append(lines, p.step(k+1, &w.Steps[k])...)
	}
	lines = append(lines, p.trials(w)...)
	if w.Held != "" {
		lines = append(lines, p.wrap(w.Held)...)
	}
	if band := w.bandLine(); band != "" {
		lines = append(lines, p.wrap(band)...)
	}
	lines = append(lines, p.wrap("Why it matters: "+w.Why)...)
	return append(lines, p.wrap("Source: "+w.From())...)
}

// heading is what is worked out, its value, and whose it is: below it where a long name has no
// room beside it.
func (w *Working) heading() []string {
	head := " " + w.Label
	if w.Shown != "" {
		head += "  " + w.Shown
	}
	switch room := Width - length(head) - length(w.About); {
	case w.About == "":
		return []string{head}
	case room < 2:
		return []string{head, pad("", Width-length(w.About)) + w.About}
	default:
		return []string{pad(head, Width-length(w.About)) + w.About}
	}
}

func length(s string) int { return utf8.RuneCountInString(s) }

// step is the lines of a step: one where it has room.
func (p page) step(number int, s *Step) []string {
	answer := "=  " + s.Answer
	if !s.Exact {
		answer = "≈  " + s.Answer
	}
	at := max(0, min(answerAt, int(p)-length(answer)))
	words := fmt.Sprintf("%2d %s", number, s.Words)
	if head := pad(words, expressionAt-2) + "  "; length(head) == expressionAt {
		if line := pad(head+s.Expression+" ", at) + answer; length(line) <= int(p) {
			return []string{line}
		}
	}
	lines := append(p.hang(words, wordsAt), p.broken(s.Expression)...)
	last := &lines[len(lines)-1]
	if line := pad(*last+" ", at) + answer; length(line) <= int(p) {
		*last = line
		return lines
	}
	return append(lines, pad("", at)+answer)
}

// broken is an expression on lines of its own, broken before signs.
func (p page) broken(expression string) []string {
	const indent = "     "
	lines := []string{indent[:wordsAt+1]}
	empty := true
	for _, term := range terms(expression) {
		last := &lines[len(lines)-1]
		switch {
		case empty:
			*last += term
		case length(*last)+1+length(term) <= int(p):
			*last += " " + term
		default:
			lines = append(lines, indent+term)
		}
		empty = false
	}
	return lines
}

// terms are an expression's parts, each with the sign before it: numbers and their units stay
// together.
func terms(expression string) []string {
	var all []string
	for _, word := range strings.Split(expression, " ") {
		if n := len(all); n > 0 && !isSign(word) && (isSign(all[n-1]) || !startsAnew(word)) {
			all[n-1] += " " + word
		} else {
			all = append(all, word)
		}
	}
	return all
}

func isSign(term string) bool {
	switch term {
	case "+", "−", "×", "/", "∥":
		return true
	}
	return false
}

// startsAnew says whether a word is not the unit of the number before it.
func startsAnew(word string) bool {
	c, _ := utf8.DecodeRuneInString(word)
	return c >= '0' && c <= '9' || strings.ContainsRune("(|⌊√-π", c) || strings.HasPrefix(word, "max(") || strings.HasPrefix(word, "min(")
}

// pad makes a text at least so many columns wide.
func pad(s string, columns int) string {
	return s + strings.Repeat(" ", max(0, columns-length(s)))
}

// wrap is a sentence in lines that begin below the words.
func (p page) wrap(text string) []string {
	return p.hang(strings.Repeat(" ", wordsAt)+text, wordsAt)
}

// hang is a text in lines, all but the first of them indented.
func (p page) hang(text string, indent int) []string {
	var lines []string
	line, words := "", strings.Split(text, " ")
	for k, word := range words {
		if k > 0 && length(line)+1+length(word) > int(p) {
			lines, line = append(lines, line), strings.Repeat(" ", indent)+word
			continue
		}
		if k > 0 {
			line += " "
		}
		line += word
	}
	return append(lines, line)
}

// bandLine is between what 95 % of kits lie, and who makes that.
func (w *Working) bandLine() string {
	switch {
	case w.Band == nil:
		return ""
	case !w.Band.Moved():
		return "No tolerance moves it."
	}
	text := "95 % of kits " + cmp.Or(w.BandTextIn(fewest), "as it is") + "; spread by "
	var by []string
	for _, s := range w.Band.Shares {
		if s.Share < 0.005 || len(by) == 4 {
			break
		}
		by = append(by, strings.ToLower(strings.Trim(s.Field.Label, " ±"))+" "+quantity.Show(s.Share, quantity.Percent, 2))
	}
	return strings.TrimSuffix(text+strings.Join(by, ", "), "; spread by ") + "."
}

// From is where a formula is from.
func (w *Working) From() string {
	if w.Result == nil {
		return "the table of parts; how they are chosen is common practice, no source."
	}
	return cmp.Or(w.Source, "model/catalogue.md, "+w.ID) + "."
}

// trials is what was tried, as text, its lines numbered on from the steps.
func (p page) trials(w *Working) []string {
	if w.Trials == nil {
		return nil
	}
	number := len(w.Steps)
	lines := p.wrap("Tried, the best first; " + strings.TrimSpace(here) + " is what the build has. " + w.Order)
	for k := range w.Trials {
		t := &w.Trials[k]
		number++
		if t.Expression == "" {
			lines = append(lines, p.hang(fmt.Sprintf("%2d %s", number, t.Words), wordsAt)...)
		} else {
			lines = append(lines, p.step(number, &t.Step)...)
		}
		lines = append(lines, p.hang("     "+t.Figures, wordsAt+2)...)
	}
	return lines
}
