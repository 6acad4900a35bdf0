package walk

import (
	"slices"
	"strconv"
	"strings"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/judge"
)

// followers are the parts that follow what is known of the fields that begin so.
var followers = map[string][]string{
	"hand.meter.": {"pwm", "top", "series", "filter"}, "hand.drive.counts": {"top", "series", "filter"},
	"rail.": {"series", "filter"}, "battery.": {"series", "filter"}, "converter.": {"series", "filter"},
	"crystal.": {"load_capacitors"},
}

// followed is a document with the parts that follow an answer. What is soldered stays.
func (s *State) followed(d *model.Document, q *Question) *model.Document {
	if isSoldered(d) {
		return d
	}
	switch {
	case q.Field == "hand.drive.counts":
		d = topped(d, s.site.hand) // the former top code may be more than they are
	case q.Field == "rail.voltage" && len(d.Problems) == 0:
		d = supplied(d)
	}
	for begins, parts := range followers {
		if strings.HasPrefix(q.Field, begins) {
			return toTheTop(judge.Rechosen(d, parts...), s.site.hand)
		}
	}
	return d
}

// toTheTop is a document with the top code next to all counts, and parts for it, where a hand is
// overloaded with one that shares its dial evenly and no longer with this: a pin that is stuck
// high gives that much less beyond full scale. Common practice, no source.
func toTheTop(d *model.Document, hand int) *model.Document {
	f := model.Builds.Field("hand.drive.top")
	if hand < 0 || len(d.Problems) > 0 || !isChosen(d, f, hand) || !isOverloaded(d, hand) {
		return d
	}
	drive := &d.Build.Hands[hand].Drive
	most := drive.Counts - 1 - drive.DutyOffset
	if most <= drive.Top {
		return d
	}
	higher := d.SetMarked(f, hand, strconv.Itoa(most), "suggested")
	if higher = judge.Rechosen(higher, "series", "filter"); len(higher.Problems) > 0 || isOverloaded(higher, hand) {
		return d
	}
	return higher
}

// isOverloaded says whether a hand may get more than its meter stands.
func isOverloaded(d *model.Document, hand int) bool {
	var p circuit.Plan
	circuit.Evaluate(d.Build, &p)
	return slices.ContainsFunc(judge.Findings(d.Build, &p), func(f judge.Finding) bool {
		return f.ID == "overload_worst" && f.Severity >= judge.Warning && f.About == d.Build.Hands[hand].Name
	})
}

// FollowMeters returns a document with the parts that follow what the survey found of its
// meters, as far as only the program chose them. What is soldered stays.
func FollowMeters(d *model.Document) *model.Document {
	if isSoldered(d) {
		return d
	}
	return judge.Rechosen(d, followers["hand.meter."]...)
}

// isSoldered says whether somebody has joined some of the parts.
func isSoldered(d *model.Document) bool {
	for i := range d.Build.Walk {
		for _, m := range d.Build.Walk[i].Met {
			if m.ID == soldering && (saysYes(m.Value) || partly.MatchString(m.Value)) {
				return true
			}
		}
	}
	return false
}

// isChosen says whether a field has what only the program chose or assumed.
func isChosen(d *model.Document, f *model.Field, i int) bool {
	mark := d.Mark(f, i)
	return mark == "assumed" || mark == "suggested"
}

// supplied is a document whose supply, as far as it is only assumed, is one for its rail.
func supplied(d *model.Document) *model.Document {
	rail, _ := d.Given(model.Builds.Field("rail.voltage"), 0)
	text, _ := judge.NewBuild(judge.Meter{FullScale: judge.NotKnown, Coil: judge.NotKnown}, judge.Supply{Rail: model.NominalText(rail)})
	usual := model.Open(text)
	for _, f := range model.Builds.Fields {
		ofSupply := slices.ContainsFunc([]string{"rail.", "battery.", "converter.", "load."}, func(begins string) bool { return strings.HasPrefix(f.Path, begins) })
		if ofSupply && f.Path != "rail.voltage" && isChosen(d, f, 0) {
			text, _ := usual.Given(f, 0) // "": it is not assumed for such a rail
			d = d.SetMarked(f, 0, text, usual.Mark(f, 0))
		}
	}
	return d
}

// topped is a document with a top code for a hand's counts, if nobody has said one.
func topped(d *model.Document, hand int) *model.Document {
	f, h := model.Builds.Field("hand.drive.top"), &d.Build.Hands[hand]
	if top := judge.EqualTop(h, h.Drive.Counts); top != h.Drive.Top && isChosen(d, f, hand) {
		return d.SetMarked(f, hand, strconv.Itoa(top), "suggested")
	}
	return d
}
