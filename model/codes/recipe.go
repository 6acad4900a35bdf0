package codes

import (
	"fmt"
	"slices"
)

// A Recipe computes a code from its instant s: (s·multiply + add) >> shift, without a sign, in
// numbers of so many bits.
type Recipe struct {
	Multiply, Add int64
	Shift, Bits   int
}

// Code is the code at an instant.
func (r *Recipe) Code(instant int) int { return int((int64(instant)*r.Multiply + r.Add) >> r.Shift) }

func (r *Recipe) String() string {
	return fmt.Sprintf("(s·%d + %d) >> %d", r.Multiply, r.Add, r.Shift)
}

// recipeFor returns the recipe of all codes from an instant on, none of them below 0: that
// with the fewest bits, then the least shift, multiply and add; nil where none gives every
// code.
func recipeFor(codes []int, first int) *Recipe {
	for _, bits := range [2]int{16, 32} {
		for shift := range bits {
			r := recipes{codes, first, int64(1)<<bits - 1, shift}
			if int64(slices.Max(codes[first:]))<<shift > r.most { // and so with every larger shift
				break
			}
			if multiply, ok := r.least(); ok {
				add, _ := r.add(multiply)
				return &Recipe{multiply, add, shift, bits}
			}
		}
	}
	return nil
}

// recipes are those of one shift whose numbers are no larger than most.
type recipes struct {
	codes []int
	first int
	most  int64
	shift int
}

// add returns the least and the most that may be added to the multiples: from the first to
// the second every number does, none where the first is larger.
func (r *recipes) add(multiply int64) (least, most int64) {
	most = r.most
	for s := r.first; s < len(r.codes); s++ {
		product := int64(s) * multiply
		least = max(least, int64(r.codes[s])<<r.shift-product)
		most = min(most, int64(r.codes[s]+1)<<r.shift-1-product, r.most-product)
	}
	return least, most
}

// room is how many numbers may be added, less one; below 0 where none may. It is the least of
// functions that are linear in multiply, and so it rises to its top and falls from there.
func (r *recipes) room(multiply int64) int64 {
	least, most := r.add(multiply)
	return most - least
}

// least returns the least multiply that has room, if any has.
func (r *recipes) least() (multiply int64, ok bool) {
	top := search(r.most, func(m int64) bool { return r.room(m+1) <= r.room(m) })
	if r.room(top) < 0 {
		return 0, false
	}
	return search(top, func(m int64) bool { return r.room(m) >= 0 }), true
}

// search returns the least number, 0 to most, from which on something holds; most where it
// does not hold before.
func search(most int64, holds func(int64) bool) int64 {
	low, high := int64(0), most
	for low < high {
		if middle := (low + high) / 2; holds(middle) {
			high = middle
		} else {
			low = middle + 1
		}
	}
	return low
}
