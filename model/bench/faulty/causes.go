package faulty

import (
	"math/rand/v2"
	"slices"
	"strings"

	"example.com/needlewright/model"
)

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

// change makes a fault in the clock of a build.
func (c *circuit) change(b *model.Build, f Fault) {
	row := causeOf(f.ID)
	names := row.of(b)
	if !slices.Contains(names, f.About) {
		panic("this build cannot have " + f.ID + " at " + f.About)
	}
	row.change(c, c.index(f), f)
}

// index is the place of what a fault is of among the hands, lamps or buttons.
func (c *circuit) index(f Fault) int {
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
