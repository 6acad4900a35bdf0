package side

import (
	"fmt"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/dial"
	"example.com/needlewright/model/quantity"
	"example.com/needlewright/ui/cells"
	"example.com/needlewright/ui/draw"
	"example.com/needlewright/ui/keys"
	"example.com/needlewright/ui/layout"
	"example.com/needlewright/ui/notice"
	"example.com/needlewright/ui/session"
)

// A preview is the needle of the build on its dial, at a time of day that stands still
// or moves.
type preview struct {
	s    *session.Session
	say  *notice.Notice
	keys *keys.Map

	Seconds int // time of day
	pace    pace
	Round   int // of ticks; those of earlier rounds are not heeded
	motion  circuit.Motion
	moving  *model.Build // that motion is of
	Large   bool         // one dial, though there is room for all
}

// A pace is how the time on the dial moves by itself.
type pace uint8

const (
	still     pace = iota // by keys alone
	following             // with the computer's clock
	racing                // a fast day, the needle moving as it would
)

// DaySeconds are the seconds of a day.
const DaySeconds = 24 * 3600

// A TickMsg moves the time; one of an earlier pace is not heeded.
type TickMsg struct {
	Round int
	Now   time.Time
}

// Of a fast day: frames a second, and seconds of the day a frame.
const (
	frames       = 30
	racePerFrame = 61 // not a whole minute, in which a seconds hand would stand still
)

// Follow sets the dial to the computer's clock and keeps it there, or stops.
func (p *preview) Follow() tea.Cmd {
	if p.setPace(following) == still {
		return nil
	}
	round := p.Round
	return func() tea.Msg { return TickMsg{round, time.Now()} }
}

