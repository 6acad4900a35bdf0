package working

import (
	"fmt"
	"slices"
	"strings"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/spread"
)

// A Missing is the error for a name that no working of a build has: the nearest that one has,
// and whether another build has this one.
type Missing struct {
	Name, Near string
	Elsewhere  bool
}

// Error says what is not there.
func (m *Missing) Error() string { return fmt.Sprintf("%s is no result of this build", m.Name) }

// elsewhere says whether a full name is one of the table, which this build is without.
func elsewhere(b *model.Build, name string) bool {
	of, id, _ := strings.Cut(name, ".")
	if b.HandNamed(of) >= 0 {
		name = "hand." + id
	}
	return slices.ContainsFunc(circuit.Results, func(r circuit.Result) bool { return r.ID == name })
}

// IDs are the names of all workings of a solved build: its results, then its parts.
func IDs(b *model.Build, p *circuit.Plan) []string {
	var ids []string
	for _, o := range circuit.Outcomes(p) {
		ids = append(ids, o.IDOf(b, o.Index))
	}
	return append(ids, partIDs(b, p)...)
}

// Named returns the working of a result, or of a chosen part, by its name, or by the path of
// the field that has the part; the name of a hand may be left out where there is one, and is
// put before it where it is given.
func Named(b *model.Build, p *circuit.Plan, name, hand string) (*Working, error) {
	ids := IDs(b, p)
	if id := partOfPath(b, name); id != "" {
		name = id
	}
	full := name
	if hand == "" && len(b.Hands) == 1 {
		hand = b.Hands[0].Name
	}
	if !slices.Contains(ids, name) && hand != "" {
		full = hand + "." + name
	}
	if !slices.Contains(ids, full) {
		return nil, &Missing{name, model.NearestID(name, ids), elsewhere(b, name) || elsewhere(b, full)}
	}
	for _, row := range spread.Rows(p) {
		if row.IDOf(b, row.Index) == full {
			return OfRow(b, p, banded(b, p, row))
		}
	}
	return ofPart(b, p, full)
}

// partOfPath is the name of the part that a path is of, with the name of its hand or lamp;
// "" where it is of none.
func partOfPath(b *model.Build, path string) string {
	for _, f := range model.Builds.Fields {
		for i := range f.Of(b) {
			if f.PathOf(b, i) == path {
				return PartAt(b, f, i)
			}
		}
	}
	return ""
}

// banded is a result with its band.
func banded(b *model.Build, p *circuit.Plan, row spread.Row) spread.Row {
	for _, other := range spread.Spread(b, p) {
		if other.Result == row.Result && other.Index == row.Index {
			return other
		}
	}
	return row
}
