package walk

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/modeltest"
)

// otherwise is a document with another value of a field; false where there is none that is
// sound.
func otherwise(d *model.Document, f *model.Field, i int) (*model.Document, bool) {
	for _, up := range []bool{true, false} {
		if text, ok := d.Step(f, i, up); ok {
			if o := d.Set(f, i, text); len(o.Problems) == 0 && f.Text(o.Build, i) != f.Text(d.Build, i) {
				return o, true
			}
		}
	}
	return nil, false
}

// Laws: a stage that was done is to be looked at again exactly when something of its ground
// has moved, whatever else is changed; a yes is void exactly then. What has moved is named.
// Looked at, it is done, or to be done; but what was read before is to be read again.
func TestAgainExactlyWhenItsGroundMoved(t *testing.T) {
	d := finished(t)
	require.Equal(t, 10, walkOf(t, d).Count())
	moves := 0
	for _, f := range model.Builds.Fields {
		if f.Pane == model.NoPane && !strings.HasPrefix(f.Path, "load.") || f.IsRow() || f.Of(d.Build) == 0 {
			continue
		}
		o, ok := otherwise(d, f, 0)
		if !ok {
			continue
		}
		w := walkOf(t, o)
		for i := range w.States {
			s := &w.States[i]
			rests := slices.Contains(s.rests.paths, f.Path)
			if s.rests.findings {
				rests = s.site.text(s.rests) != stateOf(t, d, s.ID, s.Hand).site.text(s.rests)
			}
			assert.Equal(t, rests, s.State == Again, "%s of %s: %v", f.Path, s.ID, s.Changed)
			if !rests {
				continue
			}
			moves++
			assert.NotEmpty(t, s.Changed)
			after := stateOf(t, readAgain(t, s).Looked(), s.ID, s.Hand)
			assert.NotEqual(t, Again, after.State, s.ID)
			assert.Equal(t, len(after.Needs()) == 0, after.State == Done, s.ID)
		}
		checkVoid(t, w, f)
	}
	assert.Greater(t, moves, 100)
}

// readAgain is a stage after a change of a part, with its readings taken again, as they were.
// Until then they do not count, and it is still to be looked at again.
func readAgain(t *testing.T, s *State) *State {
	t.Helper()
	for _, point := range s.rests.points {
		q := &Question{Point: point}
		text, _, _ := s.Given(q)
		require.NotEmpty(t, text, point)
		assert.True(t, s.IsBefore(q), point)
		assert.Contains(t, s.Needs(), s.PointOf(q))
		assert.Equal(t, s.site.d.Text, s.Looked().Text)
		s = stateOf(t, s.Answer(q, text, ""), s.ID, s.Hand)
		assert.False(t, s.IsBefore(q), point)
		assert.Equal(t, "yes", s.site.b.Readings[slices.IndexFunc(s.site.b.Readings, func(r model.Reading) bool { return r.At == s.PointOf(q) })].Before)
	}
	return s
}

// Nobody signs first power after a change before the stages that it goes through were looked at
// again, nor anything of a meter that may hurt. Derived: the changes are made here.
func TestWhoMaySign(t *testing.T) {
	d := finished(t)
	assert.Empty(t, stateOf(t, d, "bring-up", "hours").MaySign("first-power"))
	o := model.Open(modeltest.With(t, d.Text, "hand.hours.drive.fixed", "10.1 kΩ ±1 %"))
	s := stateOf(t, readAgain(t, stateOf(t, o, "bring-up", "hours")).site.d, "bring-up", "hours")
	assert.Equal(t, "First: drive, which is not done.", s.MaySign("first-power"))
	o = stateOf(t, s.site.d, "drive", "hours").Looked()
	assert.Equal(t, "First: build, which is not done.", stateOf(t, o, "bring-up", "hours").MaySign("first-power"))
	o = answered(t, o, "build", "", "parts-ticked", "yes")
	o = stateOf(t, o, "build", "").Looked()
	assert.Empty(t, stateOf(t, o, "bring-up", "hours").MaySign("first-power"))

	glows := model.Open(modeltest.With(t, d.Text, "hand.hours.meter.glow", "yes"))
	for id := range signs {
		assert.Contains(t, stateOf(t, glows, "build", "").MaySign(id), "radium", id)
	}
	hangs := model.Open(modeltest.With(t, d.Text, "hand.hours.meter.origin", "mains", "hand.hours.meter.removed", "no"))
	assert.Contains(t, stateOf(t, hangs, "dial", "hours").MaySign("ruler-true"), "licensed practice")
	assert.Empty(t, stateOf(t, Begin(), "dial", "hours").Stop(), "nobody has said yet whether it glows")
}

