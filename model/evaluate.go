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
	Buttons []ButtonPlan
	Battery BatteryPlan
	Supply  SupplyPlan

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

	TrimmerShare, PinShare, CoilShare     float64 // of the chain
	TrimStep                              float64 // min
	PinMeanCurrent, FilterCurrent         float64 // A
	RippleCurrent                         float64 // of full scale
	ResistorPower, TrimmerPower           float64 // W
	RailError, FreshError                 float64 // min
	ZeroError, StickError, MountingError  float64 // min
	PinBend, DiodeBend, LawRippleError    float64 // min
	CapacitorLeakError                    float64 // min
	DiodeLeak                             float64 // A
	TerminalResistance, TerminalFullScale float64 // Ω, A
	NeighbourDistance                     float64 // diameters
	WrapOvershoot, WrapSpeed              float64 // of the scale, scales a second
	WakeOvershoot, WakeSpeed              float64 // the same
	RampTime, RampPerTick                 float64 // s, codes
}

// A CrystalPlan is the results of the crystal and its counter.
type CrystalPlan struct {
	LoadActual, LoadOffset, Sensitivity, CapacitorEach float64 // F, ppm, ppm/pF, F
	TickPeriod, Rate, RateLow, RateHigh                float64 // s, s/day
	TransconductanceCritical, GainMargin               float64 // S, ratio
	CapacitorRatio, MonthDrift                         float64 // ratio, s
}

// A LampPlan is the result of one kind of lamp.
type LampPlan struct{ Current, Power float64 } // A of one, W of its resistor

// A ButtonPlan is the results of a button.
type ButtonPlan struct {
	Current    float64 // A while it is pressed
	WedgedLife float64 // h the cells last while it stays pressed
}

// A SupplyPlan is what the whole clock asks of the controller and its rail.
type SupplyPlan struct {
	PinsTogether float64 // A
	HoldUp       float64 // s
}

// A BatteryPlan is the results of the battery.
type BatteryPlan struct {
	RailCurrentOn, RailCurrentOff float64 // A
	CurrentOn, CurrentOff         float64 // A, from the fresh pack

	LifeOn, LifeStandby, LifeMixed float64 // h

	CurrentPeak float64 // A, from the fresh pack
	Stranded    float64 // share of the charge left at the end
	Awake       Shares  // of what the pack gives
	Asleep      Shares
}

// Shares are the consumers' shares of what the fresh pack gives.
type Shares struct{ Controller, Lamps, Hands, Drains, Converter float64 }

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
	p.solveLamps(c)
	p.Crystal = solveCrystal(&c.Crystal)
	p.solveSupply(c)
}

func (p *Plan) solveLamps(c *Circuit) {
	p.Lamps = p.Lamps[:0]
	for i := range c.Lamps {
		l := &c.Lamps[i]
		current := l.current(c.Rail)
		p.Lamps = append(p.Lamps, LampPlan{Current: current, Power: current * current * l.Resistor})
	}
}

// solveSupply computes what all together ask of rail and cells; it needs the
// hands and lamps solved.
func (p *Plan) solveSupply(c *Circuit) {
	p.Battery = p.solveBattery(c)
	p.solveButtons(c)
	s := &c.Supply
	p.Supply = SupplyPlan{HoldUp: math.NaN()}
	if s.Capacitor > 0 {
		p.Supply.HoldUp = calc.HoldUp(s.Capacitor, c.Rail, s.Minimum, s.ControllerOff+s.RailDrainOff)
	}
	for i := range p.Hands {
		p.Supply.PinsTogether += p.Hands[i].PinMeanCurrent
	}
	for i := range p.Lamps {
		p.Supply.PinsTogether += c.Lamps[i].Count * p.Lamps[i].Current
	}
}

// settled is how near its end, as a share of the step, a needle counts as
// settled.
const settled = 0.015

// solveHand computes a hand but for what the cells do to it.
func solveHand(h *HandCircuit) HandPlan {
	var p HandPlan
	chain := h.chain()
	h.solveSeries(&p, chain)
	h.solveFilter(&p, chain)
	h.solveRipple(&p, chain)
	h.solveCodes(&p)
	h.solveMotion(&p)
	p.FreshError = math.NaN()
	return p
}

// solveSeries computes what follows from the chain at steady currents.
func (h *HandCircuit) solveSeries(p *HandPlan, chain calc.Chain) {
	top, duty, through := h.topVoltage(), h.Top/h.Counts, chain.Before+chain.After
	p.FullScaleVoltage = calc.FullScaleVoltage(h.FullScale, h.Coil)
	p.TopVoltage = top
	p.SeriesNeeded = h.seriesNeeded()
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
	p.PinBend += h.Minutes * h.pinBend(chain).Largest()
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
			p.DiodeBend = h.Minutes * calc.DiodeBend(h.FullScale, h.Coil, p.diodeSeries(h.FullScale))
		}
	}
	p.CapacitorLeakError = math.NaN()
	if h.Leaky {
		p.CapacitorLeakError = h.Minutes * electrolyticLeak / h.FullScale
	}
	p.TerminalResistance, p.TerminalFullScale = h.Coil+h.Inside, h.FullScale
	if h.Shunt {
		p.TerminalResistance, p.TerminalFullScale = calc.Parallel(h.Coil, h.Inside), h.FullScale*(1+h.Coil/h.Inside)
	}
	if math.IsNaN(h.Inside) {
		p.TerminalFullScale = h.Inside
	}
}

