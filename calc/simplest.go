package calc

import "math"

// Simplest returns the fraction add/every between low and high, low <= high, with the least
// every, 1 or more, and of those the add nearest to 0. Numbers whose fraction would not fit
// give 0/1.
//
// Source: derived, continued fractions (the Stern-Brocot tree)
func Simplest(low, high float64) (add, every int64) {
	const most = 1 << 53 // whole numbers that a float64 holds
	switch {
	case low <= 0 && 0 <= high, !(math.Abs(low) < most && math.Abs(high) < most):
		return 0, 1
	case high < 0:
		add, every = Simplest(-high, -low)
		return -add, every
	}
	// (a, b) and (c, d) are the last two convergents of what low and high have in common.
	a, b, c, d := 0.0, 1.0, 1.0, 0.0
	for range 64 {
		whole := math.Ceil(low)
		last := whole <= high
		if !last {
			whole = math.Floor(low)
		}
		a, b, c, d = c, d, whole*c+a, whole*d+b
		if last || c >= most || d >= most {
			break
		}
		low, high = 1/(high-whole), 1/(low-whole)
	}
	if c >= most || d >= most {
		return 0, 1
	}
	return int64(c), int64(d)
}
