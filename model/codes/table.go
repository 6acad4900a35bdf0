package codes

import (
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"strconv"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/quantity"
)

// WriteCSV writes a row an instant: the hand, the instant, its time on the dial, the code.
func (c *Codes) WriteCSV(w io.Writer) error {
	table := [][]string{{"hand", "instant", "time", "code"}}
	for i := range c.Hands {
		h := &c.Hands[i]
		for s, code := range h.Codes {
			table = append(table, []string{h.Name, strconv.Itoa(s), quantity.FormatDial(h.share(s), h.Shows), strconv.Itoa(code)})
		}
	}
	return csv.NewWriter(w).WriteAll(table)
}

// Summary is what the hand is in a line.
func (h *Hand) Summary() string {
	return fmt.Sprintf("%s, %d instants, codes %d to %d of %d", h.Shows, h.Instants, h.least(), h.Top, h.Counts)
}

// least is the least code.
func (h *Hand) least() int { return h.Top - h.scale() }

// Lines are what there is to say of the hand's codes, a paragraph each.
func (h *Hand) Lines() []string {
	var lines []string
	switch r := h.Recipe; {
	case r != nil && h.AtTop:
		lines = append(lines, fmt.Sprintf("Recipe: code = %s for instants 1 to %d, in %d bits; at instant 0 it is %d.", r, h.Instants-1, r.Bits, h.Top))
	case r != nil:
		lines = append(lines, fmt.Sprintf("Recipe: code = %s for every instant, in %d bits.", r, r.Bits))
	default:
		lines = append(lines, fmt.Sprintf("No recipe gives every code: a table of %d codes of %d bits.", h.Instants, h.Bits))
	}
	if h.Bridge {
		lines = append(lines, "Below 0 the other pin has the pulses; the needle rests at 0, in the middle.")
	}
	lines = append(lines, h.rampText(), h.parkText())
	for _, m := range h.Moves {
		text := fmt.Sprintf("%s: %d to %d", capital(m.Event), m.From, m.To)
		if m.Seconds > 0 {
			text += " in " + quantity.Show(m.Seconds, quantity.Seconds, 3)
		}
		lines = append(lines, text+", "+m.Words+".")
	}
	return lines
}

func (h *Hand) rampText() string {
	if h.Ramp.Jumps {
		return "Ramp: none needed, the needle may jump."
	}
	return fmt.Sprintf("Ramp: at most %s codes a tick of %s; slower is well.", quantity.Show(h.Ramp.PerTick, quantity.Times, 3), quantity.Show(h.Ramp.Tick, quantity.Seconds, 3))
}

func (h *Hand) parkText() string {
	p := h.Park
	text := fmt.Sprintf("Parks: zero %d, half %d, three quarters %d, top %d", p.Zero, p.Half, p.ThreeQuarter, p.Top)
	if h.Bridge {
		text += fmt.Sprintf(", the other end %d", p.Low)
	}
	return text + "."
}

// Lines are what there is to say of the timer.
func (t *Timer) Lines() []string {
	if math.IsNaN(t.Tick) {
		return []string{"Its crystal's frequency is not given."}
	}
	lines := []string{fmt.Sprintf("%s over %d, %d bits, from %d: a tick of %s, counted as %s.", quantity.Show(t.Clock, quantity.Hertz, 5), t.Prescale, t.Bits, t.Reload,
		model.PlainText(t.Tick, quantity.Seconds), model.PlainText(t.TickCounted, quantity.Seconds))}
	lines = append(lines, t.trimText())
	if t.Lost > 0 {
		lines = append(lines, fmt.Sprintf("At each load %s lost. To lose none, one of these:", wasLost(t.Lost)))
		for _, l := range t.Loads {
			lines = append(lines, "- "+l.How)
		}
	}
	return lines
}

func wasLost(n int) string {
	if n == 1 {
		return "1 count is"
	}
	return strconv.Itoa(n) + " counts are"
}

func (t *Timer) trimText() string {
	rate := func(r float64) string { return quantity.Show(r, quantity.SecondsPerDay, 3) }
	switch {
	case math.IsNaN(t.Rate):
		return "Its rate is not known: nothing is trimmed."
	case t.Trim.Add == 0 && math.Abs(t.Rate) > closeEnough:
		return "Rate " + rate(t.Rate) + ": no trim mends that; see what the firmware counts at each tick."
	case t.Trim.Add == 0:
		return "Rate " + rate(t.Rate) + ": nothing to trim."
	}
	text := fmt.Sprintf("Rate %s: every %s count %d more, and %s is left.", rate(t.Rate), everyText(t.Trim.Every), t.Trim.Add, rate(t.Trim.Left))
	if t.Trim.Unit == "counts" {
		text = fmt.Sprintf("Rate %s: every %s load %d, not %d, and %s is left.", rate(t.Rate), everyText(t.Trim.Every), int64(t.Reload)+t.Trim.Add, t.Reload, rate(t.Trim.Left))
	}
	if !t.Measured {
		text += " That is by the plan's nominal parts: measure the crystal's frequency first."
	}
	return text
}

// everyText is "tick" or "41 ticks".
func everyText(n int64) string {
	if n == 1 {
		return "tick"
	}
	return strconv.FormatInt(n, 10) + " ticks"
}

// Lines are how the clock is set.
func (s *Setting) Lines() []string {
	lines := s.Steps
	if s.Missing > 0 {
		lines = append(lines[:len(lines):len(lines)], fmt.Sprintf("This takes two buttons; the build has %d.", 2-s.Missing))
	}
	return lines
}

// describe says for what the hand's codes are.
func (h *Hand) describe(of *model.Hand, p *circuit.HandPlan) {
	m, d := &of.Meter, &of.Drive
	h.meter = "meter " + quantity.Show(m.FullScale.Number, quantity.Microamperes, 4) + ", coil " + quantity.Show(m.Coil.Number, quantity.Ohms, 4)
	if m.AsMeasured() {
		h.meter = "meter " + quantity.Show(p.TerminalFullScale, quantity.Microamperes, 4) + ", " + quantity.Show(p.TerminalResistance, quantity.Ohms, 4) + " at its terminals"
	}
	straight := map[string]string{"codes": "straightened by these codes", "dial": "its dial drawn to it"}[of.Correct]
	if straight != "" {
		h.meter += ", " + straight
	}
	h.drive = "PWM " + quantity.Show(p.PWMFrequency, quantity.Hertz, 4) + ", rounding " + d.Rounding + ", by " + d.By
}

func capital(s string) string { return string(s[0]-'a'+'A') + s[1:] }