// diodeSeries is all that is in series with the coil and its diodes, Ω, trimmed with
// them.
func (p *HandPlan) diodeSeries(fullScale float64) float64 {
	return (p.TopVoltage - p.FullScaleVoltage) / (fullScale + calc.DiodeLeak(p.FullScaleVoltage))
}

// electrolyticLeak is what an electrolytic capacitor may leak, A: 1 to 3 µA,
// falling with time. Common practice, no source.
const electrolyticLeak = 3e-6

// finite is NaN for what no circuit gives.
func finite(x float64) float64 {
	if math.IsInf(x, 0) {
		return math.NaN()
	}
	return x
}

// unlessZero is NaN for what is not there.
func unlessZero(x float64) float64 {
	if x == 0 {
		return math.NaN()
	}
	return x
}

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

// solveFilter computes the filter by its first order.
func (h *HandCircuit) solveFilter(p *HandPlan, chain calc.Chain) {
	p.PWMFrequency = h.PWM
	p.FilterTimeConstant = calc.TimeConstant(chain)
	p.FilterCorner = calc.Corner(p.FilterTimeConstant)
	p.FilterSettling = calc.FilterSettling(p.FilterTimeConstant, h.Counts)
}

// solveRipple computes what of the pulses is left.
func (h *HandCircuit) solveRipple(p *HandPlan, chain calc.Chain) {
	ripple := h.ripple(chain)
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
	coding := h.coding()
	p.Step = h.Minutes / h.Top
	p.CodeErrorMax, p.CodeErrorRMS = coding.Errors()
	p.CodeErrorMax *= h.Minutes
	p.CodeErrorRMS *= h.Minutes
}

// mostPast is how far past its end a needle may swing at the end of a ramp, as a
// share of the scale.
const mostPast = 0.01

// solveMotion computes how the needle goes from one place to another.
func (h *HandCircuit) solveMotion(p *HandPlan) {
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
	largest := 0.0
	for _, off := range h.warmings(chain) {
		if !h.Dial {
			off = h.Law.At(1+off) - 1
		}
		largest = max(largest, math.Abs(off))
	}
	return h.Minutes * largest
}

// warmings are those shares at the two ends of the room.
func (h *HandCircuit) warmings(chain calc.Chain) [2]float64 {
	return [2]float64{h.warmed(chain, h.RoomLow), h.warmed(chain, h.RoomHigh)}
}

// warmed is by what share the needle is driven more in a room of t, °C.
func (h *HandCircuit) warmed(chain calc.Chain, t float64) float64 {
	return calc.Warming{
		Coil: h.Coil, Rest: chain.Before + chain.After - h.Coil, Copper: h.Copper,
		ResistorTempco: h.ResistorTempco, MovementTempco: h.MoveTempco, TrimmedAt: h.TrimmedAt, RoomT: t,
	}.CurrentError()
}

// pinBend is the pin of the hand as what bends its scale.
func (h *HandCircuit) pinBend(chain calc.Chain) calc.PinBend {
	return calc.PinBend{
		High: h.PinHigh, Low: h.PinLow, Before: chain.Before - h.Pin, After: chain.After,
		Capacitor: h.Capacitor, Top: h.Top / h.Counts,
	}
}

const ppm = 1e6 // parts per million in one

const daysAMonth = calc.HoursAYear / 24.0 / 12

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
	p.CapacitorRatio = math.NaN()
	if least := min(c.In, c.Out); least > 0 {
		p.CapacitorRatio = max(c.In, c.Out) / least
	}

	base, unknown := p.LoadOffset, c.Tolerance+c.Ageing
	if !math.IsNaN(c.Measured) {
		base = (c.Measured/c.Frequency-1)*ppm + calc.Falling(c.Curvature, c.MeasuredAt, c.Turnover)
		unknown = c.Ageing
	}
	counted := base + ppm*(c.TickCounted/p.TickPeriod-1)
	least, greatest := calc.FallingRange(c.Curvature, c.Turnover, c.RoomLow, c.RoomHigh)
	p.Rate = calc.SecondsADay * (counted + c.Off)
	p.MonthDrift = p.Rate * daysAMonth
	p.RateLow = calc.SecondsADay * (counted - greatest - unknown)
	p.RateHigh = calc.SecondsADay * (counted - least + unknown)
	return p
}

