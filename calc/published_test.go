package calc

import (
	"math"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A check holds a formula of a file to a published number.
type check struct {
	file      string
	source    string // and how it was read, where it was not the source itself
	got, want float64
	within    float64 // a share of the number: as many figures as it is printed with
}

// published are the numbers, each with its source; formulas that only lead to others in their file
// are not here. Where a source was not opened, it says from memory.
func published(t *testing.T) []check {
	linear := &Law{}
	fine := func(top float64) float64 {
		_, rms := (&Quantisation{Law: linear, Top: top, Steps: 1000*int(top) + 7}).Errors()
		return rms
	}
	half := Movement{Period: 2 * math.Pi / 5, Damping: 0.6}
	quick := Movement{Period: 2 * math.Pi / 10, Damping: 0.5}
	behind := func(m Movement) float64 { const dt = 1e-3; return dt*m.Lag(dt) + dt/2 } // the steps themselves are half of one ahead
	filtered := Ripple{Rail: 1, Duty: 0.5, Period: 1, Chain: Chain{Before: 1, After: 1e9, Capacitor: 50}, FullScale: 1e-9}
	bare := Ripple{Rail: 1, Duty: 0.5, Period: 1, Chain: Chain{Before: 500, After: 500}, FullScale: 1e-3}
	square := &Law{Kind: Square}
	unloaded := func(tau float64) float64 { // per volt, half duty, a period of 1 s
		return (&Ripple{Rail: 1, Duty: 0.5, Period: 1, Chain: Chain{Before: 1, After: math.Inf(1), Capacitor: tau}, FullScale: 1}).Node()
	}
	boost := func(s Supply, rest, load float64) float64 {
		d, ok := s.Draw(rest, load)
		require.True(t, ok)
		return d.Current
	}
	return []check{
		{"band.go", "EA-4/02, a single rectangular contribution: k = 1.65, from memory", BandFactor(1), 1.65, 0.005},
		{"band.go", "JCGM 100:2008 G.1.3, normal, 95 %: 1.960, from memory", BandFactor(0), 1.960, 0.0003},

		{"cell.go", "Texas Instruments E2E 1074967: 444.44 µA", boost(Supply{Kind: Boost, Rail: 5, Efficiency: 0.75}, 1.5, 100e-6), 444.44e-6, 2e-5},
		{"cell.go", "Texas Instruments E2E 883179: 4.69 A", boost(Supply{Kind: Boost, Rail: 3.8, Efficiency: 0.9}, 1.8, 2), 4.69, 5e-4},

		{"codes.go", "W. R. Bennett, Spectra of Quantized Signals, BSTJ 27 (1948): a step over √12, from memory", fine(240) * 240, 0.288675, 0.001},
		{"codes.go", "W. Kester, MT-001: 6.02·8 + 1.76 dB of ideal 8 bits, from memory", 20 * math.Log10(1/math.Sqrt(8)/fine(256)), 6.02*8 + 1.76, 0.001},

		{"crystal.go", "Texas Instruments SLAA423A, crystal 3a: 198.77 ppm from its series resonance", Pulling{2.774e-15, 1.416e-12}.Offset(5.563e-12, math.Inf(1)), 198.77, 5e-4},
		{"crystal.go", "TF20 crystal data sheet 008-0353-0 Rev C fig. 1: 12.0 ppm at 45 °C", Parabolic(0.030, 45, 25), 12.0, 1e-12},
		{"crystal.go", "ST community, an LSE crystal: 2.1631 µA/V", Oscillation{Frequency: 32768, ESR: 70e3, Shunt: 1e-12, Load: 12.5e-12}.TransconductanceCritical(), 2.1631e-6, 3e-5},

		{"diode.go", "data sheets of the 1N4448: 0.62 to 0.72 V at 5 mA, from memory", forward(5e-3), 0.67, 0.05 / 0.67},
		{"diode.go", "data sheets of the 1N4148: some 0.72 V, at most 1 V, at 10 mA, from memory", forward(10e-3) + 10e-3*diodeOhms, 0.72, 0.05},

		{"eseries.go", "Wikipedia, LED circuit: 2040 Ω becomes 2 kΩ", NearestPreferred(2040, E24), 2000, 1e-12},
		{"eseries.go", "Wikipedia, LED circuit: 1440 Ω becomes 1.5 kΩ", NearestPreferred(1440, E24), 1500, 1e-12},
		{"eseries.go", "vespalabs, LED resistors: 6 V ask for 220 Ω", NextPreferred((6-1.7)/20e-3, E12, true), 220, 1e-12},
		{"eseries.go", "vespalabs, LED resistors: 24 V ask for 1.2 kΩ", NextPreferred((24-1.7)/20e-3, E12, true), 1200, 1e-12},

		{"filter.go", "A. Levido, Circuit Cellar, 7 Nov 2022, eq. 2: 8 bits settle in 355 periods", FilterSettling(64, 128), 355, 5e-4},
		{"filter.go", "T. Kuphaldt, Lessons In Electric Circuits II, ch. 8, low-pass of 500 Ω and 7 µF: 45.473 Hz, from memory",
			Corner(TimeConstant(Chain{Before: 500, After: math.Inf(1), Capacitor: 7e-6})), 45.473, 2e-5},

		{"life.go", "BIPM, SI Brochure: 1 F is 1 A·s/V, from memory", HoldUp(1, 1, 0, 1), 1, 1e-12},
		{"life.go", "IEC 62391-1, class 3: at 4 mA per F and V 80 to 40 % of the rated voltage take 100 s, from memory", HoldUp(1, 0.8*5.5, 0.4*5.5, 4e-3*5.5), 100, 1e-12},

		{"ladder.go", "T. Kuphaldt, Lessons In Electric Circuits I, ch. 8, Voltmeter impact: 0.8889 V", 10e6 * NewLadder().Series(250e6).Across(250e6).Current(24, 10e6), 0.8889, 5e-5},
		{"ladder.go", "US Army SS0602 p. 26: 5000 Ω more halve the deflection", NewLadder().Series(5000).Current(5, 5000) / 1e-3, 0.5, 1e-12},

		{"motion.go", "K. Ogata, Modern Control Engineering, steady lag behind a ramp, 2ζ/ω, from memory", behind(half), 2 * 0.6 / 5, 1e-4},
		{"motion.go", "N. Nise, Control Systems Engineering, velocity constant ω/2ζ, from memory", 1 / behind(quick), 10, 1e-4},

		{"life.go", "Electronics Stack Exchange on a chart of an LR6 cell: 110 h at 25 mA, read second-hand", endless(2.75, 25e-3, 0).life(), 110, 1e-9},
		{"life.go", "GP 15AU data sheet, LR6, 10 Ω to 0.9 V: 20.5 h", lifeOnResistor(10), 20.5, 0.05},

		{"mean_law.go", "T. Kuphaldt, Lessons In Electric Circuits II, ch. 1, a triangle's rms is 0.577 of its peak, from memory",
			math.Sqrt(filtered.LawShift(square)) / (filtered.Coil() / filtered.FullScale / 2), 0.577, 1e-3},
		{"mean_law.go", "Wikipedia, Root mean square: a square wave's is its peak, from memory", math.Sqrt(bare.LawShift(square)) / 0.5, 1, 1e-12},

		{"meter.go", "T. Kuphaldt, Lessons In Electric Circuits I, ch. 8, Voltmeter design: 9.5 kΩ", Multiplier(10, 1e-3, 500), 9500, 1e-12},
		{"meter.go", "J. Bird, Electrical Circuit Theory and Technology, ch. 10 Problem 2: 12.49 kΩ", Multiplier(100, 8e-3, 10), 12490, 1e-12},

		{"motion.go", "K. Ogata, Modern Control Engineering, Ex. 5-1: past its end for the first time at 0.55 s, from memory", firstPassing(half), 0.55, 0.01},
		{"motion.go", "a public page of formulas: 20 % at 0.4559", DampingFromOvershoot(0.20), 0.4559, 2e-4},
		{"motion.go", "public course notes: 25 % at 0.4037", DampingFromOvershoot(0.25), 0.4037, 1e-4},

		{"power.go", "T. Kuphaldt, Lessons In Electric Circuits I, ch. 2: 18 V on 3 Ω are 108 W, from memory", Chain{Before: 1, After: 2}.MostPowerBefore(18) + Chain{Before: 1, After: 2}.MostPowerAfter(18), 108, 1e-12},
		{"power.go", "napkincalc, an LED's resistor: 45 mW", Chain{After: 200}.MostPowerAfter(5 - 2), 45e-3, 1e-12},

		{"pwm.go", "D. Ponikvar, EDN Design Ideas: 64 counts of 32 768 Hz take about 2 ms", 1 / PWMFrequency(32768, 1, 64), 2e-3, 0.025},
		{"pwm.go", "Arduino reference, analogWrite: 980 Hz of 16 MHz over 64 and 256, from memory", PWMFrequency(16e6, 64, 256), 980, 0.005},

		{"ramp.go", "K. Ogata, Modern Control Engineering, Ex. 5-1: 9.5 %, from memory", half.Overshoot(), 0.095, 0.005},
		{"ramp.go", "public course notes: 25 % at 0.4037", Movement{Period: 1, Damping: 0.4037}.Overshoot(), 0.25, 2e-4},

		{"ripple.go", "A. Levido, Circuit Cellar, 7 Nov 2022, eq. 1: 1/256 at 64 periods", unloaded(64), 1.0 / 256, 1e-4},
		{"ripple.go", "D. Ponikvar, EDN Design Ideas: 1/64 at 16 periods", unloaded(16), 1.0 / 64, 1e-3},
		{"ripple.go", "Electronics Stack Exchange, exact p-p ripple of 30 µs at 10 kHz: 0.682 V a volt", unloaded(0.3), 0.682, 1e-3},
	}
}

// unpublished are the files of which no published number is known, and what holds them.
var unpublished = map[string]string{
	"alternating.go": "the voltage followed step by step",
	"bend.go":        "the node's equation as it stands, solved by bisection",
	"descent.go":     "no formula of its own: life.go",
	"misread.go":     "the dial gone through instant by instant",
	"modes.go":       "no formula of its own: ripple.go",
	"shape.go":       "common practice, no source: any that rises will do",
	"smooth.go":      "scales in closed form, and the formula of its source computed anew",
	"trim.go":        "common practice, no source",
}

// TestPublished holds the formulas to published numbers, of two sources or more a file.
func TestPublished(t *testing.T) {
	sources := map[string]map[string]bool{}
	for _, c := range published(t) {
		assert.InEpsilon(t, c.want, c.got, c.within, "%s: %s", c.file, c.source)
		if sources[c.file] == nil {
			sources[c.file] = map[string]bool{}
		}
		name, _, _ := strings.Cut(c.source, ":")
		sources[c.file][name] = true
	}
	files, err := filepath.Glob("*.go")
	require.NoError(t, err)
	for _, file := range files {
		if strings.HasSuffix(file, "_test.go") || file == "doc.go" {
			continue
		}
		_, none := unpublished[file]
		assert.Equal(t, !none, len(sources[file]) >= 2, "%s: %d published sources", file, len(sources[file]))
	}
}

// forward is the voltage, V, at which the diode carries a current, A.
func forward(current float64) float64 {
	low, high := 0.0, 2.0
	for range 50 {
		if v := (low + high) / 2; DiodeLeak(v) < current {
			low = v
		} else {
			high = v
		}
	}
	return low
}

// firstPassing is when a needle first comes to its end, s.
func firstPassing(m Movement) float64 { return root(m.Remaining, 0, m.Period/2) }

// life is that of a pack always awake.
func (p Pack) life() float64 { return p.Life(24) }

// lifeOnResistor is how long an alkaline AA cell lasts on a resistance, Ω, down to 0.9 V: 2.5 Ah, 0.25 Ω
// that double as it is used up (common practice, no source), the rest voltages of TI SLVA194. What it gives
// follows its voltage, so the discharge is taken in hundredths, each at its own current.
func lifeOnResistor(load float64) float64 {
	const parts, capacity, fresh = 100, 2.5, 0.25
	hours := 0.0
	for k := range parts {
		used := (float64(k) + 0.5) / parts
		p := Pack{Supply: Supply{Resistance: fresh * (1 + used)}, Curve: restAlkaline, Cells: 1, Cutoff: 0.9, Capacity: capacity, Shelf: math.Inf(1)}
		p.On = p.restAt(used) / (load + p.Supply.Resistance)
		begun, done := p.From(float64(k)/parts), p.From(float64(k+1)/parts)
		hours += begun.Life(24) - done.Life(24)
	}
	return hours
}
