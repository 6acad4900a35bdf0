package model

import (
	"errors"
	"fmt"
	"math"

	"example.com/needlewright/model/quantity"
)

// A DialForm is the dial of a hand as it is printed. What is absent is chosen where the dial
// is drawn: see package dial.
type DialForm struct {
	Width, Height, PivotX, PivotY, Radius, Start quantity.Value
	NumeralHeight, TitleHeight                   quantity.Value

	Numerals, NumeralStyle, NumeralsAlong string
	Ticks, Title, SecondScale             string
	Mirror, EndMarks                      string
	Holes, Windows                        []Hole
}

// A Hole is a round one in the plate of a dial, in m from the plate's middle, up and to
// the right.
type Hole struct{ X, Y, Diameter float64 }

// fieldsOfDial are the rows of the Dial form. Ranges are common practice, no source.
var fieldsOfDial = []Field{
	{Path: "hand.dial.width", Pane: DialPane, Group: "Plate", Label: "Width", Unit: quantity.Millimetres, Least: "20 mm", Most: "1000 mm",
		Help:    "Of the plate. Empty: the meter's diameter, or else 100 mm.",
		Measure: "The old plate's, with a ruler; it has to go in under the glass.",
		place:   inHand(func(h *Hand) any { return &h.Dial.Width })},
	{Path: "hand.dial.height", Pane: DialPane, Group: "Plate", Label: "Height", Unit: quantity.Millimetres, Least: "20 mm", Most: "1000 mm",
		Help:  "Of the plate. Empty: 70 % of its width; of a scale that goes more than half round, as much.",
		place: inHand(func(h *Hand) any { return &h.Dial.Height })},
	{Path: "hand.dial.pivot_x", Pane: DialPane, Group: "Plate", Label: "Pivot, right", Unit: quantity.Millimetres, Least: "-500 mm", Most: "500 mm",
		Help:    "Where the needle turns, from the plate's middle to the right; left is negative. Empty: 0.",
		Measure: "From both sides of the plate to the screw above the pivot: half the difference.",
		place:   inHand(func(h *Hand) any { return &h.Dial.PivotX })},
	{Path: "hand.dial.pivot_y", Pane: DialPane, Group: "Plate", Label: "Pivot, up", Unit: quantity.Millimetres, Least: "-1000 mm", Most: "1000 mm",
		Help:    "From the plate's middle up; down is negative. Empty: 40 % of the height below it; of a scale that goes more than half round, in it.",
		Measure: "From the plate's upper and lower edge to the screw above the pivot: half the difference.",
		place:   inHand(func(h *Hand) any { return &h.Dial.PivotY })},
	{Path: "hand.dial.holes", Pane: DialPane, Group: "Plate", Label: "Holes",
		Help:  "Round ones for screws, each as -40 mm : 0 mm : 3 mm: to the right and up from the plate's middle, then its diameter.",
		place: inHand(func(h *Hand) any { return &h.Dial.Holes })},
	{Path: "hand.dial.windows", Pane: DialPane, Group: "Plate", Label: "Windows",
		Help:  "Round ones for lamps behind the plate, written as holes are.",
		place: inHand(func(h *Hand) any { return &h.Dial.Windows })},
	{Path: "hand.dial.radius", Pane: DialPane, Group: "Printed scale", Label: "Radius", Unit: quantity.Millimetres, Least: "5 mm", Most: "1000 mm",
		Help:    "Of the scale's arc round the pivot; its marks stand outside it. Empty: the largest that leaves room for them, the numerals and an edge.",
		Measure: "From the pivot to where the needle's tip ends.",
		place:   inHand(func(h *Hand) any { return &h.Dial.Radius })},
	{Path: "hand.dial.start", Pane: DialPane, Group: "Printed scale", Label: "Starts at", Unit: quantity.Degrees, Least: "-360°", Most: "360°",
		Help:    "The needle's direction at the zero end, clockwise from straight up. Empty: half the sweep to the left, or to the right where the zero stands there.",
		Measure: "A protractor at the pivot: the angle between straight up and the first mark.",
		place:   inHand(func(h *Hand) any { return &h.Dial.Start })},
	{Path: "hand.dial.ticks", Pane: DialPane, Group: "Printed scale", Label: "Marks every",
		Help:  "Short, middle and long ones, such as 15 min, 1 h, 3 h. Empty: these, by the smallest mark; 30 min, 1 h, 6 h of 24 h; 1, 5, 15 min or s.",
		place: inHand(func(h *Hand) any { return &h.Dial.Ticks })},
	{Path: "hand.dial.numerals", Pane: DialPane, Group: "Printed scale", Label: "Numerals",
		Help:  "As they follow along the scale, such as 12, 3, 6, 9, 12; all: at each middle mark; none. Empty: at each long mark.",
		place: inHand(func(h *Hand) any { return &h.Dial.Numerals })},
	{Path: "hand.dial.numeral_style", Pane: DialPane, Group: "Printed scale", Label: "Style", Choices: []string{"arabic", "roman"}, Absent: "arabic",
		Help:  "Figures as usual, 3, or as on old clocks, III.",
		place: inHand(func(h *Hand) any { return &h.Dial.NumeralStyle })},
	{Path: "hand.dial.numerals_along", Pane: DialPane, Group: "Printed scale", Label: "They stand", Choices: []string{"upright", "arc"}, Absent: "upright",
		Help:  "Upright, or turned as the arc is.",
		place: inHand(func(h *Hand) any { return &h.Dial.NumeralsAlong })},
	{Path: "hand.dial.numeral_height", Pane: DialPane, Group: "Printed scale", Label: "Their height", Unit: quantity.Millimetres, Least: "0.5 mm", Most: "100 mm",
		Help:  "Of a figure. Empty: 5 % of the plate's width.",
		place: inHand(func(h *Hand) any { return &h.Dial.NumeralHeight })},
	{Path: "hand.dial.second_scale", Pane: DialPane, Group: "Printed scale", Label: "Second scale", Choices: []string{"none", "24 h", "60 min"}, Absent: "none",
		Help:  "Inside the arc. 24 h of a 12 h hand: the hours of its second turn, 12 to 24. Else the whole scale in 24 hours, or in 60 minutes.",
		place: inHand(func(h *Hand) any { return &h.Dial.SecondScale })},
	{Path: "hand.dial.mirror", Pane: DialPane, Group: "Printed scale", Label: "Mirror band", Choices: []string{"no", "yes"}, Absent: "no",
		Help:  "A band below the arc, to be cut out over a strip of mirror: the needle hides its picture where it is read straight.",
		place: inHand(func(h *Hand) any { return &h.Dial.Mirror })},
	{Path: "hand.dial.end_marks", Pane: DialPane, Group: "Printed scale", Label: "End marks", Choices: []string{"no", "yes"}, Absent: "yes",
		Help:  "Fine marks inside the arc where the needle stands at zero and at full scale: setting up needs them.",
		place: inHand(func(h *Hand) any { return &h.Dial.EndMarks })},
	{Path: "hand.dial.title", Pane: DialPane, Group: "Lettering", Label: "Title",
		Help:  "What stands on the dial. Empty: the build's title; none: nothing.",
		place: inHand(func(h *Hand) any { return &h.Dial.Title })},
	{Path: "hand.dial.title_height", Pane: DialPane, Group: "Lettering", Label: "Its height", Unit: quantity.Millimetres, Least: "0.5 mm", Most: "100 mm",
		Help:  "Of a capital letter. Empty: 70 % of the numerals', or as much as has room.",
		place: inHand(func(h *Hand) any { return &h.Dial.TitleHeight })},
}

