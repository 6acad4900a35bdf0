package bench

import (
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	built "example.com/needlewright/model/bench"
	"example.com/needlewright/model/modeltest"
	"example.com/needlewright/model/quantity"
	"example.com/needlewright/ui/cells"
	"example.com/needlewright/ui/form"
	"example.com/needlewright/ui/keys"
	"example.com/needlewright/ui/notice"
	"example.com/needlewright/ui/session"
	"example.com/needlewright/ui/uitest"
)

// readAlready are benches that many tests have.
var readAlready = Known{}

// on is the pane, open on a text.
func on(t testing.TB, text string) *Bench {
	t.Helper()
	say, k := &notice.Notice{}, keys.New()
	s := session.New(session.Start{Text: text}, say)
	f := form.New(s, say, k, form.Panes)
	b := New(s, f, say, k)
	f.OpenPane(form.BenchName)
	b.PrepareNow(readAlready)
	require.NotNil(t, b.Report())
	return b
}

// typed gives keys to the reading that has them, as the dashboard does.
func typed(b *Bench, names ...string) {
	for _, name := range names {
		b.Edit(uitest.Key(name))
		b.PrepareNow(readAlready)
	}
}

func TestReadingIsTyped(t *testing.T) {
	text := modeltest.Example("reading-room")
	b := on(t, text)
	assert.Equal(t, b.Report().Next[0].At, b.focus, "the first to be measured")
	assert.Contains(t, b.focus, "hours.needle_", "which costs a look")
	b.GoToPoint("hours.needle_half")
	typed(b, "4", "7", " ", "%")
	assert.Equal(t, []model.Reading{{At: "hours.needle_half", Value: "47 %", Before: "no"}}, b.s.Doc.Build.Readings)
	assert.True(t, strings.HasPrefix(b.s.Text(), strings.TrimRight(text, "\n")), "nothing else of the file changes")
	r, _ := b.focused()
	require.NotNil(t, r.read)
	assert.Contains(t, []built.Verdict{built.Inside, built.Edge}, r.read.Verdict, "3 % from the plan, of which the eye has 1.5 % and the class 2.5 %")
	assert.Empty(t, b.s.Undo)
	b.Settle()
	b.Move(1)
	assert.Len(t, b.s.Undo, 1, "one step a visit")
	assert.Equal(t, "hours.needle_top", b.focus)

	b.Move(-1)
	typed(b, "3")
	assert.Equal(t, "3", b.s.Doc.Build.Readings[0].Value, "what is typed first replaces")
	b.s.Revert()
	b.Heed()
	assert.Equal(t, "47 %", b.line.Value())
}

// An emptied reading is taken out of the file when its point is left, which then is what
// it was.
func TestEmptiedReadingGoes(t *testing.T) {
	text := modeltest.Example("reading-room")
	b := on(t, text)
	typed(b, "47 %")
	b.Settle()
	b.Move(1)
	b.Move(-1)
	typed(b, "ctrl+u")
	require.Len(t, b.s.Doc.Build.Readings, 1, "it may be typed anew")
	b.Settle()
	b.Move(1)
	assert.Equal(t, text, b.s.Text())
	b.s.UndoVisit()
	assert.Len(t, b.s.Doc.Build.Readings, 1)
}

func TestWordsAreChosen(t *testing.T) {
	b := on(t, modeltest.Example("reading-room"))
	b.GoToPoint("lamp.seconds.lights")
	value := func() string {
		if r := b.s.Doc.Build.Readings; len(r) > 0 {
			return r[0].Value
		}
		return ""
	}
	typed(b, "right")
	assert.Equal(t, "yes", value())
	typed(b, "right")
	assert.Equal(t, "no", value())
	typed(b, "left")
	assert.Equal(t, "yes", value())
	typed(b, "a")
	assert.Equal(t, "always", value())
	require.NotEmpty(t, b.Report().Causes)
	assert.Contains(t, b.Report().Causes[0].ID, "lamp_always")
	typed(b, "x")
	assert.Contains(t, b.say.Text, "yes, no, always")
	typed(b, "backspace")
	assert.Empty(t, value())
}

