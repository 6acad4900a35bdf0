package reader

import (
	"fmt"
	"math"
	"strings"
)

// Compute computes a printed expression from its printed numbers, in SI units: ^ first,
// then × / ∥ from the left, then + −. An error says where it cannot be read, or that it
// has no value.
func Compute(expression string) (float64, error) {
	if mixed(expression) {
		return 0, fmt.Errorf("hours and seconds in %q", expression)
	}
	c := &calculator{rest: expression}
	value := c.sum()
	switch {
	case c.err != nil:
		return 0, c.err
	case c.rest != "":
		return 0, fmt.Errorf("not understood: %q of %q", c.rest, expression)
	case math.IsNaN(value) || math.IsInf(value, 0):
		return 0, fmt.Errorf("%q has no value", expression)
	}
	return value, nil
}

// A calculator reads an expression from the left; the first error stays.
type calculator struct {
	rest string
	err  error
}

// key takes the first of the keys that comes next, spaces around it aside; "" is none.
func (c *calculator) key(keys ...string) string {
	for _, key := range keys {
		if rest, ok := strings.CutPrefix(strings.TrimLeft(c.rest, " "), key); ok {
			c.rest = strings.TrimLeft(rest, " ")
			return key
		}
	}
	return ""
}

// want takes a key that has to come.
func (c *calculator) want(key string) {
	if c.key(key) == "" && c.err == nil {
		c.err = fmt.Errorf("%q expected at %q", key, c.rest)
	}
}

func (c *calculator) sum() float64 {
	value := c.product()
	for c.err == nil {
		switch c.key("+", "−") {
		case "+":
			value += c.product()
		case "−":
			value -= c.product()
		default:
			return value
		}
	}
	return value
}

func (c *calculator) product() float64 {
	value := c.power()
	for c.err == nil {
		switch c.key("×", "/", "∥") {
		case "×":
			value *= c.power()
		case "/":
			value /= c.power()
		case "∥":
			beside := c.power()
			value = value * beside / (value + beside)
		default:
			return value
		}
	}
	return value
}

// power reads a base with its exponent. A tower of them, or a negative number without
// brackets as a base, calculators take differently: neither may be printed.
func (c *calculator) power() float64 {
	negative := strings.HasPrefix(c.rest, "-")
	base := c.primary()
	if c.key("^") == "" {
		return base
	}
	exponent := c.primary()
	if c.err == nil && (negative || strings.HasPrefix(c.rest, "^")) {
		c.err = fmt.Errorf("a power that calculators differ in, before %q", c.rest)
	}
	return math.Pow(base, exponent)
}

// functions of one value, with what opens and closes them.
var functions = []struct {
	open, close string
	of          func(float64) float64
}{
	{"√(", ")", math.Sqrt},
	{"ln(", ")", math.Log},
	{"exp(", ")", math.Exp},
	{"cos(", ")", math.Cos},
	{"|", "|", math.Abs},
	{"⌊", "⌋", floor},
	{"(", ")", func(x float64) float64 { return x }},
}

// floor rounds down, but not what is a whole number less rounding noise.
func floor(x float64) float64 { return math.Floor(x + 1e-12*math.Abs(x)) }

func (c *calculator) primary() float64 {
	if c.err != nil {
		return 0
	}
	for _, f := range functions {
		if c.key(f.open) != "" {
			inside := c.sum()
			c.want(f.close)
			return f.of(inside)
		}
	}
	switch c.key("π", "max(", "min(") {
	case "π":
		return math.Pi
	case "max(":
		return c.all(math.Max)
	case "min(":
		return c.all(math.Min)
	}
	value, _, length, err := leading(c.rest)
	c.err = err
	c.rest = c.rest[length:]
	return value
}

// all reads the values of max or min, and its bracket's end.
func (c *calculator) all(of func(a, b float64) float64) float64 {
	value := c.sum()
	for c.err == nil && c.key(",") != "" {
		value = of(value, c.sum())
	}
	c.want(")")
	return value
}
