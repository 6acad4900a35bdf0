package survey

import (
	"encoding/json"
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model/quantity"
	engine "example.com/needlewright/model/survey"
	"example.com/needlewright/model/survey/unknown"
	"example.com/needlewright/ui/cells"
	"example.com/needlewright/ui/form"
	"example.com/needlewright/ui/keys"
	"example.com/needlewright/ui/layout"
	"example.com/needlewright/ui/notice"
	"example.com/needlewright/ui/session"
	"example.com/needlewright/ui/uitest"
)

// opened is the survey on a build of one bare hand.
func opened() *Survey {
	say, k := &notice.Notice{}, keys.New()
	s := session.New(session.Start{Text: "format = 1\n[rail]\nvoltage = \"5 V\"\n[[hand]]\nname = \"hours\"\n"}, say)
	v := New(s, form.New(s, say, k, form.Panes), say, k, func(*Found) tea.Cmd { return nil })
	v.Open()
	return v
}

// answers gives answers in turn.
func answers(t *testing.T, v *Survey, all ...string) {
	t.Helper()
	for _, a := range all {
		v.take(a)
		require.Empty(t, v.problem, a)
	}
}

// pageAt is what stands on the page, and below it, in a window.
func pageAt(v *Survey, w, h int) (page, help []string) {
	l := layout.Of(w, h)
	rows := uitest.Screen(w, h, func(at cells.Area) {
		v.Draw(at, w, h)
		v.DrawHelp(at.In(l.Help))
	})
	return rows[1:l.Help.Min.Y], rows[l.Help.Min.Y:l.Help.Max.Y]
}

// left is the text of the left side of a page, without blanks.
func left(page []string) string {
	var all strings.Builder
	for _, row := range page {
		if parts := strings.Split(row, "│"); len(parts) > 2 {
			all.WriteString(uitest.Squeezed(parts[1]))
		}
	}
	return all.String()
}

// On the page of every question, of meters that are made up apart, the question, what is
// wrong with an answer and the caution stand whole at every size, with answers to choose.
func TestPages(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 14))
	seen := map[string]bool{}
	const meters = 3
	for range meters {
		b := unknown.NewBench(unknown.Draw(random), random)
		v := opened()
		for v.ask != nil {
			seen[v.ask.Kind] = true
			for _, size := range uitest.Sizes {
				checkPage(t, v, size[0], size[1])
			}
			if v.ask.Kind != "marked" { // which is free text
				v.take("\x07nonsense")
				require.NotEmpty(t, v.problem, v.ask.Kind)
			}
			for _, size := range uitest.Sizes {
				checkPage(t, v, size[0], size[1])
			}
			line, err := json.Marshal(v.ask)
			require.NoError(t, err)
			var object map[string]any
			require.NoError(t, json.Unmarshal(line, &object))
			answers(t, v, b.Answer(object))
		}
		for _, size := range uitest.Sizes {
			page, _ := pageAt(v, size[0], size[1])
			assert.Contains(t, left(page), uitest.Squeezed(v.endings()[0].text))
		}
	}
	assert.Subset(t, []string{"origin", "glow", "swing", "rest", "marked", "kind", "source", "needle", "terminals", "resistor", "swap", "removed"}, slices.Collect(maps.Keys(seen)))
	assert.Greater(t, len(seen), 9, "most kinds of question were met: %v", seen)
}

// checkPage holds a page to that.
func checkPage(t *testing.T, v *Survey, w, h int) {
	t.Helper()
	page, help := pageAt(v, w, h)
	text := v.ask.Text
	if first, rest, _ := strings.Cut(text, ". "); w >= 80 && strings.Contains(first, "──") {
		text = rest
	}
	asked := left(page)
	assert.Contains(t, asked, uitest.Squeezed(text), "%d x %d", w, h)
	if v.problem != "" {
		assert.Contains(t, asked, uitest.Squeezed(shownAs(v.problem)), "%d x %d", w, h)
	}
	for _, o := range v.options()[:min(3, len(v.options()))] {
		assert.Contains(t, asked, uitest.Squeezed(o.text), "%d x %d", w, h)
	}
	below := uitest.Squeezed(strings.Join(help, " "))
	if all := v.cautions(); len(all) > 0 {
		whole := strings.Contains(below, uitest.Squeezed(all[0].Text)) || strings.Contains(below, uitest.Squeezed(all[0].Line()))
		assert.True(t, whole, "%d x %d: %v", w, h, help)
	}
	if current := currentText(v.ask); current != "" {
		assert.Contains(t, below, uitest.Squeezed(current), "%d x %d", w, h)
	}
}

