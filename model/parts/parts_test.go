package parts

import (
	"encoding/csv"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/modeltest"
	"example.com/needlewright/model/network"
)

// wired is a build's network.
func wired(b *model.Build) *network.Network {
	p := new(circuit.Plan)
	circuit.Evaluate(b, p)
	return network.Of(b, p)
}

// The lists of the examples, read off their files: testdata has one of each. Worked by hand: a
// capacitor at a rail of 5 V ±1 % gets 5.05 V, twice that is 10.1 V, so 16 V; at 3.3 V 6.7 V, so
// 10 V. A resistor of kilohms at 5 V turns no more than some mW to heat, so the smallest that
// shops have; net-loft's 200 Ω with the trimmer at 25 Ω gets 5 V/250 Ω = 20 mA, 80 mW, so 250 mW;
// the school's 150 Ω (5 − 1.9) V/150 Ω = 20.7 mA, 64 mW, so 250 mW, and its LED 50 mA. Net-loft's
// transistors give 5 V/225 Ω = 22 mA at most. The school's step-up: 12 mA, four lamps of 20.7
// mA and up to 28 mA into the capacitor behind a pin of 45 Ω (5 V/45 Ω·d(1 − d) at d = ½),
// twice 123 mA. Dummies are the E24 values next to the coils. Crystal, lamps and hands take
// the pins; a switch none but its own.
func TestListsByHand(t *testing.T) {
	names, err := modeltest.Examples()
	require.NoError(t, err)
	require.NotEmpty(t, names)
	for _, name := range names {
		got := ""
		for _, l := range New(wired(modeltest.Sound(t, modeltest.Example(name))), 1, 0).Parts {
			got += fmt.Sprintf("%d × %s\n", l.Needed, l.Name())
		}
		assert.Equal(t, modeltest.FileText(filepath.Join("testdata", name+".txt")), got, name)
	}
}

// Every part of the network stands in one line, a holder besides the cells, and dummies alone
// are more; no line is without a number, and none is beyond 78 columns.
func TestEveryPartIsListedOnce(t *testing.T) {
	for name, b := range modeltest.Every(t, 40) {
		n := wired(b)
		var parts, listed []string
		for _, p := range n.Parts {
			parts = append(parts, p.ID)
		}
		list, each := New(n, 1, 0), 0
		lines := list.Parts
		for _, l := range lines {
			require.Positive(t, l.Needed, "%s: %s", name, l.What)
			each += l.Each
			for _, id := range l.IDs {
				if !strings.HasSuffix(id, ".dummy") && l.What != "holder" {
					listed = append(listed, id)
				}
			}
		}
		slices.Sort(parts)
		slices.Sort(listed)
		assert.Equal(t, parts, listed, name)
		for _, line := range strings.Split(list.Text(), "\n") {
			require.LessOrEqual(t, utf8.RuneCountInString(line), Width, "%s: %s", name, line)
		}
		rows, err := csv.NewReader(strings.NewReader(list.CSV())).ReadAll()
		require.NoError(t, err, name)
		assert.Len(t, rows, len(lines)+1, name)
	}
}

// Spares are rounded up line by line, of whole numbers too: 10 % of 10 is 1, of 24 it is 3. A
// meter has none. By hand.
func TestKitsAndSpares(t *testing.T) {
	n := wired(modeltest.Sound(t, modeltest.Example("reading-room")))
	needed := func(kits int, name string) int {
		lines := New(n, kits, 0.1).Parts
		k := slices.IndexFunc(lines, func(l Line) bool { return l.Name() == name })
		require.GreaterOrEqual(t, k, 0, name)
		return lines[k].Needed
	}
	assert.Equal(t, 11, needed(10, "resistor 8.2 kΩ ±1 %, 125 mW"))
	assert.Equal(t, 22, needed(10, "resistor 1.5 kΩ, 125 mW"))
	assert.Equal(t, 10, needed(10, "meter (the builder's own) coil 640 Ω, full scale 500 µA"))
	assert.Equal(t, 27, needed(12, "LED 1.95 V, 20 mA"))
}

// A rating is at least twice what the part gets. Worked by hand: with the trimmer at zero and
// without a capacitor 22 Ω behind a pin of 50 Ω and before a coil of 5 Ω gets (5 V/77 Ω)²·22 Ω =
// 92.8 mW, twice that is 186 mW, and 250 mW is the next that shops have.
func TestRatingsHoldTwice(t *testing.T) {
	text := modeltest.With(t, modeltest.Example("reading-room"), "hand.hours.drive.capacitor", "0 F", "hand.hours.drive.fixed", "22 Ω", "hand.hours.drive.trimmer", "100 Ω", "hand.hours.drive.setting", "0 Ω", "hand.hours.meter.coil", "5 Ω")
	lines := New(wired(modeltest.Sound(t, text)), 1, 0).Parts
	k := slices.IndexFunc(lines, func(l Line) bool { return slices.Contains(l.IDs, "hand.hours.fixed") })
	require.GreaterOrEqual(t, k, 0)
	assert.Equal(t, "250 mW", lines[k].Rating)
}
