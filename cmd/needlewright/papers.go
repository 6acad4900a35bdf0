package main

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"example.com/needlewright/model/file"
	"example.com/needlewright/model/paper"
)

// papersCommand writes all papers of a clock into a folder.
func papersCommand() *cobra.Command {
	var folder, on string
	var force bool
	var sets []string
	c := &cobra.Command{
		Use:   "papers FILE -o FOLDER",
		Short: "Write all papers of a clock into a folder: dials, codes, parts, the build sheet",
		Long: `Write all papers of a clock into a folder: dials.pdf with the dials of all hands at true
size, and dial-NAME.svg of each; codes.h for the firmware; parts.csv; and sheet.html, the
build sheet. All or nothing: where one cannot be made, none is written.

The folder is made where there is none. Files of these names are not written over
without --force, and what else is in it stays.

FILE may be - for standard input. Exits with 0, or with 2 where a file cannot be read
or written, or a dial does not fit on the paper.`,
		Example: `  needlewright papers reading-room.toml -o papers
  needlewright papers station-platform.toml --paper letter -o papers`,
		Args: fileOf("papers"),
		RunE: func(c *cobra.Command, args []string) error {
			sheet, err := paperOf(on)
			switch {
			case err != nil:
				return err
			case folder == "" || folder == "-":
				return &failure{errors.New("papers are several files: they need a folder"), "write -o FOLDER"}
			}
			d, err := openChanged(c, args[0], sets)
			if err != nil {
				return err
			}
			all, err := paper.All(d, sheet)
			if err != nil {
				return tooLarge(err)
			}
			sayFaults(c, args[0], d.Build)
			return saveAll(folder, all, force)
		},
	}
	c.Flags().StringVarP(&folder, "output", "o", "", "the folder to write into")
	addPaper(c, &on, "of the dials: ")
	c.Flags().BoolVar(&force, "force", false, "write over files that are there")
	_ = c.MarkFlagDirname("output")
	addSets(c, &sets)
	return c
}

// saveAll writes the files into a folder, all or none.
func saveAll(folder string, all []file.Named, force bool) error {
	err := file.SaveFolder(folder, all, force)
	switch {
	case errors.Is(err, file.ErrThere):
		return &failure{fmt.Errorf("%w: nothing was written", err), "choose another folder, or write --force to put these in their place"}
	case err != nil:
		return &failure{err, "choose another place with -o"}
	}
	return nil
}
