package survey

import (
	"cmp"
	"slices"

	"example.com/needlewright/model/quantity"
	engine "example.com/needlewright/model/survey"
	"example.com/needlewright/ui/cells"
	"example.com/needlewright/ui/draw"
)

// A connected is what was read at a connection; "" where it was not.
type connected struct {
	at                engine.Connection
	needle, terminals string
}

// connections are all that were made, in their order, with what was read.
func (v *Survey) connections() []connected {
	var all []connected
	for i := range v.steps {
		s := &v.steps[i]
		a := s.ask
		if a.Of == nil || a.Of.Series == 0 || a.Kind == "source" {
			continue
		}
		k := slices.IndexFunc(all, func(c connected) bool { return c.at == *a.Of })
		if k < 0 {
			k = len(all)
			all = append(all, connected{at: *a.Of})
		}
		all[k].read(s)
	}
	return all
}

// read takes what was read.
func (c *connected) read(s *step) {
	switch s.ask.Kind {
	case "needle":
		c.needle = s.shown()
	case "terminals":
		c.terminals = s.shown()
	}
}

// isConnected says whether a connection was made.
func (v *Survey) isConnected(at engine.Connection) bool {
	return slices.ContainsFunc(v.connections(), func(c connected) bool { return c.at == at })
}

// drawKnown draws what is known so far: what the readings leave of the meter, and them, or
// what was answered.
func (v *Survey) drawKnown(at cells.Area) {
	_, h := at.Size()
	heading, y := "Known so far", 1
	switch v.stage() {
	case 0:
		v.drawLooks(at.Rows(y, h-y))
	case 1:
		y += v.drawBands(at.Rows(y, h-y))
		y += v.drawReadings(at.Rows(y, h-y))
	default:
		heading = "What was read"
		y += v.drawReadings(at.Rows(y, h-y))
	}
	at.Text(0, 0, draw.Heading, heading)
	if y > 1 { // a line of air
		y++
	}
	if v.stage() > 0 && h-y >= len(v.looks()) { // there is room for the others too
		v.drawLooks(at.Rows(y, h-y))
	}
}

// saysNothing is how many times its lower end the upper end of a resistance's band is, where
// it is not worth a number yet. A full scale's lower end always is: so much it bears.
const saysNothing = 1e4

// drawBands draws what the readings leave of resistance and full scale.
func (v *Survey) drawBands(at cells.Area) int {
	for y, row := range []struct {
		label string
		of    engine.Value
		unit  quantity.Unit
	}{
		{"Resistance", v.known.Resistance, quantity.Ohms},
		{"Full scale", v.known.FullScale, quantity.Microamperes},
	} {
		const unknown = "not known yet"
		text := bandText(row.of, row.unit, unknown)
		if row.unit == quantity.Ohms && row.of.High > saysNothing*row.of.Low {
			text = unknown
		}
		at.Text(0, y, draw.Label, row.label)
		at.Text(labelColumns, y, draw.Value, text)
	}
	return 2
}

// Columns of the readings: where each begins.
const (
	resistorColumn  = 7
	needleColumn    = 17
	terminalsColumn = 28
)

// drawReadings draws the readings, the last of them where there is no room for all, and
// returns the rows that they took.
func (v *Survey) drawReadings(at cells.Area) int {
	_, h := at.Size()
	rows := v.connections()
	if len(rows) == 0 || h < 2 {
		return 0
	}
	at.Text(0, 0, draw.Dim, "source")
	at.Text(resistorColumn, 0, draw.Dim, "resistor")
	at.Text(needleColumn, 0, draw.Dim, "needle")
	at.Sub(terminalsColumn, 0, 20, 1).Text(0, 0, draw.Dim, v.terminalsHead(at))
	shown := rows[max(0, len(rows)-(h-1)):]
	for i, c := range shown {
		y := 1 + i
		at.Text(0, y, draw.Label, exactly(c.at.Volts, quantity.Volts))
		at.Text(resistorColumn, y, draw.Label, exactly(c.at.Series, quantity.Ohms))
		at.Sub(needleColumn, y, terminalsColumn-needleColumn-1, 1).Text(0, 0, draw.Value, or(c.needle))
		if at.Lines(v.terminalsHead(at)) != nil {
			w, _ := at.Size()
			at.Sub(terminalsColumn, y, w-terminalsColumn, 1).Text(0, 0, draw.Value, or(c.terminals))
		}
	}
	return 1 + len(shown)
}

// terminalsHead is the head of the column of volts at the terminals; "" where there is no
// room for it.
func (v *Survey) terminalsHead(at cells.Area) string {
	if w, _ := at.Size(); w < terminalsColumn+10 {
		return ""
	}
	return "terminals"
}

// or is a reading, or the sign of none.
func or(reading string) string { return cmp.Or(reading, notRead) }

// notRead stands where nothing was read.
const notRead = "–"

// units are those of bare numbers.
var units = map[string]quantity.Unit{
	"rest": quantity.Percent, "needle": quantity.Percent, "source": quantity.Volts, "terminals": quantity.Volts, "resistor": quantity.Ohms,
}

// shown is an answer as it was understood, with its unit.
func (s *step) shown() string {
	u, ok := units[s.ask.Kind]
	switch {
	case s.answer == skip:
		return notRead
	case ok:
		return quantity.Complete(s.answer, "", u)
	}
	return s.answer
}

// looks are the answers of the first stage, and the sources.
func (v *Survey) looks() []step {
	var all []step
	for _, s := range v.steps {
		if s.ask.Of == nil && s.ask.Kind != "swap" || s.ask.Of != nil && s.ask.Of.Series == 0 {
			all = append(all, s)
		}
	}
	return all
}

// drawLooks draws them.
func (v *Survey) drawLooks(at cells.Area) {
	all := v.looks()
	w, h := at.Size()
	if len(all) == 0 {
		at.Wrap(0, draw.Dim, "Nothing yet.\n\nHave at hand: "+tools)
		return
	}
	for y, s := range all[max(0, len(all)-h):] {
		at.Sub(0, y, labelColumns-1, 1).Text(0, 0, draw.Label, labelOf(s.ask))
		at.Sub(labelColumns, y, w-labelColumns, 1).Text(0, 0, draw.Value, s.shown())
	}
}

// tools are what a survey wants.
const tools = "a fresh 1.5 V cell, resistors of the series E6 from 15 Ω to 10 MΩ, a multimeter, clips, and for some meters a 9 V block."

// labelOf names what was asked.
func labelOf(a *engine.Ask) string {
	switch a.Kind {
	case "source":
		return "Source " + exactly(a.Of.Volts, quantity.Volts)
	case "resistor":
		return exactly(a.Nominal, quantity.Ohms)
	}
	return words[a.Kind].label
}
