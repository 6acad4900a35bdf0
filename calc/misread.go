package calc

import "math"

// A Misreading answers how wrong a hand reads at most, over its whole dial, when
// its coil gets so many times the current that its codes mean: 1 where full
// scale was set and the room is as warm as then.
//
// Source: [Catalogue], dial_error; the bounds by which codes are passed over are derived
type Misreading struct {
	law       Law
	marks     []mark // of the codes in use, rising
	stretches []stretch
	exact     float64 // the largest error at 1
}

// A mark is a code, as a share of full-scale current, and the first and the last
// of the instants at which it is shown, as shares of the dial's time.
type mark struct{ current, from, till float64 }

// A stretch is what is known of neighbouring marks, shares of the dial's time:
// how far at most they show too much and too little at 1, and how much that moves a
// share of current, at least and at most.
type stretch struct{ over, under, least, most float64 }

const (
	stretchMarks = 16
	nearExact    = 0.1 // how far from 1 the current may be for the bounds to hold
)

// Misreading returns the misreading of a hand whose instants are coded so.
func (r *Coding) Misreading() *Misreading {
	m := &Misreading{law: *r.Law}
	if r.Dial { // it is drawn to the law: it shows shares of current
		m.law = Law{}
	}
	last := -1.0
	for s := range r.Steps {
		y := float64(s) / float64(r.Steps)
		if code := r.Code(y); code != last {
			last = code
			m.marks = append(m.marks, mark{current: code / r.Top, from: y})
		}
		m.marks[len(m.marks)-1].till = y
	}
	for i := 0; i < len(m.marks); i += stretchMarks {
		var s stretch
		s.over, s.under = m.off(m.within(i/stretchMarks), 1)
		s.least, s.most = m.drift(m.within(i / stretchMarks))
		m.exact = max(m.exact, s.over, s.under)
		m.stretches = append(m.stretches, s)
	}
	return m
}

// within are the marks of a stretch.
func (m *Misreading) within(stretch int) []mark {
	return m.marks[stretch*stretchMarks : min((stretch+1)*stretchMarks, len(m.marks))]
}

// off returns by how much marks at so many times their current show too much and
// too little, at most.
func (m *Misreading) off(marks []mark, times float64) (over, under float64) {
	over, under = math.Inf(-1), math.Inf(-1)
	up := climb{law: &m.law}
	for i := range marks {
		shown := up.at(marks[i].current * times)
		over, under = max(over, shown-marks[i].from), max(under, marks[i].till-shown)
	}
	return over, under
}

// drift returns how much, at least and at most, marks move a share of current
// that is less than nearExact.
func (m *Misreading) drift(marks []mark) (least, most float64) {
	low, high := marks[0].current, marks[len(marks)-1].current
	flattest, steepest := m.law.slopesWithin(low*(1-nearExact), high*(1+nearExact))
	return low * flattest, high * steepest
}

// Largest returns the largest absolute error over the dial, share of its time,
// at so many times the current, 0 or more. NaN where that is not known.
func (m *Misreading) Largest(times float64) float64 {
	if times == 1 || math.IsNaN(times) {
		return m.exact * times
	}
	away := times - 1
	bounded := math.Abs(away) <= nearExact
	first, most := 0, 0.0 // the stretch that may well have it
	for i := range m.stretches {
		if bound := m.stretches[i].bound(away); bound > most {
			first, most = i, bound
		}
	}
	largest := m.largest(first, times)
	for i := range m.stretches {
		if i != first && (!bounded || m.stretches[i].bound(away) > largest) {
			largest = max(largest, m.largest(i, times))
		}
	}
	return largest
}

// largest is the largest error of a stretch.
func (m *Misreading) largest(stretch int, times float64) float64 {
	return max(m.off(m.within(stretch), times))
}

// bound is what no error of the stretch passes, so far away from 1.
func (s *stretch) bound(away float64) float64 {
	if away > 0 {
		return max(s.over+away*s.most, s.under-away*s.least)
	}
	return max(s.over+away*s.least, s.under-away*s.most)
}

// slopesWithin returns the least and the largest slope of the law between two
// shares of full-scale current, 0 <= low <= high.
func (l *Law) slopesWithin(low, high float64) (flattest, steepest float64) {
	switch l.Kind {
	case Square:
		return 2 * low, 2 * high
	case Table:
		flattest, last := math.Inf(1), len(l.Points)-1
		for i := 1; i <= last; i++ {
			a, b := l.Points[i-1], l.Points[i]
			if a.Current <= high && (low <= b.Current || i == last) {
				slope := (b.Scale - a.Scale) / (b.Current - a.Current)
				flattest, steepest = min(flattest, slope), max(steepest, slope)
			}
		}
		return flattest, steepest
	}
	return 1, 1
}
