package faulty

import "math"

// A Fault is one thing that is wrong with a clock.
type Fault struct {
	ID    string
	About string // a hand's, lamp's or button's name, two of swapped pins: "hours + seconds"; "" of the clock

	Amount float64 // in SI units, a factor or a share, by its ID; 0: none, or to be drawn
	Factor float64 // of magnet_near and spring_weak, which have two amounts: the other; 0: to be drawn
	Place  int     // where there are several, from 1; 0: to be drawn

	TrimmedWithIt bool // the trimmer was set with the fault there, as far as it goes
}

// A Bench is what a build's file says beside the clock: the multimeter, and how the
// clock is read.
type Bench struct {
	Multimeter Multimeter
	Used       float64            // share of the charge taken, NaN: anything from 0 to 30 %
	ToGround   map[string]bool    // buttons whose pull resistor goes to ground
	Dummy      map[string]float64 // Ω, by hand; absent: the E24 value next to the coil
}

// A Multimeter is its limits of error, as shares of a reading, and what it adds to a
// circuit, Ω.
type Multimeter struct {
	Volts, Ohms, Amps, Hertz float64
	Digits                   float64
	Input                    float64
	Microamps, Milliamps     float64
}

// UsualBench returns what holds where a file says nothing: an inexpensive multimeter
// of 4 000 counts. Source: the contract.
func UsualBench() Bench {
	return Bench{
		Multimeter: Multimeter{Volts: 0.008, Ohms: 0.01, Amps: 0.015, Hertz: 0.001, Digits: 3, Input: 10e6, Microamps: 100, Milliamps: 5},
		Used:       math.NaN(),
	}
}