// solveBattery needs the hands and lamps solved.
func (p *Plan) solveBattery(c *Circuit) BatteryPlan {
	battery := &c.Battery
	if !battery.Present {
		return noBattery
	}
	lamps, lampsAll, hands, handsMost := 0.0, 0.0, 0.0, 0.0
	for i := range p.Lamps {
		lamps += c.Lamps[i].Share * p.Lamps[i].Current
		lampsAll += c.Lamps[i].Count * p.Lamps[i].Current
	}
	for i := range p.Hands {
		hands += p.Hands[i].RailCurrent
		handsMost += c.Hands[i].mostFromRail()
	}
	pack, s := &battery.Pack, &c.Supply
	rest := s.ControllerOn + s.RailDrainOn
	pack.On, pack.Off = rest+lampsAll+handsMost, s.ControllerOff+s.RailDrainOff
	b := BatteryPlan{CurrentPeak: drawn(pack, true)}
	pack.On = s.ControllerOn + lamps + hands + s.RailDrainOn
	b.RailCurrentOn, b.RailCurrentOff = pack.On, pack.Off
	b.CurrentOn, b.CurrentOff = drawn(pack, true), drawn(pack, false)
	b.LifeOn, b.LifeStandby, b.LifeMixed = pack.Life(24), pack.Life(0), pack.Life(battery.HoursOn)
	b.Stranded = pack.Stranded(24)
	b.Awake = shares(pack, b.CurrentOn, pack.On, pack.DirectOn, Shares{s.ControllerOn, lamps, hands, s.RailDrainOn, 0})
	if len(c.Lamps) == 0 {
		b.Awake.Lamps = math.NaN()
	}
	b.Asleep = shares(pack, b.CurrentOff, pack.Off, pack.DirectOff, Shares{s.ControllerOff, 0, 0, s.RailDrainOff, 0})
	if !s.Drains {
		b.Awake.Drains, b.Asleep.Drains = math.NaN(), math.NaN()
	}
	p.solveFresh(c)
	return b
}

// noBattery is the plan of an external supply.
var noBattery = nothing()

func nothing() BatteryPlan {
	n := math.NaN()
	none := Shares{n, n, n, n, n}
	return BatteryPlan{n, n, n, n, n, n, n, n, n, none, none}
}

// drawn is the current from the fresh pack, NaN where it cannot carry the load.
func drawn(pack *calc.Pack, awake bool) float64 {
	d, ok := pack.DrawFresh(awake)
	if !ok {
		return math.NaN()
	}
	return d.Current
}

// shares are the parts that consumers have in the current from the fresh pack,
// given their currents on the rail and what is taken from the pack directly. What
// the conversion costs is theirs; the converter's own is its quiescent current.
func shares(pack *calc.Pack, current, rail, direct float64, on Shares) Shares {
	own := pack.Supply.Quiescent
	if pack.Supply.Kind == calc.NoConverter {
		own = 0
	}
	if !(current > 0) { // NaN neither
		return noBattery.Awake
	}
	each := 0.0
	if rail > 0 {
		each = (current - direct - own) / rail / current
	}
	return Shares{on.Controller * each, on.Lamps * each, on.Hands * each, on.Drains*each + direct/current, own / current}
}

// mostFromRail is the largest mean current, A, that a hand takes from the rail at
// any of its codes: at one of the two beside the duty that takes most.
func (h *HandCircuit) mostFromRail() float64 {
	chain := h.chain()
	if h.Capacitor == 0 {
		return chain.FromRail(h.Rail, h.Top/h.Counts)
	}
	code := min(h.Top, math.Floor(h.Counts/(2*chain.After)*(chain.Before+chain.After)))
	return max(chain.FromRail(h.Rail, code/h.Counts), chain.FromRail(h.Rail, min(h.Top, code+1)/h.Counts))
}

// solveFresh computes by how much the needles read high while the fresh pack
// stands above the rail that nothing holds down.
func (p *Plan) solveFresh(c *Circuit) {
	pack := &c.Battery.Pack
	d, ok := pack.DrawFresh(true)
	if !ok || pack.Supply.Kind == calc.LinearRegulator {
		return
	}
	over := (d.Voltage-pack.Supply.Drop)/c.Rail - 1
	for i := range p.Hands {
		if over > 0 {
			p.Hands[i].FreshError = c.Hands[i].Minutes * over
		}
	}
}

// solveButtons computes what a button costs that stays pressed.
func (p *Plan) solveButtons(c *Circuit) {
	p.Buttons = p.Buttons[:0]
	for _, button := range c.Buttons {
		plan := ButtonPlan{Current: c.Rail / button.Pull, WedgedLife: math.NaN()}
		if c.Battery.Present {
			pack, hoursOn := c.Battery.Pack, 0.0
			if button.Wakes {
				hoursOn = 24
			}
			pack.On, pack.Off = pack.On+plan.Current, pack.Off+plan.Current
			plan.WedgedLife = pack.Life(hoursOn)
		}
		p.Buttons = append(p.Buttons, plan)
	}
}
