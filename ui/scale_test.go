package ui

import (
	"fmt"
	"math"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/ui/form"
	"example.com/needlewright/ui/uitest"
)

// atScale is a dashboard with the scale open.
func atScale(t testing.TB, text string, w, h int) *App {
	t.Helper()
	a := open(text, w, h)
	a.form.OpenPane(form.ScaleName)
	typed(a)
	require.True(t, a.scale.IsOpen())
	return a
}

// A table of points that cannot be read, or is not there yet, stops no pane from being drawn.
func TestPanesWithoutATable(t *testing.T) {
	d := model.Open(exampleText(t, "harbour-office")) // its codes straighten a table
	for _, table := range []string{"", "junk", "[]"} {
		a := open(d.Set(model.Builds.Field("hand.meter.table"), 0, table).Text, 80, 24)
		require.NotEmpty(t, a.session.Doc.Problems, table)
		for _, pane := range a.form.Names() {
			a.form.OpenPane(pane)
			require.NotPanics(t, func() { typed(a, "down"); a.Plain() }, "%q: %s", table, pane)
		}
	}
}

// typed sends keys as press does, without waiting for what is worked out beside them.
func typed(a *App, keys ...string) {
	for _, k := range keys {
		a.Update(uitest.Key(k))
	}
	a.scale.Heed()
}

// scaleRows are the rows of the scale of the hand in view.
func scaleRows(a *App) []model.ScaleRow { return a.session.Doc.Build.Hands[a.session.Hand].Scale }

// scaleLine is the line of the screen that has the keys.
func scaleLine(a *App) string {
	for _, line := range splitLines(a.Plain()) {
		if strings.Contains(line, "▸") {
			return line
		}
	}
	return ""
}

// measured types where a needle stands, at each code that is proposed first.
func measured(a *App, at func(float64) float64) {
	for k := range 7 {
		minutes := int(math.Round(720 * at(float64(k)/6)))
		typed(a, fmt.Sprintf("%d:%02d", minutes/60, minutes%60), "down")
	}
}

// toFurther goes to where a further code is typed.
func toFurther(a *App) {
	for !strings.Contains(scaleLine(a), "another") {
		typed(a, "down")
	}
}

func squared(x float64) float64 { return x * x }

// From nothing: seven places one after the other, the law, and one key that has it straightened, as one step of undo.
// Derived: a square is wrong by a quarter of 720 min at half, and by half a code of 3 min more as it is coded.
func TestScaleIsMeasured(t *testing.T) {
	for _, size := range [][2]int{{80, 24}, {120, 40}, {60, 20}} {
		text := exampleText(t, "reading-room")
		a := atScale(t, text, size[0], size[1])
		assert.Contains(t, a.Plain(), "▸     0  0:00")
		assert.Contains(t, strings.Join(strings.Fields(a.Plain()), " "), "Set the clock to 0:00, or park hours at code 0 in the bring-up mode")
		measured(a, squared)
		require.Len(t, scaleRows(a), 7)
		for k, r := range scaleRows(a) {
			assert.Equal(t, model.ScaleRow{Code: 40 * k, Of: 240, Stands: r.Stands}, r)
		}
		assert.Contains(t, a.Plain(), "✓ as it is")
		assert.Contains(t, a.Plain(), "181 min")
		assert.Contains(t, a.Plain(), "→ by codes (F3)")
		seen := a.Text()
		typed(a, "f3")
		assert.Equal(t, "codes", a.session.Doc.Build.Hands[0].Correct)
		assert.Contains(t, a.notice.Text, "off by 181 min → 3.0 min at most. ctrl+z")
		assert.Contains(t, a.Plain(), "✓ by codes")
		typed(a, "f3")
		assert.Equal(t, "dial", a.session.Doc.Build.Hands[0].Correct)
		typed(a, "f3")
		assert.Equal(t, "codes", a.session.Doc.Build.Hands[0].Correct, "and back")
		typed(a, "ctrl+z", "ctrl+z", "ctrl+z")
		assert.Equal(t, seen, a.Text())
		for range 7 {
			typed(a, "ctrl+z")
		}
		assert.Equal(t, text, a.Text())
		typed(a, "ctrl+y")
		require.Len(t, scaleRows(a), 1)
	}
}

// What is typed last is looked at next: the place that tells most is proposed, and a key goes to it.
func TestScaleNext(t *testing.T) {
	a := atScale(t, exampleText(t, "reading-room"), 80, 24)
	typed(a, "down", "ctrl+g")
	assert.Contains(t, scaleLine(a), "  0  0:00", "the first that is wanted")
	typed(a, "ctrl+g")
	assert.Contains(t, a.notice.Text, "It is this one")
	measured(a, squared)
	typed(a, "ctrl+g")
	r := a.session.Report.Scales()[0]
	assert.Contains(t, scaleLine(a), fmt.Sprintf("▸%6d ", r.Next.Code))
	assert.Contains(t, a.Plain(), "Enough; code ")
}

