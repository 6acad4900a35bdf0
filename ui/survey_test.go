package ui

import (
	"fmt"
	"regexp"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model/quantity"
	"example.com/needlewright/ui/front"
	"example.com/needlewright/ui/uitest"
)

// surveying is a dashboard with the survey open.
func surveying(t testing.TB, w, h int) *App {
	t.Helper()
	a := open(exampleText(t, "reading-room"), w, h)
	press(a, "alt+s")
	require.True(t, a.survey.IsOpen())
	return a
}

// looked are the keys that answer what is asked before anything is connected.
var looked = []string{"salv", "enter", "no", "enter", "free", "enter", "0", "enter", "down", "enter", "moving c", "enter"}

// askedIn is the text at the left of the survey's page, in one line.
func askedIn(a *App) string {
	var all []string
	for _, line := range splitLines(a.Plain()) {
		if parts := strings.Split(line, "│"); len(parts) > 2 {
			all = append(all, strings.Fields(parts[1])...)
		}
	}
	return strings.Join(all, " ")
}

// A benchMeter is a bare one on the table of the tests: Ω and A.
type benchMeter struct{ coil, fullScale float64 }

// bareMeter is an invented one of 100 µA and 1.2 kΩ.
var bareMeter = benchMeter{1200, 100e-6}

var (
	aResistor = regexp.MustCompile(`┤ (\S+ [kM]?Ω) ├`)
	aSource   = regexp.MustCompile(`│ *(1\.5|9) V *│`)
	theMost   = regexp.MustCompile(`At most (\S+ \S+) can pass`)
)

// reply is what a beginner types who reads nothing but the screen; "" where there is no
// question that one of the bench answers. What is seen follows from Ohm's law.
func (m benchMeter) reply(t *testing.T, screen string) string {
	number := func(text string, u quantity.Unit) float64 {
		v, err := quantity.ParsePlain(text, u)
		require.NoError(t, err, text)
		return v.Number
	}
	on, off := strings.Contains(screen, " ON"), strings.Contains(screen, "OFF")
	part, source := aResistor.FindStringSubmatch(screen), aSource.FindStringSubmatch(screen)
	switch {
	case strings.Contains(screen, " Ω    +  ON "):
		return "as marked"
	case source == nil:
		return ""
	case part == nil && source[1] == "9":
		return "skip"
	case part == nil:
		return "1.53"
	}
	current := 1.53 / (number(part[1], quantity.Ohms) + m.coil)
	require.LessOrEqual(t, current, m.fullScale, "it would hurt the meter")
	most := theMost.FindStringSubmatch(screen)
	require.NotNil(t, most, screen)
	assert.LessOrEqual(t, current, 1.01*number(most[1], quantity.Amperes), "two digits are shown")
	require.NotEqual(t, on, off, "the multimeter is on or off:\n%s", screen)
	if off {
		return fmt.Sprintf("%.0f", 100*current/m.fullScale)
	}
	return fmt.Sprintf("%.1f mV", 1e3*current*m.coil)
}

// toVerdict answers all that the bench is asked, and returns how often it was.
func (m benchMeter) toVerdict(t *testing.T, a *App) (asked int) {
	for ; asked < 40; asked++ {
		if strings.Contains(a.Plain(), "▸ verdict") {
			return asked
		}
		reply := m.reply(t, a.Plain())
		require.NotEmpty(t, reply, a.Plain())
		press(a, reply, "enter")
	}
	require.Fail(t, "the survey does not end", a.Plain())
	return asked
}

// A beginner comes from nothing to a verdict reading nothing but the screen, takes it over
// as one edit, and undoes that.
func TestSurveyByABeginner(t *testing.T) {
	a := surveying(t, 80, 24)
	press(a, looked...)
	first := a.Text()
	assert.Less(t, bareMeter.toVerdict(t, a), 20)
	screen := a.Plain()
	assert.Contains(t, screen, "✓ A bare movement, moving coil.")
	assert.Contains(t, screen, "now 640 Ω, 500 µA", "what would be given up")
	press(a, "enter")
	assert.False(t, a.survey.IsOpen())
	assert.Contains(t, a.Plain(), "Taken over into hours")
	assert.Contains(t, a.Plain(), "What changed")
	assert.Equal(t, "hand.meter.coil", focusedRow(a).Field.Path)
	meter := a.session.Doc.Build.Hands[0].Meter
	for _, c := range []struct {
		of    quantity.Value
		truth float64
	}{{meter.Coil, bareMeter.coil}, {meter.FullScale, bareMeter.fullScale}} {
		assert.True(t, c.of.Low() <= c.truth && c.truth <= c.of.High(), "%v holds %g", c.of, c.truth)
	}
	require.Len(t, a.session.Undo, 1, "one edit")
	press(a, "ctrl+z")
	assert.Equal(t, first, a.Text())
	press(a, "alt+s")
	assert.Contains(t, a.Plain(), "▸ verdict", "it is there as it was left")
	press(a, "enter", "alt+s", "enter")
	assert.Contains(t, a.Plain(), "Nothing changes: hours has just these values.")
	require.Len(t, a.session.Undo, 1)
}

