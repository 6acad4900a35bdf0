package ui

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/modeltest"
	"example.com/needlewright/ui/session"
)

// A value typed bare over one with a tolerance keeps that, and shows both; ±0 drops
// it, one of its own stands, and a title is only text. One undo gives all back.
func TestATypedValueKeepsItsTolerance(t *testing.T) {
	for _, c := range []struct{ path, typed, want string }{
		{"hand.hours.meter.coil", "700", "700 Ω ±1 %"},
		{"hand.hours.meter.coil", "700 ±0", "700 Ω"},
		{"hand.hours.meter.coil", "700 ±3 %", "700 Ω ±3 %"},
		{"hand.hours.meter.coil", "abc", "abc"},
		{"hand.hours.meter.coil", "", ""},
		{"title", "Hall", "Hall"},
	} {
		text := modeltest.With(t, exampleText(t, "reading-room"), "title", "Hall clock ±1")
		a := open(text, 80, 24)
		focusOn(t, a, c.path)
		press(a, "ctrl+u")
		for _, letter := range c.typed {
			press(a, string(letter))
		}
		press(a, "down")
		f, i, ok := a.session.Doc.Find(c.path)
		require.True(t, ok)
		given, _ := a.session.Doc.Given(f, i)
		assert.Equal(t, c.want, given, "%s: %q", c.path, c.typed)
		press(a, "ctrl+z")
		assert.Equal(t, text, a.Text())
	}
}

// What is saved in the middle of a visit stays saved when that ends.
func TestSavingKeepsTheToleranceToo(t *testing.T) {
	a, path := onDisk(t, "")
	press(a, "ctrl+u", "650")
	do(a, "ctrl+s")
	assert.Contains(t, read(t, path), `coil = "650 Ω ±1 %"`)
	assert.Equal(t, "650 Ω ±1 %", typedIn(a))
	press(a, "0") // typing goes on where it was
	assert.Equal(t, "6500 Ω ±1 %", typedIn(a))
	press(a, "backspace", "down")
	assert.False(t, a.Unsaved())
}

// What a text may mean besides is said at the field, and one key makes it that: the
// marking of a part, IEC 60062, and a comma between thousands. Where nothing else can be
// meant, or the field does not take it, nothing is said.
func TestWhatElseIsMeant(t *testing.T) {
	for _, c := range []struct{ path, typed, says, becomes string }{
		{"hand.hours.drive.fixed", "822", "822 is the marking of a part: 8.2 kΩ", "8.2 kΩ ±1 %"},
		{"hand.hours.drive.fixed", "1,200", "The comma is the decimal sign", "1200 Ω ±1 %"},
		{"hand.hours.drive.capacitor", "104", "104 is the marking of a part: 0.1 µF", "0.1 µF ±20 %"},
		{"crystal.capacitor_in", "220", "220 is the marking of a part: 22 pF", "22 pF ±5 %"},
		{"hand.hours.meter.coil", "1,200", "The comma is the decimal sign", "1200 Ω ±1 %"},
		{"hand.hours.meter.coil", "822", "", ""},     // no part that is marked
		{"crystal.capacitor_in", "104", "", ""},      // 100 nF is beyond the field
		{"hand.hours.drive.fixed", "822 Ω", "", ""},  // it is said in what
		{"hand.hours.drive.fixed", "1,2000", "", ""}, // no thousands
	} {
		a := open(exampleText(t, "reading-room"), 120, 40)
		focusOn(t, a, c.path)
		press(a, "ctrl+u")
		for _, letter := range c.typed {
			press(a, string(letter))
		}
		typed := typedIn(a)
		require.Equal(t, c.typed, typed)
		if c.says == "" {
			assert.NotContains(t, a.Plain(), "marking of a part", "%s: %q", c.path, c.typed)
			assert.NotContains(t, a.Plain(), "The comma is", "%s: %q", c.path, c.typed)
			continue
		}
		assert.Contains(t, a.Plain(), c.says, "%s: %q", c.path, c.typed)
		press(a, "f3")
		assert.Equal(t, c.becomes, typedIn(a), "%s: %q", c.path, c.typed)
	}
}

// What is computed while a person types is what will stand: leaving the field shows it and
// changes no result. Meanwhile the line has what was typed.
func TestTypingComputesWhatWillStand(t *testing.T) {
	for path, typed := range map[string]string{
		"rail.voltage": "4.93 V", "hand.hours.meter.coil": "655", "hand.hours.meter.full_scale": "512 uA", "hand.hours.drive.fixed": "8k2",
	} {
		a := open(exampleText(t, "reading-room"), 80, 24)
		focusOn(t, a, path)
		for i, letter := range typed {
			press(a, string(letter))
			assert.Equal(t, typed[:i+1], typedIn(a), path)
		}
		text, results := a.Text(), bandsOf(a)
		press(a, "enter")
		assert.Equal(t, text, a.Text(), path)
		assert.Equal(t, results, bandsOf(a), path)
	}
}

