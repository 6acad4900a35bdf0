package walk

import (
	"slices"
	"strings"

	"example.com/needlewright/model"
	"example.com/needlewright/model/bench"
	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/measure"
	"example.com/needlewright/model/quantity"
)

// Each of these returns the document with one thing answered or written down, which one undo
// takes back.

// Answer returns the document with an answer to a question of a stage: a field's value with
// its unit and, of what is measured, with the multimeter's ±; a reading; or a yes. The parts
// that the program chose follow what is known of the meter and the rail. Where it cannot be
// read the document has a problem, of which the field says what to do.
func (s *State) Answer(q *Question, text, by string) *model.Document {
	return s.followed(s.Typed(q, text, by), q)
}

// Typed is the same before any part is chosen anew, soon enough for every key.
func (s *State) Typed(q *Question, text, by string) *model.Document {
	switch {
	case q.Sign != "":
		return s.Sign(q.Sign, text, by)
	case q.Point != "":
		return s.read(q.Point, text)
	}
	f, i := s.FieldOf(q)
	text, mark := complete(s.site.d, f, i, text)
	return s.site.d.Set(f, i, text).SetMarked(f, i, text, mark)
}

// Given is what stands for a question: a field's text and its mark, a reading, or what was
// said and by whom; "" where nothing is. void says that what was said counts no more.
func (s *State) Given(q *Question) (text, mark string, void bool) {
	d, b := s.site.d, s.site.b
	switch {
	case q.Sign != "":
		row, at := s.site.signed(q.Sign)
		if row < 0 {
			return "", "", false
		}
		m := &b.Walk[row].Met[at]
		void = saysYes(m.Value) && !s.site.isSigned(q.Sign)
		if q.IsTicked() && partly.MatchString(m.Value) {
			void = s.movedOn(m)
		}
		return m.Value, m.By, void
	case q.Point != "":
		if i := s.site.readingAt(s.PointOf(q)); i >= 0 {
			text = b.Readings[i].Value
		}
		return text, "", text != "" && !s.site.isInside(s.PointOf(q))
	}
	f, i := s.FieldOf(q)
	text, _ = d.Given(f, i)
	return text, d.Mark(f, i), false
}

// IsAtTheEdge says whether the reading that a question asks for lies beyond what 95 of 100 sound
// clocks read there, but where one with its parts at their ends may.
func (s *State) IsAtTheEdge(q *Question) bool {
	id := s.PointOf(q)
	return q.Point != "" && s.site.isInside(id) && s.site.verdicts[id] == bench.Edge
}

// IsBefore says whether the reading that a question asks for is from before a change of what
// the stage rests on: it is to be read again.
func (s *State) IsBefore(q *Question) bool { return q.Point != "" && s.site.isBefore(q.Point) }

// PointOf returns the id of the test point that a question asks for, of the stage's hand.
func (s *State) PointOf(q *Question) string { return s.site.pointID(q.Point) }

// HandIndex is which hand the stage is of, from 0; -1 for the clock.
func (s *State) HandIndex() int { return s.site.hand }

// FieldOf returns the field that a question asks for, and which of its list.
func (s *State) FieldOf(q *Question) (*model.Field, int) {
	f := model.Builds.Field(q.Field)
	return f, s.site.index(f)
}

// complete is what was typed with its unit, and with a ± that is kept or assumed; mark says
// which.
func complete(d *model.Document, f *model.Field, i int, typed string) (text, mark string) {
	if _, is := f.At(d.Root, i).(*quantity.Value); !is || typed == "" {
		return typed, ""
	}
	over, _ := d.Given(f, i)
	was := d.Mark(f, i)
	within := judge.AssumedTolerance(f.Path)
	if was == "assumed" || was == measure.FromDial {
		over = model.NominalText(over)
	}
	if _, has := quantity.Tolerance(over); within != "" && !has {
		over, was = over+" ±"+within, "assumed"
	}
	_, gives := quantity.Tolerance(typed)
	text = quantity.Complete(typed, over, f.Unit)
	if _, has := quantity.Tolerance(text); has && !gives && strings.HasSuffix(was, "assumed") {
		return text, "± assumed"
	}
	return text, ""
}

// read puts a reading at a test point of the hand: in the place of the one that counts, or as
// a new one where there is none. One that is from before a change stays in the file as such.
func (s *State) read(point, text string) *model.Document {
	d, id := s.site.d, s.site.pointID(point)
	if i := s.site.readingAt(id); i >= 0 && s.site.isBefore(point) {
		d = d.Set(model.Builds.Field("reading.before"), i, "yes")
	} else if i >= 0 {
		return d.Set(model.Builds.Field("reading.value"), i, text)
	}
	if text == "" {
		return d
	}
	added, _ := d.AddNew("reading", id, map[string]model.NewValue{"reading.value": {Text: text}})
	return added
}

