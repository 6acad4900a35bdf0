package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"example.com/needlewright/model/class"
	"example.com/needlewright/model/file"
	"example.com/needlewright/model/quantity"
	"example.com/needlewright/ui/cells"
)

// listCommand prints a row a build.
func listCommand() *cobra.Command {
	var as string
	var asJSON bool
	var sets []string
	c := &cobra.Command{
		Use:   "list FILE... | FOLDER",
		Short: "Print the builds of a class or a shelf, one beside the other",
		Long: `Print a row a build: title and builder, the worst overload, how wrong it is likely
to read a month after it was set, how long its cells last as used, faults, cautions,
and how many of its readings lie inside of their bands, of all; below it its meters
and parts. A file that cannot be read is a row that says why.

Exits with 0, or with 2 where there is nothing to list.`,
		Example: `  needlewright list clocks
  needlewright list --as csv clocks > clocks.csv
  needlewright list ours.toml theirs.toml`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) > 0 {
				return nil
			}
			return &failure{errors.New("list takes files or a folder; none is given"), "write  needlewright list FOLDER"}
		},
		RunE: func(c *cobra.Command, args []string) error {
			if asJSON {
				as = "json"
			}
			if !slices.Contains([]string{"text", "csv", "json"}, as) {
				return &failure{fmt.Errorf("--as %q: allowed are text, csv and json", as), "write one of these, or leave it out for text"}
			}
			list, err := listed(c, args, sets)
			if err != nil {
				return err
			}
			if n := list.Faulty(); n > 0 {
				say(c.ErrOrStderr(), "%d of %s with a fault", n, quantity.Counted(len(list), "build"))
			}
			switch as {
			case "json":
				return printJSON(c.OutOrStdout(), list)
			case "csv":
				return list.WriteCSV(c.OutOrStdout())
			}
			printList(c.OutOrStdout(), list)
			return nil
		},
	}
	c.Flags().StringVar(&as, "as", "text", "text, csv or json")
	c.Flags().BoolVar(&asJSON, "json", false, "print JSON, with values in SI units; the same as --as json")
	c.Flags().StringArrayVar(&sets, "set", nil, "change a value of each first: PATH=VALUE")
	return c
}

// listed reads the builds of files and folders.
func listed(c *cobra.Command, args, sets []string) (class.List, error) {
	var list class.List
	for _, path := range args {
		files, err := filesAt(path)
		if err != nil {
			return nil, err
		}
		for _, name := range files {
			text, err := readFrom(c.InOrStdin(), name)
			for _, s := range sets {
				if err == nil {
					text, err = setOne(text, s)
				}
			}
			if err != nil {
				list = append(list, class.Unreadable(name, err.Error()))
				continue
			}
			list = append(list, class.RowOf(name, text))
		}
	}
	return list, nil
}

// filesAt are the builds of a folder, or the file itself.
func filesAt(path string) ([]string, error) {
	if info, err := os.Stat(path); err != nil || !info.IsDir() {
		return []string{path}, nil
	}
	entries, whole, err := file.ListBuilds(path)
	if err != nil {
		return nil, &failure{err, "give the paths of builds"}
	}
	var files []string
	for _, e := range entries {
		if !e.Folder {
			files = append(files, filepath.Join(path, e.Name))
		}
	}
	switch {
	case !whole:
		return nil, &failure{fmt.Errorf("%s holds more than can be listed, or is too slow", path), "give the paths of some builds"}
	case files == nil:
		return nil, &failure{fmt.Errorf("%s holds no build", path), "a build's name ends in .toml; give the path of another folder"}
	}
	return files, nil
}

// listWidth is how many columns a list takes, and those of its columns: title, builder,
// overload, minutes, life, faults, cautions, readings.
const listWidth = 80

var listColumns = []int{23, 13, 8, 8, 11, 2, 2, 6}

