package main

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"example.com/needlewright/cmd/needlewright/plain"
	"example.com/needlewright/model/class"
)

// exerciseCommand makes up a clock with a planted fault, or a starter file.
func exerciseCommand() *cobra.Command {
	var e exercising
	e.seed, e.faults = wholeNumber{1, 0, 1<<64 - 1}, wholeNumber{1, 1, 2}
	c := &cobra.Command{
		Use:   "exercise FILE",
		Short: "Make up a clock with a planted fault to be diagnosed, or a starter file",
		Long: `Make up a clock of a build with a planted fault: the build with what a multimeter
and the eye read at its test points, as a file that is opened like any other, or, -o NAME.html,
as a sheet to hand out: one HTML file, to print or to read on a phone. The same
seed gives the same file. --answers prints the key instead, or besides -o.

--starter makes the file that a class begins with: the parts of the kit are given,
what each finds out of the own meter, cells and crystal is left open.

Without -o the file is printed. One that is there is not written over without --force.
FILE may be - for standard input. Exits with 0, or with 2 where a file cannot be read or written.`,
		Example: `  needlewright exercise reading-room.toml --seed 7 -o clock-7.toml
  needlewright exercise reading-room.toml --seed 7 -o clock-7.html --answers
  needlewright exercise reading-room.toml --starter -o kit.toml`,
		Args: fileOf("exercise"),
		RunE: func(c *cobra.Command, args []string) error { return e.run(c, args[0]) },
	}
	c.Flags().Var(&e.seed, "seed", "of the random numbers")
	c.Flags().Var(&e.faults, "faults", "how many, 1 or 2")
	e.as.addTo(c, "toml", "html", "json")
	c.Flag("as").Usage = "toml, html, a sheet to hand out, or json, of --answers; without it, what the ending of -o says"
	c.Flag("json").Usage = "with --answers: print the key as JSON; the same as --as json"
	e.out.addTo(c, "toml", "html")
	c.Flags().BoolVar(&e.answers, "answers", false, "print the key: what is wrong, and how it is confirmed and mended")
	c.Flags().BoolVar(&e.starter, "starter", false, "make a starter file, without a fault and without readings")
	addSets(c, &e.sets)
	return c
}

// An exercising is what the command exercise was asked for.
type exercising struct {
	seed, faults     wholeNumber
	as               form
	out              outfile
	answers, starter bool
	sets             []string
}

// run makes what was asked for.
func (e *exercising) run(c *cobra.Command, path string) error {
	if err := e.check(); err != nil {
		return err
	}
	d, err := openChanged(c, path, e.sets)
	if err != nil {
		return err
	}
	if e.starter {
		text, err := class.Starter(d)
		if err != nil {
			return &failure{err, "mend the file first"}
		}
		return e.out.write(c.OutOrStdout(), text)
	}
	made, err := class.NewExercise(d, e.seed.n, int(e.faults.n))
	if err != nil {
		return &failure{err, "another build, or another --seed, may have such faults"}
	}
	if e.out.path != "" || !e.answers {
		if err := e.hand(c, made); err != nil {
			return err
		}
	}
	switch {
	case !e.answers:
		return nil
	case e.as.as == "json":
		return printJSON(c.OutOrStdout(), made)
	}
	e.printKey(c.OutOrStdout(), made)
	return nil
}

// hand writes what is handed out: a build's file, or a sheet.
func (e *exercising) hand(c *cobra.Command, made *class.Exercise) error {
	text := made.Text
	if e.isSheet() {
		var err error
		if text, err = made.Sheet(); err != nil {
			return &failure{err, "please report this with the file"}
		}
	}
	return e.out.write(c.OutOrStdout(), text)
}

// isSheet says whether what is handed out is a sheet.
func (e *exercising) isSheet() bool {
	return e.as.as == "html" || e.out.ending() == ".html" && (!e.as.given || e.as.as == "json")
}

// check refuses what does not go together.
func (e *exercising) check() error {
	switch {
	case e.starter && e.answers:
		return &failure{errors.New("a starter file has no fault, and so no answers"), "leave out --starter or --answers"}
	case e.starter && e.isSheet():
		return &failure{errors.New("a starter file is a build's file, no sheet"), "write -o NAME.toml, or leave --starter out"}
	case e.as.as == "json" && !e.answers:
		return &failure{errors.New("--json is of the key"), "write --answers --json"}
	}
	return nil
}

// printKey says what is wrong with the clock.
func (e *exercising) printKey(w io.Writer, made *class.Exercise) {
	fmt.Fprintf(w, "Key, seed %d\n", e.seed.n)
	for _, f := range made.Faults {
		plain.Paragraph(w, "", f.Title)
		plain.Paragraph(w, "  ", "Shows at "+strings.Join(f.Shows, ", "))
		plain.Paragraph(w, "  ", "Confirm: "+f.Confirm)
		plain.Paragraph(w, "  ", "Mend: "+f.Mend)
	}
}
