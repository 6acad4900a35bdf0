package layout

import "image"

// A Bench is where everything stands on the bench's pane, in cells: each with its frame.
type Bench struct {
	Points image.Rectangle // the list of test points
	Dial   image.Rectangle // beside it; empty where there is no room
	Causes image.Rectangle // below both
}

// leastBenchDial is the width of a window from which a dial stands beside the points.
const leastBenchDial = 78

// Of the room between header and help, three tenths are for the causes, with this least
// and most inside their frame.
const leastCauseRows, mostCauseRows = 4, 8

// OfBench divides a window: the points, beside them the dial, and below both what may be
// wrong and what to measure next.
func OfBench(w, h int) Bench {
	l := Of(w, h)
	top, bottom := l.Form.Min.Y, l.Form.Max.Y
	causes := bottom - 2 - max(leastCauseRows, min((bottom-top)*3/10, mostCauseRows))
	split := w
	if w >= leastBenchDial {
		split = w - w*3/10 - 1
	}
	return Bench{
		Points: image.Rect(0, top, split, causes),
		Dial:   image.Rect(split, top, w, causes),
		Causes: image.Rect(0, causes, w, bottom),
	}
}

// Columns are those of a line of the list of test points: where each begins.
type Columns struct {
	Label, Plan, Band, Reading, Verdict int  // widths
	Full                                bool // the band is written with both its ends
}

// Least widths of the columns, a blank between them.
const (
	pointLabel, pointPlan, pointBand, pointReading, pointVerdict = 14, 9, 7, 9, 9
	fullBand                                                     = 19
	mostPointLabel, mostPointReading                             = 24, 24
)

// PointColumns shares a width between the columns of the test points.
func PointColumns(w int) Columns {
	c := Columns{Label: pointLabel, Plan: pointPlan, Band: pointBand, Reading: pointReading, Verdict: pointVerdict}
	const gaps = 3 // none before the verdict: the reading's bracket stands there
	spare := w - gaps - c.Label - c.Plan - c.Band - c.Reading - c.Verdict
	if spare >= fullBand-pointBand {
		c.Band, c.Full = fullBand, true
		spare -= fullBand - pointBand
	}
	more := max(0, min(spare/2, mostPointReading-c.Reading))
	c.Reading += more
	c.Label += max(0, min(spare-more, mostPointLabel-c.Label))
	return c
}
