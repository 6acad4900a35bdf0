package scale

import (
	"fmt"

	"example.com/needlewright/calc"
	"example.com/needlewright/model/quantity"
)

// Straightened are the largest errors over the dial that coding leaves, shares of its
// time, by what is done about the scale.
type Straightened struct{ None, Codes, Dial float64 }

// Straightened returns what the law does to a hand that is coded so; the law and the way
// of straightening that c has do not matter.
func (f *Fitted) Straightened(c calc.Quantisation) Straightened {
	c.Law = &f.Law
	off := func(codes, dial bool) float64 {
		c.Codes, c.Dial = codes, dial
		largest, _ := c.Errors()
		return largest
	}
	return Straightened{None: off(false, false), Codes: off(true, false), Dial: off(false, true)}
}

// A Steep is where one code moves the needle furthest.
type Steep struct {
	Step, At float64 // shares of the dial's time
	TooSteep bool    // for codes to straighten
}

// tooSteep is how many times the even step is too much for codes. Common practice, no
// source.
const tooSteep = 4

// Steepest returns where one code moves the needle of a hand that is coded so furthest, on
// an evenly divided dial.
func (f *Fitted) Steepest(c calc.Quantisation) Steep {
	c.Law, c.Dial = &f.Law, false
	step, at := c.CoarsestStep()
	return Steep{Step: step, At: at, TooSteep: step*c.Top > tooSteep}
}

// Text says what that means on a dial of so many minutes, and what would cure it; ""
// where codes do.
func (s Steep) Text(shows string, minutes float64) string {
	if !s.TooSteep {
		return ""
	}
	return fmt.Sprintf("Near %s one code moves the needle by %s: the scale is too steep there for codes to straighten it. A dial drawn to the needle would read right.",
		quantity.FormatDial(s.At, shows), quantity.DialTimeIn(minutes*s.Step, 3))
}

// Meant returns the time of the dial, a share of it, for which a hand that is coded so sends
// a share of full-scale current.
func Meant(current float64, c calc.Quantisation) float64 {
	if c.Codes {
		current = c.Law.At(current)
	}
	if c.Bridge {
		return (1 + current) / 2
	}
	return current
}

// Off returns by how much a hand that is coded so shows too much there, a share of its dial's
// time.
func (s Seen) Off(c calc.Quantisation) float64 {
	right := s.Current
	if c.Codes || c.Dial {
		right = c.Law.At(right)
	}
	if c.Bridge { // its current goes either way from the middle of the dial
		return (s.Scale - right) / 2
	}
	return s.Scale - right
}
