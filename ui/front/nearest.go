package front

import "strings"

// How near an entry is to what is typed, the nearest first.
const (
	isIt    = iota // it is called so
	begins         // its name begins so
	hasWord        // a word of its name begins so
	holds          // its name holds it
	isAlso         // another of its names does
	isSaid         // what is said of it has all that is typed, or its names do
	nearnesses
)

// nearest are the entries that hold what is typed, the nearest first, those that are as near
// in their order.
func nearest(entries []Entry, typed string) []Entry {
	typed = strings.ToLower(typed)
	if typed == "" {
		return entries
	}
	words := strings.Fields(typed)
	var by [nearnesses][]Entry
	for i := range entries {
		if near := entries[i].nearness(typed, words); near < nearnesses {
			by[near] = append(by[near], entries[i])
		}
	}
	var all []Entry
	for _, same := range by {
		all = append(all, same...)
	}
	return all
}

// nearness is how near an entry is to a text in small letters, and to its words; nearnesses
// where it does not hold it.
func (e *Entry) nearness(typed string, words []string) int {
	name := strings.ToLower(e.Text)
	switch at := strings.Index(name, typed); {
	case name == typed:
		return isIt
	case at == 0:
		return begins
	case at > 0 && strings.Contains(" "+name, " "+typed):
		return hasWord
	case at > 0:
		return holds
	case strings.Contains(strings.ToLower(e.Also), typed):
		return isAlso
	case e.Below == "":
		return nearnesses
	}
	said := " " + strings.ToLower(e.Text+" "+e.Also+" "+e.Below)
	for _, word := range words {
		if !strings.Contains(said, " "+word) {
			return nearnesses
		}
	}
	return isSaid
}
