package main

import (
	"errors"
	"fmt"
	"os"

	"github.com/spf13/cobra"

	"example.com/needlewright/cmd/needlewright/plain"
	"example.com/needlewright/model/class"
	"example.com/needlewright/model/file"
	"example.com/needlewright/model/quantity"
)

// listCommand prints a row a build.
func listCommand() *cobra.Command {
	var as form
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
			list, err := listed(c, args, sets)
			if err != nil {
				return err
			}
			if n := list.Faulty(); n > 0 {
				say(c.ErrOrStderr(), "%d of %s with a fault", n, quantity.Counted(len(list), "build"))
			}
			switch as.as {
			case "json":
				return printJSON(c.OutOrStdout(), list)
			case "csv":
				return list.WriteCSV(c.OutOrStdout())
			}
			plain.List(c.OutOrStdout(), list)
			return nil
		},
	}
	as.addTo(c, "text", "csv", "json")
	addSets(c, &sets)
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
			text, err := readChanged(c, name, sets)
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
	files, err := file.BuildsIn(path)
	switch {
	case err != nil:
		return nil, &failure{err, "give the paths of builds"}
	case files == nil:
		return nil, &failure{fmt.Errorf("%s holds no build", path), "a build's name ends in .toml; give the path of another folder"}
	}
	return files, nil
}
