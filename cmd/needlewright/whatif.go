package main

import (
	"errors"
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/whatif"
	"example.com/needlewright/ui/cells"
)

// reachCommand prints which value of an input makes a result so much.
func reachCommand(status *int) *cobra.Command {
	var asJSON bool
	var path string
	var sets []string
	c := &cobra.Command{
		Use:   "reach FILE RESULT VALUE --change PATH",
		Short: "Print which value of an input makes a result so much",
		Long: `Print every value of an input that makes a result so much, and the values next to
it that are to be had: of parts those of their series, of counts whole numbers.
Nothing is changed. A RESULT is named as  check --all  names it, last in its line.

Exits with 0 where it can be reached, 1 where it cannot (then with the nearest that
it comes), 2 where the file cannot be read. Before a value below 0 write --`,
		Example: `  needlewright reach reading-room.toml hours.trimmer_travel '50 %' --change hand.hours.drive.fixed
  needlewright reach reading-room.toml battery.life_mixed '120 d' --change load.hours_on
  needlewright reach reading-room.toml --change crystal.capacitor_in crystal.rate -- '-0.5 s/day'`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) == 3 {
				return nil
			}
			return &failure{fmt.Errorf("reach takes a file, a result and its value; %d of these are given", len(args)), "write  needlewright reach FILE RESULT VALUE --change PATH"}
		},
		RunE: func(c *cobra.Command, args []string) error {
			if path == "" {
				return &failure{errors.New("reach changes one input, and none is named"), "write --change PATH, e.g. --change hand.hours.drive.fixed"}
			}
			d, err := openChanged(c, args[0], sets)
			if err != nil {
				return err
			}
			q, err := whatif.Ask(d, args[1], args[2], path)
			if err != nil {
				if u := (*whatif.Unasked)(nil); errors.As(err, &u) {
					return &failure{u.Why, u.Hint}
				}
				return err
			}
			a := whatif.Reach(q)
			if len(a.Solutions) == 0 {
				*status = faulty
			}
			if asJSON {
				return printJSON(c.OutOrStdout(), a)
			}
			return printAnswer(c.OutOrStdout(), a)
		},
	}
	c.SetFlagErrorFunc(func(_ *cobra.Command, err error) error {
		return &failure{err, "a value below 0 stands behind --:  needlewright reach --change PATH FILE RESULT -- -5"}
	})
	c.Flags().StringVar(&path, "change", "", "the input that may change: PATH, e.g. hand.hours.drive.fixed")
	c.Flags().BoolVar(&asJSON, "json", false, "print JSON, with values in SI units")
	c.Flags().StringArrayVar(&sets, "set", nil, "change another value first: PATH=VALUE, e.g. hand.hours.meter.coil=650")
	return c
}

// openChanged opens a build without problems, - being standard input, with the changes of
// --set.
func openChanged(c *cobra.Command, path string, sets []string) (*model.Document, error) {
	text, err := readFrom(c.InOrStdin(), path)
	for _, s := range sets {
		if err != nil {
			break
		}
		text, err = setOne(text, s)
	}
	if err != nil {
		return nil, err
	}
	d := model.Open(text)
	if len(d.Problems) > 0 {
		return nil, refuse(c.ErrOrStderr(), path, len(sets) > 0, d.Problems)
	}
	return d, nil
}

// printAnswer says it in words and a table of the values that are to be had.
func printAnswer(w io.Writer, a *whatif.Answer) error {
	result := func(y float64) string { return circuit.Outcome{Result: a.Result, Value: y}.Text() }
	paragraph(w, "", a.Asked())
	if a.Same {
		paragraph(w, "", a.Path()+" does not move "+a.ResultID()+".")
	}
	for i := range a.Solutions {
		s := &a.Solutions[i]
		fmt.Fprintf(w, "\n%s\n", a.Text(s))
		table := tabwriter.NewWriter(w, 0, 0, 3, ' ', 0)
		for _, choice := range s.Choices {
			fmt.Fprintf(table, "  %s\tgives %s\t%s\n", a.ValueText(choice.Value), result(choice.Result), s.Where(choice))
		}
		if err := table.Flush(); err != nil {
			return err
		}
	}
	if len(a.Solutions) > 0 {
		return nil
	}
	switch {
	case a.Nearest == nil:
		paragraph(w, "", "There is no such result at any value.")
	default:
		paragraph(w, "", "No value does it. The nearest: "+a.ValueText(a.Nearest.Value)+" gives "+result(a.Nearest.Result)+".")
	}
	for _, p := range a.Passes {
		paragraph(w, "", fmt.Sprintf("It goes past it between %s, which gives %s, and %s, which gives %s.",
			a.ValueText(p[0].Value), result(p[0].Result), a.ValueText(p[1].Value), result(p[1].Result)))
	}
	return nil
}

