package main

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"example.com/needlewright/model"
	"example.com/needlewright/model/caution"
	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/report"
)

// checkCommand prints what a build gives and what is wrong with it.
func checkCommand(status *int) *cobra.Command {
	var asJSON bool
	var sets []string
	c := &cobra.Command{
		Use:   "check FILE",
		Short: "Print a build's results and findings",
		Long: `Print a build's results and findings.

Exits with 0 where nothing is worse than a caution, 1 at a fault, 2 where the
file cannot be read.`,
		Example: `  needlewright check reading-room.toml
  needlewright check --json --set hand.hours.drive.fixed=7k5 reading-room.toml`,
		Args: fileOf("check"),
		RunE: func(c *cobra.Command, args []string) error {
			text, err := readChanged(args[0], sets)
			if err != nil {
				return err
			}
			report, problems := report.Check(text)
			if problems != nil {
				return refuse(c.ErrOrStderr(), args[0], len(sets) > 0, problems)
			}
			if report.Worst() == judge.Fault {
				*status = faulty
			}
			if asJSON {
				return printJSON(c.OutOrStdout(), report)
			}
			return printReport(c.OutOrStdout(), report)
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "print JSON, with values in SI units")
	c.Flags().StringArrayVar(&sets, "set", nil, "change a value first: PATH=VALUE, e.g. hand.hours.meter.coil=650")
	return c
}

// fileOf holds a command to its one file.
func fileOf(command string) cobra.PositionalArgs {
	return func(_ *cobra.Command, args []string) error {
		if len(args) == 1 {
			return nil
		}
		return &failure{fmt.Errorf("%s takes one file; %d are given", command, len(args)), "write  needlewright " + command + " FILE"}
	}
}

// readChanged reads a build's text and makes the changes of --set to it.
func readChanged(path string, sets []string) (string, error) {
	text, err := readFile(path)
	for _, s := range sets {
		if err != nil {
			break
		}
		text, err = setOne(text, s)
	}
	return text, err
}

// setOne puts one PATH=VALUE into a text.
func setOne(text, assignment string) (string, error) {
	path, value, ok := strings.Cut(assignment, "=")
	if !ok {
		return text, &failure{fmt.Errorf("--set %q has no =", assignment), "write --set PATH=VALUE, e.g. --set rail.voltage=5"}
	}
	text, problem := model.Set(text, strings.TrimSpace(path), strings.TrimSpace(value))
	if problem != nil {
		return text, &failure{fmt.Errorf("--set %s: %s", path, problem.Message()), "the file's own tables and keys make the path, with the hand's or lamp's name: hand.hours.meter.coil"}
	}
	return text, nil
}

func printJSON(w io.Writer, of interface{ JSON() ([]byte, error) }) error {
	out, err := of.JSON()
	if err != nil {
		return err
	}
	_, err = fmt.Fprintf(w, "%s\n", out)
	return err
}

// printReport lists results, then findings, the worst first.
func printReport(w io.Writer, r *report.Report) error {
	fmt.Fprintf(w, "%s\n\n", shown(r.Build.Title))
	table := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	for _, row := range r.Results {
		fmt.Fprintf(table, "%s\t%s\t%s\t%s\n", row.IDOf(r.Build, row.Index), row.Text(), row.BandText(), strings.TrimSpace(row.Label))
	}
	if err := table.Flush(); err != nil {
		return err
	}
	printFindings(w, r.Findings)
	printBench(w, r.Build)
	printBetter(w, r.Better)
	printBudgets(w, r)
	printCautions(w, caution.Of(r.Build))
	return nil
}

// printFindings lists findings, the worst first, each with what to do.
func printFindings(w io.Writer, findings []judge.Finding) {
	if len(findings) == 0 {
		fmt.Fprintln(w, "\nNothing to remark.")
		return
	}
	fmt.Fprintln(w, "\nFound, the worst first")
	for _, f := range report.Joined(findings) {
		fmt.Fprintf(w, "%s\n  %s\n", f, f.Advice)
	}
}

// printBetter lists the parts that would do better.
func printBetter(w io.Writer, better []judge.Suggestion) {
	if len(better) > 0 {
		fmt.Fprintln(w, "\nParts that would do better")
	}
	for _, s := range better {
		fmt.Fprintf(w, "%s\n  %s\n", about(s.About, s.Title()), s.Text)
	}
}

// printBudgets says how wrong each hand can read a month after its clock was set,
// and what is to blame.
func printBudgets(w io.Writer, r *report.Report) {
	if len(r.Build.Hands) > 0 {
		fmt.Fprintln(w, "\nHow wrong it can read, the largest first")
	}
	for i := range r.Build.Hands {
		budget := r.Budget(i, judge.AfterMonth)
		for _, line := range budget.Lines(r.Build) {
			fmt.Fprintln(w, line)
		}
	}
}

// printCautions lists the dangers of the work, the gravest first.
func printCautions(w io.Writer, cautions []caution.Caution) {
	if len(cautions) > 0 {
		fmt.Fprintln(w, "\nTake care, the gravest first")
	}
	for _, c := range cautions {
		source := ""
		if c.Source != "" {
			source = " (" + c.Source + ")"
		}
		fmt.Fprintf(w, "%s: %s%s\n", c.To, c.Text, source)
	}
}

// about puts the name of the hand or lamp a text is about before it.
func about(name, text string) string {
	if name == "" {
		return text
	}
	return name + ": " + text
}
