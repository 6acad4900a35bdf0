package bench

import (
	"cmp"
	"math"
	"slices"
	"strings"
)

// A Cause is what may be wrong, by the readings.
type Cause struct {
	ID          string // "nothing", "other"; joined by / where nothing splits them, by + where both are there
	About       string
	Probability float64
	Amount      float64 // NaN where it has none
	Unit        string
	Explains    []string
	Contradicts []string
	Confirm     string
	Mend        string

	entry *entry
}

// An entry is a candidate with how likely it is by the readings.
type entry struct {
	a     *candidate // nil: other
	log   float64
	share float64
	best  *seen
	ways  []seen
	with  []*entry // that no point splits from it
}

// The names of what is no fault of the table.
const (
	Nothing = "nothing"
	Other   = "other"
)

// weigh weighs every candidate against the readings, the likeliest first.
func (x *Bench) weigh(taken []Taken) (*look, []*entry) {
	k := newLook(x, nil)
	for _, t := range taken {
		if t.spot >= 0 && t.kind != unread {
			k.taken = append(k.taken, t)
		}
	}
	other := &entry{log: k.otherLog()}
	nothing := k.entry(x.all[0], x.all[0].ways)
	k.hopeless = nothing.best.most() - max(nothing.log, other.log) + margin
	entries := append([]*entry{nothing}, append(k.entries(x.all[1:]), other)...)
	share(entries)
	if k.unexplained(entries) {
		entries = append(entries, k.pairs(entries)...)
		share(entries)
	}
	slices.SortStableFunc(entries, func(a, b *entry) int { return cmp.Compare(b.share, a.share) })
	return k, entries
}

// entries weighs candidates, on all processors.
func (k *look) entries(all []*candidate) []*entry {
	entries := make([]*entry, len(all))
	beside(len(all), func(next func() (int, bool)) {
		own := newLook(k.x, k.taken)
		own.hopeless = k.hopeless
		for n, ok := next(); ok; n, ok = next() {
			entries[n] = own.entry(all[n], all[n].ways)
		}
	})
	return entries
}

// entry weighs the ways of one candidate.
func (k *look) entry(a *candidate, ways []*way) *entry {
	e := &entry{a: a, ways: make([]seen, 0, len(ways))}
	logs := make([]float64, 0, len(ways))
	for _, w := range ways {
		s := k.weighWay(a, w)
		e.ways = append(e.ways, s)
		logs = append(logs, s.log)
	}
	e.log = sumOfLogs(logs)
	for n := range e.ways {
		if e.best == nil || e.ways[n].log > e.best.log {
			e.best = &e.ways[n]
		}
	}
	return e
}

// share makes shares of logarithms.
func share(entries []*entry) {
	logs := make([]float64, len(entries))
	for n, e := range entries {
		logs[n] = e.log
	}
	all := sumOfLogs(logs)
	for _, e := range entries {
		e.share = math.Exp(e.log - all)
	}
}

// sumOfLogs is the logarithm of a sum of which the logarithms are given.
func sumOfLogs(logs []float64) float64 {
	most := math.Inf(-1)
	for _, l := range logs {
		most = max(most, l)
	}
	if math.IsInf(most, -1) {
		return most
	}
	sum := 0.0
	for _, l := range logs {
		sum += math.Exp(l - most)
	}
	return most + math.Log(sum)
}

// merged joins entries that no point of the build splits.
func (x *Bench) merged(entries []*entry) []*entry {
	var kept []*entry
	for _, e := range entries {
		if n := slices.IndexFunc(kept, func(o *entry) bool { return x.alike(o, e) }); n >= 0 {
			kept[n].with = append(kept[n].with, e)
			kept[n].share += e.share
			continue
		}
		kept = append(kept, e)
	}
	slices.SortStableFunc(kept, func(a, b *entry) int { return cmp.Compare(b.share, a.share) })
	return kept
}

// alike says whether two entries of one cause, each as the readings have it, read the same
// at every point.
func (x *Bench) alike(a, b *entry) bool {
	if a.a == nil || b.a == nil || len(a.a.causes) != 1 || len(b.a.causes) != 1 {
		return false
	}
	return x.same(a.best.w, b.best.w)
}

