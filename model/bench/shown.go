package bench

import (
	"math"
	"strings"

	"example.com/needlewright/model"
	"example.com/needlewright/model/quantity"
)

// A Place is where a test point stands among all others: what it is called, whose it is,
// and the unit in which people read it.
type Place struct {
	Label string
	Owner string // "hours", "lamp seconds"; "": the clock
	Hand  int    // -1: of no hand
	Unit  quantity.Unit

	IsLevel bool   // it counts only whether it is none, as planned or far more
	Caution string // the field whose cautions hold here too, "" where none's do
}

// PlaceOf returns it of a point by its id; false where the build has no such point.
func (x *Bench) PlaceOf(id string) (Place, bool) {
	j := x.spotBy(id)
	if j < 0 {
		return Place{Hand: -1}, false
	}
	s := &x.spots[j]
	p := Place{Label: s.label, Hand: s.hand, Unit: s.unit, IsLevel: s.with == levels, Caution: s.caution}
	switch s.of {
	case "hand":
		p.Owner = x.build.Hands[s.index].Name
	case "lamp", "button":
		p.Owner = s.of + " " + x.build.NameOf(s.of, s.index)
	}
	return p, true
}

// CalledOf is a point as a sentence names it: "Pin at top, hours".
func (x *Bench) CalledOf(id string) string {
	p, ok := x.PlaceOf(id)
	switch {
	case !ok:
		return id
	case p.Owner == "" || p.Hand >= 0 && len(x.build.Hands) == 1:
		return p.Label
	}
	return p.Label + ", " + p.Owner
}

// spotBy is the spot of an id, -1 where there is none.
func (x *Bench) spotBy(id string) int {
	for j := range x.spots {
		if x.spots[j].id == id {
			return j
		}
	}
	return -1
}

// Plainly puts the ids of causes in a text in words: "It tells pin stuck high from a sound
// clock."
func Plainly(text string) string {
	parts := strings.Fields(text)
	for i, p := range parts {
		bare, dot := strings.TrimSuffix(p, "."), ""
		if bare != p {
			dot = "."
		}
		switch {
		case bare == Nothing:
			bare = "a sound clock"
		case bare == Other:
			bare = "none of these"
		case causeOf(bare) != nil:
			bare = strings.ReplaceAll(bare, "_", " ")
		}
		parts[i] = bare + dot
	}
	return strings.Join(parts, " ")
}

// TitleOf is a cause in words, with its amount and, in a build of several hands or lamps,
// whose it is: "Shunt left, hours, 38 Ω".
func (x *Bench) TitleOf(c *Cause) string {
	switch c.ID {
	case Nothing:
		return "Nothing: a sound clock"
	case Other:
		return "None of these"
	}
	text := titleOf(c.ID)
	owner := c.owner()
	alone := len(x.build.Hands) == 1 && owner == x.build.Hands[0].Name || len(x.build.Lamps) == 1 && owner == x.build.Lamps[0].Name
	if strings.Trim(owner, " /+") != "" && !alone {
		text += ", " + owner
	}
	if amount := x.amountText(c); amount != "" {
		text += ", " + amount
	}
	return text
}

// owner is what a cause is about, said once where its parts are about the same.
func (c *Cause) owner() string {
	for _, mark := range []string{" / ", " + "} {
		parts := strings.Split(c.About, mark)
		same := true
		for _, p := range parts {
			same = same && p == parts[0]
		}
		if len(parts) > 1 && same {
			return parts[0]
		}
	}
	return c.About
}

// amountText is a cause's amount in its unit, "" where it has none.
func (x *Bench) amountText(c *Cause) string {
	if math.IsNaN(c.Amount) || c.Amount == 0 || c.entry == nil || c.entry.a == nil || len(c.entry.a.causes) != 1 {
		return ""
	}
	const digits = 2
	k := c.entry.a.causes[0]
	switch {
	case k.place:
		return ""
	case k.times != nil:
		return k.times(x.build, x.circuit, c.entry.a.index[0], c.Amount)
	case k.unit == "%":
		return quantity.Show(c.Amount, quantity.Percent, digits)
	case k.unit == "Ω":
		return quantity.Show(c.Amount, quantity.Ohms, digits)
	case k.unit == "A":
		return quantity.Show(c.Amount, quantity.Amperes, digits)
	case k.whole:
		return quantity.Show(math.Round(c.Amount), quantity.Times, digits)
	}
	return "× " + quantity.Show(c.Amount, quantity.Times, digits)
}

