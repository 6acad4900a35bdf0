// Package bench compares a built clock with its plan: test points, what a sound clock reads
// there, the readings that were taken, the causes that explain them, and what to measure
// next. catalogue.md, "Test points" and "Causes", is its contract.
package bench

import (
	"math"
	"slices"
	"strings"

	"example.com/needlewright/calc"
	"example.com/needlewright/model"
)

// A Report is what the bench says: of every test point, of the readings, of what may be
// wrong and of what to measure next.
type Report struct {
	Points   []Point
	Readings []Read
	Causes   []Cause
	Next     []Step
}

// A Point is a test point with what a sound clock of this build reads there.
type Point struct {
	ID, Unit    string
	Value       float64
	Low, High   float64 // 95 % of sound clocks, as the multimeter reads them
	Least, Most float64 // all of them
	Words       []string
	State       string
	Probes      string
	Mind        string
	Cost        float64
}

// A Verdict is what a reading says of the plan.
type Verdict string

// The verdicts.
const (
	Inside  Verdict = "inside"  // its 95 % band
	Edge    Verdict = "edge"    // inside what all tolerances together allow
	Outside Verdict = "outside" // of that
	Foreign Verdict = "foreign" // there is no such point
	Unread  Verdict = "unread"  // there is no value, or none that can be read
)

// A Read is a reading with its verdict.
type Read struct {
	Taken
	Verdict   Verdict
	Low, High float64
	Word      string
}

// Judge weighs the readings of a build that differs from the bench's own in its readings
// alone.
func (x *Bench) Judge(readings []model.Reading) *Report {
	r := &Report{}
	for j := range x.spots {
		r.Points = append(r.Points, x.point(j))
	}
	taken := x.take(readings)
	for n := range taken {
		r.Readings = append(r.Readings, x.verdict(&taken[n]))
	}
	k, entries := x.weigh(taken)
	if slices.ContainsFunc(k.taken, func(t Taken) bool { return !t.Before }) {
		k.hold(taken, entries)
		for _, e := range x.merged(entries) {
			r.Causes = append(r.Causes, k.named(e))
		}
	}
	r.Next = k.next(taken, entries)
	return r
}

// Unexplained are the test points whose readings are outside, and which a cause does not
// explain: to be read again. Of a sound clock one reading in twenty is so by chance.
func (r *Report) Unexplained(c *Cause) (ids []string) {
	for i := range r.Readings {
		t := &r.Readings[i]
		if t.Verdict == Outside && !t.Before && !slices.Contains(c.Explains, t.At) && !slices.Contains(c.Contradicts, t.At) && !slices.Contains(ids, t.At) {
			ids = append(ids, t.At)
		}
	}
	return ids
}

// point is a test point as it is shown.
func (x *Bench) point(j int) Point {
	p := &x.spots[j]
	out := Point{ID: p.id, Unit: p.unit.Base(), Words: p.words, State: p.state, Probes: x.probesAt(p), Mind: p.mind, Cost: p.cost,
		Value: math.NaN(), Low: math.NaN(), High: math.NaN(), Least: math.NaN(), Most: math.NaN()}
	if p.words != nil {
		return out
	}
	out.Value = x.sound.mean[j]
	out.Low, out.High = x.band(j, math.NaN(), false)
	out.Least, out.Most = x.band(j, math.NaN(), true)
	return out
}

// probesAt says where the probes go. Behind two transistors that switch the hand the plan's
// pin is where their outputs meet: the pin itself is turned round.
func (x *Bench) probesAt(p *spot) string {
	if p.hand < 0 || x.build.Hands[p.hand].Drive.By != "switch" {
		return p.probes
	}
	return strings.Replace(p.probes, "pin to ground", "where the two transistors meet, to ground", 1)
}

// band is what sound clocks read at a point: 95 % of them, or all.
func (x *Bench) band(j int, digit float64, all bool) (low, high float64) {
	p, w := &x.spots[j], x.sound
	limit := math.Sqrt(3) // of an even spread, its deviation's
	limits := limit * x.noise(w, j, digit)
	var spread calc.Spread
	spread.Add(limits, limits)
	rows, most, cells := w.rows, reach{}, reach{}
	if w.cells != nil { // the last is of the cells, and far from straight
		rows, cells, most = rows[:len(rows)-1], w.cells[0][j], w.cells[1][j]
	}
	for _, row := range rows {
		by := limit * math.Abs(row[j])
		limits += by
		spread.Add(by, by)
	}
	low = w.mean[j] - math.Hypot(w.mean[j]-spread.Low(w.mean[j]), cells.down)
	high = w.mean[j] + math.Hypot(spread.High(w.mean[j])-w.mean[j], cells.up)
	if all {
		low, high = w.mean[j]-limits-most.down, w.mean[j]+limits+most.up
	}
	if t := w.turnAt(j); t != nil && (all || t.chance > tail) {
		by := t.mean - w.mean[j]
		low, high = min(low, low+by), max(high, high+by)
	}
	if w.mean[j] >= 0 && !p.isPlace() && p.with != moving && p.with != days {
		low = max(low, 0)
	}
	return low, high
}

// verdict judges a reading by itself.
func (x *Bench) verdict(t *Taken) Read {
	r := Read{Taken: *t, Low: math.NaN(), High: math.NaN()}
	switch t.kind {
	case foreign:
		r.Verdict = Foreign
		return r
	case unread:
		r.Verdict = Unread
		return r
	case word:
		p := &x.spots[t.spot]
		r.Word = p.words[t.word]
		switch chance := x.sound.chance[t.spot][t.word]; {
		case chance > 0.3:
			r.Verdict = Inside
		case chance > 0.05:
			r.Verdict = Edge
		default:
			r.Verdict = Outside
		}
		return r
	}
	r.Low, r.High = x.band(t.spot, t.digit, false)
	least, most := x.band(t.spot, t.digit, true)
	if x.spots[t.spot].with == levels {
		plan := max(x.sound.mean[t.spot], leastLevel)
		r.Low, r.High = plan/4, plan*4
		if x.sound.mean[t.spot] <= leastLevel {
			r.Low = 0
		}
		least, most = r.Low, r.High
	}
	none := x.spots[t.spot].with.nothing()
	switch v := t.Value; {
	case v >= r.Low && v <= r.High, math.Abs(v) <= none && r.Low <= none:
		r.Verdict = Inside
	case v >= least && v <= most:
		r.Verdict = Edge
	default:
		r.Verdict = Outside
	}
	return r
}