// Unknown returns the document with what is usual in the place of an answer, marked as
// assumed and with a wider ±: what depends on it says so. A choice becomes "unknown" where
// there is such a one, and a part the one that the program would choose. ok is false where
// nothing is usual, or where a reading or a yes is asked for.
func (s *State) Unknown(q *Question) (d *model.Document, ok bool) {
	d = s.site.d
	if q.Field == "" {
		return d, false
	}
	f, i := s.FieldOf(q)
	if part, is := judge.PartAt(f); is && slices.Contains(chosenParts, part.ID) {
		return s.chosenFor(part.ID), true
	}
	for _, c := range f.Choices {
		if c == "unknown" {
			return assume(d, f, i, c), true
		}
	}
	if f.Choices != nil {
		return d, false
	}
	text, given := d.Given(f, i)
	if !given {
		text = usual(s.site.b, f, i)
	}
	if text == "" || f.New == "" && wide[f.Path] == "" {
		return d, false
	}
	if within := wide[f.Path]; within != "" {
		text = model.NominalText(text) + " ±" + within
	}
	assumed := assume(d, f, i, text)
	if assumed.Mark(f, i) == "" { // nothing would say that it is
		return d, false
	}
	return s.followed(assumed, q), true
}

// chosenParts are the parts, by their ids, that the program chooses for who does not know.
var chosenParts = []string{"series", "filter", "load_capacitors"}

// chosenFor is the document with the part that the program would choose, whatever stood for it.
func (s *State) chosenFor(part string) *model.Document {
	d := s.site.d
	for _, f := range model.Builds.Fields {
		if of, is := judge.PartAt(f); is && of.ID == part {
			if text, given := d.Given(f, s.site.index(f)); given {
				d = d.SetAnew(f, s.site.index(f), text, "suggested")
			}
		}
	}
	return judge.Rechosen(d, part)
}

// assume puts in a value that is only assumed, and marked so, in whatever line it stands.
func assume(d *model.Document, f *model.Field, i int, text string) *model.Document {
	return d.Set(f, i, text).SetAnew(f, i, text, "assumed")
}

// wide are the ± of what nobody measured. Common practice, no source: five times a
// multimeter's.
var wide = map[string]string{
	"hand.meter.full_scale": "10 %", "hand.meter.coil": "10 %", "hand.meter.terminal_full_scale": "10 %", "hand.meter.terminal_resistance": "10 %",
	"rail.voltage": "5 %",
}

// usual is what stands for a field of a build that does not give it.
func usual(b *model.Build, f *model.Field, i int) string {
	if f.Path != "hand.meter.full_scale" && f.Path != "hand.meter.coil" {
		return f.New
	}
	fullScale, coil := (judge.Meter{Marked: b.Hands[i].Meter.Marked, FullScale: judge.NotKnown}).Usual()
	if f.Path == "hand.meter.coil" {
		return coil
	}
	return fullScale
}

// toPower are the stages that first power goes through.
var toPower = []string{"survey", "drive", "power", "build"}

// Stop says what has to end the work on a meter that may hurt who handles it: "" where
// nothing is known to. A paint of which nobody has said anything yet stops nothing, but
// nobody signs anything then.
func (s *State) Stop() string {
	for k := range s.site.found {
		f := &s.site.found[k]
		if f.Severity < judge.Warning || !s.site.concerns(f) {
			continue
		}
		switch {
		case f.ID == "origin" && s.site.b.Hands[max(0, s.site.hand)].Meter.Removed == "":
			return "First: is the meter out of its set, with nothing on its terminals? It was asked on the first page."
		case f.ID == "origin":
			return "Stop: nothing is joined to a meter that is not out of its set for certain. Taking it out is for licensed practice."
		case f.ID == "glow" && s.site.d.Mark(model.Builds.Field("hand.meter.glow"), max(0, s.site.hand)) != "assumed":
			return "Stop: the paint may be radium. Keep the case closed, and have it looked at where that is measured."
		}
	}
	return ""
}