// checkVoid: a yes is void exactly when the field that moved is of its ground.
func checkVoid(t *testing.T, w *Walk, f *model.Field) {
	t.Helper()
	for i := range w.shared.b.Walk {
		row := &w.shared.b.Walk[i]
		for k := range row.Met {
			id := row.Met[k].ID
			if !signs[id].ground.findings {
				s := w.Find(row.Stage, row.Hand)
				assert.Equal(t, slices.Contains(signs[id].ground.paths, f.Path), slices.Contains(s.Needs(), id), "%s after %s", id, f.Path)
			}
		}
	}
}

// What has moved is told with its two values. Derived: the changes are made here.
func TestWhatMovedIsTold(t *testing.T) {
	d := finished(t)
	w := walkOf(t, model.Open(modeltest.With(t, d.Text, "hand.hours.drive.fixed", "9.1 kΩ ±1 %")))
	assert.Equal(t, []string{"fixed 10 kΩ ±1 % → 9.1 kΩ ±1 %"}, w.Find("drive", "hours").Changed)
	assert.Equal(t, "drive", w.Next().ID)
	assert.Contains(t, w.Text(), "look again at drive: fixed 10 kΩ ±1 % → 9.1 kΩ ±1 %.")
	w = walkOf(t, model.Open(modeltest.With(t, d.Text, "hand.hours.meter.internal_kind", "multiplier", "hand.hours.meter.internal", "10 kΩ")))
	assert.Equal(t, []string{"internal_kind none → multiplier", "internal none → 10 kΩ"}, w.Find("survey", "hours").Changed)
	// beyond what fits, it is only known that something has
	w = walkOf(t, model.Open(modeltest.With(t, d.Text, "crystal.lost_counts", "3")))
	assert.Equal(t, []string{"something it rested on"}, w.Find("time", "").Changed)
	// spelled otherwise is the same
	assert.Equal(t, 10, walkOf(t, model.Open(modeltest.With(t, d.Text, "hand.hours.meter.coil", "800R ±1%", "hand.hours.drive.fixed", "10k ±1 %"))).Count())
}

// A yes does not stand against a fault of overload, rail, cells or origin, a reading outside
// its band, a no, or nothing that it rests on. Derived: each is made in the finished clock.
func TestNoYesAgainstAFault(t *testing.T) {
	text := finished(t).Text
	for name, change := range map[string][]string{
		"overload":             {"hand.hours.drive.fixed", "3.3 kΩ ±1 %"},
		"rail above its limit": {"rail.maximum", "4.5 V"},
		"cells":                {"battery.cell", "CR2032", "battery.cells", "1"},
		"in its set":           {"hand.hours.meter.origin", "mains", "hand.hours.meter.removed", "no"},
		"a reading too high":   {"reading.hours.dummy_voltage_top.value", "0.5 V"},
		"a reading taken back": {"reading.hours.dummy_voltage_half.value", ""},
		"said no":              {"walk.8.met.1.value", "no"},
		"said nothing":         {"walk.8.met.1.value", ""},
		"rests on nothing":     {"walk.8.met.1.rested_on", ""},
	} {
		d := model.Open(modeltest.With(t, text, change...))
		s := stateOf(t, d, "bring-up", "hours")
		again := s.Sign("first-power", "yes", "teacher")
		s = stateOf(t, again, "bring-up", "hours")
		said := strings.HasPrefix(change[0], "walk.")
		assert.Equal(t, said, len(s.Needs()) == 0, "%s: %v", name, s.Needs())
		before := stateOf(t, d, "bring-up", "hours")
		assert.NotEmpty(t, before.Needs(), name)
		if !said {
			assert.NotEmpty(t, before.MaySign("first-power"), name)
			assert.NotEqual(t, Done, stateOf(t, s.Looked(), "bring-up", "hours").State, name)
		}
	}
	assert.Empty(t, stateOf(t, model.Open(text), "bring-up", "hours").MaySign("first-power"))
}