// Ticks are how the dial's marks divide its whole: into how many parts the short, the middle
// and the long ones do. Where none are given, or they cannot be read, they are the usual
// ones, the short ones as far apart as the smallest mark where that comes out even.
func (h *Hand) Ticks() [3]int {
	if parts, err := quantity.ParseTicks(h.Dial.Ticks, h.Shows); err == nil {
		return parts
	}
	parts, _ := quantity.ParseTicks(quantity.UsualTicks(h.Shows), h.Shows)
	if h.Mark.Given() {
		const most = 720 // more is a grey band
		short := float64(h.Minutes()) / h.SmallestMark()
		if n := int(math.Round(short)); 0 < n && n <= most && n%parts[1] == 0 && quantity.DialGrains(h.Shows)%n == 0 && math.Abs(short-float64(n)) < 1e-9 {
			parts[0] = n
		}
	}
	return parts
}

// Minutes is the whole time of the hand's dial, min.
func (h *Hand) Minutes() int {
	switch h.Shows {
	case "24 h":
		return 1440
	case "60 min":
		return 60
	case "60 s":
		return 1
	}
	return 720
}

// checkDial finds what of a dial's form cannot be read for what the hand shows.
func (r *reader) checkDial(i int, h *Hand) {
	refuse := func(path, allowed string, err error) {
		var e *quantity.Error
		if errors.As(err, &e) {
			r.clash(path, i, e.Problem, allowed, e.Remedy, "hand.shows")
		}
	}
	if h.Dial.Ticks != "" {
		_, err := quantity.ParseTicks(h.Dial.Ticks, h.Shows)
		refuse("hand.dial.ticks", "short, middle, long, each dividing the next and the dial", err)
	}
	if n := h.Dial.Numerals; n != "" && !quantity.IsDialWord(n) {
		_, err := quantity.ParseNumerals(n, h.Shows)
		refuse("hand.dial.numerals", "numerals in their order, all or none", err)
	}
}

// mostHoles is how many holes, or windows, a dial may have.
const mostHoles = 60

// holes reads rows of x, y and diameter; nil after a problem.
func (r *reader) holes(f *Field, v *value) []Hole {
	remedy := `write each as ["-40 mm", "0 mm", "3 mm"] in the file, -40 mm : 0 mm : 3 mm on the form`
	if v.pairs == nil || len(v.pairs) > mostHoles {
		r.problem(f, v, fmt.Sprintf("rows of three are needed, %d at most", mostHoles), remedy)
		return nil
	}
	holes := make([]Hole, len(v.pairs))
	for i, row := range v.pairs {
		if len(row) != 3 {
			r.problem(f, v, fmt.Sprintf("row %d: x, y and the diameter are needed", i+1), remedy)
			return nil
		}
		for k, to := range []*float64{&holes[i].X, &holes[i].Y, &holes[i].Diameter} {
			q, err := quantity.ParsePlain(row[k], quantity.Millimetres)
			if err == nil && !q.Given() {
				err = errors.New("a value is missing")
			}
			if err != nil {
				r.unreadable(f, v, fmt.Errorf("row %d: %w", i+1, err))
				return nil
			}
			*to = q.Number
		}
		if wrong := holes[i].wrong(); wrong != "" {
			r.problem(f, v, fmt.Sprintf("row %d: %s", i+1, wrong), remedy)
			return nil
		}
	}
	return holes
}

// wrong says what is wrong with a hole by itself; "" where it will do.
func (h Hole) wrong() string {
	switch {
	case max(math.Abs(h.X), math.Abs(h.Y)) > 0.5:
		return "it is more than 500 mm from the plate's middle"
	case h.Diameter < 0.0002:
		return "its diameter is below 0.2 mm"
	case h.Diameter > 0.2:
		return "its diameter is above 200 mm"
	}
	return ""
}
