package ui

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/whatif"
	"example.com/needlewright/ui/front"
	"example.com/needlewright/ui/uitest"
)

// reaching asks on a screen, by the list of results, which value of an input makes a result so
// much, and waits for the answer.
func reaching(t testing.TB, a *App, result, value, input string) {
	t.Helper()
	press(a, "f6", result, "f4")
	require.Contains(t, a.Plain(), "Reach: ")
	press(a, value, "enter", input)
	news(a, press(a, "enter"))
}

// promptText is what stands in the prompt, in its place beside the needle or in all of it, and
// below it.
func promptText(a *App) string {
	var all []string
	for _, row := range splitLines(a.Plain()) {
		left, _, _ := strings.Cut(row, "││")
		all = append(all, left)
	}
	return strings.Join(strings.Fields(strings.NewReplacer("│", " ", "\u00a0", " ").Replace(strings.Join(all, " "))), " ")
}

// A trimmer's travel of a half: the fixed resistor that does it, and its neighbours of E24.
// Worked by hand: half of 1 kΩ is 500 Ω, 8.685 kΩ are needed, 8.185 kΩ are left; 7.5 and
// 8.2 kΩ stand beside that in E24, and leave 1185 and 485 Ω to the trimmer.
func TestReachOnScreen(t *testing.T) {
	a := open(exampleText(t, "reading-room"), 80, 24)
	before := a.Text()
	reaching(t, a, "trimmer travel", "50 %", "fixed")
	screen := promptText(a)
	assert.Contains(t, screen, "Trimmer travel 50.00 % comes of Fixed resistor 8.185 kΩ ±1 %.")
	assert.Regexp(t, `7\.5 kΩ +118\.5 % +next below`, screen)
	assert.Regexp(t, `8\.185 kΩ +50\.00 % +just that`, screen)
	assert.Regexp(t, `8\.2 kΩ +48\.50 % +next above`, screen)
	assert.Equal(t, before, a.Text(), "asking changes nothing")
	assert.Contains(t, screen, "▸8.2 kΩ", "what shops have")
	press(a, "up", "up", "enter")
	require.Equal(t, front.Editing, a.front.Mode)
	assert.Equal(t, 7500.0, a.session.Doc.Build.Hands[0].Drive.Fixed.Number)
	assert.Contains(t, a.Text(), `fixed = "7.5 kΩ ±1 %"`)
	assert.Equal(t, "hand.drive.fixed", focusedRow(a).Field.Path)
	press(a, "ctrl+z")
	assert.Equal(t, before, a.Text(), "one step of undo")
	undo := len(a.session.Undo)
	reaching(t, a, "trimmer travel", "48.5 %", "fixed")
	press(a, "enter")
	assert.Contains(t, oneLine(a), "It stays as it is.")
	assert.Len(t, a.session.Undo, undo)
}

// What stands in the table is what the command prints of the same question, of several hands
// too.
func TestReachSaysWhatTheCommandSays(t *testing.T) {
	for _, c := range []struct{ example, find, result, value, input, path string }{
		{"reading-room", "full scale reached", "hours.full_scale_reached", "100 %", "fixed", "hand.hours.drive.fixed"},
		{"reading-room", "room, largest", "hours.temperature_error", "3 min", "rail.trimmed_at", "rail.trimmed_at"},
		{"reading-room", "as used", "battery.life_mixed", "120 d", "load.hours_on", "load.hours_on"},
		{"reading-room", "one code", "hours.step", "3.1 min", "hand.hours.drive.top", "hand.hours.drive.top"},
		{"station-platform", "trimmer travel", "hours.trimmer_travel", "40 %", "hand.hours.drive.fixed", "hand.hours.drive.fixed"},
	} {
		d := model.Open(exampleText(t, c.example))
		q, err := whatif.Ask(d, c.result, c.value, c.path)
		require.NoError(t, err)
		want := whatif.Reach(q)
		a := open(exampleText(t, c.example), 120, 40)
		press(a, "f6")
		for i, e := range a.front.Prompt.Entries { // labels have their own test
			if e.Of.Result.IDOf(d.Build, e.Of.Index) == c.result {
				a.front.Prompt.Choose(i)
			}
		}
		press(a, "f4", c.value, "enter", c.input)
		news(a, press(a, "enter"))
		screen := promptText(a)
		n := 0
		for i := range want.Solutions {
			s := &want.Solutions[i]
			assert.Contains(t, screen, want.Text(s))
			for _, choice := range s.Choices {
				n++
				assert.Regexp(t, want.ValueText(choice.Value)+` .*`+s.Where(choice), screen, c.result)
			}
		}
		if n == 0 {
			require.NotNil(t, want.Nearest)
			assert.Contains(t, screen, "No value of ")
			assert.Contains(t, screen, want.ValueText(want.Nearest.Value))
		}
	}
}

