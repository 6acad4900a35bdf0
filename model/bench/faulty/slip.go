package faulty

import (
	"math/rand/v2"
	"strings"

	"example.com/needlewright/model/quantity"
)

// Slip returns what a slip of the pen makes of a reading: a decade more or less, the
// other sign, or what a neighbouring test point of the same kind reads. It is the
// reading itself where no slip is possible.
func (c *Clock) Slip(random *rand.Rand, id, reading string) string {
	var slips []string
	for _, s := range []string{c.neighbour(id, -1), c.neighbour(id, 1), decade(reading, 1), decade(reading, -1), otherSign(reading)} {
		if s != "" && s != reading {
			slips = append(slips, s)
		}
	}
	if len(slips) == 0 {
		return reading
	}
	return slips[random.IntN(len(slips))]
}

// neighbour is what the next test point of the same kind reads, before or after.
func (c *Clock) neighbour(id string, step int) string {
	i, ok := c.at[id]
	if !ok {
		return ""
	}
	for j := i + step; j >= 0 && j < len(c.points); j += step {
		p := c.points[j]
		if p.kind.written() == c.points[i].kind.written() && (p.kind != words || last(p.id) == last(id)) {
			return c.Read(p.id)
		}
	}
	return ""
}

// written is the kind that is written alike.
func (k kind) written() kind {
	if k == alternating {
		return volts
	}
	return k
}

func last(id string) string { return id[strings.LastIndexByte(id, '.')+1:] }

// number cuts a reading into its digits and what follows; ok is false for words.
func number(reading string) (sign, digits, rest string, ok bool) {
	sign, digits = "", reading
	if cut, found := strings.CutPrefix(reading, "-"); found {
		sign, digits = "-", cut
	} else if cut, found := strings.CutPrefix(reading, "+"); found {
		sign, digits = "+", cut
	}
	digits, rest, ok = strings.Cut(digits, " ")
	if !ok || digits == "" || digits[0] < '0' || digits[0] > '9' {
		return "", "", "", false
	}
	return sign, digits, " " + rest, true
}

// decade moves the decimal point of a reading one place to the right, or to the left.
func decade(reading string, step int) string {
	sign, digits, rest, ok := number(reading)
	if !ok {
		return ""
	}
	whole, part, _ := strings.Cut(digits, ".")
	if step > 0 {
		if part == "" {
			part = "0"
		}
		whole, part = whole+part[:1], part[1:]
	} else {
		whole = "0" + whole
		whole, part = whole[:len(whole)-1], whole[len(whole)-1:]+part
	}
	whole = strings.TrimLeft(whole, "0")
	if whole == "" {
		whole = "0"
	}
	if part != "" {
		part = "." + part
	}
	if moved := sign + whole + part + rest; quantity.MustParse(digits, quantity.Times).Number != 0 {
		return moved
	}
	return ""
}

// otherSign is a reading with its leads the other way round.
func otherSign(reading string) string {
	sign, digits, rest, ok := number(reading)
	switch {
	case !ok || quantity.MustParse(digits, quantity.Times).Number == 0:
		return ""
	case sign == "-" && strings.HasPrefix(rest, " s in"):
		return "+" + digits + rest
	case sign == "-":
		return digits + rest
	}
	return "-" + digits + rest
}