// The screens of the survey.
func TestSurveyScreens(t *testing.T) {
	a := surveying(t, 80, 24)
	screen := func(name string) {
		for _, size := range uitest.Sizes {
			a.Update(windowSize(size[0], size[1]))
			golden(t, fmt.Sprintf("survey-%s-%dx%d", name, size[0], size[1]), a.Plain())
		}
	}
	screen("first")
	press(a, "vehicle", "enter")
	screen("danger")
	press(a, "no", "enter")
	screen("stop")
	press(a, "shift+tab", "shift+tab")
	press(a, looked[:len(looked)-2]...)
	screen("choices")
	press(a, "moving c", "enter")
	screen("source")
	press(a, "1.53", "enter")
	screen("needle")
	press(a, "far up", "enter")
	screen("problem")
	press(a, "ctrl+u", "below", "enter")
	screen("turned")
	press(a, "enter", "2", "enter")
	screen("terminals")
	press(a, "f5")
	screen("help")
	press(a, "x")
	bareMeter.toVerdict(t, a)
	screen("verdict")
	a = New(Options{Text: exampleText(t, "reading-room"), At: teatime, ASCII: true})
	a.Update(windowSize(80, 24))
	press(a, append(append([]string{"alt+s"}, looked...), "1.53", "enter", "1", "enter")...)
	golden(t, "survey-ascii-80x24", a.Plain())
}

// What is answered wrong is taken back and stands there to be mended; what is typed is not
// lost by skipping; who leaves comes back to where he was, a typed text included.
func TestSurveyBackSkipLeave(t *testing.T) {
	a := surveying(t, 80, 24)
	press(a, "shift+tab")
	assert.Contains(t, askedIn(a), "nothing is answered yet")
	press(a, looked...)
	press(a, "1.62", "enter")
	assert.Contains(t, a.Plain(), "where")
	press(a, "shift+tab")
	assert.Contains(t, a.Plain(), "▸[1.62]", "the answer stands there again")
	press(a, "1.53", "enter", "12")
	press(a, "tab")
	assert.Contains(t, askedIn(a), "Something is typed")
	press(a, "esc")
	assert.False(t, a.survey.IsOpen())
	assert.Equal(t, exampleText(t, "reading-room"), a.Text(), "nothing of it is in the file")
	press(a, "f2", "go on with")
	assert.Contains(t, a.Plain(), "Go on with the survey of a meter")
	press(a, "enter")
	assert.Contains(t, a.Plain(), "▸12 ", "it was left with that")
	press(a, "ctrl+u", "tab")
	assert.Contains(t, a.Plain(), "▸ verdict", "without the needle no more can be told")
	assert.Contains(t, askedIn(a), "left out")
	press(a, "shift+tab")
	assert.Contains(t, a.Plain(), "▸ connect")
	press(a, "esc", "f2", "survey another", "enter")
	assert.Contains(t, a.Plain(), "Where does the meter come from?")
	assert.Contains(t, a.Plain(), "question 1 ")
	for range 4 {
		press(a, "shift+tab")
	}
	assert.Contains(t, a.Plain(), "question 1 ")
}

// Who goes back several questions finds each answer that was given after them again.
func TestSurveyBackAndOn(t *testing.T) {
	a := surveying(t, 80, 24)
	press(a, looked...)
	press(a, "1.53", "enter", "1 %", "enter")
	at, asked := a.Plain(), askedIn(a)
	for range 4 {
		press(a, "shift+tab")
	}
	assert.NotEqual(t, at, a.Plain())
	for range 4 {
		press(a, "enter")
	}
	assert.Equal(t, asked, askedIn(a))
	press(a, "0.9", "enter")
	assert.Contains(t, askedIn(a), "mV or V? write it with its unit")
}

