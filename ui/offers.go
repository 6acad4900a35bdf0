package ui

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model"
	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/quantity"
	"example.com/needlewright/model/report"
	"example.com/needlewright/model/working"
	"example.com/needlewright/ui/draw"
	"example.com/needlewright/ui/form"
	"example.com/needlewright/ui/front"
	"example.com/needlewright/ui/notice"
	"example.com/needlewright/ui/session"
	"example.com/needlewright/ui/side"
)

// offers takes over what the report offers: for a finding, for a field, for the error
// budget, or all of it.
type offers struct {
	s     *session.Session
	form  *form.Form
	front *front.Front
	side  *side.Side
	say   *notice.Notice
}

// take takes over what a finding that was gone to asks for; where there is
// none, or nothing mends it, what is suggested for the focused field; then what
// reduces the error that is chosen, or the field of what is to be measured for that.
func (o *offers) take(advised *judge.Finding) tea.Cmd {
	if advised != nil && len(advised.Changes) > 0 {
		return o.make(advised.Changes, o.effect(advised))
	}
	if s := o.form.OfferedHere(); s != nil {
		return o.make(s.Changes, s.Text)
	}
	switch row := o.side.Mends(); {
	case row != nil && len(row.Changes) == 0:
		if f, i, ok := o.s.Doc.Find(row.Field); ok && o.form.GoToValue(f, i) {
			o.say.Say("To be measured, and put in here.")
			return nil
		}
	case row != nil:
		o.side.Views.ChooseFirst()
		changes := o.s.Doc.ChangesText(row.Changes)
		return o.make(row.Changes, row.Advice[max(0, strings.LastIndex(row.Advice, changes)):])
	}
	o.say.Say(o.nothing())
	return nil
}

// effect is what the changes of a finding bring about, the end of its advice.
func (o *offers) effect(f *judge.Finding) string {
	return f.Advice[max(0, strings.LastIndex(f.Advice, o.s.Doc.ChangesText(f.Changes))):]
}

// nothing says why nothing is offered, and for what something is.
func (o *offers) nothing() string {
	if o.s.Stale() {
		return "Nothing is offered until every value can be read: " + o.s.ToMend() + "."
	}
	text := "Nothing is offered here."
	if r, ok := o.form.Focused(); ok {
		text = "Nothing is offered for " + strings.TrimSpace(r.Field.Label) + "."
	}
	if len(o.s.Report.Better) == 0 {
		return text
	}
	return text + " Something is, marked " + form.OfferSign + ", for: " + strings.Join(o.titles(o.s.Report.Better), ", ") + "."
}

// titles are what parts are called, each with whose it is where there are
// several.
func (o *offers) titles(better []judge.Suggestion) []string {
	var titles []string
	for i := range better {
		title := strings.ToLower(better[i].Title())
		if better[i].About != "" && len(o.s.Doc.Build.Hands)+len(o.s.Doc.Build.Lamps) > 2 {
			title += " of " + better[i].About
		}
		if !slices.Contains(titles, title) {
			titles = append(titles, title)
		}
	}
	return titles
}

// make makes changes as one step of undo, and says to what effect.
func (o *offers) make(changes []model.Change, effect string) tea.Cmd {
	o.form.Leave()
	cmd := o.form.ReplaceUnder(o.s.Doc.Make(changes))
	o.say.Say("Taken over: " + effect)
	return cmd
}

// mostRounds is after how many suggestions taking all of them ends.
const mostRounds = 20

// takeAll takes over what is suggested, again and again until nothing is, as one
// step of undo.
func (o *offers) takeAll() tea.Cmd {
	o.s.AdviseNow()
	switch {
	case o.s.Stale():
		o.say.Say(o.nothing())
		return nil
	case len(o.s.Report.Better) == 0:
		o.say.Say("Nothing is offered: " + left(o.s.Report) + ".")
		return nil
	}
	d, latest, taken := takeRounds(o.s.Doc, o.s.Report, mostRounds)
	changed := o.changedText(taken, d)
	cmd := o.form.ReplaceUnder(d)
	o.say.Say(takenText(taken, latest, changed))
	return cmd
}

// changedText says what became of values that a person gave, which bear no mark, as they were
// and as they are in a changed document; and of what other parts were taken over. What a
// converter usually brings goes without saying.
func (o *offers) changedText(taken []judge.Suggestion, changed *model.Document) string {
	var own []model.Change
	for _, f := range model.Builds.Fields {
		for i := range f.Of(o.s.Doc.Build) {
			was, given := o.s.Doc.Given(f, i)
			is, _ := changed.Given(f, i)
			brought := strings.HasPrefix(f.Path, "converter.") && f.Path != "converter.kind"
			if given && !brought && was != is && o.s.Doc.Mark(f, i) == "" {
				own = append(own, model.Change{Field: f, Index: i, Text: is})
			}
		}
	}
	own = o.s.Doc.Build.Real(own)
	others := slices.DeleteFunc(slices.Clone(taken), func(s judge.Suggestion) bool {
		return slices.ContainsFunc(own, func(c model.Change) bool { _, has := s.At(c.Field, c.Index); return has })
	})
	parts := o.titles(others)
	if len(own) > 0 {
		parts = append([]string{o.s.Doc.ChangesText(own)}, parts...)
	}
	return strings.Join(parts, ", ")
}

