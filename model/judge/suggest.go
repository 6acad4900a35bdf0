package judge

import (
	"cmp"
	"slices"
	"strings"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
)

// A Suggestion is a choice of parts that would do better than the present one:
// the findings that are left are fewer or milder.
type Suggestion struct {
	ID      string // of the part
	About   string // a hand's or lamp's name, or ""
	Changes []model.Change
	Text    string // what would change, and to what effect

	index int
	list  string
}

// tried is how many options of a part are evaluated in full before it is left
// as it is.
const tried = 4

// suggestions are the parts that would do better, in the order of the table; then
// those that mend what the part it is up to cannot.
func suggestions(b *model.Build, p *circuit.Plan, trial *trial, found []graded) []Suggestion {
	var better []Suggestion
	for k := range parts {
		part := &parts[k]
		for i := range model.Builds.Field(part.field).Of(b) {
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
		for i := range model.Builds.Field(part.field).Of(b) {
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
	return model.Builds.Field(g.rule.field).List() != model.Builds.Field(part.field).List() || g.i == i
}

// suggest adds the first option of a part that leaves less to find than there is,
// or, where the part is missing, no more faults and cautions, makes no fault that was not
// there, and nothing worse that matters more; none where what the build has is as good.
func (part *part) suggest(better []Suggestion, s subject, trial *trial, missing bool) []Suggestion {
	options := part.options(s)
	for _, changes := range options[:min(tried, len(options))] {
		changes = s.b.Real(changes)
		if len(changes) == 0 {
			break
		}
		after, score := trial.of(changes)
		wanted := missing && score.harm() <= trial.present.harm()
		if !wanted && !score.less(trial.present) || trial.raised || !trial.sound(after, changes) {
			continue
		}
		if worse := trial.worse(after); wanted || worse.bears(trial.present, score) {
			suggestion := part.suggestion(s, changes, subject{after, &trial.plan, s.i})
			suggestion.Text += worse.String()
			return append(better, suggestion)
		}
	}
	return better
}

func (part *part) suggestion(s subject, changes []model.Change, after subject) Suggestion {
	field := model.Builds.Field(part.field)
	suggestion := Suggestion{
		ID: part.id, Changes: changes, index: s.i, list: field.List(),
		Text: model.ChangesText(s.b, changes) + ": " + part.told(after) + ".",
	}
	if field.List() != "" {
		suggestion.About = s.b.NameOf(field.List(), s.i)
	}
	return suggestion
}

// At says whether a suggestion has a change for a field.
func (s *Suggestion) At(f *model.Field, index int) (model.Change, bool) {
	for _, c := range s.Changes {
		if c.Field == f && c.Index == index {
			return c, true
		}
	}
	return model.Change{}, false
}

// Title is what the part is called.
func (s *Suggestion) Title() string { return partTable[s.ID].title }

// An Option is one of several choices of a part.
type Option struct {
	Changes []model.Change // none: it is what the build has
	Text    string         // its parts, its figures, and what it makes worse
	Choice  string         // its parts alone
	Left    Left           // what the build would leave to find
	Figures []Figure
	Named   bool // its choice is said in words, not by values

	unmet bool // of what goes before notes
}

// Left is how much there is to find in a build.
type Left struct{ Faults, Cautions, Notes int }

// Options lists what may be chosen in a solved build for a field and the parts that
// go with it, the best first: by what each leaves to find, then by what decides between
// equals. Order says so in words, and title what is chosen; nothing where the field is no
// part.
func Options(b *model.Build, p *circuit.Plan, f *model.Field, index int) (title, order string, options []Option) {
	part := partOf(f)
	if part == nil {
		return "", "", nil
	}
	i := index
	if model.Builds.Field(part.field).List() == "" {
		i = 0
	}
	s := subject{b, p, i}
	trial := newTrial(b, p, nil)
	list := part.options
	if part.choices != nil {
		list = part.choices
	}
	all := list(s)
	for _, changes := range all[:min(len(all), mostOptions)] {
		o := part.option(s, trial, changes)
		if !slices.ContainsFunc(options, func(other Option) bool { return other.Text == o.Text }) {
			options = append(options, o)
		}
	}
	byRank := func(a, b Option) int { return slices.Compare(a.rank(), b.rank()) }
	slices.SortStableFunc(options, byRank)
	if len(options) > 0 && !slices.ContainsFunc(options, Option.isPresent) {
		if len(options) == mostOptions { // the worst makes room
			options = slices.DeleteFunc(options, func(o Option) bool { return o.Text == worstOf(options).Text })
		}
		options = append(options, part.option(s, trial, part.present(s, all)))
		slices.SortStableFunc(options, byRank)
	}
	return part.title, "Fewest faults and cautions first, " + part.order + ".", options
}

// isPresent says whether it is what the build has.
func (o Option) isPresent() bool { return len(o.Changes) == 0 }

// worstOf is the last of sorted options that is not of another kind.
func worstOf(options []Option) Option {
	last := len(options) - 1
	for last > 0 && options[last].Named {
		last--
	}
	return options[last]
}

// present is what the build has, as a choice beside others: of all that they choose.
func (part *part) present(s subject, others [][]model.Change) []model.Change {
	var own []model.Change
	for _, c := range slices.Concat(others...) {
		known := slices.ContainsFunc(own, func(o model.Change) bool { return o.Field == c.Field })
		if !known && (c.Field.Path == part.field || slices.Contains(part.beside, c.Field.Path)) {
			own = append(own, model.Change{Field: c.Field, Index: c.Index, Text: c.Field.Text(s.b, c.Index)})
		}
	}
	return own
}

// option is a choice of a part, tried.
func (part *part) option(s subject, trial *trial, changes []model.Change) Option {
	build, score := trial.of(changes)
	after, name := subject{build, &trial.plan, s.i}, part.name(s, changes)
	o := Option{
		Changes: s.b.Real(changes), Choice: cmp.Or(name, part.chosenText(changes)), Named: name != "",
		Left: Left{score[0], score[1], score[2]}, Figures: part.figures(after),
	}
	o.Text = o.Choice + ": " + part.told(after) + trial.worse(build).beside()
	if part.meets != nil {
		answer := "yes"
		if o.unmet = !part.meets(after); o.unmet {
			answer = "no"
		}
		o.Figures = append(o.Figures, Figure{Name: part.met, Value: answer})
	}
	return o
}

// rank orders options, the smaller the better; what is named in words is of another kind
// and stands last.
func (o *Option) rank() []int {
	named, unmet := 0, 0
	if o.Named {
		named = 1
	}
	if o.unmet {
		unmet = 1
	}
	return []int{named, o.Left.Faults, o.Left.Cautions, unmet, o.Left.Notes}
}

// partOf is the part a field belongs to, nil where it is none.
func partOf(f *model.Field) *part {
	for k := range parts {
		if parts[k].field == f.Path || slices.Contains(parts[k].beside, f.Path) {
			return &parts[k]
		}
	}
	return nil
}

// name is what a choice is called in words, "" where its values say it.
func (part *part) name(s subject, changes []model.Change) string {
	if part.named == nil {
		return ""
	}
	return part.named(s, changes)
}

// chosenText lists the values of a choice, "8.2 kΩ, 1 kΩ", and by name those of
// other parts of the hand that go with it, where there are any: "stage resistor
// 220 Ω". What a converter usually brings goes without saying.
func (part *part) chosenText(changes []model.Change) string {
	var texts []string
	for _, c := range changes {
		text := model.OrNone(model.NominalText(c.Text))
		own := c.Field.Path == part.field || slices.Contains(part.beside, c.Field.Path)
		switch {
		case own && (text != "none" || len(texts) == 0):
			texts = append(texts, text)
		case !own && c.Field.List() == "hand" && text != "none" && !strings.HasPrefix(text, "0 "):
			texts = append(texts, strings.ToLower(c.Field.Label)+" "+text)
		}
	}
	return strings.Join(texts, ", ")
}

// A Part is what can be chosen from what shops have: the id of its row, what it is called,
// and the field beside which it is offered.
type Part struct {
	ID, Title string
	Field     *model.Field
}

// PartAt returns the part that a field belongs to; false where it is none.
func PartAt(f *model.Field) (Part, bool) {
	if p := partOf(f); p != nil {
		return Part{p.id, p.title, model.Builds.Field(p.field)}, true
	}
	return Part{}, false
}

// Parts are the rows of the table of parts.
func Parts() []Part {
	list := make([]Part, len(parts))
	for k := range parts {
		list[k] = Part{parts[k].id, parts[k].title, model.Builds.Field(parts[k].field)}
	}
	return list
}
