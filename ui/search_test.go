package ui

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/bench"
	"example.com/needlewright/model/words"
	"example.com/needlewright/ui/cells"
	"example.com/needlewright/ui/front"
	"example.com/needlewright/ui/uitest"
)

// The search has fields, results, words, causes and stages in one list, and says of each row
// which it is; what is called as typed stands first.
func TestSearchFindsAllKinds(t *testing.T) {
	for _, size := range uitest.Sizes {
		a := open(exampleText(t, "reading-room"), size[0], size[1])
		for typed, want := range map[string]string{
			"coil":         `▸ ?Coil +field`,
			"travel":       `▸ ?travel +word`,
			"trimmer trav": `▸ ?Trimmer travel +result`,
			"shunt left":   `▸ ?Shunt left +cause`,
			"bring-up":     `▸ ?bring-up +stage`,
			"Curv":         `▸ ?Curvature +field`,
			"pulse-width":  `▸ ?PWM +word`,
			"burn coil":    `▸ ?overload +word`, // by what is said of it
			"first power":  `▸ ?bring-up +stage`,
		} {
			press(a, "ctrl+f", typed)
			assert.Regexp(t, want, a.Plain(), "%s at %v", typed, size)
			press(a, "esc")
		}
		a = atBench(t, exampleText(t, "boathouse"), size[0], size[1])
		press(a, "ctrl+f", "pin at top")
		assert.Regexp(t, `▸ ?Pin at top.* +test point`, a.Plain(), size)
	}
}

// Each kind leads to what it is: a field to its form, a result to the list in which it is
// looked into, with its working a key away, a word and a cause to what is said of them, a
// stage to its page of the walk. Esc goes back to where one was.
func TestSearchLeadsThere(t *testing.T) {
	a := open(exampleText(t, "reading-room"), 80, 24)
	focusOn(t, a, "hand.hours.drive.fixed")
	was := a.Plain()

	press(a, "ctrl+f", "shunt", "down", "enter")
	require.Contains(t, a.Plain(), "Word: shunt")
	assert.Contains(t, a.Plain(), "See also")
	assert.Contains(t, oneLine(a), "Causes with it Shunt left.")
	press(a, "esc")
	assert.Contains(t, a.Plain(), "Search all")
	assert.Equal(t, "shunt", a.front.Prompt.Typed(), "the list stands as it stood")
	e, _ := a.front.Chosen()
	assert.Equal(t, []string{aWord}, e.Figures)
	press(a, "esc")
	assert.Equal(t, was, a.Plain())

	press(a, "ctrl+f", "shunt left", "enter")
	assert.Contains(t, a.Plain(), "How it shows")
	assert.Contains(t, a.Plain(), "the terminals show far fewer ohms than the coil.")
	assert.Contains(t, a.Plain(), "shunt: Something across a part")
	press(a, "esc", "esc")
	assert.Equal(t, was, a.Plain())

	press(a, "ctrl+f", "worst over", "enter")
	e, ok := a.front.Chosen()
	require.True(t, ok)
	assert.Equal(t, "Worst overload", strings.TrimSpace(e.Text))
	assert.Contains(t, a.Plain(), "Look into")
	press(a, "f6")
	assert.Contains(t, a.Plain(), "574.74 µA / 495 µA         =  1.1611") // the contract's sketch
	press(a, "esc", "esc")
	assert.Equal(t, was, a.Plain())

	press(a, "ctrl+f", "power", "down")
	e, _ = a.front.Chosen()
	require.Equal(t, []string{aWord}, e.Figures, "the stage is called so too, and stands first")
	press(a, "up", "enter")
	require.True(t, a.walk.IsOpen())
	assert.Equal(t, "power", model.StageIDs[a.walk.Stage()])
	press(a, "esc", "esc")
	assert.Equal(t, was, a.Plain())

	press(a, "ctrl+u", "abc", "ctrl+f", "bring-up", "enter")
	assert.False(t, a.walk.IsOpen())
	assert.Contains(t, a.Plain(), "The walk goes by what can be read")
}

