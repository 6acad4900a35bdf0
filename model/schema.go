package model

import (
	"slices"
	"strconv"
	"strings"
)

// A Schema is one kind of file: the fields it may hold, and what is true of them
// together. Reading, setting, stepping and forms know nothing else of a file.
type Schema struct {
	Fields []*Field // in the order of the forms

	lists    []list
	byPath   map[string]*Field
	tables   []string        // the paths of all tables, sorted
	empty    func() any      // what a file is read into
	complete func(root any)  // fills in what follows from the values read
	check    func(r *reader) // finds what each value alone does not show
}

// A list is a table that may stand several times.
type list struct {
	name string
	key  string                // that tells one from the other: "name"
	most int                   // that there may be
	make func(root any, n int) // makes room for so many
}

// prepare works out what follows from the rows of the fields.
func (s *Schema) prepare(rows []Field) *Schema {
	s.byPath = make(map[string]*Field, len(rows))
	for i := range rows {
		f := &rows[i]
		f.prepare(s)
		s.Fields = append(s.Fields, f)
		s.byPath[f.Path] = f
		for path := parent(f.Path); path != ""; path = parent(path) {
			if !slices.Contains(s.tables, path) {
				s.tables = append(s.tables, path)
			}
		}
	}
	slices.Sort(s.tables)
	return s
}

// Field returns the field of a path without a name, "hand.meter.coil", nil where
// there is none.
func (s *Schema) Field(path string) *Field { return s.byPath[path] }

// NameOf returns the name of the i-th element of a list, or its number from 1
// where it has none.
func (s *Schema) NameOf(root any, list string, i int) string {
	if name := *s.byPath[list+"."+s.keyOf(list)].At(root, i).(*string); name != "" {
		return name
	}
	return strconv.Itoa(i + 1)
}

// listOf is the list of a name, nil where there is none.
func (s *Schema) listOf(name string) *list {
	for k := range s.lists {
		if s.lists[k].name == name {
			return &s.lists[k]
		}
	}
	return nil
}

// keyOf is the key by which the elements of a list are told apart.
func (s *Schema) keyOf(name string) string {
	if l := s.listOf(name); l != nil {
		return l.key
	}
	return ""
}

// mostOf is how many elements a list may have.
func (s *Schema) mostOf(name string) int {
	if l := s.listOf(name); l != nil {
		return l.most
	}
	return 0
}

func (s *Schema) isList(table string) bool { return s.keyOf(table) != "" }

// isNameOfList says whether a path is that of the names of a list.
func (s *Schema) isNameOfList(path string) bool {
	head, rest, _ := strings.Cut(path, ".")
	return s.isList(head) && rest == s.keyOf(head)
}

// isTable says whether a file of this kind may have a table of this path.
func (s *Schema) isTable(path string) bool { return path == "" || slices.Contains(s.tables, path) }

// room is an empty root with as many of each list as count says.
func (s *Schema) room(count func(list string) int) any {
	root := s.empty()
	for k := range s.lists {
		s.lists[k].make(root, count(s.lists[k].name))
	}
	return root
}
