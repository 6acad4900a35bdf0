package plain

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"example.com/needlewright/model/class"
	"example.com/needlewright/model/quantity"
	"example.com/needlewright/ui/cells"
)

// listWidth is how many columns a list takes, and those of its columns: title, builder,
// overload, minutes, life, faults, cautions, readings.
const listWidth = 80

var listColumns = []int{23, 13, 8, 8, 11, 2, 2, 6}

// List prints two lines a build or more: what is of the whole clock, then each hand.
func List(w io.Writer, list class.List) {
	fmt.Fprintln(w, listLine("Title", "Builder", "Overload", "Min off", "Life", "F", "C", "Inside"))
	for _, row := range list {
		text := Shown(row.File)
		if row.Stage != "" {
			text += ", " + row.Stage
		}
		if row.Problem != "" { // with a stage it is a starter file still
			fmt.Fprintln(w, cells.Cut(text, listWidth))
			for _, line := range cells.Lines(Shown(row.Problem), listWidth-2) {
				fmt.Fprintln(w, "  "+line)
			}
			continue
		}
		inside := "–"
		if row.Readings > 0 {
			inside = fmt.Sprintf("%d/%d", row.Inside, row.Readings)
		}
		fmt.Fprintln(w, listLine(Shown(row.Title), Shown(row.Builder), quantity.Show(row.Overload, quantity.Times, 3),
			row.LikelyText(), quantity.ShowDuration(row.Life), strconv.Itoa(row.Faults), strconv.Itoa(row.Cautions), inside))
		fmt.Fprintln(w, cells.Cut("  "+text, listWidth))
		for i := range row.Hands {
			h := &row.Hands[i]
			fmt.Fprintln(w, cells.Cut(fmt.Sprintf("  %s: %s, %s; %s", h.Name, h.CoilText(), h.FullScaleText(), h.Parts), listWidth))
		}
	}
	fmt.Fprintln(w, "F, C: faults and cautions. Inside: readings within their bands, of all.")
}

// listLine is one line of columns, each cut to its width.
func listLine(texts ...string) string {
	line := ""
	for i, text := range texts {
		text = cells.Cut(text, listColumns[i])
		line += text + strings.Repeat(" ", listColumns[i]-cells.Width(text)+1)
	}
	return strings.TrimRight(line, " ")
}
