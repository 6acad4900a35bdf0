package judge

import (
	"math"

	"example.com/needlewright/calc"
	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
)

// A filterParts is a capacitor, F, 0 for none, and the series parts it goes
// with; it is behind the stage resistor, or at the coil.
type filterParts struct {
	capacitor float64
	behind    bool
	series    seriesParts
}

// filterOptions are capacitors of E6: none where there is no need of one, at the
// coil, or behind a stage resistor of their own, for which the fixed resistor
// makes room.
func (s subject) filterOptions() [][]model.Change {
	list := s.filterList(Anywhere)
	return list.changes(s.filterChanges)
}

// A Place is where a filter's capacitor may stand.
type Place uint8

// The places. Anywhere is at the coil, and behind a stage resistor where that is not
// enough.
const (
	Anywhere Place = iota
	AtCoil
	AtStage
)

// Choose returns what series resistance and which filter a hand of a build is to have for
// its meter, the one that the rules find least in, as changes; none where nothing brings
// it to full scale.
func Choose(b *model.Build, hand int, where Place) []model.Change {
	p := new(circuit.Plan)
	circuit.Evaluate(b, p)
	s := subject{b, p, hand}
	list := s.filterList(where)
	if len(list) == 0 {
		return nil
	}
	return s.filterChanges(list[0].of)
}

func (s subject) filterList(where Place) shortlist[filterParts] {
	var list shortlist[filterParts]
	b := s.bench()
	whole := b.put(seriesParts{}).SeriesNeeded
	if !(whole >= 0) {
		return nil
	}
	if where != AtStage {
		atCoil := filterParts{series: b.coilSeries()}
		b.tryFilter(&list, atCoil)
		b.tryCapacitors(&list, atCoil)
		b.fit(list[0].of)
	}
	if where == AtStage || where == Anywhere && (b.blames("filter") != (score{}) || !b.filters()) {
		b.tryStages(&list, whole)
	}
	return list
}

func (s subject) filterChanges(p filterParts) []model.Change {
	changes := []model.Change{
		s.size("hand.drive.capacitor", p.capacitor, capacitorTolerance),
		s.change("hand.drive.capacitor_at", p.place()), s.change("hand.drive.capacitor_kind", p.kind(s.drive().CapacitorKind)),
	}
	if p.series != seriesOf(s.drive()) {
		changes = append(changes, s.seriesChanges(p.series)...)
	}
	return changes
}

func (p *filterParts) place() string {
	if p.behind {
		return "stage"
	}
	return "coil"
}

// kind is what the capacitor should be: film where it is.
func (p *filterParts) kind(present string) string {
	switch {
	case p.capacitor > 10e-6: // larger ones of other kinds are dear
		return "electrolytic"
	case p.capacitor > 0 && present == "film":
		return "film"
	case p.capacitor > 0:
		return "ceramic"
	}
	return ""
}

// fit puts a capacitor in its place, and solves the hand.
func (b *bench) fit(p filterParts) *circuit.HandPlan {
	d := b.drive()
	d.Capacitor = sized(b.present.Capacitor, p.capacitor, capacitorTolerance)
	d.CapacitorAt, d.CapacitorKind = p.place(), p.kind(b.present.CapacitorKind)
	b.set(p.series)
	if p.series == seriesOf(&b.present) {
		d.Setting = b.present.Setting
	}
	return b.solve(true)
}

// tryFilter judges one choice.
func (b *bench) tryFilter(list *shortlist[filterParts], p filterParts) {
	h := b.fit(p)
	list.add(p, ranked(b.score(), number01(p.capacitor > 0), number01(p.behind), h.RailCurrent, p.capacitor))
}

// tryCapacitors judges capacitors from where they filter at all to where all is
// quiet.
func (b *bench) tryCapacitors(list *shortlist[filterParts], p filterParts) {
	p.capacitor = model.Capacitors[0]
	h := b.fit(p)
	least := p.capacitor * h.FilterCorner / h.PWMFrequency // there the corner is the PWM
	for _, p.capacitor = range model.Between(model.Capacitors, least, math.Inf(1)) {
		b.tryFilter(list, p)
		if b.filters() && b.still() {
			return
		}
	}
}

// filters says whether there is no filter that hardly filters.
func (b *bench) filters() bool {
	h := &b.plan.Hands[b.i]
	return !(h.FilterCorner > h.PWMFrequency/3)
}

// still says whether the needle is, and the coil, to eye and ear.
func (b *bench) still() bool {
	for k := range rulesOfHands {
		switch r := &rulesOfHands[k]; r.id {
		case "ripple_needle", "hum", "law_ripple":
			if severity, _ := r.grade(b.subject()); severity > Sound {
				return false
			}
		}
	}
	return true
}

// tryStages judges capacitors behind stage resistors: first as if the resistors
// after them were made to measure, then the best with what there is.
func (b *bench) tryStages(list *shortlist[filterParts], whole float64) {
	const roomed = 5
	var ideal shortlist[filterParts]
	for _, share := range [...]float64{0.05, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.75} {
		stage := calc.NearestPreferred(max(share*whole, 1), calc.E24)
		if stage >= whole {
			continue
		}
		var one shortlist[filterParts]
		b.tryCapacitors(&one, filterParts{behind: true, series: seriesParts{stage, whole - stage, 0}})
		if len(one) > 0 {
			ideal.add(one[0].of, one[0].rank)
		}
	}
	for _, c := range ideal[:min(len(ideal), roomed)] {
		if series, ok := b.stageSeries(c.of.series.stage, whole); ok {
			c.of.series = series
			b.tryFilter(list, c.of)
		}
	}
}

// stageSeries are the best parts after a stage resistor.
func (b *bench) stageSeries(stage, whole float64) (seriesParts, bool) {
	var list shortlist[seriesParts]
	for _, least := range [...]float64{b.leastFixed(stage, whole), 0} {
		if b.gridSeries(&list, stage, whole, least, math.Inf(1)); len(list) > 0 {
			return list[0].of, true
		}
	}
	return seriesParts{}, false
}

// coilSeries are the series parts for a capacitor at the coil, or none: the
// present ones, where they do.
func (b *bench) coilSeries() seriesParts {
	other := *b
	if filtered(&b.present) {
		other.present.Stage.Number, other.present.CapacitorAt = 0, "coil"
	} else {
		b.put(seriesOf(&b.present))
		if s := b.blames("series"); s[0]+s[1] == 0 {
			return seriesOf(&b.present)
		}
	}
	if list := other.seriesChoices(); len(list) > 0 {
		return list[0].of
	}
	return seriesOf(&b.present)
}
