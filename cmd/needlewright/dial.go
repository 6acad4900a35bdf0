package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/mattn/go-isatty"
	"github.com/spf13/cobra"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/dial"
	"example.com/needlewright/model/file"
	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/quantity"

	printed "example.com/needlewright/model/paper/dial"
)

// dialCommand draws dials at true size. Pictures and PDFs are no text: they go to stdout as
// they are.
func dialCommand(stdout io.Writer) *cobra.Command {
	d := dialling{stdout: stdout, dpi: wholeNumber{600, printed.LeastDPI, printed.MostDPI}}
	c := &cobra.Command{
		Use:   "dial FILE",
		Short: "Draw the dial of a hand at true size, to be printed",
		Long: `Draw the dial of a hand at true size: marks and numerals where its needle will stand,
cut marks outside the plate, and two check lines, each 50 mm long where the printer
kept the size: print at 100 %. What stands on it are the keys of [hand.dial] in the
file; all may be left out.

SVG is in millimetres, all letters are outlines. PDF takes several dials, --all, on as
many pages as they need; PNG has --dpi dots an inch. Nothing is scaled to fit.

Without -o SVG is printed. A file that is there is not written over without --force.
FILE may be - for standard input. Exits with 0, or with 2 where a file cannot be read
or written, or a plate does not fit on the paper.`,
		Example: `  needlewright dial reading-room.toml -o dial.pdf
  needlewright dial station-platform.toml --all --paper letter -o dials.pdf
  needlewright dial station-platform.toml --hand minutes -o minutes.svg`,
		Args: fileOf("dial"),
		RunE: func(c *cobra.Command, args []string) error { return d.run(c, args[0]) },
	}
	c.Flags().StringVar(&d.hand, "hand", "", "whose dial it is; without it the first hand's")
	c.Flags().BoolVar(&d.all, "all", false, "the dials of all hands")
	c.Flags().StringVar(&d.paper, "paper", "a4", "a4, letter or a3")
	c.Flags().StringVar(&d.as, "as", "svg", "svg, pdf or png; without it, what the ending of -o says")
	c.Flags().StringVarP(&d.out, "output", "o", "", "the file to write, .svg, .pdf or .png; - is standard output")
	c.Flags().Var(&d.dpi, "dpi", "dots an inch of a PNG")
	c.Flags().BoolVar(&d.force, "force", false, "write over a file that is there")
	c.Flags().StringArrayVar(&d.sets, "set", nil, "change a value first: PATH=VALUE, e.g. hand.hours.dial.mirror=yes")
	return c
}

// A dialling is what the command dial was asked for.
type dialling struct {
	stdout               io.Writer
	hand, paper, as, out string
	all, force           bool
	dpi                  wholeNumber
	sets                 []string
}

// dialForms are what a dial may be written as.
var dialForms = []string{"svg", "pdf", "png"}

// run draws what was asked for.
func (d *dialling) run(c *cobra.Command, path string) error {
	paper, err := d.check(c)
	if err != nil {
		return err
	}
	doc, err := openChanged(c, path, d.sets)
	if err != nil {
		return err
	}
	b := doc.Build
	hands, err := d.hands(b)
	if err != nil {
		return err
	}
	p := new(circuit.Plan)
	circuit.Evaluate(b, p)
	pages, err := d.sheets(c, b, p, hands, paper)
	if err != nil {
		return tooLarge(err)
	}
	made, err := d.made(pages)
	if err != nil {
		return err
	}
	d.tell(c.ErrOrStderr(), b, p, pages)
	return d.write(c.OutOrStdout(), made)
}

// check finds out what is to be written, and refuses what does not go together.
func (d *dialling) check(c *cobra.Command) (dial.Paper, error) {
	ending := strings.TrimPrefix(strings.ToLower(filepath.Ext(d.out)), ".")
	isFile := d.out != "" && d.out != "-"
	if isFile && !c.Flags().Changed("as") {
		if !slices.Contains(dialForms, ending) {
			return dial.Paper{}, &failure{fmt.Errorf("-o %s: what it is to be is not said by its ending", d.out), "let it end in .svg, .pdf or .png"}
		}
		d.as = ending
	}
	paper, known := dial.PaperNamed(d.paper)
	switch {
	case !slices.Contains(dialForms, d.as):
		return paper, &failure{fmt.Errorf("--as %q: allowed are svg, pdf and png", d.as), "write one of these, or leave it out for svg"}
	case !known:
		return paper, &failure{fmt.Errorf("--paper %q: allowed are a4, letter and a3", d.paper), "write one of these, or leave it out for a4"}
	case d.all && d.hand != "":
		return paper, &failure{errors.New("--all are the dials of all hands, and --hand is given too"), "leave out one of them"}
	case d.out == "" && d.as != "svg":
		return paper, &failure{fmt.Errorf("a dial as %s is no text to be printed here", strings.ToUpper(d.as)), "write -o dial." + d.as + ", or -o - for standard output"}
	case c.Flags().Changed("dpi") && d.as != "png":
		return paper, &failure{fmt.Errorf("--dpi is of a PNG, and this is %s", strings.ToUpper(d.as)), "leave it out: lines and letters are exact"}
	case d.out == "-" && d.as != "svg" && isTerminal(d.stdout):
		return paper, &failure{fmt.Errorf("%s is not for a terminal", strings.ToUpper(d.as)), "write -o dial." + d.as + ", or send it elsewhere"}
	}
	return paper, d.free()
}

