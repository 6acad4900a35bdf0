package side

import (
	"math"
	"strings"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/quantity"
	"example.com/needlewright/model/spread"
	"example.com/needlewright/ui/session"
)

// questions are the results' headings.
var questions = [...]string{
	circuit.Reaches: "Does the needle reach?",
	circuit.Smooth:  "Does it stand still?",
	circuit.Wrong:   "How wrong does it read?",
	circuit.Drifts:  "How fast does it drift?",
	circuit.Lasts:   "How long do cells last?",
}

// first questions of each form; the others follow. NoPane is where there are no fields.
var firstQuestions = [model.NoPane + 1][]circuit.Question{
	model.MeterPane:   {circuit.Reaches, circuit.Wrong, circuit.Smooth},
	model.FilterPane:  {circuit.Smooth, circuit.Reaches, circuit.Wrong},
	model.CrystalPane: {circuit.Drifts},
	model.BatteryPane: {circuit.Lasts},
}

// orderAt is all questions, those of the open form first.
func orderAt(pane model.Pane) []circuit.Question {
	order := append([]circuit.Question{}, firstQuestions[pane]...)
	for q := range circuit.Question(len(questions)) {
		known := false
		for _, o := range order {
			known = known || o == q
		}
		if !known {
			order = append(order, q)
		}
	}
	return order
}

// A resultLine is a heading, or a result with its value.
type resultLine struct {
	heading, label string
	question       bool         // the heading is one, with results and their bands below it
	pinned         bool         // it stays at the top
	value          string       // "": that of shown, which is put into words only where it is in view
	short          string       // in place of a value that leaves the label no room
	shown          *shownResult // whose band stands behind the value; nil: none does
	changed        string       // "▲" or "▼" since the last edit
}

// allResults lists the results under their questions.
func allResults(s *session.Session, pane model.Pane) []resultLine {
	return underQuestions(ShownResults(s), pane)
}

// underQuestions lists results under their questions.
func underQuestions(shown []shownResult, pane model.Pane) []resultLine {
	var lines []resultLine
	for _, q := range orderAt(pane) {
		heading := questions[q]
		for _, answers := range [2]bool{true, false} { // the answers first
			for i := range shown {
				s := &shown[i]
				if s.Row.Question != q || s.Row.Answer != answers {
					continue
				}
				if heading != "" {
					lines = append(lines, resultLine{heading: heading, question: true})
					heading = ""
				}
				lines = append(lines, resultLine{label: s.Label, shown: s, changed: s.direction()})
			}
		}
	}
	return lines
}

// A shownResult is a result in view, as it is and as it was.
type shownResult struct {
	Row     spread.Row
	Label   string
	of      string  // the label of the one that it belongs to, "" where it stands by itself
	was     float64 // before the last edit
	changed bool    // so that it can be seen
}

// ShownResults are those of the hand in view, and of everything there is once.
func ShownResults(s *session.Session) []shownResult {
	hand, now, base := s.ReportHand(), s.Report, s.Base
	shown := make([]shownResult, 0, len(now.Results))
	of := ""
	compared := base != nil && base != now && base.Alike(now)
	for _, row := range now.Results {
		if row.OfHand() && row.Index != hand {
			continue
		}
		s := shownResult{Row: row, Label: row.Label + ResultOwner(now.Build, row)}
		if strings.HasPrefix(row.Label, " ") {
			s.of = of
		} else {
			of = s.Label
		}
		if compared {
			old := row
			old.Value = *row.At(&base.Plan, row.Index)
			s.was, s.changed = old.Value, visibly(old, row)
		}
		shown = append(shown, s)
	}
	return shown
}

// visibly says whether two values of a result can be told apart as they are shown.
func visibly(old, row spread.Row) bool {
	const plainly = 0.01 // more than any digit that is shown
	by, of := math.Abs(row.Value-old.Value), max(math.Abs(row.Value), math.Abs(old.Value))
	switch {
	case by == 0 || math.IsNaN(by):
		return false
	case row.Unit == quantity.Minutes || row.Unit == quantity.PPM || row.Unit == quantity.SecondsPerDay:
		return old.Text() != row.Text() // all that is tiny looks alike
	}
	return by > plainly*of || old.Text() != row.Text()
}

// ResultOwner is what stands behind the label of a lamp's or button's result.
func ResultOwner(b *model.Build, row spread.Row) string {
	list, _, _ := strings.Cut(row.ID, ".")
	if list == "hand" || session.Names[list] == nil {
		return ""
	}
	return ", " + session.ElementName(b, list, row.Index)
}

// direction is the sign of a change, "" where there is none.
func (s *shownResult) direction() string {
	if !s.changed {
		return ""
	}
	return direction(s.was, s.Row.Value)
}

// direction is the sign of a change.
func direction(was, is float64) string {
	if is > was {
		return "▲"
	}
	return "▼"
}

// Signed is by how much a result is more or less.
func Signed(row spread.Row, by float64) string {
	row.Value = math.Abs(by)
	text := row.Text()
	switch {
	case strings.HasPrefix(text, "under"): // a limit has no sign
		return text
	case by < 0:
		return "-" + text
	}
	return "+" + text
}
