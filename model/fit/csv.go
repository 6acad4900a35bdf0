package fit

import (
	"encoding/csv"
	"io"
	"math"
	"strconv"
	"strings"

	"example.com/needlewright/model"
)

// WriteCSV writes a table of meters with their best ways, minutes of the dial, hours, A.
func WriteCSV(w io.Writer, meters []*Meter) error {
	rows := [][]string{{"name", "verdict", "way", "likely", "worst", "life_on", "life_mixed", "current", "faults", "cautions", "missing", "why"}}
	for _, m := range meters {
		row := []string{model.CSVCell(m.Name), m.Verdict, "", "", "", "", "", "", "", "", strings.Join(m.Missing, " "), model.CSVCell(m.Why)}
		if best := m.Best(); best != nil {
			copy(row[2:], []string{
				best.ID, number(best.Likely), number(best.Worst), number(best.LifeOn), number(best.LifeMixed), number(best.Current),
				strconv.Itoa(best.Faults), strconv.Itoa(best.Cautions),
			})
		}
		rows = append(rows, row)
	}
	return csv.NewWriter(w).WriteAll(rows)
}

// number is a number in full, "" for what is none.
func number(x float64) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return ""
	}
	return strconv.FormatFloat(x, 'g', -1, 64)
}
