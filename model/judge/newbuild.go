package judge

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"example.com/needlewright/calc"
	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/quantity"
)

// NotKnown stands for a reading that is still to be taken: what is usual stands in
// its place, marked as assumed.
const NotKnown = "?"

// PlugIn stands for a rail that is a bought, plug-in 5 V supply: there are no cells
// and no converter.
const PlugIn = "plug-in"

// A Meter is what is known of a meter, as typed or chosen: where it is from, whether
// it is out of its set and what its dial says, each "" where that is not said; its
// full scale (bare: µA) and its coil (bare: Ω), each a reading or NotKnown. Like names a
// hand of the same build whose meter it is like, "" where it is of its own: then all but
// Removed is that one's.
type Meter struct {
	Origin, Removed, Marked string
	FullScale, Coil         string
	Like                    string
}

// A Supply is what feeds the controller: its rail (bare: V, or PlugIn), and the cells that
// stand behind it, a Pack of no cell where they are not known.
type Supply struct {
	Rail string
	Pack Pack
}

// A Pack is so many cells of a built-in kind in a row, and what stands between them and
// the rail: boost, linear or none.
type Pack struct {
	Cell      string
	Count     int
	Converter string
}

// NewBuild returns the text of a whole build from what is known of its meter and of
// its supply; a reading without a tolerance gets what a multimeter is good for.
// The parts are suggested to suit them, so that as little as can be is left to be
// found; all else is what is usual. Each such value says so in a comment. The
// problems are those of the readings, as Read gives them; with any, nothing is
// suggested.
func NewBuild(m Meter, fed Supply) (text string, problems []model.Problem) {
	values := m.values()
	fed.put(values)
	text = model.Builds.NewText(newTables, values)
	b, problems := model.Read(text)
	if len(problems) > 0 {
		return text, problems
	}
	minimum := usualBrownOut(b.Rail.Voltage.Number)
	values["load.minimum_voltage"] = model.NewValue{Text: minimum, Comment: "assumed"}
	b.Load.MinimumVoltage = quantity.MustParse(minimum, quantity.Volts)
	b.Crystal.CapacitorIn.Number, b.Crystal.CapacitorOut.Number = 0, 0 // still to be chosen
	suggest(b, values, func(s *Suggestion) bool { return s.ID != "supply" || fed.Pack.Cell == "" })
	text = model.Builds.NewText(newTables, values)
	_, problems = model.Read(text)
	return text, problems
}

// Unsized returns such a build before its parts are chosen, with the problems of the
// readings.
func Unsized(m Meter, fed Supply) (*model.Build, []model.Problem) {
	values := m.values()
	fed.put(values)
	return model.Read(model.Builds.NewText(newTables, values))
}

// NewHand returns the document with one more hand of this name, for a dial that shows
// this, with parts that suit its meter; the pin is like the first hand's, since it is
// of the same controller. What was not measured says so in a comment. The problem is
// that of the name, or of a text that is not TOML; then the document is the old one.
// While the document has problems, nothing is suggested.
func NewHand(d *model.Document, name, shows string, m Meter) (*model.Document, *model.Problem) {
	values := m.values()
	if like := slices.IndexFunc(d.Build.Hands, func(h model.Hand) bool { return m.Like != "" && h.Name == m.Like }); like >= 0 {
		m.likeThat(d, like, values)
	}
	values["hand.shows"] = model.NewValue{Text: shows}
	likeFirstPin(d, values)
	added, problem := d.AddNew("hand", name, values)
	if problem != nil || len(added.Problems) > 0 {
		return added, problem
	}
	alone := *added.Build
	alone.Hands = alone.Hands[len(alone.Hands)-1:]
	suggest(&alone, values, func(s *Suggestion) bool { return s.list == "hand" })
	return d.AddNew("hand", name, values)
}

// values are what is known of the meter, and what is usual where something is not.
func (m Meter) values() map[string]model.NewValue {
	fullScale := known(m.FullScale, m.likelyFullScale(), "hand.meter.full_scale")
	return map[string]model.NewValue{
		"hand.meter.origin": {Text: m.Origin}, "hand.meter.removed": {Text: m.Removed}, "hand.meter.marked": {Text: m.Marked},
		"hand.meter.full_scale": fullScale,
		"hand.meter.coil":       known(m.Coil, usualCoil(fullScale.Text), "hand.meter.coil"),
	}
}

// known is a reading of the field of a path as typed, or what is usual where it is not known.
func known(typed, usual, path string) model.NewValue {
	if typed == NotKnown {
		return model.NewValue{Text: usual, Comment: "assumed"}
	}
	return read(typed, path)
}

// What is usual of a panel meter: its full scale, and the voltage across its coil then,
// V, amid the 20 to 500 mV of any. Common practice, no source.
const (
	usualFullScale   = "1 mA"
	usualCoilVoltage = 0.1
)

