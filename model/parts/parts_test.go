package parts

import (
	"encoding/csv"
	"fmt"
	"math"
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

// byHand are the lists of the examples, read off their files. Worked by hand: a capacitor at a
// rail of 5 V ±1 % gets 5.05 V, twice that is 10.1 V, so 16 V; at 3.3 V 6.7 V, so 10 V. A
// resistor of kilohms at 5 V turns no more than some mW to heat, so the smallest that shops
// have; net-loft's 200 Ω with the trimmer at 25 Ω gets 5 V/250 Ω = 20 mA, 80 mW, so 250 mW; the
// school's 150 Ω (5 − 1.9) V/150 Ω = 20.7 mA, 64 mW, so 250 mW, and its LED 50 mA. Net-loft's
// transistors give 5 V/225 Ω = 22 mA at most. The school's step-up: 12 mA, four lamps of 20.7
// mA and up to 28 mA into the capacitor behind a pin of 45 Ω (5 V/45 Ω·d(1 − d) at d = ½),
// twice 123 mA. Dummies are the E24 values next to the coils. Crystal, lamps and hands take
// the pins; a switch none but its own.
var byHand = map[string]string{
	"bakery": `3 × cell alkaline C, 7 Ah
1 × holder for 3 cells
1 × step-up converter 5 V ±1 %, 20 mA, input to 4.8 V
1 × electrolytic capacitor 100 µF, 16 V
1 × controller 5 pins, PWM of 256 counts, 5 V
1 × crystal 32.768 kHz ±20 ppm, for a load of 9 pF
1 × ceramic capacitor 10 pF ±5 %, 16 V
1 × ceramic capacitor 12 pF ±5 %, 16 V
2 × resistor 3.3 kΩ, 125 mW
2 × LED 1.95 V, 20 mA
1 × resistor 10 kΩ ±1 %, 125 mW
1 × trimmer 2 kΩ ±10 %, 25 turns, 125 mW
1 × film capacitor 4.7 µF ±20 %, 16 V
1 × meter (the builder's own) coil 800 Ω, full scale 400 µA
1 × resistor 820 Ω, 125 mW`,
	"boathouse": `3 × cell alkaline AA, 2.5 Ah
1 × holder for 3 cells
1 × step-up converter 5 V ±1 %, 20 mA, input to 4.8 V
1 × electrolytic capacitor 100 µF, 16 V
1 × controller 5 pins, PWM of 256 counts, 5 V
1 × crystal 32.768 kHz ±20 ppm, for a load of 9 pF
1 × ceramic capacitor 10 pF ±5 %, 16 V
1 × ceramic capacitor 12 pF ±5 %, 16 V
2 × resistor 1.5 kΩ, 125 mW
2 × LED 1.95 V, 20 mA
1 × resistor 3.9 kΩ ±1 %, 125 mW
1 × trimmer 1 kΩ ±10 %, 25 turns, 125 mW
1 × electrolytic capacitor 22 µF ±20 %, 16 V
1 × meter (the builder's own) coil 150 Ω, full scale 1 mA
1 × resistor 150 Ω, 125 mW`,
	"harbour-office": `3 × cell lithium FeS2 AA, 3 Ah
1 × holder for 3 cells
1 × linear regulator 3.3 V ±1 %, 20 mA, input to 5.4 V
1 × controller 3 pins, PWM of 1024 counts, 3.3 V
1 × crystal 32.768 kHz ±10 ppm, for a load of 7 pF
2 × ceramic capacitor 6.8 pF ±5 %, 10 V
1 × resistor 5.6 kΩ ±1 %, 125 mW
1 × film capacitor 1 µF ±10 %, 10 V
1 × resistor 22 kΩ ±1 %, 125 mW
1 × trimmer 5 kΩ ±10 %, 25 turns, 125 mW
1 × meter (the builder's own) coil 1.75 kΩ, full scale 100 µA
1 × resistor 1.8 kΩ, 125 mW`,
	"net-loft": `1 × plug-in supply, certified and isolated 5 V ±1 %, 50 mA
1 × electrolytic capacitor 100 µF, 16 V
1 × controller 3 pins, PWM of 240 counts, 5 V
1 × crystal 32.768 kHz ±20 ppm, for a load of 9 pF
1 × ceramic capacitor 10 pF ±5 %, 16 V
1 × ceramic capacitor 12 pF ±5 %, 16 V
1 × resistor 10 kΩ, 125 mW
1 × P-channel MOSFET, on at the rail's volts, 20 V, 50 mA
1 × N-channel MOSFET, on at the rail's volts, 20 V, 50 mA
1 × resistor 200 Ω ±1 %, 250 mW
1 × trimmer 100 Ω ±10 %, 25 turns, 125 mW
1 × electrolytic capacitor 470 µF ±20 %, 16 V
1 × meter (the builder's own) coil 24 Ω, full scale 20 mA
1 × resistor 24 Ω, 125 mW`,
	"reading-room": `3 × cell alkaline C, 7 Ah
1 × holder for 3 cells
1 × step-up converter 5 V ±1 %, 20 mA, input to 4.8 V
1 × electrolytic capacitor 100 µF, 16 V
1 × controller 5 pins, PWM of 256 counts, 5 V
1 × crystal 32.768 kHz ±20 ppm, for a load of 9 pF
1 × ceramic capacitor 10 pF ±5 %, 16 V
1 × ceramic capacitor 12 pF ±5 %, 16 V
2 × resistor 1.5 kΩ, 125 mW
2 × LED 1.95 V, 20 mA
1 × resistor 8.2 kΩ ±1 %, 125 mW
1 × trimmer 1 kΩ ±10 %, 25 turns, 125 mW
1 × film capacitor 4.7 µF ±20 %, 16 V
1 × meter (the builder's own) coil 640 Ω, full scale 500 µA
1 × resistor 620 Ω, 125 mW`,
	"school-store": `4 × cell zinc-carbon AA, 0.9 Ah
1 × holder for 4 cells
1 × step-up converter 5 V ±2 %, 500 mA, input to 6.4 V
1 × controller 7 pins, PWM of 250 counts, 5 V
1 × crystal 32.768 kHz ±20 ppm, for a load of 6 pF
2 × ceramic capacitor 22 pF ±5 %, 16 V
4 × resistor 150 Ω, 250 mW
4 × LED 1.9 V, 50 mA
1 × capacitor 10 µF ±20 %, 16 V
1 × resistor 3.3 kΩ ±5 %, 125 mW
1 × trimmer 1 kΩ ±20 %, 1 turn, 125 mW
1 × meter (the builder's own) coil 200 Ω, full scale 1 mA
1 × resistor 200 Ω, 125 mW`,
	"signal-cabin": `3 × cell alkaline C, 7 Ah
1 × holder for 3 cells
1 × step-up converter 5 V ±1 %, 20 mA, input to 4.8 V
1 × electrolytic capacitor 100 µF, 16 V
1 × controller 5 pins, PWM of 256 counts, 5 V
1 × crystal 32.768 kHz ±20 ppm, for a load of 9 pF
1 × ceramic capacitor 10 pF ±5 %, 16 V
1 × ceramic capacitor 12 pF ±5 %, 16 V
2 × resistor 3 kΩ, 125 mW
2 × LED 1.95 V, 20 mA
1 × resistor 10 kΩ ±1 %, 125 mW
1 × trimmer 2 kΩ ±10 %, 25 turns, 125 mW
1 × film capacitor 4.7 µF ±20 %, 16 V
1 × meter (the builder's own) coil 900 Ω, full scale 400 µA
1 × resistor 910 Ω, 125 mW`,
	"station-platform": `1 × plug-in supply, certified and isolated 5 V ±1 %, 20 mA
1 × controller 5 pins, PWM of 256 counts, 5 V
1 × crystal 32.768 kHz ±20 ppm, for a load of 12.5 pF
2 × ceramic capacitor 18 pF ±5 %, 16 V
3 × resistor 220 Ω ±1 %, 125 mW
2 × resistor 3.9 kΩ ±1 %, 125 mW
3 × trimmer 500 Ω ±10 %, 15 turns, 125 mW
1 × resistor 1.8 kΩ ±1 %, 125 mW
1 × meter (the builder's own) coil 310 Ω, full scale 1 mA
1 × meter (the builder's own) coil 295 Ω, full scale 1 mA
1 × meter (the builder's own) coil 120 Ω, full scale 2 mA
2 × resistor 300 Ω, 125 mW
1 × resistor 120 Ω, 125 mW`,
}

func TestListsByHand(t *testing.T) {
	for name, want := range byHand {
		var got []string
		for _, l := range New(wired(modeltest.Sound(t, modeltest.Example(name))), 1, 0).Parts {
			got = append(got, fmt.Sprintf("%d × %s", l.Needed, l.Name()))
		}
		assert.Equal(t, want, strings.Join(got, "\n"), name)
	}
	builds, err := modeltest.Examples()
	require.NoError(t, err)
	for _, name := range builds {
		assert.Contains(t, byHand, name, "every example is worked by hand")
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
	needed := map[string]int{}
	for _, l := range New(n, 10, 0.1).Parts {
		needed[l.Name()] = l.Needed
	}
	assert.Equal(t, 11, needed["resistor 8.2 kΩ ±1 %, 125 mW"])
	assert.Equal(t, 22, needed["resistor 1.5 kΩ, 125 mW"])
	assert.Equal(t, 10, needed["meter (the builder's own) coil 640 Ω, full scale 500 µA"])
	for _, l := range New(n, 12, 0.1).Parts {
		if l.What == "LED" {
			assert.Equal(t, 27, l.Needed)
		}
	}
}

// A rating is at least twice what the part gets, by an independent look: the heat of each
// resistor from its share of the rail at the trimmer's zero, without a capacitor.
func TestRatingsHoldTwice(t *testing.T) {
	text := modeltest.With(t, modeltest.Example("reading-room"), "hand.hours.drive.capacitor", "0 F", "hand.hours.drive.fixed", "22 Ω", "hand.hours.drive.trimmer", "100 Ω", "hand.hours.drive.setting", "0 Ω", "hand.hours.meter.coil", "5 Ω")
	for _, l := range New(wired(modeltest.Sound(t, text)), 1, 0).Parts {
		if slices.Contains(l.IDs, "hand.hours.fixed") {
			power := math.Pow(5.0/(50+22+5), 2) * 22 // W
			assert.Equal(t, 0.0928, math.Round(power*1e4)/1e4)
			assert.Equal(t, "250 mW", l.Rating)
		}
	}
}
