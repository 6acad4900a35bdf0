package ui

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/modeltest"
	"example.com/needlewright/model/report"
	"example.com/needlewright/ui/front"
	"example.com/needlewright/ui/session"
	"example.com/needlewright/ui/uitest"
)

// examples are the builds of the examples folder.
var examples = []string{"reading-room", "station-platform", "harbour-office", "school-store"}

// careless is an example with its series resistance ill chosen.
func careless(t testing.TB, name string) string {
	return strings.NewReplacer(
		`fixed = "8.2 kΩ ±1 %"`, `fixed = "6.8 kΩ ±1 %"`, `trimmer = "1 kΩ ±10 %"`, `trimmer = "5 kΩ ±10 %"`,
		`fixed = "3.9 kΩ ±1 %"`, `fixed = "3.6 kΩ ±1 %"`, `trimmer = "500 Ω ±10 %"`, `trimmer = "2 kΩ ±10 %"`,
	).Replace(exampleText(t, name))
}

// suggestion is one of those of a build, by its part.
func suggestion(t *testing.T, a *App, id, about string) judge.Suggestion {
	t.Helper()
	for _, s := range a.session.Report.Better {
		if s.ID == id && s.About == about {
			return s
		}
	}
	require.FailNow(t, "nothing is suggested for "+id)
	return judge.Suggestion{}
}

// holds asserts that the build has what was offered.
func holds(t *testing.T, a *App, changes []model.Change) {
	t.Helper()
	require.NotEmpty(t, changes)
	for _, c := range changes {
		given, _ := a.session.Doc.Given(c.Field, c.Index)
		assert.Equal(t, c.Text, given, c.Path(a.session.Doc.Build))
	}
}

// What is offered stands beside its field, in full where there is room.
func TestOfferBesideTheField(t *testing.T) {
	for _, size := range uitest.Sizes {
		a := open(careless(t, "reading-room"), size[0], size[1])
		s := suggestion(t, a, "series", "hours")
		focusOn(t, a, "hand.hours.drive.trimmer_turns")
		c, ok := s.At(session.FieldOf("hand.drive.trimmer"), 0)
		require.True(t, ok)
		nominal, _, _ := strings.Cut(c.Text, " ±")
		want := `Trimmer +5 kΩ ±10 % +→ ` + nominal + ` ?│`
		switch size[0] {
		case 80:
			want = `Trimmer +5 kΩ ±10 % +→ ?│`
		case 60:
			want = `Trimmer +5 kΩ ±10 ?…→ ?│`
		}
		assert.Regexp(t, want, a.Plain(), size)
		assert.NotRegexp(t, `Trimmer turns[^│]*→`, a.Plain(), size)
		press(a, "up", "up")
		require.Equal(t, "hand.drive.trimmer", a.form.Rows(a.form.Pane)[a.form.Focus[a.form.Pane]+1].Field.Path)
		press(a, "down")
		focused := strings.NewReplacer("+5 kΩ ±10 % +", `+\[5 kΩ ±10 %\] *`, "+5 kΩ ±10 ?…", `+\[5 kΩ ±…\]`).Replace(want)
		assert.Regexp(t, focused, a.Plain(), "focused, %v", size)
		help := a.form.HelpParts(focusedRow(a), false, false)
		texts := make([]string, len(help))
		for i := range help {
			texts[i] = help[i].Text
		}
		assert.Contains(t, strings.Join(texts, "\n"), "F3 → "+s.Text)
		assert.Contains(t, a.Plain(), "F3 → Fixed resistor")
	}
}

