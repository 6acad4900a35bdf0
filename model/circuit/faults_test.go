package circuit

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"example.com/needlewright/calc/nodal"
	"example.com/needlewright/model"
	"example.com/needlewright/model/modeltest"
)

// everyBuild are the examples and the test builds without problems, by file.
func everyBuild(t testing.TB) map[string]*model.Build {
	all := map[string]*model.Build{}
	for _, pattern := range []string{"../../examples/*.toml", "../testdata/*.toml"} {
		files, err := filepath.Glob(pattern)
		require.NoError(t, err)
		for _, f := range files {
			if b, problems := model.Read(modeltest.FileText(f)); problems == nil {
				all[f] = b
			}
		}
	}
	require.Greater(t, len(all), 10)
	return all
}

// faulty calls with every fault that a build can have, at both ends of its amounts,
// the trimmer set before it appears and afterwards.
func faulty(b *model.Build, visit func(name string, f *Fault, c *Circuit)) {
	var sound Circuit
	Wire(b, &sound)
	for k := range Faults {
		f := &Faults[k]
		for i := range f.Count(&sound) {
			if !f.IsThere(&sound, i) {
				continue
			}
			amounts := []float64{0}
			if spans := f.Spans(&sound, i); spans != nil {
				amounts = nil
				for _, s := range spans {
					amounts = append(amounts, s.Least, s.Most)
				}
			}
			for _, x := range slices.Compact(amounts) {
				before, after := sound.Clone(), sound.Clone()
				before.Trim()
				f.Apply(before, i, x)
				f.Apply(after, i, x)
				after.Trim()
				visit(fmt.Sprintf("%s of %d, %g, after trimming", f.ID, i, x), f, before)
				visit(fmt.Sprintf("%s of %d, %g, before trimming", f.ID, i, x), f, after)
			}
		}
	}
}

// there are results that a clock has whatever is wrong with its hands, lamps, buttons
// and crystal; the rest may have no path to be measured on.
var there = regexp.MustCompile(`^(hand\.(full_scale_reached|rail_current|pin_peak_current|pin_mean_current|ripple_needle|ripple_current|step|code_error_\w+|needle_\w+|pwm_frequency)|` +
	`lamp\.\w+|button\.current|load\.pins_together|battery\.(rail_current_\w+|life_\w+))$`)

// TestFaults: each fault at both ends of its range, before and after trimming, on every
// example and test build: what is there is finite, what must be there is, and Solve
// changes nothing of what it is given.
func TestFaults(t *testing.T) {
	counted := map[string]int{}
	for file, b := range everyBuild(t) {
		sound := new(Plan)
		Evaluate(b, sound)
		faulty(b, func(name string, f *Fault, c *Circuit) {
			counted[f.ID]++
			p := &Plan{Circuit: *c.Clone()}
			p.Solve(All)
			require.Equal(t, fmt.Sprint(*c), fmt.Sprint(p.Circuit), "%s: %s: changed by Solve", file, name)
			for k := range Results {
				r := &Results[k]
				for i := range r.Of(p) {
					x := *r.At(p, i)
					if there.MatchString(r.ID) && !math.IsNaN(*r.At(sound, i)) && !(r.ID == "hand.pin_mean_current" && math.IsInf(p.Circuit.Hands[i].Pin, 1)) {
						assert.False(t, math.IsNaN(x), "%s: %s: %s is left out", file, name, r.ID)
					}
					if math.IsInf(x, 0) && !strings.Contains(r.ID, "life_") { // those may last for ever
						assert.Contains(t, []string{"hand.terminal_resistance", "hand.terminal_full_scale", "hand.full_scale_voltage", "hand.series_needed", "hand.trimmer_setting", "hand.trimmer_travel"},
							r.ID, "%s: %s", file, name)
					}
				}
			}
			for i := range p.Hands {
				n := p.Needle(i, 7*3600)
				assert.False(t, math.IsNaN(n.Place+n.Current+n.Shown) || math.IsInf(n.Place+n.Current+n.Shown, 0), "%s: %s: %+v", file, name, n)
			}
		})
	}
	for k := range Faults {
		assert.Positive(t, counted[Faults[k].ID], "no build can have %s", Faults[k].ID)
	}
}