// One of full scale and coil may be the dial's word, signed; not both, and not where the dial
// says nothing.
func TestOneValueFromTheDial(t *testing.T) {
	d := model.Open(modeltest.With(t, Begin().Text, "hand.hours.meter.origin", "new", "hand.hours.meter.glow", "no", "hand.hours.meter.coil", "640 Ω ±2 %"))
	sign := func(d *model.Document) *State {
		return stateOf(t, stateOf(t, d, "survey", "hours").Sign("from-dial", "yes", "me"), "survey", "hours")
	}
	assert.Equal(t, []string{"hand.hours.meter.full_scale"}, sign(d).Needs(), "the dial says nothing")
	d = model.Open(modeltest.With(t, d.Text, "hand.hours.meter.marked", "500 µA"))
	assert.Equal(t, []string{"hand.hours.meter.full_scale", "from-dial"}, stateOf(t, d, "survey", "hours").Needs())
	assert.Equal(t, Done, sign(d).State)
	f, i, _ := d.Find("hand.hours.meter.coil")
	both := d.SetMarked(f, i, "640 Ω ±10 %", "assumed")
	assert.Equal(t, []string{"hand.hours.meter.full_scale", "hand.hours.meter.coil"}, sign(both).Needs(), "neither was measured")
}

// "I don't know" writes what is usual, marked, with a wider ±, and what asks for it goes on
// asking; no reading and no yes is made up.
func TestUnknown(t *testing.T) {
	d := model.Open(modeltest.Example("reading-room"))
	for _, c := range []struct{ id, field, want, mark string }{
		{"survey", "hand.meter.coil", "640 Ω ±10 %", "assumed"}, {"survey", "hand.meter.full_scale", "500 µA ±10 %", "assumed"},
		{"survey", "hand.meter.glow", "unknown", "assumed"}, {"survey", "hand.meter.removed", "unknown", "assumed"},
		{"drive", "rail.voltage", "5 V ±5 %", "assumed"}, {"dial", "hand.meter.sweep", "90°", "assumed"},
	} {
		s := stateOf(t, d, c.id, "hours")
		o, ok := s.Unknown(&Question{Field: c.field})
		require.True(t, ok, c.field)
		f, i := s.FieldOf(&Question{Field: c.field})
		text, _ := o.Given(f, i)
		assert.Equal(t, c.want, text)
		assert.Equal(t, c.mark, o.Mark(f, i))
		if c.field != "hand.meter.removed" { // which is asked of what was in a set alone
			assert.Contains(t, stateOf(t, o, c.id, "hours").Needs(), f.PathOf(o.Build, i), c.field)
		}
	}
	s := stateOf(t, d, "survey", "hours")
	for _, q := range []Question{{Field: "hand.meter.origin"}, {Sign: "from-dial"}, {Point: "needle_half"}} {
		o, ok := s.Unknown(&q)
		assert.False(t, ok)
		assert.Equal(t, d.Text, o.Text)
	}
}

