package plain

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"example.com/needlewright/model/quantity"
	"example.com/needlewright/model/spread"
)

// Yield tells it in words, tables and bars of plain characters.
func Yield(w io.Writer, y *spread.Yield) {
	fmt.Fprintf(w, "%s\n\n%s of parts within their tolerances, seed %d\n", Shown(y.Build.Title), quantity.Counted(y.Kits, "kit"), y.Seed)
	if y.Inputs == 0 {
		fmt.Fprintln(w, "No value has a tolerance: every kit is alike.")
	}
	if len(y.Hands) > 1 {
		fmt.Fprintf(w, "All hands trim up in %s\n", ofKits(y.TrimUp, y.Kits))
	}
	for i := range y.Hands {
		printTrimming(w, y, i)
	}
	for _, r := range y.Results() {
		printHistogram(w, r)
	}
	printTighter(w, y)
}

// printTrimming tells how many kits of a hand trim up, and what the others need.
func printTrimming(w io.Writer, y *spread.Yield, i int) {
	h, drive := &y.Hands[i], &y.Build.Hands[i].Drive
	fmt.Fprintf(w, "\n%s: trims up in %s\n", h.Name, ofKits(h.TrimUp, y.Kits))
	if drive.Trimmer.Number == 0 {
		fmt.Fprintln(w, "  it has no trimmer")
	}
	if drive.Setting.Given() {
		fmt.Fprintf(w, "  its trimmer stays at %s, as given\n", quantity.Format(drive.Setting, quantity.Ohms))
	}
	if h.More.Kits > 0 {
		fmt.Fprintf(w, "  needs more than 98 %% of the trimmer in %s\n", ofKits(h.More.Kits, y.Kits))
		Paragraph(w, "    ", "another trimmer: "+h.More.Text(h.More.Trimmers, strconv.Itoa))
		Paragraph(w, "    ", "another fixed resistor: "+h.More.Text(h.More.Fixed, strconv.Itoa))
	}
	if h.Less.Kits > 0 {
		fmt.Fprintf(w, "  needs less than 2 %% of the trimmer in %s\n", ofKits(h.Less.Kits, y.Kits))
		Paragraph(w, "    ", "another fixed resistor: "+h.Less.Text(h.Less.Fixed, strconv.Itoa))
	}
}

// ofKits is a number of kits beside all, and its share.
func ofKits(n, kits int) string {
	return fmt.Sprintf("%d of %d (%s)", n, kits, spread.ShareOf(n, kits))
}

// widestBar is the bar of the fullest bin.
const widestBar = 40

// printHistogram prints the percentiles of a result, then its bins as bars.
func printHistogram(w io.Writer, r spread.YieldResult) {
	fmt.Fprintln(w)
	Paragraph(w, "", r.Label+", "+r.In())
	heads, values := "  "+column("least"), "  "+column(r.Text(r.Least))
	for i, share := range spread.Percentiles {
		heads += column(strconv.FormatFloat(100*share, 'g', -1, 64) + " %")
		values += column(r.Text(r.At[i]))
	}
	fmt.Fprintf(w, "%s%s\n%s%s\n", heads, column("most"), values, column(r.Text(r.Most)))
	most, from, to := 0, 0, 0
	for _, b := range r.Bins {
		low, high := r.Ends(b)
		most, from, to = max(most, b.Kits), max(from, len(low)), max(to, len(high))
	}
	for _, b := range r.Bins {
		low, high := r.Ends(b)
		fmt.Fprintln(w, strings.TrimRight(fmt.Sprintf("  %*s to %*s %8d  %s", from, low, to, high, b.Kits, bar(b.Kits, most)), " "))
	}
}

func column(text string) string { return fmt.Sprintf("%8s", text) }

// bar is as long as a bin is full; a point where it would be nothing.
func bar(kits, most int) string {
	if n := (kits*widestBar + most/2) / most; n > 0 {
		return strings.Repeat("#", n)
	}
	if kits > 0 {
		return "."
	}
	return ""
}

// printTighter lists the parts that are worth buying tighter, and what is worth knowing
// better.
func printTighter(w io.Writer, y *spread.Yield) {
	for _, way := range spread.Tightenings {
		switch {
		case way.In(y):
			fmt.Fprintln(w, "\n"+way.Head)
		case way.None() != "":
			fmt.Fprintln(w, "\n"+way.Head)
			Paragraph(w, "", way.None())
		}
		for i := range y.Hands {
			h := &y.Hands[i]
			for _, t := range way.Of(h) {
				now, half := t.Texts(y.Build)
				Paragraph(w, "", fmt.Sprintf("%s: %s %s -> %s", h.Name, t.Path(y.Build), now, half))
				Paragraph(w, "  ", fmt.Sprintf("trims up %s -> %s", ofKits(h.Before.TrimUp, h.Before.Kits), ofKits(t.TrimUp, t.Kits)))
				Paragraph(w, "  ", fmt.Sprintf("95 %% are wrong by at most %s -> %s without %s", minutes(h.Before.Error95), minutes(t.Error95), spread.LeftOut))
			}
		}
	}
}

// minutes is a dial's time.
func minutes(x float64) string { return quantity.Show(x, quantity.Minutes, 3) }