// TestFaultsAreOfTheirTable: the table has each fault once.
func TestFaultsAreOfTheirTable(t *testing.T) {
	seen := map[string]bool{}
	for k := range Faults {
		assert.False(t, seen[Faults[k].ID], Faults[k].ID)
		seen[Faults[k].ID] = true
	}
}

// network is a hand's network as branches: 0 ground, 1 the pin's driver, then the places
// of Voltages.
func network(h *HandCircuit) []nodal.Branch {
	leak := h.CapacitorLeak
	if h.Capacitor == 0 {
		leak = math.Inf(1)
	}
	node := 2 + BehindTrimmer
	if h.AtStage {
		node = 2 + BehindStage
	}
	return []nodal.Branch{
		{From: 1, To: 2, Ohms: h.Pin}, {From: 2, To: 3, Ohms: h.Stage}, {From: 3, To: 4, Ohms: h.Fixed}, {From: 4, To: 5, Ohms: h.InForce()},
		{From: 5, To: 6, Ohms: h.Multiplier}, {From: 6, Ohms: h.Coil}, {From: 6, Ohms: h.Shunt}, {From: 5, Ohms: h.CoilLeak}, {From: node, Ohms: leak},
	}
}

// assertByNodes holds a hand's voltages and currents to an independent computation,
// package nodal.
func assertByNodes(t require.TestingT, h *HandCircuit, name string) {
	want := nodal.Voltages(2+int(places), network(h))
	for k, v := range h.Voltages(1) {
		if math.IsNaN(want[k+2]) {
			require.True(t, math.IsNaN(v), "%s: place %d floats, and is not %v V", name, k, v)
			continue
		}
		require.InDelta(t, want[k+2], v, 1e-9, "%s: place %d", name, k)
	}
	coil := 0.0
	if !math.IsInf(h.Coil, 1) && !math.IsNaN(want[2+AtCoil]) {
		coil = want[2+AtCoil] / h.Coil
	}
	d := h.Drive()
	require.InDelta(t, coil/h.FullScale, h.share(&d, 1)*sign(h), 1e-9*math.Abs(coil/h.FullScale)+1e-12, "%s: the coil's current", name)
	if h.Pin > 0 && !math.IsInf(h.Pin, 1) {
		pin := (1 - want[2]) / h.Pin
		require.InDelta(t, pin, 1/(d.Pin.Before+d.Pin.After), 1e-9*pin+1e-12, "%s: what the pin gives", name)
	}
}

// sign is that of the coil's current.
func sign(h *HandCircuit) float64 {
	if h.Reversed {
		return -1
	}
	return 1
}

// TestFaultyHandsByNodes: opens, shorts and leaks of each hand.
func TestFaultyHandsByNodes(t *testing.T) {
	for file, b := range everyBuild(t) {
		faulty(b, func(name string, f *Fault, c *Circuit) {
			for i := range c.Hands {
				if h := &c.Hands[i]; f.Of == "hand" && h.PinState != Floating {
					assertByNodes(t, h, file+": "+name)
				}
			}
		})
	}
}

// TestAnyHandByNodes: any opens, shorts and leaks at once.
func TestAnyHandByNodes(t *testing.T) {
	var c Circuit
	Wire(modeltest.Sound(t, modeltest.Text(t, "public-1.toml")), &c)
	rapid.Check(t, func(t *rapid.T) {
		h := c.Hands[0]
		ohms := func(name string) float64 {
			return rapid.OneOf(rapid.Just(0.0), rapid.Just(math.Inf(1)), rapid.Float64Range(0.1, 1e6)).Draw(t, name)
		}
		h.AtStage = rapid.Bool().Draw(t, "at the stage")
		h.Stage, h.Fixed, h.Setting, h.Multiplier = ohms("stage"), ohms("fixed"), ohms("setting"), ohms("multiplier")
		h.CapacitorLeak, h.CoilLeak, h.Shunt = ohms("capacitor"), ohms("terminals"), ohms("shunt")
		h.Coil = rapid.OneOf(rapid.Just(math.Inf(1)), rapid.Float64Range(1, 1e5)).Draw(t, "coil")
		assertByNodes(t, &h, "drawn")
	})
}

