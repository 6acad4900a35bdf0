package calc

import (
	"encoding/json"
	"fmt"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A public is a build whose results another program computed from the
// catalogue's words by brute force.
type public struct {
	t       *testing.T
	Results map[string]float64
}

func readPublic(t *testing.T, n int) *public {
	text, err := os.ReadFile(fmt.Sprintf("../model/testdata/public-%d.json", n))
	require.NoError(t, err)
	p := &public{t: t}
	require.NoError(t, json.Unmarshal(text, p))
	return p
}

// agree holds a result to the independent one.
func (p *public) agree(id string, got, tolerance float64) {
	p.t.Helper()
	want, ok := p.Results[id]
	require.True(p.t, ok, id)
	if want == 0 {
		assert.InDelta(p.t, want, got, 1e-12, id)
		return
	}
	assert.InEpsilon(p.t, want, got, tolerance, id)
}

// The tolerances: closed forms differ by rounding alone; of a ripple of 1e-8 of
// the scale the other program, which samples its needle mean and all, has some
// five figures (ours and a matrix exponential agree to 1e-9 there, see below).
const (
	closed  = 1e-12
	rippled = 1e-5
	lived   = 1e-7
)

// TestPublicOne: independent computation, model/testdata/public-1.json. The
// numbers put in are those of public-1.toml.
func TestPublicOne(t *testing.T) {
	p := readPublic(t, 1)
	const coil, fullScale, minutes = 920.0, 250e-6, 720.0
	pin := PinVoltage(5, 240, 256)
	p.agree("hours.full_scale_voltage", FullScaleVoltage(fullScale, coil), closed)
	p.agree("hours.top_voltage", pin, closed)
	p.agree("hours.series_needed", Multiplier(pin, fullScale, coil)-50-1500, closed)
	chain := Chain{Before: 50 + 1500, After: 13e3 + 3280 + coil, Capacitor: 10e-6}
	p.agree("hours.full_scale_reached", chain.Current(pin)/fullScale, closed)
	p.agree("hours.pin_peak_current", chain.PinPeak(5), closed)
	p.agree("hours.rail_current", chain.RailCurrent(5, 240.0/256), closed)
	tau := TimeConstant(chain)
	p.agree("hours.filter_time_constant", tau, closed)
	p.agree("hours.filter_corner", Corner(tau), closed)
	p.agree("hours.filter_settling", FilterSettling(tau, 256), closed)

	frequency := PWMFrequency(2e6, 8, 256)
	p.agree("hours.pwm_frequency", frequency, closed)
	movement := Movement{Period: 0.9, Damping: DampingFromOvershoot(0.22)}
	p.agree("hours.needle_damping", movement.Damping, closed)
	p.agree("hours.needle_settling", movement.Settling(0.015), lived)
	r := Ripple{Rail: 5, Duty: 128.0 / 256, Period: 1 / frequency, Chain: chain, Inductance: 35e-3,
		FullScale: fullScale, Movement: movement}
	p.agree("hours.ripple_voltage_worst", r.Node(), rippled)
	p.agree("hours.ripple_needle", r.Needle()*minutes, rippled)
	s := newStateSpace(&r)
	assert.InEpsilon(t, s.peakToPeak(s.needle), r.Needle(), 1e-9)

	law := Law{Kind: Table, Points: []Point{{0, 0}, {0.25, 0.21}, {0.5, 0.46}, {0.75, 0.73}, {1, 1}}}
	c := Quantisation{Law: &law, Top: 240, Steps: 720, Codes: true}
	largest, rms := c.Errors()
	p.agree("hours.code_error_max", largest*minutes, closed)
	p.agree("hours.code_error_rms", rms*minutes, closed)
	worst := 0.0
	for _, room := range []float64{15, 29} {
		w := Warming{Coil: coil, Rest: chain.Before + chain.After - coil, Pin: 50, Copper: 0.7, ResistorTempco: 100e-6,
			PinTempco: 3500e-6, MovementTempco: 200e-6, TrimmedAt: 22, RoomT: room}
		worst = max(worst, abs(law.At(1+w.CurrentError())-1))
	}
	p.agree("hours.temperature_error", worst*minutes, closed)

	load := LoadActual(15e-12, 15e-12, 4e-12)
	pulling := Pulling{3e-15, 1.2e-12}
	p.agree("crystal.load_actual", load, closed)
	p.agree("crystal.load_offset", pulling.Offset(load, 12.5e-12), closed)
	p.agree("crystal.sensitivity", pulling.Sensitivity(load), closed)
	p.agree("crystal.capacitor_each", CapacitorEach(12.5e-12, 4e-12), closed)
	tick := Counter{Prescale: 1, Bits: 16, Reload: 32768, Lost: 1}.TickPeriod(32768)
	p.agree("crystal.tick_period", tick, closed)
	rate := pulling.Offset(load, 12.5e-12) + 1e6*(1/tick-1)
	p.agree("crystal.rate", rate*SecondsADay, 1e-9)
	least, greatest := ParabolicRange(0.034, 25, 15, 29)
	p.agree("crystal.rate_low", (rate-greatest-20-3)*SecondsADay, 1e-9)
	p.agree("crystal.rate_high", (rate-least+20+3)*SecondsADay, 1e-8)
	o := Oscillation{Frequency: 32768, ESR: 60e3, Shunt: 1.2e-12, Load: load}
	p.agree("crystal.transconductance_critical", o.TransconductanceCritical(), closed)
	p.agree("crystal.gain_margin", 9e-6/o.TransconductanceCritical(), closed)

	lamps := (5-1.9)/1e3*0.5*2 + (5-3.0)/2200*0.5
	pack := Pack{Supply: Supply{Kind: Boost, Rail: 5, Efficiency: 0.8, Quiescent: 40e-6, Resistance: 3 * 0.25},
		Curve: restAlkaline, Cells: 3, Floor: 3 * 0.9, Capacity: 2.5, SelfDischarge: 0.02, Shelf: 10 * HoursAYear,
		On: 2e-3 + lamps + chain.RailCurrent(5, 240.0/256), Off: 2e-6}
	p.agreeBattery(&pack, 16)
}

// agreeBattery holds what is drawn from a pack, and its lives, to the results.
func (p *public) agreeBattery(pack *Pack, hoursOn float64) {
	p.t.Helper()
	on, ok := pack.Supply.Draw(pack.Fresh(), pack.On)
	require.True(p.t, ok)
	off, ok := pack.Supply.Draw(pack.Fresh(), pack.Off)
	require.True(p.t, ok)
	p.agree("battery.rail_current_on", pack.On, closed)
	p.agree("battery.current_on", on.Current, closed)
	p.agree("battery.current_off", off.Current, closed)
	p.agree("battery.life_on", pack.Life(24), lived)
	p.agree("battery.life_standby", pack.Life(0), lived)
	p.agree("battery.life_mixed", pack.Life(hoursOn), lived)
}

func abs(x float64) float64 { return max(x, -x) }

// TestPublicTwo: independent computation, model/testdata/public-2.json. The
// numbers put in are those of public-2.toml.
func TestPublicTwo(t *testing.T) {
	p := readPublic(t, 2)
	hours := Chain{Before: 40 + 1500 + 430, After: 180, Capacitor: 22e-6}
	p.agree("hours.full_scale_reached", hours.Current(PinVoltage(4.8, 180, 200))/2e-3, closed)
	p.agree("hours.pin_peak_current", hours.PinPeak(4.8), closed)
	p.agree("hours.rail_current", hours.RailCurrent(4.8, 0.9), closed)
	p.agree("hours.filter_time_constant", TimeConstant(hours), closed)
	r := Ripple{Rail: 4.8, Duty: 0.5, Period: 1 / PWMFrequency(1e6, 16, 200), Chain: hours, FullScale: 2e-3,
		Movement: Movement{Period: 0.6, Damping: 1.4}}
	p.agree("hours.ripple_voltage_worst", r.Node(), rippled)
	p.agree("hours.ripple_needle", r.Needle()*1440, rippled)
	p.agree("hours.needle_settling", r.Movement.Settling(0.015), lived)
	c := Quantisation{Law: &Law{Kind: Square}, Top: 180, Steps: 1440, Down: true, Dial: true}
	largest, rms := c.Errors()
	p.agree("hours.code_error_max", largest*1440, closed)
	p.agree("hours.code_error_rms", rms*1440, closed)
	worst := 0.0
	for _, room := range []float64{26, 34} {
		w := Warming{Coil: 180, Rest: hours.Before, Pin: 40, Copper: 1, ResistorTempco: 50e-6, PinTempco: 3500e-6, TrimmedAt: 23, RoomT: room}
		worst = max(worst, abs(w.CurrentError()))
	}
	p.agree("hours.temperature_error", worst*1440, closed)

	minutes := Chain{Before: 40 + 3900 + 608, After: 60}
	p.agree("minutes.full_scale_reached", minutes.Current(PinVoltage(4.8, 960, 1000))/1e-3, closed)
	p.agree("minutes.pin_peak_current", minutes.PinPeak(4.8), closed)
	p.agree("minutes.rail_current", minutes.RailCurrent(4.8, 0.96), closed)
	r = Ripple{Rail: 4.8, Duty: 0.5, Period: 1 / PWMFrequency(8e6, 1, 1000), Chain: minutes, Inductance: 20e-3,
		FullScale: 1e-3, Movement: Movement{Period: 1.2, Damping: DampingFromOvershoot(0.12)}}
	p.agree("minutes.needle_damping", r.Movement.Damping, closed)
	p.agree("minutes.needle_settling", r.Movement.Settling(0.015), lived)
	p.agree("minutes.ripple_needle", r.Needle()*60, rippled)
	c = Quantisation{Law: &Law{}, Top: 960, Steps: 60}
	largest, _ = c.Errors()
	p.agree("minutes.code_error_max", largest*60, closed)

	pack := Pack{Supply: Supply{Resistance: 3 * 0.2}, Cells: 3, Floor: 4.2, Capacity: 3, SelfDischarge: 0.006,
		Curve: []Charge{{0, 1.80}, {0.02, 1.75}, {0.05, 1.72}, {0.2, 1.69}, {0.5, 1.66}, {0.8, 1.62}, {0.95, 1.50}, {1, 1.20}},
		Shelf: 20 * HoursAYear, Off: 900e-9,
		On: 900e-6 + hours.RailCurrent(4.8, 0.9) + minutes.RailCurrent(4.8, 0.96)}
	p.agreeBattery(&pack, 8)
}
