package schematic

import (
	"encoding/xml"
	"fmt"
	"strings"
)

// The size of a cell, and of the letters in it, in SVG units.
const (
	cellWide, cellHigh = 8.0, 17.0
	letters            = 13
)

// SVG is the drawing as one SVG, of a generic font and without any script or link.
func (d *Drawing) SVG() string {
	var s strings.Builder
	wide, high := (Width+2)*cellWide, float64(d.height+2)*cellHigh
	fmt.Fprintf(&s, `<svg xmlns="http://www.w3.org/2000/svg" width="%g" height="%g" viewBox="%g %g %g %g" role="img">`+"\n", wide, high, -cellWide, -cellHigh, wide, high)
	fmt.Fprintf(&s, "<title>%s</title>\n", escaped(d.Title))
	fmt.Fprintf(&s, `<rect x="%g" y="%g" width="%g" height="%g" fill="white"/>`+"\n", -cellWide, -cellHigh, wide, high)
	s.WriteString(`<g fill="none" stroke="black" stroke-width="1.4" stroke-linecap="round" stroke-linejoin="round">` + "\n")
	for _, l := range d.lines {
		fmt.Fprintf(&s, `<path d="M%g %gL%g %g"/>`+"\n", middle(l.from.x, cellWide), middle(l.from.y, cellHigh), middle(l.to.x, cellWide), middle(l.to.y, cellHigh))
	}
	for _, m := range d.marks {
		d.svgMark(&s, m)
	}
	s.WriteString("</g>\n" + `<g font-family="monospace" font-size="` + fmt.Sprint(letters) + `" fill="black" xml:space="preserve">` + "\n")
	for _, w := range d.texts {
		svgText(&s, w)
	}
	s.WriteString("</g>\n</svg>\n")
	return s.String()
}

// middle is that of a cell, along one side.
func middle(at int, size float64) float64 { return (float64(at) + 0.5) * size }

// svgMark draws a symbol.
func (d *Drawing) svgMark(s *strings.Builder, m mark) {
	p := symbols[m.kind]
	fmt.Fprintf(s, `<g transform="translate(%g %g) scale(%g %g)">`, float64(m.at.x)*cellWide, float64(m.at.y)*cellHigh, cellWide, cellHigh)
	if p.lines != "" {
		fmt.Fprintf(s, `<path style="vector-effect:non-scaling-stroke" d="%s"/>`, p.lines)
	}
	if p.filled != "" {
		fmt.Fprintf(s, `<path fill="black" stroke="none" d="%s"/>`, p.filled)
	}
	s.WriteString("</g>\n")
	sign := func(x, y float64, text string) {
		fmt.Fprintf(s, `<text x="%g" y="%g" font-family="monospace" font-size="%d" fill="black" stroke="none">%s</text>`+"\n", (float64(m.at.x)+x)*cellWide, (float64(m.at.y)+y)*cellHigh, letters, text)
	}
	switch m.kind {
	case meterUp:
		sign(-1.3, 0.75, "+")
		sign(-1.3, 2.75, "−")
	case polarUp:
		sign(2, 0.8, "+")
	}
}

// svgText writes a text; one that ends somewhere is anchored there.
func svgText(s *strings.Builder, w words) {
	x, anchor := float64(w.at.x)*cellWide, ""
	if w.ends {
		x, anchor = float64(w.at.x+1)*cellWide, ` text-anchor="end"`
	}
	if w.boxed {
		n := float64(len([]rune(w.text)) + 4)
		fmt.Fprintf(s, `<rect x="%g" y="%g" width="%g" height="%g" fill="none" stroke="black" stroke-width="1.4"/>`+"\n", x-cellWide/2, (float64(w.at.y)+0.1)*cellHigh, n*cellWide, 0.8*cellHigh)
		x += (n/2 - 0.5) * cellWide
		anchor = ` text-anchor="middle"`
	}
	if w.heavy {
		anchor += ` font-weight="bold"`
	}
	fmt.Fprintf(s, `<text x="%g" y="%g"%s>%s</text>`+"\n", x, (float64(w.at.y)+0.75)*cellHigh, anchor, escaped(w.text))
}

// escaped is a text as XML holds it.
func escaped(text string) string {
	var s strings.Builder
	_ = xml.EscapeText(&s, []byte(text)) // a Builder never fails
	return s.String()
}
