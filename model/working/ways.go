package working

import "example.com/needlewright/model/circuit"

// A way is how a result is written that no formula of its row gives. No steps: its formula
// does.
type way func(d *desk, o circuit.Outcome) ([]Step, error)

// ways are those of the results that need one.
var ways = map[string]way{
	"hand.ripple_voltage_worst": nodeRipple,
	"hand.ripple_current":       coilRipple,
	"hand.ripple_needle":        needleRipple,
	"hand.law_ripple_error":     lawRipple,
	"hand.code_error_max":       codeErrorMost,
	"hand.code_error_rms":       codeErrorRMS,
	"hand.needle_settling":      settles,
	"hand.wrap_speed":           wrapSpeed,
	"hand.wake_speed":           wakeSpeed,
	"hand.ramp_time":            shortestRamp,
	"hand.diode_leak":           diodesLeak,
	"hand.diode_bend":           diodesBend,
	"battery.life_on":           func(d *desk, o circuit.Outcome) ([]Step, error) { return d.life(o, d.p.Pack, 24) },
	"battery.life_standby":      func(d *desk, o circuit.Outcome) ([]Step, error) { return d.life(o, d.p.Pack, 0) },
	"battery.life_mixed": func(d *desk, o circuit.Outcome) ([]Step, error) {
		return d.life(o, d.p.Pack, d.p.Circuit.Battery.HoursOn)
	},
	"button.wedged_life": wedgedLife,
	"battery.stranded":   stranded,
}
