package fit

import (
	"slices"
	"strings"

	"example.com/needlewright/model"
)

// A column is one of those that a drawer's first line may name.
type column struct {
	name  string
	field string // whose value it is; "" where the program itself makes something of it
}

// columns is the table of them, in the order in which they are said.
var columns = []column{
	{"name", ""},
	{"kind", "hand.meter.kind"},
	{"marked", "hand.meter.marked"},
	{"coil", "hand.meter.coil"},
	{"full_scale", "hand.meter.full_scale"},
	{"class", "hand.meter.class"},
	{"sweep", "hand.meter.sweep"},
	{"zero_at", "hand.meter.zero_at"},
	{"inside", ""},
	{"inside_value", "hand.meter.internal"},
	{"ohms_per_volt", "hand.meter.ohms_per_volt"},
	{"shunt_drop", "hand.meter.shunt_drop"},
	{"terminal_resistance", "hand.meter.terminal_resistance"},
	{"terminal_full_scale", "hand.meter.terminal_full_scale"},
	{"law", "hand.meter.law"},
	{"scale_from", "hand.meter.scale_from"},
	{"diameter", "hand.meter.diameter"},
	{"origin", "hand.meter.origin"},
	{"removed", "hand.meter.removed"},
	{"glow", "hand.meter.glow"},
	{"note", ""},
}

// What may be inside a meter's case.
const (
	none       = "none"
	multiplier = "multiplier"
	shunt      = "shunt"
	rectifier  = "rectifier"
	unknown    = "unknown"
)

var insides = []string{none, multiplier, shunt, rectifier, unknown}

// laws are what a cell can say of a law; the points of a table stand in a build alone.
var laws = []string{"linear", "square"}

// ColumnNames lists the columns that a drawer may have.
func ColumnNames() string {
	names := make([]string, len(columns))
	for k := range columns {
		names[k] = columns[k].name
	}
	return strings.Join(names, ", ")
}

// columnNamed finds a column by what heads it: capitals, and a space or hyphen in place
// of _, do not matter. -1: there is none.
func columnNamed(head string) int {
	name := strings.NewReplacer(" ", "_", "-", "_").Replace(strings.ToLower(strings.TrimSpace(head)))
	return slices.IndexFunc(columns, func(c column) bool { return c.name == name })
}

// columnOf is the name of the column whose value a field is, the last part of its path
// where there is none.
func columnOf(path string) string {
	for _, c := range columns {
		if c.field == path {
			return c.name
		}
	}
	return path[strings.LastIndexByte(path, '.')+1:]
}

// choices are what may stand in a column; nil: no list of words.
func (c *column) choices() []string {
	switch {
	case c.name == "inside":
		return insides
	case c.name == "law":
		return laws
	case c.field == "":
		return nil
	}
	return model.Builds.Field(c.field).Choices
}

// alsoSaid are words that mean a choice.
var alsoSaid = map[string]string{"center": "centre", "middle": "centre", "true": "yes", "false": "no"}

// choice is the one of a column's words that a cell means, by whatever capitals; the cell
// itself where it means none.
func (c *column) choice(cell string) string {
	word := strings.ToLower(strings.NewReplacer("_", " ", "-", " ").Replace(cell))
	if said, ok := alsoSaid[word]; ok {
		word = said
	}
	if slices.Contains(c.choices(), word) {
		return word
	}
	return cell
}