// A code, or a time by the table in force then, asks for a further place; where the needle came from is chosen or typed.
func TestScaleOfAFurtherCode(t *testing.T) {
	a := atScale(t, exampleText(t, "reading-room"), 80, 24)
	typed(a, "up", "6:30", "enter")
	assert.Contains(t, scaleLine(a), "▸   130  6:30", "by hand: 6.5 of 12 h of 240 codes")
	typed(a, "48 %", "alt+up", "tab")
	assert.Equal(t, []model.ScaleRow{{At: "6:30", Code: 130, Of: 240, Stands: "48 %", Going: "up"}}, scaleRows(a))
	typed(a, "shift+tab")
	toFurther(a)
	typed(a, "130", "enter", "50 % Down", "enter")
	require.Len(t, scaleRows(a), 2)
	assert.Equal(t, model.ScaleRow{Code: 130, Of: 240, Stands: "50 %", Going: "down"}, scaleRows(a)[1])
	typed(a, "up", "alt+down")
	assert.Empty(t, scaleRows(a)[1].Going, "once more takes it back")

	a = atScale(t, exampleText(t, "net-loft"), 80, 24) // its table has code 120 for a time of a quarter to four
	for !strings.Contains(scaleLine(a), "down") {
		typed(a, "down")
	}
	typed(a, "f4", "3:47", "enter")
	for _, r := range scaleRows(a) {
		if r.At == "3:47" {
			assert.Equal(t, 120, r.Code)
			return
		}
	}
	assert.Fail(t, "the code of no row was typed as a time")
}

// Nonsense says why where it stands, and costs nothing; the rows that can be read count.
func TestScaleOfNonsense(t *testing.T) {
	text := exampleText(t, "net-loft")
	a := atScale(t, text, 80, 24)
	typed(a, "down") // to a row with a place
	for _, nonsense := range []string{"half", "49", "13:00", "5:", "-", "400 %", "sideways", "5:53 sideways", "∞"} {
		typed(a, nonsense)
		assert.Contains(t, a.Plain(), "✗ unread", "%q", nonsense)
		assert.Contains(t, a.Plain(), "Needle stands: ", "%q", nonsense)
		assert.Len(t, scaleRows(a), 8)
		typed(a, "esc")
		assert.Equal(t, text, a.Text(), "%q", nonsense)
	}
	for _, nonsense := range []string{"1000", "half", "-1", "12:61", "13:00", "1e3", "::"} {
		toFurther(a)
		typed(a, nonsense)
		assert.Contains(t, a.Plain(), "example", "%q", nonsense)
		typed(a, "enter")
		assert.NotEmpty(t, a.notice.Text, "%q", nonsense)
		assert.Equal(t, text, a.Text(), "%q", nonsense)
	}
}

// A code above the top code, or none, is no place; it is mended at its code, which a key gives the keys to.
func TestScaleOfABadCode(t *testing.T) {
	text := exampleText(t, "reading-room") + "\n[[hand.scale]]\nat = \"6:00\"\nstands = \"49 %\"\n"
	a := open(text, 80, 24)
	typed(a, "ctrl+g")
	require.True(t, a.scale.IsOpen(), "a problem of a row leads here")
	assert.Contains(t, a.Plain(), "✗ unread")
	assert.Contains(t, a.Plain(), "Code: no code is given")
	assert.Contains(t, a.Plain(), "!Scale")
	typed(a, "6:00")
	assert.Equal(t, model.ScaleRow{At: "6:00", Code: 120, Of: 240, Stands: "49 %"}, scaleRows(a)[0])
	assert.Empty(t, a.session.Doc.Problems)
	typed(a, "ctrl+u", "250")
	assert.Contains(t, a.Plain(), "above its top code")
	typed(a, "ctrl+u", "80", "enter")
	assert.Equal(t, 80, scaleRows(a)[0].Code)
	assert.Empty(t, scaleRows(a)[0].At, "the time was of another code")
}

// A row that is emptied is taken out, undo brings it back and shows it, from any form.
func TestScaleRowsGo(t *testing.T) {
	text := exampleText(t, "net-loft")
	a := atScale(t, text, 80, 24)
	for !strings.Contains(scaleLine(a), "▸    80") {
		typed(a, "down")
	}
	typed(a, "ctrl+u")
	assert.Len(t, scaleRows(a), 8, "until it is left")
	typed(a, "down")
	require.Len(t, scaleRows(a), 7)
	assert.Contains(t, scaleLine(a), "▸   120", "the one below")
	assert.Contains(t, a.Plain(), "•    80", "and is proposed again")
	typed(a, "tab", "tab", "ctrl+z")
	assert.Equal(t, text, a.Text())
	assert.True(t, a.scale.IsOpen())
	assert.Contains(t, scaleLine(a), "▸    80")
	typed(a, "ctrl+y")
	assert.Len(t, scaleRows(a), 7)
	typed(a, "ctrl+z", "2:00", "esc")
	assert.Equal(t, text, a.Text(), "esc brings the former back")
}

