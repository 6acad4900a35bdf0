package working

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"example.com/needlewright/model/formula"
)

// An expression is a formula with its letters found: what is 0 in a sum, or 1 in a product,
// is left out of it.
type expression struct {
	op     rune // as of formula.Node; 'l' for a letter
	number float64
	name   string // of a function
	letter *letter
	parts  []*expression
}

func constant(x float64) *expression { return &expression{op: '#', number: x} }

// is says whether it is a number that changes nothing where it is left out: a 1 with a unit
// gives its product the unit.
func (e *expression) is(x float64) bool {
	return e.op == '#' && e.number == x || e.op == 'l' && e.letter.x == x && (x == 0 || e.letter.given && e.letter.isShare())
}

// value is what it comes to with all digits.
func (e *expression) value() float64 {
	a := make([]float64, len(e.parts))
	for i, part := range e.parts {
		a[i] = part.value()
	}
	switch e.op {
	case '#', 'π':
		return e.number
	case 'l':
		return e.letter.x
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
	switch e.name {
	case "sqrt":
		return math.Sqrt(a[0])
	case "ln":
		return math.Log(a[0])
	case "exp":
		return math.Exp(a[0])
	case "cos":
		return math.Cos(a[0])
	case "abs":
		return math.Abs(a[0])
	case "floor":
		return math.Floor(a[0])
	case "max":
		return max(a[0], a[1])
	case "min":
		return min(a[0], a[1])
	}
	panic("no such function: " + e.name)
}

// join makes an expression of two, leaving out what changes nothing.
func join(op rune, a, b *expression) *expression {
	switch {
	case op == '+' && a.is(0):
		return b
	case (op == '+' || op == '−') && b.is(0):
		return a
	case (op == '·' || op == '/') && a.is(0), op == '·' && b.is(0):
		return constant(0)
	case op == '·' && a.is(1):
		return b
	case (op == '·' || op == '/') && b.is(1):
		return a
	case op == '−' && a.op == '#' && b.op == 'l' && b.letter.given && b.letter.x == a.number:
		return constant(0)
	case op == '^' && a.is(0):
		return constant(0)
	case a.op == '#' && b.op == '#' && (op == '+' || op == '−'):
		return constant((&expression{op: op, parts: []*expression{a, b}}).value())
	}
	return &expression{op: op, parts: []*expression{a, b}}
}

// find makes an expression of a formula's part.
func (d *desk) find(n *formula.Node) *expression {
	switch n.Op {
	case '#':
		return constant(n.Number)
	case 'x':
		if n.Name == "π" {
			return &expression{op: 'π', number: math.Pi}
		}
		return d.letterOf(n.Name)
	case '-':
		return join('·', constant(-1), d.find(n.Parts[0]))
	case 'f':
		var parts []*expression
		for _, part := range n.Parts {
			parts = append(parts, d.find(part))
		}
		if n.Name == "law" {
			return d.law(parts[0])
		}
		return &expression{op: 'f', name: n.Name, parts: parts}
	}
	return join(n.Op, d.find(n.Parts[0]), d.find(n.Parts[1]))
}

// formula is the expression of a formula's text. What the results' formulas spell out as a sum,
// all that is in the chain, is one letter of the tables, with a line of its own.
func (d *desk) formula(text string) *expression {
	n, err := formula.Parse(strings.ReplaceAll(text, "(R_a + R_c)", "R_chain"))
	if err != nil {
		panic(err)
	}
	return d.find(n)
}

// How tightly the signs bind.
const (
	loose  = iota // + −
	middle        // × / ∥
	tight         // ^
	single
)

// print is the expression as it is printed, and how tightly its loosest sign binds.
func (e *expression) print() (string, int) {
	switch e.op {
	case '#':
		return signed(strconv.FormatFloat(e.number, 'f', -1, 64))
	case 'π':
		return "π", single
	case 'l':
		return signed(e.letter.text)
	case 'f':
		return e.printCall(), single
	case '+', '−':
		left, _ := e.parts[0].print()
		return left + " " + string(e.op) + " " + within(e.parts[1], middle), loose
	case '·':
		right := within(e.parts[1], middle)
		if e.parts[1].op == '∥' {
			right = "(" + right + ")"
		}
		return e.left() + " × " + right, middle
	case '/':
		left, right := e.left(), within(e.parts[1], tight)
		if isWhole(left) && isWhole(right) {
			return left + "/" + right, middle
		}
		return left + " / " + right, middle
	case '∥':
		return e.left() + " ∥ " + within(e.parts[1], tight), middle
	case '^':
		base, binds := e.parts[0].print()
		if binds < single || strings.ContainsRune(base, ' ') {
			base = "(" + base + ")"
		}
		return base + "^" + within(e.parts[1], single), tight
	}
	panic(fmt.Sprintf("no such sign: %c", e.op))
}

// line is the expression as a line has it: a number below zero that begins it needs no
// brackets.
func (e *expression) line() string {
	text, _ := e.print()
	if inner, after, ok := strings.Cut(text, ")"); ok && strings.HasPrefix(inner, "(-") && !strings.Contains(inner[1:], "(") && !strings.HasPrefix(after, "^") && isNumber(inner[1:]) {
		return inner[1:] + after
	}
	return text
}

// isNumber says whether a text is a single number, with or without a unit.
func isNumber(text string) bool {
	number, _, _ := strings.Cut(text, " ")
	_, err := strconv.ParseFloat(strings.TrimRight(number, "%°"), 64)
	return err == nil && strings.Count(text, " ") <= 1
}

// signed is a number, and how tightly it binds: one below zero stands in brackets but where
// a line begins.
func signed(text string) (string, int) {
	if strings.HasPrefix(text, "-") {
		return text, loose
	}
	return text, single
}

// left is the left side of a product: what is side by side stands in brackets.
func (e *expression) left() string {
	left := within(e.parts[0], middle)
	if e.parts[0].op == '∥' && e.op != '∥' {
		return "(" + left + ")"
	}
	return left
}

// within is an expression as part of another, in brackets where it binds less tightly.
func within(e *expression, least int) string {
	text, binds := e.print()
	if binds < least {
		return "(" + text + ")"
	}
	return text
}

// isWhole says whether a printed number is a whole one without a unit.
func isWhole(text string) bool {
	last := text[strings.LastIndexByte(text, ' ')+1:]
	_, err := strconv.Atoi(last)
	return err == nil && !strings.ContainsRune(last, '-')
}

func (e *expression) printCall() string {
	first, _ := e.parts[0].print()
	switch e.name {
	case "abs":
		return "|" + first + "|"
	case "floor":
		return "⌊" + first + "⌋"
	case "sqrt":
		return "√(" + first + ")"
	case "max", "min":
		second, _ := e.parts[1].print()
		return e.name + "(" + first + ", " + second + ")"
	}
	return e.name + "(" + first + ")"
}

// letters are those that stand in an expression.
func (e *expression) letters(visit func(*letter)) {
	if e.op == 'l' {
		visit(e.letter)
	}
	for _, part := range e.parts {
		part.letters(visit)
	}
}

// cancels is the most by which a sum in it, or in its letters, is smaller than what is added
// up.
func (e *expression) cancels() float64 {
	worst := 1.0
	if e.op == '+' || e.op == '−' {
		a, b := e.parts[0].value(), e.parts[1].value()
		worst = max(math.Abs(a), math.Abs(b)) / math.Abs(e.value())
	}
	if e.op == 'l' && e.letter.of != nil {
		worst = max(worst, e.letter.of.cancels())
	}
	for _, part := range e.parts {
		worst = max(worst, part.cancels())
	}
	return worst
}
