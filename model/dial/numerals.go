package dial

import (
	"math"
	"strconv"
	"strings"

	"example.com/needlewright/model/letters"
	"example.com/needlewright/model/quantity"
)

// wanted is a numeral that is to be set.
type wanted struct {
	share  float64
	number int
	must   bool // it was asked for by name: it is set whatever it runs into
}

// numerals stand outside the long ticks; left is how many have no room.
func (d *drawing) numerals() (left int) {
	from := d.radius + (lengths[Long]+gap)*d.unit
	d.plate.Numerals, left = d.set(d.wanted(), from, 1, d.figure, d.hand.Shows, d.angle)
	if left > 0 {
		d.plate.note("%s left out: no room beside the next", quantity.Counted(left, "numeral"))
	}
	return left
}

// crowded says whether numerals stand too close.
func (d *drawing) crowded() bool {
	all := d.plate.Numerals
	for i := range all {
		for k := range i {
			if clash(all[i], all[k], d.figure) {
				return true
			}
		}
	}
	return false
}

// wanted are the numerals by the form: those that are listed, or one at each long tick, or
// at each middle one.
func (d *drawing) wanted() []wanted {
	form := strings.TrimSpace(d.form.Numerals)
	var all []wanted
	switch form {
	case "none":
		return nil
	case "", "all":
		parts := d.hand.Ticks()
		n := parts[2]
		if form == "all" {
			n = parts[1]
		}
		return evenly(n, quantity.DialNumbers(d.hand.Shows), d.hand.Shows == "12 h")
	}
	listed, err := quantity.ParseNumerals(form, d.hand.Shows)
	if err != nil {
		return nil // a problem of the file says so
	}
	for _, n := range listed {
		all = append(all, wanted{n.Share, n.Number, true})
	}
	return all
}

// evenly are the numerals at each of n parts of a dial whose numerals count to whole, where
// they are whole numbers. A dial of twelve hours begins with its 12.
func evenly(n, whole int, atZero bool) []wanted {
	var all []wanted
	for k := range n + 1 {
		if whole*k%n != 0 {
			continue
		}
		w := wanted{share: float64(k) / float64(n), number: whole * k / n}
		if k == 0 && atZero {
			w.number = whole
		}
		all = append(all, w)
	}
	return all
}

// betweenNumerals is how far apart two stand at least, a share of their height.
const betweenNumerals = 0.35

// set sets numerals out from a radius, or in where out is -1. Those that were not asked for
// by name are left out where they would run into others: on an even scale in even steps; on
// another the ends stay first, then what halves the way between, as the dial's quarters do.
func (d *drawing) set(all []wanted, from, out, height float64, shows string, angle func(float64) float64) (numerals []Numeral, left int) {
	made := make([]Numeral, len(all))
	for i, w := range all {
		made[i] = d.numeral(w, from, out, height, shows, angle(w.share))
	}
	keep := d.evenlyKept(all, made, height)
	if keep == nil {
		keep = kept(all, made, height)
	}
	for i := range made {
		if keep[i] {
			numerals = append(numerals, made[i])
		} else {
			left++
		}
	}
	return numerals, left
}

// clash says whether two numerals stand too close.
func clash(a, b Numeral, height float64) bool {
	return a.hull.apart(b.hull) < betweenNumerals*height
}

// evenlyKept are numerals in the closest even step in which they stand apart, nil where the
// scale is not even, or they are listed by name.
func (d *drawing) evenlyKept(all []wanted, made []Numeral, height float64) []bool {
	last := len(all) - 1
	for i, w := range all {
		if w.must || math.Abs(d.place(w.share)-w.share) > 1e-9 || math.Abs(w.share-float64(i)/float64(last)) > 1e-9 {
			return nil
		}
	}
	for step := 1; step <= last; step++ {
		if last%step != 0 {
			continue
		}
		keep, room := make([]bool, len(all)), true
		for i := 0; i <= last; i += step {
			keep[i] = true
			room = room && (i == 0 || !clash(made[i-step], made[i], height))
		}
		if room {
			return keep
		}
	}
	return nil
}

// kept are numerals one by one.
func kept(all []wanted, made []Numeral, height float64) []bool {
	keep := make([]bool, len(made))
	for i, w := range all {
		keep[i] = w.must
	}
	for _, i := range fromTheEnds(len(all)) {
		room := true
		for k := range made {
			room = room && (k == i || !keep[k] || !clash(made[i], made[k], height))
		}
		keep[i] = keep[i] || room
	}
	return keep
}

