//go:build unix

package main

import (
	"math/rand/v2"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/bench"
	made "example.com/needlewright/model/bench/faulty"
)

const (
	shiftTab = "\x1b[Z"
	ctrlG    = "\x07"
	ctrlX    = "\x18"
)

// From nothing to a named fault, by doing what the screen asks: go to the point that it
// names, and type what a faulty clock reads there. Mended, it is found sound the same way.
func TestBenchNamesAFault(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ fault, about, says string }{
		{"series_open", "hours", "Series open"},
		{"pin_stuck_high", "hours", "Pin stuck high"},
	} {
		t.Run(c.fault, func(t *testing.T) {
			t.Parallel()
			path := build(t)
			b, problems := model.Read(content(t, path))
			require.Empty(t, problems)
			clock := made.Make(b, rand.New(rand.NewPCG(3, 4)), made.Fault{ID: c.fault, About: c.about})
			x := start(t, setting{}, path)
			x.waitFor("Coil")
			x.typed(shiftTab)
			x.waitFor("The first questions cost nothing")
			const most = 12 // the contract's
			taken := x.measure(b, clock, "Confirm: ", most)
			t.Logf("%s after %d readings", c.fault, taken)
			first := regexp.MustCompile(`What it may be ─*╮\n│ ([^│]*)`).FindStringSubmatch(x.text())
			require.NotNil(t, first, x.text())
			assert.True(t, strings.HasPrefix(first[1], c.says), x.text())
			assert.Contains(t, x.text(), "Mend, then ctrl+x: ")
			x.typed(ctrlX)
			x.waitFor("Take again first: ")
			x.typed(ctrlS)
			x.waitFor("Saved ")
			saved, problems := model.Read(content(t, path))
			require.Empty(t, problems)
			require.Len(t, saved.Readings, taken)
			for _, r := range saved.Readings {
				assert.Equal(t, clock.Read(r.At), r.Value)
				assert.Equal(t, "yes", r.Before)
			}
			const all = 40 // points
			taken = x.measure(b, made.Make(b, rand.New(rand.NewPCG(5, 6))), "It is sound", all)
			t.Logf("mended: sound after %d readings", taken)
		})
	}
}

// measure takes the readings of a clock that the screen asks for until it says something,
// and returns how many there were.
func (x *screen) measure(b *model.Build, clock *made.Clock, until string, most int) (taken int) {
	x.t.Helper()
	sound := bench.New(b)
	for ; taken <= most; taken++ {
		x.waitUntil("the readings are weighed", func(now string) bool { return !strings.Contains(now, "weighing") })
		text := x.quiet()
		if strings.Contains(text, until) {
			return taken
		}
		id := pointNamed(x.t, sound, text)
		x.typed(ctrlG)
		place, _ := sound.PlaceOf(id)
		x.waitFor("▸" + place.Label)
		x.quiet()
		x.typed(clock.Read(id))
		x.waitUntil(id+" is judged", func(now string) bool {
			return regexp.MustCompile(`▸` + place.Label + `.* (inside|edge|outside)`).MatchString(now)
		})
	}
	x.t.Fatalf("the screen does not say %q after %d readings:\n%s", until, most, x.text())
	return taken
}

// pointNamed is the point that the screen asks for.
func pointNamed(t testing.TB, x *bench.Bench, text string) string {
	t.Helper()
	asked := regexp.MustCompile(`Measure next: ([^(]*) \(ctrl\+g\)`).FindStringSubmatch(text)
	require.NotNil(t, asked, text)
	points := x.Judge(nil).Points
	k := slices.IndexFunc(points, func(p bench.Point) bool { return x.CalledOf(p.ID) == asked[1] })
	require.GreaterOrEqual(t, k, 0, asked[1])
	return points[k].ID
}
