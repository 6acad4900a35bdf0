package scale

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"example.com/needlewright/calc"
	"example.com/needlewright/model"
	"example.com/needlewright/model/quantity"
)

// A reading is a row that can be used.
type reading struct {
	row     int     // from 1
	current float64 // share of full scale
	zero    bool    // of code 0
	place   float64 // share of the scale
	half    float64 // of the last digit
	going   string
}

// read reads the rows; what is wrong with them goes to f.
func (f *Fitted) read(rows []Row) []reading {
	var readings []reading
	most := f.usual(rows)
	for i, row := range rows {
		if row.Stands == "" { // it is still to be read
			continue
		}
		path := fmt.Sprintf("scale.%d.", i+1)
		if p := f.problem(&row); p != nil {
			p.Path = path + p.Path
			f.Problems = append(f.Problems, *p)
			continue
		}
		place, half, err := quantity.ParsePlace(row.Stands, f.hand.Shows)
		if err != nil {
			e := err.(*quantity.Error)
			f.Problems = append(f.Problems, model.Problem{Path: path + "stands", Given: e.Given, Wrong: e.Problem, Remedy: e.Remedy})
			continue
		}
		if rest := f.hand.Rest; rest > 0 && (f.hand.Bridge || strings.Contains(row.Stands, "%")) { // of the whole scale
			place, half = (place-rest)/(1-rest), half/(1-rest)
		}
		if f.of(&row) != most {
			f.Scaled = append(f.Scaled, i+1)
		}
		readings = append(readings, reading{row: i + 1, current: f.CurrentOf(row.Code, row.Of), zero: row.Code == 0, place: place, half: half, going: row.Going})
	}
	return readings
}

// problem says what is wrong with the code of a row; its path is the key's alone.
func (f *Fitted) problem(row *Row) *model.Problem {
	of := f.of(row)
	switch {
	case of < 1:
		return &model.Problem{Path: "of", Given: fmt.Sprint(row.Of), Wrong: "a top code is at least 1", Remedy: "write the top code that the code is of"}
	case row.Code < 0 && row.At != "":
		return &model.Problem{Path: "code", Wrong: "the code for " + row.At + " is not given", Remedy: "write the code that was sent then: the table in force may have been another"}
	case row.Code < 0:
		return &model.Problem{Path: "code", Wrong: "no code is given", Remedy: "write the code that was sent"}
	case row.Code > of:
		return &model.Problem{Path: "code", Given: fmt.Sprint(row.Code), Wrong: "it is above its top code", Allowed: fmt.Sprintf("0 to %d", of), Remedy: "write the top code then as of"}
	case row.Going != "" && row.Going != "up" && row.Going != "down":
		return &model.Problem{Path: "going", Given: row.Going, Wrong: "the needle goes up or down", Allowed: "up, down", Remedy: "leave it out where it was tapped"}
	}
	return nil
}

// of is the top code of a row.
func (f *Fitted) of(row *Row) int {
	if row.Of == 0 {
		return f.hand.Top
	}
	return row.Of
}

// usual is the top code of most rows, of equally many the present one.
func (f *Fitted) usual(rows []Row) int {
	count, most := map[int]int{}, f.hand.Top
	for i := range rows {
		count[f.of(&rows[i])]++
	}
	for i := range rows {
		if of := f.of(&rows[i]); count[of] > count[most] {
			most = of
		}
	}
	return most
}

// half is half of the last digit as most readings have it; 0 without any.
func half(readings []reading) float64 {
	halves := make([]float64, len(readings))
	for i := range readings {
		halves[i] = readings[i].half
	}
	return middle(halves)
}

// middle is the median, 0 of none.
func middle(xs []float64) float64 {
	if len(xs) == 0 {
		return 0
	}
	xs = slices.Sorted(slices.Values(xs))
	n := len(xs)
	return (xs[(n-1)/2] + xs[n/2]) / 2
}

// A point is what all readings at about one code say.
type point struct {
	calc.Point
	readings []reading
}

// together is how much current codes are apart, a share of full scale, that count as
// one: their difference is less than what can be read.
const together = 0.004

// places returns the points between the ends, rising in current, and those of code 0 and
// of the top code, one or none.
func (m *measured) places() (points, zero, top []point) {
	rest := slices.Clone(m.readings)
	slices.SortStableFunc(rest, func(a, b reading) int { return cmp.Compare(a.current, b.current) })
	for len(rest) > 0 {
		first, n := rest[0], 1
		for n < len(rest) && rest[n].zero == first.zero && (rest[n].current == 1) == (first.current == 1) && rest[n].current-first.current < together {
			n++
		}
		p := m.point(rest[:n:n])
		switch rest = rest[n:]; {
		case first.zero:
			zero = append(zero, p)
		case first.current == 1:
			top = append(top, p)
		default:
			points = append(points, p)
		}
	}
	return points, zero, top
}

// point is that of some readings: the median of what each says without the sticking.
func (m *measured) point(readings []reading) point {
	places, sum := make([]float64, len(readings)), 0.0
	for i, r := range readings {
		places[i], sum = m.freed(r), sum+r.current
	}
	return point{calc.Point{Current: sum / float64(len(readings)), Scale: middle(places)}, readings}
}

// freed is where the needle of a reading would stand if it did not stick.
func (m *measured) freed(r reading) float64 {
	switch {
	case math.IsNaN(m.stick):
	case r.going == "up":
		return r.place + m.stick
	case r.going == "down":
		return r.place - m.stick
	}
	return r.place
}
