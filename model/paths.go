package model

import (
	"cmp"
	"slices"
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

func last(path string) string { return path[strings.LastIndexByte(path, '.')+1:] }

// nearest returns the candidate with the fewest letters to change.
func nearest(word string, candidates []string) string {
	word = cut(word, longestPath)
	return slices.MinFunc(candidates, func(a, b string) int {
		return cmp.Compare(levenshtein.ComputeDistance(word, a), levenshtein.ComputeDistance(word, b))
	})
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