// fromTheEnds is an order of n places: the ends, the middle, the quarters, then all others.
func fromTheEnds(n int) []int {
	var order []int
	seen := make([]bool, n)
	for parts := 1; len(order) < n; parts *= 2 {
		for k := range parts + 1 {
			i := (n - 1) * k / parts
			if parts >= n && k < n {
				i = k
			}
			if !seen[i] {
				seen[i] = true
				order = append(order, i)
			}
		}
	}
	return order
}

// numeral sets one, upright, or along the arc with its foot to the pivot. Its ink begins at
// a radius, so that all keep the same distance from the marks; or ends there, where out is -1.
func (d *drawing) numeral(w wanted, from, out, height float64, shows string, angle float64) Numeral {
	text := strconv.Itoa(w.number)
	if d.form.NumeralStyle == "roman" {
		if w.number == 0 {
			w.number = quantity.DialNumbers(shows)
		}
		text = roman(w.number)
	}
	o := letters.Set(text, letters.Medium, height, 0.02)
	turn := 0.0
	if d.form.NumeralsAlong == "arc" {
		turn = angle
	}
	at := on(d.plate.Pivot, inkAt(o.Placed(Point{}, turn), from, out, angle), angle)
	return Numeral{
		Share: w.share, Time: quantity.ExactDial(w.share, shows), Text: text,
		Outline: o.Placed(at, turn), hull: boxOf(o, at, turn),
	}
}

// inkAt is how far from the pivot the middle of an outline stands at an angle if its ink
// begins at a radius, or ends there where out is -1.
func inkAt(o letters.Outline, radius, out, angle float64) float64 {
	sin, cos := math.Sincos(angle * math.Pi / 180)
	middle := math.Inf(int(-out)) // at which the first point of the ink comes to the radius
	if len(o.Segments) == 0 {
		return radius
	}
	o.Walk(func(p Point) {
		along, aside := p.X*sin-p.Y*cos, p.X*cos+p.Y*sin
		at := math.Sqrt(max(radius*radius-aside*aside, 0)) - along
		if out > 0 {
			middle = max(middle, at)
		} else {
			middle = min(middle, at)
		}
	})
	return middle
}

// roman writes a number from 1 to 60.
func roman(n int) string {
	var b strings.Builder
	for _, sign := range [...]struct {
		worth int
		text  string
	}{{50, "L"}, {40, "XL"}, {10, "X"}, {9, "IX"}, {5, "V"}, {4, "IV"}, {1, "I"}} {
		for ; n >= sign.worth; n -= sign.worth {
			b.WriteString(sign.text)
		}
	}
	return b.String()
}

// second is the second scale, inside the arc: of a hand of twelve hours the hours of its
// second turn, else the whole scale in other parts.
func (d *drawing) second() {
	shows := d.form.SecondScale
	if shows == "" || shows == "none" {
		return
	}
	parts, _ := quantity.ParseTicks(quantity.UsualTicks(shows), shows)
	whole, first := quantity.DialNumbers(shows), 0
	all := evenly(parts[2], whole, false)
	if shows == "24 h" && d.hand.Shows == "12 h" {
		parts, _ = quantity.ParseTicks(quantity.UsualTicks("12 h"), "12 h")
		all, first = evenly(parts[2], 12, false), 12
	}
	for i := range all {
		all[i].number += first
	}
	s := &Inner{Shows: shows, Radius: d.inner}
	outer := d.unit
	d.unit *= innerShare
	s.Lines, _ = d.divided([3]int{parts[1], parts[1], parts[2]}, shows, d.inner, -1, closest, d.angle)
	from := d.inner - (lengths[Long]+gap)*d.unit
	s.Numerals, _ = d.set(all, from, -1, innerShare*d.figure, shows, d.angle)
	d.unit = outer
	if first > 0 { // they are times of the hand itself
		for i := range s.Numerals {
			s.Numerals[i].Time = quantity.ExactDial(s.Numerals[i].Share, d.hand.Shows)
		}
		for i := range s.Lines {
			s.Lines[i].Time = quantity.ExactDial(s.Lines[i].Share, d.hand.Shows)
		}
	}
	d.plate.Second = s
	d.inner = from - innerShare*d.figure*1.3
}

// innerShare is how large a second scale's marks and numerals are beside those of the first.
const innerShare = 0.62
