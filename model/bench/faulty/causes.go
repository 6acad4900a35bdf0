package faulty

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"

	"example.com/needlewright/model"
)

// A cause is a row of the contract's table, or one of ours that is not in it.
type cause struct {
	id      string
	of      func(b *model.Build) []string                            // what it can be of; nil: nothing
	amount  func(b *model.Build, f Fault, random *rand.Rand) float64 // within its range
	change  func(c *Clock, i int, f Fault)                           // i: the hand, lamp or button
	dagger  bool                                                     // the trimmer may have been set with it
	factor  func(random *rand.Rand) float64
	places  func(b *model.Build, about string) []int
	foreign bool
}

// Faults returns every cause of the contract's table that this build can have, one for
// each hand, lamp, button or pair of pins, without amounts; not "nothing", not "other".
func Faults(b *model.Build) []Fault { return faultsOf(b, false) }

// Foreign returns faults that are outside the contract's table, of kinds that leave a
// trace that no cause of the table and no two of them explain well.
func Foreign(b *model.Build) []Fault { return faultsOf(b, true) }

func faultsOf(b *model.Build, foreign bool) []Fault {
	var all []Fault
	for _, row := range causes() {
		if row.foreign != foreign {
			continue
		}
		if row.id == "pins_swapped" {
			all = append(all, swaps(b)...)
			continue
		}
		for _, about := range row.of(b) {
			all = append(all, Fault{ID: row.id, About: about})
		}
	}
	return all
}

// MayBeTrimmedWith says whether the trimmer may have been set with such a fault there.
func MayBeTrimmedWith(id string) bool { return causeOf(id).dagger }

func causes() []cause {
	return slices.Concat(meterCauses, driveCauses, firmwareCauses, supplyCauses, loadCauses, timeCauses, foreignCauses)
}

// causeOf is the row of an id; it panics where there is none, since tests alone ask.
func causeOf(id string) cause {
	all := causes()
	i := slices.IndexFunc(all, func(row cause) bool { return row.id == id })
	if i < 0 {
		panic("no such fault: " + id)
	}
	return all[i]
}

// complete draws what a fault leaves open.
func complete(b *model.Build, f Fault, random *rand.Rand) Fault {
	row := causeOf(f.ID)
	if f.Place == 0 && row.places != nil {
		places := row.places(b, f.About)
		f.Place = places[random.IntN(len(places))]
	}
	if f.Amount == 0 && row.amount != nil {
		f.Amount = row.amount(b, f, random)
	}
	if f.Factor == 0 && row.factor != nil {
		f.Factor = row.factor(random)
	}
	if row.dagger {
		f.TrimmedWithIt = f.TrimmedWithIt || random.IntN(2) == 0
	}
	return f
}

// change makes a fault in the clock.
func (c *Clock) change(f Fault) {
	row := causeOf(f.ID)
	names := row.of(c.build)
	if !slices.Contains(names, f.About) {
		panic("this build cannot have " + f.ID + " at " + f.About)
	}
	row.change(c, c.index(f), f)
}

// index is the place of what a fault is of among the hands, lamps or buttons.
func (c *Clock) index(f Fault) int {
	about, _, _ := strings.Cut(f.About, " + ")
	same := func(name string) bool { return name == about }
	switch {
	case strings.HasPrefix(f.ID, "lamp"):
		return slices.IndexFunc(c.lamps, func(l lamp) bool { return same(l.name) })
	case strings.HasPrefix(f.ID, "button_"):
		return slices.IndexFunc(c.buttons, func(b button) bool { return same(b.name) })
	}
	return slices.IndexFunc(c.hands, func(h hand) bool { return same(h.name) })
}

// What a cause can be of.

func theClock(*model.Build) []string { return []string{""} }

func handsWhere(is func(h *model.Hand) bool) func(b *model.Build) []string {
	return func(b *model.Build) []string {
		var names []string
		for i := range b.Hands {
			if is(&b.Hands[i]) {
				names = append(names, b.Hands[i].Name)
			}
		}
		return names
	}
}

var anyHand = handsWhere(func(*model.Hand) bool { return true })

func clockWhere(is func(b *model.Build) bool) func(b *model.Build) []string {
	return func(b *model.Build) []string {
		if is(b) {
			return []string{""}
		}
		return nil
	}
}

var (
	withCells     = clockWhere(func(b *model.Build) bool { return b.Battery.HasCells() })
	withConverter = clockWhere(hasConverter)
	withTrimmer   = handsWhere(func(h *model.Hand) bool { return h.Drive.Trimmer.Number > 0 })
	withFixed     = handsWhere(func(h *model.Hand) bool { return h.Drive.Fixed.Number > 0 })
	withCapacitor = handsWhere(func(h *model.Hand) bool { return h.Drive.Capacitor.Number > 0 })
)

func hasConverter(b *model.Build) bool {
	return b.Battery.HasCells() && (b.Converter.Kind == "boost" || b.Converter.Kind == "linear")
}

func handOf(b *model.Build, name string) *model.Hand {
	i := slices.IndexFunc(b.Hands, func(h model.Hand) bool { return h.Name == name })
	return &b.Hands[i]
}

// Ranges.

type amountOf = func(b *model.Build, f Fault, random *rand.Rand) float64

// uniform is anything within a range.
func uniform(low, high float64) amountOf {
	return func(_ *model.Build, _ Fault, random *rand.Rand) float64 { return drawer{random}.within(low, high) }
}

// eitherWay is the same, with either sign.
func eitherWay(low, high float64) amountOf {
	return func(_ *model.Build, _ Fault, random *rand.Rand) float64 {
		return drawer{random}.within(low, high) * float64(1-2*random.IntN(2))
	}
}

// factor is any factor within a range, each alike.
func factor(low, high float64) amountOf {
	return func(_ *model.Build, _ Fault, random *rand.Rand) float64 { return logWithin(random, low, high) }
}

// factors is one of two ranges of factors, each factor alike.
func factors(low, high, low2, high2 float64) amountOf {
	return func(_ *model.Build, _ Fault, random *rand.Rand) float64 {
		first := math.Log(high / low)
		if random.Float64()*(first+math.Log(high2/low2)) < first {
			return logWithin(random, low, high)
		}
		return logWithin(random, low2, high2)
	}
}

// oneOf is one of a few.
func oneOf(amounts ...float64) amountOf {
	return func(_ *model.Build, _ Fault, random *rand.Rand) float64 { return amounts[random.IntN(len(amounts))] }
}

// timesCoil is a resistance, a factor of the coil.
func timesCoil(low, high float64) amountOf {
	return func(b *model.Build, f Fault, random *rand.Rand) float64 {
		return handOf(b, f.About).Meter.Coil.Number * logWithin(random, low, high)
	}
}

// inside is the value of what was found in the case, or else something within a range.
func inside(otherwise amountOf) amountOf {
	return func(b *model.Build, f Fault, random *rand.Rand) float64 {
		if v := handOf(b, f.About).Meter.Internal; v.Given() {
			return v.Number
		}
		return otherwise(b, f, random)
	}
}
