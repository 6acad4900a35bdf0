// Package circuit is the electrical and mechanical truth of a build: wired into a
// Circuit of plain numbers, solved into a Plan of results. No text is made here but
// of a single result.
package circuit

import (
	"slices"

	"example.com/needlewright/calc"
)

// A Circuit is the electrical and mechanical truth of a build, as numbers ready
// for the formulas, in SI units but for those package calc names. A number that
// is not known is NaN, and so becomes every result that needs it.
type Circuit struct {
	Rail    float64 // V
	Asleep  float64 // V of the rail while the clock sleeps, where a fault makes that another; 0: the same
	Hands   []HandCircuit
	Crystal CrystalCircuit
	Lamps   []LampCircuit
	Buttons []ButtonCircuit
	Battery BatteryCircuit
	Supply  SupplyCircuit
}

// A HandCircuit is one meter on its pin.
type HandCircuit struct {
	Minutes float64 // S, the whole time of the dial
	Steps   int     // n, instants at which the hand is judged
	AtTop   bool    // the needle stands at the top, not at zero, at the wrap instant
	Codes   bool    // the firmware's table straightens the law
	Dial    bool    // the dial is drawn to the law
	Down    bool    // codes are rounded down

	Rail, PWM   float64 // V, Hz
	Counts, Top float64
	Offset      float64 // counts for which the pin is high beyond the code

	Pin, Stage, Fixed, Trimmer float64 // Ω, of the trimmer the whole
	Setting                    float64 // Ω, NaN: to be trimmed for full scale; see Trim
	Capacitor                  float64 // F
	AtStage                    bool    // its node is behind the stage resistor, not at the coil

	Drop     float64 // V that its switch loses of the rail; Rail is what is left
	Bridge   bool    // it is driven both ways between two pins
	Switched bool    // its current comes through transistors that the pin switches
	Mirrored bool    // the needle rests at the right end: places count from there
	Rest     float64 // share of the whole scale at which the needle rests
	Used     float64 // share of the whole scale that the dial's time takes
	Reach    float64 // share of the dial's time that full-scale current moves the needle by

	Coil, FullScale, Inductance float64 // Ω, A, H
	Law                         calc.Law
	Movement                    calc.Movement
	Copper                      float64 // share of the coil
	ResistorTempco, MoveTempco  float64 // 1/K
	PinTempco                   float64 // 1/K
	TrimmedAt                   float64 // °C
	RoomLow, RoomHigh           float64 // °C

	// With the pin stuck high, the trimmer at zero, each part at its worst end.
	MostRail, LeastChain, LeastFullScale float64

	Floor float64 // V at which bare cells end, NaN where a converter holds the rail

	// Small effects; what is not known of them, or not there, is NaN.
	PinHigh, PinLow, TrimmerTurns float64 // Ω, Ω
	Drift                         float64 // of the rail, a share
	Leaky                         bool    // the capacitor is an electrolytic
	Diodes                        bool    // across the coil
	Found                         float64 // Ω of what was found inside the case
	TerminalResistance            float64 // Ω of the closed case as it was measured, which is what counts; NaN: that follows
	TerminalFullScale             float64 // A, likewise
	FoundShunt                    bool    // it is a shunt, not a multiplier
	ZeroOffset, Stick, Stop       float64 // shares of the scale
	Mounting                      float64 // share of the scale that its mounting may cost
	Neighbour                     float64 // diameters to the next magnet
	RampTick                      float64 // s

	// What may be wrong, or is left inside; neutral in a sound hand.
	PinState      PinState
	Multiplier    float64 // Ω inside the case, in series with the coil; 0: none
	Shunt         float64 // Ω inside the case, across the coil; +Inf: none
	CoilLeak      float64 // Ω across the meter's terminals, +Inf: none
	CapacitorLeak float64 // Ω across the capacitor, +Inf: none
	Reversed      bool    // the meter's terminals are the wrong way round
	HighAsleep    bool    // the pin is high while the clock sleeps
	Lent          float64 // share of the time for which a pin that is Lent is high
	ByItsEnds     bool    // the trimmer is wired by its ends: turning it does nothing
}

// A CrystalCircuit is the crystal, its load and its counter.
type CrystalCircuit struct {
	In, Out, Stray, Load float64 // F
	Pulling              calc.Pulling
	Frequency, ESR       float64 // Hz, Ω
	Transconductance     float64 // S
	Tolerance, Ageing    float64 // ppm
	Curvature, Turnover  float64 // ppm/K², °C
	RoomLow, RoomHigh    float64 // °C
	Measured, MeasuredAt float64 // Hz, NaN: not measured; °C
	Counter              calc.Counter
	TickCounted          float64 // s
	Off                  float64 // ppm, of this one crystal
	Stopped              bool    // it does not swing
	Fast                 float64 // share by which what is counted in its place runs fast
}

// A LampCircuit is a kind of lamp.
type LampCircuit struct {
	Forward, Resistance float64 // V, Ω
	Resistor            float64 // Ω, without the pin
	Count               float64 // lamps
	Share               float64 // lamps lit on average
	ShareAsleep         float64 // lamps lit while the clock sleeps; none in a sound one
}

// A ButtonCircuit is a button, pressed.
type ButtonCircuit struct {
	Pull  float64 // Ω
	Wakes bool    // held down it keeps the clock awake
	Held  bool    // its pin is joined to the other side all the time
}

// A SupplyCircuit is what is asked of the rail and the controller.
type SupplyCircuit struct {
	Capacitor, Minimum          float64 // F on the rail, V below which the controller stops
	RailDrainOn, RailDrainOff   float64 // A
	ControllerOn, ControllerOff float64 // A
	Drains                      bool    // there are any
	NeverSleeps                 bool    // asleep the controller takes what it does awake
}

// A BatteryCircuit is the pack and what it feeds. What the pack is asked for, its On and
// Off, is worked out by Solve.
type BatteryCircuit struct {
	Present bool
	Pack    calc.Pack
	HoursOn float64
}

// Current is what one of the lamps takes from a rail, A.
func (l *LampCircuit) Current(rail float64) float64 {
	return max(0, (rail-l.Forward)/l.Resistance)
}

// Quantisation returns how the hand's time becomes codes, and codes a time shown.
func (h *HandCircuit) Quantisation() calc.Quantisation {
	return calc.Quantisation{Law: &h.Law, Top: h.Top, Steps: h.Steps, Down: h.Down, Codes: h.Codes, Dial: h.Dial, Offset: h.Offset, Bridge: h.Bridge}
}

// Trim freezes each trimmer where its builder leaves it: where it stands, or set for full
// scale as far as it reaches. What goes wrong later finds it there.
func (c *Circuit) Trim() {
	for i := range c.Hands {
		c.Hands[i].Setting = c.Hands[i].InForce()
	}
}

// Clone returns a circuit of its own, to be changed.
func (c *Circuit) Clone() *Circuit {
	other := *c
	other.Hands, other.Lamps, other.Buttons = slices.Clone(c.Hands), slices.Clone(c.Lamps), slices.Clone(c.Buttons)
	other.Battery.Pack.Curve = slices.Clone(c.Battery.Pack.Curve)
	return &other
}
