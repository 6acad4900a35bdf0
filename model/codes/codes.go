// Package codes is what the firmware of a build is given, as data and as text: the code at
// every instant of each dial, a recipe that computes it where there is one, how the needle is
// led elsewhere, the codes at which it is parked, and the timer with its trim.
package codes

import (
	"math"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/quantity"
)

// Codes are those of a build.
type Codes struct {
	Title   string
	Hands   []Hand
	Timer   Timer
	Setting Setting
	Lamps   []string // names

	rail string
}

// A Hand is the codes of one.
type Hand struct {
	Name     string
	Shows    string
	Instants int // n, evenly over its dial
	Counts   int // of a PWM period
	Top      int // T
	Bits     int // that hold T
	Codes    []int
	Recipe   *Recipe // nil: there is none
	Ramp     Ramp
	Park     Park
	Marks    []Mark
	Moves    []Move

	AtTop  bool // at instant 0 the needle stands at the top
	Bridge bool // codes below 0 are pulses of the other pin
	Turned bool // two transistors turn the pin round: low gives the meter its current

	meter, drive string // what it is for, in words
}

// A Ramp is how the firmware leads the needle elsewhere without a swing: at each tick by so
// many codes at most.
type Ramp struct {
	PerTick float64 // codes; the whole scale where the needle may jump
	Tick    float64 // s
	Jumps   bool    // no ramp is needed
}

// A Park is the codes at which the bring-up mode holds the needle. Zero is where it rests.
type Park struct {
	Zero, Half, ThreeQuarter, Top int
	Low                           int // of a bridge, the other end; else 0
}

// A Mark is an instant at which the dial has an hour's mark, or a fifth minute's or second's.
type Mark struct {
	Time    string // of the dial: "3:00"
	Instant int
	Code    int
	Place   float64 // share of the whole scale at which the needle stands then
}

// Of returns the codes of a build and its plan.
func Of(b *model.Build, p *circuit.Plan) *Codes {
	c := &Codes{Title: b.Title, Timer: timerOf(b, p), Setting: settingOf(b), rail: model.PlainText(b.Rail.Voltage.Number, quantity.Volts)}
	for i := range b.Hands {
		c.Hands = append(c.Hands, handOf(b, p, i))
	}
	for i := range b.Lamps {
		c.Lamps = append(c.Lamps, b.Lamps[i].Name)
	}
	return c
}

// Only returns the codes with one hand alone; false where there is none of this name.
func (c *Codes) Only(name string) (*Codes, bool) {
	for i := range c.Hands {
		if c.Hands[i].Name == name {
			one := *c
			one.Hands = c.Hands[i : i+1]
			return &one, true
		}
	}
	return nil, false
}

func handOf(b *model.Build, p *circuit.Plan, i int) Hand {
	of, wired, solved := &b.Hands[i], &p.Circuit.Hands[i], &p.Hands[i]
	h := Hand{
		Name: of.Name, Shows: of.Shows, Instants: wired.Steps, Counts: of.Drive.Counts, Top: of.Drive.Top, Bits: bitsFor(of.Drive.Top),
		AtTop: wired.AtTop, Bridge: wired.Bridge, Turned: b.Hands[i].Drive.By == "switch",
		Park: Park{0, of.Drive.Top / 2, 3 * of.Drive.Top / 4, of.Drive.Top, 0},
		Ramp: Ramp{PerTick: solved.RampPerTick, Tick: wired.RampTick},
	}
	if h.Bridge {
		h.Park.Low = -h.Top
	}
	coding := wired.Quantisation()
	h.Codes = make([]int, h.Instants)
	for s := range h.Codes {
		h.Codes[s] = int(coding.Code(h.share(s)))
	}
	if !h.Bridge {
		h.Recipe = recipeFor(h.Codes, h.first())
	}
	if math.IsNaN(h.Ramp.PerTick) {
		h.Ramp.PerTick, h.Ramp.Jumps = float64(h.scale()), true
	}
	h.marks(p, i)
	h.moves()
	h.describe(of, solved)
	return h
}

// bitsFor is how many bits of 8, 16 and 32 hold a code. Only a pin that is always high at
// 65 536 counts needs the last.
func bitsFor(top int) int {
	for _, bits := range [2]int{8, 16} {
		if top < 1<<bits {
			return bits
		}
	}
	return 32
}

// share is the share of the dial's time at an instant.
func (h *Hand) share(instant int) float64 {
	if instant == 0 && h.AtTop {
		return 1
	}
	return float64(instant) / float64(h.Instants)
}

// first is the first instant that a recipe computes: at the wrap the needle of noon = top
// stands at the other end than a recipe would have it.
func (h *Hand) first() int {
	if h.AtTop {
		return 1
	}
	return 0
}

// scale is how many codes there are between the ends of the dial.
func (h *Hand) scale() int {
	if h.Bridge {
		return 2 * h.Top
	}
	return h.Top
}

// seconds is how long an instant lasts.
func (h *Hand) seconds() int {
	if h.Shows == "60 s" {
		return 1
	}
	return 60
}

// marks enters the marks of the hand: every hour, of minutes and seconds every fifth.
func (h *Hand) marks(p *circuit.Plan, i int) {
	every := 60
	if h.Instants == 60 {
		every = 5
	}
	for s := h.first() * every; s < h.Instants+h.first(); s += every {
		instant := s % h.Instants
		h.Marks = append(h.Marks, Mark{
			Time: quantity.FormatDial(h.share(instant), h.Shows), Instant: instant, Code: h.Codes[instant],
			Place: p.Needle(i, float64(instant*h.seconds())).Place,
		})
	}
}
