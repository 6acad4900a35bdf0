package circuit

import (
	"math"

	"example.com/needlewright/calc"
)

// settled is how near its end, as a share of the step, a needle counts as
// settled.
const settled = 0.015

// solveHand computes groups of a hand's results, but for what the cells do to it.
func (h *HandCircuit) solve(p *HandPlan, groups Groups) {
	var d Drive
	if groups&(Reach|FromRail|Steady|Filter|Ripple) != 0 {
		top := h.TopVoltage()
		needed := h.neededFor(top)
		h.drive(h.setFor(needed), &d)
		if groups&Reach != 0 {
			p.TopVoltage, p.SeriesNeeded = top, needed
			h.solveReach(p, &d)
		}
	}
	if groups&FromRail != 0 {
		p.RailCurrent = h.fromRail(&d)
	}
	if groups&Steady != 0 {
		h.solveSteady(p, &d)
		h.solveMeter(p, &d)
	}
	if groups&Filter != 0 {
		h.solveFilter(p, &d)
	}
	if groups&Ripple != 0 {
		h.solveRipple(p, &d)
	}
	if groups&Codes != 0 {
		h.solveCodes(p)
	}
	if groups&Swing != 0 {
		h.solveMotion(p)
	}
}

// solveReach computes whether the needle reaches full scale, cold and warm.
func (h *HandCircuit) solveReach(p *HandPlan, d *Drive) {
	p.TrimmerSetting = p.SeriesNeeded - h.Fixed
	p.FullScaleReached = h.share(d, p.TopVoltage)
	p.Warm = [2]float64{h.warmed(d, h.RoomLow), h.warmed(d, h.RoomHigh)}
}

// fromRail is the mean current, A, that the hand takes from the rail while the code
// sweeps from 0 to the top.
func (h *HandCircuit) fromRail(d *Drive) float64 {
	if h.PinState == Floating {
		return 0
	}
	return d.Pin.Swept(h.Rail, h.Duty(0), h.Duty(h.Top))
}

// solveSteady computes what else follows from the network at steady currents.
func (h *HandCircuit) solveSteady(p *HandPlan, d *Drive) {
	top, through := p.TopVoltage, d.Pin.Before+d.Pin.After
	p.FullScaleVoltage = calc.FullScaleVoltage(h.FullScale, h.Coil)
	p.TrimmerTravel, p.TrimStep = math.NaN(), math.NaN()
	if h.Trimmer > 0 {
		p.TrimmerTravel = p.TrimmerSetting / h.Trimmer
		p.TrimStep = h.Minutes * h.Reach * calc.TrimStep(h.Trimmer, h.TrimmerTurns) / through
	}
	var atZero Drive
	h.drive(0, &atZero)
	p.OverloadTrimmerZero = h.share(&atZero, top)
	_, fullScale := h.Shunted()
	p.CurrentTrimmerZero = p.OverloadTrimmerZero * fullScale
	p.OverloadWorst = h.MostRail / h.LeastChain / h.LeastFullScale
	p.PinPeakCurrent, p.PinMeanCurrent = 0, 0
	if h.PinState != Low && h.PinState != Floating {
		p.PinPeakCurrent = d.Pin.PinPeak(h.Rail)
		p.PinMeanCurrent = top / through
	}
	p.FilterCurrent = math.NaN()
	if h.Capacitor > 0 {
		p.FilterCurrent = p.RailCurrent - h.Rail*(h.Duty(0)+h.Duty(h.Top))/(2*through)
	}
	p.TrimmerShare = d.Setting / through
	p.PinShare = h.Pin / through
	p.CoilShare = h.copperShare(d, through)
	stage, fixed, trimmer := h.Heat(d)
	p.ResistorPower, p.TrimmerPower = max(stage, fixed), trimmer
	p.TemperatureError = h.temperatureError(p.Warm)
	p.FadeError = math.NaN()
	if fade := h.Minutes * h.Reach * (1 - h.Floor/h.Rail); fade > 0 {
		p.FadeError = fade
	}
	moves := h.Minutes * h.Reach
	p.RailError = moves * unlessZero(h.Drift)
	p.PinBend = moves * (h.PinHigh + h.PinLow) * 0 // NaN where they are not known
	p.PinBend += moves * h.PinBend(d).Largest()
}