// A stage that each hand has for itself opens with that of the hand in view.
func TestSearchOpensTheHandsStage(t *testing.T) {
	a := open(exampleText(t, "station-platform"), 80, 24)
	press(a, "ctrl+n", "ctrl+f", "smooth", "enter")
	assert.Contains(t, a.Plain(), "smooth, minutes")
}

// Every entry can be taken, at every size, and its row has its name and its kind.
func TestSearchTakesEveryEntry(t *testing.T) {
	t.Parallel()
	for _, name := range []string{"station-platform", "school-store"} {
		a := open(exampleText(t, name), 80, 24)
		press(a, "ctrl+f")
		entries := a.front.Prompt.Entries
		kinds := map[string]int{}
		for i := range entries {
			e := &entries[i]
			kinds[e.Figures[0]]++
			assert.NotEmpty(t, e.More, e.Text)
			if e.Read != nil {
				p := e.Read()
				assert.Contains(t, p.Title, e.Text)
				continue
			}
			e.Do()
			assert.NotEmpty(t, a.Plain(), e.Text)
			a.front.Close()
			if a.walk.IsOpen() {
				a.walk.Close()
			}
		}
		assert.Equal(t, len(words.All), kinds[aWord])
		assert.Equal(t, len(bench.AllTold()), kinds[aCause])
		assert.Equal(t, len(model.StageIDs), kinds[aStage])
		assert.Greater(t, kinds[aField], 80)
		assert.Greater(t, kinds[aResult], 30)
	}
	for _, size := range uitest.Sizes {
		a := open(exampleText(t, "station-platform"), size[0], size[1])
		press(a, "ctrl+f")
		for range len(a.front.Prompt.Entries) / 40 {
			e, _ := a.front.Chosen()
			row := ""
			for _, line := range splitLines(a.Plain()) {
				if strings.Contains(line, "▸") {
					row = line
				}
			}
			head := strings.TrimSpace(e.Text)
			head = head[:min(14, len(head))]
			if cells.Width(head) == len(head) {
				assert.Contains(t, row, head, size)
			}
			assert.Contains(t, row, e.Figures[0], size)
			for range 40 {
				a.Update(uitest.Key("down"))
			}
		}
	}
}

// The screens of the search, of a word, and of the words of a result, a finding and a cause.
func TestGoldenWords(t *testing.T) {
	for _, size := range uitest.Sizes {
		screen := func(name string, a *App) {
			golden(t, fmt.Sprintf("words-%s-%dx%d", name, size[0], size[1]), a.Plain())
		}
		a := open(exampleText(t, "school-store"), size[0], size[1])
		press(a, "ctrl+f", "coil")
		screen("search", a)
		press(a, "ctrl+u", "burn coil")
		screen("search-said", a)
		press(a, "enter")
		screen("word", a)
		press(a, "esc", "ctrl+u", "shunt left", "enter")
		screen("cause", a)
		press(a, "esc", "esc", "f6", "travel", "f5")
		screen("result", a)
		press(a, "esc", "esc", "ctrl+g", "f5", "f5")
		screen("finding", a)
		a = atBench(t, exampleText(t, "boathouse"), size[0], size[1])
		press(a, "f6", "f5")
		screen("causes", a)
	}
}

func BenchmarkSearchKey(b *testing.B) {
	a := open(exampleText(b, "station-platform"), 120, 40)
	press(a, "ctrl+f")
	on, off := uitest.Key("c"), uitest.Key("backspace")
	for i := 0; b.Loop(); i++ {
		msg := on
		if i%2 == 1 {
			msg = off
		}
		a.Update(msg)
		_ = a.View()
	}
	require.Equal(b, front.Asking, a.front.Mode)
}

// The search opens over the walk too: a word is read and esc goes back to the page; a field is
// gone to, on its form.
func TestSearchInTheWalk(t *testing.T) {
	a := walking(t, "", 80, 24)
	page := a.Plain()
	tap(a, "ctrl+f", "ripple", "enter")
	assert.Contains(t, a.Plain(), "ripple")
	tap(a, "esc", "esc")
	assert.Equal(t, page, a.Plain())
	require.True(t, a.walk.IsOpen())
	tap(a, "ctrl+f", "accuracy class", "enter")
	assert.False(t, a.walk.IsOpen())
	assert.Contains(t, a.Plain(), "▸ Accuracy class")
}
