package ui

import (
	"fmt"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model"
	"example.com/needlewright/model/caution"
	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/measure"
	"example.com/needlewright/model/quantity"
	"example.com/needlewright/ui/draw"
	"example.com/needlewright/ui/form"
	"example.com/needlewright/ui/front"
	"example.com/needlewright/ui/keys"
)

// A question asks for one answer: a choice in words, or a text, or either.
type question struct {
	about, hint string
	path        string                        // of the field it is about
	to          func(*answers) *string        // where its answer goes
	needed      func(*answers) bool           // nil: always
	choices     func(*answers) []choice       // nil: none
	typed       bool                          // a text may be typed
	first       func(*answers) string         // what stands there before it was answered; nil: nothing
	wrong       func(*answers) *model.Problem // what is wrong with a text; nil: what reading it finds
}

// A choice is one of the answers to a question, in words.
type choice struct{ text, hint, value string }

// answers are what was said so far.
type answers struct {
	judge.Meter
	rail, cell, pack string
	shows, name      string
	hands            []model.Hand // of the build that gets a further one
}

// An interview asks questions one after another. Esc goes back to the one before, and
// out at the first; what was typed stays.
type interview struct {
	form  *form.Form
	front *front.Front
	keys  *keys.Map

	what string // it is for
	of   []question
	said answers
	left map[int]string // what stood in the line of a question when it was left
	told string         // the text whose comma was told of
	done func(*answers) tea.Cmd
}

// begin asks the first question.
func (v *interview) begin() tea.Cmd {
	v.left = map[int]string{}
	return v.ask(v.beside(-1, 1))
}

// beside is the next question that is needed, or the one before; none: -1, or how many
// there are.
func (v *interview) beside(i, by int) int {
	for i += by; i >= 0 && i < len(v.of) && v.of[i].needed != nil && !v.of[i].needed(&v.said); {
		i += by
	}
	return i
}

// ask asks the i-th question; behind the last one all is said.
func (v *interview) ask(i int) tea.Cmd {
	if i == len(v.of) {
		return v.done(&v.said)
	}
	q := &v.of[i]
	p := &front.Prompt{
		Title: v.what + ": " + q.about, Hint: q.hint, Fixed: !q.typed,
		Help: func(ascii bool) front.Page { return v.page(q, ascii) },
	}
	chosen, present := -1, v.said.build()
	if q.choices != nil {
		for k, c := range q.choices(&v.said) {
			p.Entries = append(p.Entries, v.entry(i, c, present))
			if c.value == *q.to(&v.said) {
				chosen = k
			}
		}
	}
	if q.typed {
		p.Danger, p.More = v.beneath(q, &v.said, present)
		p.Accept = func(text string) (string, func() tea.Cmd) { return v.accept(i, text) }
		p.Meant = func(text string) string { return v.meant(q, text) }
		if f := model.Builds.Field(q.path); f.Wanted() != "" {
			p.Wants, p.Most = f.Wanted(), f.Longest()
		}
	}
	if before := v.beside(i, -1); before >= 0 {
		p.Back = func(typed string) tea.Cmd {
			v.keep(i, typed)
			return v.ask(before)
		}
	}
	v.told = ""
	v.form.Leave()
	v.front.Ask(p, v.line(i, chosen >= 0))
	if chosen >= 0 {
		p.Choose(chosen)
	}
	return nil
}

// line is what stands in the line of the i-th question at first.
func (v *interview) line(i int, chosen bool) string {
	q := &v.of[i]
	if text, ok := v.left[i]; ok {
		return text
	}
	if q.first != nil {
		return q.first(&v.said)
	}
	if chosen {
		return ""
	}
	return *q.to(&v.said)
}

// entry is a choice as a line of the prompt, beside what is said so far.
func (v *interview) entry(i int, c choice, present *model.Build) front.Entry {
	q, said := &v.of[i], v.said
	*q.to(&said) = c.value
	e := front.Entry{Text: c.text, Hint: c.hint, Do: func() tea.Cmd { return v.take(i, c.value) }}
	e.Danger, e.More = v.beneath(q, &said, q.with(c.value, &said, present))
	if c.hint != "" {
		e.More = strings.TrimSpace(c.text + ": " + c.hint + ". " + e.More)
	}
	return e
}

