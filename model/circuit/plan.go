package circuit

import "example.com/needlewright/calc"

// A Plan is every result of a build as a number, in the units of the results
// table. NaN is a result that does not exist for this build.
type Plan struct {
	Hands   []HandPlan
	Crystal CrystalPlan
	Lamps   []LampPlan
	Buttons []ButtonPlan
	Battery BatteryPlan
	Supply  SupplyPlan
	Pack    calc.Pack // with what the clock asks of it

	Circuit Circuit // what it was solved from
}

// A HandPlan is the results of one hand.
type HandPlan struct {
	FullScaleVoltage, TopVoltage                                   float64    // V
	SeriesNeeded, TrimmerSetting, TrimmerTravel                    float64    // Ω, Ω, share
	CurrentTrimmerZero, OverloadTrimmerZero, OverloadWorst         float64    // A, times full scale
	PinPeakCurrent, FullScaleReached, RailCurrent                  float64    // A, share, A
	PWMFrequency, FilterTimeConstant, FilterCorner, FilterSettling float64    // Hz, s, Hz, s
	RippleVoltageWorst, RippleNeedle                               float64    // V, min
	Step, CodeErrorMax, CodeErrorRMS, ZeroLeft                     float64    // min
	NeedleDamping, NeedleSettling                                  float64    // ratio, s
	TemperatureError, FadeError                                    float64    // min
	Warm                                                           [2]float64 // shares by which the needle is driven more at the two ends of the room

	TrimmerShare, PinShare, CoilShare     float64 // of the chain
	TrimStep                              float64 // min
	PinMeanCurrent, FilterCurrent         float64 // A
	RippleCurrent                         float64 // of full scale
	ResistorPower, TrimmerPower           float64 // W
	RailError, FreshError, LampNod        float64 // min
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
	YearError, StrayImplied                            float64 // s, F
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
	HoldUp       float64 // s, asleep
	HoldUpAwake  float64 // s
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
