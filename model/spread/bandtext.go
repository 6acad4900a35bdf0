package spread

import (
	"math"
	"strconv"
	"strings"

	"example.com/needlewright/model/quantity"
)

// BandText returns the band as people read it, in the unit and with the decimals
// in which Text gives the value: "295.0 … 675.0 Ω"; in its own where the value is next
// to nothing beside it. "" where nothing moves the result, or the bands were not worked out.
func (r Row) BandText() string { return r.BandTextIn(4) }

// BandTextIn returns it as it goes with a value in so many digits.
func (r Row) BandTextIn(digits int) string {
	if r.Band == nil || !(r.Band.Low < r.Band.High) {
		return ""
	}
	const little = 1e-3 // of the band: what is less has decimals that the band does not bear
	larger := r
	larger.Value = r.Band.High
	if -r.Band.Low > r.Band.High {
		larger.Value = r.Band.Low
	}
	number, unit, scale, ok := r.shown(digits)
	if !ok || math.Abs(r.Value) < little*math.Abs(larger.Value) { // the value says too little of itself
		if number, unit, scale, ok = larger.shown(digits); !ok {
			return larger.TextIn(digits)
		}
	}
	_, fraction, _ := strings.Cut(number, ".")
	show := func(x float64) string {
		text := strconv.FormatFloat(x/scale, 'f', len(fraction), 64)
		if strings.Trim(text, "-0.") == "" {
			text = strings.TrimPrefix(text, "-")
		}
		return text
	}
	return strings.TrimSpace(show(r.Band.Low) + " … " + show(r.Band.High) + " " + unit)
}

// shown takes TextIn apart: the number, its unit, and how much 1 of that is in the
// result's base; ok is false where it is no plain number of several digits.
func (r Row) shown(digits int) (number, unit string, scale float64, ok bool) {
	number, unit, _ = strings.Cut(r.TextIn(digits), " ")
	if strings.Trim(number, "-0123456789.") != "" || strings.Trim(number, "-0.") == "" {
		return "", "", 0, false
	}
	of, base := r.Unit, 1.0
	switch {
	case r.Unit == quantity.Hours:
		u, _ := quantity.DurationFor(r.Value)
		return number, unit, u.Hours, true
	case r.Unit == quantity.Minutes && unit != "min":
		of, base = quantity.Seconds, 1.0/60
	case unit == "":
		return number, "", of.Factor(), true
	}
	v, err := quantity.Parse("1 "+unit, of)
	return number, unit, v.Number * base, err == nil
}