// What moves a result stands first: parts, then counts, then what is measured, and of each the
// strongest first. Esc goes back a question at a time, and what was typed stays.
func TestReachOffersWhatMovesIt(t *testing.T) {
	a := open(exampleText(t, "station-platform"), 80, 24)
	press(a, "ctrl+n", "f2", "reach a", "enter", "trimmer travel", "enter")
	assert.Contains(t, a.Plain(), "Reach: Trimmer travel, minutes")
	press(a, "x", "enter")
	assert.Contains(t, promptText(a), `"x" is no value of Trimmer travel`)
	press(a, "ctrl+u", "enter")
	assert.Contains(t, promptText(a), "Type what it is to be.")
	press(a, "60 %", "enter")
	row := a.session.Report.Results
	moves := map[string]float64{}
	for _, r := range row {
		if r.IDOf(a.session.Doc.Build, r.Index) == "minutes.trimmer_travel" {
			for _, m := range a.session.Report.Sensitivities(r) {
				moves[m.Field.PathOf(a.session.Doc.Build, m.Index)] = max(m.By, -m.By)
			}
		}
	}
	require.NotEmpty(t, moves)
	last, kind := 1e9, 0
	for _, e := range a.front.Prompt.Entries {
		by, does := moves[e.Also]
		f, _, ok := a.session.Doc.Find(e.Also)
		require.True(t, ok, e.Also)
		if !does {
			assert.Contains(t, e.More, "does not move")
			continue
		}
		now := 0
		if _, whole := f.At(a.session.Doc.Build, 0).(*int); f.Evidence {
			now = 2
		} else if whole {
			now = 1
		}
		if now > kind {
			kind, last = now, 1e9
		}
		assert.Equal(t, kind, now, e.Also)
		assert.LessOrEqual(t, by, last, e.Also)
		last = by
		delete(moves, e.Also)
	}
	assert.Empty(t, moves)
	press(a, "esc")
	assert.Equal(t, "60 %", typedIn(a))
	press(a, "esc")
	assert.Contains(t, a.Plain(), "Which result is to be so much?")
	press(a, "esc")
	assert.Equal(t, front.Editing, a.front.Mode)
}

// Esc ends the working out: what comes later opens nothing.
func TestReachIsEnded(t *testing.T) {
	a := open(exampleText(t, "reading-room"), 80, 24)
	press(a, "f6", "trimmer travel", "f4", "50 %", "enter", "fixed")
	cmd := press(a, "enter")
	assert.Contains(t, promptText(a), "It is being worked out; esc ends that.")
	press(a, "esc")
	assert.Contains(t, a.Plain(), "By which value?")
	news(a, cmd)
	assert.Contains(t, a.Plain(), "By which value?")
	press(a, "esc", "esc", "esc")
	assert.Equal(t, front.Editing, a.front.Mode)
	assert.False(t, a.Unsaved())
}

// What no value does is said with the nearest; what does not move it too; while something
// cannot be read it says so.
func TestOutOfReach(t *testing.T) {
	a := open(exampleText(t, "reading-room"), 80, 24)
	reaching(t, a, "full scale reached", "600 %", "fixed")
	assert.Contains(t, promptText(a), "No value of Fixed resistor makes Full scale reached 600.0 %; the nearest:")
	assert.Contains(t, promptText(a), "554.7 %") // 4.6875 V over 1.69 kΩ, of 500 µA; by hand
	press(a, "esc", "esc", "esc", "esc")
	reaching(t, a, "trimmer travel", "50 %", "load.hours_on")
	assert.Contains(t, promptText(a), "does not move Trimmer travel.")
	press(a, "esc", "esc", "esc", "esc")
	focusOn(t, a, "hand.hours.meter.coil")
	press(a, "ctrl+u", "abc", "f2", "reach a", "enter")
	assert.Equal(t, front.Editing, a.front.Mode)
	assert.Contains(t, oneLine(a), "Nothing can be reached until every value can be read")
	press(a, "f6", "travel", "f4")
	assert.Contains(t, oneLine(a), "Nothing can be reached until every value can be read")
}

func TestGoldenReach(t *testing.T) {
	for _, size := range uitest.Sizes {
		a := open(exampleText(t, "reading-room"), size[0], size[1])
		screen := func(name string) { golden(t, fmt.Sprintf("reach-%s-%dx%d", name, size[0], size[1]), a.Plain()) }
		press(a, "f6", "trimmer travel", "f4")
		screen("value")
		press(a, "50 %", "enter")
		screen("input")
		press(a, "fixed")
		news(a, press(a, "enter"))
		screen("answer")
		press(a, "esc", "esc", "600 %", "enter", "rail")
		news(a, press(a, "enter"))
		screen("nearest")
	}
}
