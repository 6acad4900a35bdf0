package class

import (
	_ "embed"
	"fmt"
	"slices"
	"strings"

	"example.com/needlewright/model"
	"example.com/needlewright/model/bench"
	"example.com/needlewright/model/caution"
	"example.com/needlewright/model/page"
	"example.com/needlewright/model/quantity"
)

//go:embed sheet.html
var sheetBody string

type (
	// A sheet is what is handed out: all but the key.
	sheet struct {
		Title, Faults string
		Seed          uint64
		Known         []facts
		Rows          []sheetRow
		Questions     []string
		Cautions      []caution.Caution
	}
	// facts are what is known of a hand, or of the clock.
	facts struct {
		Of   string
		Rows [][2]string
	}
	// A sheetRow is a reading beside what a sound clock reads.
	sheetRow struct {
		At, State, Probes, Mind string
		Sound, Band, Reads      string
	}
)

// Sheet returns the exercise as a sheet to hand out, one HTML file: the clock as it is
// planned, what is read at its test points beside what a sound clock reads there, room for
// the answers, and the cautions of the work. The key is not in it.
func (e *Exercise) Sheet() (string, error) {
	b, problems := model.Read(e.Text)
	if problems != nil {
		return "", fmt.Errorf("the exercise cannot be read: %s", problems[0])
	}
	s := &sheet{Title: b.Title, Seed: e.Seed, Faults: quantity.Counted(len(e.Faults), "fault"),
		Known: known(b), Rows: sheetRows(b), Cautions: sheetCautions(b)}
	s.Questions = []string{"Which readings are not those of a sound clock, and what have they in common?"}
	for range e.Faults {
		s.Questions = append(s.Questions, "What is wrong?", "How do I make sure, before anything is changed?", "How is it mended, and what has to be off meanwhile?")
	}
	return page.Make("Find the fault: "+b.Title, sheetBody, s)
}

// knownOfHands and knownOfClock are the fields that a plan on paper says.
var (
	knownOfHands = strings.Fields(`hand.shows hand.meter.coil hand.meter.full_scale hand.meter.sweep hand.meter.law hand.drive.stage hand.drive.pin_resistance
		hand.drive.fixed hand.drive.trimmer hand.drive.capacitor hand.drive.capacitor_at hand.drive.counts hand.drive.top`)
	knownOfClock = strings.Fields(`rail.voltage battery.cell battery.cells converter.kind crystal.frequency crystal.load crystal.capacitor_in crystal.capacitor_out`)
)

// known are the facts of each hand, then of the clock.
func known(b *model.Build) []facts {
	var all []facts
	of := func(name string, paths []string, i int) {
		f := facts{Of: name}
		for _, path := range paths {
			field := model.Builds.Field(path)
			if text := field.Text(b, i); text != "" {
				f.Rows = append(f.Rows, [2]string{strings.TrimSpace(field.Label), text})
			}
		}
		all = append(all, f)
	}
	for i := range b.Hands {
		of("Hand: "+b.Hands[i].Name, knownOfHands, i)
	}
	of("The clock", knownOfClock, 0)
	return all
}

// sheetRows are the readings, in the file's order.
func sheetRows(b *model.Build) []sheetRow {
	x := bench.New(b)
	report := x.Verdicts(b.Readings)
	var rows []sheetRow
	for i := range report.Readings {
		r := &report.Readings[i]
		k := slices.IndexFunc(report.Points, func(p bench.Point) bool { return p.ID == r.At })
		place, ok := x.PlaceOf(r.At)
		if k < 0 || !ok {
			continue
		}
		p := &report.Points[k]
		row := sheetRow{At: x.CalledOf(r.At), State: p.State, Probes: p.Probes, Mind: p.Mind, Reads: r.Given}
		row.Sound, row.Band = place.Sound(p)
		rows = append(rows, row)
	}
	return rows
}

// atTheBench are the fields at which the hand does what a real clock with a fault asks for:
// to measure, to change a part, to take cells out.
var atTheBench = []string{"reading.value", "load.controller_on", "hand.meter.coil", "hand.meter.origin", "hand.drive.fixed", "hand.drive.capacitor", "battery.cell"}

// sheetCautions are the cautions of that work, the gravest first.
func sheetCautions(b *model.Build) []caution.Caution {
	wanted := map[string]bool{}
	for _, path := range atTheBench {
		f := model.Builds.Field(path)
		for i := range f.Of(b) {
			for _, c := range caution.At(b, f, i) {
				wanted[c.ID] = true
			}
		}
	}
	return slices.DeleteFunc(caution.Of(b), func(c caution.Caution) bool { return !wanted[c.ID] })
}
