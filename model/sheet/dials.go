package sheet

import (
	"fmt"
	"html/template"
	"strconv"

	"example.com/needlewright/model/codes"
	"example.com/needlewright/model/dial"

	drawn "example.com/needlewright/model/paper/dial"
)

// What a dial may take of a sheet, mm: what A4 and Letter both leave within their margins.
const (
	mostWide, mostHigh = 179.0, 235.0
	cutMarks           = 7.5 // around a plate
	strip              = 8.0 // of the check lines, on the left and below
)

// dials are the plates at true size, each with two check lines.
func (m *maker) dials() []Block {
	var blocks []Block
	for i := range m.b.Hands {
		name := m.b.Hands[i].Name
		w, h := dial.Size(m.b, &m.r.Plan, i)
		wide, high := max(w+2*cutMarks+strip, dial.CheckLength+strip+4), max(h+2*cutMarks, dial.CheckLength+2)+strip
		p := dial.New(m.b, &m.r.Plan, i, dial.Point{X: strip + cutMarks + w/2, Y: cutMarks + h/2})
		b := Block{Heading: fmt.Sprintf("Dial of %s, %s × %s mm", name, dial.Length(w), dial.Length(h)), Texts: p.Notes}
		if wide > mostWide || high > mostHigh {
			b.Texts = append(b.Texts, "It is too large for this sheet:  needlewright dial FILE --hand "+name+" --paper a3  draws it.")
		} else {
			b.Texts = append(b.Texts, "Print at 100 %: both check lines measure 50 mm then. On a narrow screen it is smaller.")
			b.Figure = &Figure{Name: "Dial of " + name, Class: "plate", Table: ticksOf(p), SVG: svgOf(p, wide, high, m.title())}
		}
		blocks = append(blocks, b)
	}
	return blocks
}

// svgOf is a plate with its check lines.
func svgOf(p *dial.Plate, wide, high float64, title string) template.HTML {
	const weight, edge = 0.18, 2.0
	across, along := dial.Point{X: strip, Y: high - edge}, dial.Point{X: edge, Y: high - strip - dial.CheckLength}
	page := &dial.Page{Width: wide, Height: high, Plates: []*dial.Plate{p}, Title: title, Checks: [2]dial.Line{
		{From: across, To: dial.Point{X: across.X + dial.CheckLength, Y: across.Y}, Width: weight},
		{From: along, To: dial.Point{X: along.X, Y: along.Y + dial.CheckLength}, Width: weight},
	}}
	return inline(drawn.SVG(page))
}

// ticksOf are the longer marks of a plate, for a text without a picture.
func ticksOf(p *dial.Plate) *Table {
	t := &Table{Head: []string{"Time", "Degrees from straight up"}}
	for _, tick := range p.Ticks {
		if tick.Kind != dial.Short {
			t.Rows = append(t.Rows, []Cell{text(tick.Time), figure(strconv.FormatFloat(tick.Angle, 'f', 2, 64))})
		}
	}
	return t
}

// codes are those at the marks of each dial, and what else the firmware is given.
func (m *maker) codes() []Block {
	all := codes.Of(m.b, &m.r.Plan)
	blocks := []Block{{Texts: []string{"All codes:  needlewright codes FILE -o codes.h  for C, or .csv, .json."}}}
	for i := range all.Hands {
		h := &all.Hands[i]
		t := &Table{Head: []string{"Time", "Instant", "Code", "Of the scale"}}
		for _, k := range h.Marks {
			asked := h.Name + " at " + k.Time
			t.Rows = append(t.Rows, []Cell{text(k.Time), number(k.Instant), m.answer(asked+", code", strconv.Itoa(k.Code)),
				m.answer(asked+", of the scale", strconv.FormatFloat(100*k.Place, 'f', 2, 64)+" %")})
		}
		b := Block{Heading: h.Name + ": " + h.Summary(), Texts: h.Lines(), Table: t}
		blocks = append(blocks, m.lines(b))
	}
	blocks = append(blocks, m.lines(Block{Heading: "Timer", Texts: all.Timer.Lines()}))
	return append(blocks, m.lines(Block{Heading: "Setting by two buttons", Texts: all.Setting.Lines()}))
}

// lines is a block with its texts, of a learner without the numbers in them; then the key has
// them.
func (m *maker) lines(b Block) Block {
	if !m.learner || len(b.Texts) == 0 {
		return b
	}
	m.keep(Block{Heading: b.Heading, Texts: b.Texts})
	veiled := b
	veiled.Texts = nil
	for _, s := range b.Texts {
		veiled.Texts = append(veiled.Texts, everyNumber.ReplaceAllString(s, blank))
	}
	veiled.Heading = m.veiled(b.Heading)
	return veiled
}