// What a reading makes of the plan, worked by hand from the contract's multimeter: share of
// the reading, 3 units of the display's last digit, half a unit of the last digit written.
func TestTakenIntoThePlan(t *testing.T) {
	for _, c := range []struct {
		point, reading, path string
		value, half          float64
	}{
		{"rail.voltage_on", "5.02 V", "rail.voltage", 5.02, 0.075},                       // 0.8 % · 5.02 + 3 · 0.01 + 0.005 = 0.0752
		{"hours.terminals_ohms", "652 Ω", "hand.hours.meter.coil", 652, 10},              // 1 % · 652 + 3 · 1 + 0.5 = 10.0
		{"lamp.seconds.resistance", "1.49 kΩ", "lamp.seconds.resistor", 1490, 23},        // 14.9 + 3 + 5 = 22.9
		{"hours.series_resistance", "8.7 kΩ", "hand.hours.drive.setting", 500, 170},      // 8.7 kΩ − 8.2 kΩ; 87 + 30 + 50 = 167
		{"hours.needle_unpowered", "2 %", "hand.hours.meter.zero_offset", 0.02, 0},       // by eye
		{"battery.current_off", "24.9 µA", "converter.quiescent", 22.95e-6, 0.4535e-6},   // 18 µA + 24.9 − 19.95; 0.3735 + 0.03 + 0.05
		{"crystal.frequency", "32.7681 kHz", "crystal.measured", 32768.1, 0.066},         // 2 ppm
		{"hours.pwm_frequency", "980 Hz", "hand.hours.drive.clock", 1003520, 4.48 * 1e3}, // · 4 · 256; 0.98 + 3 + 0.5 = 4.48 Hz
	} {
		b := on(t, modeltest.Example("reading-room"))
		b.GoToPoint(c.point)
		typed(b, c.reading)
		b.Settle()
		b.Take()
		field, i, ok := b.s.Doc.Find(c.path)
		require.True(t, ok, c.path)
		require.Contains(t, b.say.Text, "Taken into the plan", c.point)
		v := field.At(b.s.Doc.Build, i).(*quantity.Value)
		assert.InDelta(t, c.value, v.Number, max(0.06*c.half, 1e-12), c.point)
		assert.InDelta(t, c.half, v.Half(), 0.05*c.half, c.point)
		assert.Empty(t, b.s.Doc.Problems)
		require.Len(t, b.s.Undo, 2, "the reading, and taking it over")
		b.s.UndoVisit()
		require.Len(t, b.s.Doc.Build.Readings, 1)
	}
}

func TestNotIntoThePlan(t *testing.T) {
	text := modeltest.Example("reading-room")
	for _, c := range []struct{ point, reading, says string }{
		{"hours.needle_half", "47 %", "measures no value of the plan"},
		{"hours.terminals_ohms", "over", "without a number"},
		{"hours.terminals_ohms", "abc", "no reading here"},
		{"hours.series_resistance", "1 kΩ", "may be 0 Ω to 1.00 kΩ"},
	} {
		b := on(t, text)
		b.GoToPoint(c.point)
		typed(b, c.reading)
		b.Settle()
		before := b.s.Text()
		b.Take()
		assert.Contains(t, b.say.Text, c.says, c.point)
		assert.Equal(t, before, b.s.Text())
	}
	inside := strings.Replace(text, `internal_kind = "multiplier"`, "internal_kind = \"multiplier\"\nin_circuit = \"yes\"", 1)
	require.NotEqual(t, text, inside)
	b := on(t, inside)
	b.GoToPoint("hours.terminals_ohms")
	typed(b, "652")
	b.Take()
	assert.Contains(t, b.say.Text, "measures no value of the plan", "the multiplier is read with it")
}

// All readings are marked as one step of undo; those to be taken again are named, and one
// that is typed anew counts again.
func TestMended(t *testing.T) {
	b := on(t, modeltest.Example("boathouse"))
	n := len(b.s.Doc.Build.Readings)
	require.Greater(t, n, 2)
	assert.Equal(t, "shunt_left", b.Report().Causes[0].ID)
	b.Mended()
	assert.Contains(t, b.say.Text, "5 readings marked")
	assert.Regexp(t, "Take again first: .+", b.say.Text)
	for _, r := range b.s.Doc.Build.Readings {
		assert.Equal(t, "yes", r.Before, r.At)
	}
	assert.Nil(t, b.Likeliest())
	assert.Len(t, b.s.Undo, 1)
	at := b.focus
	typed(b, "50 %")
	for _, r := range b.s.Doc.Build.Readings {
		assert.Equal(t, r.At != at, r.Before == "yes", r.At)
	}
	b.Settle()
	b.Mended()
	b.Mended()
	assert.Contains(t, b.say.Text, "no reading since")
}

// When all that was read before the repair is read again, and right, the pane says so.
func TestMendedAsPlanned(t *testing.T) {
	b := on(t, modeltest.Example("reading-room"))
	said := func() string {
		b.weighNow()
		text := ""
		for _, s := range b.guidance() {
			text += s.text + "\n"
		}
		return text
	}
	read := func(at, value string) {
		b.GoToPoint(at)
		typed(b, value)
		b.Settle()
	}
	read("hours.needle_top", "88 %")
	read("hours.needle_half", "44 %")
	b.Mended()
	const mended = "as it should be now"
	assert.NotContains(t, said(), mended)
	read("hours.needle_top", "100 %")
	assert.NotContains(t, said(), mended, "one is left")
	read("hours.needle_half", "50 %")
	assert.Contains(t, said(), mended)
	read("hours.needle_half", "44 %")
	assert.NotContains(t, said(), mended)
}