// bandsOf are the results in view, each with what kits have.
func bandsOf(a *App) []string {
	r := a.session.Report
	lines := make([]string, len(r.Results))
	for i, row := range r.Results {
		lines[i] = fmt.Sprint(row.IDOf(r.Build, row.Index), row.Value, row.Band.Low, row.Band.High)
	}
	return lines
}

// A recovery copy in the middle of typing has it too, and typing goes on.
func TestACopyHasWhatWillStand(t *testing.T) {
	keep := filepath.Join(t.TempDir(), "keep")
	a, _ := onDisk(t, keep)
	press(a, "6", "5")
	_, cmd := a.Update(session.KeepMsg{})
	drain(a, cmd)
	copies, err := os.ReadDir(keep)
	require.NoError(t, err)
	require.Len(t, copies, 1)
	assert.Contains(t, read(t, filepath.Join(keep, copies[0].Name())), `coil = "65 Ω ±1 %"`)
	press(a, "5")
	assert.Equal(t, "655", typedIn(a))
}

// A ± that is only assumed says so, also behind a value that was typed over it; a reading
// in the place of an assumed value gets what the multimeter is assumed to be good for. Of a
// ± of one's own nothing is said.
func TestAnAssumedToleranceStaysMarked(t *testing.T) {
	for _, c := range []struct {
		path, stands string
		keys         []string
		want, mark   string
		says         string
	}{
		{"hand.hours.meter.coil", `"640 Ω ±2 %"  # ± assumed`, []string{"6", "55"}, "655 Ω ±2 %", "± assumed", "The ± is assumed"},
		{"hand.hours.meter.coil", `"640 Ω ±2 %"  # assumed`, []string{"6", "55"}, "655 Ω ±2 %", "± assumed", "The ± is assumed"},
		{"hand.hours.meter.coil", `"640 Ω"  # assumed`, []string{"6", "55"}, "655 Ω ±2 %", "± assumed", "The ± is assumed"},
		{"hand.hours.meter.full_scale", `"1 mA"  # assumed`, []string{"5", "00"}, "500 µA ±2 %", "± assumed", "The ± is assumed"},
		{"hand.hours.meter.coil", `"640 Ω ±2 %"  # ± assumed`, []string{"6", "x", "backspace", "55"}, "655 Ω ±2 %", "± assumed", "The ± is assumed"},
		{"hand.hours.meter.coil", `"640 Ω ±2 %"  # ± assumed`, []string{"655", "shift+right", "0"}, "6550 Ω ±2 %", "± assumed", ""},
		{"hand.hours.meter.coil", `"640 Ω ±2 %"  # ± assumed`, []string{"655 ±1 %"}, "655 Ω ±1 %", "", ""},
		{"hand.hours.meter.coil", `"640 Ω ±2 %"  # ± assumed`, []string{"655 +-1 %"}, "655 Ω ±1 %", "", ""},
		{"hand.hours.meter.coil", `"640 Ω ±2 %"  # ± assumed`, []string{"home", "1"}, "1640 Ω ±2 %", "± assumed", ""},
		{"hand.hours.meter.coil", `"640 Ω ±2 %"  # ± assumed`, []string{"6", "55 ±2 %"}, "655 Ω ±2 %", "", ""},
		{"hand.hours.meter.coil", `"640 Ω ±2 %"  # ± assumed`, []string{"655 ±0"}, "655 Ω", "", ""},
		{"hand.hours.meter.coil", `"640 Ω ±2 %"  # ± assumed`, []string{"655 ±0", "shift+right", "home", "1"}, "1655 Ω", "", ""},
		{"hand.hours.meter.coil", `"640 Ω ±2 %"  # ± assumed`, []string{"x"}, "x", "", ""},
		{"hand.hours.meter.coil", `"640 Ω ±2 %"  # ± assumed`, []string{"alt+up"}, "650 Ω ±2 %", "± assumed", ""}, // derived: its second digit
		{"hand.hours.meter.coil", `"640 Ω ±2 %"`, []string{"655"}, "655 Ω ±2 %", "", "The ± is kept"},
		{"hand.hours.drive.fixed", `"8.2 kΩ ±1 %"  # suggested`, []string{"8k1"}, "8k1 ±1 %", "", "The ± is kept"},
		{"hand.hours.meter.overshoot", `"18 %"  # assumed`, []string{"15"}, "15 %", "", ""},
		{"rail.voltage", `"5 V ±5 %"  # assumed`, []string{"4.93"}, "4.93 V ±5 %", "± assumed", "The ± is assumed"},
	} {
		a := open(standing(t, c.path, c.stands), 80, 24)
		focusOn(t, a, c.path)
		press(a, c.keys...)
		press(a, "down")
		field, i, ok := a.session.Doc.Find(c.path)
		require.True(t, ok)
		given, _ := a.session.Doc.Given(field, i)
		assert.Equal(t, c.want, given, "%s %q", c.stands, c.keys)
		assert.Equal(t, c.mark, a.session.Doc.Mark(field, i), "%s %q", c.stands, c.keys)
		if c.says == "" {
			assert.NotContains(t, a.notice.Text, "The ± is", "%s %q", c.stands, c.keys)
		}
		assert.Contains(t, a.notice.Text, c.says, "%s %q", c.stands, c.keys)
	}
}

