package walk

import (
	"fmt"
	"math"
	"strings"

	"example.com/needlewright/model"
	"example.com/needlewright/model/bench"
	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/quantity"
	"example.com/needlewright/model/spread"
	engine "example.com/needlewright/model/walk"
	"example.com/needlewright/ui/cells"
	"example.com/needlewright/ui/draw"
	"example.com/needlewright/ui/keys"
)

// drawBeside draws the circuit of the stage, or lists what it is about.
func (v *Walk) drawBeside(at cells.Area) {
	if v.isTicking() {
		v.drawJoints(at)
		return
	}
	for y, line := range v.beside() {
		style := draw.Value
		if strings.Trim(line, " │┬┴├─┤") == "" {
			style = draw.Frame
		}
		w, _ := at.Size()
		at.Text(0, y, style, cells.Cut(line, w))
	}
}

// beside are the lines of the drawing.
func (v *Walk) beside() []string {
	b, s := v.s.Report.Build, v.state()
	switch s.ID {
	case "survey":
		return surveyed
	case "time":
		c := &b.Crystal
		if !c.Frequency.Given() {
			return []string{"  the board's own clock", "  counts the seconds;", "  set it once a week"}
		}
		return []string{"        crystal", "  ┬──( " + show(c.Frequency, quantity.Kilohertz) + " )──┬", "  │                  │", " [ " + show(c.CapacitorIn, quantity.Picofarads) + " ]        [ " + show(c.CapacitorOut, quantity.Picofarads) + " ]", "  │                  │", "  ┴ ground           ┴ ground"}
	case "power":
		return fedBy(b)
	case "dial":
		return []string{"  12    3    6    9   12", "    \\    \\   │   /    /", "", "      ├── 50 mm ──┤", "  two check lines, across", "  and along: both 50 mm"}
	case "write-up":
		var lines []string
		for _, f := range v.s.Report.Findings {
			lines = append(lines, draw.Signs[f.Severity]+" "+f.Text)
		}
		if lines == nil {
			return []string{"Nothing is left to find."}
		}
		return append([]string{keys.First(v.keys.Look) + " has each of them in full:"}, lines...)
	}
	return v.driven(&b.Hands[s.HandIndex()])
}

// surveyed is how an unknown meter is looked at.
var surveyed = []string{
	" ┬───[ 1 MΩ first ]───┬", " │                    │", " │ +                  │ +", "1.5 V              ( meter )", " │ −                  │ −", " ┴────────────────────┴",
	"the survey says, step by step,", "what to connect next",
}

// driven is a hand's chain from its pin to ground.
func (v *Walk) driven(h *model.Hand) []string {
	d := &h.Drive
	lines := []string{" pin ┬ " + show(v.s.Report.Build.Rail.Voltage, quantity.Volts)}
	for _, part := range []struct {
		value quantity.Value
		name  string
	}{{d.Stage, "stage"}, {d.Fixed, "fixed"}, {d.Trimmer, "trimmer"}} {
		if part.value.Number > 0 {
			lines = append(lines, fmt.Sprintf("  [ %s ]  %s", show(part.value, quantity.Ohms), part.name))
		}
	}
	if d.Capacitor.Number > 0 {
		lines = append(lines, "     ├──[ "+show(d.Capacitor, quantity.Microfarads)+" ]─ ground")
	}
	coil := "  ( " + show(h.Meter.Coil, quantity.Ohms) + " )  meter"
	if v.state().ID == "bring-up" && v.at.page == 0 {
		coil = "  [ " + dummyText(h) + " ]  in its place"
	}
	return append(lines, "     │", coil, "     ┴ ground")
}

// dummyText is the resistor in the meter's place.
func dummyText(h *model.Hand) string {
	return quantity.Show(h.Dummy(), quantity.Ohms, 2)
}

// fedBy is the way from the cells to the rail.
func fedBy(b *model.Build) []string {
	rail := "  " + show(b.Rail.Voltage, quantity.Volts) + "  controller, lamps, hands"
	if !b.Battery.HasCells() {
		return []string{"  plug-in supply, isolated", "     │", rail}
	}
	lines := []string{fmt.Sprintf("  %d × %s", b.Battery.Cells, b.Battery.Cell), "     │"}
	if kind := b.Converter.Kind; kind != "none" && kind != "" {
		lines = append(lines, "  [ "+map[string]string{"boost": "step-up", "linear": "regulator"}[kind]+" ]", "     │")
	}
	return append(lines, rail)
}

// show is a value without its tolerance.
func show(v quantity.Value, u quantity.Unit) string {
	if !v.Given() {
		return "?"
	}
	return quantity.Format(quantity.Value{Number: v.Number}, u)
}