// Usual returns what stands for the full scale and the coil of such a meter where they
// are not known.
func (m Meter) Usual() (fullScale, coil string) {
	return m.likelyFullScale(), usualCoil(m.values()["hand.meter.full_scale"].Text)
}

// likelyFullScale is the current that the dial says, as "500 uA" or "0-500 uA", where it is
// one that a pin drives, for of more there is a shunt inside; else what is usual.
func (m Meter) likelyFullScale() string {
	text := strings.ReplaceAll(m.Marked, "–", "-")
	text = text[strings.LastIndex(text, "-")+1:]
	current, err := quantity.Parse(text, quantity.Microamperes)
	if _, bare := quantity.Parse(text, quantity.Volts); err != nil || bare == nil {
		return usualFullScale
	}
	least, most := model.Builds.Field("hand.meter.full_scale").UsualRange()
	if current.Number < least || current.Number > most {
		return usualFullScale
	}
	return quantity.Format(quantity.Value{Number: current.Number}, quantity.Microamperes)
}

// usualCoil is the coil of a meter of such a full scale, or of the usual one where that
// cannot be read.
func usualCoil(fullScale string) string {
	current, err := quantity.Parse(fullScale, quantity.Microamperes)
	if err != nil || !(current.Number > 0) {
		current = quantity.MustParse(usualFullScale, quantity.Microamperes)
	}
	least, most := model.Builds.Field("hand.meter.coil").Range()
	coil := calc.NearestPreferred(usualCoilVoltage/current.Number, calc.E24)
	return quantity.Format(quantity.Value{Number: min(max(coil, least), most)}, quantity.Ohms)
}

// put puts in the rail and what feeds it; a plug-in supply feeds the clock alone. Such
// supplies are within 5 %: common practice, no source.
func (fed Supply) put(values map[string]model.NewValue) {
	if fed.Rail == PlugIn {
		values["rail.voltage"] = model.NewValue{Text: "5 V ±5 %", Comment: "assumed"}
		for _, v := range plugIn {
			values[v.path] = model.NewValue{Text: v.text}
		}
		return
	}
	values["rail.voltage"] = read(fed.Rail, "rail.voltage")
	if fed.Pack.Cell == "" {
		return
	}
	values["battery.cell"] = model.NewValue{Text: fed.Pack.Cell}
	values["battery.cells"] = model.NewValue{Text: strconv.Itoa(fed.Pack.Count)}
	values["converter.kind"] = model.NewValue{Text: fed.Pack.Converter}
	if fed.Pack.Converter != "boost" {
		values["converter.efficiency"] = model.NewValue{} // a step-up alone has one
	}
	for _, usual := range usualConverters[fed.Pack.Converter] {
		values[usual.path] = model.NewValue{Text: usual.text, Comment: "assumed"}
	}
}

// Packs returns what of such a cell can feed a rail (bare: V), the one whose fresh voltage
// is nearest to it first; none where the rail cannot be read. A pack that is as high as the
// rail leaves nothing to a regulator, and cells of more than 2 V stand alone: coin cells,
// lithium-ion cells and blocks are not put in a row. Common practice, no source.
func Packs(rail, cell string) []Pack {
	v, err := quantity.Parse(rail, quantity.Volts)
	k := slices.IndexFunc(model.Cells, func(c model.Cell) bool { return c.Name == cell })
	if err != nil || k < 0 {
		return nil
	}
	most, fresh := 4, model.Cells[k].Curve[0].Rest
	if fresh > 2 {
		most = 1
	}
	var packs []Pack
	for count := 1; count <= most; count++ {
		for _, kind := range model.Builds.Field("converter.kind").Choices {
			pack := float64(count) * fresh
			if feeds(v.Number, pack, kind) && (kind != "linear" || !feeds(v.Number, pack, "none")) {
				packs = append(packs, Pack{cell, count, kind})
			}
		}
	}
	off := func(p Pack) float64 { return math.Abs(float64(p.Count)*fresh - v.Number) }
	slices.SortStableFunc(packs, func(a, b Pack) int { return cmp.Compare(off(a), off(b)) })
	return packs
}

// likeThat puts in what is known of the meter of another hand, with its marks. Whether this
// one is out of its set was asked, and it was not trimmed in its place yet.
func (m Meter) likeThat(d *model.Document, hand int, values map[string]model.NewValue) {
	for _, f := range model.Builds.Fields {
		if given, _ := d.Given(f, hand); strings.HasPrefix(f.Path, "hand.meter.") && d.Problem(f, hand) == nil {
			values[f.Path] = model.NewValue{Text: given, Comment: d.Mark(f, hand)}
		}
	}
	values["hand.meter.removed"] = model.NewValue{Text: m.Removed}
	values["hand.meter.trimmed_in_place"] = model.NewValue{}
}

