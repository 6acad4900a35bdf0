package model

import (
	"math"

	"example.com/needlewright/calc"
)

// A Plan is every result of a build as a number, in the units of the results
// table. NaN is a result that does not exist for this build.
type Plan struct {
	Hands   []HandPlan
	Crystal CrystalPlan
	Lamps   []LampPlan
	Battery BatteryPlan

	circuit Circuit // what it was solved from
}

// A HandPlan is the results of one hand.
type HandPlan struct {
	FullScaleVoltage, TopVoltage                                   float64 // V
	SeriesNeeded, TrimmerSetting, TrimmerTravel                    float64 // Ω, Ω, share
	CurrentTrimmerZero, OverloadTrimmerZero, OverloadWorst         float64 // A, times full scale
	PinPeakCurrent, FullScaleReached, RailCurrent                  float64 // A, share, A
	PWMFrequency, FilterTimeConstant, FilterCorner, FilterSettling float64 // Hz, s, Hz, s
	RippleVoltageWorst, RippleNeedle                               float64 // V, min
	Step, CodeErrorMax, CodeErrorRMS                               float64 // min
	NeedleDamping, NeedleSettling                                  float64 // ratio, s
	TemperatureError, FadeError                                    float64 // min
}

// A CrystalPlan is the results of the crystal and its counter.
type CrystalPlan struct {
	LoadActual, LoadOffset, Sensitivity, CapacitorEach float64 // F, ppm, ppm/pF, F
	TickPeriod, Rate, RateLow, RateHigh                float64 // s, s/day
	TransconductanceCritical, GainMargin               float64 // S, ratio
}

// A LampPlan is the result of one kind of lamp.
type LampPlan struct{ Current float64 } // A, of one

// A BatteryPlan is the results of the battery.
type BatteryPlan struct {
	RailCurrentOn, RailCurrentOff float64 // A
	CurrentOn, CurrentOff         float64 // A, from the fresh pack

	LifeOn, LifeStandby, LifeMixed float64 // h
}

// Evaluate computes every result of a build without problems into a plan,
// whose memory it reuses.
func Evaluate(b *Build, p *Plan) {
	wire(b, &p.circuit)
	solve(&p.circuit, p)
}

// solve computes a plan from a circuit.
func solve(c *Circuit, p *Plan) {
	p.Hands = p.Hands[:0]
	for i := range c.Hands {
		p.Hands = append(p.Hands, solveHand(&c.Hands[i]))
	}
	p.Lamps = p.Lamps[:0]
	for _, l := range c.Lamps {
		p.Lamps = append(p.Lamps, LampPlan{Current: max(0, (c.Rail-l.Forward)/l.Resistance)})
	}
	p.Crystal = solveCrystal(&c.Crystal)
	p.Battery = p.solveBattery(c)
}

// settled is how near its end, as a share of the step, a needle counts as
// settled.
const settled = 0.015

func solveHand(h *HandCircuit) HandPlan {
	chain, coding := h.chain(), h.coding()
	top, duty := h.topVoltage(), h.Top/h.Counts
	p := HandPlan{
		FullScaleVoltage: calc.FullScaleVoltage(h.FullScale, h.Coil),
		TopVoltage:       top,
		SeriesNeeded:     h.seriesNeeded(),
		PinPeakCurrent:   chain.PinPeak(h.Rail),
		FullScaleReached: chain.Current(top) / h.FullScale,
		RailCurrent:      chain.RailCurrent(h.Rail, duty),
		PWMFrequency:     h.PWM,
		Step:             h.Minutes / h.Top,
		NeedleDamping:    h.Movement.Damping,
		NeedleSettling:   h.Movement.Settling(settled),
		TemperatureError: h.temperatureError(chain),
		TrimmerTravel:    math.NaN(),
		FadeError:        math.NaN(),

		CurrentTrimmerZero: top / (h.Coil + h.Pin + h.Stage + h.Fixed),
		OverloadWorst:      h.MostRail / h.LeastChain / h.LeastFullScale,
	}
	p.TrimmerSetting = p.SeriesNeeded - h.Fixed
	if h.Trimmer > 0 {
		p.TrimmerTravel = p.TrimmerSetting / h.Trimmer
	}
	p.OverloadTrimmerZero = p.CurrentTrimmerZero / h.FullScale
	if fade := h.Minutes * (1 - h.Floor/h.Rail); fade > 0 {
		p.FadeError = fade
	}
	p.CodeErrorMax, p.CodeErrorRMS = coding.Errors()
	p.CodeErrorMax *= h.Minutes
	p.CodeErrorRMS *= h.Minutes
	p.FilterTimeConstant = calc.TimeConstant(chain)
	p.FilterCorner = calc.Corner(p.FilterTimeConstant)
	p.FilterSettling = calc.FilterSettling(p.FilterTimeConstant, h.Counts)
	ripple := h.ripple(chain)
	p.RippleVoltageWorst = ripple.Node()
	p.RippleNeedle = ripple.Needle() * h.Minutes
	return p
}

