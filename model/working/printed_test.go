package working

import (
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/modeltest"
	"example.com/needlewright/model/working/reader"
)

// A census is how many lines of printed workings there were, and of what kinds.
type census struct{ workings, exact, stated, near, leading, alone, without int }

// printed reads a working as it is printed, by the reader that shares nothing with this
// package, and holds each of its lines and its last number.
func (c *census) printed(t *testing.T, name string, w *Working) []reader.Line {
	t.Helper()
	text := strings.Join(w.Lines(), "\n")
	lines, err := reader.Lines(text)
	require.NoError(t, err, "%s %s:\n%s", name, w.Name, text)
	c.workings++
	for k := range lines {
		l := &lines[k]
		c.count(l, lines[k+1:])
		if l.Expression != "" {
			_, err := l.Check()
			assert.NoError(t, err, "%s %s: line %s", name, w.Name, l)
		}
	}
	if w.Result != nil && !strings.Contains(text, "next to nothing") {
		assert.NoError(t, reader.Tells(lines, w.Number, w.Unit.Base()), "%s %s", name, w.Name)
	}
	return lines
}

// count counts a line by its kind; the lines behind a number found by trying that lead to its
// check are not exact either.
func (c *census) count(l *reader.Line, later []reader.Line) {
	switch {
	case l.Expression == "":
		c.without++
	case !l.Exact && (strings.Contains(l.Words, ", within ") || strings.HasSuffix(l.Words, " % off")):
		c.near++
	case !l.Exact && slices.ContainsFunc(later, func(l reader.Line) bool { return !l.Exact }):
		c.leading++
	case !l.Exact:
		c.alone++
	case l.Expression == l.Answer:
		c.stated++
	default:
		c.exact++
	}
}

func (c *census) log(t *testing.T) {
	t.Logf("%d workings: %d exact lines, %d that state a number, %d checks, %d that lead to one, %d that check nothing, %d without expression",
		c.workings, c.exact, c.stated, c.near, c.leading, c.alone, c.without)
}

// TestPrintedOfAnyBuild: the printed workings of all results of random builds, of the three
// kinds of TestAnyBuild, and of the parts of the first 100 altered examples. NEEDLEWRIGHT_BUILDS is how
// many of each.
func TestPrintedOfAnyBuild(t *testing.T) {
	modeltest.Long(t)
	n := modeltest.Sampled(t, 8)
	var count census
	builds, failed := 0, "" // the first that does
	for seed := range n {
		random := rand.New(rand.NewPCG(8, uint64(seed)))
		for kind, text := range []string{modeltest.AnyBuild(random), altered(random), drawn.Example(seed)} {
			b, problems := model.Read(text)
			if len(problems) > 0 {
				continue
			}
			builds++
			p := new(circuit.Plan)
			circuit.Evaluate(b, p)
			name := "seed " + strconv.Itoa(seed) + ", kind " + strconv.Itoa(kind)
			for _, o := range circuit.Outcomes(p) {
				if w, err := Of(b, p, o); assert.NoError(t, err, "%s: %s", name, o.ID) {
					count.printed(t, name, w)
				}
			}
			if kind == 1 && seed < 100 { // their choices are tried: slow
				count.parts(t, name, b, p)
			}
			if t.Failed() && failed == "" {
				failed = text
			}
		}
	}
	count.log(t)
	assert.Greater(t, builds, 2*n)
	assert.Empty(t, failed)
}

func (c *census) parts(t *testing.T, name string, b *model.Build, p *circuit.Plan) {
	for _, id := range partIDs(b, p) {
		w, err := ofPart(b, p, id)
		require.NoError(t, err, name)
		c.printed(t, name, w)
	}
}

// A mutant is a kind of change of a printed working: how many were made, and how many the
// reader refused.
type mutant struct {
	what          string
	made, refused int
}

func (m *mutant) try(refused bool) {
	m.made++
	if refused {
		m.refused++
	}
}

// operators are what one sign of an expression is changed to.
var operators = []string{" + ", " − ", " × ", " / ", " ∥ "}

// otherSigns are an expression with one operator another.
func otherSigns(expression string) []string {
	var all []string
	for k := range expression {
		for _, is := range operators {
			if !strings.HasPrefix(expression[k:], is) {
				continue
			}
			for _, other := range operators {
				if other != is {
					all = append(all, expression[:k]+other+expression[k+len(is):])
				}
			}
		}
	}
	return all
}

