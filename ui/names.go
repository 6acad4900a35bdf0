package ui

import (
	"slices"
	"strconv"

	"example.com/needlewright/model"
)

// A kind is what a build may have several of: its list in the file, and a name
// as one may have it.
type kind struct{ list, such string }

// kinds are all of them, in the order of the menu and the forms.
var kinds = []kind{{"hand", "minutes"}, {"lamp", "noon"}, {"drain", "divider"}, {"button", "set"}}

// names are the fields that hold the names of lists.
var names = func() map[string]*model.Field {
	m := map[string]*model.Field{}
	for _, k := range kinds {
		m[k.list] = fieldOf(k.list + ".name")
	}
	return m
}()

// fieldOf is the field of a path without a name.
func fieldOf(path string) *model.Field {
	i := slices.IndexFunc(model.Builds.Fields, func(f *model.Field) bool { return f.Path == path })
	return model.Builds.Fields[i]
}

// elements is how many of a list a build has.
func elements(b *model.Build, list string) int { return names[list].Of(b) }

// elementName is the name of the i-th of a list, its number from 1 where it has
// none.
func elementName(b *model.Build, list string, i int) string {
	if name := *names[list].At(b, i).(*string); name != "" {
		return name
	}
	return strconv.Itoa(i + 1)
}
