package judge

import (
	"slices"
	"strconv"
	"strings"

	"example.com/needlewright/model"
	"example.com/needlewright/model/quantity"
)

// A part is what can be chosen from what shops have: one row of the table of
// parts.
type part struct {
	id     string
	field  string   // it is offered beside this one
	beside []string // and beside these
	title  string
	// options are choices, the best first, as changes to the build.
	options func(s subject) [][]model.Change
	// choices are what is listed to choose from, where that is more than is ever offered.
	choices func(s subject) [][]model.Change
	// named says in words what a choice is; "", or no such function: by its values.
	named func(s subject, changes []model.Change) string
	// also are the ids of findings that are up to another part, and that this one
	// may mend where that cannot.
	also []string
	// figures are those by which a choice is judged, with it made.
	figures func(s subject) []Figure
	// order says in words what decides between choices that leave as many faults and
	// cautions.
	order string
	// meets says of a choice, with it made, what goes before notes; met heads that. nil:
	// nothing does.
	meets func(s subject) bool
	met   string
	// missing says whether a choice is wanted though nothing is found: it was
	// not made yet, or something was asked for.
	missing func(s subject) bool
}

// A Figure is a number by which a choice is judged: its name and value, and how a sentence
// tells it.
type Figure struct{ Name, Value, told string }

// named is a figure that a sentence names too.
func named(name, value string) Figure { return Figure{name, value, name + " " + value} }

// bare is one that speaks for itself in a sentence.
func bare(name, value string) Figure { return Figure{name, value, value} }

// told are the figures by which a choice is judged, with it made, in a sentence.
func (part *part) told(s subject) string {
	var told []string
	for _, f := range part.figures(s) {
		told = append(told, f.told)
	}
	return strings.Join(told, ", ")
}

// A rank orders choices, the smaller the better: by what is found, then by what
// decides among equals. No number of it is NaN.
type rank [9]float64

// ranked is the rank of a choice by its score, then by its worth.
func ranked(s score, worth ...float64) rank {
	r := rank{float64(s[0]), float64(s[1]), float64(s[2])}
	copy(r[len(s):], worth)
	return r
}

// A shortlist holds the best choices of a part, the best first.
type shortlist[T any] []choice[T]

type choice[T any] struct {
	of   T
	rank rank
}

// add puts a choice behind those that are as good, if it is among the best.
func (l *shortlist[T]) add(of T, r rank) {
	at := len(*l)
	for at > 0 && slices.Compare(r[:], (*l)[at-1].rank[:]) < 0 {
		at--
	}
	if at == mostOptions {
		return
	}
	if len(*l) == mostOptions {
		*l = (*l)[:mostOptions-1]
	}
	*l = slices.Insert(*l, at, choice[T]{of, r})
}

// changes are what the choices change.
func (l shortlist[T]) changes(of func(T) []model.Change) [][]model.Change {
	changes := make([][]model.Change, len(l))
	for k := range l {
		changes[k] = of(l[k].of)
	}
	return changes
}

// number01 is 1 where something is so: among choices it stands behind.
func number01(so bool) float64 {
	if so {
		return 1
	}
	return 0
}

// mostOptions is how many choices of a part are listed.
const mostOptions = 12

// Usual tolerances of parts. Common practice, no source.
const (
	resistorTolerance, trimmerTolerance        = 0.01, 0.10
	capacitorTolerance, loadCapacitorTolerance = 0.20, 0.05
	lampResistorTolerance                      = 0.05
	railTolerance, pinTolerance                = 0.01, 0.30
	readingTolerance                           = 0.02 // of an inexpensive multimeter, its last digits counted
)

// asUsual is a value with a tolerance: its own, or the usual one where it has none.
func asUsual(v quantity.Value, tolerance float64) quantity.Value {
	if v.Tolerance == 0 {
		v.Tolerance, v.Share = tolerance, true
	}
	return v
}

// sized is a part of a size, with the tolerance of the present one, or the usual
// one of its kind.
func sized(present quantity.Value, x, tolerance float64) quantity.Value {
	v := quantity.Value{Number: x}
	if x > 0 {
		v.Tolerance, v.Share = tolerance, true
		if present.Share && present.Tolerance > 0 {
			v.Tolerance = present.Tolerance
		}
	}
	return v
}

// change is another text for a field of the subject.
func (s subject) change(path, text string) model.Change {
	return model.Change{Field: model.Builds.Field(path), Index: s.i, Text: text}
}

// count is another count.
func (s subject) count(path string, n int) model.Change { return s.change(path, strconv.Itoa(n)) }

// size is another part of a kind with such a tolerance.
func (s subject) size(path string, x, tolerance float64) model.Change {
	f := model.Builds.Field(path)
	present := f.At(s.b, s.i).(*quantity.Value)
	return s.change(path, quantity.Format(sized(*present, x, tolerance), f.Unit))
}
