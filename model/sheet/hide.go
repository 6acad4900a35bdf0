package sheet

import (
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"

	"example.com/needlewright/model"
	"example.com/needlewright/model/working"
)

// hidden is where the key has what is blank in the section that is being made.
func (m *maker) hidden() *Section { return &m.key[len(m.key)-1] }

// answer is a result: its text, or on a learner's sheet a numbered blank, which the key has
// under what is asked.
func (m *maker) answer(asked, text string) Cell {
	if !m.learner || text == "" {
		return Cell{Text: text, Number: true}
	}
	m.blanks++
	s := m.hidden()
	if n := len(s.Blocks); n == 0 || s.Blocks[n-1].Table == nil || s.Blocks[n-1].Table.Head[0] != "No." {
		s.Blocks = append(s.Blocks, Block{Table: &Table{Head: []string{"No.", "What", "Answer"}}})
	}
	t := s.Blocks[len(s.Blocks)-1].Table
	t.Rows = append(t.Rows, []Cell{number(m.blanks), {Text: asked}, {Text: text, Number: true}})
	return Cell{Blank: m.blanks}
}

// keep puts what a learner's sheet has not into the key.
func (m *maker) keep(blocks ...Block) {
	s := m.hidden()
	s.Blocks = append(s.Blocks, blocks...)
}

// aQuantity is a number as it is printed, with its unit where it has one. Ω, % and ° are no
// letters to a pattern, behind which a word could end.
var aQuantity = regexp.MustCompile(`[−-]?\d+(?:[.,]\d+)?(?: ?(?:%|°C|[mkM]?Ω|(?:ppm|days?|months?|years?|codes?|min|ms|µs|s|h|[pnµmkMG]?(?:A|V|W|F|H|Hz|Ah))\b))?`)

// anElectric is a volt or an ampere.
var anElectric = regexp.MustCompile(`[−-]?\d+(?:\.\d+)? [nµm]?[VA]\b`)

// plainly is a quantity as a number in base units with its unit's last letter: 2.50 % and 2.5 % are one.
func plainly(q string) string {
	x, err := working.Read(q)
	if err != nil {
		return q
	}
	last, _ := utf8.DecodeLastRuneInString(q)
	return strconv.FormatFloat(x, 'g', 8, 64) + string(last)
}

// blank stands for a number that is to be found.
const blank = "____"

// gather notes which numbers are given, and so may stand on a learner's sheet, and which are
// found at test points and in results.
func (m *maker) gather() {
	m.given, m.found = map[string]bool{}, map[string]bool{}
	for _, f := range model.Builds.Fields {
		if skipped(f) {
			continue
		}
		for i := range f.Of(m.b) {
			for _, q := range aQuantity.FindAllString(f.Text(m.b, i), -1) {
				m.given[plainly(q)] = true
			}
		}
	}
	for _, q := range aQuantity.FindAllString(m.b.Title+" "+m.b.Builder, -1) {
		m.given[plainly(q)] = true
	}
	for k := range m.points {
		value, band := m.expected(&m.points[k])
		for _, q := range aQuantity.FindAllString(value+" "+band, -1) {
			m.found[q] = true
		}
	}
	for _, row := range m.r.Results {
		for _, text := range []string{row.TextIn(3), row.TextIn(4), row.BandTextIn(3), row.BandTextIn(4)} {
			for _, q := range aQuantity.FindAllString(text, -1) {
				m.found[q] = true
			}
		}
	}
}

// veiled is a text without the numbers that nobody gave: what is judged stays, by how much
// does not.
func (m *maker) veiled(text string) string {
	if !m.learner {
		return text
	}
	return aQuantity.ReplaceAllStringFunc(text, func(q string) string {
		if m.given[plainly(q)] {
			return q
		}
		return blank
	})
}

// spared is a text without what is found in results and at test points.
func (m *maker) spared(text string) string {
	if !m.learner {
		return text
	}
	return aQuantity.ReplaceAllStringFunc(text, func(q string) string {
		if m.found[q] && !m.given[plainly(q)] {
			return blank
		}
		return q
	})
}

// setTo is what a trimmer of a drawing is set to.
var setTo = regexp.MustCompile(`set to [^<\n ]+ [kM]?Ω`)

// inCells is what cells have inside together.
var inCells = regexp.MustCompile(`, inside [\d.]+ [mk]?Ω`)

// drawn is a drawing without its volts and amps, and without what its trimmers are set to.
func (m *maker) drawn(text string) string {
	if !m.learner {
		return text
	}
	text = anElectric.ReplaceAllStringFunc(text, func(q string) string {
		if m.given[plainly(q)] {
			return q
		}
		return strings.Repeat("_", len([]rune(q)))
	})
	text = inCells.ReplaceAllString(text, ", inside ___")
	return setTo.ReplaceAllString(text, "set to ___")
}
