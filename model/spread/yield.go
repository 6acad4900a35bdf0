package spread

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"

	"example.com/needlewright/model"
	"example.com/needlewright/model/quantity"
)

// A Yield is what comes of many kits of a build, each of parts that are anywhere
// within their tolerances, each trimmed by its builder.
type Yield struct {
	Build  *model.Build
	Kits   int
	Seed   uint64
	Inputs int // values with a tolerance; 0: every kit is alike
	TrimUp int // kits of which every hand does
	Hands  []HandYield

	// nil where the build has no such result
	Rate, LifeOn, LifeMixed *Histogram
}

// A HandYield is what comes of one hand of the kits.
type HandYield struct {
	Name       string
	TrimUp     int  // kits whose trimmer brings full scale
	More, Less Lack // of the others, those that need more than it gives, and less than none of it
	Travel     *Histogram
	Error      *Histogram // dial_error
	Tighter    []Tighter  // the most gain first
	Before     Gain       // what Tighter is to be held against
}

// A Lack is what kits need that do not trim up.
type Lack struct {
	Kits     int
	Trimmers []Other // the least trimmer that does, the fixed resistor left
	Fixed    []Other // the nearest fixed resistor that does, the trimmer left
}

// An Other is a part, Ω, in place of the kit's own, and how many kits need it.
type Other struct {
	Value float64
	Kits  int
}

// A Tighter is what a hand would come to were an input's tolerance halved, all
// else of each kit as it was.
type Tighter struct {
	Input
	Gain
}

// A Gain is what the first kits come to, MostCompared at most.
type Gain struct {
	Kits, TrimUp int
	Error95      float64 // min, the dial_error of which 95 % are below
}

// Limits of NewYield.
const (
	MostKits     = 1_000_000
	MostCompared = 100_000 // kits that are computed again for each tolerance halved
	blockOfKits  = 1000    // of one stream of random numbers
)

// NewYield makes up kits, 1 to MostKits, of a build without problems, on all
// cores: the same seed gives the same yield on any number of them. progress, where
// it is not nil, is told how many kits are done, one call at a time. Where ctx ends
// first the error is its cause, and says how far it came.
func NewYield(ctx context.Context, b *model.Build, kits int, seed uint64, progress func(done int)) (*Yield, error) {
	switch {
	case kits < 1 || kits > MostKits:
		return nil, fmt.Errorf("%d kits: allowed are 1 to %d", kits, MostKits)
	case len(b.Hands) == 0:
		return nil, errors.New("the build has no hand: there is nothing to trim")
	}
	p := newProduction(b, kits, seed)
	atMost := func(blocks int) int { return min(blocks*blockOfKits, kits) }
	done, err := inBlocks(ctx, (kits+blockOfKits-1)/blockOfKits, p.builder, func(blocks int) {
		if progress != nil {
			progress(atMost(blocks))
		}
	})
	switch {
	case err != nil && ctx.Err() != nil:
		return nil, fmt.Errorf("ended after %d of %d kits: %w", atMost(done), kits, err)
	case err != nil:
		return nil, err
	}
	return p.yield()
}

// yield counts what the builders made.
func (p *production) yield() (*Yield, error) {
	total := p.tallies[0]
	for _, t := range p.tallies[1:] {
		total.add(t)
	}
	y := &Yield{Build: p.build, Kits: p.kits, Seed: p.seed, Inputs: len(inputs(p.build)), TrimUp: total.trimUp}
	y.Hands = make([]HandYield, len(p.hands))
	work := []func(){
		func() { y.Rate = newHistogram(p.rate, quantity.SecondsPerDay) },
		func() { y.LifeOn = newHistogram(p.lifeOn, quantity.Hours) },
		func() { y.LifeMixed = newHistogram(p.lifeMixed, quantity.Hours) },
	}
	for i := range p.hands {
		work = append(work, p.hands[i].results(&total.hands[i], &y.Hands[i])...)
	}
	_, err := inBlocks(context.Background(), len(work), func() func(int) { return func(i int) { work[i]() } }, nil)
	for i := range y.Hands {
		y.Hands[i].sort()
	}
	return y, err
}

// results are what works out a hand's yield, in any order.
func (p *handProduction) results(t *handTally, y *HandYield) []func() {
	compared := min(len(p.errors), MostCompared)
	y.Name, y.TrimUp = p.name, t.trimUp
	y.More = Lack{t.more, others(model.Trimmers, t.trimmers), others(fixedResistors, t.fixedMore)}
	y.Less = Lack{Kits: t.less, Fixed: others(fixedResistors, t.fixedLess)}
	y.Before = Gain{Kits: compared, TrimUp: t.compared}
	y.Tighter = make([]Tighter, len(p.tighter))
	work := []func(){
		func() {
			y.Before.Error95 = percentileOf(slices.Clone(p.errors[:compared]), 0.95)
			y.Error = newHistogram(p.errors, quantity.Minutes)
		},
		func() { y.Travel = newHistogram(p.travels, quantity.Percent) },
	}
	for k := range p.tighter {
		c := &p.tighter[k]
		work = append(work, func() {
			y.Tighter[k] = Tighter{c.input, Gain{compared, t.tighter[k], percentileOf(c.errors, 0.95)}}
		})
	}
	return work
}

// sort puts first what brings most kits up, and of equals what makes the error
// least.
func (h *HandYield) sort() {
	slices.SortStableFunc(h.Tighter, func(a, b Tighter) int {
		return cmp.Or(cmp.Compare(b.TrimUp, a.TrimUp), cmp.Compare(a.Error95, b.Error95))
	})
}

// Worth are the inputs of which a tighter one is worth a line: of a thousand kits one more
// at least trims up, or none less and the error of 95 % falls by a fiftieth and a second.
// Where a hand is off by its values tighter parts make fewer kits trim up, not more.
func (h *HandYield) Worth() []Tighter {
	const second = 1.0 / 60 // min
	return slices.DeleteFunc(slices.Clone(h.Tighter), func(t Tighter) bool {
		more, less := t.TrimUp-h.Before.TrimUp, h.Before.Error95-t.Error95
		return more*1000 < t.Kits && (more < 0 || less < 0.02*h.Before.Error95 || less < second)
	})
}
