package ui

import (
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Whatever is typed, clicked and resized, each frame has its size, nothing
// panics, and undo leads back to the first text.
func TestAnything(t *testing.T) {
	examples := map[string]string{"none": "", "no hand": "format = 1\n[rail]\nvoltage = \"5 V\"\n", "not TOML": "x = = 1"}
	names := []string{"none", "no hand", "not TOML"}
	for _, name := range []string{"reading-room", "station-platform", "school-store", "harbour-office"} {
		examples[name] = exampleText(t, name)
		names = append(names, name)
	}
	var keys []string
	for k := range namedKeys {
		if k != "ctrl+s" && k != "ctrl+o" { // they ask for files
			keys = append(keys, k)
		}
	}
	keys = append(keys, "5", "k", "m", "%", ":", "Ω", "abc", "min", "60 s", "\"", "New build", "Add a hand", "Remove the hand", "Remove the lamp", "minutes",
		"Take all", "Add a drain", "Copy the drain", "Remove the drain", "Add a button", "Remove the button", "Cautions")
	rapid.Check(t, func(t *rapid.T) {
		text := examples[rapid.SampledFrom(names).Draw(t, "example")]
		a := open(text, 80, 24)
		for range rapid.IntRange(1, 60).Draw(t, "steps") {
			switch rapid.IntRange(0, 11).Draw(t, "what") {
			case 0:
				a.Update(windowSize(rapid.IntRange(1, 130).Draw(t, "w"), rapid.IntRange(1, 45).Draw(t, "h")))
			case 1:
				a.Update(tea.MouseMsg{
					X: rapid.IntRange(0, 130).Draw(t, "x"), Y: rapid.IntRange(0, 45).Draw(t, "y"), Action: tea.MouseActionPress,
					Button: rapid.SampledFrom([]tea.MouseButton{tea.MouseButtonLeft, tea.MouseButtonWheelUp, tea.MouseButtonWheelDown}).Draw(t, "button"),
				})
			case 2:
				a.Update(tickMsg{a.round, time.Time{}})
			case 3:
				settle(a)
			default:
				a.Update(keyMsg(rapid.SampledFrom(keys).Draw(t, "key")))
			}
			framed(t, a)
		}
		if a.saved != text {
			return // a new build took its place
		}
		a.Update(windowSize(80, 24))
		press(a, "esc")
		press(a, "esc", "esc")
		for range 200 {
			press(a, "ctrl+z")
		}
		require.Equal(t, text, a.Text())
	})
}
