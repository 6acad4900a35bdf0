package spread

import (
	"fmt"
	"slices"
	"strings"

	"example.com/needlewright/model/quantity"
)

// A Tightening is one of the two ways in which an input becomes tighter.
type Tightening struct {
	Head  string // above them
	known bool   // it is evidence, which is measured better; else a part, which is bought so
}

// Tightenings are both.
var Tightenings = [...]Tightening{
	{"Worth buying twice as tight, the most gain first", false},
	{"Worth knowing twice as well, by measuring, the most gain first", true},
}

// Of returns those of a hand that are worth it in this way.
func (w Tightening) Of(h *HandYield) []Tighter {
	return slices.DeleteFunc(h.Worth(), func(t Tighter) bool { return t.Field.Evidence != w.known })
}

// None says that nothing is in this way, "" where that needs no words.
func (w Tightening) None() string {
	if w.known {
		return ""
	}
	return "No part is: with none would one more kit in a thousand trim up, or the dial error without " + LeftOut + " be a fiftieth less, and a second."
}

// In says whether anything of any hand is worth it in this way.
func (w Tightening) In(y *Yield) bool {
	return slices.ContainsFunc(y.Hands, func(h HandYield) bool { return len(w.Of(&h)) > 0 })
}

// ShareOf returns n of so many kits, 1 or more, in percent: 0 % of none and 100 % of
// all only.
func ShareOf(n, kits int) string {
	percent := 100 * float64(n) / float64(kits)
	switch {
	case n == 0, n == kits:
		return fmt.Sprintf("%.0f %%", percent)
	case percent < 0.01:
		return "under 0.01 %"
	case percent > 99.99:
		return "over 99.99 %"
	}
	return fmt.Sprintf("%.2f %%", percent)
}

// Text lists the others, Trimmers or Fixed, and how many kits need each; count
// writes a number of kits.
func (l *Lack) Text(others []Other, count func(kits int) string) string {
	var list []string
	left := l.Kits
	for _, o := range others {
		value := "none"
		if o.Value != 0 {
			value = quantity.Format(quantity.Value{Number: o.Value}, quantity.Ohms)
		}
		list = append(list, value+" in "+count(o.Kits))
		left -= o.Kits
	}
	if left > 0 {
		list = append(list, "no other does in "+count(left))
	}
	return strings.Join(list, ", ")
}
