package main

import (
	"errors"
	"fmt"
	"os"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/mattn/go-isatty"
	"github.com/spf13/cobra"

	"example.com/needlewright/examples"
	"example.com/needlewright/ui"
)

// framesPerSecond doubles Bubble Tea's usual rate: half the wait from key to
// screen.
const framesPerSecond = 120

// dashboardCommand opens a build, or the first example, on the screen.
func dashboardCommand() *cobra.Command {
	var ascii bool
	var theme string
	c := &cobra.Command{
		Use:   "needlewright [FILE]",
		Short: "Plan and check clocks whose hand is a meter's needle",
		Long: `Plan and check clocks whose hand is the needle of a moving-coil panel meter.

Opens FILE in the dashboard, or an example where no file is given.`,
		Args:          fileOrNone,
		SilenceErrors: true,
		SilenceUsage:  true,
		RunE: func(_ *cobra.Command, args []string) error {
			o := ui.Options{ASCII: ascii || os.Getenv("TERM") == "linux", Light: theme == "light", At: secondsNow()}
			if theme != "dark" && theme != "light" {
				return &failure{fmt.Errorf("--theme %q is not known", theme), "write --theme dark or --theme light"}
			}
			var err error
			if o.Path, o.Text, err = open(args); err != nil {
				return err
			}
			return show(o)
		},
	}
	c.CompletionOptions.DisableDefaultCmd = true
	c.Flags().BoolVar(&ascii, "ascii", false, "draw with plain characters only (always so where TERM is linux)")
	c.Flags().StringVar(&theme, "theme", "dark", "colours for a dark or a light background")
	return c
}

// fileOrNone holds the dashboard to one file at most.
func fileOrNone(_ *cobra.Command, args []string) error {
	if len(args) <= 1 {
		return nil
	}
	return &failure{fmt.Errorf("the dashboard opens one file; %d are given", len(args)), "write  needlewright FILE  or a command of those that needlewright --help lists"}
}

// open reads the build to show: a file, or the example there is without one.
func open(args []string) (path, text string, err error) {
	if len(args) == 0 {
		b, err := examples.Files.ReadFile(examples.First)
		return "", string(b), err
	}
	text, err = readFile(args[0])
	return args[0], text, err
}

// secondsNow is the time of day, s from midnight.
func secondsNow() int {
	now := time.Now()
	return now.Hour()*3600 + now.Minute()*60
}

// show runs the dashboard until it is left.
func show(o ui.Options) error {
	if !isatty.IsTerminal(os.Stdin.Fd()) || !isatty.IsTerminal(os.Stdout.Fd()) {
		return &failure{errors.New("the dashboard needs a terminal, and there is none"), "needlewright check FILE  prints results without one"}
	}
	app := ui.New(o)
	p := tea.NewProgram(app, tea.WithAltScreen(), tea.WithFPS(framesPerSecond), tea.WithInput(input()), tea.WithoutSignalHandler())
	stop := quitOnSignal(p)
	defer stop()
	if _, err := p.Run(); err != nil {
		return &failure{err, "please report this with what you typed last"}
	}
	return nil
}