// MaySign says why nobody may say yes to a condition yet: "" where one may. Nothing is signed
// of a meter that may hurt; before the first power all that comes before it has to fit, and
// what it goes through to be done.
func (s *State) MaySign(id string) string {
	if why := s.Stop(); why != "" {
		return why
	}
	if id == "first-power" {
		for k := range s.site.walk.States {
			st := &s.site.walk.States[k]
			if (st.Hand == "" || st.Hand == s.Hand) && st.State != Done && slices.Contains(toPower, st.ID) {
				return "First: " + st.Name() + ", which is not done."
			}
		}
	}
	for k := range s.Conditions {
		c := &s.Conditions[k]
		switch {
		case slices.Contains(c.Needs, id) || slices.Contains(c.Met, id):
			return ""
		case !c.IsMet() && s.ID == "bring-up":
			return "First: " + c.Says + "."
		}
	}
	return ""
}

// Sign returns the document with what somebody says of a condition: yes, why it may stay, or
// no, and who says it. It stays as it is where the file has no room for one more.
func (s *State) Sign(id, value, by string) *model.Document {
	said := []struct{ path, text string }{{"walk.met.value", value}, {"walk.met.by", by}, {"walk.met.rested_on", s.site.text(signs[id].ground)}}
	if row, at := s.site.signed(id); row >= 0 {
		d := s.site.d
		for i := range row {
			at += len(d.Build.Walk[i].Met)
		}
		for _, v := range said {
			d = d.Set(model.Builds.Field(v.path), at, v.text)
		}
		return d
	}
	d, row := s.ownRow()
	values := map[string]model.NewValue{"walk.met.id": {Text: id}}
	for _, v := range said {
		values[v.path] = model.NewValue{Text: v.text}
	}
	if row == len(d.Build.Walk) {
		return d
	}
	d, _ = d.AddRow("walk.met", row, values)
	return d
}

// ownRow is the document with a row of the stage, and which it is: the first that the file
// has, or a new one.
func (s *State) ownRow() (*model.Document, int) {
	d := s.site.d
	for i := range d.Build.Walk {
		if s.site.isOwn(i) {
			return d, i
		}
	}
	values := map[string]model.NewValue{"walk.stage": {Text: s.ID}, "walk.hand": {Text: s.Hand}}
	added, _ := d.AddRow("walk", 0, values) // without room it is the old one
	return added, len(d.Build.Walk)
}

// Looked returns the document with what the stage rests on now written down, where it is
// done: it is no longer to be looked at again. Of one that is not done that is forgotten,
// but where it says which readings are from before a change.
func (s *State) Looked() *model.Document {
	if slices.ContainsFunc(s.rests.points, s.site.isBefore) {
		return s.site.d
	}
	text := ""
	if len(s.Needs()) == 0 {
		text = s.site.text(s.rests)
	}
	f := model.Builds.Field("walk.rested_on")
	if s.row >= 0 {
		return s.site.d.Set(f, s.row, text)
	}
	if text == "" {
		return s.site.d
	}
	d, row := s.ownRow()
	if row == len(d.Build.Walk) {
		return d
	}
	return d.Set(f, row, text)
}

// Begin returns a build of which nothing is known: what is usual stands for all, marked as
// assumed, and whether its paint glows is not known.
func Begin() *model.Document {
	text, _ := judge.NewBuild(judge.Meter{FullScale: judge.NotKnown, Coil: judge.NotKnown}, judge.Supply{Rail: usualRail})
	d := model.Open(text)
	for _, v := range [...]struct{ path, text string }{{"hand.meter.glow", "unknown"}, {"rail.voltage", usualRail + " ±" + wide["rail.voltage"]}} {
		d = assume(d, model.Builds.Field(v.path), 0, v.text)
	}
	return d
}

// usualRail is what most controllers run on. Common practice, no source.
const usualRail = "5 V"

// Supposed returns a document of which nothing is missing but coils and full scales, as a
// starter file has them, with what is usual in their place, marked as assumed: the survey
// asks for them, and whether paint glows is not known. ok is false of any other document.
func Supposed(d *model.Document) (supposed *model.Document, ok bool) {
	open := len(d.Problems) > 0
	for _, p := range d.Problems {
		f, i, found := d.Find(p.Path)
		if !found || p.Others > 0 || f.Path != "hand.meter.coil" && f.Path != "hand.meter.full_scale" {
			return d, false
		}
		given, _ := d.Given(f, i)
		open = open && given == ""
	}
	if !open {
		return d, false
	}
	supposed = d
	for _, p := range d.Problems {
		f, i, _ := supposed.Find(p.Path)
		supposed = assume(supposed, f, i, model.NominalText(usual(d.Build, f, i))+" ±"+wide[f.Path])
	}
	glow := model.Builds.Field("hand.meter.glow")
	for i := range supposed.Build.Hands {
		if _, given := supposed.Given(glow, i); !given {
			supposed = assume(supposed, glow, i, "unknown")
		}
	}
	return supposed, len(supposed.Problems) == 0
}