// standing is an example in which a line reads so.
func standing(t *testing.T, path, stands string) string {
	const mark = "THIS ONE"
	text := modeltest.With(t, exampleText(t, "reading-room"), path, mark)
	at := strings.Index(text, `"`+mark)
	end := at + strings.Index(text[at:], "\n")
	return text[:at] + stands + text[end:]
}

// A reading that is typed in the form, over what "I don't know yet" put there, stands as
// one that answers the question.
func TestAReadingTypedLaterStandsAsAnAnswer(t *testing.T) {
	later, problems := judge.NewBuild(judge.Meter{Coil: judge.NotKnown, FullScale: judge.NotKnown}, judge.Supply{Rail: "5 V"})
	require.Empty(t, problems)
	answered, problems := judge.NewBuild(judge.Meter{Coil: "655 ohms", FullScale: "512"}, judge.Supply{Rail: "5 V"})
	require.Empty(t, problems)
	a, want := open(later, 80, 24), open(answered, 80, 24).session.Doc
	for path, typed := range map[string]string{"hand.hours.meter.coil": "655 ohms", "hand.hours.meter.full_scale": "512"} {
		focusOn(t, a, path)
		press(a, typed)
		field, _, _ := want.Find(path)
		given, _ := a.session.Doc.Given(field, 0)
		answer, _ := want.Given(field, 0)
		assert.Equal(t, answer, given)
		assert.Equal(t, want.Mark(field, 0), a.session.Doc.Mark(field, 0))
		assert.Equal(t, "± assumed", a.session.Doc.Mark(field, 0))
	}
}

// A comma that may have been meant to part thousands is told of once, as its field is left.
func TestACommaIsToldOf(t *testing.T) {
	a := open(exampleText(t, "reading-room"), 80, 24)
	press(a, "1,200", "down")
	assert.Equal(t, "Coil: 1,200 Ω is 1.2 Ω: the comma is the decimal sign. F3 at the field makes it 1200 Ω.", a.notice.Text)
	press(a, "up")
	assert.Empty(t, a.notice.Text)
	press(a, "down")
	assert.Empty(t, a.notice.Text)
	press(a, "up", "f3")
	assert.Equal(t, "1200 Ω ±1 %", typedIn(a))
	for _, typed := range []string{"1,2", "1200", "0,001"} {
		a := open(exampleText(t, "reading-room"), 80, 24)
		press(a, typed, "down")
		assert.NotContains(t, a.notice.Text, "comma", typed)
	}
}

// What a dial says is put at the terminals as it is typed, marked; what is measured there is
// typed over it, and is within what a multimeter's reading is.
func TestTheDialsWordProposes(t *testing.T) {
	a := open(exampleText(t, "reading-room"), 80, 24)
	marked := func(path string) (given, mark string) {
		f := model.Builds.Field(path)
		given, _ = a.session.Doc.Given(f, 0)
		return given, a.session.Doc.Mark(f, 0)
	}
	focusOn(t, a, "hand.hours.meter.ohms_per_volt")
	press(a, "1k", "down")
	given, mark := marked("hand.meter.terminal_full_scale")
	assert.Equal(t, [2]string{"1.00 mA ±5 %", "from the dial"}, [2]string{given, mark})
	focusOn(t, a, "hand.hours.meter.marked")
	press(a, "ctrl+u", "30 V", "down")
	given, mark = marked("hand.meter.terminal_resistance")
	assert.Equal(t, [2]string{"30.0 kΩ ±5 %", "from the dial"}, [2]string{given, mark})
	focusOn(t, a, "hand.hours.meter.terminal_resistance")
	press(a, "29500", "down")
	given, mark = marked("hand.meter.terminal_resistance")
	assert.Equal(t, [2]string{"29500 Ω ±2 %", "± assumed"}, [2]string{given, mark})
	given, _ = marked("hand.meter.terminal_full_scale")
	assert.Equal(t, "1.00 mA ±5 %", given)
	press(a, "ctrl+z")
	given, mark = marked("hand.meter.terminal_resistance")
	assert.Equal(t, [2]string{"30.0 kΩ ±5 %", "from the dial"}, [2]string{given, mark})
}
