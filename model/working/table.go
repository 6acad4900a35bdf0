package working

import (
	"math"

	"example.com/needlewright/model/quantity"
)

// by is a formula of its own.
func by(formula string) func(*desk) string { return func(*desk) string { return formula } }

// filtered is one formula with a capacitor, another without.
func filtered(with, without string) func(*desk) string {
	return func(d *desk) string { return choose(d.wired().Capacitor > 0, with, without) }
}

// shown is a formula of what the needle shows: of a dial that is drawn to it, or of an even
// law, the current itself.
func shown(even, other string) func(*desk) string {
	return func(d *desk) string {
		h := d.wired()
		return choose(h.Dial || h.Law.IsEven(), even, other)
	}
}

// workings is a row for each result.
var workings = map[string]row{
	"hand.full_scale_voltage":    {words: "Across the coil at full scale", why: "More than some 0.3 V makes protecting diodes leak; less than 20 mV is at the mercy of every joint.", formula: by("full_scale·coil")},
	"hand.top_voltage":           {words: "Pin's mean at top code", why: "All that the needle can be given comes from this; the chain is chosen for it.", formula: by("U·(T + offset)/N")},
	"hand.series_needed":         {words: "Still needed", why: "Fixed resistor and trimmer together must make this much, or the needle does not stand at its last mark.", formula: by("R_all − R_there")},
	"hand.trimmer_setting":       {words: "The trimmer stands at", why: "Below nothing or above its whole it cannot be turned: the needle stays short of its last mark, or goes past it."},
	"hand.trimmer_travel":        {words: "Of its travel", why: "Near the middle there is room on both sides for what your parts differ by."},
	"hand.current_trimmer_zero":  {words: "Most current then", why: "A trimmer turned down by accident lets this through the coil.", formula: by("top_voltage/R_zero")},
	"hand.overload_trimmer_zero": {words: "Times full scale", label: "Trimmer at zero, times full scale", why: "It says whether a slip of the screwdriver can hurt the meter."},
	"hand.overload_worst":        {words: "Ratio", label: "Can it burn the coil? Worst overload", why: "It says whether the worst that can go wrong burns the coil or bends the needle.", formula: by("I_worst/I_least"), verdict: stands},
	"hand.pin_peak_current":      {words: "The pin's peak", why: "A pin that gives more than its limit is worn out, or takes the controller with it.", formula: filtered("U/R_a", "U/R_chain")},
	"hand.full_scale_reached":    {words: "Of full scale", why: "At 100 % the needle stands on its last mark when the clock means it.", formula: by("top_voltage/R_chain/I_fs")},
	"hand.rail_current":          {words: "Mean from the rail", why: "The cells give this all day long for this hand.", formula: filtered("U/R_a·((d_0 + d)/2 − k·(d_0² + d_0·d + d²)/3)", "U·(d_0 + d)/(2·R_chain)")},
	"hand.pwm_frequency":         {words: "PWM frequency", why: "Too slow, and the needle trembles; within what ears hear, and the coil may hum."},
	"hand.filter_time_constant":  {words: "The filter's time", why: "It smooths what is shorter and delays what is not.", formula: by("C·(R_a ∥ R_c)")},
	"hand.filter_corner":         {words: "The filter's corner", why: "What pulses above it is smoothed, the more the farther above."},
	"hand.filter_settling":       {words: "Settled to half a count in", why: "A seconds hand must be at rest well within its second."},
	"hand.ripple_voltage_worst":  {words: "The node's ripple", why: "What is left of the pulses here still reaches the coil."},
	"hand.ripple_needle":         {words: "The needle's ripple", why: "A needle that trembles by more than a line's width is hard to read."},
	"hand.step":                  {words: "One code", why: "The needle can be sent to no place between two codes."},
	"hand.code_error_max":        {words: "Coding error, most", why: "So wrong the codes alone make it at some time of day."},
	"hand.code_error_rms":        {words: "Coding error, rms", why: "So wrong the codes alone make it over the day."},
	"hand.zero_left":             {words: "Code 0 leaves", why: "At the start of its dial the needle never comes quite down.", formula: shown("S·offset/(T + offset)", "S·law(offset/(T + offset))")},
	"hand.needle_damping":        {words: "The needle's damping", why: "Below 0.5 the needle swings several times before it rests.", formula: by("ζ")},
	"hand.needle_settling":       {words: "The needle settles in", why: "Until then it cannot be read."},
	"hand.temperature_error":     {words: "Off at full scale", why: "A room that is warmer than on the day of trimming moves the hand by this.", formula: shown("S_f·abs(e)", "S_f·abs(law(1 + e) − 1)")},
	"hand.fade_error":            {words: "Low by, at the cells' end", why: "Bare cells fade, and the needle falls with them."},

	"hand.trimmer_share": {words: "Trimmer of the chain", why: "The more of the chain it is, the more its drift counts."},
	"hand.trim_step":     {words: "It sets to", why: "Full scale cannot be set more finely than this.", formula: by("S_f·R_t·min(0.005, 0.01/turns)/R_chain")},
	"hand.pin_share":     {words: "Pin of the chain", why: "What the pin's resistance does with heat and wear counts by this."},
	"hand.coil_share": {words: "Copper of the chain", why: "By this much of copper's 0.4 % a degree the hand goes with the room.", formula: func(d *desk) string {
		return d.withShunt("coil·copper·(1 + R_x/R_n)/((1 + coil/R_n)·R_chain)", "coil·copper/R_chain")
	}},
	"hand.pin_mean_current":     {words: "Pin at the top, mean", why: "All pins together must stay below what the controller stands.", formula: by("top_voltage/R_chain")},
	"hand.resistor_power":       {words: "The hottest resistor", why: "A resistor near its rating drifts, and over it burns.", formula: resistorPower},
	"hand.trimmer_power":        {words: "On its whole track", why: "A trimmer burns where its wiper stands, at a part of its rating.", formula: by("R_t·I_fixed²")},
	"hand.terminal_resistance":  {words: "Between its terminals", why: "What a measurement at the terminals should say.", formula: terminalsOf},
	"hand.terminal_full_scale":  {words: "Full scale at its terminals", why: "What the meter takes as it was found.", formula: terminalScaleOf},
	"hand.filter_current":       {words: "The filter's own draw", why: "A stage resistor that is too small costs the cells this.", formula: by("U/R_a·k·((d_0 + d)/2 − (d_0² + d_0·d + d²)/3)")},
	"hand.ripple_current":       {words: "Of full scale", why: "What of the pulses the coil gets may be heard as a hum."},
	"hand.rail_error":           {words: "Off at full scale", why: "The needle follows the rail as it follows the code.", formula: by("S_f·drift")},
	"hand.fresh_error":          {words: "High by, on fresh cells", why: "Fresh cells stand above the rail that the hand was set for."},
	"hand.lamp_nod":             {words: "Low by, while they are lit", why: "The cells sag while lamps light, and the needle nods.", formula: by("S_f·R_pack·lamps_all/U")},
	"hand.zero_error":           {words: "Off at the zero end", why: "A needle that does not rest at zero reads wrong there."},
	"hand.stick_error":          {words: "Friction, either way", why: "Untapped, the needle may stop this far from its place."},
	"hand.mounting_error":       {words: "Mounting, up to", why: "Steel near its magnet, or another way up than its dial asks for, moves the needle.", formula: by("S_w·mounting")},
	"hand.neighbour_distance":   {words: "In its own diameters", why: "A magnet closer than two diameters pulls at the needle.", formula: by("neighbour/diameter")},
	"hand.pin_bend":             {words: "Bent most", why: "A pin that pulls up and down unlike bends the scale behind a filter.", formula: filtered("S_f·bow/(1 + sqrt(1 + bow))²", "S_f·0")},
	"hand.diode_leak":           {words: "The diodes leak", why: "What leaks past the coil is missing at its last mark."},
	"hand.diode_bend":           {words: "Bent most", why: "Diodes that leak near full scale crowd the upper scale.", formula: by("S_f·series·(worst·leak − leak_there)/(volts + series·(I_fs + leak))")},
	"hand.law_ripple_error":     {words: "Ripple on the law", why: "A needle whose force goes with the square stands higher on pulses than on their mean."},
	"hand.capacitor_leak_error": {words: "Low by, at full scale", why: "What leaks in the capacitor does not reach the coil.", formula: by("S_f·leak_of_cap·R_a/R_chain/I_fs")},
	"hand.wrap_overshoot": {words: "Past zero by", why: "A needle that swings past zero strikes its stop every time round.", formula: func(d *desk) string {
		return choose(d.wired().Movement.Damping >= 1, "0", "1/exp(π·ζ/sqrt(1 − ζ²))")
	}},
	"hand.wrap_speed":     {words: "It strikes at", label: "Wrap, at its stop", why: "Struck day by day, a needle bends."},
	"hand.wake_overshoot": {words: "Past the last mark by", why: "On waking it may strike the upper stop.", formula: by("max(0, wake + from_rest·wrap_overshoot − 1)")},
	"hand.wake_speed":     {words: "It strikes at", label: "Waking, at its stop", why: "Struck day by day, a needle bends."},
	"hand.ramp_time":      {words: "Ramp at least", why: "Led so slowly, the needle arrives without a swing."},
	"hand.ramp_per_tick":  {words: "Codes a tick", label: "Ramp, codes a tick", why: "So many codes the firmware may go on at each tick.", formula: by("codes·ramp_tick/ramp")},

	"crystal.load_actual":               {words: "The load it sees", why: "A crystal runs at its frequency only with the load it was made for.", formula: by("pair + stray")},
	"crystal.load_offset":               {words: "Off by", why: "1 ppm is 0.0864 s a day.", formula: by("C_m/2·(1/all_load − 1/all_meant)")},
	"crystal.sensitivity":               {words: "With one picofarad more", why: "It says what a little stray more or less does to the rate.", formula: by("−C_m/(2·all_load²)")},
	"crystal.capacitor_each":            {words: "Each of two alike", why: "Two capacitors of this size give the crystal its load."},
	"crystal.tick_period":               {words: "A tick lasts", why: "The program counts ticks; what they last is the clock's second.", formula: by("prescale·counts/frequency")},
	"crystal.rate":                      {words: "A day", why: "So much the clock gains or loses each day.", formula: by("day·gain")},
	"crystal.rate_low":                  {words: "A day, at the slowest", why: "With crystal and room both against it.", formula: by("day·(gain − fall_most − unknown)")},
	"crystal.rate_high":                 {words: "A day, at the fastest", why: "With crystal and room both with it.", formula: by("day·(gain − fall_least + unknown)")},
	"crystal.transconductance_critical": {words: "Least that keeps it swinging", why: "With less the oscillation dies.", formula: by("4·ESR·(2·π·frequency)²·all_load²")},
	"crystal.gain_margin":               {words: "Margin", why: "Below 5 a crystal may not start on a cold morning."},
	"crystal.capacitor_ratio":           {words: "Larger over smaller", why: "Two that are too unlike ask more of the oscillator."},
	"crystal.month_drift":               {words: "In a month", why: "So much is to be set right once a month.", formula: by("rate_found·month")},
	"crystal.year_error":                {words: "In a year", why: "So far off it is after a year in which nobody sets it: the room's part cannot be trimmed away once for all.", formula: by("year·(rate_found − day·fall_year)")},
	"crystal.stray_implied":             {words: "The stray", why: "A crystal cannot be probed; its frequency tells what it works into.", formula: by("all_true − C_0 − pair")},

	"lamp.current": {words: "Each lamp takes", why: "Below 0.3 mA a lamp is dim; each milliampere shortens the cells' life.", formula: func(d *desk) string {
		return choose(d.p.Lamps[d.i].Current > 0, "(rail − forward)/(resistor + pin_resistance)", "max(0, rail − forward)/(resistor + pin_resistance)")
	}},
	"lamp.power":         {words: "Its resistor turns to heat", why: "A resistor over its rating burns."},
	"button.current":     {words: "While it is pressed", why: "A button that is held down costs the cells this.", formula: by("rail/pull")},
	"button.wedged_life": {words: "The cells last", why: "A book on the button may empty the cells."},

	"load.pins_together": {words: "All pins together", why: "The controller as a whole stands no more than its limit.", formula: by("hands_top + lamps_all")},
	"rail.hold_up":       {words: "It holds for", why: "So long the cells may be out while the time is kept.", formula: holdUp("off")},
	"rail.hold_up_awake": {words: "It holds for", why: "So long the cells may be out while the clock is awake.", formula: holdUp("on")},

	"battery.rail_current_on":      {words: "Asked of the rail", why: "What the waking clock takes.", formula: by("on_rail.on")},
	"battery.rail_current_off":     {words: "Asked of the rail", why: "What the sleeping clock takes.", formula: by("on_rail.off")},
	"battery.current_on":           {words: "Drawn from the pack", why: "The cells' life is their charge over this.", formula: by("drawn.on")},
	"battery.current_off":          {words: "Drawn from the pack", why: "Asleep, a converter often takes more than the clock.", formula: by("drawn.off")},
	"battery.life_on":              {words: "They last", why: "How long the cells last were the clock always awake."},
	"battery.life_standby":         {words: "They last", why: "How long the cells last were the clock always asleep."},
	"battery.life_mixed":           {words: "They last", why: "How long a set of cells lasts as the clock is used."},
	"battery.current_peak":         {words: "Drawn at most", why: "Small cells collapse under more than they can give.", formula: by("drawn.peak")},
	"battery.stranded":             {words: "Left in the cells", why: "Charge that the clock cannot use was paid for all the same."},
	"battery.share_on_controller":  {words: "The controller's share", why: "The largest share is where saving pays.", formula: by("goes_on.on·controller.on/on_rail.on/current.on")},
	"battery.share_on_lamps":       {words: "The lamps' share", why: "The largest share is where saving pays.", formula: by("goes_on.on·lamps/on_rail.on/current.on")},
	"battery.share_on_hands":       {words: "The hands' share", why: "The largest share is where saving pays.", formula: by("goes_on.on·hands/on_rail.on/current.on")},
	"battery.share_on_drains":      {words: "The drains' share", why: "The largest share is where saving pays.", formula: by("(goes_on.on·rail_drains.on/on_rail.on + direct.on)/current.on")},
	"battery.share_on_converter":   {words: "The converter's own share", why: "The largest share is where saving pays.", formula: by("quiescent/current.on")},
	"battery.share_off_controller": {words: "The controller's share", why: "Asleep most of the year, the clock pays for this the longest.", formula: by("goes_on.off·controller.off/on_rail.off/current.off")},
	"battery.share_off_drains":     {words: "The drains' share", why: "Asleep most of the year, the clock pays for this the longest.", formula: by("(goes_on.off·rail_drains.off/on_rail.off + direct.off)/current.off")},
	"battery.share_off_converter":  {words: "The converter's own share", why: "Asleep most of the year, the clock pays for this the longest.", formula: by("quiescent/current.off")},
}