// FastDay lets a day run in 47 s, the needle moving as its period and damping
// make it, or stops it.
func (p *preview) FastDay() tea.Cmd {
	if p.s.Report == nil {
		p.say.Say("There is no needle to move yet: mend what is marked first.")
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
	p.motion.Reset(&p.s.Report.Plan, float64(p.Seconds))
	p.moving = p.s.Report.Build
}

// heed begins the needle's motion anew where the build has changed.
func (p *preview) heed(*model.Document) {
	if p.pace == racing && p.s.Report != nil && p.s.Report.Build != p.moving {
		p.start()
	}
}

// setPace takes a pace up, or stands still where it was that already.
func (p *preview) setPace(to pace) pace {
	if p.pace == to {
		to = still
	}
	p.pace = to
	p.Round++
	return to
}

// nextFrame is the next tick of a fast day.
func (p *preview) nextFrame() tea.Cmd {
	round := p.Round
	return tea.Tick(time.Second/frames, func(now time.Time) tea.Msg { return TickMsg{round, now} })
}

// Tick moves the time and asks for the next tick.
func (p *preview) Tick(msg TickMsg) tea.Cmd {
	if msg.Round != p.Round || p.pace == still {
		return nil
	}
	if p.pace == following {
		p.Seconds = msg.Now.Hour()*3600 + msg.Now.Minute()*60 + msg.Now.Second()
		wait := time.Minute - time.Duration(msg.Now.Second())*time.Second
		if p.showsSeconds() {
			wait = time.Second
		}
		round := p.Round
		return tea.Tick(wait-time.Duration(msg.Now.Nanosecond()), func(now time.Time) tea.Msg { return TickMsg{round, now} })
	}
	p.Seconds = (p.Seconds + racePerFrame) % DaySeconds
	if p.s.Report != nil {
		p.motion.Advance(&p.s.Report.Plan, float64(p.Seconds), 1.0/frames)
	}
	return p.nextFrame()
}

// showsSeconds says whether a hand moves more than once a minute.
func (p *preview) showsSeconds() bool {
	for i := range p.s.Doc.Build.Hands {
		if p.s.Doc.Build.Hands[i].Shows == "60 s" {
			return true
		}
	}
	return false
}

// Place is where on its scale a hand's needle stands at the moment.
func (p *preview) Place(hand int) float64 {
	if p.pace == racing {
		return p.motion.Place(hand)
	}
	return p.s.Report.Plan.Needle(hand, float64(p.Seconds)).Place
}

// MoveTime moves the time of day by hand; it then stands still.
func (p *preview) MoveTime(seconds int) {
	p.setPace(still)
	p.Seconds = (p.Seconds + seconds + DaySeconds) % DaySeconds
}

// ToggleLarge shows one large dial, or all hands side by side in so many columns.
func (p *preview) ToggleLarge(width int) {
	p.Large = !p.Large
	if p.s.Report == nil || len(p.s.Report.Plan.Hands) < 2 || len(p.s.Report.Plan.Hands)*layout.DialColumns > width {
		p.say.Say("There is room for one dial only; " + p.keys.NextHand.Help().Key + " shows the next hand.")
	}
}

// clock is a time of day, in seconds, as people write it.
func clock(seconds int) string { return fmt.Sprintf("%d:%02d", seconds/3600, seconds/60%60) }

// title says the time and what a hand makes of it, the hand's name last.
func (p *preview) title(hand, width int) string {
	switch {
	case hand < 0:
		return clock(p.Seconds)
	case p.pace == racing:
		return clock(p.Seconds) + " in a fast day"
	}
	plan := &p.s.Report.Plan
	n := plan.Needle(hand, float64(p.Seconds))
	shown, off := plan.ShownText(hand, n.Shown), plan.ErrorText(hand, n.Shown-n.Share)
	if width < layout.Narrow {
		return clock(p.Seconds) + " → " + shown + " " + off
	}
	return fmt.Sprintf("%s shows %s (%s) – %s", clock(p.Seconds), shown, off, p.s.Report.Build.Hands[hand].Name)
}

// draw draws the hand in view, or all hands side by side where there is room.
func (p *preview) draw(at cells.Area, hand int) {
	w, _ := at.Size()
	hands := len(p.s.Report.Plan.Hands)
	if hand >= 0 && (hands == 1 || p.Large || hands*layout.DialColumns > w) {
		d := p.dial(hand)
		d.Draw(at)
		return
	}
	if hands*layout.DialColumns > w {
		return
	}
	_, h := at.Size()
	dials, places := make([]draw.Dial, hands), make([]cells.Area, hands)
	for i := range hands {
		column := at.Sub(i*w/hands, 0, w/hands, h)
		dials[i], places[i] = p.dial(i), column.Rows(0, h-1)
		style := draw.Label
		if i == hand {
			style = draw.Title
		}
		name := p.s.Report.Build.Hands[i].Name
		column.Text((w/hands-cells.Width(name))/2, h-1, style, name)
	}
	draw.Dials(dials, places)
}

// drawAlone draws the needle of a hand as large as it goes, and what it reads.
func (p *preview) drawAlone(at cells.Area, hand int) {
	_, h := at.Size()
	d, plan := p.dial(hand), &p.s.Report.Plan
	d.Draw(at.Rows(0, h-2))
	reads := plan.ShownText(hand, plan.Needle(hand, float64(p.Seconds)).Shown)
	at.Wrap(h-1, draw.Value, "At "+clock(p.Seconds)+" it reads "+reads+".")
}

// dial is the dial of a hand.
func (p *preview) dial(hand int) draw.Dial {
	plan, style := &p.s.Report.Plan, draw.Needle
	if p.s.Stale() {
		style = draw.Dim
	}
	return draw.Dial{Sweep: p.s.Report.Build.Hands[hand].Meter.Sweep.Number, Left: plan.Circuit.Hands[hand].Mirrored, Marks: dial.Marks(plan, hand), Place: p.Place(hand), Style: style}
}

// drawReadout gives the electrical side of a needle.
func (p *preview) drawReadout(at cells.Area, hand int) {
	n := p.s.Report.Plan.Needle(hand, float64(p.Seconds))
	style := draw.Value
	if p.s.Stale() {
		style = draw.Dim
	}
	code := fmt.Sprintf("code %.0f/%d", n.Code, p.s.Report.Build.Hands[hand].Drive.Counts)
	show := func(x float64, u quantity.Unit) string { return quantity.Show(x, u, 4) }
	duty, pin, coil := show(n.Duty, quantity.Percent), show(n.Pin, quantity.Volts), show(n.Coil, quantity.Volts)
	current, place := show(n.Current, quantity.Amperes), show(n.Place, quantity.Percent)
	lines := [2]string{
		code + "  duty " + duty + "  pin " + pin,
		"coil " + coil + "  " + current + "  at " + place,
	}
	if w, _ := at.Size(); w+4 < layout.Narrow {
		lines = [2]string{code + "  " + duty, pin + "  " + current}
	}
	for y, s := range lines {
		at.Text(0, y, style, s)
	}
}
