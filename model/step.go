package model

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"example.com/needlewright/calc"
	"example.com/needlewright/model/quantity"
)

// Step returns the text a field gets when it is stepped up or down from what it
// is now: parts that are bought go along their series of preferred numbers,
// measured quantities by 1 to 2 %, shares, temperatures and hours evenly,
// counts by one, choices round their list. A tolerance stays as it was written.
// From a value that is not given it starts at what is assumed; where nothing is
// assumed, the text is that of a new build. ok is false where there is no step
// to take: the value cannot be read, stands at the end of what is allowed or at
// another field's bound (a top code at the counts), or is a name or a table.
func (d *Document) Step(f *Field, index int, up bool) (text string, ok bool) {
	start, given := d.Given(f, index)
	if !given {
		start = d.Assumed(f, index)
	}
	switch {
	case d.outline.broken:
		return "", false
	case start == "":
		text, ok = f.New, f.New != ""
	default:
		text, ok = f.stepped(start, up)
	}
	if f.Choices != nil {
		return text, ok // one that asks for more, such as a table, is for the person to complete
	}
	if !ok || f.isWords() || d.Set(f, index, text).Problem(f, index) != nil {
		return "", false
	}
	return text, true
}

// stepped is the text a step away.
func (f *Field) stepped(text string, up bool) (string, bool) {
	switch f.zero().(type) {
	case *quantity.Value:
		return f.steppedQuantity(text, up)
	case *int:
		return f.steppedCount(text, up)
	}
	return turned(f.Choices, text, up)
}

// turned is the choice after, or before, another; the first follows the last.
func turned(choices []string, text string, up bool) (string, bool) {
	at := slices.Index(choices, text)
	if at < 0 {
		return "", false
	}
	by := len(choices) - 1
	if up {
		by = 1
	}
	return choices[(at+by)%len(choices)], true
}

func (f *Field) steppedCount(text string, up bool) (string, bool) {
	n, err := quantity.ParseCount(text)
	if err != nil {
		return "", false
	}
	next := n - 1
	if up {
		next = n + 1
	}
	to, ok := f.within(float64(n), float64(next), up)
	return strconv.Itoa(int(to)), ok
}

// within holds a step to what is allowed; ok is false where that leaves none.
func (f *Field) within(from, to float64, up bool) (held float64, ok bool) {
	held = min(max(to, f.low), f.high)
	if up {
		return held, held > from
	}
	return held, held < from
}

// toleranceMark is where the tolerance begins, with the blanks before it.
var toleranceMark = regexp.MustCompile(`\s*(±|\+/?[-−])`)

// steppedQuantity keeps the tolerance's own text where it still means the same
// behind the new value.
func (f *Field) steppedQuantity(text string, up bool) (string, bool) {
	v, err := quantity.Parse(text, f.Unit)
	if err != nil {
		return "", false
	}
	to, ok := f.within(v.Number, f.next(v.Number, up), up)
	next := quantity.Value{Number: to, Tolerance: v.Tolerance, Share: v.Share}
	stepped := quantity.Format(quantity.Value{Number: to}, f.Unit)
	if at := toleranceMark.FindStringIndex(text); at != nil {
		stepped += strings.TrimRight(text[at[0]:], " ")
	}
	if read, err := quantity.Parse(stepped, f.Unit); err != nil || read != next {
		stepped = quantity.Format(next, f.Unit)
	}
	return stepped, ok
}

// IsToBeHad says whether shops have a value of the field: any, where it is of no series.
func (f *Field) IsToBeHad(x float64) bool {
	const rounding = 1e-9
	return f.Series == nil || math.Abs(calc.NearestPreferred(x, f.Series)/x-1) < rounding
}

// Next returns the value of a quantity a step up, or where that is not allowed a step
// down; ok is false where neither is.
func (f *Field) Next(x float64) (next float64, ok bool) {
	if next, ok = f.within(x, f.next(x, true), true); ok {
		return next, true
	}
	return f.within(x, f.next(x, false), false)
}

// Beside returns the values next below and next above x that the form steps to, of a part
// those of its series, of a count whole numbers; NaN where none is allowed.
func (f *Field) Beside(x float64) (below, above float64) {
	below, above = math.Ceil(x)-1, math.Floor(x)+1
	if _, whole := f.zero().(*int); !whole {
		below, above = f.next(x, false), f.next(x, true)
	}
	if below < f.low || below == x {
		below = math.NaN()
	}
	if above > f.high {
		above = math.NaN()
	}
	return below, above
}

// next is the value a step away, the range left out.
func (f *Field) next(x float64, up bool) float64 {
	if step := evenStep(f.Unit, x, up); step > 0 {
		return multiple(x, step, up)
	}
	series, foot, least := fine, quantity.MustParse(f.New, f.Unit).Number, f.Unit.Factor()/1000
	if f.Series != nil {
		foot = leastPart[f.Unit]
		series, least = f.Series, foot
	}
	switch {
	case up && x <= 0 && foot > 0:
		return foot
	case up && x <= 0:
		return least
	case !up && x <= least:
		return 0
	}
	return calc.NextPreferred(x, series, up)
}

// leastPart is the smallest part worth buying, below which there is none:
// common practice, no source.
var leastPart = map[quantity.Unit]float64{
	quantity.Ohms: 10, quantity.Picofarads: 1e-12, quantity.Microfarads: 10e-9,
}

// fine are the steps of measured quantities: 2, 5 or 10 of the third digit, so
// that each is 1 to 2 % of its value.
var fine = fineSteps()

func fineSteps() calc.Series {
	var s calc.Series
	for n := 100; n < 1000; {
		s = append(s, n)
		switch {
		case n < 250:
			n += 2
		case n < 500:
			n += 5
		default:
			n += 10
		}
	}
	return s
}

// evenStep is the step of units that are stepped evenly, in the unit's base; 0
// for all others. Shares and the like below 5 go by tenths. Common practice, no
// source.
func evenStep(u quantity.Unit, x float64, up bool) float64 {
	switch u {
	case quantity.Celsius, quantity.Degrees:
		return 1
	case quantity.Hours, quantity.Years:
		return 0.5
	case quantity.PPMPerKelvin:
		return 10
	case quantity.Percent, quantity.PercentPerYear, quantity.PPM, quantity.Times:
		five := 5 * u.Factor()
		if x < five || (x == five && !up) {
			return u.Factor() / 10
		}
		return u.Factor()
	}
	return 0
}

// multiple is the multiple of a step, one digit of some decade, next above x, or
// next below it, rounded once.
func multiple(x, step float64, up bool) float64 {
	digit, power, _ := strings.Cut(strconv.FormatFloat(step, 'e', 0, 64), "e")
	m, _ := strconv.Atoi(digit)
	at := func(k int) float64 {
		y, _ := strconv.ParseFloat(strconv.Itoa(k*m)+"e"+power, 64)
		return y
	}
	k := int(math.Round(x / step))
	if up {
		for k--; at(k) <= x; {
			k++
		}
		return at(k)
	}
	for k++; at(k) >= x; {
		k--
	}
	return at(k)
}