// ripple is the hand at half of its counts, where the pulses are at their worst.
func (h *HandCircuit) ripple(chain calc.Chain) calc.Ripple {
	half := min(h.Top, math.Floor(h.Counts/2))
	return calc.Ripple{
		Rail: h.Rail, Duty: half / h.Counts, Period: 1 / h.PWM,
		Chain: chain, Inductance: h.Inductance, FullScale: h.FullScale, Movement: h.Movement,
	}
}

// temperatureError is the larger error at the two ends of the room, in minutes
// at full scale.
func (h *HandCircuit) temperatureError(chain calc.Chain) float64 {
	w := calc.Warming{
		Coil: h.Coil, Rest: chain.Before + chain.After - h.Coil, Copper: h.Copper,
		ResistorTempco: h.ResistorTempco, MovementTempco: h.MoveTempco, TrimmedAt: h.TrimmedAt,
	}
	largest := 0.0
	for _, t := range [2]float64{h.RoomLow, h.RoomHigh} {
		w.RoomT = t
		off := w.CurrentError()
		if !h.Dial {
			off = h.Law.At(1+off) - 1
		}
		largest = max(largest, math.Abs(off))
	}
	return h.Minutes * largest
}

const ppm = 1e6 // parts per million in one

func solveCrystal(c *CrystalCircuit) CrystalPlan {
	p := CrystalPlan{
		LoadActual:    calc.LoadActual(c.In, c.Out, c.Stray),
		CapacitorEach: calc.CapacitorEach(c.Load, c.Stray),
		TickPeriod:    c.Counter.TickPeriod(c.Frequency),
	}
	p.LoadOffset = c.Pulling.Offset(p.LoadActual, c.Load)
	p.Sensitivity = c.Pulling.Sensitivity(p.LoadActual)
	p.TransconductanceCritical = calc.Oscillation{
		Frequency: c.Frequency, ESR: c.ESR, Shunt: c.Pulling.Shunt, Load: p.LoadActual,
	}.TransconductanceCritical()
	p.GainMargin = c.Transconductance / p.TransconductanceCritical

	base, unknown := p.LoadOffset, c.Tolerance+c.Ageing
	if !math.IsNaN(c.Measured) {
		base = (c.Measured/c.Frequency-1)*ppm + calc.Falling(c.Curvature, c.MeasuredAt, c.Turnover)
		unknown = c.Ageing
	}
	counted := base + ppm*(c.TickCounted/p.TickPeriod-1)
	least, greatest := calc.FallingRange(c.Curvature, c.Turnover, c.RoomLow, c.RoomHigh)
	p.Rate = calc.SecondsADay * counted
	p.RateLow = calc.SecondsADay * (counted - greatest - unknown)
	p.RateHigh = calc.SecondsADay * (counted - least + unknown)
	return p
}

// solveBattery needs the hands and lamps solved.
func (p *Plan) solveBattery(c *Circuit) BatteryPlan {
	battery := &c.Battery
	if !battery.Present {
		none := math.NaN()
		return BatteryPlan{none, none, none, none, none, none, none}
	}
	load := battery.ControllerOn
	for i := range p.Lamps {
		load += c.Lamps[i].Share * p.Lamps[i].Current
	}
	for i := range p.Hands {
		load += p.Hands[i].RailCurrent
	}
	pack := &battery.Pack
	pack.On = load
	return BatteryPlan{
		RailCurrentOn: load, RailCurrentOff: pack.Off,
		CurrentOn: drawn(pack, load), CurrentOff: drawn(pack, pack.Off),
		LifeOn: pack.Life(24), LifeStandby: pack.Life(0), LifeMixed: pack.Life(battery.HoursOn),
	}
}

// drawn is the current from the fresh pack, NaN where it cannot carry the load.
func drawn(pack *calc.Pack, load float64) float64 {
	d, ok := pack.Supply.Draw(pack.Fresh(), load)
	if !ok {
		return math.NaN()
	}
	return d.Current
}
