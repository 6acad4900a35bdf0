package spread

import (
	"fmt"
	"strings"

	"example.com/needlewright/model/quantity"
)

// NoneTighter says that HandYield.Worth is empty for every hand.
const NoneTighter = "No part is: with none would one more kit in a thousand trim up, or the dial error without " + LeftOut + " be a fiftieth less."

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