// Leaving the program while a survey is not taken over loses no answer: the next start has
// them, at the same question, and a survey that was taken over leaves none.
func TestSurveyIsNotLost(t *testing.T) {
	a := surveying(t, 80, 24)
	press(a, looked...)
	press(a, "1.53", "enter", "1 %", "enter")
	asked := askedIn(a)
	answers := a.SurveyAnswers()
	assert.True(t, do(a, "ctrl+q"))

	a = New(Options{Text: exampleText(t, "reading-room"), At: teatime, Answers: answers})
	a.Update(tea.WindowSizeMsg{Width: 80, Height: 24})
	press(a, "alt+s")
	assert.Equal(t, asked, askedIn(a))
	assert.Equal(t, answers, a.SurveyAnswers())

	a = New(Options{Text: exampleText(t, "reading-room"), At: teatime, Answers: []string{"new", "perhaps", "free"}})
	assert.Equal(t, []string{"new"}, a.SurveyAnswers(), "what cannot be taken ends it")
}

// What may be dangerous is not answered by a key too many: something must be chosen.
func TestSurveyNothingChosen(t *testing.T) {
	a := surveying(t, 80, 24)
	press(a, "enter", "enter")
	assert.Contains(t, a.Plain(), "question 1 ")
	assert.Contains(t, askedIn(a), "Nothing is chosen yet: ↑↓ choose.")
	press(a, "down", "enter", "enter")
	assert.Contains(t, a.Plain(), "question 2 ")
	assert.Contains(t, askedIn(a), "Nothing is chosen yet")
}

// Nonsense costs nothing: it stands there with what is wrong, and nothing else moves.
func TestSurveyNonsense(t *testing.T) {
	a := surveying(t, 80, 24)
	press(a, "q")
	assert.Contains(t, askedIn(a), "None begins with “q”")
	press(a, looked...)
	press(a, "1.53", "enter")
	for _, nonsense := range []string{"", "up", "900 %", "-90 %", "5 V", "½", "12 % ±1 %", strings.Repeat("9", 60)} {
		press(a, "ctrl+u")
		a.Update(uitest.Pasted(nonsense))
		press(a, "enter")
		screen := a.Plain()
		assert.Contains(t, screen, "question 8, connection 1", nonsense)
		assert.NotContains(t, screen, "question 9")
		assert.Contains(t, screen, "Never an ohmmeter on an unknown coil", "the caution stands, whatever is wrong")
		assert.Contains(t, screen, " over ", "and an answer that can be chosen: %s", nonsense)
		if len(nonsense) < 10 {
			assert.Regexp(t, `▸\[?`+regexp.QuoteMeta(nonsense), screen)
		}
	}
	a.Update(uitest.Pasted("1\x1b[2J2\n%"))
	assert.NotContains(t, a.Plain(), "\x1b")
	press(a, "ctrl+u", " Over ")
	press(a, "enter")
	assert.Contains(t, a.Plain(), "✗ Stop.", "a word in any letters, blanks round it")
}

// A window that changes its size in the middle changes nothing else.
func TestSurveyResized(t *testing.T) {
	a := surveying(t, 120, 40)
	press(a, looked...)
	press(a, "1.53", "enter", "12")
	for _, size := range [][2]int{{60, 20}, {20, 5}, {200, 60}, {78, 21}, {77, 20}, {80, 24}} {
		a.Update(windowSize(size[0], size[1]))
		require.NotPanics(t, func() { a.View() })
		if size[0] >= 60 {
			assert.Contains(t, a.Plain(), "▸12 ", "%v", size)
		}
	}
	press(a, "enter")
	assert.Contains(t, a.Plain(), "question 9")
}

// What stops a survey is said with what to do; there is nothing to take over then.
func TestSurveyStops(t *testing.T) {
	for _, c := range []struct {
		keys []string
		says string
	}{
		{[]string{"mains", "enter", "no", "enter"}, "Taking it out is for licensed practice"},
		{[]string{"new", "enter", "yes", "enter"}, "The paint may be radium"},
		{[]string{"new", "enter", "no", "enter", "stuck", "enter"}, "does not swing"},
		{append(append([]string{}, looked...), "1.53", "enter", "over", "enter"), "The needle is over"},
		{append(append([]string{}, looked...), "1.53", "enter", "none", "enter", "1.5 V", "enter"), "open coil"},
	} {
		for _, size := range uitest.Sizes {
			a := surveying(t, size[0], size[1])
			press(a, c.keys...)
			assert.Contains(t, askedIn(a), "✗ Stop. ")
			assert.Contains(t, askedIn(a), c.says)
			assert.Contains(t, askedIn(a), "is to be connected to it as it is", "%v", size)
			assert.NotContains(t, askedIn(a), "Take over")
			press(a, "down", "enter")
			assert.Contains(t, a.Plain(), "Where does the meter come from?")
			assert.Equal(t, exampleText(t, "reading-room"), a.Text())
		}
	}
}