// named is an entry as it is told.
func (k *look) named(e *entry) Cause {
	c := Cause{Probability: e.share, Amount: math.NaN(), entry: e}
	switch {
	case e.a == nil:
		c.ID = Other
		c.Confirm = "No fault of the table explains the readings, nor do two."
		c.Mend = "Take the readings that disagree again; then look for what was built otherwise than planned."
		return c
	case len(e.a.causes) == 0:
		c.ID = Nothing
		c.Confirm = "Every reading lies within what sound parts give."
		return c
	}
	joint := len(e.a.causes) > 1
	ids, abouts := k.namesOf(e.a)
	mark := " + "
	if len(e.with) > 0 {
		mark = " / "
		for _, o := range e.with {
			i, a := k.namesOf(o.a)
			ids, abouts = append(ids, i...), append(abouts, a...)
		}
	}
	c.ID, c.About = joined(ids, abouts, mark)
	c.Confirm, c.Mend = e.a.causes[0].confirm, e.a.causes[0].mend
	if joint {
		c.Confirm += " " + e.a.causes[1].confirm
		c.Mend += " " + e.a.causes[1].mend
	}
	if !joint && len(e.with) == 0 {
		c.Amount, c.Unit = k.amount(e)
	}
	k.explain(&c, e)
	return c
}

// namesOf are the ids of a candidate's causes, and what each is about.
func (k *look) namesOf(a *candidate) (ids, abouts []string) {
	for n, c := range a.causes {
		about := ""
		if of := a.faults[n].Of; of != "" {
			about = k.x.build.NameOf(of, a.index[n])
		}
		ids, abouts = append(ids, c.id), append(abouts, about)
	}
	return ids, abouts
}

// joined joins ids in alphabetical order, and what they are about along with them.
func joined(ids, abouts []string, mark string) (id, about string) {
	if len(ids) == 1 {
		return ids[0], abouts[0]
	}
	order := make([]int, len(ids))
	for n := range order {
		order[n] = n
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Or(cmp.Compare(ids[a], ids[b]), cmp.Compare(abouts[a], abouts[b])) })
	var i, a []string
	for _, n := range order {
		i, a = append(i, ids[n]), append(a, abouts[n])
	}
	return strings.Join(i, mark), strings.Join(a, mark)
}

// amount is what the readings make of a cause's amount, by its best way.
func (k *look) amount(e *entry) (amount float64, unit string) {
	s := e.best
	f := s.w.setup.faults[0]
	if s.w.width == 0 && len(f.fault.Amounts) == 0 {
		return math.NaN(), ""
	}
	off := 0.0 // of the unknown that is the amount, in deviations
	at := len(k.x.unknowns)
	if s.w.width > 0 && len(s.numbers) > 0 {
		for n, t := range s.numbers {
			off += s.w.rows[at][k.taken[t].spot] * s.residual[n]
		}
	}
	off = min(max(off, -2), 2) * s.w.width
	unit = e.a.causes[0].unit
	amount = f.amount + off
	if f.inlog {
		amount = f.amount * math.Exp(off)
	}
	if unit == "%" {
		unit = ""
	}
	return amount, unit
}

// explain says which readings that a sound clock does not give a cause does, and which
// contradict it.
func (k *look) explain(c *Cause, e *entry) {
	const fits, contradicts = 2.5, 3.5 // deviations
	for n := range k.taken {
		t := &k.taken[n]
		if t.Before {
			continue
		}
		off := k.off(e.best.w, t)
		switch {
		case off > contradicts:
			c.Contradicts = append(c.Contradicts, t.At)
		case off <= fits && k.off(k.x.sound, t) > fits:
			c.Explains = append(c.Explains, t.At)
		}
	}
}

// off is how many deviations a reading is from what a way makes of it.
func (k *look) off(w *way, t *Taken) float64 {
	chance, is := k.x.chance(w, t)
	switch {
	case !is:
		value, _ := w.told(t.spot, t.Value)
		return math.Abs(value-w.mean[t.spot]) / k.x.deviation(w, t)
	case chance < 0.05:
		return math.Inf(1)
	}
	return 0
}