// What is typed gets its unit and the multimeter's ±; a reading takes the place of the one
// that was there; parts that the program chose follow the meter, and none that a person
// chose. Derived from the catalogue's rules of a new build.
func TestAnswers(t *testing.T) {
	d := answered(t, Begin(), "survey", "hours", "hand.meter.coil", "640")
	f, i, _ := d.Find("hand.hours.meter.coil")
	text, _ := d.Given(f, i)
	assert.Equal(t, "640 Ω ±2 %", text)
	assert.Equal(t, "± assumed", d.Mark(f, i))
	d = answered(t, d, "survey", "hours", "hand.meter.full_scale", "100 uA ±1 %")
	text, _ = d.Given(model.Builds.Field("hand.meter.full_scale"), 0)
	assert.Equal(t, "100 µA ±1 %", text)
	fixed := model.Builds.Field("hand.drive.fixed")
	text, _ = d.Given(fixed, 0)
	assert.NotEqual(t, "4.7 kΩ ±1 %", text, "it followed")
	assert.Equal(t, "suggested", d.Mark(fixed, 0))
	d = answered(t, d, "drive", "hours", "hand.drive.fixed", "4.7k")
	d = answered(t, d, "survey", "hours", "hand.meter.full_scale", "1 mA")
	text, _ = d.Given(fixed, 0)
	assert.Equal(t, "4k7 ±1 %", strings.ReplaceAll(text, "4.7k", "4k7"), "it was chosen by a person")
	// cells are no reason to choose a resistor anew, nor is anything once it is soldered
	follows := func(d *model.Document) string {
		d = answered(t, d, "survey", "hours", "hand.meter.full_scale", "150 µA")
		text, _ := d.Given(fixed, 0)
		return text
	}
	free := answered(t, Begin(), "survey", "hours", "hand.meter.coil", "640")
	before, _ := free.Given(fixed, 0)
	celled := answered(t, answered(t, free, "power", "", "battery.cell", "alkaline D"), "power", "", "battery.cells", "3")
	after, _ := celled.Given(fixed, 0)
	assert.Equal(t, before, after)
	assert.NotEqual(t, before, follows(free))
	assert.Equal(t, before, follows(answered(t, free, "build", "", "parts-ticked", "yes")))
	d = answered(t, answered(t, d, "bring-up", "hours", "dummy_voltage_top", "0.31"), "bring-up", "hours", "dummy_voltage_top", "0.32 V")
	require.Len(t, d.Build.Readings, 1)
	assert.Equal(t, "0.32 V", d.Build.Readings[0].Value)
}

// Of the examples: what is a plan stands at its dial, the bakery's is finished, the pupil's
// does not even say where its meter is from. Birthplace: read off their files.
func TestExamplesStandWhereTheyAre(t *testing.T) {
	for name, want := range map[string]string{
		"reading-room": "dial", "signal-cabin": "dial", "boathouse": "drive", "harbour-office": "survey", "station-platform": "survey", "school-store": "survey", "bakery": "",
	} {
		w, here := walkOf(t, model.Open(modeltest.Example(name))), ""
		if next := w.Next(); next != nil {
			here = next.ID
			assert.Equal(t, Here, next.State)
		}
		assert.Equal(t, want, here, name)
	}
	for _, f := range walkOf(t, finished(t)).shared.found {
		assert.Equal(t, judge.Note, f.Severity, f.String())
	}
}

// What a starter file leaves open is supposed, and the survey of each hand asks for it: it is
// the stage that comes next, whatever is known of the rest. Other documents stay as they are.
func TestSupposed(t *testing.T) {
	text := modeltest.With(t, modeltest.Example("station-platform"), "hand.hours.meter.coil", "", "hand.seconds.meter.full_scale", "")
	open := model.Open(text)
	require.Len(t, open.Problems, 2)
	d, ok := Supposed(open)
	require.True(t, ok)
	assert.Empty(t, d.Problems)
	for path, i := range map[string]int{"hand.meter.coil": 0, "hand.meter.full_scale": 2} {
		f := model.Builds.Field(path)
		assert.Equal(t, "assumed", d.Mark(f, i))
		given, _ := d.Given(f, i)
		assert.Contains(t, given, "±10 %")
	}
	assert.Equal(t, open.Build.Hands[1].Meter.Coil, d.Build.Hands[1].Meter.Coil)
	for _, h := range d.Build.Hands {
		assert.Equal(t, "unknown", h.Meter.Glow)
	}
	for _, text := range []string{
		modeltest.Example("reading-room"),
		modeltest.With(t, modeltest.Example("reading-room"), "hand.hours.meter.coil", "abc"),
		modeltest.With(t, text, "rail.voltage", ""),
		"no build", "",
	} {
		d := model.Open(text)
		same, ok := Supposed(d)
		assert.False(t, ok)
		assert.Same(t, d, same)
	}
}