// solveMeter computes what the meter itself does to its scale.
func (h *HandCircuit) solveMeter(p *HandPlan, d *Drive) {
	whole := h.Minutes / h.Used // of the whole scale
	p.ZeroError = whole * unlessZero(h.ZeroOffset)
	p.StickError = whole * unlessZero(h.Stick)
	p.MountingError = whole * h.Mounting
	p.NeighbourDistance = h.Neighbour
	resistance, fullScale := h.Shunted()
	p.DiodeLeak, p.DiodeBend = math.NaN(), math.NaN()
	if h.Diodes {
		p.DiodeLeak = min(calc.DiodeLeak(p.FullScaleVoltage), calc.DiodeMost(h.Rail, h.Pin+h.Stage+h.Fixed+h.Multiplier, resistance))
		if h.Capacitor > 0 && p.TopVoltage > p.FullScaleVoltage { // pulses stay pulses; and full scale is within reach
			p.DiodeBend = h.Minutes * h.Reach * calc.DiodeBend(fullScale, resistance, p.DiodeSeries(fullScale))
		}
	}
	p.CapacitorLeakError = math.NaN()
	if h.Leaky {
		p.CapacitorLeakError = h.LeakError(d)
	}
	if !math.IsNaN(h.TerminalResistance) {
		p.TerminalResistance, p.TerminalFullScale = h.TerminalResistance, h.TerminalFullScale
		return
	}
	p.TerminalResistance, p.TerminalFullScale = h.Coil+h.Found, h.FullScale
	if h.FoundShunt {
		p.TerminalResistance, p.TerminalFullScale = calc.Parallel(h.Coil, h.Found), h.FullScale*(1+h.Coil/h.Found)
	}
	if math.IsNaN(h.Found) {
		p.TerminalFullScale = h.Found
	}
}

// LeakError is by how much, min at full scale, a hand reads low while its capacitor
// leaks as an electrolytic may. The leak is shared out between what is before its node
// and what is after it: past a stage resistor most of it comes from the pin.
func (h *HandCircuit) LeakError(d *Drive) float64 {
	_, fullScale := h.Shunted()
	return h.Minutes * h.Reach * electrolyticLeak * calc.Across(d.Pin.Before, d.Pin.After) / fullScale
}

// electrolyticLeak is what an electrolytic capacitor may leak at full scale, A: 1 to
// 3 µA, falling with time, and in proportion to the voltage across it. Common practice,
// no source.
const electrolyticLeak = 3e-6

// Heat is the most power, W, that the stage and the fixed resistor turn to heat at any code
// or with the pin stuck high, and what the trimmer's current would on its whole track, NaN
// without one.
func (h *HandCircuit) Heat(d *Drive) (stage, fixed, trimmer float64) {
	chain := d.Pin
	after := h.Rail / (chain.Before + chain.After)
	after *= after // A², as W an Ω
	before := after
	if h.Capacitor > 0 {
		before = chain.MostPowerBefore(h.Rail) / chain.Before
		if !h.AtStage {
			after = before
		}
	}
	return h.Stage * before, h.Fixed * after, unlessZero(h.Trimmer) * after
}

// solveFilter computes the filter by its first order.
func (h *HandCircuit) solveFilter(p *HandPlan, d *Drive) {
	p.PWMFrequency = h.PWM
	p.FilterTimeConstant = calc.TimeConstant(d.Coil)
	p.FilterCorner = calc.Corner(p.FilterTimeConstant)
	p.FilterSettling = calc.FilterSettling(p.FilterTimeConstant, h.Counts)
}

// solveRipple computes what of the pulses is left.
func (h *HandCircuit) solveRipple(p *HandPlan, d *Drive) {
	p.RippleVoltageWorst, p.RippleNeedle, p.RippleCurrent, p.LawRippleError = 0, 0, 0, math.NaN()
	if h.Law.Kind != calc.Linear {
		p.LawRippleError = 0
	}
	if h.Capacitor == 0 {
		p.RippleVoltageWorst = math.NaN()
	}
	if !h.pulses() || d.Share == 0 {
		return
	}
	ripple := h.Ripple(d)
	if !(ripple.Duty > 0 && ripple.Duty < 1) { // nothing changes
		return
	}
	p.RippleVoltageWorst = ripple.Node()
	p.RippleNeedle = ripple.Needle() * h.Minutes * h.Reach
	if h.Law.Kind != calc.Linear {
		p.LawRippleError = h.Minutes * h.Reach * ripple.LawShift(&h.Law)
	}
	switch {
	case d.Inductance > 0:
		p.RippleCurrent = ripple.Coil() / d.FullScale
	case h.Capacitor > 0:
		p.RippleCurrent = p.RippleVoltageWorst / d.Coil.After / d.FullScale
	default:
		p.RippleCurrent = d.Coil.Current(d.Share*h.Rail) / d.FullScale
	}
}

