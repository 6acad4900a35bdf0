// Package formula reads the formulas of the results as text: their parts, what they come
// to, and what their letters stand for in a build.
package formula

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"
)

// A Node is a part of a formula. Its Op is one of + − · / ^ ∥ with two parts; '-' for a
// sign before one; '#' for a number; 'x' for a name; 'f' for a call of one.
type Node struct {
	Op     rune
	Name   string
	Number float64
	Parts  []*Node
}

// Parse reads a formula's text: + − · / ^ ² ∥, brackets, numbers, names and calls; · / and ∥
// go before + and −, from the left. The error tells what of it is not understood.
func Parse(text string) (n *Node, err error) {
	f := parser{[]rune(strings.ReplaceAll(text, " ", ""))}
	defer func() {
		if trouble := recover(); trouble != nil {
			err = fmt.Errorf("%s: %v at %q", text, trouble, string(f.rest))
		}
	}()
	n = f.sum()
	if len(f.rest) > 0 {
		panic("something is left over")
	}
	return n, nil
}

// A parser is the text of a formula being read.
type parser struct{ rest []rune }

// take eats a sign if it is next.
func (f *parser) take(sign rune) bool {
	if len(f.rest) == 0 || f.rest[0] != sign {
		return false
	}
	f.rest = f.rest[1:]
	return true
}

// one eats one of several signs, 0 where none is next.
func (f *parser) one(signs string) rune {
	for _, sign := range signs {
		if f.take(sign) {
			return sign
		}
	}
	return 0
}

func (f *parser) sum() *Node {
	n := f.product()
	for {
		op := f.one("+−")
		if op == 0 {
			return n
		}
		n = &Node{Op: op, Parts: []*Node{n, f.product()}}
	}
}

func (f *parser) product() *Node {
	n := f.signed()
	for {
		op := f.one("·/∥")
		if op == 0 {
			return n
		}
		n = &Node{Op: op, Parts: []*Node{n, f.signed()}}
	}
}

func (f *parser) signed() *Node {
	if f.take('−') {
		return &Node{Op: '-', Parts: []*Node{f.signed()}}
	}
	n := f.atom()
	switch {
	case f.take('²'):
		return &Node{Op: '^', Parts: []*Node{n, {Op: '#', Number: 2}}}
	case f.take('^'):
		return &Node{Op: '^', Parts: []*Node{n, f.signed()}}
	}
	return n
}

func (f *parser) atom() *Node {
	if f.take('(') {
		n := f.sum()
		f.must(')')
		return n
	}
	word := f.word()
	if word == "" {
		panic("nothing")
	}
	if x, err := strconv.ParseFloat(word, 64); err == nil && word[0] <= '9' {
		return &Node{Op: '#', Number: x}
	}
	if !f.take('(') {
		return &Node{Op: 'x', Name: word}
	}
	call := &Node{Op: 'f', Name: word, Parts: []*Node{f.sum()}}
	for f.take(',') {
		call.Parts = append(call.Parts, f.sum())
	}
	f.must(')')
	return call
}

func (f *parser) must(sign rune) {
	if !f.take(sign) {
		panic("no " + string(sign))
	}
}

func (f *parser) word() string {
	n := 0
	for n < len(f.rest) && (f.rest[n] == '_' || f.rest[n] == '.' || f.rest[n] != '²' && (unicode.IsLetter(f.rest[n]) || unicode.IsDigit(f.rest[n]))) {
		n++
	}
	word := string(f.rest[:n])
	f.rest = f.rest[n:]
	return word
}

// Symbols are what the letters of a formula stand for: float64s, and functions
// of one, two or three.
type Symbols map[string]any

// Value returns what a formula's text comes to; the error tells what of it is not
// understood.
func Value(text string, s Symbols) (x float64, err error) {
	n, err := Parse(text)
	if err != nil {
		return 0, err
	}
	defer func() {
		if trouble := recover(); trouble != nil {
			err = fmt.Errorf("%s: %v", text, trouble)
		}
	}()
	return s.value(n), nil
}

// value is what a part of a formula comes to.
func (s Symbols) value(n *Node) float64 {
	a := make([]float64, len(n.Parts))
	for i, part := range n.Parts {
		a[i] = s.value(part)
	}
	switch n.Op {
	case '#':
		return n.Number
	case '-':
		return -a[0]
	case '+':
		return a[0] + a[1]
	case '−':
		return a[0] - a[1]
	case '·':
		return a[0] * a[1]
	case '/':
		return a[0] / a[1]
	case '∥':
		return a[0] * a[1] / (a[0] + a[1])
	case '^':
		return math.Pow(a[0], a[1])
	}
	switch of := s[n.Name].(type) {
	case float64:
		if n.Op == 'x' {
			return of
		}
	case func(float64) float64:
		return of(counted(a, 1)[0])
	case func(float64, float64) float64:
		counted(a, 2)
		return of(a[0], a[1])
	case func(float64, float64, float64) float64:
		counted(a, 3)
		return of(a[0], a[1], a[2])
	}
	panic("no such name: " + n.Name)
}

// counted are the arguments of a call that takes so many.
func counted(a []float64, n int) []float64 {
	if len(a) != n {
		panic(fmt.Sprintf("%d arguments, not %d", len(a), n))
	}
	return a
}

// orNothing is 0 for what is not known.
func orNothing(x float64) float64 {
	if math.IsNaN(x) {
		return 0
	}
	return x
}
