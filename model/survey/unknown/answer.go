package unknown

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

const skip = "skip"

// Answer returns the line that a truthful person types for one object of the survey, ""
// where it asks nothing. It panics at a question that the contract does not have.
func (b *Bench) Answer(object map[string]any) string {
	if _, done := object["done"]; done {
		return ""
	}
	if _, again := object["problem"]; again {
		b.Problems++
	}
	ask, _ := object["ask"].(string)
	b.Asked[ask]++
	m := b.Meter
	switch ask {
	case "origin":
		return origin(m.Origin, choices(object))
	case "removed":
		return m.Removed
	case "glow":
		return m.Glow
	case "swing":
		if m.Jammed {
			return "stuck"
		}
		return "free"
	case "rest":
		return b.read(m.Rest)
	case "marked":
		return m.Marked
	case "kind":
		if slices.Contains(choices(object), m.Looks) {
			return m.Looks
		}
		return "unknown"
	case "resistor":
		return b.measured(object)
	case "swap":
		b.turned = !b.turned
		return "done"
	case "source", "needle", "terminals":
		return b.connected(ask, object)
	}
	panic(fmt.Sprintf("no such question: %q", ask))
}

// measured is what the multimeter shows of a resistor.
func (b *Bench) measured(object map[string]any) string {
	nominal, _ := number(object, "nominal")
	ohms, ok := b.resistor(nominal)
	switch {
	case !ok:
		return skip
	case b.AsMarked:
		return "as marked"
	}
	return b.shown(ohmRanges, ohms)
}

// connected makes a connection and says what is read.
func (b *Bench) connected(ask string, object map[string]any) string {
	volts, _ := number(object, "volts")
	series, withSeries := number(object, "series")
	across, withAcross := number(object, "across")
	s := b.source(volts)
	if s == nil {
		b.Skipped++
		return skip
	}
	if ask == "source" && !withSeries {
		v, _ := loaded(s.Volts, s.Ohms, b.Multimeter.Input)
		return b.shown(voltRanges, v)
	}
	w := wiring{source: *s, across: math.Inf(1), atSource: math.Inf(1), atTerminals: math.Inf(1)}
	ok := true
	if withSeries {
		w.series, ok = b.resistor(series)
	}
	if ok && withAcross {
		w.across, ok = b.resistor(across)
	} else {
		across = w.across
	}
	if !ok {
		b.Skipped++
		return skip
	}
	switch ask {
	case "source":
		w.atSource = b.Multimeter.Input
	case "terminals":
		w.atTerminals = b.Multimeter.Input
	}
	f := b.Meter.flow(w)
	if b.Meter.Reversed != b.turned {
		f.movement = -f.movement
	}
	stated, states := number(object, "current")
	if !states {
		stated = math.NaN()
	}
	b.Connections = append(b.Connections, Connection{ask, volts, series, across, f.movement, f.terminals, stated})
	b.Most = max(b.Most, math.Abs(f.movement)/b.Meter.FullScale)
	switch ask {
	case "source":
		return b.shown(voltRanges, f.sourceVolts)
	case "terminals":
		return b.shown(voltRanges, f.volts)
	}
	return b.look(f.movement)
}

// look is what the person says of the needle at a current (A) through the movement.
func (b *Bench) look(current float64) string {
	m := b.Meter
	stands := m.place(current)
	if !m.Jammed {
		stands = atStops(stands + b.random.around(m.Friction))
	}
	switch {
	case math.Abs(stands-m.Rest) < seen:
		return "none"
	case stands <= -stop:
		return "below"
	case stands >= 1+stop:
		return "over"
	}
	return b.read(stands)
}

// number is a number of an object; ok is false where it is null or not there.
func number(object map[string]any, key string) (x float64, ok bool) {
	switch v := object[key].(type) {
	case float64:
		return v, true
	case int:
		return float64(v), true
	}
	return 0, false
}

// choices are the words that may be answered.
func choices(object map[string]any) []string {
	switch all := object["choices"].(type) {
	case []string:
		return all
	case []any:
		words := make([]string, 0, len(all))
		for _, c := range all {
			if word, ok := c.(string); ok {
				words = append(words, word)
			}
		}
		return words
	}
	return nil
}

// origin is the choice that says where a meter is from: the word itself, one that has
// it in it, or else "other", "unknown" or any that is none of the risky ones. It panics
// where a risky origin is no choice, since nothing else would be true.
func origin(is string, from []string) string {
	for _, same := range []func(c string) bool{
		func(c string) bool { return c == is },
		func(c string) bool { return strings.Contains(c, is) },
	} {
		if i := slices.IndexFunc(from, same); i >= 0 {
			return from[i]
		}
	}
	if is == Mains || is == HighVoltage || is == Vehicle {
		panic("no such origin among the choices: " + is)
	}
	for _, word := range []string{"other", "unknown"} {
		if slices.Contains(from, word) {
			return word
		}
	}
	harmless := func(c string) bool {
		return !strings.Contains(c, Mains) && !strings.Contains(c, HighVoltage) && !strings.Contains(c, Vehicle)
	}
	if i := slices.IndexFunc(from, harmless); i >= 0 {
		return from[i]
	}
	return skip
}