// One key takes over what is offered for a field, all of it at once; undo brings
// all back at once.
func TestTakeForTheField(t *testing.T) {
	text := careless(t, "reading-room")
	a := open(text, 120, 40)
	s := suggestion(t, a, "series", "hours")
	require.Greater(t, len(s.Changes), 1)
	focusOn(t, a, "hand.hours.drive.trimmer")
	press(a, "f3")
	holds(t, a, s.Changes)
	assert.Contains(t, uitest.Squeezed(a.Plain()), uitest.Squeezed("Taken over: "+s.Text))
	assert.Equal(t, "hand.drive.trimmer", focusedRow(a).Field.Path)
	assert.Equal(t, a.form.Text(focusedRow(a)), typedIn(a), "it stands in the line")
	assert.Contains(t, a.Plain(), "What changed")
	press(a, "ctrl+z")
	assert.Equal(t, text, a.Text())
	assert.Regexp(t, fmt.Sprintf(`Undone: .*, and %d more`, len(s.Changes)-1), a.notice.Text)
	press(a, "ctrl+y")
	holds(t, a, s.Changes)
}

// What was typed before stays a step of undo of its own.
func TestTakeAfterTyping(t *testing.T) {
	text := careless(t, "reading-room")
	a := open(text, 120, 40)
	focusOn(t, a, "hand.hours.drive.trimmer")
	press(a, "ctrl+u", "10k")
	typed := strings.Replace(a.Text(), `"10k"`, `"10k ±10 %"`, 1) // with the tolerance that was there
	press(a, "f3")
	require.NotEqual(t, typed, a.Text(), "something is offered")
	press(a, "ctrl+z")
	assert.Equal(t, typed, a.Text())
	press(a, "ctrl+z")
	assert.Equal(t, text, a.Text())
}

// After a key led to a finding, the other does what its advice says, by whatever
// field it is; undo brings all back.
func TestTakeForTheFinding(t *testing.T) {
	taken := 0
	for _, name := range examples {
		text := careless(t, name)
		a := open(text, 120, 40)
		for k, f := range a.session.Report.Findings {
			a = open(text, 120, 40)
			for range k + 1 {
				press(a, "ctrl+g")
			}
			if len(f.Changes) == 0 {
				assert.NotContains(t, a.Plain(), "(F3 does it)", "%s: %s", name, f.ID)
				continue
			}
			assert.Contains(t, uitest.Squeezed(a.Plain()), uitest.Squeezed(f.Advice+" (F3 does it)"), "%s: %s", name, f.ID)
			effect := a.offers.effect(a.finder.advised())
			assert.True(t, strings.HasPrefix(effect, a.session.Doc.ChangesText(f.Changes)), effect)
			press(a, "f3")
			holds(t, a, f.Changes)
			assert.Contains(t, uitest.Squeezed(a.Plain()), uitest.Squeezed("Taken over: "+effect))
			press(a, "ctrl+z")
			assert.Equal(t, text, a.Text(), "%s: %s", name, f.ID)
			taken++
		}
	}
	assert.Positive(t, taken)
}

// The menu does what the key does, for a finding too.
func TestTakeFromTheMenu(t *testing.T) {
	a := open(careless(t, "reading-room"), 80, 24)
	press(a, "ctrl+g")
	changes := a.finder.advised().Changes
	press(a, "f2", "Take what", "enter")
	holds(t, a, changes)
	a = open(careless(t, "reading-room"), 80, 24)
	press(a, "ctrl+g", "down", "down", "down", "f2", "Take what", "enter")
	assert.Equal(t, careless(t, "reading-room"), a.Text(), "another field has the keys")
	assert.Contains(t, a.Plain(), "Nothing is offered for")
}

// Where nothing is offered the keys say so, and change nothing.
func TestNothingOffered(t *testing.T) {
	text := careless(t, "reading-room")
	a := open(text, 80, 24)
	press(a, "f3")
	assert.Contains(t, a.Plain(), "Nothing is offered for Coil.")
	assert.Contains(t, uitest.Squeezed(a.Plain()), uitest.Squeezed("marked →, for: fixed resistor and trimmer"))
	press(a, "f4")
	assert.Contains(t, a.Plain(), "Coil has no list to choose from.")
	press(a, "ctrl+g", "ctrl+z")
	assert.Equal(t, text, a.Text())
	assert.Empty(t, a.session.Undo)
	assert.Equal(t, front.Editing, a.front.Mode)
}