// takenText says what was taken over, and what is left.
func takenText(taken []judge.Suggestion, latest *report.Report, changed string) string {
	text := fmt.Sprintf("%d taken over; %s. Changed: %s.", len(taken), left(latest), changed)
	if len(latest.Better) > 0 {
		text += " " + unsettled
	}
	return text
}

// unsettled is said where taking all ends though something is offered still.
const unsettled = "It ended there, though something is offered still."

// takeRounds takes suggestions over in a document, the first of each report, until
// nothing is suggested, at most so many, or until a text comes back.
func takeRounds(d *model.Document, latest *report.Report, most int) (*model.Document, *report.Report, []judge.Suggestion) {
	var taken []judge.Suggestion
	for seen := []string{d.Text}; len(taken) < most && len(latest.Better) > 0; {
		next := d.Make(latest.Better[0].Changes)
		r := report.Of(next)
		if r == nil || slices.Contains(seen, next.Text) {
			break
		}
		taken, seen = append(taken, latest.Better[0]), append(seen, next.Text)
		d, latest = next, r.Advised()
	}
	return d, latest, taken
}

// left says how many findings there are: "2 cautions and 1 note are left".
func left(r *report.Report) string {
	counts := map[judge.Severity]int{}
	found := report.Joined(r.Findings)
	for _, f := range found {
		counts[f.Severity]++
	}
	var parts []string
	for _, s := range []judge.Severity{judge.Fault, judge.Warning, judge.Note} {
		if n := counts[s]; n > 0 {
			parts = append(parts, quantity.Counted(n, s.String()))
		}
	}
	switch {
	case len(parts) == 0:
		return "nothing is left to remark"
	case len(found) == 1:
		return parts[0] + " is left"
	}
	last := len(parts) - 1
	return strings.TrimPrefix(strings.Join(parts[:last], ", ")+" and "+parts[last], " and ") + " are left"
}

// choosePart lists what may be chosen for the focused field and the parts that go
// with it, the best first, each with its effect; it begins at what the build has.
func (o *offers) choosePart() tea.Cmd {
	if o.s.Stale() {
		o.say.Say("There is nothing to choose from until every value can be read: " + o.s.ToMend() + ".")
		return nil
	}
	r, ok := o.form.Focused()
	if !ok {
		o.say.Say("There is nothing to choose from here.")
		return nil
	}
	title, order, options := o.s.Report.Options(r.Field, r.Index)
	if len(options) == 0 {
		o.say.Say(strings.TrimSpace(r.Field.Label) + " has no list to choose from. Resistors, trimmers, capacitors, counts, cells and the converter have one.")
		return nil
	}
	present := 0
	under, entries := heads(options), make([]front.Entry, len(options))
	for i, option := range options {
		entries[i] = o.entry(option, figures(option, under), r)
		if len(option.Changes) == 0 {
			present = i
		}
	}
	own := "What it has is marked •."
	if len(o.s.Report.Build.Hands) > 1 {
		own += " Each hand's findings count."
	}
	o.form.Leave()
	p := &front.Prompt{
		Title: title, Hint: order + " " + own, Heads: under, Entries: entries, Fixed: true,
		Words: true, Working: func() front.Page { return partPage(o.s, working.PartAt(o.s.Report.Build, r.Field, r.Index)) },
	}
	o.front.Ask(p, "")
	p.Choose(present)
	return nil
}

// heads are those of the figures of options, of the one that has most.
func heads(options []judge.Option) []string {
	var longest []string
	for _, option := range options {
		all := []string{"leaves"}
		for _, f := range option.Figures {
			all = append(all, f.Name)
		}
		if len(all) > len(longest) {
			longest = all
		}
	}
	return longest
}

// figures are those of an option under such heads.
func figures(option judge.Option, under []string) []string {
	all := make([]string, len(under))
	all[0] = leaves(option.Left)
	for _, f := range option.Figures {
		if i := slices.Index(under, f.Name); i > 0 {
			all[i] = f.Value
		}
	}
	return all
}

// leaves is what an option leaves to find, by the signs of findings: "✗2 !1 ·5".
func leaves(left judge.Left) string {
	var parts []string
	for _, of := range []struct {
		severity judge.Severity
		n        int
	}{{judge.Fault, left.Faults}, {judge.Warning, left.Cautions}, {judge.Note, left.Notes}} {
		if of.n > 0 {
			parts = append(parts, draw.Signs[of.severity]+strconv.Itoa(of.n))
		}
	}
	if parts == nil {
		return "nothing"
	}
	return strings.Join(parts, " ")
}

// entry is a choice, with its figures, as a line of a prompt.
func (o *offers) entry(option judge.Option, figures []string, r form.Row) front.Entry {
	if len(option.Changes) == 0 {
		return front.Entry{Text: option.Choice, Figures: figures, More: "• As it is: " + option.Text + ".", Mark: "• ", Do: func() tea.Cmd {
			o.say.Say("It stays as it is: " + option.Choice + ".")
			return nil
		}}
	}
	_, effect, _ := strings.Cut(option.Text, ": ")
	text := o.s.Doc.ChangesText(option.Changes) + ": " + effect + "."
	if option.Named {
		text = option.Choice + ": " + effect + "."
	}
	return front.Entry{
		Text: option.Choice, Figures: figures, Danger: form.NewDanger(o.s.Report.Build, option.Changes, r.Field, r.Index), More: text, Mark: "  ",
		Do: func() tea.Cmd { return o.make(option.Changes, text) },
	}
}
