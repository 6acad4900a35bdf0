package model

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"github.com/agnivade/levenshtein"
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

// A list is a table that may stand several times, in a file or in each element of the
// list that owns it. The elements of an owned list are counted through all owners in
// the order of the file; in paths they count from 1 in their own.
type list struct {
	name string                        // the path of its table: "hand", "hand.scale"
	one  string                        // what people call an element: "hand", "scale row"
	key  string                        // that tells one from the other: "name"; "": its number
	most int                           // that there may be, of each owner
	make func(root any, owner, n int)  // makes room for so many
	size func(root any, owner int) int // how many there are
	in   *list                         // the list that owns it; nil: it stands in the file
}

// path is that of what stands at rest in the i-th element, by what names says of an
// element: its name, and which of the owning list has it.
func (l *list) path(i int, rest string, names func(l *list, i int) (name string, owner int)) string {
	name, owner := names(l, i)
	if l.in == nil {
		return l.name + "." + name + "." + rest
	}
	return l.in.path(owner, l.inOwner()+"."+name+"."+rest, names)
}

// inOwner is the path of its table in an element of the list that owns it.
func (l *list) inOwner() string { return strings.TrimPrefix(l.name, l.in.name+".") }

// whose says which element of the owning list has the i-th, and how many it has before it.
func (l *list) whose(root any, i int) (owner, before int) {
	if l.in == nil {
		return 0, i
	}
	for i >= l.size(root, owner) {
		i -= l.size(root, owner)
		owner++
	}
	return owner, i
}

// prepare works out what follows from the rows of the fields.
func (s *Schema) prepare(rows []Field) *Schema {
	for k := range s.lists {
		s.lists[k].in = s.listAt(parent(s.lists[k].name))
	}
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
	name, _ := s.element(root, s.listOf(list), i)
	return name
}

// element is the name of an element of a list, or its number from 1 where it has none,
// and which of the owning list has it.
func (s *Schema) element(root any, l *list, i int) (name string, owner int) {
	owner, before := l.whose(root, i)
	if l.key != "" {
		name = *s.byPath[l.name+"."+l.key].At(root, i).(*string)
	}
	return cmp.Or(name, strconv.Itoa(before+1)), owner
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

// mostOf is how many elements a list may have, of each owner.
func (s *Schema) mostOf(name string) int { return s.listOf(name).most }

// listAt is the innermost list that a path stands in, or is the table of; nil where it
// stands once in a file.
func (s *Schema) listAt(path string) *list {
	var at *list
	for k := range s.lists {
		if l := &s.lists[k]; isWithin(path, l.name) && (at == nil || len(l.name) > len(at.name)) {
			at = l
		}
	}
	return at
}

func (s *Schema) isList(table string) bool { return s.listOf(table) != nil }

// isNameOfList says whether a path is that of the names of a list.
func (s *Schema) isNameOfList(path string) bool {
	l := s.listOf(parent(path))
	return l != nil && l.key == last(path)
}

// isForRows says whether a table is one of rows, or holds nothing but such tables.
func (s *Schema) isForRows(path string) bool {
	return slices.ContainsFunc(s.lists, func(l list) bool {
		return l.in != nil && (isWithin(path, l.name) || isWithin(l.name, path) && s.listAt(path) == l.in && path != l.in.name)
	})
}

// isTable says whether a file of this kind may have a table of this path.
func (s *Schema) isTable(path string) bool { return path == "" || slices.Contains(s.tables, path) }

// room is an empty root with as many of each list as count says, of one that is owned
// in each of its owners.
func (s *Schema) room(count func(list string, owner int) int) any {
	root, all := s.empty(), map[*list]int{nil: 1}
	for k := range s.lists { // owners stand before what they own
		l := &s.lists[k]
		for owner := range all[l.in] {
			n := count(l.name, owner)
			l.make(root, owner, n)
			all[l] += n
		}
	}
	return root
}

// nearestField returns the path of the field whose own key is nearest, of the
// same table where two are as near.
func (s *Schema) nearestField(path string) string {
	path = cut(path, longestPath)
	f := slices.MinFunc(s.Fields, func(a, b *Field) int {
		return cmp.Or(
			cmp.Compare(farOf(path, a.Path), farOf(path, b.Path)),
			cmp.Compare(levenshtein.ComputeDistance(path, a.Path), levenshtein.ComputeDistance(path, b.Path)))
	})
	return f.Path
}

// farOf is how many letters of a key are to be changed to make it another; one of another
// table than is named counts as some more.
func farOf(path, other string) int {
	far := levenshtein.ComputeDistance(last(path), last(other))
	if parent(path) != "" && parent(path) != parent(other) {
		far += 3
	}
	return far
}
