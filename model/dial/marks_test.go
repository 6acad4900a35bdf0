package dial

import (
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

// Where marks stand on a linear dial, and what their numerals are. Birthplace: derived
// by hand; an hour of twelve is a twelfth of the scale, an hour of 24 a twenty-fourth.
func TestMarks(t *testing.T) {
	for _, c := range []struct {
		shows    string
		marks    int
		numerals []string
	}{
		{"12 h", 13, []string{"0", "3", "6", "9", "12"}},
		{"24 h", 25, []string{"0", "6", "12", "18", "24"}},
		{"60 min", 13, []string{"0", "15", "30", "45", "60"}},
		{"60 s", 13, []string{"0", "15", "30", "45", "60"}},
	} {
		p := planOf(t, modeltest.With(t, modeltest.Text(t, "three-hands.toml"), "hand.hours.shows", c.shows))
		marks := Marks(p, 0)
		require.Len(t, marks, c.marks, c.shows)
		var numerals []string
		for i, m := range marks {
			assert.InDelta(t, float64(i)/float64(c.marks-1), m.Place, 1e-15, "%s: mark %d", c.shows, i)
			assert.Equal(t, m.Large, m.Numeral != "", "%s: mark %d", c.shows, i)
			if m.Large {
				numerals = append(numerals, m.Numeral)
			}
		}
		assert.Equal(t, c.numerals, numerals)
		sparse := Sparse(marks)
		require.Len(t, sparse, 3)
		for i, numeral := range []string{c.numerals[0], c.numerals[2], c.numerals[4]} {
			assert.Equal(t, numeral, sparse[i].Numeral, c.shows)
			assert.InDelta(t, float64(i)/2, sparse[i].Place, 1e-15, c.shows)
		}
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

func TestNoMarks(t *testing.T) { assert.Empty(t, Sparse(nil)) }
