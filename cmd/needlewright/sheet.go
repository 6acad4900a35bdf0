package main

import (
	"errors"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"example.com/needlewright/model/sheet"
)

// sheetCommand writes the build sheet.
func sheetCommand() *cobra.Command {
	var s sheeting
	c := &cobra.Command{
		Use:   "sheet FILE",
		Short: "Write the build sheet: all that is needed to build, mend and understand the clock",
		Long: `Write the build sheet of a clock: what is built, with what is found; cautions; circuit,
connections, parts and settings; the steps; test points with what to expect and boxes to
tick; dials at true size; codes; every result and its working; the error budget, plots of
error, needle and cells; what is assumed. HTML is one file, for A4, Letter or a phone;
Markdown has the same, drawings as text.

--learner leaves the results blank, with room to write, and asks for a teacher's yes
before first power; cautions and limits are never blank. --answers writes its key.

Without -o it is printed. A file that is there is not written over without --force.
FILE may be - for standard input. Exits with 0, or with 2 where a file cannot be read
or written.`,
		Example: `  needlewright sheet reading-room.toml -o sheet.html
  needlewright sheet reading-room.toml --as md
  needlewright sheet reading-room.toml --learner --answers key.html -o learner.html`,
		Args: fileOf("sheet"),
		RunE: func(c *cobra.Command, args []string) error { return s.run(c, args[0]) },
	}
	s.as.addTo(c, "html", "md")
	c.Flag("as").Usage = "html or md, Markdown; without it, what the ending of -o says"
	s.out.addTo(c, "html", "md")
	c.Flags().BoolVar(&s.learner, "learner", false, "leave the results blank, with room to write")
	c.Flags().StringVar(&s.key.path, "answers", "", "the file, .html or .md, for the key to a learner's sheet")
	_ = c.MarkFlagFilename("answers", "html", "md")
	addSets(c, &s.sets)
	return c
}

// A sheeting is what the command sheet was asked for.
type sheeting struct {
	as       form
	out, key outfile
	learner  bool
	sets     []string
}

// run writes the sheet, and the key to it where it is asked for.
func (s *sheeting) run(c *cobra.Command, path string) error {
	if err := s.check(); err != nil {
		return err
	}
	d, err := openChanged(c, path, s.sets)
	if err != nil {
		return err
	}
	var made, key *sheet.Sheet
	if s.learner {
		made, key, err = sheet.ForLearner(d)
	} else {
		made, err = sheet.New(d)
	}
	if err != nil {
		return &failure{err, "please report this with the file"}
	}
	sayFaults(c, path, d.Build)
	return s.write(c, made, key)
}

// check refuses what does not go together.
func (s *sheeting) check() error {
	s.key.force = s.out.force
	switch {
	case s.key.path == "":
		return nil
	case !s.learner:
		return &failure{errors.New("--answers is the key to a learner's sheet"), "write --learner too: the whole sheet has the answers in it"}
	case !s.key.isFile() || !slices.Contains([]string{".html", ".md"}, s.key.ending()):
		return &failure{errors.New("--answers " + s.key.path + ": the key is a file that ends in .html or .md"), "write --answers key.html"}
	case s.out.isFile() && filepath.Clean(s.out.path) == filepath.Clean(s.key.path):
		return &failure{errors.New("--answers and -o are the same file"), "write the key to a file of its own"}
	}
	return s.key.refuse()
}

// write writes the key first: where the sheet then cannot be, the key goes again.
func (s *sheeting) write(c *cobra.Command, made, key *sheet.Sheet) error {
	text, err := sheetText(made, s.as.kind(&s.out))
	if err != nil {
		return err
	}
	if s.key.path == "" {
		return s.out.write(c.OutOrStdout(), text)
	}
	answers, err := sheetText(key, strings.TrimPrefix(s.key.ending(), "."))
	if err != nil {
		return err
	}
	return writeBoth(c.OutOrStdout(), &s.key, answers, &s.out, text)
}

// sheetText is a sheet as a file has it.
func sheetText(s *sheet.Sheet, kind string) (string, error) {
	if kind == "md" {
		return s.Markdown(), nil
	}
	return s.HTML()
}
