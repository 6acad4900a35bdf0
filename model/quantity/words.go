package quantity

import (
	"fmt"
	"math"
)

// DialTime returns minutes of a dial's time as people read it, in four digits: below
// one in seconds.
func DialTime(minutes float64) string { return DialTimeIn(minutes, 4) }

// DialTimeIn returns it in so many digits; "–" where it is not known.
func DialTimeIn(minutes float64, digits int) string {
	switch seconds := math.Abs(minutes) * 60; {
	case !finite(minutes):
		return Show(minutes, Minutes, digits)
	case seconds >= 60:
		return Show(minutes, Minutes, digits)
	case seconds >= 0.001 || seconds == 0:
		return Show(minutes*60, Seconds, digits)
	}
	return "under 1 ms"
}

// A Duration is a unit in which a person thinks of hours.
type Duration struct {
	Name  string
	Hours float64 // one of it
	upTo  float64 // hours
}

// durations are those units, each up to so many hours.
var durations = [...]Duration{
	{"h", 1, 3 * hoursPerDay}, {"days", hoursPerDay, 100 * hoursPerDay},
	{"months", hoursPerYear / 12, 2 * hoursPerYear}, {"years", hoursPerYear, math.Inf(1)},
}

const hoursPerDay = 24

// DurationFor returns the unit in which a person thinks of so many hours; ok is
// false of what is no number of hours.
func DurationFor(hours float64) (unit Duration, ok bool) {
	for _, u := range durations {
		if hours < u.upTo {
			return u, true
		}
	}
	return Duration{}, false
}

// ShowDuration returns hours in the unit in which a person thinks of them: hours,
// days, months or years, in three digits.
func ShowDuration(hours float64) string {
	u, ok := DurationFor(hours)
	if !ok {
		return "–"
	}
	return fmt.Sprintf("%.*f %s", decimals(hours/u.Hours), hours/u.Hours, u.Name)
}

// decimals is how many make three digits of a number, once it is rounded.
func decimals(x float64) int {
	switch {
	case x >= 99.95 || x == 0:
		return 0
	case x >= 9.995:
		return 1
	}
	return 2
}
