package circuit

import (
	"math"

	"example.com/needlewright/calc"
)

// settled is how near its end, as a share of the step, a needle counts as
// settled.
const settled = 0.015

// solveHand computes a hand but for what the cells do to it.
func solveHand(h *HandCircuit) HandPlan {
	var p HandPlan
	chain := h.Chain()
	h.SolveSeries(&p, chain)
	h.SolveFilter(&p, chain)
	h.SolveRipple(&p, chain)
	h.solveCodes(&p)
	h.SolveMotion(&p)
	p.FreshError = math.NaN()
	return p
}

// SolveSeries computes what follows from the chain at steady currents.
func (h *HandCircuit) SolveSeries(p *HandPlan, chain calc.Chain) {
	top, duty, through := h.TopVoltage(), h.Top/h.Counts, chain.Before+chain.After
	p.FullScaleVoltage = calc.FullScaleVoltage(h.FullScale, h.Coil)
	p.TopVoltage = top
	p.SeriesNeeded = h.SeriesNeeded()
	p.TrimmerSetting = p.SeriesNeeded - h.Fixed
	p.TrimmerTravel, p.TrimStep = math.NaN(), math.NaN()
	if h.Trimmer > 0 {
		p.TrimmerTravel = p.TrimmerSetting / h.Trimmer
		p.TrimStep = h.Minutes * calc.TrimStep(h.Trimmer, h.TrimmerTurns) / through
	}
	p.CurrentTrimmerZero = top / (h.Coil + h.Pin + h.Stage + h.Fixed)
	p.OverloadTrimmerZero = p.CurrentTrimmerZero / h.FullScale
	p.OverloadWorst = h.MostRail / h.LeastChain / h.LeastFullScale
	p.PinPeakCurrent = chain.PinPeak(h.Rail)
	p.FullScaleReached = chain.Current(top) / h.FullScale
	p.PinMeanCurrent = p.FullScaleReached * h.FullScale
	p.RailCurrent = chain.RailCurrent(h.Rail, duty)
	p.FilterCurrent = math.NaN()
	if h.Capacitor > 0 {
		p.FilterCurrent = p.RailCurrent - top/(2*through)
	}
	p.TrimmerShare = h.inForce() / through
	p.PinShare = h.Pin / through
	p.CoilShare = h.Coil * h.Copper / through
	p.ResistorPower, p.TrimmerPower = h.heat(chain)
	p.TemperatureError = h.temperatureError(chain)
	p.FadeError = math.NaN()
	if fade := h.Minutes * (1 - h.Floor/h.Rail); fade > 0 {
		p.FadeError = fade
	}
	p.RailError = h.Minutes * unlessZero(h.Drift)
	p.PinBend = h.Minutes * (h.PinHigh + h.PinLow) * 0 // NaN where they are not known
	p.PinBend += h.Minutes * h.PinBend(chain).Largest()
	h.solveMeter(p)
}

// solveMeter computes what the meter itself does to its scale.
func (h *HandCircuit) solveMeter(p *HandPlan) {
	p.ZeroError = h.Minutes * unlessZero(h.ZeroOffset)
	p.StickError = h.Minutes * unlessZero(h.Stick)
	p.MountingError = h.Minutes * h.Mounting
	p.NeighbourDistance = h.Neighbour
	p.DiodeLeak, p.DiodeBend = math.NaN(), math.NaN()
	if h.Diodes {
		p.DiodeLeak = min(calc.DiodeLeak(p.FullScaleVoltage), calc.DiodeMost(h.Rail, h.Pin+h.Stage+h.Fixed, h.Coil))
		if h.Capacitor > 0 && p.TopVoltage > p.FullScaleVoltage { // pulses stay pulses; and full scale is within reach
			p.DiodeBend = h.Minutes * calc.DiodeBend(h.FullScale, h.Coil, p.DiodeSeries(h.FullScale))
		}
	}
	p.CapacitorLeakError = math.NaN()
	if h.Leaky {
		p.CapacitorLeakError = h.Minutes * ElectrolyticLeak / h.FullScale
	}
	p.TerminalResistance, p.TerminalFullScale = h.Coil+h.Inside, h.FullScale
	if h.Shunt {
		p.TerminalResistance, p.TerminalFullScale = calc.Parallel(h.Coil, h.Inside), h.FullScale*(1+h.Coil/h.Inside)
	}
	if math.IsNaN(h.Inside) {
		p.TerminalFullScale = h.Inside
	}
}

// ElectrolyticLeak is what an electrolytic capacitor may leak, A: 1 to 3 µA,
// falling with time. Common practice, no source.
const ElectrolyticLeak = 3e-6

