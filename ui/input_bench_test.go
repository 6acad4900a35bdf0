package ui

import (
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/ui/front"
	"example.com/needlewright/ui/uitest"
)

// megabyte is a value as long as a file may be expected to hold by mistake.
const megabyte = 1 << 20

// withTitle is an example with another title.
func withTitle(t testing.TB, title string) string {
	t.Helper()
	text, problem := model.Set(exampleText(t, "reading-room"), "title", title)
	require.Nil(t, problem)
	return text
}

// An event with much text costs at most half as much again as one with 60
// characters: the ratio is printed. The two are measured in turns.
func BenchmarkLongValues(b *testing.B) {
	typing := []tea.KeyMsg{uitest.Key("backspace"), uitest.Key("5")}
	moving := []tea.KeyMsg{uitest.Key("down"), uitest.Key("up")}
	at := func(text, path string) func(testing.TB) *App {
		return func(t testing.TB) *App {
			a := open(text, 80, 24)
			focusOn(t, a, path)
			return a
		}
	}
	filled := func(path string, n int) func(testing.TB) *App {
		return func(t testing.TB) *App {
			a := at(exampleText(t, "harbour-office"), path)(t)
			press(a, "down", "up", "ctrl+u", strings.Repeat("5", n))
			require.Len(t, typedIn(a), n)
			return a
		}
	}
	asked := func(n int) func(testing.TB) *App {
		return func(t testing.TB) *App {
			a := open(exampleText(t, "reading-room"), 80, 24)
			press(a, "ctrl+s", "ctrl+u", strings.Repeat("5", n))
			require.Len(t, typedIn(a), n)
			return a
		}
	}
	pair := func(n int) func(testing.TB) *App {
		return func(t testing.TB) *App {
			a := at(exampleText(t, "harbour-office"), "hand.hours.meter.table")(t)
			press(a, "down", "down", "ctrl+u", "1 : "+strings.Repeat("5", n-4))
			require.Len(t, typedIn(a), n)
			return a
		}
	}
	long, tooLong, sixty := strings.Repeat("x", megabyte), strings.Repeat("x", 201), strings.Repeat("x", 60)
	for _, c := range []struct {
		name         string
		keys         []tea.KeyMsg
		short, large func(testing.TB) *App
	}{
		{"title at its limit", typing, filled("title", 60), filled("title", 200)},
		{"pair at its limit", typing, pair(60), pair(model.LongestPair)},
		{"path at its limit", typing, asked(60), asked(front.LongestPath)},
		{"1 MB title, typing in another field", typing, at(withTitle(b, sixty), "hand.hours.meter.coil"), at(withTitle(b, long), "hand.hours.meter.coil")},
		{"1 MB title, against one of 201", typing, at(withTitle(b, tooLong), "hand.hours.meter.coil"), at(withTitle(b, long), "hand.hours.meter.coil")},
		{"1 MB title, typing at it", typing, at(withTitle(b, sixty), "title"), at(withTitle(b, long), "title")},
		{"1 MB title, moving over it", moving, at(withTitle(b, sixty), "title"), at(withTitle(b, long), "title")},
	} {
		b.Run(c.name, func(b *testing.B) {
			apps := [2]*App{c.short(b), c.large(b)}
			var took [2]time.Duration
			for i := 0; b.Loop(); i++ {
				for k, a := range apps {
					began := time.Now()
					a.Update(c.keys[i%2])
					_ = a.View()
					took[k] += time.Since(began)
				}
			}
			b.ReportMetric(float64(took[1])/float64(took[0]), "ratio")
			b.ReportMetric(float64(took[0].Microseconds())/float64(b.N), "µs/short")
			b.ReportMetric(float64(took[1].Microseconds())/float64(b.N), "µs/long")
		})
	}
}
