package ui

import (
	"time"

	tea "github.com/charmbracelet/bubbletea"
)

// A pace is how the time on the dial moves by itself.
type pace uint8

const (
	still     pace = iota // by keys alone
	following             // with the computer's clock
	racing                // a fast day, the needle moving as it would
)

const daySeconds = 24 * 3600

// A tickMsg moves the time; one of an earlier pace is not heeded.
type tickMsg struct {
	round int
	now   time.Time
}

// Of a fast day: frames a second, and seconds of the day a frame.
const (
	frames       = 30
	racePerFrame = 61 // not a whole minute, in which a seconds hand would stand still
)

// follow sets the dial to the computer's clock and keeps it there, or stops.
func (a *App) follow() tea.Cmd {
	if a.setPace(following) == still {
		return nil
	}
	round := a.round
	return func() tea.Msg { return tickMsg{round, time.Now()} }
}

// fastDay lets a day run in 47 s, the needle moving as its period and damping
// make it, or stops it.
func (a *App) fastDay() tea.Cmd {
	if a.report == nil {
		a.notice = notice{said, "There is no needle to move yet: mend what is marked first."}
		return nil
	}
	if a.setPace(racing) == still {
		return nil
	}
	a.motion.Reset(&a.report.Plan, float64(a.seconds))
	return a.nextFrame()
}

// setPace takes a pace up, or stands still where it was that already.
func (a *App) setPace(p pace) pace {
	if a.pace == p {
		p = still
	}
	a.pace = p
	a.round++
	return p
}

// nextFrame is the next tick of a fast day.
func (a *App) nextFrame() tea.Cmd {
	round := a.round
	return tea.Tick(time.Second/frames, func(now time.Time) tea.Msg { return tickMsg{round, now} })
}

// tick moves the time and asks for the next tick.
func (a *App) tick(msg tickMsg) tea.Cmd {
	if msg.round != a.round || a.pace == still {
		return nil
	}
	if a.pace == following {
		a.seconds = msg.now.Hour()*3600 + msg.now.Minute()*60 + msg.now.Second()
		wait := time.Minute - time.Duration(msg.now.Second())*time.Second
		if a.showsSeconds() {
			wait = time.Second
		}
		round := a.round
		return tea.Tick(wait-time.Duration(msg.now.Nanosecond()), func(now time.Time) tea.Msg { return tickMsg{round, now} })
	}
	a.seconds = (a.seconds + racePerFrame) % daySeconds
	if a.report != nil {
		a.motion.Advance(&a.report.Plan, float64(a.seconds), 1.0/frames)
	}
	return a.nextFrame()
}

// showsSeconds says whether a hand moves more than once a minute.
func (a *App) showsSeconds() bool {
	for i := range a.doc.Build.Hands {
		if a.doc.Build.Hands[i].Shows == "60 s" {
			return true
		}
	}
	return false
}

// place is where on its scale a hand's needle stands at the moment.
func (a *App) place(hand int) float64 {
	if a.pace == racing {
		return a.motion.Place(hand)
	}
	return a.report.Plan.Needle(hand, float64(a.seconds)).Place
}

// moveTime moves the time of day by hand; it then stands still.
func (a *App) moveTime(seconds int) {
	a.setPace(still)
	a.seconds = (a.seconds + seconds + daySeconds) % daySeconds
}

// toggleLarge shows one large dial, or all hands side by side.
func (a *App) toggleLarge() tea.Cmd {
	a.large = !a.large
	if a.report == nil || len(a.report.Plan.Hands) < 2 || len(a.report.Plan.Hands)*dialColumns > a.layout().dial.Dx() {
		a.notice = notice{said, "There is room for one dial only; " + a.keys.NextHand.Help().Key + " shows the next hand."}
	}
	return nil
}