// While a value cannot be read, nothing is offered: what was offered is for the
// last text that could.
func TestNothingOfferedWhileStale(t *testing.T) {
	a := open(careless(t, "reading-room"), 80, 24)
	focusOn(t, a, "hand.hours.drive.fixed")
	assert.Regexp(t, `(?m)^│ +Trimmer [^│]*→`, a.Plain(), "in the form")
	press(a, "ctrl+u", "x")
	before := a.Text()
	assert.NotRegexp(t, `(?m)^│ +Trimmer [^│]*→`, a.Plain())
	for _, keys := range [][]string{{"f3"}, {"f4"}, {"f2", "Take all", "enter"}, {"f2", "Choose a part", "enter"}} {
		press(a, keys...)
		assert.Contains(t, uitest.Squeezed(a.Plain()), uitest.Squeezed("until every value can be read: mend Fixed resistor."), keys)
		assert.Equal(t, before, a.Text(), keys)
		assert.Equal(t, front.Editing, a.front.Mode, keys)
	}
	for _, text := range []string{"", "x = = 1", "format = 1\n[rail]\nvoltage = \"5 V\"\n"} {
		a = open(text, 80, 24)
		press(a, "f3", "f4", "f5", "x", "f2", "Take all", "enter", "f5")
		assert.Equal(t, text, a.Text())
	}
}

// Of three hands, only what is offered for the one in view is shown, and taken.
func TestOfferOfTheHandInView(t *testing.T) {
	text := careless(t, "station-platform")
	a := open(text, 120, 40)
	s := suggestion(t, a, "series", "minutes")
	a.session.Report.Better = []judge.Suggestion{s}
	for _, name := range []string{"hours", "minutes", "seconds"} {
		focusOn(t, a, "hand."+name+".drive.fixed")
		assert.Equal(t, name == "minutes", contains(fieldLine(a, "Fixed resistor"), "→"), name)
		if name != "minutes" {
			press(a, "f3")
			assert.Equal(t, text, a.Text(), name)
		}
		press(a, "ctrl+n")
	}
	press(a, "ctrl+n", "f3")
	holds(t, a, s.Changes)
}

// fieldLine is the line of a field on the form.
func fieldLine(a *App, label string) string {
	for _, s := range splitLines(a.Plain()) {
		if form, _, ok := strings.Cut(s, "││"); ok && contains(form, label) {
			return form
		}
	}
	return ""
}

// The list of choices: the best first, the present one marked, each with its
// effect; what is chosen is taken over.
func TestChoosePart(t *testing.T) {
	text := careless(t, "reading-room")
	for _, size := range uitest.Sizes {
		a := open(text, size[0], size[1])
		focusOn(t, a, "hand.hours.drive.fixed")
		title, _, options := a.session.Report.Options(focusedRow(a).Field, 0)
		press(a, "f4")
		require.Equal(t, front.Asking, a.front.Mode)
		assert.Contains(t, a.Plain(), title)
		e, _ := a.front.Chosen()
		assert.Equal(t, "• ", e.Mark, "it begins at what there is")
		press(a, "home")
		present := 0
		for i, o := range options {
			choice, effect, _ := strings.Cut(o.Text, ": ")
			assert.Contains(t, uitest.Squeezed(a.Plain()), uitest.Squeezed(effect), "chosen, the effect stands in full: %d", i)
			if len(o.Changes) == 0 {
				present++
				assert.Contains(t, a.Plain(), "• "+choice)
			}
			press(a, "down")
		}
		assert.Equal(t, 1, present)
		assert.Contains(t, a.Plain(), "travel ", "a figure of it stands under its head")
		press(a, "z", "esc")
		assert.Equal(t, text, a.Text())

		press(a, "f4", "home", "down", "down", "enter")
		holds(t, a, options[2].Changes)
		assert.Contains(t, a.Plain(), "Taken over: Fixed resistor 6.8 kΩ → ")
		press(a, "ctrl+z")
		assert.Equal(t, text, a.Text())
		press(a, "f4", "home")
		for i := range options {
			if len(options[i].Changes) == 0 {
				press(a, "enter")
				break
			}
			press(a, "down")
		}
		assert.Equal(t, text, a.Text())
		assert.Contains(t, a.Plain(), "It stays as it is")
		assert.Empty(t, a.session.Undo)
	}
}

