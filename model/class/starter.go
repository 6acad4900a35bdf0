package class

import (
	"regexp"
	"strings"

	"example.com/needlewright/model"
)

// Starter returns a build's text as the one that each of a class begins with: the parts of
// the kit are given, and what whoever builds it finds out of the own meter, cells and crystal
// is left open, the coil and the full scale with a comment to measure them. Readings, and
// rows of a scale or a survey, are those of another clock: they go.
func Starter(d *model.Document) (string, error) {
	var err error
	for _, list := range []string{"reading", "hand.scale", "hand.survey.step"} {
		if d, err = emptied(d, list); err != nil {
			return "", err
		}
	}
	for _, f := range model.Builds.Fields {
		for i := range f.Of(d.Build) {
			if _, given := d.Given(f, i); given && isOwn(f) {
				d = d.Set(f, i, "")
			}
		}
	}
	return withoutEmpty(d.Whole()), nil
}

var (
	headerLine = regexp.MustCompile(`^\s*\[+\s*([a-z_.]+)\s*\]+`)
	emptyLine  = regexp.MustCompile(`^\s*([a-z_]+)\s*=\s*""\s*(#.*)?$`)
)

// withoutEmpty is the text without the lines of what was left open, and what their comments
// say of the other clock; of what must be given the line stays, with what to do.
func withoutEmpty(text string) string {
	var kept strings.Builder
	table := ""
	for line := range strings.Lines(text) {
		if m := headerLine.FindStringSubmatch(line); m != nil {
			table = m[1] + "."
		}
		m := emptyLine.FindStringSubmatch(strings.TrimRight(line, "\r\n"))
		f := (*model.Field)(nil)
		if m != nil {
			f = model.Builds.Field(table + m[1])
		}
		switch {
		case f == nil || !isOwn(f):
			kept.WriteString(line)
		case f.Must:
			kept.WriteString(m[1] + ` = ""  # measure it` + line[len(strings.TrimRight(line, "\r\n")):])
		}
	}
	return kept.String()
}

// isOwn says whether a field is of the one clock, and no part of the kit.
func isOwn(f *model.Field) bool {
	switch f.Path {
	case "builder", "hand.meter.in_circuit", "hand.drive.setting", "crystal.measured", "crystal.measured_at", "battery.used":
		return true
	}
	return f.Evidence && strings.HasPrefix(f.Path, "hand.meter.")
}
