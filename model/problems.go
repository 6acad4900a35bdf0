package model

import (
	"fmt"
	"strings"
)

// A Problem says why a file, or one value of it, cannot be used: where it is,
// what was given, what is allowed and what to do.
type Problem struct {
	Line    int    // in the text, from 1
	Path    string // "hand.hours.meter.coil"; "" where it concerns no one value
	Label   string // the field's name on the form
	Given   string // as typed
	Wrong   string // what is wrong with it
	Allowed string // "0.5 Ω to 100 kΩ"
	Remedy  string // what to do
	Others  int    // of the last one: how many more the text has, which are not kept
}

// Count returns how many problems there are, with those that were not kept.
func Count(problems []Problem) int {
	n := len(problems)
	if n > 0 {
		n += problems[n-1].Others
	}
	return n
}

// Message is the problem in one sentence or two, without its place.
func (p Problem) Message() string {
	var b strings.Builder
	if p.Label != "" {
		b.WriteString(p.Label + ": ")
	}
	if p.Given != "" {
		fmt.Fprintf(&b, "%s: ", quoted(p.Given))
	}
	b.WriteString(p.Wrong)
	if p.Allowed != "" {
		b.WriteString("; allowed: " + p.Allowed)
	}
	if p.Remedy != "" {
		b.WriteString("; " + p.Remedy)
	}
	return b.String()
}

// String is the problem with its place, as `check` prints it.
func (p Problem) String() string {
	if p.Path == "" {
		return fmt.Sprintf("line %d: %s", p.Line, p.Message())
	}
	return fmt.Sprintf("line %d: %s: %s", p.Line, p.Path, p.Message())
}

// quoted puts a value in quotes, cut where it is long, with whatever could
// disturb a terminal escaped.
func quoted(s string) string {
	return fmt.Sprintf("%q", cut(s, 40))
}

// cut is the beginning of a text, where it has more than so many characters.
func cut(s string, most int) string {
	for i := range s {
		if most == 0 {
			return s[:i] + "…"
		}
		most--
	}
	return s
}
