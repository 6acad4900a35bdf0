package ui

import (
	"fmt"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/dial"
	"example.com/needlewright/model/quantity"
	"example.com/needlewright/ui/cells"
)

// A preview is the needle of the build on its dial, at a time of day that stands still
// or moves.
type preview struct {
	s    *session
	say  *notice
	keys *keyMap

	seconds int // time of day
	pace    pace
	round   int // of ticks; those of earlier rounds are not heeded
	motion  circuit.Motion
	moving  *model.Build // that motion is of
	large   bool         // one dial, though there is room for all
}

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
func (p *preview) follow() tea.Cmd {
	if p.setPace(following) == still {
		return nil
	}
	round := p.round
	return func() tea.Msg { return tickMsg{round, time.Now()} }
}

// fastDay lets a day run in 47 s, the needle moving as its period and damping
// make it, or stops it.
func (p *preview) fastDay() tea.Cmd {
	if p.s.report == nil {
		p.say.say("There is no needle to move yet: mend what is marked first.")
		return nil
	}
	if p.setPace(racing) == still {
		return nil
	}
	p.start()
	return p.nextFrame()
}

// start lets the needle begin where it stands at the moment.
func (p *preview) start() {
	p.motion.Reset(&p.s.report.Plan, float64(p.seconds))
	p.moving = p.s.report.Build
}

// heed begins the needle's motion anew where the build has changed.
func (p *preview) heed() {
	if p.pace == racing && p.s.report != nil && p.s.report.Build != p.moving {
		p.start()
	}
}

// setPace takes a pace up, or stands still where it was that already.
func (p *preview) setPace(to pace) pace {
	if p.pace == to {
		to = still
	}
	p.pace = to
	p.round++
	return to
}

// nextFrame is the next tick of a fast day.
func (p *preview) nextFrame() tea.Cmd {
	round := p.round
	return tea.Tick(time.Second/frames, func(now time.Time) tea.Msg { return tickMsg{round, now} })
}

// tick moves the time and asks for the next tick.
func (p *preview) tick(msg tickMsg) tea.Cmd {
	if msg.round != p.round || p.pace == still {
		return nil
	}
	if p.pace == following {
		p.seconds = msg.now.Hour()*3600 + msg.now.Minute()*60 + msg.now.Second()
		wait := time.Minute - time.Duration(msg.now.Second())*time.Second
		if p.showsSeconds() {
			wait = time.Second
		}
		round := p.round
		return tea.Tick(wait-time.Duration(msg.now.Nanosecond()), func(now time.Time) tea.Msg { return tickMsg{round, now} })
	}
	p.seconds = (p.seconds + racePerFrame) % daySeconds
	if p.s.report != nil {
		p.motion.Advance(&p.s.report.Plan, float64(p.seconds), 1.0/frames)
	}
	return p.nextFrame()
}

// showsSeconds says whether a hand moves more than once a minute.
func (p *preview) showsSeconds() bool {
	for i := range p.s.doc.Build.Hands {
		if p.s.doc.Build.Hands[i].Shows == "60 s" {
			return true
		}
	}
	return false
}

// place is where on its scale a hand's needle stands at the moment.
func (p *preview) place(hand int) float64 {
	if p.pace == racing {
		return p.motion.Place(hand)
	}
	return p.s.report.Plan.Needle(hand, float64(p.seconds)).Place
}

// moveTime moves the time of day by hand; it then stands still.
func (p *preview) moveTime(seconds int) {
	p.setPace(still)
	p.seconds = (p.seconds + seconds + daySeconds) % daySeconds
}

// toggleLarge shows one large dial, or all hands side by side in so many columns.
func (p *preview) toggleLarge(width int) {
	p.large = !p.large
	if p.s.report == nil || len(p.s.report.Plan.Hands) < 2 || len(p.s.report.Plan.Hands)*dialColumns > width {
		p.say.say("There is room for one dial only; " + p.keys.NextHand.Help().Key + " shows the next hand.")
	}
}

// clock is a time of day, in seconds, as people write it.
func clock(seconds int) string { return fmt.Sprintf("%d:%02d", seconds/3600, seconds/60%60) }

// title says the time and what a hand makes of it, the hand's name last.
func (p *preview) title(hand, width int) string {
	switch {
	case hand < 0:
		return clock(p.seconds)
	case p.pace == racing:
		return clock(p.seconds) + " in a fast day"
	}
	plan := &p.s.report.Plan
	n := plan.Needle(hand, float64(p.seconds))
	shown, off := plan.ShownText(hand, n.Shown), plan.ErrorText(hand, n.Shown-n.Share)
	if width < narrow {
		return clock(p.seconds) + " → " + shown + " " + off
	}
	return fmt.Sprintf("%s shows %s (%s) – %s", clock(p.seconds), shown, off, p.s.report.Build.Hands[hand].Name)
}

// draw draws the hand in view, or all hands side by side where there is room.
func (p *preview) draw(at cells.Area, hand int) {
	w, _ := at.Size()
	hands := len(p.s.report.Plan.Hands)
	if hand >= 0 && (hands == 1 || p.large || hands*dialColumns > w) {
		p.drawDial(at, hand)
		return
	}
	if hands*dialColumns > w {
		return
	}
	_, h := at.Size()
	for i := range hands {
		column := at.Sub(i*w/hands, 0, w/hands, h)
		p.drawDial(column.Rows(0, h-1), i)
		style := label
		if i == hand {
			style = title
		}
		name := p.s.report.Build.Hands[i].Name
		column.Text((w/hands-cells.Width(name))/2, h-1, style, name)
	}
}

// drawDial draws the dial of a hand.
func (p *preview) drawDial(at cells.Area, hand int) {
	plan, style := &p.s.report.Plan, needle
	if p.s.stale() {
		style = dim
	}
	d := dialPicture{p.s.report.Build.Hands[hand].Meter.Sweep.Number, dial.Marks(plan, hand), p.place(hand), style}
	d.draw(at)
}

// drawReadout gives the electrical side of a needle.
func (p *preview) drawReadout(at cells.Area, hand int) {
	n := p.s.report.Plan.Needle(hand, float64(p.seconds))
	style := value
	if p.s.stale() {
		style = dim
	}
	code := fmt.Sprintf("code %.0f/%d", n.Code, p.s.report.Build.Hands[hand].Drive.Counts)
	show := func(x float64, u quantity.Unit) string { return quantity.Show(x, u, 4) }
	duty, pin, coil := show(n.Duty, quantity.Percent), show(n.Pin, quantity.Volts), show(n.Coil, quantity.Volts)
	current, place := show(n.Current, quantity.Amperes), show(n.Place, quantity.Percent)
	lines := [2]string{
		code + "  duty " + duty + "  pin " + pin,
		"coil " + coil + "  " + current + "  at " + place,
	}
	if w, _ := at.Size(); w+4 < narrow {
		lines = [2]string{code + "  " + duty, pin + "  " + current}
	}
	for y, s := range lines {
		at.Text(0, y, style, s)
	}
}
