package bench

import (
	"math"
	"slices"
	"strings"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/quantity"
)

// A Taken reading is one of the file as the bench understands it.
type Taken struct {
	Index   int // in the file, from 0; -1 where a row of a scale stands for it
	At      string
	Given   string
	Before  bool // taken before the last repair
	Value   float64
	Problem string // why it cannot be read

	kind  kind
	spot  int // -1: none
	word  int
	digit float64 // what its last digit means
}

// take understands the readings of the build, and what rows of scales say at test points. Of two at one point the later counts: the
// earlier one is left out.
func (x *Bench) take(readings []model.Reading) []Taken {
	var all []Taken
	for i := range readings {
		t := x.understand(i, &readings[i])
		if t.spot >= 0 && !t.Before {
			all = slices.DeleteFunc(all, func(o Taken) bool { return o.spot == t.spot && !o.Before })
		}
		all = append(all, t)
	}
	return append(all, x.fromScales(readings)...)
}

func (x *Bench) understand(i int, r *model.Reading) Taken {
	t := Taken{Index: i, At: r.At, Given: r.Value, Before: r.Before == "yes", Value: math.NaN(), spot: -1, digit: math.NaN()}
	for j := range x.spots {
		if x.spots[j].id == r.At {
			t.spot = j
		}
	}
	if t.spot < 0 {
		t.kind, t.Problem = foreign, "there is no such test point in this build"
		return t
	}
	x.spots[t.spot].parse(x.build, &t)
	return t
}

// parse reads what was written down for a point.
func (p *spot) parse(b *model.Build, t *Taken) {
	text := strings.TrimSpace(t.Given)
	lower := strings.ToLower(text)
	if p.words != nil {
		t.word = slices.Index(p.words, lower)
		t.kind = word
		if t.word < 0 {
			t.kind, t.Problem = unread, "write "+strings.Join(p.words, ", ")
		}
		return
	}
	switch {
	case lower == "none":
		t.Value = 0
		t.kind = p.with.noneOf()
		return
	case lower == "over" && p.canBeOver():
		t.kind, t.Value = over, math.Inf(1)
		return
	case lower == "below" && p.isPlace():
		t.kind, t.Value = under, math.Inf(-1)
		return
	case text == "":
		t.kind, t.Problem = unread, "nothing is written here"
		return
	}
	v, digit, problem := p.number(b, text)
	t.Value, t.digit = v, digit
	if math.Abs(v) <= p.with.nothing() {
		t.kind = p.with.noneOf()
	}
	if problem != "" {
		t.kind, t.Value, t.Problem = unread, math.NaN(), problem
	}
}

// isPlace says whether a point is where a needle stands.
func (p *spot) isPlace() bool { return p.with == eye || p.with == untapped }

func (p *spot) canBeOver() bool { return p.isPlace() || p.with == ohms }

// number reads a number with its unit; of a needle's place also a dial time, of a drift
// seconds over days.
func (p *spot) number(b *model.Build, text string) (v, digit float64, problem string) {
	if p.isPlace() && strings.Contains(text, ":") {
		share, ok := dialPlace(&b.Hands[p.index], text)
		if !ok {
			return 0, 0, "write a share of the scale, 47 %, or a dial time, 5:38"
		}
		return share, math.NaN(), ""
	}
	if p.with == days {
		if rate, second, ok := drifted(text); ok {
			return rate, second, ""
		}
	}
	value, err := quantity.ParsePlain(text, p.unit)
	if err != nil {
		return 0, 0, err.Error()
	}
	if p.with == days { // for how long is not said
		return value.Number, math.NaN(), ""
	}
	return value.Number, writtenDigit(text, value.Number), ""
}

// drifted reads "+12 s in 3 d" as s/day; second is what one second of it means.
func drifted(text string) (rate, second float64, ok bool) {
	gained, over, found := strings.Cut(text, " in ")
	if !found {
		return 0, 0, false
	}
	over = strings.TrimSpace(over)
	if weeks, isWeeks := strings.CutSuffix(over, "wk"); isWeeks {
		n, err := quantity.ParsePlain(strings.TrimSpace(weeks), quantity.Times)
		over = quantity.Format(quantity.Value{Number: 7 * 24 * n.Number}, quantity.Hours)
		if err != nil {
			return 0, 0, false
		}
	}
	s, err := quantity.ParsePlain(gained, quantity.Seconds)
	t, err2 := quantity.ParsePlain(over, quantity.Hours)
	if err != nil || err2 != nil || !(t.Number > 0) {
		return 0, 0, false
	}
	return s.Number / t.Number * 24, 24 / t.Number, true
}

// dialPlace is where on its scale the needle stands for a dial time: where its mark is.
func dialPlace(h *model.Hand, text string) (share float64, ok bool) {
	first, second, _ := strings.Cut(strings.TrimSpace(text), ":")
	a, err := quantity.ParseCount(first)
	b, err2 := quantity.ParseCount(second)
	if err != nil || err2 != nil || a < 0 || b < 0 || b > 59 || len(second) != 2 {
		return 0, false
	}
	minutes, _ := circuit.Dial(h.Shows)
	at := float64(a) + float64(b)/60 // hours of 12 or 24, minutes of 60
	if minutes >= 720 {
		at *= 60
	}
	share = at / minutes
	if share > 1 {
		return 0, false
	}
	c := circuit.WireHand(&model.Build{}, h)
	return c.Mark(share), true
}

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
