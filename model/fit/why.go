package fit

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"example.com/needlewright/model/measure"
	"example.com/needlewright/model/quantity"
)

var noNumber = math.NaN()

// refused says whether nothing is to be tried with the meter, whatever it is, and why: what
// can hurt a person comes first.
func (c *candidate) refused(m *Meter) bool {
	meter := &c.build.Hands[c.hand].Meter
	switch {
	case meter.Glow == "yes":
		m.Verdict = DoesNotFit
		m.Why = "Its paint glows, or did, and may be radium: the case stays closed, and it goes neither into a clock nor into a school. Local rules say who takes such a thing."
	case measure.FromASet(meter.Origin) && meter.Removed == "no":
		m.Verdict = DoesNotFit
		m.Why = "It is still in its set (" + meter.Origin + "): leave it there. Taking it out is for licensed practice, by local codes."
	case measure.FromASet(meter.Origin) && meter.Removed != "yes":
		m.Verdict, m.Missing = MeasureFirst, []string{"removed"}
		m.Why = "It comes out of " + outOf[meter.Origin] + ", and nobody said that it is out: connect nothing until it is, with nothing else on its terminals and no capacitor in its case."
	case meter.Kind == "cross coil":
		m.Verdict = DoesNotFit
		m.Why = "A cross coil has no spring: two coils turn its needle by their ratio, and one current says nothing. No."
	default:
		return false
	}
	return true
}

// outOf are the sets that can hurt, in words.
var outOf = map[string]string{"mains": "mains equipment", "high voltage": "high-voltage equipment", "vehicle": "a vehicle"}

// isTooMuch says whether it takes more than two transistors carry.
func (c *candidate) isTooMuch() bool { return !math.IsNaN(c.carriesAmperes()) }

// why says in a sentence or two why the verdict is what it is.
func (c *candidate) why(m *Meter) string {
	best := m.Best()
	switch m.Verdict {
	case Fits:
		return fmt.Sprintf("%s suits the parts as they stand: likely %s off a month after it was set.", c.asksText(), minutes(best.Likely))
	case FitsWithChanges:
		return fmt.Sprintf("%s, %s: likely %s off a month after it was set.", c.asksText(), best.means(c), minutes(best.Likely))
	case MeasureFirst:
		return c.whyMeasure(m, best)
	}
	return c.whyNot(best)
}

// asksText is what it asks for: "500 µA at 640 Ω".
func (c *candidate) asksText() string {
	return quantity.Show(c.current, quantity.Microamperes, 3) + " at " + quantity.Show(c.resistance, quantity.Ohms, 3)
}

// means is how a way drives it, in words.
func (w *Way) means(c *candidate) string {
	switch w.ID {
	case filter:
		return "from a pin with a filter of its own before it"
	case half:
		return "from a pin on the half of its scale"
	case bridge:
		return "between two pins, over its whole scale"
	case switched:
		return "from two transistors, for it is more than a pin gives"
	case rail:
		return "from a rail of " + quantity.Show(c.railFor(), quantity.Volts, 2)
	}
	return "from a pin with other parts"
}

// whyMeasure says what its figures rest on, and what they would give.
func (c *candidate) whyMeasure(m *Meter, best *Way) string {
	if best == nil && c.isTooMuch() {
		return c.tooMuch()
	}
	if best == nil {
		return "Not known yet: " + inWordsOf(m.Missing) + "; and what the dial says does not tell."
	}
	gives := fmt.Sprintf("likely %s off a month after it was set", minutes(best.Likely))
	if best.ID == opened {
		return fmt.Sprintf("%s%s With the %s taken out and %s, %s.", c.whyClosedNot(), c.whyClosed(), c.inside, c.openedText(), gives)
	}
	return fmt.Sprintf("Not known yet: %s. %s, it would do %s: %s.", inWordsOf(m.Missing), c.supposed(), best.means(c), gives)
}

// supposed is what its figures rest on.
func (c *candidate) supposed() string {
	if slices.Equal(c.missing, []string{"law"}) {
		if c.build.Hands[c.hand].Meter.LawAssumed() {
			return "With the law of a square"
		}
		return "With an even scale"
	}
	return "Should it be " + c.asksText()
}

// whyClosedNot says what is wrong with the closed case, where its figures are known.
func (c *candidate) whyClosedNot() string {
	if !c.figures {
		return ""
	}
	if !c.switchCarries() {
		return quantity.Show(c.current, quantity.Amperes, 3) + " through a pin: no."
	}
	return c.unreached()
}