// printList prints two lines a build or more: what is of the whole clock, then each hand.
func printList(w io.Writer, list class.List) {
	fmt.Fprintln(w, listLine("Title", "Builder", "Overload", "Min off", "Life", "F", "C", "Inside"))
	for _, row := range list {
		if row.Problem != "" {
			text := shown(row.File)
			if row.Stage != "" { // a starter file still
				text += ", " + row.Stage
			}
			fmt.Fprintln(w, cells.Cut(text, listWidth))
			for _, line := range cells.Lines(shown(row.Problem), listWidth-2) {
				fmt.Fprintln(w, "  "+line)
			}
			continue
		}
		inside := "–"
		if row.Readings > 0 {
			inside = fmt.Sprintf("%d/%d", row.Inside, row.Readings)
		}
		fmt.Fprintln(w, listLine(shown(row.Title), shown(row.Builder), quantity.Show(row.Overload, quantity.Times, 3),
			row.LikelyText(), quantity.ShowDuration(row.Life), strconv.Itoa(row.Faults), strconv.Itoa(row.Cautions), inside))
		text := shown(row.File)
		if row.Stage != "" {
			text += ", " + row.Stage
		}
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

// exerciseCommand makes up a clock with a planted fault, or a starter file.
func exerciseCommand() *cobra.Command {
	var e exercising
	e.seed, e.faults = wholeNumber{1, 0, 1<<64 - 1}, wholeNumber{1, 1, 2}
	c := &cobra.Command{
		Use:   "exercise FILE",
		Short: "Make up a clock with a planted fault to be diagnosed, or a starter file",
		Long: `Make up a clock of a build with a planted fault: the build with what a multimeter
and the eye read at its test points, as a file that is opened like any other. The
same seed gives the same file. --answers prints the key instead, or besides -o.

--starter makes the file that a class begins with: the parts of the kit are given,
what each finds out of the own meter, cells and crystal is left open.

Without -o the file is printed. One that is there is not written over without --force.
Exits with 0, or with 2 where a file cannot be read or written.`,
		Example: `  needlewright exercise reading-room.toml --seed 7 -o clock-7.toml
  needlewright exercise reading-room.toml --seed 7 --answers
  needlewright exercise reading-room.toml --starter -o kit.toml`,
		Args: fileOf("exercise"),
		RunE: func(c *cobra.Command, args []string) error { return e.run(c, args[0]) },
	}
	c.Flags().Var(&e.seed, "seed", "of the random numbers")
	c.Flags().Var(&e.faults, "faults", "how many, 1 or 2")
	c.Flags().StringVarP(&e.out, "output", "o", "", "the file to write, .toml; - is standard output")
	c.Flags().BoolVar(&e.answers, "answers", false, "print the key: what is wrong, and how it is confirmed and mended")
	c.Flags().BoolVar(&e.starter, "starter", false, "make a starter file, without a fault and without readings")
	c.Flags().BoolVar(&e.force, "force", false, "write over a file that is there")
	c.Flags().BoolVar(&e.asJSON, "json", false, "print the key as JSON")
	c.Flags().StringArrayVar(&e.sets, "set", nil, "change a value first: PATH=VALUE")
	return c
}

// An exercising is what the command exercise was asked for.
type exercising struct {
	seed, faults                    wholeNumber
	out                             string
	answers, starter, force, asJSON bool
	sets                            []string
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
		return e.write(c.OutOrStdout(), text)
	}
	made, err := class.NewExercise(d, e.seed.n, int(e.faults.n))
	if err != nil {
		return &failure{err, "another build, or another --seed, may have such faults"}
	}
	if e.out != "" || !e.answers {
		if err := e.write(c.OutOrStdout(), made.Text); err != nil {
			return err
		}
	}
	switch {
	case !e.answers:
		return nil
	case e.asJSON:
		return printJSON(c.OutOrStdout(), made)
	}
	e.printKey(c.OutOrStdout(), made)
	return nil
}

// check refuses what does not go together.
func (e *exercising) check() error {
	switch ext := strings.ToLower(filepath.Ext(e.out)); {
	case ext == ".html":
		return &failure{errors.New("a sheet to hand out as HTML cannot be made yet"), "write a file that ends in .toml"}
	case e.out != "" && e.out != "-" && ext != ".toml":
		return &failure{fmt.Errorf("-o %s: a build's file ends in .toml", e.out), "write -o NAME.toml"}
	case e.starter && e.answers:
		return &failure{errors.New("a starter file has no fault, and so no answers"), "leave out --starter or --answers"}
	case e.asJSON && !e.answers:
		return &failure{errors.New("--json is of the key"), "write --answers --json"}
	}
	return nil
}

// write writes a text to the file that was asked for, or prints it.
func (e *exercising) write(w io.Writer, text string) error {
	if e.out == "" || e.out == "-" {
		_, err := io.WriteString(w, strings.ReplaceAll(text, "\r\n", "\n"))
		return err
	}
	if _, err := os.Lstat(e.out); err == nil && !e.force {
		return &failure{fmt.Errorf("%s is there already: nothing was written", e.out), "choose another name, or write --force to put this in its place"}
	}
	save := func() (file.Saved, error) { return file.SaveOver(e.out, text, file.Stamp{}, "") }
	if e.force {
		save = func() (file.Saved, error) { return file.Save(e.out, text, "") }
	}
	if _, err := save(); err != nil {
		return &failure{err, "choose another place with -o"}
	}
	return nil
}

// printKey says what is wrong with the clock.
func (e *exercising) printKey(w io.Writer, made *class.Exercise) {
	fmt.Fprintf(w, "Key, seed %d\n", e.seed.n)
	for _, f := range made.Faults {
		paragraph(w, "", f.Title)
		paragraph(w, "  ", "Shows at "+strings.Join(f.Shows, ", "))
		paragraph(w, "  ", "Confirm: "+f.Confirm)
		paragraph(w, "  ", "Mend: "+f.Mend)
	}
}