// Every list holds what the build has, whatever that is, and begins there.
func TestChoicesHoldWhatThereIs(t *testing.T) {
	lists := 0
	for _, name := range examples {
		for _, text := range []string{exampleText(t, name), careless(t, name)} {
			a := open(text, 80, 24)
			for _, f := range model.Builds.Fields {
				if f.Of(a.session.Doc.Build) == 0 || !a.form.GoToValue(f, 0) {
					continue
				}
				press(a, "f4")
				e, ok := a.front.Chosen()
				if !ok {
					continue
				}
				lists++
				assert.Equal(t, "• ", e.Mark, "%s, %s", name, f.Path)
				assert.Contains(t, e.More, "As it is", "%s, %s", name, f.Path)
				press(a, "esc")
			}
		}
	}
	assert.Greater(t, lists, 50)
	a := open(modeltest.With(t, exampleText(t, "reading-room"), "battery.cell", "alkaline AA", "battery.cells", "1"), 80, 24)
	focusOn(t, a, "battery.cell")
	press(a, "f4")
	assert.Contains(t, a.Plain(), "▸• alkaline AA, 1, boost")
}

// Where taking all takes the place of what a person chose, each such value is told, as it
// was and as it is; what was assumed is not.
func TestTakeAllTellsWhatWasChosen(t *testing.T) {
	text := modeltest.With(t, exampleText(t, "reading-room"), "battery.cell", "alkaline AA", "battery.cells", "1")
	text = strings.Replace(text, "fixed =", "fixed = \"2 kΩ ±1 %\" # assumed\n#", 1)
	a := open(text, 120, 40)
	press(a, "f2", "Take all", "enter")
	_, changed, _ := strings.Cut(a.notice.Text, " Changed: ")
	d := a.session.Doc
	given, _ := d.Given(model.Builds.Field("battery.cell"), 0)
	require.NotEqual(t, "alkaline AA", given)
	assert.Contains(t, changed, "Cell alkaline AA → "+given)
	assert.NotContains(t, changed, "ixed resistor 2 kΩ", "that was assumed")
	fixed, _ := d.Given(model.Builds.Field("hand.drive.fixed"), 0)
	assert.NotEqual(t, "2 kΩ ±1 %", fixed)
}

// Every row of every list keeps its figures, under their heads, in 80 columns; where there
// is room beside the list, the needle stays in view.
func TestChoicesKeepTheirFigures(t *testing.T) {
	rows := 0
	for _, name := range examples {
		for _, path := range []string{"hand.drive.counts", "hand.drive.fixed", "hand.drive.top", "hand.drive.capacitor", "battery.cells", "crystal.capacitor_in", "lamp.resistor"} {
			for _, size := range [][2]int{{80, 24}, {120, 40}, {200, 60}} {
				a := open(exampleText(t, name), size[0], size[1])
				f := model.Builds.Field(path)
				if f.Of(a.session.Doc.Build) == 0 {
					continue
				}
				a.form.GoToValue(f, 0)
				_, order, options := a.session.Report.Options(f, 0)
				if len(options) == 0 {
					continue
				}
				press(a, "f4")
				screen := splitLines(a.Plain())
				assert.Contains(t, uitest.Squeezed(strings.ReplaceAll(a.Plain(), "│", "")), uitest.Squeezed(order[:40]))
				for _, o := range options {
					rows++
					line := slices.IndexFunc(screen, func(s string) bool { return contains(s, " "+clipped(o.Choice)) && holdsAll(s, o) })
					assert.GreaterOrEqual(t, line, 0, "%s, %s, %v: %s in\n%s", name, path, size, o.Text, a.Plain())
				}
				for _, figure := range options[0].Figures {
					assert.Contains(t, a.Plain(), figure.Name)
				}
				if size[0] != 120 { // there it depends on the list
					assert.Equal(t, size[0] > 120, contains(a.Plain(), "14:25"), "%s, %s, %v", name, path, size)
				}
			}
		}
	}
	assert.Greater(t, rows, 300)
}

