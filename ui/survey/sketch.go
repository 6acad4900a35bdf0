package survey

import (
	"fmt"
	"strings"

	"example.com/needlewright/model/quantity"
	engine "example.com/needlewright/model/survey"
	"example.com/needlewright/ui/cells"
	"example.com/needlewright/ui/draw"
	"example.com/needlewright/ui/layout"
)

// A sketch is a connection drawn in signs.
type sketch [][]rune

func newSketch() sketch {
	s := make(sketch, layout.SurveyDrawing.Y)
	for y := range s {
		s[y] = []rune(strings.Repeat(" ", layout.SurveyDrawing.X))
	}
	return s
}

// put writes a text from a place on.
func (s sketch) put(x, y int, text string) {
	for _, r := range text {
		if x >= 0 && x < len(s[y]) {
			s[y][x] = r
		}
		x++
	}
}

// The rows of a sketch: the wire above, boxes from the second to the last but one, the wire
// below.
const above, boxTop = 0, 1

var below = layout.SurveyDrawing.Y - 1

// box draws one with three lines in it; with leads its stem stands in its middle, above and
// below, to hang on the wires.
func (s sketch) box(x int, leads bool, lines ...string) (stem int) {
	w := len([]rune(lines[0]))
	stem = x + 1 + w/2
	edge := strings.Repeat("─", w)
	s.put(x, boxTop, "╭"+edge+"╮")
	for i, l := range lines {
		s.put(x, boxTop+1+i, "│"+l+"│")
	}
	s.put(x, boxTop+1+len(lines), "╰"+edge+"╯")
	if leads {
		s.put(stem, boxTop, "┴")
		s.put(stem, boxTop+1+len(lines), "┬")
	}
	return stem
}

// wire draws both wires between stems, from the left to the right; what stands in the upper
// one is between the first two that are named.
func (s sketch) wire(stems []int, part string, from, to int) {
	last := len(stems) - 1
	for _, y := range []int{above, below} {
		s.put(stems[0], y, strings.Repeat("─", stems[last]-stems[0]+1))
	}
	for i, x := range stems {
		up, down := "┬", "┴"
		switch i {
		case 0:
			up, down = "╭", "╰"
		case last:
			up, down = "╮", "╯"
		}
		s.put(x, above, up)
		s.put(x, below, down)
	}
	if part != "" {
		part = "┤ " + part + " ├"
		s.put((from+to+1-len([]rune(part)))/2, above, part)
	}
}

// Places of the boxes, from the left.
const (
	sourceAt, meterAt, besideAt          = 0, 18, 29 // the multimeter at the right
	meteredAt, sourceThird, meterThirdAt = 0, 16, 34 // or at the left
)

// A multimeter on volts, and one that is off.
var (
	onVolts = []string{" V DC +  ON ", " multimeter ", "      −     "}
	off     = []string{"    OFF     ", " multimeter ", " leads off  "}
)

// sketchOf draws what a question has a person connect; nil where that is nothing. turned
// says that the meter's leads were turned round.
func sketchOf(a *engine.Ask, turned bool) sketch {
	if a == nil {
		return nil
	}
	s := newSketch()
	switch {
	case a.Kind == "resistor":
		s.resistor(a.Nominal)
	case a.Of == nil && a.Kind != "swap":
		return nil
	case a.Kind == "swap":
		s.put(0, 0, "before                  now")
		s.box(0, false, "   +   ", " meter ", "   −   ")
		s.put(9, boxTop+1, "── red")
		s.put(9, boxTop+3, "── black")
		s.box(24, false, "   +   ", " meter ", "   −   ")
		s.put(33, boxTop+1, "── black")
		s.put(33, boxTop+3, "── red")
	case a.Of.Series == 0:
		source, volts := s.box(sourceAt, true, sourceBox(a.Of.Volts)...), s.box(besideAt, true, onVolts...)
		s.wire([]int{source, volts}, "", 0, 0)
	default:
		s.connection(a, turned)
	}
	return s
}

// connection draws a source, a resistor and the meter in a row, and the multimeter.
func (s sketch) connection(a *engine.Ask, turned bool) {
	part := exactly(a.Of.Series, quantity.Ohms)
	meter := []string{"   +   ", " meter ", "   −   "}
	if turned {
		meter[0], meter[2] = meter[2], meter[0]
	}
	if a.Kind == "source" { // as it is loaded
		volts := s.box(meteredAt, true, onVolts...)
		source, coil := s.box(sourceThird, true, sourceBox(a.Of.Volts)...), s.box(meterThirdAt, true, meter...)
		s.wire([]int{volts, source, coil}, part, source, coil)
		return
	}
	source, coil := s.box(sourceAt, true, sourceBox(a.Of.Volts)...), s.box(meterAt, true, meter...)
	if a.Kind == "terminals" {
		s.wire([]int{source, coil, s.box(besideAt, true, onVolts...)}, part, source, coil)
		return
	}
	s.box(besideAt, false, off...)
	s.wire([]int{source, coil}, part, source, coil)
}

// resistor draws one on the multimeter.
func (s sketch) resistor(nominal float64) {
	meter := s.box(besideAt, true, " Ω    +  ON ", " multimeter ", "      −     ")
	s.wire([]int{4, meter}, "", 0, 0)
	value := []rune(exactly(nominal, quantity.Ohms))
	pad := (7 - len(value)) / 2
	label := []rune(strings.Repeat(" ", 7))
	copy(label[pad:], value)
	s.box(0, true, "       ", string(label), "       ")
}

// sourceBox is what stands in the box of a source: a cell, or a block of several.
func sourceBox(volts float64) []string {
	name := " 1.5 V "
	if volts != 1.5 {
		name = fmt.Sprintf("  %v V  ", volts)
	}
	return []string{"   +   ", name, "   −   "}
}

// isLine says whether a sign is of a line or a corner.
func isLine(r rune) bool { return r >= '─' && r <= '╿' }

// draw draws it: lines, words, and whether the multimeter is on.
func (s sketch) draw(at cells.Area) {
	for y, row := range s {
		for x, r := range row {
			switch {
			case r == ' ':
			case y == above && !isLine(r): // the part that is to be found among many
				at.Text(x, y, draw.Title, string(r))
			case !isLine(r):
				at.Text(x, y, draw.Value, string(r))
			default:
				at.Text(x, y, draw.Dim, string(r))
			}
		}
		for _, state := range []struct {
			word  string
			style cells.Style
		}{{"ON", draw.Heading}, {"OFF", draw.Caution}} {
			if x := strings.Index(string(row), state.word); x >= 0 {
				at.Text(len([]rune(string(row)[:x])), y, state.style, state.word)
			}
		}
	}
}