// What was found may be a new hand's, which is one edit; the name is asked.
func TestSurveyedHand(t *testing.T) {
	a := surveying(t, 80, 24)
	press(a, looked...)
	bareMeter.toVerdict(t, a)
	press(a, "down", "enter")
	require.Equal(t, front.Asking, a.front.Mode)
	press(a, "enter", "enter")
	hands := a.session.Doc.Build.Hands
	require.Len(t, hands, 2)
	assert.Equal(t, "minutes", hands[1].Name)
	assert.InEpsilon(t, bareMeter.coil, hands[1].Meter.Coil.Number, 0.05)
	assert.Equal(t, "salvaged", hands[1].Meter.Origin)
	assert.Equal(t, 640., hands[0].Meter.Coil.Number, "the file's")
	assert.Empty(t, a.session.Doc.Problems)
	require.Len(t, a.session.Undo, 1)
	press(a, "ctrl+z")
	assert.Equal(t, exampleText(t, "reading-room"), a.Text())
}

// Keys of other parts do nothing behind the survey, and say how to come to them; files are
// saved, and keys listed, from it.
func TestSurveyKeys(t *testing.T) {
	a := surveying(t, 80, 24)
	for _, key := range []string{"f2", "ctrl+z", "ctrl+g", "f3", "ctrl+o", "ctrl+f"} {
		press(a, key)
		assert.Contains(t, a.Plain(), "First esc leaves the survey", key)
		assert.True(t, a.survey.IsOpen())
	}
	press(a, "f1")
	assert.Contains(t, a.Plain(), "answer before")
	press(a, "x", "ctrl+s")
	assert.Equal(t, front.Asking, a.front.Mode, "under which name")
	press(a, "esc")
	assert.Contains(t, a.Plain(), "Where does the meter come from?")
	assert.Contains(t, a.Plain(), "enter take it  shift+tab back  tab skip  esc leave")
	press(a, "ctrl+q")
	assert.Equal(t, front.Editing, a.front.Mode, "nothing is unsaved")
	press(a, "esc", "f9", "alt+s", "esc")
	assert.False(t, a.survey.IsOpen())
	assert.NotNil(t, a.kits.made.Running(), "esc leaves the survey, and no job behind it")
}

// Options are chosen by the mouse too, and the forms are a click away.
func TestSurveyMouse(t *testing.T) {
	a := surveying(t, 80, 24)
	row := func(text string) int {
		for y, line := range splitLines(a.Plain()) {
			if strings.Contains(line, text) {
				return y
			}
		}
		return -1
	}
	click := func(x, y int) {
		a.Update(tea.MouseMsg{X: x, Y: y, Button: tea.MouseButtonLeft, Action: tea.MouseActionPress})
	}
	click(5, row("out of a vehicle"))
	assert.Contains(t, a.Plain(), "▸vehicle")
	a.Update(tea.MouseMsg{X: 5, Y: 5, Button: tea.MouseButtonWheelUp, Action: tea.MouseActionPress})
	assert.Contains(t, a.Plain(), "▸high voltage")
	press(a, "up", "up", "enter", "no", "enter", "free", "enter")
	click(5, row("in the middle"))
	assert.Contains(t, a.Plain(), "▸50 %")
	click(5, row("such as -1 %"))
	press(a, "3")
	assert.Contains(t, a.Plain(), "▸3")
	click(70, row("Meter  Filter"))
	assert.False(t, a.survey.IsOpen())
}

// A build without a hand, and a file that is no TOML, lose nothing by it.
func TestSurveyWithoutAHand(t *testing.T) {
	a := open("format = 1\n[rail]\nvoltage = \"5 V\"\n", 80, 24)
	press(a, append([]string{"alt+s"}, looked...)...)
	bareMeter.toVerdict(t, a)
	assert.NotContains(t, a.Plain(), "Take over into")
	assert.Contains(t, a.Plain(), "▸Take over as a new hand")
	press(a, "enter", "enter", "enter")
	assert.Len(t, a.session.Doc.Build.Hands, 1)
	broken := strings.Replace(exampleText(t, "reading-room"), "[rail]", "[rail", 1)
	a = open(broken, 80, 24)
	press(a, append([]string{"alt+s"}, looked...)...)
	bareMeter.toVerdict(t, a)
	press(a, "enter")
	assert.Equal(t, broken, a.Text())
}