// clipped is as much of a choice as is always in view.
func clipped(choice string) string {
	if runes := []rune(choice); len(runes) > 10 {
		return string(runes[:10])
	}
	return choice
}

// holdsAll says whether a line has all figures of an option, and what it leaves.
func holdsAll(line string, o judge.Option) bool {
	for _, f := range o.Figures {
		if !contains(line, " "+f.Value+" ") {
			return false
		}
	}
	return contains(line, leaves(o.Left))
}

// Every list of every example opens, and each of its choices can be taken over.
func TestEveryChoiceCanBeMade(t *testing.T) {
	made := 0
	for _, name := range examples {
		text := careless(t, name)
		report, problems := report.Check(text)
		require.Empty(t, problems)
		for _, f := range model.Builds.Fields {
			if f.Of(report.Build) == 0 {
				continue
			}
			_, _, options := report.Options(f, 0)
			for k, o := range options {
				d := model.Open(text).Make(o.Changes)
				assert.Empty(t, d.Problems, "%s: %s: %s", name, f.Path, o.Text)
				assert.Equal(t, len(o.Changes) == 0, d.Text == text, "%s: %s: %d", name, f.Path, k)
				made++
			}
		}
	}
	assert.Greater(t, made, 100)
}

// All that is offered is taken over until nothing is, in one step of undo; the
// notice counts what is left.
func TestTakeAll(t *testing.T) {
	for _, name := range examples {
		text := careless(t, name)
		a := open(text, 120, 40)
		if len(a.session.Report.Better) == 0 {
			continue
		}
		before := a.session.Report
		press(a, "f2", "Take all", "enter")
		require.False(t, a.session.Stale(), "%s: %v", name, a.session.Doc.Problems)
		assert.Empty(t, a.session.Report.Better, name)
		assert.LessOrEqual(t, a.session.Report.Worst(), before.Worst(), name)
		assert.Less(t, len(a.session.Report.Findings), len(before.Findings)+1, name)
		assert.Regexp(t, `\d+ taken over; `+left(a.session.Report)+`\. Changed: `, a.notice.Text, name)
		press(a, "f2", "Take all", "enter")
		assert.Equal(t, "Nothing is offered: "+left(a.session.Report)+".", a.notice.Text)
		press(a, "ctrl+z")
		assert.Equal(t, text, a.Text(), name)
	}
}

// How many findings are left, in words; derived by hand.
func TestLeft(t *testing.T) {
	of := func(severities ...judge.Severity) *report.Report {
		r := new(report.Report)
		for _, s := range severities {
			r.Findings = append(r.Findings, judge.Finding{Severity: s})
		}
		return r
	}
	for want, r := range map[string]*report.Report{
		"nothing is left to remark":               of(),
		"1 note is left":                          of(judge.Note),
		"2 cautions are left":                     of(judge.Warning, judge.Warning),
		"1 fault, 2 cautions and 1 note are left": of(judge.Fault, judge.Warning, judge.Warning, judge.Note),
		"1 caution and 2 notes are left":          of(judge.Warning, judge.Note, judge.Note),
	} {
		assert.Equal(t, want, left(r))
	}
}

