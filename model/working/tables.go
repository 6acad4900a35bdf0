package working

import (
	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
)

// newDesk is a desk for the results of a list.
func newDesk(b *model.Build, p *circuit.Plan, list string, i int) *desk {
	d := &desk{b: b, p: p, list: list, i: i, rows: workings, tables: tablesOf(list), letters: map[string]*expression{}}
	if list == "hand" {
		d.of = i
	}
	return d
}

// tablesOf are where the letters of a list's results are looked up.
func tablesOf(list string) []map[string]entry {
	switch list {
	case "hand":
		return []map[string]entry{handLetters, meterLetters, needleLetters, rippleLetters, supplyLetters}
	case "crystal":
		return []map[string]entry{crystalLetters}
	case "lamp":
		return []map[string]entry{lampLetters}
	}
	return []map[string]entry{supplyLetters, lifeLetters, handLetters, meterLetters}
}
