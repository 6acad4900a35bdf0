package judge

import (
	"fmt"
	"math"
	"slices"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/quantity"
)

// A pwmParts is a prescaler, the counts of a period and the top code, and the
// series parts that the top voltage asks for.
type pwmParts struct {
	prescale, counts, top int
	series                seriesParts
}

// pwmOptions are prescalers and counts: for the frequency that is wanted, or
// else for one that nobody hears and the needle does not follow.
func (s subject) pwmOptions() [][]model.Change {
	var list shortlist[pwmParts]
	b := s.bench()
	for prescale := 1; prescale <= 1024; prescale *= 2 {
		for _, counts := range s.countsFor(prescale) {
			b.tryPWM(&list, prescale, counts)
		}
	}
	return list.changes(s.pwmChanges)
}

// topOptions are top codes that share the dial evenly: of the present counts, and
// of others.
func (s subject) topOptions() [][]model.Change {
	var list shortlist[pwmParts]
	b := s.bench()
	for _, counts := range withPresent(s.drive().Counts, 240, 256, 480, 720, 1024) {
		b.tryPWM(&list, s.drive().Prescale, counts)
	}
	return list.changes(s.pwmChanges)
}

func (s subject) pwmChanges(p pwmParts) []model.Change {
	changes := []model.Change{
		s.count("hand.drive.prescale", p.prescale), s.count("hand.drive.counts", p.counts), s.count("hand.drive.top", p.top),
	}
	if p.series != seriesOf(s.drive()) {
		changes = append(changes, s.seriesChanges(p.series)...)
	}
	return changes
}

// higherTop is a top code that lets through enough, where the present one alone keeps the
// needle from full scale; 0 where there is none.
func (s subject) higherTop() int {
	hand := s.b.Hands[s.i]
	top := EqualTop(&hand, hand.Drive.Counts)
	if top <= hand.Drive.Top || s.hand().SeriesNeeded >= 0 {
		return 0
	}
	hand.Drive.Top = top
	if h := circuit.WireHand(s.b, &hand); !(h.SeriesNeeded() >= 0) {
		return 0
	}
	return top
}

// lowTopText names it, "" where it is not that.
func (s subject) lowTopText() string {
	top := s.higherTop()
	if top == 0 {
		return ""
	}
	return fmt.Sprintf("The top code is no more than %d of %d counts: %d would do.", s.drive().Top, s.drive().Counts, top)
}

// EqualTop is the largest top code of so many counts that shares a hand's dial evenly.
func EqualTop(h *model.Hand, counts int) int {
	_, steps := circuit.Dial(h.Shows)
	return equalTop(steps, counts-h.Drive.DutyOffset)
}

// tryPWM judges one choice, with a top code that shares the dial evenly. A
// frequency not even half or double of what is wanted is none.
func (b *bench) tryPWM(list *shortlist[pwmParts], prescale, counts int) {
	d, present := b.drive(), &b.present
	_, steps := circuit.Dial(b.build.Hands[b.i].Shows)
	top := equalTop(steps, counts-present.DutyOffset)
	if prescale == present.Prescale && counts == present.Counts && sharesEvenly(steps, present.Top) {
		top = present.Top
	}
	d.Prescale, d.Counts, d.Top = prescale, counts, top
	series := b.retrimmed()
	h := b.solve(true)
	off := 0.0
	if wanted := present.PWMWanted; wanted.Given() {
		off = math.Abs(math.Log(h.PWMFrequency / wanted.Number))
	}
	if off < math.Ln2 {
		list.add(pwmParts{prescale, counts, top, series}, ranked(b.score(),
			off, number01(counts != present.Counts), math.Abs(math.Log(float64(prescale*counts)/float64(present.Prescale*present.Counts)))))
	}
}

// retrimmed puts in the series parts for the top voltage: the present ones where
// it stays as it was, or else the best.
func (b *bench) retrimmed() seriesParts {
	d, series := b.drive(), seriesOf(&b.present)
	same := (d.Top+d.DutyOffset)*b.present.Counts == (b.present.Top+d.DutyOffset)*d.Counts
	if same {
		b.set(series)
		d.Setting = b.present.Setting
		return series
	}
	codes := [2]int{d.Top, d.Counts}
	best, known := b.trimmed[codes]
	if !known {
		var list shortlist[seriesParts]
		b.trySeries(&list, series)
		whole := b.put(seriesParts{}).SeriesNeeded
		b.gridSeries(&list, series.stage, whole, b.leastFixed(series.stage, whole), math.Inf(1))
		best = list[0].of
		b.trimmed[codes] = best
	}
	b.set(best)
	return best
}