// A cube root is too steep for its codes, and its cure is offered. Derived: its first code moves it by 116 min.
func TestScaleTooSteep(t *testing.T) {
	a := atScale(t, exampleText(t, "reading-room"), 80, 24)
	measured(a, math.Cbrt)
	assert.Contains(t, a.Plain(), "→ by a drawn dial (F3)")
	assert.Contains(t, strings.Join(strings.Fields(strings.NewReplacer("│", " ", "\n", " ").Replace(sidesOf(a))), " "), "one code moves the needle by 116 min")
	typed(a, "f3", "f3")
	assert.Equal(t, "dial", a.session.Doc.Build.Hands[0].Correct)
	assert.Contains(t, a.notice.Text, "too steep for its codes")
	assert.NotContains(t, a.Plain(), "→ by codes", "nothing worse is offered")
}

// sidesOf is what stands beside the table, a line below the other.
func sidesOf(a *App) string {
	var b strings.Builder
	for _, line := range splitLines(a.Plain()) {
		if r := []rune(line); len(r) > 46 {
			b.WriteString(string(r[46:]) + "\n")
		}
	}
	return b.String()
}

// One that does not agree with the others is marked, with what to do; the next hand has rows of its own.
func TestScaleOutlierAndHands(t *testing.T) {
	a := atScale(t, exampleText(t, "station-platform"), 80, 24)
	typed(a, "ctrl+n")
	assert.Contains(t, a.Plain(), "Scale of minutes")
	for k := range 7 {
		stands := fmt.Sprintf("%d:00", 10*k)
		if k == 3 {
			stands = "36:00"
		}
		typed(a, stands, "down")
	}
	assert.Empty(t, a.session.Doc.Build.Hands[0].Scale)
	require.Len(t, a.session.Doc.Build.Hands[1].Scale, 7)
	typed(a, "ctrl+g")
	assert.Contains(t, scaleLine(a), "×")
	assert.Contains(t, a.Plain(), "left out. Look again")
	typed(a, "ctrl+n")
	assert.Contains(t, a.Plain(), "Scale of seconds")
	assert.Contains(t, a.Plain(), "off, s")
	typed(a, "ctrl+n", "0 %")
	assert.Len(t, a.session.Doc.Build.Hands[0].Scale, 1)
}

// A click gives a row the keys; the wheel goes through them.
func TestScaleMouse(t *testing.T) {
	a := atScale(t, exampleText(t, "net-loft"), 80, 24)
	click := func(x, y int, b tea.MouseButton) {
		a.Update(tea.MouseMsg{X: x, Y: y, Button: b, Action: tea.MouseActionPress})
	}
	click(10, 4, tea.MouseButtonLeft)
	assert.Contains(t, scaleLine(a), "▸    40")
	click(10, 4, tea.MouseButtonWheelDown)
	assert.Contains(t, scaleLine(a), "▸    80")
	for y := range 24 {
		for x := 0; x < 80; x += 7 {
			click(x, y, tea.MouseButtonLeft)
		}
	}
	framed(t, a)
}

// Every key is taken here, at every size and on what cannot be read.
func TestScaleTakesEveryKey(t *testing.T) {
	for _, text := range []string{exampleText(t, "net-loft"), "x = = 1", "format = 1\n"} {
		a := open(text, 60, 20)
		for _, name := range allKeys() {
			a.front.Close()
			a.form.OpenPane(form.ScaleName)
			settle(a)
			require.NotPanics(t, func() { a.Update(uitest.Pressed(name)) }, name)
			framed(t, a)
		}
	}
}

// The rows at half and at the top are readings at the bench; one that is typed there goes before, and leaves them as they are.
func TestScaleAtTheBench(t *testing.T) {
	text := exampleText(t, "net-loft")
	a := open(text, 80, 24)
	press(a, "shift+tab")
	a.bench.GoToPoint("hours.needle_top")
	settle(a)
	assert.Contains(t, scaleLine(a), "12:00")
	assert.Contains(t, scaleLine(a), "✓ inside")
	press(a, "f5")
	assert.Contains(t, a.Plain(), "As the rows of its scale have it")
	press(a, "esc", "96 %", "down", "up")
	assert.Equal(t, []model.Reading{{At: "hours.needle_top", Value: "96 %", Before: "no"}}, given(a))
	assert.Len(t, scaleRows(a), 8)
	press(a, "ctrl+u", "down", "ctrl+z")
	require.Len(t, given(a), 1)
	press(a, "ctrl+z")
	assert.Equal(t, text, a.Text())
	a.bench.Mended()
	assert.Contains(t, a.notice.Text, "nothing is to be marked")
	assert.Equal(t, text, a.Text())
}
