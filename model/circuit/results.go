package circuit

import (
	"math"
	"strings"

	"example.com/needlewright/model"
	"example.com/needlewright/model/quantity"
)

// A Question is what a person asks of a build; results stand under theirs.
type Question uint8

// The questions, in the order of the screen.
const (
	Reaches Question = iota // does the needle reach the last mark, unhurt
	Smooth                  // does it stand still, and settle
	Wrong                   // how wrong does it read
	Drifts                  // how fast does it drift
	Lasts                   // how long do the cells last
)

// A Result is one number of the plan: what it is called, in which unit it is
// kept and shown, and the formula that gives it.
type Result struct {
	ID       string // "hand.step"; a hand's or lamp's name takes the list's place: "hours.step", "lamp.seconds.current"
	Question Question
	Label    string
	Unit     quantity.Unit // as people read it; the number itself is in its base
	Formula  string        // in the letters of catalogue.md; a test evaluates it
	Bare     string        // the formula where there is no capacitor, if another
	Help     string        // what it is, where its label does not say it to everyone
	Source   string        // where the formula is from, if not catalogue.md alone
	Answer   bool          // it answers the question by itself: it stands before the others
	Positive bool          // it is left out where it would not be above 0
	Group    Groups        // in which Solve works it out
	Dust     float64       // what is nearer to 0 is far below what anyone can measure, or mere rounding, and reads as 0

	of func(*Plan) int
	at func(*Plan, int) *float64
}

// Of returns how many values of the result a plan holds.
func (r *Result) Of(p *Plan) int { return r.of(p) }

// At returns a pointer to the i-th value of the result, NaN where it does not
// exist for the build.
func (r *Result) At(p *Plan, i int) *float64 { return r.at(p, i) }

// IDOf returns the id of the i-th value, with the hand's or lamp's name in it.
func (r *Result) IDOf(b *model.Build, i int) string {
	head, rest, _ := strings.Cut(r.ID, ".")
	switch head {
	case "hand":
		return b.NameOf("hand", i) + "." + rest
	case "lamp", "button":
		return head + "." + b.NameOf(head, i) + "." + rest
	}
	return r.ID
}

// An Outcome is one result of one build.
type Outcome struct {
	*Result
	Index int // of its hand or lamp
	Value float64
}

// Outcomes returns the results that exist for a build, in the order of the table,
// all of a hand together.
func Outcomes(p *Plan) []Outcome {
	var list []Outcome
	for start := 0; start < len(Results); {
		end := start + 1
		for end < len(Results) && Results[end].List() == Results[start].List() {
			end++
		}
		for i := range Results[start].of(p) {
			for k := start; k < end; k++ {
				if v := *Results[k].at(p, i); !math.IsNaN(v) && !math.IsInf(v, 0) {
					list = append(list, Outcome{Result: &Results[k], Index: i, Value: v})
				}
			}
		}
		start = end
	}
	return list
}

// List is the list that the result is of, "hand", "lamp"; or "crystal", "battery".
func (r *Result) List() string {
	head, _, _ := strings.Cut(r.ID, ".")
	return head
}

func ofHand(id string, q Question, label string, u quantity.Unit, formula string, at func(*HandPlan) *float64) Result {
	return Result{
		ID: "hand." + id, Question: q, Label: label, Unit: u, Formula: formula, Group: Steady,
		of: func(p *Plan) int { return len(p.Hands) },
		at: func(p *Plan, i int) *float64 { return at(&p.Hands[i]) },
	}
}

func ofCrystal(id, label string, u quantity.Unit, formula string, at func(*CrystalPlan) *float64) Result {
	return Result{
		ID: "crystal." + id, Question: Drifts, Label: label, Unit: u, Formula: formula, Group: Time,
		of: func(*Plan) int { return 1 },
		at: func(p *Plan, _ int) *float64 { return at(&p.Crystal) },
	}
}

func ofBattery(id, label string, u quantity.Unit, formula string, at func(*BatteryPlan) *float64) Result {
	return Result{
		ID: "battery." + id, Question: Lasts, Label: label, Unit: u, Formula: formula, Group: Supply,
		of: func(*Plan) int { return 1 },
		at: func(p *Plan, _ int) *float64 { return at(&p.Battery) },
	}
}