// TestPrintedChanged: with a digit of an answer, a digit or a sign of an expression another,
// or a step by another formula with the answer that this gives, the reader refuses a printed
// working. What it takes nevertheless still gives the printed answer to its last digit, as
// max(0, …) does with a 1, or a full scale of 1.000 with a small part changed; so the shares
// that must be refused are those of a reader that is never wrong, less some.
func TestPrintedChanged(t *testing.T) {
	answers, numbers, signs := mutant{what: "digits of answers"}, mutant{what: "digits of expressions"}, mutant{what: "signs of expressions"}
	formulas, near := mutant{what: "steps by another formula"}, mutant{what: "first digits of lines not exact"}
	var count census
	for _, name := range []string{"reading-room", "harbour-office", "net-loft"} {
		b, p := solved(t, modeltest.Example(name))
		for _, w := range all(t, b, p) {
			lines := count.printed(t, name, w)
			loose := reader.Loose(lines)
			for _, l := range loose { // what a measured scale makes of a code or of a ripple has no formula: it is stated
				assert.True(t, w.Result == nil || l.Words == "The code then" || l.Words == byModes, "%s: a step that leads nowhere: %s", w.Name, l)
			}
			for k, l := range lines {
				switch {
				case l.Expression == "":
				case !l.Exact:
					near.each(l, otherDigits(l.Expression, false))
				default:
					for _, answer := range otherDigits(l.Answer, true) {
						changed := l
						changed.Answer = answer
						answers.try(refuses(changed))
						assert.True(t, refuses(changed), "%s: %s", w.Name, changed)
					}
					numbers.each(l, otherDigits(l.Expression, true))
					signs.each(l, otherSigns(l.Expression))
					if w.Result != nil && len(loose) == 0 {
						formulas.step(w, lines, k)
					}
				}
			}
		}
	}
	for _, m := range []mutant{answers, numbers, signs, formulas, near} {
		t.Logf("%s: %d of %d refused", m.what, m.refused, m.made)
	}
	count.log(t)
	assert.Positive(t, answers.made)
	assert.Equal(t, formulas.made, formulas.refused, formulas.what)
	assert.Greater(t, rate(numbers), 0.9, numbers.what)
	assert.Greater(t, rate(signs), 0.98, signs.what)
	assert.Greater(t, rate(near), 0.9, near.what)
}

func rate(m mutant) float64 { return float64(m.refused) / float64(m.made) }

func refuses(l reader.Line) bool {
	_, err := l.Check()
	return err != nil
}

func (m *mutant) each(l reader.Line, expressions []string) {
	for _, e := range expressions {
		changed := l
		changed.Expression = e
		m.try(refuses(changed))
	}
}

// step changes the formula of a step, gives it the answer that it then has, and reads the
// whole: then no later line has that answer, or the last one does not tell the value.
func (m *mutant) step(w *Working, lines []reader.Line, k int) {
	for _, e := range otherSigns(lines[k].Expression) {
		changed := slices.Clone(lines)
		x, err := reader.Compute(e)
		changed[k].Expression, changed[k].Answer = e, inUnitOf(lines[k].Answer, x)
		if err != nil || !refuses(reader.Line{Expression: e, Answer: lines[k].Answer, Exact: true}) || hasNumber(lines, changed[k].Answer) {
			continue // no formula, the same answer, or one that another line has
		}
		m.try(reader.Tells(changed, w.Number, w.Unit.Base()) != nil || len(reader.Loose(changed)) > 0)
	}
}

// inUnitOf is a number in SI units in as many digits and the unit of a printed one.
func inUnitOf(printed string, x float64) string {
	_, unit, spaced := strings.Cut(printed, " ")
	size, err := reader.Size(unit)
	if err != nil {
		return ""
	}
	text := strconv.FormatFloat(x/size, 'g', usual, 64)
	if spaced {
		text += " " + unit
	}
	return text
}

// hasNumber tells whether a number is in some line already.
func hasNumber(lines []reader.Line, number string) bool {
	return slices.ContainsFunc(lines, func(l reader.Line) bool {
		return strings.Contains(l.Expression, number) || l.Answer == number
	})
}