// Verdicts are the points and the readings of a report, each judged by itself: what does
// not need to be weighed.
func (x *Bench) Verdicts(readings []model.Reading) *Report {
	r := &Report{}
	for j := range x.spots {
		r.Points = append(r.Points, x.point(j))
	}
	taken := x.take(readings)
	for n := range taken {
		r.Readings = append(r.Readings, x.verdict(&taken[n]))
	}
	return r
}

// IsWeighed says whether any reading counts: one of a point of this build that can be read
// and was taken since the last repair.
func (r *Report) IsWeighed() bool {
	for i := range r.Readings {
		if t := &r.Readings[i]; !t.Before && t.Verdict != Foreign && t.Verdict != Unread {
			return true
		}
	}
	return false
}

// NeedleAt is where a hand's needle stands at a code, a share of its scale, in the clock
// as a cause has it; false where a cause says nothing of that: it may be anything.
func (x *Bench) NeedleAt(c *Cause, hand int, code float64) (place float64, ok bool) {
	if c.entry == nil || c.entry.best == nil || hand < 0 || hand >= len(x.circuit.Hands) {
		return 0, false
	}
	u := c.entry.best.w.setup
	if len(u.faults) == 1 && !math.IsNaN(c.Amount) {
		one := u.faults[0]
		one.amount = c.Amount
		u.faults = []placed{one}
	}
	s, _ := newWorld(x.build).scene(&u, &x.build.Meter)
	place = s.needle(hand, code)
	return place, !math.IsNaN(place)
}

// Shows is a value of a point as a person reads it.
func (p *Place) Shows(value float64, digits int) string { return quantity.Show(value, p.Unit, digits) }

// nameOfPlaced is what a field of an element is called beside its label.
func nameOfPlaced(b *model.Build, f *model.Field, index int) string {
	if list := f.List(); list == "lamp" || list == "hand" && len(b.Hands) > 1 {
		return ", " + b.NameOf(list, index)
	}
	return ""
}

// A plan's value has as many digits as its band lets be seen, these at least and at most.
const leastDigits, usualDigits, mostDigits = 2, 4, 5

// Digits are how many of a point's value its band lets be seen.
func (p *Point) Digits() int {
	half := (p.High - p.Low) / 2
	switch {
	case p.Value == 0:
		return leastDigits
	case !(half > 0):
		return usualDigits
	}
	return max(leastDigits, min(int(math.Ceil(math.Log10(math.Abs(p.Value)/half)))+1, mostDigits))
}

// Sound returns what a sound clock reads at a point of this place, and between what 95 of 100
// do: "4.66 V", "4.60 V … 4.71 V". Of words that are read it is one of them, without a band.
func (p *Place) Sound(at *Point) (value, band string) {
	if at.Words != nil {
		return "one of: " + strings.Join(at.Words, ", "), ""
	}
	digits := max(3, at.Digits()+1) // one more: the ends lie close together
	return p.Shows(at.Value, at.Digits()), p.Shows(at.Low, digits) + " … " + p.Shows(at.High, digits)
}

// A Told is a cause of the table as it is explained to who looks it up, whatever the build.
type Told struct {
	ID      string
	Title   string // "Shunt left"
	Of      string // "hand", "lamp", "button": what can have it; "": the clock
	Confirm string // how it shows
	Mend    string
}

// AllTold returns all causes, in the order of the table.
func AllTold() []Told {
	all := make([]Told, len(causes))
	for i := range causes {
		c := &causes[i]
		all[i] = Told{ID: c.id, Title: titleOf(c.id), Of: faultOf(c.id).Of, Confirm: c.confirm, Mend: c.mend}
	}
	return all
}

// titleOf is the id of a cause in words.
func titleOf(id string) string {
	text := Plainly(id)
	return strings.ToUpper(text[:1]) + text[1:]
}
