// Package formula reads the formulas of the results as text: what they come to, with
// what their letters stand for in a build.
package formula

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"
)

// A formula is the text of a results row being evaluated: + − · / ^ and ²,
// brackets, numbers, names and calls.
type formula struct {
	rest    []rune
	symbols Symbols
}

// Symbols are what the letters of a formula stand for: float64s, and functions
// of one, two or three.
type Symbols map[string]any

// Value returns what a formula's text comes to; the error tells what of it is not
// understood.
func Value(text string, s Symbols) (x float64, err error) {
	f := formula{[]rune(strings.ReplaceAll(text, " ", "")), s}
	defer func() {
		if trouble := recover(); trouble != nil {
			err = fmt.Errorf("%s: %v at %q", text, trouble, string(f.rest))
		}
	}()
	x = f.sum()
	if len(f.rest) > 0 {
		panic("something is left over")
	}
	return x, nil
}

// take eats a sign if it is next.
func (f *formula) take(sign rune) bool {
	if len(f.rest) == 0 || f.rest[0] != sign {
		return false
	}
	f.rest = f.rest[1:]
	return true
}

func (f *formula) sum() float64 {
	x := f.product()
	for {
		switch {
		case f.take('+'):
			x += f.product()
		case f.take('−'):
			x -= f.product()
		default:
			return x
		}
	}
}

func (f *formula) product() float64 {
	x := f.signed()
	for {
		switch {
		case f.take('·'):
			x *= f.signed()
		case f.take('/'):
			x /= f.signed()
		default:
			return x
		}
	}
}

func (f *formula) signed() float64 {
	if f.take('−') {
		return -f.signed()
	}
	x := f.atom()
	switch {
	case f.take('²'):
		return x * x
	case f.take('^'):
		return math.Pow(x, f.signed())
	}
	return x
}

func (f *formula) atom() float64 {
	if f.take('(') {
		x := f.sum()
		f.must(')')
		return x
	}
	word := f.word()
	if x, err := strconv.ParseFloat(word, 64); err == nil && word[0] <= '9' {
		return x
	}
	switch s := f.symbols[word].(type) {
	case float64:
		return s
	case func(float64) float64:
		return s(f.arguments(1)[0])
	case func(float64, float64) float64:
		a := f.arguments(2)
		return s(a[0], a[1])
	case func(float64, float64, float64) float64:
		a := f.arguments(3)
		return s(a[0], a[1], a[2])
	}
	panic("no such name: " + word)
}

func (f *formula) must(sign rune) {
	if !f.take(sign) {
		panic("no " + string(sign))
	}
}

func (f *formula) arguments(n int) []float64 {
	f.must('(')
	list := []float64{f.sum()}
	for f.take(',') {
		list = append(list, f.sum())
	}
	f.must(')')
	if len(list) != n {
		panic(fmt.Sprintf("%d arguments, not %d", len(list), n))
	}
	return list
}

func (f *formula) word() string {
	n := 0
	for n < len(f.rest) && (f.rest[n] == '_' || f.rest[n] == '.' || f.rest[n] != '²' && (unicode.IsLetter(f.rest[n]) || unicode.IsDigit(f.rest[n]))) {
		n++
	}
	word := string(f.rest[:n])
	f.rest = f.rest[n:]
	return word
}

// orNothing is 0 for what is not known.
func orNothing(x float64) float64 {
	if math.IsNaN(x) {
		return 0
	}
	return x
}
