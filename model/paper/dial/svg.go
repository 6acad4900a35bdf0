package dial

import (
	"encoding/xml"
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"

	"example.com/needlewright/model/letters"

	plate "example.com/needlewright/model/dial"
)

// SVG returns a sheet as SVG, in mm.
func SVG(p *plate.Page) string {
	var s svg
	s.add(`<?xml version="1.0" encoding="UTF-8"?>` + "\n")
	s.add(`<svg xmlns="http://www.w3.org/2000/svg" version="1.1" width="%smm" height="%smm" viewBox="0 0 %s %s">`+"\n",
		number(p.Width), number(p.Height), number(p.Width), number(p.Height))
	s.add("<title>%s</title>\n", escaped(p.Title))
	for _, d := range p.Plates {
		s.plate(d)
	}
	s.add(`<g class="checks" fill="none" stroke="#000">` + "\n")
	for _, l := range p.Checks {
		s.line("check", "", l)
		for _, end := range checkEnds(l) {
			s.line("check-end", "", end)
		}
	}
	s.add("</g>\n" + `<g class="caption" fill="#000" stroke="none">` + "\n")
	for _, o := range p.Words {
		s.outline(o)
	}
	s.add("</g>\n</svg>\n")
	return s.String()
}

// An svg is one in the making.
type svg struct{ strings.Builder }

func (s *svg) add(format string, a ...any) { fmt.Fprintf(s, format, a...) }

// plate writes a dial, with the data by which it can be read again.
func (s *svg) plate(d *plate.Plate) {
	s.add(`<g class="dial" data-hand="%s" data-pivot="%s,%s" data-start="%s" data-sweep="%s" data-radius="%s" fill="none" stroke="#000">`+"\n",
		escaped(d.Hand), number(d.Pivot.X), number(d.Pivot.Y), number(d.Start), number(d.Sweep), number(d.Radius))
	if m := d.Mirror; m != nil {
		grey := int(math.Round(mirrorGrey * 255))
		s.add(`<path class="mirror" fill="#%02x%02x%02x" stroke-width="%s" d="%s"/>`+"\n", grey, grey, grey, number(fine), bandData(d.Pivot, *m))
	}
	s.add(`<path class="arc" stroke-width="%s" d="%s"/>`+"\n", number(d.Weight), arcData(d.Pivot, d.Radius, d.Start, d.Start+d.Sweep))
	for i, l := range d.Ends {
		s.line("end", fmt.Sprintf(` data-place="%d"`, i), l)
	}
	for _, t := range d.Ticks {
		s.line("tick "+string(t.Kind), timed(t.Time), t.Line)
	}
	s.numerals("numeral", d.Numerals)
	s.second(d)
	if d.Title != nil {
		s.add(`<g class="title" data-text="%s" fill="#000" stroke="none">`, escaped(d.Words))
		s.outline(*d.Title)
		s.add("</g>\n")
	}
	s.circles("hole", d.Holes)
	s.circles("window", d.Windows)
	for _, l := range cross(d.Pivot) {
		s.line("pivot", "", l)
	}
	for _, h := range d.Holes {
		for _, l := range cross(h.Middle) {
			s.line("punch", "", l)
		}
	}
	for _, l := range d.Cuts {
		s.line("cut", "", l)
	}
	s.add("</g>\n")
}

// second writes the second scale, by names of its own: its times may be of another kind.
func (s *svg) second(d *plate.Plate) {
	if d.Second == nil {
		return
	}
	s.add(`<g class="second" data-shows="%s" data-radius="%s">`+"\n", escaped(d.Second.Shows), number(d.Second.Radius))
	if d.Second.Radius < d.Radius {
		s.add(`<path class="second-arc" stroke-width="%s" d="%s"/>`+"\n", number(fine), arcData(d.Pivot, d.Second.Radius, d.Start, d.Start+d.Sweep))
	}
	for _, t := range d.Second.Lines {
		s.line("second-mark", timed(t.Time), t.Line)
	}
	s.numerals("second-numeral", d.Second.Numerals)
	s.add("</g>\n")
}

func timed(time string) string { return ` data-time="` + escaped(time) + `"` }

func (s *svg) line(class, data string, l plate.Line) {
	s.add(`<line class="%s"%s x1="%s" y1="%s" x2="%s" y2="%s" stroke-width="%s"/>`+"\n",
		class, data, number(l.From.X), number(l.From.Y), number(l.To.X), number(l.To.Y), number(l.Width))
}

func (s *svg) numerals(class string, all []plate.Numeral) {
	for _, n := range all {
		s.add(`<g class="%s"%s data-text="%s" fill="#000" stroke="none">`, class, timed(n.Time), escaped(n.Text))
		s.outline(n.Outline)
		s.add("</g>\n")
	}
}

func (s *svg) circles(class string, all []plate.Circle) {
	for _, c := range all {
		s.add(`<circle class="%s" cx="%s" cy="%s" r="%s" stroke-width="%s"/>`+"\n", class, number(c.Middle.X), number(c.Middle.Y), number(c.Radius), number(fine))
	}
}

// letter is what SVG calls an op.
var letter = [...]string{letters.Move: "M", letters.Line: "L", letters.Quad: "Q", letters.Cube: "C"}

func (s *svg) outline(o letters.Outline) {
	if len(o.Segments) == 0 {
		return
	}
	s.add(`<path d="`)
	for i, part := range o.Segments {
		if part.Op == letters.Move && i > 0 {
			s.add("Z")
		}
		s.add("%s", letter[part.Op])
		for k, p := range part.Points[:part.Op.Ends()] {
			if k > 0 {
				s.add(" ")
			}
			s.add("%s %s", rounded(p.X), rounded(p.Y))
		}
	}
	s.add(`Z"/>`)
}

// arcData is an arc in two pieces, each of which is less than half round.
func arcData(pivot plate.Point, radius, from, till float64) string {
	a := onCircle(pivot, radius, from)
	return "M" + number(a.X) + " " + number(a.Y) + turnData(pivot, radius, from, till)
}

func turnData(pivot plate.Point, radius, from, till float64) string {
	clockwise := "1"
	if till < from {
		clockwise = "0"
	}
	data := ""
	for _, angle := range []float64{(from + till) / 2, till} {
		p := onCircle(pivot, radius, angle)
		data += "A" + number(radius) + " " + number(radius) + " 0 0 " + clockwise + " " + number(p.X) + " " + number(p.Y)
	}
	return data
}

func bandData(pivot plate.Point, b plate.Band) string {
	p := onCircle(pivot, b.Inner, b.To)
	return arcData(pivot, b.Outer, b.From, b.To) + "L" + number(p.X) + " " + number(p.Y) + turnData(pivot, b.Inner, b.To, b.From) + "Z"
}

// number is a length in mm, or an angle, to a hundred thousandth of a micrometre.
func number(x float64) string { return decimals(x, 8) }

// rounded is a place on a letter, to a tenth of a micrometre.
func rounded(x float64) string { return decimals(x, 4) }

func decimals(x float64, n int) string {
	text := strconv.FormatFloat(x, 'f', n, 64)
	text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	if text == "-0" {
		return "0"
	}
	return text
}

// escaped is a text for XML.
func escaped(text string) string {
	var b strings.Builder
	_ = xml.EscapeText(&b, []byte(printable(text))) // a Builder takes everything
	return b.String()
}

// printable is a text in one line, without what is not printed, such as marks of direction.
func printable(text string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r):
			return ' '
		case !unicode.IsPrint(r):
			return -1
		}
		return r
	}, text)
}