// countsFor are counts worth trying with a prescaler: usual ones, and those
// nearest to the frequency that is wanted.
func (s subject) countsFor(prescale int) []int {
	d := s.drive()
	if !d.PWMWanted.Given() {
		return withPresent(d.Counts, 240, 256, 480, 512, 720, 960, 1024)
	}
	exact := d.Clock.Number / (float64(prescale) * d.PWMWanted.Number)
	if exact < 2 || exact > 65536 {
		return nil
	}
	nearest := int(math.Round(exact))
	if even := nearest / 240 * 240; even > 0 && even != nearest {
		return []int{nearest, even, even + 240}
	}
	return []int{nearest}
}

// withPresent are the present counts and others.
func withPresent(present int, others ...int) []int {
	return append(slices.DeleteFunc(others, func(n int) bool { return n == present }), present)
}

// otherPWMWanted says whether a PWM frequency is asked for that is not there.
func (s subject) otherPWMWanted() bool {
	return math.Abs(s.hand().PWMFrequency/s.drive().PWMWanted.Number-1) > 0.1
}

// sharesEvenly says whether so many codes share a dial's steps evenly.
func sharesEvenly(steps, top int) bool { return steps%top == 0 || top%steps == 0 }

// equalTop is the largest top code up to counts that shares the dial's steps
// evenly.
func equalTop(steps, counts int) int {
	if counts >= steps {
		return counts / steps * steps
	}
	for t := counts; t > 1; t-- {
		if steps%t == 0 {
			return t
		}
	}
	return 1
}

func seriesOf(d *model.Drive) seriesParts {
	return seriesParts{d.Stage.Number, d.Fixed.Number, d.Trimmer.Number}
}

// filtered says whether a capacitor is behind the stage resistor.
func filtered(d *model.Drive) bool { return d.CapacitorAt == "stage" && d.Capacitor.Number > 0 }

// put solves the hand with other series parts, but for its ripple.
func (b *bench) put(p seriesParts) *circuit.HandPlan {
	b.set(p)
	return b.solve(false)
}

// set puts in other series parts, to be trimmed anew.
func (b *bench) set(p seriesParts) {
	d, present := b.drive(), &b.present
	d.Stage = sized(present.Stage, p.stage, resistorTolerance)
	d.Fixed = sized(present.Fixed, p.fixed, resistorTolerance)
	d.Trimmer = sized(present.Trimmer, p.trimmer, trimmerTolerance)
	d.Setting = quantity.Absent()
}

// seriesChanges are the changes to series parts.
func (s subject) seriesChanges(p seriesParts) []model.Change {
	changes := []model.Change{
		s.size("hand.drive.fixed", p.fixed, resistorTolerance), s.size("hand.drive.trimmer", p.trimmer, trimmerTolerance),
		s.size("hand.drive.stage", p.stage, resistorTolerance),
	}
	if s.drive().Setting.Given() {
		changes = append(changes, s.change("hand.drive.setting", ""))
	}
	return changes
}

// seriesOptions are fixed resistors of E24 with trimmers of 1-2-5: the coil safe
// with the trimmer at zero, full scale reached by every kit, the trimmer between
// a fifth and four fifths of its travel, and set as finely as can be. Where the
// steps of E24 are too wide for that, a second fixed resistor stands in as the
// stage, as long as no capacitor is behind it.
func (s subject) seriesOptions() [][]model.Change {
	return s.bench().seriesChoices().changes(s.seriesChanges)
}

