package session

import (
	"slices"
	"strconv"
	"strings"

	"example.com/needlewright/model"
)

// A Kind is what a build may have several of: its list in the file, and a name
// as one may have it.
type Kind struct{ List, Such string }

// Kinds are all of them, in the order of the menu and the forms.
var Kinds = []Kind{{"hand", "minutes"}, {"lamp", "noon"}, {"drain", "divider"}, {"button", "set"}}

// Names are the fields that hold the names of lists.
var Names = func() map[string]*model.Field {
	m := map[string]*model.Field{}
	for _, k := range Kinds {
		m[k.List] = FieldOf(k.List + ".name")
	}
	return m
}()

// FieldOf is the field of a path without a name.
func FieldOf(path string) *model.Field {
	i := slices.IndexFunc(model.Builds.Fields, func(f *model.Field) bool { return f.Path == path })
	return model.Builds.Fields[i]
}

// Elements is how many of a list a build has.
func Elements(b *model.Build, list string) int { return Names[list].Of(b) }

// ElementName is the name of the i-th of a list, its number from 1 where it has
// none.
func ElementName(b *model.Build, list string, i int) string {
	if name := *Names[list].At(b, i).(*string); name != "" {
		return name
	}
	return strconv.Itoa(i + 1)
}

// ValueName is what a value is called, with whose it is where there are several.
func ValueName(b *model.Build, f *model.Field, i int) string {
	name, list := strings.TrimSpace(f.Label), f.List()
	if Names[list] == nil || list == "hand" && len(b.Hands) < 2 {
		return name
	}
	return name + ", " + ElementName(b, list, i)
}
