package judge

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"example.com/needlewright/model"
	"example.com/needlewright/model/quantity"
)

// Since returns the horizon in words: "a week after it was set".
func (h Horizon) Since() string {
	if h == AfterCells {
		return "a set of cells after it was set"
	}
	return "a " + h.String() + " after it was set"
}

// dialTime is the dial time of a place of the hand's dial, from 0, as papers have it:
// 6:00 of 12 or 24 h, 30:00 of 60 min, 30 of 60 s.
func (s *sinceSet) dialTime(place int) string {
	h := s.circuit()
	switch at := float64(place) / float64(h.Steps) * h.Minutes; h.Minutes {
	case 1:
		return strconv.Itoa(int(math.Round(60 * at)))
	case 60:
		seconds := int(math.Round(60 * at))
		return fmt.Sprintf("%d:%02d", seconds/60, seconds%60)
	default:
		minutes := int(math.Round(at))
		return fmt.Sprintf("%d:%02d", minutes/60, minutes%60)
	}
}

// leastShown is the share of the squares below which a row has no line
// of its own.
const leastShown = 1e-3

// Lines returns the budget as text: what it comes to, a line for each that is to
// blame for more than a trace, and what else there is.
func (b *Budget) Lines(build *model.Build) []string {
	lines := []string{fmt.Sprintf("%s, %s: off by %s at worst, %s likely",
		build.Hands[b.Hand].Name, b.Horizon.Since(), quantity.DialTime(b.Worst), quantity.DialTime(b.RSS))}
	if len(b.Rows) > 0 {
		lines[0] += ", most at " + b.LikelyAt
	}
	var rest []string
	traces := 0.0
	for k := range b.Rows {
		row := &b.Rows[k]
		if row.Share < leastShown {
			rest, traces = append(rest, row.Label), traces+row.Amount
			continue
		}
		lines = append(lines, fmt.Sprintf("  %-22s  %9s  %6s  %s",
			row.Label, quantity.DialTime(row.Amount), quantity.Show(row.Share, quantity.Percent, 2), row.effect(build)))
	}
	if rest != nil {
		lines = append(lines, "  and "+strings.Join(rest, ", ")+": "+quantity.DialTime(traces)+" together")
	}
	if b.Unknown != nil {
		lines = append(lines, "  not known: "+strings.Join(b.Unknown, ", "))
	}
	return lines
}

// effect says what is gained by what.
func (row *BudgetRow) effect(build *model.Build) string {
	switch {
	case row.Field != "" && (row.Changes == nil || row.IfSo > row.Gain):
		return "to be measured, " + row.Field + ": " + quantity.DialTime(row.IfSo) + " less"
	case row.Changes == nil:
		return "gone altogether: " + quantity.DialTime(row.Gain) + " less"
	}
	return model.ChangesText(build, row.Changes) + ": " + quantity.DialTime(row.Gain) + " less"
}

// A BudgetRecord is a budget as it stands in JSON.
type BudgetRecord struct {
	Hand    string  `json:"hand"`
	Horizon string  `json:"horizon"`
	Worst   float64 `json:"worst"`
	Likely  float64 `json:"likely"`

	WorstAt  string `json:"worst_at"`
	LikelyAt string `json:"likely_at"`

	Rows    []BudgetRowRecord `json:"rows"`
	Unknown []string          `json:"unknown"`
}

// A BudgetRowRecord is a row of it.
type BudgetRowRecord struct {
	ID      string         `json:"id"`
	Label   string         `json:"label"`
	Amount  float64        `json:"amount"`
	Share   float64        `json:"share"`
	Gain    float64        `json:"gain"`
	Advice  string         `json:"advice"`
	Changes []ChangeRecord `json:"changes"`
	Measure string         `json:"measure"`
	IfSo    float64        `json:"if_so"`
}

// A ChangeRecord is a change as it stands in JSON.
type ChangeRecord struct {
	Path  string `json:"path"`
	Value string `json:"value"`
}

// Record returns the budget in the form of the catalogue's JSON.
func (b *Budget) Record(build *model.Build) BudgetRecord {
	name := build.Hands[b.Hand].Name
	out := BudgetRecord{name, b.Horizon.String(), b.Worst, b.RSS, b.WorstAt, b.LikelyAt, []BudgetRowRecord{}, append([]string{}, b.Unknown...)}
	for k := range b.Rows {
		row := &b.Rows[k]
		out.Rows = append(out.Rows, BudgetRowRecord{
			name + ".budget." + row.ID, row.Label, row.Amount, row.Share, row.Gain, row.Advice, Records(build, row.Changes), row.Field, row.IfSo,
		})
	}
	return out
}

// Records are changes as they stand in JSON.
func Records(b *model.Build, changes []model.Change) []ChangeRecord {
	list := []ChangeRecord{}
	for _, c := range changes {
		list = append(list, ChangeRecord{c.Path(b), c.Text})
	}
	return list
}