// isTerminal says whether what is written there is seen at once.
func isTerminal(w io.Writer) bool {
	f, ok := w.(*os.File)
	return ok && isatty.IsTerminal(f.Fd())
}

// free says whether the file may be written.
func (d *dialling) free() error {
	if d.out == "" || d.out == "-" || d.force {
		return nil
	}
	if _, err := os.Lstat(d.out); err == nil {
		return &failure{fmt.Errorf("%s is there already: nothing was written", d.out), "choose another name, or write --force to put this in its place"}
	}
	return nil
}

// hands are those whose dials are drawn.
func (d *dialling) hands(b *model.Build) ([]int, error) {
	var all []int
	for i := range b.Hands {
		if d.all || b.Hands[i].Name == d.hand || d.hand == "" && i == 0 {
			all = append(all, i)
		}
	}
	switch {
	case len(b.Hands) == 0:
		return nil, &failure{errors.New("the build has no hand: there is no dial to draw"), "add a [[hand]] to the file, with its meter and its drive"}
	case all == nil:
		_, err := handNamed(b, d.hand)
		return nil, err
	}
	return all, nil
}

// sheets are those of the dials. What takes more than the one sheet that SVG and PNG have
// goes on larger paper, where none was asked for.
func (d *dialling) sheets(c *cobra.Command, b *model.Build, p *circuit.Plan, hands []int, paper dial.Paper) ([]*dial.Page, error) {
	pages, err := dial.Pages(b, p, hands, paper)
	if err != nil || len(pages) == 1 || d.as == "pdf" || c.Flags().Changed("paper") {
		return pages, err
	}
	larger, _ := dial.PaperNamed("a3")
	if fewer, err := dial.Pages(b, p, hands, larger); err == nil && len(fewer) == 1 {
		say(c.ErrOrStderr(), "the sheet is %s: on %s the dials would take %d", larger.Name, paper.Name, len(pages))
		return fewer, nil
	}
	return pages, nil
}

// made are the bytes of the sheets.
func (d *dialling) made(pages []*dial.Page) ([]byte, error) {
	if len(pages) > 1 && d.as != "pdf" {
		return nil, &failure{
			fmt.Errorf("the dials take %d sheets, and %s is one", len(pages), strings.ToUpper(d.as)),
			"write a PDF, larger paper, or --hand for one at a time: nothing is scaled to fit",
		}
	}
	switch d.as {
	case "pdf":
		return printed.PDF(pages)
	case "png":
		return printed.PNG(pages[0], int(d.dpi.n))
	}
	return []byte(printed.SVG(pages[0])), nil
}

// tooLarge is the error of a plate that does not fit, with what to do.
func tooLarge(err error) error {
	var e *dial.TooLargeError
	if !errors.As(err, &e) {
		return err
	}
	if e.Fits != "" {
		return &failure{err, "write --paper " + e.Fits + ", or make width and height in [hand.dial] smaller"}
	}
	return &failure{err, "make width and height in [hand.dial] smaller: no paper that can be asked for takes it"}
}

// tell says on standard error what a person should know before it is printed and cut.
func (d *dialling) tell(w io.Writer, b *model.Build, p *circuit.Plan, pages []*dial.Page) {
	faults := 0
	for _, f := range judge.Findings(b, p) {
		if f.Severity == judge.Fault {
			faults++
		}
	}
	if faults > 0 {
		say(w, "the build has %s: see  needlewright check", quantity.Counted(faults, "fault"))
	}
	if others := len(b.Hands) - 1; others > 0 && d.hand == "" && !d.all {
		say(w, "this is the dial of %s; --all draws those of all %d hands, --hand another's", b.Hands[0].Name, len(b.Hands))
	}
	for _, page := range pages {
		for _, plate := range page.Plates {
			for _, note := range plate.Notes {
				say(w, "note: dial of %s: %s", plate.Hand, note)
			}
		}
	}
}

// write writes the file, whole or not at all; or prints SVG with all else, and other forms
// as they are.
func (d *dialling) write(out io.Writer, made []byte) error {
	if d.out == "" || d.out == "-" {
		if d.as != "svg" {
			out = d.stdout
		}
		_, err := out.Write(made)
		return err
	}
	save := func() (file.Saved, error) { return file.SaveOver(d.out, string(made), file.Stamp{}, "") }
	if d.force {
		save = func() (file.Saved, error) { return file.Save(d.out, string(made), "") }
	}
	if _, err := save(); err != nil {
		return &failure{err, "choose another place with -o"}
	}
	return nil
}
