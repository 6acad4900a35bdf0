package model

import (
	"slices"
	"strings"
)

// A Suggestion is a choice of parts that would do better than the present one:
// the findings that are left are fewer or milder.
type Suggestion struct {
	ID      string // of the part
	About   string // a hand's or lamp's name, or ""
	Changes []Change
	Text    string // what would change, and to what effect

	index int
	list  string
}

// A part is what can be chosen from what shops have: one row of the table of
// parts.
type part struct {
	id     string
	field  string   // it is offered beside this one
	beside []string // and beside these
	title  string
	// options are choices, the best first, as changes to the build.
	options func(s subject) [][]Change
	// also are the ids of findings that are up to another part, and that this one
	// may mend where that cannot.
	also []string
	// told are the figures by which a choice is judged, with it made.
	told func(s subject) string
	// missing says whether a choice is wanted though nothing is found: it was
	// not made yet, or something was asked for.
	missing func(s subject) bool
}

// tried is how many options of a part are evaluated in full before it is left
// as it is.
const tried = 4

// suggestions are the parts that would do better, in the order of the table; then
// those that mend what the part it is up to cannot.
func suggestions(b *Build, p *Plan, trial *trial, found []graded) []Suggestion {
	var better []Suggestion
	for k := range parts {
		part := &parts[k]
		for i := range Builds.Field(part.field).Of(b) {
			s := subject{b, p, i}
			missing := part.missing != nil && part.missing(s)
			asked := func(g graded) bool { return g.rule.part == part.id && g.concerns(part, i) }
			if missing || slices.ContainsFunc(found, asked) {
				better = part.suggest(better, s, trial, missing)
			}
		}
	}
	offered := better
	for k := range parts {
		part := &parts[k]
		for i := range Builds.Field(part.field).Of(b) {
			asked := func(g graded) bool {
				return slices.Contains(part.also, g.rule.id) && g.concerns(part, i) && !isOffered(offered, g.rule.part, i)
			}
			if !isOffered(offered, part.id, i) && slices.ContainsFunc(found, asked) {
				better = part.suggest(better, subject{b, p, i}, trial, false)
			}
		}
	}
	return better
}

// isOffered says whether a part is among suggestions, for the i-th hand or lamp
// or the whole build.
func isOffered(better []Suggestion, id string, i int) bool {
	return slices.ContainsFunc(better, func(s Suggestion) bool { return s.ID == id && (s.index == i || s.list == "") })
}

// concerns says whether a finding is of the i-th hand or lamp, where the part is
// of one.
func (g *graded) concerns(part *part, i int) bool {
	return Builds.Field(g.rule.field).list != Builds.Field(part.field).list || g.i == i
}

// suggest adds the first option of a part that leaves less to find than there is,
// or, where the part is missing, no more faults and cautions; none where what the build has is as
// good.
func (part *part) suggest(better []Suggestion, s subject, trial *trial, missing bool) []Suggestion {
	options := part.options(s)
	for _, changes := range options[:min(tried, len(options))] {
		changes = s.b.real(changes)
		if len(changes) == 0 {
			break
		}
		after, score := trial.of(changes)
		if score.less(trial.present) || missing && score.harm() <= trial.present.harm() {
			return append(better, part.suggestion(s, changes, subject{after, &trial.plan, s.i}))
		}
	}
	return better
}

func (part *part) suggestion(s subject, changes []Change, after subject) Suggestion {
	field := Builds.Field(part.field)
	suggestion := Suggestion{
		ID: part.id, Changes: changes, index: s.i, list: field.list,
		Text: changesText(s.b, changes) + ": " + part.told(after) + ".",
	}
	if field.list != "" {
		suggestion.About = s.b.NameOf(field.list, s.i)
	}
	return suggestion
}

// real are the changes that change anything.
func (b *Build) real(changes []Change) []Change {
	return slices.DeleteFunc(slices.Clone(changes), func(c Change) bool {
		return nominalText(c.Field.Text(b, c.Index)) == nominalText(c.Text)
	})
}

// At says whether a suggestion has a change for a field.
func (s *Suggestion) At(f *Field, index int) (Change, bool) {
	for _, c := range s.Changes {
		if c.Field == f && c.Index == index {
			return c, true
		}
	}
	return Change{}, false
}

// Title is what the part is called.
func (s *Suggestion) Title() string { return partTable[s.ID].title }

// An Option is one of several choices of a part.
type Option struct {
	Changes []Change // none: it is what the build has
	Text    string
}

// mostOptions is how many choices of a part are listed.
const mostOptions = 12

// Options lists what may be chosen for a field and the parts that go with it, the
// best first, and the title of it; nothing where the field is no part.
func (r *Report) Options(f *Field, index int) (title string, options []Option) {
	part := partOf(f)
	if part == nil {
		return "", nil
	}
	i := index
	if Builds.Field(part.field).list == "" {
		i = 0
	}
	s := subject{r.Build, &r.Plan, i}
	trial := newTrial(r.Build, nil)
	all := part.options(s)
	for _, changes := range all[:min(len(all), mostOptions)] {
		after, _ := trial.of(changes)
		options = append(options, Option{
			Changes: r.Build.real(changes),
			Text:    part.chosenText(changes) + ": " + part.told(subject{after, &trial.plan, i}),
		})
	}
	return part.title, options
}

// partOf is the part a field belongs to, nil where it is none.
func partOf(f *Field) *part {
	for k := range parts {
		if parts[k].field == f.Path || slices.Contains(parts[k].beside, f.Path) {
			return &parts[k]
		}
	}
	return nil
}

// chosenText lists the values of a choice, "8.2 kΩ, 1 kΩ", and by name those of
// other parts of the hand that go with it, where there are any: "stage resistor
// 220 Ω". What a converter usually brings goes without saying.
func (part *part) chosenText(changes []Change) string {
	var texts []string
	for _, c := range changes {
		text := orNone(nominalText(c.Text))
		own := c.Field.Path == part.field || slices.Contains(part.beside, c.Field.Path)
		switch {
		case own && (text != "none" || len(texts) == 0):
			texts = append(texts, text)
		case !own && c.Field.list == "hand" && text != "none" && !strings.HasPrefix(text, "0 "):
			texts = append(texts, strings.ToLower(c.Field.Label)+" "+text)
		}
	}
	return strings.Join(texts, ", ")
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
func (l shortlist[T]) changes(of func(T) []Change) [][]Change {
	changes := make([][]Change, len(l))
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