// As a rule the advice on a finding fits the area of help at 80 columns; where
// it does not, a sign says so, and the key stands all the same.
func TestAdviceFits(t *testing.T) {
	all, cutShort := 0, 0
	for _, name := range examples {
		a := open(careless(t, name), 80, 24)
		for _, f := range a.session.Report.Findings {
			press(a, "ctrl+g")
			all++
			if !contains(uitest.Squeezed(a.Plain()), uitest.Squeezed(f.Advice)) {
				cutShort++
				assert.Contains(t, a.Plain(), "…", f.ID)
				t.Logf("%s: %s is cut", name, f.ID)
			}
			assert.Equal(t, len(f.Changes) > 0, contains(uitest.Squeezed(a.Plain()), uitest.Squeezed("(F3 does it)")), f.ID)
		}
	}
	assert.Less(t, cutShort, all/5, "of %d", all)
}

// Taking all is bounded: after so many rounds it ends, with a sentence where something
// is offered still.
func TestTakeAllIsBounded(t *testing.T) {
	a := open(careless(t, "station-platform"), 120, 40)
	require.Greater(t, len(a.session.Report.Better), 1, "more than one round is needed")
	_, latest, taken := takeRounds(a.session.Doc, a.session.Report, 1)
	assert.Len(t, taken, 1)
	require.NotEmpty(t, latest.Better)
	assert.Contains(t, takenText(taken, latest, ""), unsettled)
	_, latest, taken = takeRounds(a.session.Doc, a.session.Report, mostRounds)
	assert.Less(t, len(taken), mostRounds)
	require.Empty(t, latest.Better)
	assert.NotContains(t, takenText(taken, latest, ""), unsettled)
}

// On the Battery form a plug-in supply is chosen in words, and its caution then stands at the
// field.
func TestPlugInSupplyInWords(t *testing.T) {
	a := open(exampleText(t, "reading-room"), 80, 24)
	focusOn(t, a, "battery.cells")
	press(a, "f4")
	assert.Equal(t, front.Asking, a.front.Mode)
	press(a, slices.Repeat([]string{"down"}, len(a.front.Prompt.Entries))...)
	assert.Contains(t, a.Plain(), "a plug-in 5 V supply: no cells to run down.")
	assert.Contains(t, uitest.Squeezed(a.Plain()), uitest.Squeezed("⚠ Buy a plug-in supply finished"), "before it is chosen")
	press(a, "enter")
	assert.Contains(t, a.Plain(), "Taken over: a plug-in 5 V supply")
	assert.Regexp(t, `(?m)^cells = 0`, a.Text())
	assert.NotRegexp(t, `(?m)^(cell|efficiency|quiescent) = "[^"]`, a.Text())
	press(a, "up", "down")
	screen := uitest.Squeezed(a.Plain())
	assert.Contains(t, screen, uitest.Squeezed("⚠ Buy a plug-in supply finished"))
	assert.Contains(t, screen, uitest.Squeezed("never open it"))
	assert.Contains(t, screen, uitest.Squeezed("Local codes decide."))
	press(a, "ctrl+z")
	assert.Equal(t, exampleText(t, "reading-room"), a.Text())
}

// What a choice can do that the present one cannot stands below the list, in whole sentences,
// before it is chosen: of cells, where there are none so far.
func TestDangerOfAChoice(t *testing.T) {
	for _, size := range uitest.Sizes {
		a := open(exampleText(t, "station-platform"), size[0], size[1])
		focusOn(t, a, "battery.cells")
		press(a, "f4", "home")
		told := 0
		for range a.front.Prompt.Entries {
			if e, ok := a.front.Chosen(); ok && e.Danger != "" {
				told++
				assert.Contains(t, uitest.Squeezed(a.Plain()), uitest.Squeezed("⚠ "+e.Danger), "%s at %v", e.Text, size)
			}
			press(a, "down")
		}
		assert.Greater(t, told, 8)
	}
}