// heat is the most power, W, that the fixed or the stage resistor turns to heat,
// and what the trimmer's current would on its whole track, NaN without one.
func (h *HandCircuit) heat(chain calc.Chain) (resistor, trimmer float64) {
	after := h.Rail / (chain.Before + chain.After)
	after *= after // A², as W an Ω
	before := after
	if h.Capacitor > 0 {
		before = chain.MostPowerBefore(h.Rail) / chain.Before
		if !h.AtStage {
			after = before
		}
	}
	return max(h.Stage*before, h.Fixed*after), unlessZero(h.Trimmer) * after
}

// SolveFilter computes the filter by its first order.
func (h *HandCircuit) SolveFilter(p *HandPlan, chain calc.Chain) {
	p.PWMFrequency = h.PWM
	p.FilterTimeConstant = calc.TimeConstant(chain)
	p.FilterCorner = calc.Corner(p.FilterTimeConstant)
	p.FilterSettling = calc.FilterSettling(p.FilterTimeConstant, h.Counts)
}

// SolveRipple computes what of the pulses is left.
func (h *HandCircuit) SolveRipple(p *HandPlan, chain calc.Chain) {
	ripple := h.Ripple(chain)
	p.RippleVoltageWorst = ripple.Node()
	p.RippleNeedle = ripple.Needle() * h.Minutes
	p.LawRippleError = math.NaN()
	if h.Law.Kind != calc.Linear {
		p.LawRippleError = h.Minutes * ripple.LawShift(&h.Law)
	}
	switch {
	case h.Inductance > 0:
		p.RippleCurrent = ripple.Coil() / h.FullScale
	case h.Capacitor > 0:
		p.RippleCurrent = p.RippleVoltageWorst / chain.After / h.FullScale
	default:
		p.RippleCurrent = chain.Current(h.Rail) / h.FullScale
	}
}

// solveCodes computes what follows from the codes.
func (h *HandCircuit) solveCodes(p *HandPlan) {
	coding := h.Coding()
	p.Step = h.Minutes / h.Top
	p.CodeErrorMax, p.CodeErrorRMS = coding.Errors()
	p.CodeErrorMax *= h.Minutes
	p.CodeErrorRMS *= h.Minutes
}

// mostPast is how far past its end a needle may swing at the end of a ramp, as a
// share of the scale.
const mostPast = 0.01

// SolveMotion computes how the needle goes from one place to another.
func (h *HandCircuit) SolveMotion(p *HandPlan) {
	p.NeedleDamping = h.Movement.Damping
	p.NeedleSettling = h.Movement.Settling(settled)
	p.WrapOvershoot = h.Movement.Overshoot()
	p.WrapSpeed = h.Movement.Strike(1, h.Stop)
	wake := h.wakes()
	p.WakeOvershoot = max(0, wake*(1+p.WrapOvershoot)-1)
	p.WakeSpeed = h.Movement.Strike(wake, 1+h.Stop-wake)
	p.RampTime, p.RampPerTick = 0, math.NaN()
	if p.WrapOvershoot > mostPast*(1+1e-9) { // the last bit of just that much asks for no ramp
		p.RampTime = h.Movement.ShortestRamp(mostPast)
		p.RampPerTick = h.Top * h.RampTick / p.RampTime
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
func (h *HandCircuit) Ripple(chain calc.Chain) calc.Ripple {
	half := min(h.Top, math.Floor(h.Counts/2))
	return calc.Ripple{
		Rail: h.Rail, Duty: half / h.Counts, Period: 1 / h.PWM,
		Chain: chain, Inductance: h.Inductance, FullScale: h.FullScale, Movement: h.Movement,
	}
}

// temperatureError is the larger error at the two ends of the room, in minutes
// at full scale.
func (h *HandCircuit) temperatureError(chain calc.Chain) float64 {
	largest := 0.0
	for _, off := range h.Warmings(chain) {
		if !h.Dial {
			off = h.Law.At(1+off) - 1
		}
		largest = max(largest, math.Abs(off))
	}
	return h.Minutes * largest
}

// Warmings are those shares at the two ends of the room.
func (h *HandCircuit) Warmings(chain calc.Chain) [2]float64 {
	return [2]float64{h.Warmed(chain, h.RoomLow), h.Warmed(chain, h.RoomHigh)}
}

// Warmed is by what share the needle is driven more in a room of t, °C.
func (h *HandCircuit) Warmed(chain calc.Chain, t float64) float64 {
	return calc.Warming{
		Coil: h.Coil, Rest: chain.Before + chain.After - h.Coil, Copper: h.Copper,
		ResistorTempco: h.ResistorTempco, MovementTempco: h.MoveTempco, TrimmedAt: h.TrimmedAt, RoomT: t,
	}.CurrentError()
}

// PinBend is the pin of the hand as what bends its scale.
func (h *HandCircuit) PinBend(chain calc.Chain) calc.PinBend {
	return calc.PinBend{
		High: h.PinHigh, Low: h.PinLow, Before: chain.Before - h.Pin, After: chain.After,
		Capacitor: h.Capacitor, Top: h.Top / h.Counts,
	}
}
