package faulty

import (
	"math"
	"math/rand/v2"
	"slices"

	"example.com/needlewright/model"
)

// A cause is a row of the contract's table, or one of ours that is not in it.
type cause struct {
	id      string
	of      func(b *model.Build) []string                            // what it can be of; nil: nothing
	amount  func(b *model.Build, f Fault, random *rand.Rand) float64 // within its range
	change  func(c *circuit, i int, f Fault)                         // i: the hand, lamp or button
	dagger  bool                                                     // the trimmer may have been set with it
	factor  func(random *rand.Rand) float64
	places  func(b *model.Build, about string) []int
	foreign bool
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
			return drawer{random}.part(v)
		}
		return otherwise(b, f, random)
	}
}

// Where a change is made.

// onHand makes a change of one hand.
func onHand(change func(h *hand, f Fault)) func(c *circuit, i int, f Fault) {
	return func(c *circuit, i int, f Fault) { change(&c.hands[i], f) }
}

// onSupply makes a change of the supply.
func onSupply(change func(p *supply, f Fault)) func(c *circuit, i int, f Fault) {
	return func(c *circuit, _ int, f Fault) { change(&c.supply, f) }
}

func onLoad(change func(l *load, f Fault)) func(c *circuit, i int, f Fault) {
	return func(c *circuit, _ int, f Fault) { change(&c.load, f) }
}

func onLamp(change func(l *lamp, f Fault)) func(c *circuit, i int, f Fault) {
	return func(c *circuit, i int, f Fault) { change(&c.lamps[i], f) }
}

func onButton(change func(b *button, f Fault)) func(c *circuit, i int, f Fault) {
	return func(c *circuit, i int, f Fault) { change(&c.buttons[i], f) }
}

func onCrystal(change func(x *crystal, f Fault)) func(c *circuit, i int, f Fault) {
	return func(c *circuit, _ int, f Fault) { change(&c.crystal, f) }
}

func lampsWhere(is func(l *model.Lamp) bool) func(b *model.Build) []string {
	return func(b *model.Build) []string {
		var names []string
		for i := range b.Lamps {
			if is(&b.Lamps[i]) {
				names = append(names, b.Lamps[i].Name)
			}
		}
		return names
	}
}

func anyButton(b *model.Build) []string {
	var names []string
	for _, x := range b.Buttons {
		names = append(names, x.Name)
	}
	return names
}
