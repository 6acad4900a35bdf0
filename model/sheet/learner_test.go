package sheet

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/caution"
	"example.com/needlewright/model/modeltest"
	"example.com/needlewright/model/report"
	"example.com/needlewright/model/walk"
	"example.com/needlewright/model/working"
)

// A printed value is a number of three digits or more with its unit: fewer may well stand
// there for something else.
var printedValue = regexp.MustCompile(`-?\d[\d.]*\d(?: ?[^\s\d,;:()…→]+)?`)

// valuesIn are the values in a text, each with where it stands.
func valuesIn(text string) map[string]string {
	all := map[string]string{}
	for _, at := range printedValue.FindAllStringIndex(text, -1) {
		value := strings.TrimRight(text[at[0]:at[1]], ".*")
		if digitsOf(value) >= 3 && aLetter.MatchString(value) {
			all[value] = text[max(0, at[0]-60):min(len(text), at[1]+20)]
		}
	}
	return all
}

var aLetter, noDigit = regexp.MustCompile(`\pL|%`), regexp.MustCompile(`\D`)

func digitsOf(value string) int {
	return len(strings.TrimLeft(noDigit.ReplaceAllString(value, ""), "0"))
}

// secrets are all numbers that a build's results, workings and test points are printed with.
func secrets(t *testing.T, m *maker) map[string]string {
	t.Helper()
	all := map[string]string{}
	add := func(what, text string) {
		for v := range valuesIn(text) {
			all[v] = what
		}
	}
	for _, row := range m.r.Results {
		id := row.IDOf(m.b, row.Index)
		for _, text := range []string{row.TextIn(3), row.TextIn(4), row.BandTextIn(3)} {
			add(id, text)
		}
		w, err := working.OfRow(m.b, &m.r.Plan, row)
		require.NoError(t, err)
		for _, s := range w.Steps {
			add(id, s.Answer)
		}
	}
	for k := range m.points {
		value, band := m.expected(&m.points[k])
		add(m.points[k].ID, value+" "+band)
	}
	return all
}

// A learner's sheet has none of the numbers that are asked for, wherever they may stand: only
// what the file gives, the limits of the connections, and what everybody's sheet says. The key
// has each result, numbered as the blanks are.
func TestLearnersSheetHasNoAnswer(t *testing.T) {
	for name, d := range documents(t, 2) {
		_, learner, key := sheetsOf(t, name, d)
		m := newMaker(d, false)
		public := public(m)
		_, read, markdown := forms(t, learner)
		_, keyRead, _ := forms(t, key)
		for _, text := range []string{strings.Join(strings.Fields(read), " "), unmarked(markdown)} {
			stands := valuesIn(text)
			require.Greater(t, len(stands), 10, name)
			for value, what := range secrets(t, m) {
				if at, there := stands[value]; there && !isGiven(public, value) {
					t.Errorf("%s: %s of %s stands on it: …%s…", name, value, what, at)
				}
			}
		}
		for _, row := range m.r.Results {
			assert.Contains(t, keyRead, row.TextIn(3), "%s: %s in the key", name, row.ID)
		}
		assert.Equal(t, blanksOf(learner), numbersOf(key), "%s: each blank has its number in the key", name)
		assert.NotEmpty(t, blanksOf(learner))
	}
}

// givenValue is a printed value of any number of digits.
var givenValue = regexp.MustCompile(`-?\d[\d.]*(?: ?[^\s\d,;:()…→]+)?`)

// public are the values that a file gives, or what stands for them where it does not, the limits
// of the connections, and what is asked on everybody's sheet.
func public(m *maker) (all []string) {
	var text strings.Builder
	for _, f := range model.Builds.Fields {
		for i := range f.Of(m.b) {
			text.WriteString(f.Text(m.b, i) + " ; ")
		}
	}
	for _, c := range m.n.Connections {
		text.WriteString(c.Expect + " ; ")
	}
	for i := range walk.Stages {
		for _, page := range walk.Stages[i].Pages {
			for _, q := range page {
				text.WriteString(q.How + " ; ")
			}
		}
	}
	for _, at := range givenValue.FindAllString(text.String(), -1) {
		all = append(all, strings.TrimRight(at, "."))
	}
	return all
}

// isGiven says whether one of the values is another, in as many digits as that has.
func isGiven(all []string, value string) bool {
	rounded := func(text string) string {
		x, err := working.Read(text)
		if err != nil {
			return text
		}
		return strconv.FormatFloat(x, 'e', max(digitsOf(value)-1, 2), 64) // as many as the value has
	}
	wanted := rounded(value)
	return slices.ContainsFunc(all, func(v string) bool { return v == value || rounded(v) == wanted })
}

func blanksOf(s *Sheet) (all []int) {
	for _, section := range s.Sections {
		for _, k := range section.Blocks {
			if k.Table != nil {
				for _, row := range k.Table.Rows {
					for _, c := range row {
						if c.Blank > 0 {
							all = append(all, c.Blank)
						}
					}
				}
			}
		}
	}
	return all
}

func numbersOf(key *Sheet) (all []int) {
	for _, section := range key.Sections {
		for _, k := range section.Blocks {
			if k.Table != nil && k.Table.Head[0] == "No." {
				for range k.Table.Rows {
					all = append(all, len(all)+1)
				}
			}
		}
	}
	return all
}

// Cautions and limits stand on a learner's sheet as on the whole one, and it asks for a name and
// for the teacher's yes before first power.
func TestLearnersSheetKeepsCautionsAndLimits(t *testing.T) {
	for name, d := range documents(t, 0) {
		full, learner, _ := sheetsOf(t, name, d)
		_, read, _ := forms(t, learner)
		read = strings.Join(strings.Fields(read), " ")
		assert.Equal(t, warned(full), warned(learner), name)
		for _, c := range caution.Of(d.Build) {
			assert.Contains(t, read, c.Text, name)
		}
		assert.Contains(t, read, "Name")
		if len(d.Build.Hands) > 0 {
			assert.Contains(t, read, "Teacher's yes to first power", name)
		}
		for i, f := range report.Joined(report.Of(d).Findings) {
			if !regexp.MustCompile(`\d`).MatchString(f.Text) {
				assert.Contains(t, read, f.Text, "%s: finding %d, in which there is no number", name, i)
			}
		}
	}
}

func warned(s *Sheet) (all []string) {
	for _, section := range s.Sections {
		for _, k := range section.Blocks {
			all = append(all, k.Warned...)
		}
	}
	return all
}

// What the learner's sheet of an example asks for, by hand: the trimmer of the reading room
// stands at 485 Ω of 1 kΩ, 48.5 % (5 V · 240/256 / 500 µA less 640 Ω, 50 Ω and 8.2 kΩ).
func TestLearnersSheetByHand(t *testing.T) {
	d := model.Open(modeltest.Example("reading-room"))
	learner, key, err := ForLearner(d)
	require.NoError(t, err)
	_, read, _ := forms(t, learner)
	for _, answer := range []string{"485 Ω", "48.5", "4.69 V", "4.6875", "9.375", "8.685"} {
		assert.NotContains(t, read, answer)
	}
	for _, gives := range []string{"8.2 kΩ ±1 %", "640 Ω ±1 %", "500 µA ±1 %", "5 V ±1 %", "Trimmer set to"} {
		assert.Contains(t, read, gives)
	}
	_, keyRead, _ := forms(t, key)
	assert.Contains(t, keyRead, "5 V × 240/256 = 4.6875 V")
	assert.Contains(t, keyRead, "485 Ω")
}
