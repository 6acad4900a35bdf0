// Package scale makes the law of a meter's scale out of readings of where its needle
// stood at some codes, says what is wrong with them, what they leave unknown, and
// which point would tell most.
//
// rows -> readings (rows.go) -> points (points.go) -> Fitted (here); what it leaves is
// in left.go, what it does for the clock in straight.go.
package scale

import (
	"fmt"
	"math"

	"example.com/needlewright/calc"
	"example.com/needlewright/model"
)

// A Row is a reading: with Code of Of the needle stood at a place.
type Row struct {
	At, Stands, Going string // the time it was set to show; a share or dial time; "up", "down" or ""
	Code, Of          int    // Of 0: the present top code; Code below 0: not given
}

// A Hand is what the readings are of.
type Hand struct {
	Shows       string // "12 h", "24 h", "60 min", "60 s"
	Top, Offset int    // the present top code, and the counts beyond each code

	Rest   float64 // share of the whole scale at which the needle rests: 0, or 0.5 in its middle
	Bridge bool    // the dial's time takes the whole scale though it rests in the middle
}

// A Fitted is what rows tell of a scale. Places are shares of the scale that full-scale
// current moves the needle by; rows count
// from 1, in the order in which they were given.
type Fitted struct {
	Enough bool   // else there is no law
	Why    string // what is missing to it
	Law    calc.Law

	// The needle stands at Zero + (1 + FullScale)·law: 0 where an end was not measured, or
	// is off by no more than can be read.
	Zero, FullScale float64
	Stick           float64 // half of what going down shows more than going up; NaN where that was not seen
	Scatter         float64 // root mean square of how far points stand off what the others say; NaN below three between the ends

	Seen     []Seen // of each row that was read, in the order of the rows
	Outliers []Outlier
	Scaled   []int           // rows with another top code than most
	Problems []model.Problem // of rows that were left out, by paths that begin with "scale"
	Next     Next

	hand     Hand
	reading  float64 // ±, share of the scale
	gaps     []gap
	mostLeft float64
}

// A Seen is where the needle of a row stood: a share of full-scale current, and of the
// scale, the errors of zero and full scale and the sticking taken out.
type Seen struct {
	Row int
	calc.Point
}

// An Outlier is a row that stands off what the others say, and was left out.
type Outlier struct {
	Row int
	Off float64 // share of the scale, + is higher
}

// A Next is the code whose place would tell most, and by how much the law may be off
// there, a share of the scale.
type Next struct {
	Code int
	Off  float64
}

// The least numbers of different codes that give a law, both ends among them and not.
// The contract, "Measured scale".
const (
	leastWithEnds = 3
	least         = 5
)

// Fit returns what rows tell of the scale of a hand.
func Fit(rows []Row, hand Hand) *Fitted {
	f := &Fitted{Stick: math.NaN(), Scatter: math.NaN(), hand: hand}
	readings := f.read(rows)
	f.Stick = stick(readings)
	m := measured{readings: readings, stick: f.Stick, floor: half(readings)}
	points, zero, top := m.places()
	codes := len(points) + len(zero) + len(top)
	need := least
	if len(zero) > 0 && len(top) > 0 {
		need = leastWithEnds
	}
	f.see(&m, endsOf(nil, nil))
	if f.Enough = codes >= need && len(points) > 0; !f.Enough {
		f.Why = fmt.Sprintf("%d of %d points are there; code 0, the top code and one between are enough", codes, need)
		f.Next = f.nextOf(points, len(zero) > 0, len(top) > 0)
		return f
	}
	f.fit(&m, points, endsOf(zero, top))
	return f
}

// fit makes the law: first with both ends as they were read, then with those as set
// right that are off by no more than the points scatter.
func (f *Fitted) fit(m *measured, points []point, ends *ends) {
	const leastWhole = 0.2 // of the scale, from code 0 to the top code
	if ends.settle(points); 1+ends.fullScale < leastWhole {
		f.Enough, f.Why, f.Next = false, "the needle hardly moves between code 0 and the top code: look at both again", Next{f.hand.Top, math.NaN()}
		return
	}
	kept := m.leaveOut(points, ends, f)
	law := lawThrough(ends.share(kept))
	if ends.take(m.readable(scatter(law))) {
		ends.settle(kept)
		f.Outliers = f.Outliers[:0]
		kept = m.leaveOut(points, ends, f)
		law = lawThrough(ends.share(kept))
	}
	m.strayed(append(kept[:len(kept):len(kept)], ends.measured()...), f)
	f.Law, f.Zero, f.FullScale = *law, ends.zero, ends.fullScale
	f.see(m, ends)
	if len(kept) >= leastScatter {
		f.Scatter = scatter(law)
	}
	f.reading = m.reading(f.Scatter, len(kept))
	f.gaps = gapsOf(&f.Law)
	f.Next = f.nextGap()
	f.mostLeft = f.mostOfLeft()
}

// see notes where each needle stood without the errors of the ends.
func (f *Fitted) see(m *measured, e *ends) {
	f.Seen = f.Seen[:0]
	for _, r := range m.readings {
		place := e.share([]point{{Point: calc.Point{Scale: m.freed(r)}}})[0].Scale
		f.Seen = append(f.Seen, Seen{r.row, calc.Point{Current: r.current, Scale: place}})
	}
}
