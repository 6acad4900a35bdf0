package model

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"
)

// newElement is the text of one of a list, with these values and the usual ones for the
// rest.
func (s *Schema) newElement(list string, values map[string]NewValue) string {
	var tables []string
	for _, f := range s.Fields {
		if table := parent(f.Path); f.list == list && !slices.Contains(tables, table) {
			tables = append(tables, table)
		}
	}
	return s.NewText(tables, values)
}

// A NewValue is what a new text gives for a field, and the comment behind it.
type NewValue struct{ Text, Comment string }

// NewText writes tables with the values given by path, and the usual ones of
// the fields table for the rest. Comments stand in one column.
func (s *Schema) NewText(tables []string, values map[string]NewValue) string {
	var lines []NewValue
	for i, path := range tables {
		if i > 0 {
			lines = append(lines, NewValue{})
		}
		switch {
		case s.isList(path):
			lines = append(lines, NewValue{Text: "[[" + path + "]]"})
		case path != "":
			lines = append(lines, NewValue{Text: "[" + path + "]"})
		}
		for _, f := range s.Fields {
			if parent(f.Path) != path {
				continue
			}
			v, ok := values[f.Path]
			if !ok {
				v = f.usual()
			}
			if v.Text != "" || f.Must {
				lines = append(lines, NewValue{last(f.Path) + " = " + f.written(v.Text), v.Comment})
			}
		}
	}
	return inColumns(lines)
}

// usual is what a new build gives for a field.
func (f *Field) usual() NewValue {
	switch {
	case f.New == "" && f.Must:
		return NewValue{"", "measure it"}
	case f.isWords() || f.Path == "format":
		return NewValue{f.New, ""}
	}
	return NewValue{f.New, "assumed"}
}

func inColumns(lines []NewValue) string {
	column := 0
	for _, l := range lines {
		if l.Comment != "" {
			column = max(column, utf8.RuneCountInString(l.Text)+2)
		}
	}
	var b strings.Builder
	for _, l := range lines {
		b.WriteString(l.Text)
		if l.Comment != "" {
			fmt.Fprintf(&b, "%*s# %s", column-utf8.RuneCountInString(l.Text), "", l.Comment)
		}
		b.WriteByte('\n')
	}
	return b.String()
}
