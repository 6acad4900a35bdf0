package plain

import (
	"fmt"
	"io"
	"math"
	"strings"
	"text/tabwriter"

	"example.com/needlewright/model/caution"
	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/quantity"
	"example.com/needlewright/model/report"
	"example.com/needlewright/model/spread"
	"example.com/needlewright/ui/cells"
)

// A Report is a report as people read it: the verdict first, then what is found, how
// wrong the clock reads, how long the cells last, what is offered, and the results.
type Report struct {
	*report.Report
	All      bool // every result, and all that makes it read wrong
	Cautions bool // the dangers of the work
}

// Print writes it.
func (t *Report) Print(w io.Writer) error {
	verdict := t.Verdict()
	if title := Shown(t.Build.Title); title != "" {
		verdict = cells.Cut(title, longestTitle) + ": " + verdict
	}
	fmt.Fprintln(w, cells.Cut(verdict, textWidth))
	t.printFindings(w)
	printBench(w, t.Build)
	fmt.Fprintln(w)
	t.printMinutes(w)
	for _, s := range t.Scales() {
		Paragraph(w, "", s.String())
	}
	t.printLife(w)
	Paragraph(w, "", "walk: "+t.Walk().Text())
	t.printBetter(w)
	if err := t.printResults(w); err != nil {
		return err
	}
	t.printCautions(w)
	t.printMore(w)
	return nil
}

// longestTitle is how many columns the verdict leaves to the build's title.
const longestTitle = 50

// printFindings lists findings, the worst first, each with what to do; what is said of several
// hands is one.
func (t *Report) printFindings(w io.Writer) {
	if len(t.Findings) > 0 {
		fmt.Fprintln(w)
	}
	for _, f := range report.Joined(t.Findings) {
		Paragraph(w, "", f.String())
		Paragraph(w, "  ", f.Advice)
	}
}

// printMinutes says how wrong each hand can read a month after its clock was set; of all,
// what is to blame too.
func (t *Report) printMinutes(w io.Writer) {
	for i := range t.Build.Hands {
		b := t.Budget(i, judge.AfterMonth)
		text := fmt.Sprintf("%s: wrong by %s at worst, %s likely, %s", t.Build.Hands[i].Name,
			quantity.DialTimeIn(b.Worst, resultDigits), quantity.DialTimeIn(b.RSS, resultDigits), judge.AfterMonth.Since())
		if len(b.Rows) > 0 {
			text += ", most at " + b.LikelyAt
		}
		Paragraph(w, "", text)
		if t.All {
			for _, line := range b.Lines(t.Build)[1:] {
				Paragraph(w, "  ", strings.TrimSpace(line))
			}
		}
	}
}

// printLife says how long a set of cells lasts.
func (t *Report) printLife(w io.Writer) {
	b := &t.Plan.Battery
	var lives []string
	for _, life := range [...]struct {
		hours float64
		when  string
	}{{b.LifeMixed, "as used"}, {b.LifeOn, "always awake"}, {b.LifeStandby, "always asleep"}} {
		if !math.IsNaN(life.hours) && !math.IsInf(life.hours, 0) {
			lives = append(lives, quantity.ShowDuration(life.hours)+" "+life.when)
		}
	}
	if lives != nil {
		Paragraph(w, "", "cells: "+strings.Join(lives, ", "))
	}
}

// printBetter lists the parts that would do better.
func (t *Report) printBetter(w io.Writer) {
	if len(t.Better) > 0 {
		fmt.Fprintln(w, "Parts that would do better")
	}
	for _, s := range t.Better {
		Paragraph(w, "", about(s.About, s.Text))
	}
}

// resultDigits are those of results in text; the JSON has all.
const resultDigits = 3

// printResults lists the results that answer a question by themselves, or all; each with
// its band and, last, the name that programs know it by.
func (t *Report) printResults(w io.Writer) error {
	fmt.Fprintln(w, "\nResults, each with what 95 % of kits have")
	var text strings.Builder
	table := tabwriter.NewWriter(&text, 0, 0, 2, ' ', 0)
	for _, row := range t.Results {
		if t.All || row.Answer {
			fmt.Fprintf(table, "%s\t%s\t%s\t%s\n", t.label(row), row.TextIn(resultDigits), row.BandTextIn(resultDigits), row.IDOf(t.Build, row.Index))
		}
	}
	if err := table.Flush(); err != nil {
		return err
	}
	for line := range strings.Lines(text.String()) {
		fmt.Fprint(w, lastBelow(line))
	}
	return nil
}

// lastBelow is a line of a table, its last word in a line of its own where it has no room.
func lastBelow(line string) string {
	at := strings.LastIndexByte(line, ' ')
	if cells.Width(line) <= textWidth || at < 0 {
		return line
	}
	return strings.TrimRight(line[:at], " ") + "\n      " + line[at+1:]
}

// label is what a result is called, with its hand where there are several; a lamp's or
// button's name stands in its id.
func (t *Report) label(row spread.Row) string {
	label := strings.TrimSpace(row.Label)
	if row.OfHand() && len(t.Build.Hands) > 1 {
		return t.Build.Hands[row.Index].Name + ": " + label
	}
	return label
}

// printCautions lists the dangers of the work, the gravest first, or says how many there
// are: that is never left out.
func (t *Report) printCautions(w io.Writer) {
	all := caution.Of(t.Build)
	switch {
	case len(all) == 0:
	case !t.Cautions:
		fmt.Fprintf(w, "\nTake care: the work has %s; --cautions lists them, the gravest first.\n", quantity.Counted(len(all), "danger"))
	default:
		fmt.Fprintln(w, "\nTake care, the gravest first")
		for _, c := range all {
			source := ""
			if c.Source != "" {
				source = " (" + c.Source + ")"
			}
			Paragraph(w, "", c.To+": "+c.Text+source)
		}
	}
}

// printMore says what was left out, and how it is to be had.
func (t *Report) printMore(w io.Writer) {
	if !t.All {
		fmt.Fprintf(w, "--all prints all %s, and who is to blame for the minutes.\n", quantity.Counted(len(t.Results), "result"))
	}
}

// about puts the name of the hand or lamp a text is about before it.
func about(name, text string) string {
	if name == "" {
		return text
	}
	return name + ": " + text
}