// accept takes a text that was typed, or says what is wrong with it.
func (v *interview) accept(i int, text string) (problem string, do func() tea.Cmd) {
	q, said := &v.of[i], v.said
	if strings.TrimSpace(text) == "" && q.choices != nil {
		return "Nothing is typed; ↓ chooses: " + q.choices(&said)[0].text + ".", nil
	}
	*q.to(&said) = text
	comma := v.comma(q, text)
	if p := q.problem(&said); p != nil {
		refused := *p
		if p.Given != "" {
			refused.Given = text // without what would be put behind it
		}
		return comma + refused.Message(), nil
	}
	if comma != "" && v.told != text {
		v.told = text
		return comma + v.keys.Accept.Help().Key + " again takes it as it is.", nil
	}
	return "", func() tea.Cmd {
		v.keep(i, text)
		return v.take(i, text)
	}
}

// meant is what else a number may mean, whose comma may part thousands; "" where that would
// be no answer.
func (v *interview) meant(q *question, text string) string {
	f := model.Builds.Field(q.path)
	meant, ok := quantity.Thousands(text)
	if !ok || f.Wanted() == "" {
		return ""
	}
	said := v.said
	*q.to(&said) = meant
	if q.problem(&said) != nil {
		return ""
	}
	return quantity.Complete(meant, "", f.Unit)
}

// comma says so of a text, and which key makes it that; "" where nothing else is meant.
func (v *interview) comma(q *question, text string) string {
	comma, meant := quantity.Comma(text, model.Builds.Field(q.path).Unit), v.meant(q, text)
	if comma == "" || meant == "" {
		return ""
	}
	return comma + ". " + v.keys.Take.Help().Key + " makes it " + meant + ". "
}

// keep keeps what stands in the line of the i-th question, but for what stood there at
// first: that may be another the next time.
func (v *interview) keep(i int, text string) {
	delete(v.left, i)
	if first := v.of[i].first; first == nil || text != first(&v.said) {
		v.left[i] = text
	}
}

// take takes an answer and goes on.
func (v *interview) take(i int, answer string) tea.Cmd {
	*v.of[i].to(&v.said) = answer
	return v.ask(v.beside(i, 1))
}

// problem is what is wrong with an answer, nil where nothing is.
func (q *question) problem(said *answers) *model.Problem {
	if q.wrong != nil {
		return q.wrong(said)
	}
	b, problems := judge.Unsized(said.meter(), said.supply())
	path := model.Builds.Field(q.path).PathOf(b, 0)
	k := slices.IndexFunc(problems, func(p model.Problem) bool { return p.Path == path })
	if k < 0 {
		return nil
	}
	return &problems[k]
}

// build is what is said so far, with what is usual for the rest.
func (a *answers) build() *model.Build {
	b, _ := judge.Unsized(a.meter(), a.supply())
	return b
}

// with is the build once a choice is said too.
func (q *question) with(choice string, said *answers, present *model.Build) *model.Build {
	f := model.Builds.Field(q.path)
	if !slices.Contains(f.Choices, choice) {
		return said.build()
	}
	return present.Changed([]model.Change{{Field: f, Text: choice}}) // sooner than reading it
}

// cautions are those of a build at the field that a question is about.
func (q *question) cautions(b *model.Build) []caution.Caution {
	return caution.At(b, model.Builds.Field(q.path), 0)
}

// beneath is what stands below the form: the gravest danger, and what the help has.
func (v *interview) beneath(q *question, said *answers, b *model.Build) (danger, more string) {
	cautions, has := q.cautions(b), []string(nil)
	if measure.Steps(q.path, said.measured()) != nil {
		has = append(has, "says how to find it, in steps")
	}
	if len(cautions) > 0 {
		danger = cautions[0].Text
	}
	switch n := len(cautions) - 1; {
	case n == 1:
		has = append(has, "has 1 caution more")
	case n > 1:
		has = append(has, fmt.Sprintf("has %d cautions more", n))
	}
	if has == nil {
		return danger, ""
	}
	return danger, v.keys.Cautions.Help().Key + " " + strings.Join(has, ", and ") + "."
}

// page is the help of a question: what it asks, how to find that, and what can be hurt.
func (v *interview) page(q *question, ascii bool) front.Page {
	said := v.said
	if e, ok := v.front.Chosen(); ok {
		for _, c := range q.choices(&said) {
			if c.text == e.Text {
				*q.to(&said) = c.value
			}
		}
	}
	p := front.Page{Title: v.what + ": " + q.about}
	p.Add(draw.Heading, q.hint)
	p.Add(draw.Value, model.Builds.Field(q.path).Help)
	form.AddSteps(&p, measure.Steps(q.path, said.measured()))
	form.AddSurvey(&p, q.path, "say that you don't know: then "+keys.First(v.keys.Unknown))
	if cautions := q.cautions(said.build()); len(cautions) > 0 {
		p.Add(draw.Heading, "\nWhat can be hurt")
		form.AddCautions(&p, cautions, ascii)
	}
	return p
}