func ofSupply(id string, q Question, label string, u quantity.Unit, formula string, at func(*SupplyPlan) *float64) Result {
	return Result{
		ID: id, Question: q, Label: label, Unit: u, Formula: formula, Group: Supply,
		of: func(*Plan) int { return 1 },
		at: func(p *Plan, _ int) *float64 { return at(&p.Supply) },
	}
}

func ofLamp(id, label string, u quantity.Unit, formula string, at func(*LampPlan) *float64) Result {
	return Result{
		ID: "lamp." + id, Question: Lasts, Label: label, Unit: u, Formula: formula, Group: Lamps,
		of: func(p *Plan) int { return len(p.Lamps) },
		at: func(p *Plan, i int) *float64 { return at(&p.Lamps[i]) },
	}
}

func ofButton(id, label string, u quantity.Unit, formula string, at func(*ButtonPlan) *float64) Result {
	return Result{
		ID: "button." + id, Question: Lasts, Label: label, Unit: u, Formula: formula, Group: Supply,
		of: func(p *Plan) int { return len(p.Buttons) },
		at: func(p *Plan, i int) *float64 { return at(&p.Buttons[i]) },
	}
}

// bare gives a result its formula without a capacitor.
func (r Result) bare(formula string) Result {
	r.Bare = formula
	return r
}

// answer marks a result that answers its question by itself.
func (r Result) answer() Result {
	r.Answer = true
	return r
}

// positive marks a result that is left out where it would not be above 0.
func (r Result) positive() Result {
	r.Positive = true
	return r
}

// in says in which group of a hand's results Solve works it out, if not with those that
// are steady.
func (r Result) in(g Groups) Result {
	r.Group = g
	return r
}

// from names the source of a result's formula.
func (r Result) from(source string) Result {
	r.Source = source
	return r
}

// means says what a result is.
func (r Result) means(help string) Result {
	r.Help = help
	return r
}

// dustRate is a rate that reads as 0, s/day.
const dustRate = 0.0005

func (r Result) dust(below float64) Result {
	r.Dust = below
	return r
}

const (
	kuphaldt = "T. Kuphaldt, Lessons In Electric Circuits, Vol. I, ch. 8"
	slaa423  = "TI SLAA423A"
	an2867   = "ST AN2867"
)

// ofTheChain says what a share of the chain is of.
const ofTheChain = "Its share of the chain, which is all resistance that the current passes: pin, resistors, trimmer and coil"