// shownAs is a text as the canvas shows it.
func shownAs(text string) string { return strings.ReplaceAll(text, "\x07", "␇") }

// Every connection that can be asked for is drawn whole, with its resistor, and says where
// the multimeter is on; plain characters draw it too.
func TestSketches(t *testing.T) {
	nominals := []float64{1, 1.5, 2.2, 3.3, 4.7, 6.8}
	for power := 10.; power <= 1e6; power *= 10 {
		for _, n := range nominals {
			for _, kind := range []string{"needle", "terminals", "source"} {
				for _, volts := range []float64{1.5, 9} {
					a := &engine.Ask{Kind: kind, Of: &engine.Connection{Volts: volts, Series: n * power}}
					for _, ascii := range []bool{false, true} {
						canvas := cells.New(layout.SurveyDrawing.X, layout.SurveyDrawing.Y+1)
						canvas.UseASCII(ascii)
						sketchOf(a, false).draw(canvas.Area())
						drawn := canvas.Plain()
						assert.NotContains(t, drawn, "?", "a sign without a stand-in")
						assert.Equal(t, kind == "needle", strings.Contains(drawn, "OFF"))
						assert.Equal(t, kind != "needle", strings.Contains(drawn, " ON"))
						assert.Contains(t, drawn, map[float64]string{1.5: " 1.5 V ", 9: "  9 V  "}[volts])
						if !ascii {
							// the digits are those of the series, its unit follows the power of ten
							assert.Regexp(t, `┤ [0-9.]{1,3} [kM]?Ω ├`, drawn)
						}
					}
				}
			}
		}
	}
	assert.Nil(t, sketchOf(&engine.Ask{Kind: "glow"}, false))
	assert.Nil(t, sketchOf(nil, false))
}

// After the leads were turned round the drawings have them so.
func TestSketchTurned(t *testing.T) {
	a := &engine.Ask{Kind: "needle", Of: &engine.Connection{Volts: 1.5, Series: 1e6}}
	const meterColumn = 22
	assert.Equal(t, '+', sketchOf(a, false)[2][meterColumn])
	assert.Equal(t, '−', sketchOf(a, true)[2][meterColumn])
	assert.Equal(t, '+', sketchOf(a, true)[4][meterColumn])
}

// A value is taken over wherever the schema has its path; what it does not have is left out.
func TestMake(t *testing.T) {
	v := opened()
	f := &Found{verdict: engine.Verdict{
		Coil:     engine.Value{Value: 1200, Low: 1150, High: 1250},
		Movement: engine.Value{Value: 100e-6, Low: 95e-6, High: 105e-6}, Law: "square",
	}}
	before := v.s.Doc
	d := f.Make(before, 0)
	meter := d.Build.Hands[0].Meter
	assert.Equal(t, 1200., meter.Coil.Number)
	assert.InDelta(t, 50, meter.Coil.High()-meter.Coil.Number, 1)
	assert.Equal(t, 100e-6, meter.FullScale.Number)
	assert.Equal(t, "square", meter.Law)
	assert.Equal(t, d.Text, f.Make(d, 0).Text, "once more changes nothing")
	assert.NotEqual(t, before.Text, d.Text)
}

// A band has both its ends, one, or none.
func TestBandText(t *testing.T) {
	for _, c := range []struct {
		low, high float64
		want      string
	}{
		{1130, 1220, "1.13 kΩ to 1.22 kΩ"}, {math.NaN(), 1220, "at most 1.22 kΩ"}, {1130, math.NaN(), "from 1.13 kΩ up"}, {math.NaN(), math.NaN(), "none"},
	} {
		assert.Equal(t, c.want, bandText(engine.Value{Value: 1200, Low: c.low, High: c.high}, units["resistor"], "none"))
	}
}

// A connection that is another one than before is told in words too, whatever is drawn.
func TestChangedConnectionIsTold(t *testing.T) {
	v := opened()
	asked := func() string {
		page, _ := pageAt(v, 80, 24)
		return left(page)
	}
	answers(t, v, "salvaged", "no", "free", "0 %", "unknown", "moving coil", "1.5 V")
	assert.NotContains(t, asked(), "Now", "the first")
	answers(t, v, "3 %")
	assert.NotContains(t, asked(), "Now", "the terminals of the same")
	answers(t, v, "30 mV")
	require.NotEqual(t, 1e6, v.ask.Of.Series)
	assert.Contains(t, asked(), uitest.Squeezed("Now "+exactly(v.ask.Of.Series, quantity.Ohms)+"."))
}
