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
// names, and type what a faulty clock reads there.
func TestBenchNamesAFault(t *testing.T) {
	for _, c := range []struct{ fault, about, says string }{
		{"series_open", "hours", "Series open"},
		{"capacitor_shorted", "hours", "Capacitor shorted"},
		{"pin_stuck_high", "hours", "Pin stuck high"},
	} {
		t.Run(c.fault, func(t *testing.T) {
			path := build(t)
			b, problems := model.Read(content(t, path))
			require.Empty(t, problems)
			clock := made.Make(b, rand.New(rand.NewPCG(3, 4)), made.Fault{ID: c.fault, About: c.about})
			x := start(t, setting{}, path)
			x.waitFor("Coil")
			x.typed(shiftTab)
			x.waitFor("The first questions cost nothing")
			taken := 0
			for ; taken < 12; taken++ { // the contract's most
				x.waitUntil("the readings are weighed", func(now string) bool { return !strings.Contains(now, "weighing") })
				text := x.quiet()
				if strings.Contains(text, "Confirm: ") {
					break
				}
				id := pointNamed(t, b, text)
				x.typed(ctrlG)
				label, _ := bench.New(b).PlaceOf(id)
				x.waitFor("▸" + label.Label)
				x.quiet()
				x.typed(clock.Read(id))
				x.waitUntil(id+" is judged", func(now string) bool {
					return regexp.MustCompile(`▸` + label.Label + `.* (inside|edge|outside)`).MatchString(now)
				})
			}
			text := x.quiet()
			first := regexp.MustCompile(`What it may be ─*╮\n│ ([^│]*)`).FindStringSubmatch(text)
			require.NotNil(t, first, text)
			assert.True(t, strings.HasPrefix(first[1], c.says), text)
			assert.Contains(t, text, "Mend, then ctrl+x: ")
			t.Logf("%s after %d readings", c.fault, taken)
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
		})
	}
}

// pointNamed is the point that the screen asks for.
func pointNamed(t *testing.T, b *model.Build, text string) string {
	t.Helper()
	asked := regexp.MustCompile(`Measure next: ([^(]*) \(ctrl\+g\)`).FindStringSubmatch(text)
	require.NotNil(t, asked, text)
	x := bench.New(b)
	points := x.Judge(nil).Points
	k := slices.IndexFunc(points, func(p bench.Point) bool { return x.CalledOf(p.ID) == asked[1] })
	require.GreaterOrEqual(t, k, 0, asked[1])
	return points[k].ID
}
