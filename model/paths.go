package model

import (
	"cmp"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"github.com/agnivade/levenshtein"
)

// parent is a path without its last part; last is that part.
func parent(path string) string {
	if i := strings.LastIndexByte(path, '.'); i >= 0 {
		return path[:i]
	}
	return ""
}

// isWithin says whether a path is that of a table or stands in it.
func isWithin(path, table string) bool {
	rest, ok := strings.CutPrefix(path, table)
	return ok && (rest == "" || rest[0] == '.')
}

func last(path string) string { return path[strings.LastIndexByte(path, '.')+1:] }

// nearest returns the candidate with the fewest letters to change.
func nearest(word string, candidates []string) string {
	word = cut(word, longestPath)
	return slices.MinFunc(candidates, func(a, b string) int {
		return cmp.Compare(levenshtein.ComputeDistance(word, a), levenshtein.ComputeDistance(word, b))
	})
}

// NearestID returns which of some ids, at least one, has the fewest letters to change, in all of
// it or behind its last dot: of "trimmer_travl" that is "hours.trimmer_travel".
func NearestID(id string, ids []string) string {
	id = cut(id, longestPath)
	far := func(other string) int {
		return min(levenshtein.ComputeDistance(id, other), 1+levenshtein.ComputeDistance(last(id), last(other)))
	}
	return slices.MinFunc(ids, func(a, b string) int { return cmp.Compare(far(a), far(b)) })
}

// fitting are the choices that a text may mean, with what else they are called: those that
// differ from it only in capitals and spaces, or else those that hold each of its words.
func fitting(choices []string, called map[string]string, text string) []string {
	asked := slices.DeleteFunc(wordsOf(cut(text, longestPath)), func(w string) bool { return slices.Contains(idle, w) })
	var alike, holding []string
	for _, c := range choices {
		if strings.Join(wordsOf(c), "") == strings.Join(asked, "") {
			alike = append(alike, c)
		}
		words := wordsOf(c + " " + called[c])
		missing := slices.ContainsFunc(asked, func(w string) bool { return !slices.Contains(words, w) })
		if len(asked) > 0 && !missing {
			holding = append(holding, c)
		}
	}
	if alike != nil {
		return alike
	}
	return holding
}

// begun are the choices that begin with a text, in any case, or else those one of whose
// words does.
func begun(choices []string, called map[string]string, text string) []string {
	text = strings.ToLower(text)
	var whole, words []string
	for _, c := range choices {
		if strings.HasPrefix(strings.ToLower(c), text) {
			whole = append(whole, c)
		}
		if slices.ContainsFunc(wordsOf(c+" "+called[c]), func(w string) bool { return strings.HasPrefix(w, text) }) {
			words = append(words, c)
		}
	}
	if whole != nil {
		return whole
	}
	return words
}

// idle are words that people add to the name of a cell.
var idle = []string{"cell", "cells", "battery", "batteries"}

// wordsOf are the words and numbers of a text, in small letters.
func wordsOf(text string) []string {
	return strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
}

// full is the list that takes nothing more of what stands at a path; nil where all do.
func (o *outline) full(l *list, path string) *list {
	if l == nil {
		return nil
	}
	if outer := o.full(l.in, path); outer != nil {
		return outer
	}
	owner := o.lastOwner(l)
	if _, n := o.rows(l, owner); o.tooMany[seat{l.name, owner, true}] || path == l.name && n == l.most {
		return l
	}
	return nil
}

// missing is the outermost list of which what stands at a path needs an element, and
// there is none yet; nil where it has all.
func (o *outline) missing(l *list, path string) *list {
	if l == nil {
		return nil
	}
	if outer := o.missing(l.in, path); outer != nil || path == l.name {
		return outer
	}
	if _, n := o.rows(l, o.lastOwner(l)); n == 0 {
		return l
	}
	return nil
}

// open begins an element of a list, and before it one of each that owns it, from an
// outer list on.
func (o *outline) open(outer, l *list) {
	if l != outer {
		o.open(outer, l.in)
	}
	if l.in != nil {
		o.owners[l.name] = append(o.owners[l.name], o.lastOwner(l))
	}
	o.count[l.name]++
}

// lastOwner is the element that the next one of a list belongs to.
func (o *outline) lastOwner(l *list) int {
	if l.in == nil {
		return 0
	}
	return o.count[l.in.name] - 1
}

// rows are the elements of a list that an owner has: the first, and how many.
func (o *outline) rows(l *list, owner int) (first, n int) {
	if l.in == nil {
		return 0, o.count[l.name]
	}
	first, _ = slices.BinarySearch(o.owners[l.name], owner)
	end, _ := slices.BinarySearch(o.owners[l.name], owner+1)
	return first, end - first
}

// element is the name of an element of a list, or its number from 1 where it has none,
// and which of the owning list has it.
func (o *outline) element(l *list, i int) (name string, owner int) {
	before := i
	if l.in != nil {
		owner = o.owners[l.name][i]
		first, _ := o.rows(l, owner)
		before = i - first
	}
	if l.key != "" {
		if v := o.find(l.name+"."+l.key, i); v != nil {
			name = v.text
		}
	}
	return cmp.Or(name, strconv.Itoa(before+1)), owner
}

// every stands for all elements of a list.
const every = -1

// isOf says whether a table belongs to the i-th of a list, or to every one.
func (o *outline) isOf(t *table, l *list, i int) bool {
	for of, k := t.list, t.index; of != nil; of = of.in {
		if of == l {
			return i == every || k == i
		}
		if of.in != nil {
			k = o.owners[of.name][k]
		}
	}
	return false
}

// nameOf is the name of an element of a list, or its number from 1.
func (o *outline) nameOf(list string, i int) string {
	name, _ := o.element(o.schema.listOf(list), i)
	return name
}

// pathOf puts the names of a hand, lamp or reading into a path, or its number from 1
// where it has no name, or none above this line. Of a list itself it is that of its owner.
func (o *outline) pathOf(path string, index int) string {
	l := o.schema.listAt(path)
	switch {
	case l == nil || l.in == nil && path == l.name:
		return path
	case path == l.name:
		return l.in.path(o.owners[path][index], l.inOwner(), o.element)
	}
	return l.path(index, path[len(l.name)+1:], o.element)
}

// ownTable is the list for which a key of a table may not stand: its elements have
// tables of their own. It is nil where there is none.
func (o *outline) ownTable(path, table string) *list {
	l, of := o.schema.listAt(path), o.schema.listAt(table)
	if l == of {
		return nil
	}
	for l.in != of {
		l = l.in
	}
	return l
}

// pathAbove is the path of such a key, of the index-th element that has the table.
func (o *outline) pathAbove(l *list, path string, index int) string {
	switch {
	case l.in != nil:
		return l.in.path(index, path[len(l.in.name)+1:], o.element)
	case path == l.name:
		return path
	}
	return l.path(0, path[len(l.name)+1:], o.element)
}
