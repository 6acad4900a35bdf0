package main

import (
	"errors"
	"fmt"
	"io"
	"os/signal"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"example.com/needlewright/cmd/needlewright/plain"
	"example.com/needlewright/examples"
	"example.com/needlewright/model"
	"example.com/needlewright/model/fit"
	"example.com/needlewright/ui/cells"
)

// A fitting is what the command fit was asked for.
type fitting struct {
	path, clock, hand string
	as                form
	sets              []string
}

// fitCommand says whether meters can be used, and how.
func fitCommand(status *int) *cobra.Command {
	var f fitting
	c := &cobra.Command{
		Use:   "fit FILE | fit DRAWER.csv [--for BUILD [--hand NAME]]",
		Short: "Print whether a meter, or a drawer of them, can be used, and how",
		Long: `Print whether the meter of a build can be used, or each of a drawer: as the clock
stands, with which changes, what is to be measured first, or why not. A drawer is a
table, with any of these columns in any order, separated by commas, semicolons or
tabs, - for standard input:
` + strings.Join(cells.Lines(fit.ColumnNames(), 78), "\n") + `
The clock is that of --for, else a built-in example; of a build it is its own.

Exits with 0 where a meter fits, with changes or without, 1 where none does, 2 where
a file cannot be read.`,
		Example: `  needlewright fit examples/drawer.csv
  needlewright fit --json --for my-clock.toml --hand hours drawer.csv
  needlewright fit my-clock.toml`,
		Args: fileOf("fit"),
		RunE: func(c *cobra.Command, args []string) error {
			f.path = args[0]
			meters, err := f.meters(c)
			if err != nil {
				return err
			}
			if len(meters) == 0 || meters[0].Verdict != fit.Fits && meters[0].Verdict != fit.FitsWithChanges {
				*status = faulty
			}
			return f.print(c.OutOrStdout(), meters)
		},
	}
	c.Flags().StringVar(&f.clock, "for", "", "the build whose clock the meters are for")
	c.Flags().StringVar(&f.hand, "hand", "", "whose meter they replace; of a build, the one that is asked about")
	f.as.addTo(c, "text", "json", "csv")
	addSets(c, &f.sets)
	return c
}

// print prints the answers as they are wanted.
func (f *fitting) print(w io.Writer, meters []*fit.Meter) error {
	switch f.as.as {
	case "json":
		return printJSON(w, meterList(meters))
	case "csv":
		return fit.WriteCSV(w, meters)
	}
	_, err := fmt.Fprint(w, plain.Meters(meters))
	return err
}

// A meterList prints as JSON.
type meterList []*fit.Meter

// JSON returns the list as other programs read it.
func (l meterList) JSON() ([]byte, error) { return fit.JSON(l) }

// meters answers for what the command was given.
func (f *fitting) meters(c *cobra.Command) ([]*fit.Meter, error) {
	if f.path == "-" && f.clock == "-" {
		return nil, &failure{errors.New("standard input cannot be the drawer and its clock"), "write one of them to a file"}
	}
	text, err := readFrom(c.InOrStdin(), f.path)
	if err != nil {
		return nil, err
	}
	if f.isDrawer(text) {
		return f.ofDrawer(c, text)
	}
	if f.clock != "" {
		return nil, &failure{fmt.Errorf("--for is for a drawer; %s is a build, and its own clock", f.path), "leave --for out, or give a drawer, a table that ends in .csv"}
	}
	d, err := openText(c, f.path, text, f.sets)
	if err != nil {
		return nil, err
	}
	return f.ofBuild(d)
}

// isDrawer says whether a text is a drawer: by the name of its file, and of standard input
// by its first line.
func (f *fitting) isDrawer(text string) bool {
	switch strings.ToLower(filepath.Ext(f.path)) {
	case ".csv", ".tsv", ".txt":
		return true
	case ".toml":
		return false
	}
	return fit.IsDrawer(text)
}

// ofBuild answers for the meters that a build has.
func (f *fitting) ofBuild(d *model.Document) ([]*fit.Meter, error) {
	names := make([]string, 0, len(d.Build.Hands))
	for _, h := range d.Build.Hands {
		names = append(names, h.Name)
	}
	if f.hand != "" {
		name, err := handNamed(d.Build, f.hand)
		if err != nil {
			return nil, err
		}
		names = []string{name}
	}
	var meters []*fit.Meter
	for _, name := range names {
		frame, err := fit.NewFrame(d, name)
		if err != nil {
			return nil, err
		}
		meters = append(meters, frame.OfHand())
	}
	fit.Sort(meters)
	return meters, nil
}

// ofDrawer answers for those of a drawer; rows that cannot be read are said, and left out.
func (f *fitting) ofDrawer(c *cobra.Command, text string) ([]*fit.Meter, error) {
	drawer, err := fit.Read(text)
	if err != nil {
		return nil, &failure{fmt.Errorf("%s: %w", f.path, err), "the first line names the columns, and each further line is a meter: examples/drawer.csv shows it"}
	}
	for _, p := range drawer.Problems {
		say(c.ErrOrStderr(), "%s: %s", f.path, p)
	}
	if len(drawer.Rows) == 0 {
		return nil, &failure{fmt.Errorf("%s has no meter that can be read", f.path), "mend its lines; examples/drawer.csv shows how they may be"}
	}
	frame, err := f.frame(c)
	if err != nil {
		return nil, err
	}
	ctx, stop := signal.NotifyContext(c.Context(), endings()...)
	defer stop()
	meters, err := frame.All(ctx, drawer.Rows, nil)
	switch {
	case err != nil && ctx.Err() != nil:
		return nil, &failure{fmt.Errorf("the drawer was not gone through: %w", err), "nothing was printed; the same command begins anew"}
	case err != nil:
		return nil, &failure{err, "please report this with the file"}
	}
	return meters, nil
}

// frame is the clock that a drawer is for.
func (f *fitting) frame(c *cobra.Command) (*fit.Frame, error) {
	path, text, err := f.clock, "", error(nil)
	if path == "" {
		path = examples.First
		var example []byte
		example, err = examples.Files.ReadFile(path)
		text = string(example)
	} else {
		text, err = readFrom(c.InOrStdin(), path)
	}
	if err != nil {
		return nil, err
	}
	d, err := openText(c, path, text, f.sets)
	if err != nil {
		return nil, err
	}
	name, err := handNamed(d.Build, f.hand)
	if err != nil {
		return nil, err
	}
	return fit.NewFrame(d, name)
}