func (b *bench) seriesChoices() shortlist[seriesParts] {
	var list shortlist[seriesParts]
	d := &b.present
	whole := b.put(seriesParts{}).SeriesNeeded
	switch {
	case whole <= 0 && !filtered(d):
		b.trySeries(&list, seriesParts{})
		return list
	case d.Setting.Given():
		b.trySeries(&list, seriesOf(d))
	}
	b.gridSeries(&list, d.Stage.Number, whole, 0, math.Inf(1))
	if filtered(d) {
		return list
	}
	if d.Stage.Number > 0 {
		b.gridSeries(&list, 0, whole, 0, math.Inf(1))
	}
	if !b.allWell(list) {
		for _, pad := range model.Between(model.Resistors, whole/100, whole/8) {
			b.gridSeries(&list, pad, whole, b.leastFixed(pad, whole), whole/2)
		}
	}
	return list
}

// gridSeries tries fixed resistors from a least one on, and trimmers up to a
// largest one, that bring the trimmer between its ends, with one stage resistor.
func (b *bench) gridSeries(list *shortlist[seriesParts], stage, whole, least, largest float64) {
	needed := whole - stage
	if !(needed > 0) {
		return
	}
	for _, trimmer := range model.Between(model.Trimmers, needed/500, min(max(10*needed, 20), largest)) {
		if trimmer >= needed && least <= 0 {
			b.trySeries(list, seriesParts{stage, 0, trimmer})
		}
		for _, fixed := range model.Between(model.Resistors, max(needed-trimmer, needed/8, least), needed) {
			b.trySeries(list, seriesParts{stage, fixed, trimmer})
		}
	}
}

// leastFixed is the least fixed resistor, Ω, worth trying with a stage resistor
// where few should do: with it alone the coil is half as far again over full scale
// as the meter stands.
func (b *bench) leastFixed(stage, whole float64) float64 {
	m := &b.build.Hands[b.i].Meter
	resistance, _ := m.Terminals(model.Nominal, model.Nominal)
	return whole - stage - 1.5*(m.Overload.Number-1)*(resistance+whole)
}

// unreached is where the rank of series parts says that some kit does not come to
// full scale: behind faults and cautions, before mere notes.
const unreached = 2

// trySeries judges one choice.
func (b *bench) trySeries(list *shortlist[seriesParts], p seriesParts) {
	off := math.Abs(b.put(p).TrimmerTravel - 0.5)
	if p.trimmer == 0 {
		off = 0
	}
	s := b.score()
	list.add(p, rank{
		float64(s[0]), float64(s[1]), number01(!b.subject().reachedByAll()), float64(s[2]),
		number01(p.stage > 0), number01(off > 0.3), p.trimmer, off,
	})
}

// seriesWanting says whether no series parts were chosen yet where some are
// needed, or some kit does not come to full scale though with others all would.
func (s subject) seriesWanting() bool {
	d, needed := s.drive(), s.hand().SeriesNeeded
	if d.Fixed.Number == 0 && d.Trimmer.Number == 0 {
		return needed > 0
	}
	b := s.bench()
	if !(needed > 0) || d.Setting.Given() || b.subject().reachedByAll() {
		return false
	}
	list := b.seriesChoices()
	return len(list) > 0 && list[0].rank[unreached] == 0
}

// allWell says whether the best choice needs no other: the coil is safe, and
// every kit comes to full scale.
func (b *bench) allWell(list shortlist[seriesParts]) bool {
	if len(list) == 0 {
		return false
	}
	b.put(list[0].of)
	s := b.blames("series")
	return s[0]+s[1] == 0 && b.subject().reachedByAll()
}

// reachedByAll says whether the trimmer brings every kit to full scale, whatever
// ends of their tolerances its parts are at.
func (s subject) reachedByAll() bool {
	h, d, m, rail := s.circuit(), s.drive(), s.meter(), s.b.Rail.Voltage
	share := (h.Top + h.Offset) / h.Counts
	mostOhms, mostCurrent := m.Terminals(quantity.Value.High, quantity.Value.Low)
	leastOhms, leastCurrent := m.Terminals(quantity.Value.Low, quantity.Value.High)
	least := (rail.Low()-h.Drop)*share/mostCurrent - mostOhms - d.Source().High() - d.Stage.High() - d.Fixed.High()
	most := (rail.High()-h.Drop)*share/leastCurrent - leastOhms - d.Source().Low() - d.Stage.Low() - d.Fixed.Low()
	return least >= 0 && most <= d.Trimmer.Low()
}
