package codes

import (
	"fmt"
	"math"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
)

// A Setting is how a clock with two buttons is set. Common practice, no source.
type Setting struct {
	On, Back string // the buttons
	Missing  int    // buttons that the build does not have yet
	Slow     int    // instants a second while a button is held
	After    int    // s, from which on it goes fast
	Fast     int    // instants a second then
	Round    float64
	Steps    []string
}

// mostRound is how long it may take to set a clock once round its slowest dial, s. Common
// practice, no source.
const mostRound = 20

// settingOf is that of a build: its first button sets on, its second back.
func settingOf(b *model.Build) Setting {
	s := Setting{On: "on", Back: "back", Slow: 4, After: 3, Fast: 60}
	s.Missing = max(0, 2-len(b.Buttons))
	if len(b.Buttons) >= 2 {
		s.On, s.Back = b.Buttons[0].Name, b.Buttons[1].Name
	}
	instants := 0
	for i := range b.Hands {
		_, n := circuit.Dial(b.Hands[i].Shows)
		instants = max(instants, n)
	}
	for s.Round = s.round(instants); s.Round > mostRound; s.Round = s.round(instants) {
		s.Fast *= 2
	}
	s.Steps = []string{
		"Minutes: press '" + s.On + "' for one instant of the slowest hand on, '" + s.Back + "' for one back. Held, it goes on by itself, " +
			fmt.Sprintf("%d a second, after %d s fast: once round in less than %d s.", s.Slow, s.After, mostRound),
		"To the second: some seconds before a full minute of a time signal set the minute that is to come, then hold both buttons: the seconds stand at 0. Let go at the signal.",
		"Summer time begins: hold '" + s.Back + "' and press '" + s.On + "': one hour on. It ends: hold '" + s.On + "' and press '" + s.Back + "': one hour back. Minutes and seconds go on undisturbed.",
		"Bring-up: hold both while the power comes on.",
	}
	return s
}

// round is how long it takes to set so many instants, s.
func (s *Setting) round(instants int) float64 {
	return float64(s.After) + max(0, float64(instants-s.Slow*s.After)/float64(s.Fast))
}

// A Move is where a needle is led from and to, and how long that takes it: 0 where it may jump.
type Move struct {
	Event    string // "wrap", "wake", "hour on", "hour back", "seconds to 0"
	From, To int    // codes
	Seconds  float64
	Words    string
}

// moves enters those of the hand.
func (h *Hand) moves() {
	last := h.Codes[h.Instants-1]
	if h.AtTop {
		last = h.Codes[0]
	}
	next := h.Codes[h.first()%h.Instants]
	h.move("wrap", last, next, "once round the dial, back to its zero end")
	h.move("wake", h.Park.Zero, h.Codes[h.Instants-beforeWrap], "from its rest, shortly before the wrap: the farthest that is likely")
	if hour := h.hour(); hour > 0 {
		h.move("hour on", h.Codes[2*hour], h.Codes[3*hour], "summer time begins, here from 2:00")
		h.move("hour back", h.Codes[3*hour], h.Codes[2*hour], "summer time ends, here from 3:00")
		h.move("hour on", h.Codes[h.Instants-hour/2], h.Codes[hour/2], "summer time, across the wrap: the whole way back")
	}
	if h.Shows == "60 s" {
		h.move("seconds to 0", h.Codes[30], h.Codes[0], "set to the second, here from 30 s")
	}
}

func (h *Hand) move(event string, from, to int, words string) {
	seconds := 0.0
	if !h.Ramp.Jumps {
		seconds = math.Abs(float64(to-from)) / h.Ramp.PerTick * h.Ramp.Tick
	}
	h.Moves = append(h.Moves, Move{event, from, to, seconds, words})
}

// hour is how many instants an hour moves the hand by, 0 where it moves by whole turns.
func (h *Hand) hour() int {
	if h.Instants == 60 {
		return 0
	}
	return 60
}

// beforeWrap is how many instants before the wrap the clock may wake: catalogue.md, wake_overshoot.
const beforeWrap = 5