// result says in a sentence what the answers mean: the results of the stage.
func (v *Walk) result() string {
	s, q := v.state(), v.question()
	switch {
	case q.Point != "":
		return "" // the plan stands with the question
	case s.ID == "survey" && s.State != engine.Done:
		return "" // of what is assumed it would say nothing
	}
	if f := s.Against(); f != nil {
		return f.Text + v.mends(f)
	}
	if s.ID == "write-up" {
		return v.offText()
	}
	var parts []string
	for _, row := range v.results() {
		if strings.HasPrefix(row.ID, "crystal.") && !v.s.Report.Build.Crystal.Frequency.Given() {
			continue
		}
		parts = append(parts, strings.TrimSpace(row.Label)+" "+row.Text()+beyond(&row))
	}
	if parts == nil {
		return ""
	}
	return strings.Join(parts, ", ") + "."
}

// offText says how far each hand is off a month after it was set.
func (v *Walk) offText() string {
	r := v.s.Report
	var parts []string
	for i := range r.Build.Hands {
		b := r.AfterMonth(i)
		if !math.IsNaN(b.RSS) {
			const digits = 3
			parts = append(parts, r.Build.Hands[i].Name+" likely within "+quantity.DialTimeIn(b.RSS, digits)+", "+quantity.DialTimeIn(b.Worst, digits)+" at worst")
		}
	}
	if parts == nil {
		return ""
	}
	return "A month after it was set: " + strings.Join(parts, "; ") + "."
}

// beyond says in words that a trimmer cannot be turned so far; "" where it can.
func beyond(row *spread.Row) string {
	switch {
	case row.ID != "hand.trimmer_travel":
	case row.Value < 0:
		return ": the fixed resistor is too large"
	case row.Value > 1:
		return ": the fixed resistor is too small"
	}
	return ""
}

// codeOf says which code a test point is read at; "" where none is sent.
func (v *Walk) codeOf(point string) string {
	d := &v.s.Report.Build.Hands[v.state().HandIndex()].Drive
	at := point[strings.LastIndexByte(point, '_')+1:]
	code, sent := map[string]int{"zero": 0, "half": d.Top / 2, "top": d.Top}[at]
	if !sent {
		return ""
	}
	return fmt.Sprintf("Code %d of %d. ", code, d.Counts)
}

// mends says what F3 does about a finding, or else what is advised.
func (v *Walk) mends(f *judge.Finding) string {
	if len(f.Changes) > 0 {
		return " " + keys.First(v.keys.Take) + ": " + v.s.Doc.ChangesText(f.Changes) + "."
	}
	if f.Advice == "" {
		return ""
	}
	return " " + f.Advice
}

// results are those that the stage shows.
func (v *Walk) results() (rows []spread.Row) {
	s := v.state()
	for _, id := range s.Shows {
		for _, row := range v.s.Report.Results {
			if row.ID == id && (!row.OfHand() || row.Index == s.HandIndex()) {
				rows = append(rows, row)
			}
		}
	}
	return rows
}

// NextResult is the next of the results that the stage shows, the first after the last; false
// where it shows none.
func (v *Walk) NextResult() (row spread.Row, ok bool) {
	rows := v.results()
	if len(rows) == 0 {
		return row, false
	}
	row = rows[v.shown%len(rows)]
	v.shown++
	return row, true
}

// nothingRead is what a multimeter reads as none, V: common practice, no source.
const nothingRead = 5e-3

// inMilli says whether a reading of volts that is outside would fit as so many millivolts.
func (v *Walk) inMilli(q *engine.Question, text string) bool {
	if !strings.Contains(q.Point, "voltage") {
		return false
	}
	p, _ := v.soundAt(v.state().PointOf(q))
	read, err := quantity.Parse(text, quantity.Volts)
	return p != nil && err == nil && read.Number/1000 >= p.Least && read.Number/1000 <= p.Most
}

// planned says what a sound clock reads at a test point, and within what.
func (v *Walk) planned(id string) string {
	p, at := v.soundAt(id)
	if p == nil {
		return ""
	}
	value, band := at.Sound(p)
	if p.Most <= nothingRead {
		return "Plan " + value + ". "
	}
	return "Plan " + value + ", " + band + ". "
}

// soundAt is what a sound clock reads at a test point, as a number; nil where it has none.
func (v *Walk) soundAt(id string) (*bench.Point, bench.Place) {
	if v.sound == nil {
		v.bench = bench.Sound(v.s.Report.Build)
		v.sound = v.bench.Verdicts(nil)
	}
	at, ok := v.bench.PlaceOf(id)
	for i := range v.sound.Points {
		if p := &v.sound.Points[i]; ok && p.ID == id && p.Words == nil {
			return p, at
		}
	}
	return nil, at
}

// Against is what keeps the stage of the page from being done; nil where nothing does.
func (v *Walk) Against() *judge.Finding { return v.state().Against() }
