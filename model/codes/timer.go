package codes

import (
	"fmt"
	"math"
	"strconv"

	"example.com/needlewright/calc"
	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/quantity"
)

// A Timer is the counter behind the crystal, and what keeps it right.
type Timer struct {
	Clock             float64 // Hz, the crystal's nominal frequency
	Prescale          int
	Reload, Bits      int
	Lost              int     // counts lost at each load
	Tick, TickCounted float64 // s between two overflows; s that the firmware adds at each
	Rate              float64 // s/day, the plan's
	Measured          bool    // the crystal's frequency was measured: the rate is known
	Trim              Trim
	Loads             []Load // what to change so that loading costs no count
}

// A Trim is what corrects a rate in whole numbers: so much is added every so many ticks.
// Counts are added to what the counter is loaded with, ticks to those that are counted.
type Trim struct {
	Add   int64
	Unit  string // "counts" or "ticks"
	Every int64
	Left  float64 // s/day, the rate then
}

// A Load is a way to have the counter started anew without a loss.
type Load struct {
	How     string
	Changes [][2]string // path and value, as --set takes them
}

// counts are those of a tick without any that are lost.
func (t *Timer) counts() int64 { return int64(1)<<t.Bits - int64(t.Reload) }

func timerOf(b *model.Build, p *circuit.Plan) Timer {
	x, c := &b.Crystal, &p.Circuit.Crystal
	t := Timer{
		Clock: c.Frequency, Prescale: x.Prescale, Reload: x.Reload, Bits: x.CounterBits, Lost: x.LostCounts,
		Tick: p.Crystal.TickPeriod, TickCounted: c.TickCounted, Rate: p.Crystal.Rate, Measured: x.Measured.Given(),
	}
	t.Trim = t.trim()
	t.loads(x)
	return t
}

// closeEnough is how near a trim is to come, s/day: far below what the room's temperature does.
// Common practice, no source.
const closeEnough = 0.01

// trim returns what corrects the rate: of the numbers that leave closeEnough or less those
// with the least every, then the least add. In counts where the counter is loaded anyway and
// its load then fits it, else in ticks.
func (t *Timer) trim() Trim {
	if math.IsNaN(t.Rate) || math.Abs(t.Rate) <= closeEnough {
		return Trim{0, "ticks", 1, t.Rate}
	}
	if trim := t.inCounts(); trim != nil {
		return *trim
	}
	each := secondsADay * t.TickCounted / t.Tick // s/day by which a tick more at every tick changes the rate
	add, every := calc.Simplest((-t.Rate-closeEnough)/each, (-t.Rate+closeEnough)/each)
	if every > math.MaxUint32 || add < -math.MaxInt32 || add >= math.MaxInt32 { // a program would count more than it has room for
		return Trim{0, "ticks", 1, t.Rate}
	}
	return Trim{add, "ticks", every, t.Rate + each*float64(add)/float64(every)}
}

const secondsADay = 86400

// inCounts is a trim in counts, nil where there is none.
func (t *Timer) inCounts() *Trim {
	counts := float64(t.counts()) + float64(t.Lost)
	fewer := func(rate float64) float64 { // counts of a tick, for a clock that gains by so much
		gain := (rate - t.Rate) / secondsADay
		return counts - counts/(1+gain*t.Tick/t.TickCounted)
	}
	low, high := fewer(-closeEnough), fewer(closeEnough)
	if t.Reload == 0 || !(low <= high) {
		return nil
	}
	add, every := calc.Simplest(low, high)
	load := int64(t.Reload) + add
	if load < 0 || load >= int64(1)<<t.Bits || every > math.MaxUint32 {
		return nil
	}
	tick := t.Tick * (counts - float64(add)/float64(every)) / counts
	return &Trim{add, "counts", every, t.Rate + secondsADay*t.TickCounted*(1/tick-1/t.Tick)}
}

// loads enters the ways to lose no count: with each the clock goes as if none were lost.
// Common practice, no source.
func (t *Timer) loads(x *model.Crystal) {
	if t.Lost == 0 {
		return
	}
	none, whole := [2]string{"crystal.lost_counts", "0"}, int64(1)<<t.Bits
	t.Loads = []Load{{
		fmt.Sprintf("Let the counter run free, and have a compare value move on by %d counts at each tick: nothing is loaded, so nothing is lost.", t.counts()),
		[][2]string{none},
	}}
	if load := int64(t.Reload) + int64(t.Lost); load < whole {
		early := Load{fmt.Sprintf("Load %d in place of %d: what is lost each time is counted already.", load, t.Reload), [][2]string{{"crystal.reload", strconv.FormatInt(load, 10)}}}
		if !x.TickCounted.Given() { // else it would be taken to be that of the new load
			early.Changes = append(early.Changes, [2]string{"crystal.tick_counted", secondsText(t.TickCounted)})
		}
		t.Loads = append(t.Loads, early)
	}
	if t.Reload == 0 {
		return
	}
	longer := t.TickCounted * float64(whole) / float64(t.counts())
	free := Load{"Load nothing: the counter overflows by itself, every " + quantity.Show(longer, quantity.Seconds, 4) + ", and that is what the firmware then adds.", [][2]string{{"crystal.reload", "0"}, none}}
	if x.TickCounted.Given() {
		free.Changes = append(free.Changes, [2]string{"crystal.tick_counted", secondsText(longer)})
	}
	t.Loads = append(t.Loads, free)
}

// secondsText is a time as the file has it.
func secondsText(s float64) string {
	return quantity.Format(quantity.Value{Number: s}, quantity.Seconds)
}