// compareCommand prints what differs between two builds.
func compareCommand(status *int) *cobra.Command {
	var asJSON bool
	var sets []string
	c := &cobra.Command{
		Use:   "compare A B",
		Short: "Print what differs between two builds",
		Long: `Print what differs between two builds: inputs, results as they are shown, findings
that come and go from the first to the second. Hands and lamps are matched by their
names. With one file alone, --set says what the second has otherwise.

Exits with 0 where the builds are alike, 1 where they differ, 2 where a file cannot
be read.`,
		Example: `  needlewright compare mine.toml hers.toml
  needlewright compare --set hand.hours.drive.fixed=7k5 reading-room.toml`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) == 2 && (args[0] != "-" || args[1] != "-") || len(args) == 1 && len(sets) > 0 {
				return nil
			}
			return &failure{fmt.Errorf("compare takes two files, or one and --set; %d are given", len(args)), "write  needlewright compare A B"}
		},
		RunE: func(c *cobra.Command, args []string) error {
			a, err := openChanged(c, args[0], nil)
			if err != nil {
				return err
			}
			b, err := secondOf(c, a, args, sets)
			if err != nil {
				return err
			}
			found := whatif.Compare(a, b)
			if found.Differ() {
				*status = faulty
			}
			if asJSON {
				return printJSON(c.OutOrStdout(), found)
			}
			return printComparison(c.OutOrStdout(), found)
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "print JSON, with results in SI units")
	c.Flags().StringArrayVar(&sets, "set", nil, "change a value of the second build first: PATH=VALUE")
	return c
}

// secondOf is the second build: of the second file, or the first again, changed.
func secondOf(c *cobra.Command, first *model.Document, args, sets []string) (*model.Document, error) {
	if len(args) == 2 {
		return openChanged(c, args[1], sets)
	}
	text := first.Whole()
	for _, s := range sets {
		var err error
		if text, err = setOne(text, s); err != nil {
			return nil, err
		}
	}
	d := model.Open(text)
	if len(d.Problems) > 0 {
		return nil, refuse(c.ErrOrStderr(), args[0], true, d.Problems)
	}
	return d, nil
}

// longestValue is how many columns a value of a comparison takes: a table of points is cut.
const longestValue = 32

// printComparison lists what differs.
func printComparison(w io.Writer, c *whatif.Comparison) error {
	if !c.Differ() {
		fmt.Fprintln(w, "The builds are alike.")
		return nil
	}
	table := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	value := func(text string) string { return cells.Cut(shown(model.OrNone(text)), longestValue) }
	if len(c.Inputs) > 0 {
		fmt.Fprintln(table, "Inputs")
	}
	for _, d := range c.Inputs {
		fmt.Fprintf(table, "  %s\t%s\t→ %s\n", shown(d.Path), value(d.A), value(d.B))
	}
	if len(c.Results) > 0 {
		fmt.Fprintln(table, "Results")
	}
	for i := range c.Results {
		d := &c.Results[i]
		a, b := d.Texts()
		fmt.Fprintf(table, "  %s\t%s\t→ %s\n", d.ID, a, b)
	}
	if err := table.Flush(); err != nil {
		return err
	}
	printFound(w, "Findings that come", c.Come)
	printFound(w, "Findings that go", c.Gone)
	return nil
}

// printFound lists findings under a heading.
func printFound(w io.Writer, head string, findings []judge.Finding) {
	if len(findings) > 0 {
		fmt.Fprintln(w, head)
	}
	for _, f := range findings {
		paragraph(w, "  ", strings.TrimSpace(f.String()))
	}
}
