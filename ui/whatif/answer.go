package whatif

import (
	"math"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/quantity"
	"example.com/needlewright/model/whatif"
	"example.com/needlewright/ui/form"
	"example.com/needlewright/ui/front"
	"example.com/needlewright/ui/session"
	"example.com/needlewright/ui/side"
)

// inputs are the quantities and counts of the build as a prompt lists them: of those that move
// the result the parts first, then counts, whose steps are coarse, then what is measured; of
// each the strongest first. The others follow.
func (v *View) inputs() []front.Entry {
	b := v.s.Doc.Build
	moves := v.s.Report.Sensitivities(v.row)
	var parts, counts, measured, others []front.Entry
	listed := map[string]bool{}
	for _, m := range moves {
		path := m.Field.PathOf(b, m.Index)
		listed[path] = true
		e := v.input(m.Field, m.Index, path)
		e.More = "Changed by " + m.Step + " it moves the result by " + side.Signed(v.row, m.By) + "."
		if strings.HasPrefix(m.Step, "to ") {
			e.More = "Changed " + m.Step + " it moves the result by " + side.Signed(v.row, m.By) + "."
		}
		switch _, whole := m.Field.At(b, m.Index).(*int); {
		case m.Field.Evidence:
			measured = append(measured, e)
		case whole:
			counts = append(counts, e)
		default:
			parts = append(parts, e)
		}
	}
	for _, f := range model.Builds.Fields {
		for i := range f.Of(b) {
			path := f.PathOf(b, i)
			if f.IsRow() || f.Pane == model.NoPane || listed[path] || !whatif.IsNumber(f, b, i) || v.ofAnother(f, i) {
				continue
			}
			e := v.input(f, i, path)
			e.More = "It does not move the result from where it is now."
			others = append(others, e)
		}
	}
	return slices.Concat(parts, counts, measured, others)
}

// ofAnother says whether a value is of another hand than the result.
func (v *View) ofAnother(f *model.Field, i int) bool {
	return v.row.OfHand() && f.List() == "hand" && i != v.row.Index
}

// input is one of them.
func (v *View) input(f *model.Field, i int, path string) front.Entry {
	b := v.s.Doc.Build
	return front.Entry{
		Text: session.ValueName(b, f, i), Hint: model.OrNone(f.Text(b, i)), Also: path,
		Do: func() tea.Cmd { return v.work(path) },
	}
}

// heads stand above what each value gives.
var heads = []string{"gives", ""}

// justThat stands behind a value that no shop has.
const justThat = "just that"

// fill puts an answer into the table; of what is to be had what comes nearest is chosen.
func (v *View) fill(a *whatif.Answer) {
	entries, nearest, off := []front.Entry{}, 0, math.Inf(1)
	add := func(x, y float64, where string) {
		if by := math.Abs(y - a.Want); by < off && (where != justThat || a.Field.IsToBeHad(x)) {
			nearest, off = len(entries), by
		}
		entries = append(entries, v.value(a, x, y, where))
	}
	for i := range a.Solutions {
		addSolution(a, &a.Solutions[i], add)
	}
	if len(a.Solutions) == 0 && a.Nearest != nil {
		add(a.Nearest.Value, a.Nearest.Result, "nearest")
		for _, p := range a.Passes {
			for _, c := range p {
				if c.Value != a.Nearest.Value {
					add(c.Value, c.Result, "it jumps here")
				}
			}
		}
	}
	v.table.Refilled(hint(v.name(), session.ValueName(a.Doc.Build, a.Field, a.FieldIndex), a), heads, entries)
	v.table.Choose(nearest)
}

// addSolution adds what is to be had about a solution, and just that where it is a value of
// no series.
func addSolution(a *whatif.Answer, s *whatif.Solution, add func(x, y float64, where string)) {
	exact := s.From == s.To
	for _, c := range s.Choices {
		switch {
		case exact && c.Value == s.From:
			exact = false
		case exact && c.Value > s.From:
			add(s.From, a.Want, justThat)
			exact = false
		}
		add(c.Value, c.Result, s.Where(c))
	}
	if exact {
		add(s.From, a.Want, justThat)
	}
	if len(s.Choices) == 0 && s.From != s.To {
		add(s.From, a.Want, "from here")
		add(s.To, a.Want, "to here")
	}
}

// value is a value as a line of the table; enter puts it into the build.
func (v *View) value(a *whatif.Answer, x, y float64, where string) front.Entry {
	change := a.Change(x)
	changes := a.Doc.ChangesText([]model.Change{change})
	gives := v.name() + " " + resultText(a, y)
	more, is := changes+": "+gives+".", x == a.Field.Number(a.Doc.Build, a.FieldIndex)
	if is {
		more = "As it is: " + gives + "."
	}
	return front.Entry{
		Text: a.ValueText(x), Figures: []string{resultText(a, y), where}, More: more,
		Danger: form.NewDanger(a.Doc.Build, []model.Change{change}, a.Field, a.FieldIndex),
		Do: func() tea.Cmd {
			v.table = nil
			v.form.Enter()
			if is {
				v.form.GoToValue(a.Field, a.FieldIndex)
				v.say.Say("It stays as it is.")
				return nil
			}
			cmd := v.form.Replace(a.Doc.Make([]model.Change{change}))
			v.form.GoToValue(a.Field, a.FieldIndex)
			v.say.Say("Taken over: " + more)
			return cmd
		},
	}
}

// resultText is the result as people read it.
func resultText(a *whatif.Answer, y float64) string {
	return circuit.Outcome{Result: a.Result, Value: y}.Text()
}

// hint says what does it, or that nothing does.
func hint(result, input string, a *whatif.Answer) string {
	want := result + " " + resultText(a, a.Want)
	var all []string
	for i := range a.Solutions {
		all = append(all, a.Text(&a.Solutions[i]))
	}
	text := ""
	switch {
	case a.Same:
		text = input + " does not move " + result + "."
	case a.Nearest == nil:
		return "There is no such result at any value of " + input + "."
	case all == nil:
		text = "No value of " + input + " makes " + want + "; the nearest, and where it jumps past it:"
		if a.Passes == nil {
			text = "No value of " + input + " makes " + want + "; the nearest:"
		}
		return text
	}
	if all == nil {
		return text
	}
	const most = 4
	if n := len(all) - most; n > 0 {
		all = append(all[:most], quantity.Counted(n, "other"))
	}
	return strings.TrimSpace(text + " " + want + " comes of " + input + " " + strings.Join(all, ", or ") + ". Enter takes a value over:")
}