// What is only assumed of the supply follows the rail that was measured: three cells of 1.59 V
// would pass through the step-up of a rail of 3.3 V and overload the meter. What somebody said
// stays. Found by a beginner.
func TestSupplyFollowsTheRail(t *testing.T) {
	d := begun(t)
	for _, a := range [][2]string{{"hand.meter.origin", "new"}, {"hand.meter.glow", "no"}, {"hand.meter.full_scale", "1.01 mA"}, {"hand.meter.coil", "300"}} {
		d = answered(t, d, "survey", "hours", a[0], a[1])
	}
	require.Equal(t, 3, d.Build.Battery.Cells)
	low := answered(t, d, "drive", "hours", "rail.voltage", "3.287")
	assert.Equal(t, 1, low.Build.Battery.Cells)
	assert.NotContains(t, stateOf(t, low, "drive", "hours").Needs(), "hand.hours.drive.fixed")
	assert.Equal(t, 3, answered(t, low, "drive", "hours", "rail.voltage", "5.02").Build.Battery.Cells, "and back again")
	said := answered(t, d, "power", "", "battery.cells", "3")
	said = answered(t, said, "drive", "hours", "rail.voltage", "3.287")
	assert.Equal(t, 3, said.Build.Battery.Cells)
	assert.Contains(t, stateOf(t, said, "drive", "hours").Needs(), "hand.hours.drive.fixed")
	said = answered(t, said, "power", "", "converter.kind", "linear")
	assert.NotContains(t, stateOf(t, said, "drive", "hours").Needs(), "hand.hours.drive.fixed", "the parts follow what feeds it")
}

// A top code that nobody said follows the counts: the largest that shares the dial's 720
// half-minute steps evenly, 240 of 256; of 1024 that would be 720, and a pin that is stuck high
// would give 1.42 times as much. Found by a beginner.
func TestTopFollowsTheCounts(t *testing.T) {
	d := begun(t)
	for _, v := range [][2]string{{"coil", "640 Ω ±1 %"}, {"full_scale", "500 µA ±1 %"}} {
		d = d.Set(model.Builds.Field("hand.meter."+v[0]), 0, v[1])
	}
	d = answered(t, FollowMeters(d), "drive", "hours", "rail.voltage", "5")
	d = answered(t, d, "drive", "hours", "hand.drive.counts", "1024")
	assert.Equal(t, 1023, d.Build.Hands[0].Drive.Top)
	assert.Equal(t, "suggested", d.Mark(model.Builds.Field("hand.drive.top"), 0))
	d = answered(t, d, "drive", "hours", "hand.drive.counts", "256")
	assert.Equal(t, 240, d.Build.Hands[0].Drive.Top)
	d = d.Set(model.Builds.Field("hand.drive.top"), 0, "120")
	d = answered(t, d, "drive", "hours", "hand.drive.counts", "1024")
	assert.Equal(t, 120, d.Build.Hands[0].Drive.Top, "somebody said it")
}

