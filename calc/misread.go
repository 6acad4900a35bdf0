package calc

import "math"

// A Misreading answers how wrong a hand reads at most, over its whole dial, when
// its coil gets so many times the current that its codes mean: 1 where full
// scale was set and the room is as warm as then.
//
// Source: [Catalogue], dial_error; the lines by which it is found fast are derived
type Misreading struct {
	law   Law
	whole float64 // share of the dial that full-scale current moves the needle by: 1, of a bridge a half
	marks []mark  // of the codes in use
	exact float64 // the answer at 1

	from, width float64 // of the times that the first cell is for
	cells       []cell  // one after the other, each as wide
}

// A mark is a code, as a share of full-scale current, and the first and the last
// of the instants at which it is shown, as shares of the dial's time.
type mark struct{ current, from, till float64 }

// A cell is what may be the largest error from so many times the current to so
// many: errors that are straight lines there, and marks for which the law bends.
type cell struct {
	lines []line
	bent  []mark
}

// A line is an error, as a share of the dial's time, over the times, or over their
// square where the law is one.
type line struct{ start, slope float64 }

func (l line) at(x float64) float64 { return l.start + l.slope*x }

// Misreading returns the misreading of a hand whose instants are coded so.
func (r *Quantisation) Misreading() *Misreading {
	m := &Misreading{law: *r.Law, whole: 1}
	if r.Dial { // it is drawn to the law: it shows shares of current
		m.law = Law{}
	}
	if r.Bridge {
		m.whole = 0.5
	}
	last := math.Inf(-1)
	for s := range r.Steps {
		y := float64(s) / float64(r.Steps)
		if code := r.Code(y); code != last {
			last = code
			m.marks = append(m.marks, mark{current: r.share(code), from: y})
		}
		m.marks[len(m.marks)-1].till = y
	}
	m.exact = m.largest(m.marks, 1)
	m.from, m.width, m.cells = 0, 100, make([]cell, 1)
	if m.law.Kind == Table { // whose corners are not to be in the way
		m.from, m.width, m.cells = 0.5, 1.0/128, make([]cell, 128)
	}
	for i := range m.cells {
		low := m.from + float64(i)*m.width
		m.cells[i] = m.cell(low, low+m.width)
	}
	return m
}

// Largest returns the largest absolute error over the dial, share of its time,
// at so many times the current, 0 or more. NaN where that is not known.
func (m *Misreading) Largest(times float64) float64 {
	if times == 1 || math.IsNaN(times) {
		return m.exact * times
	}
	at := (times - m.from) / m.width
	if !(0 <= at && at < float64(len(m.cells))) {
		return m.largest(m.marks, times)
	}
	c := &m.cells[int(at)]
	largest, x := m.largest(c.bent, times), m.variable(times)
	for _, l := range c.lines {
		largest = max(largest, l.at(x))
	}
	return largest
}

// variable is what the lines are over.
func (m *Misreading) variable(times float64) float64 {
	if m.law.Kind == Square {
		return times * times
	}
	return times
}

// largest is the largest error of marks at so many times their current; 0
// without any.
func (m *Misreading) largest(marks []mark, times float64) float64 {
	largest, up := 0.0, climb{law: &m.law}
	for i := range marks {
		shown := m.shown(&up, marks[i].current*times)
		largest = max(largest, shown-marks[i].from, marks[i].till-shown)
	}
	return largest
}

// shown is the share of the dial's time that the needle shows at a share of full-scale
// current, no less than the one before.
func (m *Misreading) shown(up *climb, current float64) float64 {
	if m.whole == 1 {
		return up.at(current)
	}
	return 0.5 + math.Copysign(m.law.At(math.Abs(current)), current)*m.whole
}

// cell sorts the marks into those whose errors are straight lines and the others,
// and keeps of the lines what is the largest anywhere.
func (m *Misreading) cell(low, high float64) cell {
	var c cell
	var lines []line
	for _, k := range m.marks {
		shown, straight := m.law.line(k.current, low, high)
		if !straight || m.whole != 1 {
			c.bent = append(c.bent, k)
			continue
		}
		lines = append(lines, line{shown.start - k.from, shown.slope}, line{k.till - shown.start, -shown.slope})
	}
	if len(lines) > 0 {
		c.lines = topmost(nil, lines, m.variable(low), m.variable(high))
	}
	return c
}

// line returns the share of the scale that is shown at a share of full-scale
// current, over the times from low to high of it; straight is false where it has
// a corner there, or is smooth.
func (l *Law) line(current, low, high float64) (shown line, straight bool) {
	switch {
	case l.From > 0 || l.Kind == Smooth:
		return line{}, false
	case l.Kind == Square:
		return line{0, current * current}, true
	case l.Kind == Table:
		a, b := climb{law: l}, climb{law: l}
		a.table(current * low)
		b.table(current * high)
		return line{a.from.Scale - a.slope*a.from.Current, a.slope * current}, a.line == b.line
	}
	return line{0, current}, true
}

// topmost adds to a list the lines that are above all others somewhere between
// low and high: those at its ends, and between where these cross.
func topmost(list, lines []line, low, high float64) []line {
	a, b := uppermost(lines, low), uppermost(lines, high)
	if list = append(list, a); a.slope == b.slope {
		return list
	}
	const rounding = 1e-15
	cross := (a.start - b.start) / (b.slope - a.slope)
	if c := uppermost(lines, cross); low < cross && cross < high && c.at(cross) > a.at(cross)+rounding*max(1, math.Abs(a.at(cross))) {
		return topmost(topmost(list, lines, low, cross), lines, cross, high)
	}
	return append(list, b)
}

// uppermost is the line that is above all others at a place.
func uppermost(lines []line, x float64) line {
	top := lines[0]
	for _, l := range lines[1:] {
		if l.at(x) > top.at(x) {
			top = l
		}
	}
	return top
}