// Results is the results table. Definitions are in catalogue.md.
var Results = []Result{
	ofHand("full_scale_voltage", Reaches, "Coil at full scale", quantity.Millivolts, "I_fs·R_m", func(h *HandPlan) *float64 { return &h.FullScaleVoltage }).from(kuphaldt),
	ofHand("top_voltage", Reaches, "Pin at top code", quantity.Volts, "U·d", func(h *HandPlan) *float64 { return &h.TopVoltage }).in(Reach),
	ofHand("series_needed", Reaches, "Series beside pin, stage", quantity.Ohms, "top_voltage/I_fs − R_m − R_i − R_p − R_s", func(h *HandPlan) *float64 { return &h.SeriesNeeded }).from(kuphaldt).in(Reach),
	ofHand("trimmer_setting", Reaches, "Trimmer set to", quantity.Ohms, "series_needed − R_f", func(h *HandPlan) *float64 { return &h.TrimmerSetting }).in(Reach),
	ofHand("trimmer_travel", Reaches, "Trimmer travel", quantity.Percent, "trimmer_setting/R_t", func(h *HandPlan) *float64 { return &h.TrimmerTravel }).answer(),
	ofHand("current_trimmer_zero", Reaches, "Trimmer at zero", quantity.Microamperes, "top_voltage/(R_m + R_i + R_p + R_s + R_f)", func(h *HandPlan) *float64 { return &h.CurrentTrimmerZero }),
	ofHand("overload_trimmer_zero", Reaches, "  times full scale", quantity.Times, "current_trimmer_zero/I_fs", func(h *HandPlan) *float64 { return &h.OverloadTrimmerZero }),
	ofHand("overload_worst", Reaches, "Worst overload", quantity.Times, "U_max/R_least/I_least", func(h *HandPlan) *float64 { return &h.OverloadWorst }),
	ofHand("pin_peak_current", Reaches, "Pin peak", quantity.Milliamperes, "U/R_a", func(h *HandPlan) *float64 { return &h.PinPeakCurrent }).bare("U/(R_a + R_c)"),
	ofHand("full_scale_reached", Reaches, "Full scale reached", quantity.Percent, "U·d/(R_a + R_c)/I_fs", func(h *HandPlan) *float64 { return &h.FullScaleReached }).answer().in(Reach),
	ofHand("rail_current", Lasts, "Mean from the rail", quantity.Microamperes, "U/R_a·((d_0 + d)/2 − k·(d_0² + d_0·d + d²)/3)", func(h *HandPlan) *float64 { return &h.RailCurrent }).bare("U·(d_0 + d)/(2·(R_a + R_c))").in(FromRail),
	ofHand("pwm_frequency", Smooth, "PWM frequency", quantity.Hertz, "clock/(prescale·N)", func(h *HandPlan) *float64 { return &h.PWMFrequency }).in(Filter),
	ofHand("filter_time_constant", Smooth, "Filter time", quantity.Seconds, "C·R_a·R_c/(R_a + R_c)", func(h *HandPlan) *float64 { return &h.FilterTimeConstant }).in(Filter),
	ofHand("filter_corner", Smooth, "Filter corner", quantity.Hertz, "1/(2·π·filter_time_constant)", func(h *HandPlan) *float64 { return &h.FilterCorner }).in(Filter),
	ofHand("filter_settling", Smooth, "Filter settles in", quantity.Seconds, "filter_time_constant·ln(2·N)", func(h *HandPlan) *float64 { return &h.FilterSettling }).from("A. Levido, Circuit Cellar, Nov 2022").in(Filter),
	ofHand("ripple_voltage_worst", Smooth, "Node's ripple", quantity.Millivolts, "ripple_at_node(U, d_half)", func(h *HandPlan) *float64 { return &h.RippleVoltageWorst }).from("A. Levido, Circuit Cellar, Nov 2022, eq. 1 (first order)").in(Ripple),
	ofHand("ripple_needle", Smooth, "Needle's ripple", quantity.Minutes, "S_f·ripple_of_needle(U, d_half)", func(h *HandPlan) *float64 { return &h.RippleNeedle }).answer().in(Ripple),
	ofHand("step", Wrong, "One code", quantity.Minutes, "S_f/T", func(h *HandPlan) *float64 { return &h.Step }).in(Codes),
	ofHand("code_error_max", Wrong, "Coding error, most", quantity.Minutes, "S·coding_error_largest(T, n)", func(h *HandPlan) *float64 { return &h.CodeErrorMax }).answer().in(Codes),
	ofHand("code_error_rms", Wrong, "Coding error, rms", quantity.Minutes, "S·coding_error_rms(T, n)", func(h *HandPlan) *float64 { return &h.CodeErrorRMS }).in(Codes),
	ofHand("zero_left", Wrong, "Code 0 leaves", quantity.Minutes, "S·shown(offset/(T + offset))", func(h *HandPlan) *float64 { return &h.ZeroLeft }).in(Codes),
	ofHand("needle_damping", Smooth, "Needle damping", quantity.Times, "ζ", func(h *HandPlan) *float64 { return &h.NeedleDamping }).from("K. Ogata, Modern Control Engineering").in(Swing),
	ofHand("needle_settling", Smooth, "Needle settles in", quantity.Seconds, "settling(ω_n, ζ, 0.015)", func(h *HandPlan) *float64 { return &h.NeedleSettling }).answer().in(Swing),
	ofHand("temperature_error", Wrong, "Room temperature", quantity.Minutes, "S_f·max(abs(shown(1 + e_low) − 1), abs(shown(1 + e_high) − 1))", func(h *HandPlan) *float64 { return &h.TemperatureError }).answer(),
	ofHand("fade_error", Wrong, "Cells fading", quantity.Minutes, "S_f·(1 − floor/U)", func(h *HandPlan) *float64 { return &h.FadeError }).answer().positive(),

	ofHand("trimmer_share", Reaches, "Trimmer of the chain", quantity.Percent, "r/(R_a + R_c)", func(h *HandPlan) *float64 { return &h.TrimmerShare }).means(ofTheChain + "."),
	ofHand("trim_step", Reaches, "Trimmer sets to", quantity.Minutes, "S_f·trim_step(R_t, turns)/(R_a + R_c)", func(h *HandPlan) *float64 { return &h.TrimStep }),
	ofHand("pin_share", Reaches, "Pin of the chain", quantity.Percent, "R_p/(R_a + R_c)", func(h *HandPlan) *float64 { return &h.PinShare }).means(ofTheChain + "."),
	ofHand("coil_share", Wrong, "Copper of the chain", quantity.Percent, "R_m·copper/(R_a + R_c)", func(h *HandPlan) *float64 { return &h.CoilShare }).means(ofTheChain + "; copper grows by 0.4 % a degree."),
	ofHand("pin_mean_current", Reaches, "Pin at top, mean", quantity.Milliamperes, "full_scale_reached·I_fs", func(h *HandPlan) *float64 { return &h.PinMeanCurrent }),
	ofHand("resistor_power", Reaches, "Hottest resistor", quantity.Milliwatts, "max(R_f·heat_fixed, R_s·heat_stage)", func(h *HandPlan) *float64 { return &h.ResistorPower }),
	ofHand("trimmer_power", Reaches, "Trimmer's whole track", quantity.Milliwatts, "R_t·heat_fixed", func(h *HandPlan) *float64 { return &h.TrimmerPower }),
	ofHand("terminal_resistance", Reaches, "Terminals, as found", quantity.Ohms, "terminals(coil, internal)", func(h *HandPlan) *float64 { return &h.TerminalResistance }).from(kuphaldt),
	ofHand("terminal_full_scale", Reaches, "Full scale, as found", quantity.Microamperes, "full_scale·taken(coil, internal)", func(h *HandPlan) *float64 { return &h.TerminalFullScale }).from(kuphaldt),
	ofHand("filter_current", Lasts, "Filter's own draw", quantity.Microamperes, "rail_current − U·(d_0 + d)/(2·(R_a + R_c))", func(h *HandPlan) *float64 { return &h.FilterCurrent }),
	ofHand("ripple_current", Smooth, "Coil's ripple", quantity.Percent, "ripple_of_coil(U, d_half)", func(h *HandPlan) *float64 { return &h.RippleCurrent }).in(Ripple),
	ofHand("rail_error", Wrong, "Rail's drift ±", quantity.Minutes, "S_f·drift", func(h *HandPlan) *float64 { return &h.RailError }),
	ofHand("fresh_error", Wrong, "Fresh cells, high by", quantity.Minutes, "S_f·(fresh_rail/U − 1)", func(h *HandPlan) *float64 { return &h.FreshError }).positive().in(Supply),
	ofHand("lamp_nod", Wrong, "Lamps lit, low by", quantity.Minutes, "S_f·cells·resistance·lamps_all/U", func(h *HandPlan) *float64 { return &h.LampNod }).positive().in(Supply),
	ofHand("zero_error", Wrong, "Zero unpowered", quantity.Minutes, "S_w·zero_offset", func(h *HandPlan) *float64 { return &h.ZeroError }),
	ofHand("stick_error", Wrong, "Friction ±", quantity.Minutes, "S_w·stick", func(h *HandPlan) *float64 { return &h.StickError }),
	ofHand("mounting_error", Wrong, "Mounting, up to", quantity.Minutes, "S_w·(0.05·other_panel + 0.02·other_position)", func(h *HandPlan) *float64 { return &h.MountingError }),
	ofHand("neighbour_distance", Wrong, "Next magnet at", quantity.Times, "neighbour/diameter", func(h *HandPlan) *float64 { return &h.NeighbourDistance }),
	ofHand("pin_bend", Wrong, "Pin's bend", quantity.Minutes, "S_f·pin_bend(pin_high, pin_low)", func(h *HandPlan) *float64 { return &h.PinBend }),
	ofHand("diode_leak", Wrong, "Diodes leak", quantity.Microamperes, "min(leak(full_scale_voltage), most_leak(U, R_p + R_s + R_f + R_i, R_m))", func(h *HandPlan) *float64 { return &h.DiodeLeak }),
	ofHand("diode_bend", Wrong, "Diodes' bend", quantity.Minutes, "S_f·diode_bend((top_voltage − full_scale_voltage)/(I_fs + leak(full_scale_voltage)))", func(h *HandPlan) *float64 { return &h.DiodeBend }),
	ofHand("law_ripple_error", Wrong, "Ripple on the law", quantity.Minutes, "S_f·law_shift(U, d_half)", func(h *HandPlan) *float64 { return &h.LawRippleError }).in(Ripple),
	ofHand("capacitor_leak_error", Wrong, "Capacitor's leak", quantity.Minutes, "S_f·3·10^−6·R_a/(R_a + R_c)/I_fs", func(h *HandPlan) *float64 { return &h.CapacitorLeakError }),
	ofHand("wrap_overshoot", Smooth, "Wrap, past zero by", quantity.Percent, "overshoot(ζ)", func(h *HandPlan) *float64 { return &h.WrapOvershoot }).from("K. Ogata, Modern Control Engineering").
		means("At the wrap, as at 12 sharp, the needle is sent from the last mark back to the first: so far past it it swings, a share of the scale.").in(Swing),
	ofHand("wrap_speed", Smooth, "  at its stop", quantity.PercentPerSecond, "strike(1, stop_below)", func(h *HandPlan) *float64 { return &h.WrapSpeed }).in(Swing).
		means("How fast the needle then meets the stop below its first mark; 0: it does not come so far."),
	ofHand("wake_overshoot", Smooth, "Waking, past the end", quantity.Percent, "max(0, wake + (wake − rest)·wrap_overshoot − 1)", func(h *HandPlan) *float64 { return &h.WakeOvershoot }).in(Swing).
		means("The clock wakes shortly before the wrap, and the needle is sent up from zero: so far past the last mark it swings, a share of the scale."),
	ofHand("wake_speed", Smooth, "  at its stop", quantity.PercentPerSecond, "strike(wake − rest, 1 + stop − wake)", func(h *HandPlan) *float64 { return &h.WakeSpeed }).in(Swing).
		means("How fast the needle then meets the stop beyond its last mark; 0: it does not come so far."),
	ofHand("ramp_time", Smooth, "Ramp at least", quantity.Seconds, "shortest_ramp(0.01)", func(h *HandPlan) *float64 { return &h.RampTime }).in(Swing).
		means("Led evenly over the whole scale in this time or longer, the needle swings past by 1 % at most; 0: it may jump."),
	ofHand("ramp_per_tick", Smooth, "  codes a tick", quantity.Times, "codes·ramp_tick/ramp_time", func(h *HandPlan) *float64 { return &h.RampPerTick }).in(Swing).
		means("By how many codes the firmware then moves the needle each time that it moves it, which is once a ramp's tick."),

	ofCrystal("load_actual", "Load it sees", quantity.Picofarads, "series(C_in, C_out) + stray", func(c *CrystalPlan) *float64 { return &c.LoadActual }).from(slaa423),
	ofCrystal("load_offset", "Offset by the load", quantity.PPM, "10^6·C_m/2·(1/(C_0 + load_actual) − 1/(C_0 + load))", func(c *CrystalPlan) *float64 { return &c.LoadOffset }).from(slaa423).dust(dustRate),
	ofCrystal("sensitivity", "Sensitivity", quantity.PPMPerPicofarad, "−10^6·10^−12·C_m/(2·(C_0 + load_actual)²)", func(c *CrystalPlan) *float64 { return &c.Sensitivity }).from(slaa423),
	ofCrystal("capacitor_each", "Capacitors, each", quantity.Picofarads, "2·(load − stray)", func(c *CrystalPlan) *float64 { return &c.CapacitorEach }).from(an2867),
	ofCrystal("tick_period", "Tick", quantity.Seconds, "prescale·(2^bits − reload + lost_counts)/frequency", func(c *CrystalPlan) *float64 { return &c.TickPeriod }),
	ofCrystal("rate", "Rate", quantity.SecondsPerDay, "0.0864·(base + 10^6·(tick_counted/tick_period − 1))", func(c *CrystalPlan) *float64 { return &c.Rate }).answer().dust(dustRate),
	ofCrystal("rate_low", "Rate, slowest", quantity.SecondsPerDay, "rate − 0.0864·(fall_most + unknown)", func(c *CrystalPlan) *float64 { return &c.RateLow }).answer().dust(dustRate),
	ofCrystal("rate_high", "Rate, fastest", quantity.SecondsPerDay, "rate − 0.0864·(fall_least − unknown)", func(c *CrystalPlan) *float64 { return &c.RateHigh }).answer().dust(dustRate),
	ofCrystal("transconductance_critical", "Transconduct. needed", quantity.Microsiemens, "4·ESR·(2·π·frequency)²·(C_0 + load_actual)²", func(c *CrystalPlan) *float64 { return &c.TransconductanceCritical }).from(an2867),
	ofCrystal("gain_margin", "Gain margin", quantity.Times, "transconductance/transconductance_critical", func(c *CrystalPlan) *float64 { return &c.GainMargin }).from(an2867),
	ofCrystal("capacitor_ratio", "Capacitors, ratio", quantity.Times, "max(C_in, C_out)/min(C_in, C_out)", func(c *CrystalPlan) *float64 { return &c.CapacitorRatio }),
	ofCrystal("month_drift", "In a month", quantity.Seconds, "rate·30.4375", func(c *CrystalPlan) *float64 { return &c.MonthDrift }).dust(dustRate * DaysAMonth),
	ofCrystal("year_error", "A year in its room", quantity.Seconds, "365.25·(rate − 0.0864·(curvature·((room_low + room_high)/2 − turnover)² + curvature·(room_high − room_low)²/8))", func(c *CrystalPlan) *float64 { return &c.YearError }).dust(dustRate * DaysAYear).
		means("What it gains in a year, set once, while the room goes from its coldest to its warmest and back like a sine."),
	ofCrystal("stray_implied", "Stray, by frequency", quantity.Picofarads, "1/(1/(C_0 + load) + 2·base/10^6/C_m) − C_0 − series(C_in, C_out)", func(c *CrystalPlan) *float64 { return &c.StrayImplied }).from(slaa423).
		means("The stray that the measured frequency speaks of, if the crystal itself is exact: below 0 or far off, it is not, or a capacitor is another."),

	ofLamp("current", "Lamp current", quantity.Milliamperes, "max(0, (U − forward)/(resistor + pin_resistance))", func(l *LampPlan) *float64 { return &l.Current }),
	ofLamp("power", "Dissipation", quantity.Milliwatts, "current²·resistor", func(l *LampPlan) *float64 { return &l.Power }),

	ofButton("current", "Pressed", quantity.Microamperes, "U/pull", func(b *ButtonPlan) *float64 { return &b.Current }),
	ofButton("wedged_life", "Wedged, cells last", quantity.Hours, "wedged(current)", func(b *ButtonPlan) *float64 { return &b.WedgedLife }),

	ofSupply("load.pins_together", Reaches, "All pins together", quantity.Milliamperes, "pins_of_hands + pins_of_lamps", func(s *SupplyPlan) *float64 { return &s.PinsTogether }),
	ofSupply("rail.hold_up", Lasts, "Rail holds, asleep", quantity.Seconds, "rail_capacitor·max(0, held_from − minimum_voltage)/(controller_off + rail_drains_off + beside_off)", func(s *SupplyPlan) *float64 { return &s.HoldUp }),
	ofSupply("rail.hold_up_awake", Lasts, "Rail holds, awake", quantity.Seconds, "rail_capacitor·max(0, held_from − minimum_voltage)/(controller_on + lamps + hands + rail_drains_on + beside_on)", func(s *SupplyPlan) *float64 { return &s.HoldUpAwake }),

	ofBattery("rail_current_on", "Rail, awake", quantity.Milliamperes, "controller_on + lamps + hands + rail_drains_on", func(b *BatteryPlan) *float64 { return &b.RailCurrentOn }),
	ofBattery("rail_current_off", "Rail, asleep", quantity.Microamperes, "controller_off + rail_drains_off", func(b *BatteryPlan) *float64 { return &b.RailCurrentOff }),
	ofBattery("current_on", "Cells, awake", quantity.Milliamperes, "drawn(rail_current_on, pack_drains_on)", func(b *BatteryPlan) *float64 { return &b.CurrentOn }).from("TI E2E thread 1074967"),
	ofBattery("current_off", "Cells, asleep", quantity.Microamperes, "drawn(rail_current_off, pack_drains_off)", func(b *BatteryPlan) *float64 { return &b.CurrentOff }).from("TI E2E thread 1074967"),
	ofBattery("life_on", "Life, always awake", quantity.Hours, "life(24)", func(b *BatteryPlan) *float64 { return &b.LifeOn }).answer(),
	ofBattery("life_standby", "Life, always asleep", quantity.Hours, "life(0)", func(b *BatteryPlan) *float64 { return &b.LifeStandby }).answer(),
	ofBattery("life_mixed", "Life as used", quantity.Hours, "life(hours_on)", func(b *BatteryPlan) *float64 { return &b.LifeMixed }).answer(),
	ofBattery("current_peak", "Cells, at most", quantity.Milliamperes, "drawn(controller_on + lamps_all + hands_most + rail_drains_on, pack_drains_on)", func(b *BatteryPlan) *float64 { return &b.CurrentPeak }),
	ofBattery("stranded", "Charge left at the end", quantity.Percent, "stranded(24)", func(b *BatteryPlan) *float64 { return &b.Stranded }),
	ofBattery("share_on_controller", "Controller, awake", quantity.Percent, "(current_on − pack_drains_on − quiescent)/current_on·controller_on/rail_current_on", func(b *BatteryPlan) *float64 { return &b.Awake.Controller }),
	ofBattery("share_on_lamps", "Lamps, awake", quantity.Percent, "(current_on − pack_drains_on − quiescent)/current_on·lamps/rail_current_on", func(b *BatteryPlan) *float64 { return &b.Awake.Lamps }),
	ofBattery("share_on_hands", "Hands, awake", quantity.Percent, "(current_on − pack_drains_on − quiescent)/current_on·hands/rail_current_on", func(b *BatteryPlan) *float64 { return &b.Awake.Hands }),
	ofBattery("share_on_drains", "Drains, awake", quantity.Percent, "((current_on − pack_drains_on − quiescent)·rail_drains_on/rail_current_on + pack_drains_on)/current_on", func(b *BatteryPlan) *float64 { return &b.Awake.Drains }),
	ofBattery("share_on_converter", "Converter, awake", quantity.Percent, "quiescent/current_on", func(b *BatteryPlan) *float64 { return &b.Awake.Converter }),
	ofBattery("share_off_controller", "Controller, asleep", quantity.Percent, "ratio((current_off − pack_drains_off − quiescent)·controller_off, current_off·rail_current_off)", func(b *BatteryPlan) *float64 { return &b.Asleep.Controller }),
	ofBattery("share_off_drains", "Drains, asleep", quantity.Percent, "(ratio((current_off − pack_drains_off − quiescent)·rail_drains_off, rail_current_off) + pack_drains_off)/current_off", func(b *BatteryPlan) *float64 { return &b.Asleep.Drains }),
	ofBattery("share_off_converter", "Converter, asleep", quantity.Percent, "quiescent/current_off", func(b *BatteryPlan) *float64 { return &b.Asleep.Converter }),
}

// OfHand says whether each hand has a result of its own.
func (r *Result) OfHand() bool { return r.List() == "hand" }

// Text returns the value as people read it, in four digits.
func (r Outcome) Text() string { return r.TextIn(4) }

// TextIn returns it in so many digits; how long cells last has three in any case.
func (r Outcome) TextIn(digits int) string {
	switch {
	case math.Abs(r.Value) < r.Dust:
		return quantity.Show(0, r.Unit, digits)
	case r.Unit == quantity.Hours:
		return quantity.ShowDuration(r.Value)
	case r.Unit == quantity.Minutes:
		return quantity.DialTimeIn(r.Value, digits)
	}
	return quantity.Show(r.Value, r.Unit, digits)
}

// Hair is what a result may be off its value by mere rounding, in its base unit.
// Dial times below 1e-15 min count as 0, and so does a billionth of what reads as 0.
func (r Outcome) Hair() float64 {
	const rounding = 1e-9
	least := rounding * r.Dust
	if r.Unit == quantity.Minutes {
		least = 1e-15
	}
	return max(rounding*math.Abs(r.Value), least)
}