// Of a meter that is driven as it is, closed, the walk asks for what its terminals show.
func TestClosedMetersAreAskedFor(t *testing.T) {
	asked := func(d *model.Document) (fields []string) {
		for _, page := range stateOf(t, d, "survey", "hours").Asked() {
			for _, q := range page {
				fields = append(fields, q.Field)
			}
		}
		return fields
	}
	d := begun(t)
	assert.Contains(t, asked(d), "hand.meter.coil")
	assert.NotContains(t, asked(d), "hand.meter.terminal_resistance")
	for _, v := range [][2]string{{"terminal_resistance", "1.44 kΩ ±3 %"}, {"terminal_full_scale", "1.01 mA ±3 %"}, {"in_circuit", "yes"}} {
		d = d.Set(model.Builds.Field("hand.meter."+v[0]), 0, v[1])
	}
	assert.Contains(t, asked(d), "hand.meter.terminal_resistance")
	assert.Contains(t, asked(d), "hand.meter.terminal_full_scale")
	assert.NotContains(t, asked(d), "hand.meter.coil")
	assert.NotContains(t, asked(d), "hand.meter.full_scale")
}

// The parts that nobody chose follow a meter that the survey found, so that the next stage does
// not begin with a burnt coil; what is soldered stays. Found by a beginner.
func TestPartsFollowTheSurvey(t *testing.T) {
	d := begun(t)
	for _, v := range [][2]string{{"coil", "1.98 kΩ ±3 %"}, {"full_scale", "51 µA ±5 %"}, {"origin", "new"}, {"glow", "no"}} {
		d = d.Set(model.Builds.Field("hand.meter."+v[0]), 0, v[1])
	}
	overload := func(d *model.Document) float64 {
		var p circuit.Plan
		circuit.Evaluate(d.Build, &p)
		return p.Hands[0].OverloadWorst
	}
	require.Greater(t, overload(d), 2.0, "the parts of a meter that nobody knew")
	follows := FollowMeters(d)
	assert.Less(t, overload(follows), 2.0, "of a rail that is only assumed")
	assert.Less(t, overload(answered(t, follows, "drive", "hours", "rail.voltage", "5.08")), 1.3, "of one that is measured")
	soldered := stateOf(t, d, "build", "").Sign("parts-ticked", "yes", "builder")
	assert.Equal(t, soldered.Text, FollowMeters(soldered).Text)
}

// Of a meter out of a set that nobody has said to be out of it, that is asked for before anything
// is called dangerous.
func TestOutOfItsSetIsAskedFirst(t *testing.T) {
	d := answered(t, begun(t), "survey", "hours", "hand.meter.origin", "mains")
	assert.Contains(t, stateOf(t, d, "survey", "hours").Stop(), "First: is the meter out of its set")
	d = answered(t, d, "survey", "hours", "hand.meter.removed", "no")
	assert.Contains(t, stateOf(t, d, "survey", "hours").Stop(), "Stop: nothing is joined")
}

// With 256 counts, of which 240 share the dial evenly, full scale known within 5 % alone leaves
// no parts that both protect and reach; with 255 of them some do. Found by a beginner, whose board
// has a pin of 8 bits.
func TestTopGoesUpWhereThatProtects(t *testing.T) {
	d := begun(t)
	for _, v := range [][2]string{{"coil", "1.98 kΩ ±3 %"}, {"full_scale", "51 µA ±5 %"}, {"origin", "new"}, {"glow", "no"}} {
		d = d.Set(model.Builds.Field("hand.meter."+v[0]), 0, v[1])
	}
	d = answered(t, FollowMeters(d), "drive", "hours", "rail.voltage", "5.08")
	d = answered(t, d, "drive", "hours", "hand.drive.counts", "256")
	assert.Equal(t, 255, d.Build.Hands[0].Drive.Top)
	assert.NotContains(t, stateOf(t, d, "drive", "hours").Needs(), "hand.hours.drive.fixed")
	d = d.Set(model.Builds.Field("hand.meter.full_scale"), 0, "51 µA ±2 %")
	d = answered(t, d, "drive", "hours", "hand.drive.counts", "256")
	assert.Equal(t, 240, d.Build.Hands[0].Drive.Top, "known well enough")
}