// whyClosed says that the closed case is not known.
func (c *candidate) whyClosed() string {
	if c.figures {
		return ""
	}
	if c.isTooMuch() {
		return c.amperesText()
	}
	return "As it is, it cannot be planned with: a " + c.inside + " is inside."
}

// openedText is what is expected of the movement.
func (c *candidate) openedText() string {
	fullScale, coil, _ := c.movement()
	here := quantity.Show(quantity.MustParse(fullScale, quantity.Microamperes).Number, quantity.Microamperes, 3) +
		" at " + quantity.Show(quantity.MustParse(coil, quantity.Ohms).Number, quantity.Ohms, 3)
	switch {
	case c.texts[coilPath] != "" && !c.closed:
		return here
	case c.inside == shunt:
		return "50 to 75 mV at 0.1 to 10 mA behind it, here " + here
	}
	return "20 to 500 mV behind it, here " + here
}

// whyNot says why it does not fit, in its own terms.
func (c *candidate) whyNot(best *Way) string {
	if c.isTooMuch() {
		return c.tooMuch()
	}
	if best != nil {
		found, _ := best.Finding()
		return found.Text + " " + found.Advice
	}
	if text := c.unreached(); text != "" {
		return text
	}
	return "There are no parts that bring it to full scale."
}

// tooMuch says so, in its own terms.
func (c *candidate) tooMuch() string { return c.amperesText() + c.behindAShunt() }

func (c *candidate) amperesText() string {
	return quantity.Show(c.carriesAmperes(), quantity.Amperes, 3) + " through a pin: no."
}

// behindAShunt is what may be inside a meter of many amperes.
func (c *candidate) behindAShunt() string {
	switch meter := &c.build.Hands[c.hand].Meter; {
	case meter.Kind != "moving coil":
		return " A " + meter.Kind + " meter takes all of it itself: another meter."
	case meter.Glow != "no":
		return " A shunt may be inside, with a movement that needs far less; but its paint may be radium, and while that is not known the case stays closed."
	case c.inside == none:
		return " The current in it is its own: another meter."
	}
	return " If a shunt is inside, the movement behind it may do with 50 to 75 mV: open it and look."
}

// unreached says that the rail does not bring it to full scale; "" where it does.
func (c *candidate) unreached() string {
	if from := c.ownSource(); c.reachesBy(from) {
		return ""
	}
	given := c.build.Rail.Voltage.Number * c.duty()
	return fmt.Sprintf("Full scale takes %s at its terminals; the pin gives %s at the top code, and its controller stands a rail of %s at most.",
		quantity.Show(c.current*c.resistance, quantity.Volts, 3), quantity.Show(given, quantity.Volts, 3), quantity.Show(c.railLimit(), quantity.Volts, 3))
}

// minutes is a dial time in three digits.
func minutes(x float64) string { return quantity.DialTimeIn(x, 3) }

// toMeasure are the columns that may be missing, in words, and what to do about each.
var toMeasure = []struct{ column, words, how string }{
	{"removed", "whether it is out of its set", "look whether it is out, nothing else on its terminals, no capacitor in its case; while it is not, leave it to licensed practice"},
	{"glow", "whether its paint may be radium", "look at its description, or ask who knows such dials; until then the case stays closed"},
	{"full_scale", "its full scale", "a 1.5 V cell and 1 MΩ first, never an ohmmeter"},
	{"terminal_full_scale", "the full scale of the closed case", "a 1.5 V cell and 1 MΩ first, never an ohmmeter"},
	{"coil", "its coil", "the millivolts across it at full scale, over that current"},
	{"terminal_resistance", "the resistance of the closed case", "the volts across its terminals at full scale, over that current"},
	{"inside_value", "what is inside", "read its marking, or lift one of its ends"},
	{"law", "its law", "needle and current at half and at full scale: half is linear, a quarter square"},
}

// inWordsOf lists what is missing: "its full scale and its coil".
func inWordsOf(missing []string) string {
	var list []string
	for _, row := range toMeasure {
		if slices.Contains(missing, row.column) {
			list = append(list, row.words)
		}
	}
	if len(list) < 2 {
		return strings.Join(list, "")
	}
	return strings.Join(list[:len(list)-1], ", ") + " and " + list[len(list)-1]
}

// HowToMeasure returns what to do about a column that is missing, in words.
func HowToMeasure(column string) (words, how string) {
	for _, row := range toMeasure {
		if row.column == column {
			return row.words, row.how
		}
	}
	return column, ""
}