// TestClosedForms: of a bare hand the closed forms and the network are one.
func TestClosedForms(t *testing.T) {
	bare := 0
	for file, b := range everyBuild(t) {
		var c Circuit
		Wire(b, &c)
		for i := range c.Hands {
			h := &c.Hands[i]
			if !h.bare() {
				continue
			}
			bare++
			assert.InEpsilon(t, h.SeriesNeeded(), h.neededByNetwork(h.TopVoltage()), 1e-9, file)
			d, before, after := h.Drive(), h.Pin+h.Stage, h.Fixed+h.InForce()
			if !h.AtStage {
				before, after = before+after, 0
			}
			n := h.driveByNetwork(h.InForce(), before, after)
			assert.InDeltaSlice(t, []float64{d.Pin.Before, d.Pin.After, d.Coil.Before, d.Coil.After, d.Share, d.Inductance, d.FullScale, d.Rest},
				[]float64{n.Pin.Before, n.Pin.After, n.Coil.Before, n.Coil.After, n.Share, n.Inductance, n.FullScale, n.Rest}, 1e-9*(d.Pin.Before+d.Pin.After), file)
		}
	}
	assert.Greater(t, bare, 10)
}

// TestTrimmedWithAFault: derived: the coil comes to full scale wherever the trimmer, set
// with the fault there, is not at one of its ends.
func TestTrimmedWithAFault(t *testing.T) {
	trimmed := 0
	for file, b := range everyBuild(t) {
		faulty(b, func(name string, f *Fault, c *Circuit) {
			if !strings.HasSuffix(name, "before trimming") {
				return
			}
			p := &Plan{Circuit: *c}
			p.Solve(Reach)
			for i := range c.Hands {
				h := &c.Hands[i]
				if given := b.Hands[i].Drive.Setting.Given(); !given && 0 < h.Setting && h.Setting < h.Trimmer && h.PinState != Floating {
					assert.InDelta(t, 1, math.Abs(p.Hands[i].FullScaleReached), 1e-9, "%s: %s", file, name)
					trimmed++
				}
			}
		})
	}
	assert.Greater(t, trimmed, 100)
}

