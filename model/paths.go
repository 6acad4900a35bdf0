package model

import (
	"cmp"
	"slices"
	"strings"

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
