package judge

import (
	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/quantity"
)

// NewBuild returns the text of a whole build from three readings as typed: the
// coil (bare: Ω), the current for full scale (bare: µA) and the rail (bare: V); one
// without a tolerance gets what a multimeter is good for.
// The parts are suggested to suit them, so that as little as can be is left to be
// found; all else is what is usual. Each such value says so in a comment. The
// problems are those of the readings, as Read gives them; with any, nothing is
// suggested.
func NewBuild(coil, fullScale, rail string) (text string, problems []model.Problem) {
	values := map[string]model.NewValue{
		"hand.meter.coil":       read(coil, quantity.Ohms, readingTolerance),
		"hand.meter.full_scale": read(fullScale, quantity.Microamperes, readingTolerance),
		"rail.voltage":          read(rail, quantity.Volts, railTolerance),
	}
	text = model.Builds.NewText(newTables, values)
	b, problems := model.Read(text)
	if len(problems) > 0 {
		return text, problems
	}
	suggest(b, values)
	text = model.Builds.NewText(newTables, values)
	_, problems = model.Read(text)
	return text, problems
}

// read is a reading as typed, with its unit, and with a tolerance behind it where it has none.
func read(typed string, u quantity.Unit, tolerance float64) model.NewValue {
	if with := quantity.Complete(typed, "", u); len(with) <= longestReading {
		typed = with
	}
	within := typed + " ±" + quantity.Show(tolerance, quantity.Percent, 1)
	if _, err := quantity.Parse(within, u); err != nil || len(within) > longestReading {
		return model.NewValue{Text: typed} // it has one, or cannot be read
	}
	return model.NewValue{Text: within, Comment: "± assumed"}
}

// longestReading is how long a reading may grow by its tolerance: far less than a value takes.
const longestReading = 50

// newTables are the tables of a new build, in the order of its file.
var newTables = []string{"", "rail", "hand", "hand.meter", "hand.drive", "crystal", "battery", "converter", "load", "lamp"}

// mostChoices is how many parts of a new build are chosen one after another: every
// part of the table, five times. A build that still has one open shows it as an
// offer.
var mostChoices = 5 * len(parts)

// suggest takes over the parts that are suggested for a build, one after another,
// until nothing is, and puts them with the values of its text.
func suggest(b *model.Build, values map[string]model.NewValue) {
	minimum := usualBrownOut(b.Rail.Voltage.Number)
	values["load.minimum_voltage"] = model.NewValue{Text: minimum, Comment: "assumed"}
	b.Load.MinimumVoltage = quantity.MustParse(minimum, quantity.Volts)
	b.Crystal.CapacitorIn.Number, b.Crystal.CapacitorOut.Number = 0, 0 // still to be chosen
	var p circuit.Plan
	for range mostChoices {
		circuit.Evaluate(b, &p)
		found := gradeAll(b, &p)
		better := suggestions(b, &p, newChoice(b, found), found)
		if len(better) == 0 {
			return
		}
		for _, c := range better[0].Changes {
			values[c.Field.Path] = model.NewValue{Text: c.Text, Comment: "suggested"}
		}
		b = b.Changed(better[0].Changes)
	}
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