// solveCodes computes what follows from the codes.
func (h *HandCircuit) solveCodes(p *HandPlan) {
	coding := h.Quantisation()
	p.Step = h.Minutes * h.Reach / h.Top
	p.CodeErrorMax, p.CodeErrorRMS = coding.Errors()
	p.CodeErrorMax *= h.Minutes
	p.CodeErrorRMS *= h.Minutes
	p.ZeroLeft = math.NaN()
	if !h.Bridge {
		p.ZeroLeft = h.Minutes * unlessZero(coding.Shown(0))
	}
}

// mostPast is how far past its end a needle may swing at the end of a ramp, as a
// share of the scale.
const mostPast = 0.01

// solveMotion computes how the needle goes from one place to another.
func (h *HandCircuit) solveMotion(p *HandPlan) {
	p.NeedleDamping = h.Movement.Damping
	p.NeedleSettling = h.Movement.Settling(settled)
	p.WrapOvershoot = h.Movement.Overshoot()
	beyond := h.Stop / h.Used // of the dial's share of the scale
	p.WrapSpeed = h.Movement.ImpactSpeed(1, beyond+h.start()/h.Used)
	wake := h.wakes()
	from := wake - h.middle() // from where it rests
	p.WakeOvershoot = max(0, wake+from*p.WrapOvershoot-1)
	p.WakeSpeed = h.Movement.ImpactSpeed(from, 1+beyond-wake)
	p.RampTime, p.RampPerTick = 0, math.NaN()
	if p.WrapOvershoot > mostPast*(1+1e-9) { // the last bit of just that much asks for no ramp
		p.RampTime = h.Movement.ShortestRamp(mostPast)
		p.RampPerTick = h.Top / h.Reach * h.RampTick / p.RampTime
	}
}

// wakes is the share of the scale at which the needle is to stand when the clock
// wakes at five to twelve, five minutes before its time starts anew: of a seconds
// hand five seconds.
func (h *HandCircuit) wakes() float64 {
	if h.Minutes == 1 {
		return 1 - 5.0/60
	}
	return 1 - 5/h.Minutes
}

// Ripple is the hand at half of its counts, where the pulses are at their worst.
func (h *HandCircuit) Ripple(d *Drive) calc.Ripple {
	half := min(h.Top, math.Floor(h.Counts/2))
	return calc.Ripple{
		Rail: d.Share * h.Rail, Duty: h.Duty(half), Period: 1 / h.PWM,
		Chain: d.Coil, Inductance: d.Inductance, FullScale: d.FullScale, Movement: h.Movement,
	}
}

// temperatureError is the larger error at the two ends of the room, in minutes
// at full scale.
func (h *HandCircuit) temperatureError(warm [2]float64) float64 {
	largest := 0.0
	for _, off := range warm {
		if !h.Dial {
			off = h.Law.At(1+off) - 1
		}
		largest = max(largest, math.Abs(off))
	}
	return h.Minutes * h.Reach * largest
}

// copperShare is the share of a chain of so many ohms in which copper counts: by how
// much of its change the coil's current changes.
func (h *HandCircuit) copperShare(d *Drive, through float64) float64 {
	beside := 1 / h.Shunt
	return h.Coil * h.Copper * (1 + d.Rest*beside) / ((1 + h.Coil*beside) * through)
}

// warmed is by what share the needle is driven more in a room of t, °C; what leaks across
// the capacitor or the terminals is left out.
func (h *HandCircuit) warmed(d *Drive, t float64) float64 {
	return calc.Warming{
		Coil: h.Coil, Rest: d.Rest, Pin: h.Pin, Beside: 1 / h.Shunt, Copper: h.Copper,
		ResistorTempco: h.ResistorTempco, PinTempco: h.PinTempco, MovementTempco: h.MoveTempco, TrimmedAt: h.TrimmedAt, RoomT: t,
	}.CurrentError()
}

// PinBend is the pin of the hand as what bends its scale.
func (h *HandCircuit) PinBend(d *Drive) calc.PinBend {
	high, low := h.PinHigh, h.PinLow
	if h.Bridge { // the current comes back through the other pin, which is low
		high, low = high+low, 2*low
	}
	return calc.PinBend{
		High: high, Low: low, Before: d.Pin.Before - h.Pin, After: d.Pin.After,
		Capacitor: h.Capacitor, Top: (h.Top + h.Offset) / h.Counts,
	}
}