func resistorPower(d *desk) string {
	h := d.wired()
	switch {
	case h.Stage == 0:
		return "R_f·I_fixed²"
	case h.Fixed == 0:
		return choose(h.Capacitor > 0, "R_s·I_before²", "R_s·I_after²")
	}
	return "max(R_f·I_fixed², R_s·" + choose(h.Capacitor > 0, "I_before", "I_after") + "²)"
}

// terminalsOf is what was found, left inside or not.
func terminalsOf(d *desk) string {
	return d.closed("R_T", choose(d.meter().InternalKind == "shunt", "coil_given ∥ internal", "coil_given + internal"))
}

func terminalScaleOf(d *desk) string {
	return d.closed("I_T", choose(d.meter().InternalKind == "shunt", "scale_given·(1 + coil_given/internal)", "scale_given"))
}

// holdUp is how long the rail's capacitor holds, asleep or awake; no time where a hand shorts
// the rail.
func holdUp(when string) func(d *desk) string {
	return func(d *desk) string {
		if when == "on" && math.IsInf(d.p.Pack.On, 1) {
			return "0"
		}
		return "rail_capacitor·max(0, held_from − minimum_voltage)/(on_rail." + when + " + beside." + when + ")"
	}
}

// stands is what the meter stands beside what it gets at worst.
func stands(d *desk) string {
	limit, worst := d.meter().Overload.Number, d.solved().OverloadWorst
	text := "The meter stands " + quantity.Format(quantity.Value{Number: limit}, quantity.Times) + ": "
	if worst > limit {
		return text + "too much, by " + quantity.Show(worst-limit, quantity.Times, 2) + "."
	}
	return text + quantity.Show(limit-worst, quantity.Times, 2) + " to spare."
}
