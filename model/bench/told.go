package bench

import "strings"

// A Told is a cause of the table as it is explained to who looks it up, whatever the build.
type Told struct {
	ID      string
	Title   string // "Shunt left"
	Of      string // "hand", "lamp", "button": what can have it; "": the clock
	Confirm string // how it shows
	Mend    string
}

// AllTold returns all causes, in the order of the table.
func AllTold() []Told {
	all := make([]Told, len(causes))
	for i := range causes {
		c := &causes[i]
		all[i] = Told{ID: c.id, Title: titleOf(c.id), Of: faultOf(c.id).Of, Confirm: c.confirm, Mend: c.mend}
	}
	return all
}

// titleOf is the id of a cause in words.
func titleOf(id string) string {
	text := Plainly(id)
	return strings.ToUpper(text[:1]) + text[1:]
}