// What reads after the repair as it did before is a new reading all the same.
func TestSameReadingAgain(t *testing.T) {
	for _, c := range []struct{ point, first, again string }{
		{"lamp.seconds.lights", "y", "y"}, {"lamp.seconds.lights", "right", "right"}, {"rail.voltage_on", "5", "5"},
	} {
		b := on(t, modeltest.Example("reading-room"))
		b.GoToPoint(c.point)
		typed(b, c.first)
		b.Settle()
		b.Mended()
		b.GoToPoint(c.point)
		before := b.s.Doc.Build.Readings[0]
		require.Equal(t, "yes", before.Before)
		typed(b, c.again)
		assert.Equal(t, []model.Reading{{At: c.point, Value: before.Value, Before: "no"}}, b.s.Doc.Build.Readings)
	}
}

// What cannot be weighed is listed, with why, and taken out like any reading.
func TestReadingsThatAreNotWeighed(t *testing.T) {
	text := modeltest.Example("reading-room") + "\n[[reading]]\nat = \"attic.needle_half\"\nvalue = \"3 V\"\n\n[[reading]]\nat = \"rail.voltage_on\"\nvalue = \"much\"\n"
	b := on(t, text)
	all := b.list()
	last := all[len(all)-1]
	assert.Nil(t, last.point)
	assert.Equal(t, "attic.needle_half", last.id())
	_, word, _ := verdictOf(last)
	assert.Equal(t, "foreign", word)
	b.GoToPoint("rail.voltage_on")
	r, _ := b.focused()
	_, word, _ = verdictOf(r)
	assert.Equal(t, "unread", word)
	screen := strings.Join(uitest.Screen(78, 4, b.DrawHelp), "\n")
	assert.Contains(t, screen, "cannot be read")
	b.goTo(last.key())
	screen = strings.Join(uitest.Screen(78, 4, b.DrawHelp), "\n")
	assert.Contains(t, screen, "no such test point")
	typed(b, "ctrl+u")
	b.Settle()
	assert.Len(t, b.s.Doc.Build.Readings, 1)
}

// At every point, at every size: what goes before a hurt is whole, and all of the point is
// on its page.
func TestCautionsStandWhole(t *testing.T) {
	b := on(t, uitest.WithEachList(t, modeltest.Example("reading-room")))
	for _, r := range b.list() {
		b.goTo(r.key())
		for _, size := range uitest.Sizes {
			screen := strings.Join(uitest.Screen(size[0]-2, 5, b.DrawHelp), " ")
			for i, c := range b.known(r).cautions {
				if i == 0 {
					assert.Contains(t, uitest.Squeezed(screen), uitest.Squeezed(c), "%s at %d", r.key(), size[0])
				}
			}
		}
	}
}

// Every test point has a name that fits its column, and none is called as another of its
// group.
func TestLabels(t *testing.T) {
	b := on(t, uitest.WithEachList(t, modeltest.Example("station-platform")))
	seen := map[string]bool{}
	for _, p := range b.Report().Points {
		place, ok := b.prepared.Got().PlaceOf(p.ID)
		require.True(t, ok)
		assert.NotEmpty(t, place.Label, p.ID)
		assert.True(t, cells.Fits(place.Label, 14), p.ID)
		assert.False(t, seen[place.Owner+place.Label], p.ID)
		seen[place.Owner+place.Label] = true
	}
}

// Whatever the build, its points are shown and readings are judged; what nobody can build
// costs nobody the dashboard.
func TestAnyBuildIsJudged(t *testing.T) {
	random := rand.New(rand.NewPCG(11, 12))
	texts := []string{"format = 1\n[rail]\nvoltage = \"5 V\"\n"}
	for range 3 {
		texts = append(texts, modeltest.AnyBuild(random))
	}
	judged := 0
	for _, text := range texts {
		say, k := &notice.Notice{}, keys.New()
		s := session.New(session.Start{Text: text}, say)
		f := form.New(s, say, k, form.Panes)
		b := New(s, f, say, k)
		f.OpenPane(form.BenchName)
		require.NotPanics(t, func() { b.PrepareNow(nil) }, text)
		require.Empty(t, say.Text, text)
		if b.Report() == nil {
			continue
		}
		judged++
		require.NotPanics(t, func() {
			for range 8 {
				b.Move(1 + random.IntN(20))
				typed(b, []string{"none", "3", "over", "right", "abc", "-1e9", "12 mV", "0"}[random.IntN(8)])
				uitest.Screen(53, 12, b.DrawPoints)
				uitest.Screen(80, 7, b.DrawCauses)
				uitest.Screen(78, 4, b.DrawHelp)
				b.Settle()
			}
		}, text)
	}
	assert.Positive(t, judged)
}
