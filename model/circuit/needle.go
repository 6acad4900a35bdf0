package circuit

import (
	"fmt"
	"math"
)

// A Needle is a hand at one instant: what the firmware sends, and what a person
// sees.
type Needle struct {
	Share   float64 // the true share of the dial's time
	Code    float64 // of a bridge below zero in the first half of the dial
	Duty    float64 // Code over the counts
	Pin     float64 // V, mean
	Coil    float64 // V, mean
	Current float64 // A, mean
	Place   float64 // share of the whole scale at which the needle stands
	Shown   float64 // share of the dial's time that this means on its dial
}

// Needle returns the i-th hand of a solved plan at a time of day, in seconds
// from midnight.
func (p *Plan) Needle(i int, seconds float64) Needle {
	h := &p.Circuit.Hands[i]
	whole := h.Minutes * 60
	share := math.Mod(seconds, whole) / whole
	if share == 0 && h.AtTop {
		share = 1
	}
	return p.NeedleAt(i, share)
}

// NeedleAt returns the i-th hand of a solved plan where it is to show a share of its dial's
// time: 0 at the zero end, 1 at the top.
func (p *Plan) NeedleAt(i int, share float64) Needle {
	h := &p.Circuit.Hands[i]
	coding := h.Quantisation()
	n := Needle{Share: share, Code: coding.Code(share)}
	n.Duty = h.Duty(n.Code)
	n.Pin = h.Rail * n.Duty
	d := h.Drive()
	current := h.share(&d, n.Pin)
	n.Current = current * h.FullScale
	n.Coil = h.Voltages(n.Pin)[AtCoil]
	if n.Code < 0 { // of a bridge: the other pin is high
		n.Duty = h.Duty(-n.Code)
		n.Pin = -h.Rail * n.Duty
		current = -h.share(&d, -n.Pin)
		n.Current, n.Coil = current*h.FullScale, -h.Voltages(-n.Pin)[AtCoil]
	}
	n.Place = h.place(current)
	n.Shown = (n.Place - h.start()) / h.Used
	if h.Dial {
		n.Shown = h.middle() + h.Reach*current
	}
	return n
}

// Minutes returns the whole time of the i-th hand's dial, in minutes.
func (p *Plan) Minutes(i int) float64 { return p.Circuit.Hands[i].Minutes }

// Mark returns where on the whole scale the mark of a share of the dial's time
// belongs: at the share itself, or where the needle will stand for it on a dial
// that is drawn to the needle.
func (p *Plan) Mark(i int, share float64) float64 {
	return p.Circuit.Hands[i].Mark(share)
}

// ShownText returns a share of the i-th hand's dial as the time it stands for:
// "2:24", "25.0 min" or "30.0 s".
func (p *Plan) ShownText(i int, share float64) string {
	switch m := p.Minutes(i); m {
	case 1:
		return fmt.Sprintf("%.1f s", share*60)
	case 60:
		return fmt.Sprintf("%.1f min", share*60)
	default:
		minutes := int(math.Round(share * m))
		return fmt.Sprintf("%d:%02d", minutes/60, minutes%60)
	}
}

// ErrorText returns an error of the i-th hand, a share of its dial's time, in
// minutes, or seconds where the hand shows them: "+1.0 min".
func (p *Plan) ErrorText(i int, share float64) string {
	amount, unit := share*p.Minutes(i), "min"
	if p.Minutes(i) == 1 {
		amount, unit = amount*60, "s"
	}
	if math.Abs(amount) < 0.05 {
		return "0.0 " + unit // no sign on nothing
	}
	return fmt.Sprintf("%+.1f %s", amount, unit)
}