// likeFirstPin puts in what is known of the first hand's pin: the controller is the same.
func likeFirstPin(d *model.Document, values map[string]model.NewValue) {
	for _, path := range pinPaths {
		f := model.Builds.Field(path)
		if text, ok := d.Given(f, 0); ok && d.Problem(f, 0) == nil {
			values[path] = model.NewValue{Text: text, Comment: "assumed"}
		}
	}
}

// pinPaths are the fields of a pin and of the counter behind it.
var pinPaths = []string{
	"hand.drive.clock", "hand.drive.prescale", "hand.drive.counts", "hand.drive.top", "hand.drive.duty_offset", "hand.drive.rounding",
	"hand.drive.pin_resistance", "hand.drive.pin_tempco", "hand.drive.pin_limit", "hand.drive.pin_high", "hand.drive.pin_low",
}

// readings are what a new build asks for, and what is measured in place of what a dial says,
// with what each is within where that is not said.
var readings = map[string]float64{
	"hand.meter.full_scale": readingTolerance, "hand.meter.coil": readingTolerance, "rail.voltage": railTolerance,
	"hand.meter.terminal_resistance": readingTolerance, "hand.meter.terminal_full_scale": readingTolerance,
}

// AssumedTolerance returns what a reading of the field of a path is assumed to be within,
// "2 %"; "" where a new build does not ask for it.
func AssumedTolerance(path string) string {
	if tolerance, ok := readings[path]; ok {
		return quantity.Show(tolerance, quantity.Percent, 1)
	}
	return ""
}

// read is a reading of the field of a path as typed, with its unit, and with a tolerance behind it where it has none.
func read(typed, path string) model.NewValue {
	u := model.Builds.Field(path).Unit
	if with := quantity.Complete(typed, "", u); len(with) <= longestReading {
		typed = with
	}
	within := typed + " ±" + AssumedTolerance(path)
	if _, err := quantity.Parse(within, u); err != nil || len(within) > longestReading {
		return model.NewValue{Text: typed} // it has one, or cannot be read
	}
	return model.NewValue{Text: within, Comment: "± assumed"}
}

// longestReading is how long a reading may grow by its tolerance: far less than a value takes.
const longestReading = 50

// newTables are the tables of a new build, in the order of its file.
var newTables = []string{"", "rail", "hand", "hand.meter", "hand.drive", "crystal", "battery", "converter", "load"}

// mostChoices is how many parts of a new build are chosen one after another: every
// part of the table, five times. A build that still has one open shows it as an
// offer.
var mostChoices = 5 * len(parts)

// suggest takes over the parts that are suggested for a build, one after another,
// until nothing is, and puts them with the values of its text; only those that are wanted.
func suggest(b *model.Build, values map[string]model.NewValue, wanted func(*Suggestion) bool) {
	var p circuit.Plan
	for range mostChoices {
		circuit.Evaluate(b, &p)
		found := gradeAll(b, &p)
		better := suggestions(b, &p, newChoice(b, found), found)
		better = slices.DeleteFunc(better, func(s Suggestion) bool { return !wanted(&s) })
		if len(better) == 0 {
			return
		}
		for _, c := range better[0].Changes {
			values[c.Field.Path] = model.NewValue{Text: c.Text, Comment: "suggested"}
		}
		b = b.Changed(better[0].Changes)
	}
}

// Rechosen returns the document with parts of these ids that the program chose, and nobody
// since, chosen anew where others would leave less to be found: what is known of the meter
// may have changed. While the document has problems it stays as it is.
func Rechosen(d *model.Document, ids ...string) *model.Document {
	if len(d.Problems) > 0 {
		return d
	}
	var p circuit.Plan
	for range mostChoices {
		circuit.Evaluate(d.Build, &p)
		found := gradeAll(d.Build, &p)
		better := suggestions(d.Build, &p, newChoice(d.Build, found), found)
		better = slices.DeleteFunc(better, func(s Suggestion) bool { return !slices.Contains(ids, s.ID) || !isFree(d, &s) })
		if len(better) == 0 {
			break
		}
		for _, c := range better[0].Changes {
			d = d.SetMarked(c.Field, c.Index, c.Text, "suggested")
		}
	}
	return d
}

// isFree says whether nobody but the program chose what a suggestion would change.
func isFree(d *model.Document, s *Suggestion) bool {
	return !slices.ContainsFunc(s.Changes, func(c model.Change) bool {
		_, given := d.Given(c.Field, c.Index)
		mark := d.Mark(c.Field, c.Index)
		return given && mark != "suggested" && mark != "assumed"
	})
}

// usualBrownOut is the rail below which a controller for such a rail, V, stops;
// "" where even that of a low-voltage one is too near. Common practice, no source.
func usualBrownOut(rail float64) string {
	switch {
	case rail >= 4:
		return "2.3 V"
	case rail >= 2:
		return "1.8 V"
	}
	return ""
}
