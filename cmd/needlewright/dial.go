package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/mattn/go-isatty"
	"github.com/spf13/cobra"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/dial"

	sheets "example.com/needlewright/model/paper/dial"
)

// dialCommand draws dials at true size. Pictures and PDFs are no text: they go to stdout as
// they are.
func dialCommand(stdout io.Writer) *cobra.Command {
	d := dialling{stdout: stdout, dpi: wholeNumber{600, sheets.LeastDPI, sheets.MostDPI}}
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
  needlewright dial station-platform.toml --all -o dials.pdf
  needlewright dial station-platform.toml --hand minutes --paper letter -o minutes.svg`,
		Args: fileOf("dial"),
		RunE: func(c *cobra.Command, args []string) error { return d.run(c, args[0]) },
	}
	d.as.addTo(c, "svg", "pdf", "png")
	d.out.addTo(c, "svg", "pdf", "png")
	c.Flags().StringVar(&d.hand, "hand", "", "whose dial it is; without it the first hand's")
	c.Flags().BoolVar(&d.all, "all", false, "the dials of all hands")
	addPaper(c, &d.paper, "")
	c.Flags().Var(&d.dpi, "dpi", "dots an inch of a PNG")
	addSets(c, &d.sets)
	return c
}

// A dialling is what the command dial was asked for.
type dialling struct {
	stdout      io.Writer
	as          form
	out         outfile
	hand, paper string
	all         bool
	dpi         wholeNumber
	sets        []string
}

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
	sayFaults(c, path, b)
	d.tell(c.ErrOrStderr(), b, pages)
	return d.write(c.OutOrStdout(), made)
}

// kind is what is to be written.
func (d *dialling) kind() string { return d.as.kind(&d.out) }

// addPaper gives a command --paper, the sheet of paper that dials are laid on.
func addPaper(c *cobra.Command, name *string, of string) {
	c.Flags().StringVar(name, "paper", paperNames()[0], of+inWords(paperNames(), "or"))
	_ = c.RegisterFlagCompletionFunc("paper", cobra.FixedCompletions(paperNames(), cobra.ShellCompDirectiveNoFileComp))
}

// paperNames are those of all papers, the usual one first.
func paperNames() []string {
	var all []string
	for _, p := range dial.Papers {
		all = append(all, p.Name)
	}
	return all
}

// paperOf is the paper of --paper.
func paperOf(name string) (dial.Paper, error) {
	paper, known := dial.PaperNamed(name)
	if !known {
		return paper, &failure{fmt.Errorf("--paper %q: allowed are %s", name, inWords(paperNames(), "and")), "write one of these, or leave it out for " + paperNames()[0]}
	}
	return paper, nil
}

// check refuses what does not go together.
func (d *dialling) check(c *cobra.Command) (dial.Paper, error) {
	kind := d.kind()
	name := strings.ToUpper(kind)
	paper, err := paperOf(d.paper)
	switch {
	case err != nil:
		return paper, err
	case d.all && d.hand != "":
		return paper, &failure{errors.New("--all are the dials of all hands, and --hand is given too"), "leave out one of them"}
	case d.out.path == "" && kind != "svg":
		return paper, &failure{fmt.Errorf("a dial as %s is no text to be printed here", name), "write -o dial." + kind + ", or -o - for standard output"}
	case c.Flags().Changed("dpi") && kind != "png":
		return paper, &failure{fmt.Errorf("--dpi is of a PNG, and this is %s", name), "leave it out: lines and letters are exact"}
	case d.out.path == "-" && kind != "svg" && isTerminal(d.stdout):
		return paper, &failure{fmt.Errorf("%s is not for a terminal", name), "write -o dial." + kind + ", or send it elsewhere"}
	}
	return paper, nil
}

// isTerminal says whether what is written there is seen at once.
func isTerminal(w io.Writer) bool {
	f, ok := w.(*os.File)
	return ok && isatty.IsTerminal(f.Fd())
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
	if err != nil || len(pages) == 1 || d.kind() == "pdf" || c.Flags().Changed("paper") {
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
	if len(pages) > 1 && d.kind() != "pdf" {
		return nil, &failure{
			fmt.Errorf("the dials take %d sheets, and %s is one", len(pages), strings.ToUpper(d.kind())),
			"write a PDF, larger paper, or --hand for one at a time: nothing is scaled to fit",
		}
	}
	switch d.kind() {
	case "pdf":
		return sheets.PDF(pages)
	case "png":
		return sheets.PNG(pages[0], int(d.dpi.n))
	}
	return []byte(sheets.SVG(pages[0])), nil
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
func (d *dialling) tell(w io.Writer, b *model.Build, pages []*dial.Page) {
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

// write writes the file, or prints SVG with all else, and other forms as they are.
func (d *dialling) write(out io.Writer, made []byte) error {
	if d.out.isFile() || d.kind() == "svg" {
		return d.out.write(out, string(made))
	}
	_, err := d.stdout.Write(made)
	return unwritten(err)
}
