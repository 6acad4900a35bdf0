package main

import (
	"bufio"
	"encoding/json"
	"errors"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"example.com/needlewright/model/quantity"
	"example.com/needlewright/model/survey"
)

// surveyCommand asks what an unknown meter is, one thing at a time. It writes each line as
// soon as it is asked, so it has the true output, not what is printed at the end.
func surveyCommand(status *int, stdout io.Writer) *cobra.Command {
	var as form
	var sets []string
	var hand string
	c := &cobra.Command{
		Use:   "survey [FILE --hand NAME]",
		Short: "Find out what an unknown meter is, without hurting it",
		Long: `Ask what an unknown meter is, one thing at a time: where it comes from, where its
needle stands behind which resistor, what its terminals take. It begins with the
least current and never asks for more than the answers so far allow. Answer each
line with one of your own; skip goes on without, back takes the last answer back.

What was found is printed at the end, with the changes to a build's file; no file
is written. Exits with 0 where something is known, 1 where it stopped, 2 where it
ended early.`,
		Example: `  needlewright survey
  needlewright survey --json reading-room.toml --hand hours`,
		Args: cobra.MaximumNArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			if len(args) == 0 && len(sets) > 0 {
				return &failure{errors.New("--set is of a build, and none is given"), "write the path of one"}
			}
			prefix := "hand."
			if len(args) == 1 {
				if args[0] == "-" {
					return &failure{errors.New("survey takes its answers from standard input, and can have no build from there"), "write the build to a file, and its path in place of -"}
				}
				d, err := openChanged(c, args[0], sets)
				if err != nil {
					return err
				}
				if hand, err = handNamed(d.Build, hand); err != nil {
					return err
				}
			}
			if hand != "" {
				prefix += hand + "."
			}
			d := &surveyDialogue{out: stdout, asJSON: as.as == "json", prefix: prefix}
			verdict, err := d.run(c.InOrStdin())
			if err == nil && verdict.Verdict == survey.Stopped {
				*status = faulty
			}
			return err
		},
	}
	as.addTo(c, "text", "json")
	c.Flag("json").Usage = "print one JSON object a line, with values in SI units; the same as --as json"
	c.Flags().StringVar(&hand, "hand", "", "whose meter of FILE it is")
	addSets(c, &sets)
	return c
}

// A surveyDialogue is a survey on two streams of lines.
type surveyDialogue struct {
	out    io.Writer
	asJSON bool
	prefix string // of the paths of changes
}

// run asks until the survey is over.
func (d *surveyDialogue) run(in io.Reader) (*survey.Verdict, error) {
	s, lines := &survey.Survey{}, bufio.NewScanner(in)
	for {
		ask, verdict := s.Next()
		if verdict != nil {
			verdict.Prefix(d.prefix)
			return verdict, d.print(verdict, func() string { return told(verdict) })
		}
		if err := d.print(ask, func() string { return asked(ask) }); err != nil {
			return nil, err
		}
		if !lines.Scan() {
			return nil, &failure{errors.Join(errors.New("the survey ended before it was over"), lines.Err()), "nothing is lost but the answers: begin again, and answer each line"}
		}
		if err := s.Answer(lines.Text()); err != nil {
			return nil, err
		}
	}
}

// print writes one object, or its sentences, at once.
func (d *surveyDialogue) print(object any, sentences func() string) error {
	if !d.asJSON {
		return deliver(d.out, sentences()+"\n")
	}
	line, err := json.Marshal(object)
	if err != nil {
		return err
	}
	return deliver(d.out, string(line)+"\n")
}

// asked is what is asked, in sentences.
func asked(a *survey.Ask) string {
	text := a.Text
	if a.Problem != "" {
		text = "Not taken: " + a.Problem + ".\n" + text
	}
	if a.Choices != nil {
		text += "\n  " + strings.Join(a.Choices, ", ")
	}
	if a.Current > 0 {
		text += "\n  At most " + quantity.Show(a.Current, quantity.Amperes, 2) + " can pass its movement."
	}
	return text
}

// told is the verdict, in sentences.
func told(v *survey.Verdict) string {
	text := v.Why
	for _, row := range []struct {
		label string
		of    survey.Value
		unit  quantity.Unit
	}{
		{"Terminals", v.Resistance, quantity.Ohms}, {"Full scale at the terminals", v.FullScale, quantity.Amperes},
		{"Coil", v.Coil, quantity.Ohms}, {"Full scale of the movement", v.Movement, quantity.Amperes},
	} {
		if row.of.IsKnown() {
			text += "\n" + row.label + ": " + quantity.Show(row.of.Value, row.unit, 3) + ", " + quantity.Show(row.of.Low, row.unit, 3) + " to " + quantity.Show(row.of.High, row.unit, 3)
		}
	}
	text += "\nInside: " + v.Inside
	for _, change := range v.Changes {
		text += "\n  " + change.Path + " = \"" + change.Value + "\""
	}
	return text
}