// simulated is what is left of the pulses of a hand, an independent computation: the
// network's two equations of state in small steps (Runge and Kutta, fourth order) until a
// period repeats; peak to peak of the node, V, and of the coil's current, A.
func simulated(h *HandCircuit) (node, coil float64) {
	half := min(h.Top, math.Floor(h.Counts/2))
	on, period := (half+h.Offset)/h.Counts/h.PWM, 1/h.PWM
	between := h.Fixed + h.InForce()
	slope := func(v, i, e float64) (float64, float64) {
		// The terminals x and the coil's node y, with all currents there adding up to none:
		// (v-x)/between = x/CoilLeak + (x-y)/Multiplier, (x-y)/Multiplier = y/Shunt + i.
		a := 1/between + 1/h.CoilLeak + 1/h.Multiplier
		b := 1/h.Multiplier + 1/h.Shunt
		x := (v/between - i/h.Multiplier/b) / (a - 1/h.Multiplier/h.Multiplier/b)
		y := (x/h.Multiplier - i) / b
		return ((e-v)/(h.Pin+h.Stage) - v/h.CapacitorLeak - (v-x)/between) / h.Capacitor, (y - h.Coil*i) / h.Inductance
	}
	const steps = 4000
	v, i := 0.0, 0.0
	for range 400 {
		least, most := [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
		from, fromCoil := v, i
		for _, phase := range [2]struct{ e, length float64 }{{h.Rail, on}, {0, period - on}} {
			dt := phase.length / steps
			for range steps {
				v1, i1 := slope(v, i, phase.e)
				v2, i2 := slope(v+dt/2*v1, i+dt/2*i1, phase.e)
				v3, i3 := slope(v+dt/2*v2, i+dt/2*i2, phase.e)
				v4, i4 := slope(v+dt*v3, i+dt*i3, phase.e)
				v, i = v+dt/6*(v1+2*v2+2*v3+v4), i+dt/6*(i1+2*i2+2*i3+i4)
				least, most = [2]float64{min(least[0], v), min(least[1], i)}, [2]float64{max(most[0], v), max(most[1], i)}
			}
		}
		node, coil = most[0]-least[0], most[1]-least[1]
		if math.Abs(v-from) < 1e-7*node && math.Abs(i-fromCoil) < 1e-7*coil {
			break
		}
	}
	return node, coil
}

// TestRippleOfAFaultyHand: independent, simulated: leaks, a multiplier and a shunt around
// a coil with inductance.
func TestRippleOfAFaultyHand(t *testing.T) {
	text := modeltest.With(t, modeltest.Text(t, "public-1.toml"), "hand.hours.meter.inductance", "0.5 H", "hand.hours.drive.capacitor", "0.1 µF", "hand.hours.drive.stage", "2 kΩ")
	var sound Circuit
	Wire(modeltest.Sound(t, text), &sound)
	require.True(t, sound.Hands[0].AtStage)
	for name, change := range map[string]func(h *HandCircuit){
		"shunt":                func(h *HandCircuit) { h.Shunt, h.Multiplier = 300, 1e-3 },
		"multiplier":           func(h *HandCircuit) { h.Multiplier = 5000 },
		"leaky capacitor":      func(h *HandCircuit) { h.CapacitorLeak, h.Multiplier = 4000, 1e-3 },
		"terminals and shunt":  func(h *HandCircuit) { h.CoilLeak, h.Multiplier, h.Shunt = 2000, 700, 500 },
		"everything at once":   func(h *HandCircuit) { h.CapacitorLeak, h.CoilLeak, h.Multiplier, h.Shunt = 6000, 3000, 400, 900 },
		"next to nothing else": func(h *HandCircuit) { h.Multiplier = 1e-3 },
	} {
		c := sound.Clone()
		c.Trim()
		h := &c.Hands[0]
		change(h)
		node, coil := simulated(h)
		p := &Plan{Circuit: *c}
		p.Solve(Ripple)
		assert.InEpsilon(t, node, p.Hands[0].RippleVoltageWorst, 1e-4, name)
		assert.InEpsilon(t, coil, p.Hands[0].RippleCurrent*h.FullScale, 1e-4, name)
	}
}

// TestLeftInside: derived by hand. 640 Ω and 500 µA behind 8.685 kΩ on 4.6875 V: 29 kΩ
// left inside leave 4.6875 V over 640 + 29 000 + 50 + 8200 Ω with the trimmer at zero; a
// shunt of 640 Ω takes half of what the terminals get, and the trimmer cannot make up for it.
func TestLeftInside(t *testing.T) {
	text := modeltest.With(t, modeltest.Example("reading-room"), "hand.hours.meter.in_circuit", "yes")
	_, p := soundPlan(t, text)
	assert.InDelta(t, 4.6875/(640+29000+50+8200)/500e-6, p.Hands[0].FullScaleReached, 1e-12)
	_, p = soundPlan(t, modeltest.With(t, text, "hand.hours.meter.internal_kind", "shunt", "hand.hours.meter.internal", "640 Ω"))
	assert.InDelta(t, 4.6875/(320+50+8200)/1e-3, p.Hands[0].FullScaleReached, 1e-12)
	_, p = soundPlan(t, modeltest.With(t, text, "hand.hours.meter.in_circuit", "no"))
	assert.InDelta(t, 1, p.Hands[0].FullScaleReached, 1e-12)
}

// TestCatalogueNamesFaults: the catalogue has each fault.
func TestCatalogueNamesFaults(t *testing.T) {
	text, err := os.ReadFile("../catalogue.md")
	require.NoError(t, err)
	for k := range Faults {
		assert.Contains(t, string(text), "`"+Faults[k].ID+"`")
	}
}
