package dial

import (
	"slices"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/modeltest"
)

// planOf is the plan of a text.
func planOf(t *testing.T, text string) *circuit.Plan {
	t.Helper()
	p := new(circuit.Plan)
	circuit.Evaluate(modeltest.Sound(t, text), p)
	return p
}

// Where marks stand on a linear dial, what their numerals are, and in which steps a dial may
// go on. Birthplace: derived by hand; an hour of twelve is a twelfth of the scale, an hour of
// 24 a twenty-fourth, and five minutes or seconds a twelfth.
func TestMarks(t *testing.T) {
	for _, c := range []struct {
		shows    string
		marks    int
		apart    int // of numerals
		numerals []string
		steps    []int
		middle   []string
	}{
		{"12 h", 13, 1, []string{"0", "3", "6", "9", "12"}, []int{1, 3, 6}, []string{"0", "6", "12"}},
		{"24 h", 25, 1, []string{"0", "6", "12", "18", "24"}, []int{1, 2, 3, 6, 12}, []string{"0", "12", "24"}},
		{"60 min", 13, 5, []string{"0", "15", "30", "45", "60"}, []int{1, 3, 6}, []string{"0", "30", "60"}},
		{"60 s", 13, 5, []string{"0", "15", "30", "45", "60"}, []int{1, 3, 6}, []string{"0", "30", "60"}},
	} {
		p := planOf(t, modeltest.With(t, modeltest.Text(t, "three-hands.toml"), "hand.hours.shows", c.shows))
		marks := Marks(p, 0)
		require.Len(t, marks, c.marks, c.shows)
		var large []string
		for i, m := range marks {
			assert.InDelta(t, float64(i)/float64(c.marks-1), m.Place, 1e-15, "%s: mark %d", c.shows, i)
			assert.Equal(t, strconv.Itoa(i*c.apart), m.Numeral, "%s: mark %d", c.shows, i)
			if m.Large {
				large = append(large, m.Numeral)
			}
		}
		assert.Equal(t, c.numerals, large)
		steps := Steps(marks)
		assert.Equal(t, c.steps, steps, c.shows)
		for _, step := range steps {
			some := Every(marks, step)
			assert.Equal(t, []float64{0, 1}, []float64{some[0].Place, some[len(some)-1].Place}, "the ends")
			if step < steps[len(steps)-1] {
				kept := slices.DeleteFunc(some, func(m Mark) bool { return !m.Large })
				assert.Len(t, kept, len(large), "%s: all large ones in steps of %d", c.shows, step)
			}
		}
		var middle []string
		for _, m := range Every(marks, steps[len(steps)-1]) {
			middle = append(middle, m.Numeral)
		}
		assert.Equal(t, c.middle, middle, c.shows)
	}
}

// On a dial that is drawn to the needle a mark stands where the needle will stand for
// it. Birthplace: the table of the text, as it is typed there.
func TestMarksOfADrawnDial(t *testing.T) {
	table := `[["0 %", "0 %"], ["50 %", "40 %"], ["100 %", "100 %"]]`
	p := planOf(t, modeltest.With(t, modeltest.Text(t, "three-hands.toml"),
		"hand.hours.shows", "12 h", "hand.hours.meter.law", "table", "hand.hours.meter.table", table, "hand.hours.correct", "dial"))
	marks := Marks(p, 0)
	assert.InDelta(t, 0, marks[0].Place, 1e-12)
	assert.InDelta(t, 0.4, marks[6].Place, 1e-12)
	assert.InDelta(t, 1, marks[12].Place, 1e-12)
}

func TestNoMarks(t *testing.T) { assert.Empty(t, Steps(nil)) }
