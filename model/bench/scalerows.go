package bench

import (
	"math"
	"slices"
	"strings"

	"example.com/needlewright/model"
	"example.com/needlewright/model/quantity"
)

// fromScales are the readings that rows of the hands' scales stand for: with the top code
// the needle at the top, with half of it the needle at half, where the file has no reading
// of that point. They have no place among the file's readings: Index -1.
func (x *Bench) fromScales(readings []model.Reading) []Taken {
	var all []Taken
	for i := range x.build.Hands {
		h := &x.build.Hands[i]
		top := h.Drive.Top
		for _, at := range [2]struct {
			id   string
			code int
		}{{"needle_half", int(half(float64(top)))}, {"needle_top", top}} {
			j := x.spotOf(i, at.id)
			if j < 0 || slices.ContainsFunc(readings, func(r model.Reading) bool { return r.At == x.spots[j].id }) {
				continue
			}
			if t, ok := x.fromScale(h, at.code); ok {
				t.At, t.spot = x.spots[j].id, j
				all = append(all, t)
			}
		}
	}
	return all
}

// fromScale is where the needle of a hand stood at a code by the rows of its scale: tapped,
// as the last row says; else, where it came from both sides, in their middle.
func (x *Bench) fromScale(h *model.Hand, code int) (t Taken, ok bool) {
	places := map[string]float64{}
	for k := range h.Scale {
		r := &h.Scale[k]
		place, digit, err := quantity.ParsePlace(r.Stands, h.Shows)
		if err != nil || r.Code != code || r.Of != 0 && r.Of != h.Drive.Top {
			continue
		}
		if h.Meter.ZeroAt == "centre" && h.Drive.By != "bridge" && !strings.Contains(r.Stands, "%") {
			place, digit = (1+place)/2, digit/2 // a time is of the half that it moves over
		}
		if _, tapped := places[""]; !tapped || r.Going == "" {
			t = Taken{Index: -1, Given: r.Stands, Value: place, kind: number, digit: 2 * digit}
		}
		places[r.Going], ok = place, true
	}
	_, tapped := places[""]
	up, rose := places["up"]
	down, fell := places["down"]
	if !tapped && rose && fell {
		t.Value, t.digit = (up+down)/2, math.NaN()
		t.Given = quantity.Show(t.Value, quantity.Percent, 3)
	}
	return t, ok
}
