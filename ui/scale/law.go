package scale

import (
	"fmt"
	"math"
	"strings"

	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/quantity"
	"example.com/needlewright/model/report"
	"example.com/needlewright/ui/cells"
	"example.com/needlewright/ui/draw"
)

// ways are what may be done about a scale, as the field has it, and in words.
var ways = [...]struct{ correct, text string }{
	{"none", "as it is"}, {"codes", "by codes"}, {"dial", "by a drawn dial"},
}

// mostWrong stands above what they leave.
const mostWrong = "Most wrong over the dial"

// A said thing is a line of the law: a text, with what stands at its end, before it a sign.
type said struct {
	sign, text, end string
	style           cells.Style
}

// DrawLaw draws what the rows tell: where there is room the law as a plot, and below it the
// largest error before and after.
func (s *Scale) DrawLaw(frame cells.Area, plot bool) {
	title := "What it does"
	if !plot {
		title = mostWrong
	}
	in := draw.Titled(frame, title)
	f := s.fitted()
	if f == nil {
		return
	}
	w, h := in.Size()
	lines := s.lines(w, plot)
	const leastPlot = 6
	from := 0
	if plot && h-len(lines) >= leastPlot {
		from = h - len(lines)
		draw.Plot(in.Rows(0, from), circuit.ScalePlot(f))
	}
	for y, l := range lines {
		at := in.Rows(from+y, 1)
		x := 0
		if l.sign != "" {
			x = 1 + at.Text(0, 0, draw.Note, l.sign)
		}
		at.Text(x, 0, l.style, l.text)
		at.TextRight(0, l.style, l.end)
	}
}

// lines say what the scale is before and after, what is left, and what is wrong with it.
func (s *Scale) lines(w int, headed bool) []said {
	told := s.toldOf()
	var lines []said
	add := func(style cells.Style, text string) {
		for _, line := range cells.Lines(text, w) {
			lines = append(lines, said{text: line, style: style})
		}
	}
	switch {
	case told == nil || told.Rows == 0:
		add(draw.Value, "Look where the needle stands with each code of the table: these readings tell how it is to be straightened.")
		return lines
	case !told.Enough:
		add(draw.Value, "There is no law yet: "+told.Why+".")
		return lines
	}
	value := draw.Value
	if s.s.Stale() {
		value = draw.Dim
	}
	if headed {
		lines = append(lines, said{text: mostWrong, style: draw.Heading})
	}
	offered := s.offered()
	for _, way := range ways {
		l := said{sign: " ", text: way.text, end: told.Off(offBy(told, way.correct)), style: value}
		switch way.correct {
		case s.correct():
			l.sign = "✓"
		case offered:
			l.sign, l.text = "→", l.text+" ("+s.keys.Take.Help().Key+")"
		}
		lines = append(lines, l)
	}
	if told.Steep.TooSteep {
		add(draw.Caution, told.Steep.Text(told.Shows, told.Minutes))
	}
	add(draw.Dim, leaves(told))
	return lines
}

// leaves says what stays in doubt, and what was seen of needle and ends.
func leaves(told *report.Scale) string {
	percent := func(x float64) string { return quantity.Show(x, quantity.Percent, 2) }
	text := "±" + told.Off(told.MostLeft()*told.Minutes) + " left by reading and between"
	if !math.IsNaN(told.Stick) {
		text += "; sticks ±" + percent(told.Stick)
	}
	for _, end := range []struct {
		name string
		off  float64
	}{{"zero", told.Zero}, {"full scale", told.FullScale}} {
		if end.off != 0 {
			text += fmt.Sprintf("; %s %s off", end.name, signed(percent(end.off)))
		}
	}
	return text + "."
}

func signed(text string) string {
	if strings.HasPrefix(text, "-") {
		return text
	}
	return "+" + text
}
