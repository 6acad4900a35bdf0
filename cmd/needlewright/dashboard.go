package main

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/adrg/xdg"
	tea "github.com/charmbracelet/bubbletea"
	"github.com/mattn/go-isatty"
	"github.com/spf13/cobra"

	"example.com/needlewright/examples"
	"example.com/needlewright/model/file"
	"example.com/needlewright/ui"
)

// dashboardCommand opens a build, or the first example, on the screen.
func dashboardCommand() *cobra.Command {
	var ascii, noMouse bool
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
			o.NoMouse = noMouse
			ends, stop := listen()
			defer stop()
			if err := unlessEnded(ends, func() error { return open(&o, args) }); err != nil {
				return err
			}
			return show(o, ends)
		},
	}
	c.Version = version()
	c.SuggestionsMinimumDistance = 2
	c.CompletionOptions.DisableDefaultCmd = true
	c.SetFlagErrorFunc(func(c *cobra.Command, err error) error {
		return cmp.Or(mistyped(c, c.Flags().Args()), err) // a command's flags are unknown where it is mistyped
	})
	c.Flags().BoolVar(&ascii, "ascii", false, "draw with plain characters only (always so where TERM is linux)")
	c.Flags().BoolVar(&noMouse, "no-mouse", false, "leave the mouse to the terminal")
	c.Flags().StringVar(&theme, "theme", "dark", "colours for a dark or a light background")
	return c
}

// fileOrNone holds the dashboard to one file at most.
func fileOrNone(c *cobra.Command, args []string) error {
	if err := mistyped(c, args); err != nil {
		return err
	}
	if len(args) <= 1 {
		return nil
	}
	return &failure{fmt.Errorf("the dashboard opens one file; %d are given", len(args)), "write  needlewright FILE  or a command of those that needlewright --help lists"}
}

// open reads the build to show, a file or the example there is without one, and
// looks for work on it that an earlier run left unsaved.
func open(o *ui.Options, args []string) error {
	o.CanSuspend = canSuspend()
	o.RecoveryFolder = filepath.Join(xdg.StateHome, "needlewright")
	drawer, err := examples.Files.ReadFile(examples.Drawer)
	if err != nil {
		return err
	}
	o.Drawer = string(drawer)
	if len(args) == 0 {
		b, err := examples.Files.ReadFile(examples.First)
		if err != nil {
			return err
		}
		o.Text, o.Example = string(b), true
		o.Found, err = file.Stray(o.RecoveryFolder)
		if err != nil {
			o.Warning = firstLine(err.Error())
		}
		return nil
	}
	f, err := file.OpenFile(args[0], o.RecoveryFolder)
	if err != nil {
		return &failure{err, noFile}
	}
	o.Path, o.Text, o.Stamp, o.Fresh, o.Found = f.Path, f.Text, f.Stamp, f.Fresh, f.Found
	o.Warning = firstLine(f.Warning)
	return nil
}

// firstLine is as much of a warning as the dashboard's one line can say.
func firstLine(warning string) string {
	first, _, _ := strings.Cut(warning, "\n")
	return first
}

// secondsNow is the time of day, s from midnight.
func secondsNow() int {
	now := time.Now()
	return now.Hour()*3600 + now.Minute()*60
}

// wrap lets a test stand between the program, the dashboard and the terminal.
var wrap = func(m tea.Model, out io.Writer) (tea.Model, io.Writer) { return m, out }

// show runs the dashboard until it is left, or told to end. Work that was neither
// saved nor given up is kept for the next start.
func show(o ui.Options, ends <-chan os.Signal) error {
	if !isatty.IsTerminal(os.Stdin.Fd()) || !isatty.IsTerminal(os.Stdout.Fd()) {
		return &failure{errors.New("the dashboard needs a terminal, and there is none"), "needlewright check FILE  prints results without one"}
	}
	var app *ui.App
	if err := unlessEnded(ends, func() error { app = ui.New(o); return nil }); err != nil {
		return err
	}
	err := play(app, o.NoMouse, ends)
	kept, keepErr := app.Rescue()
	switch {
	case keepErr != nil:
		return &failure{errors.Join(err, keepErr), "the work of this session could not be kept"}
	case err != nil && kept:
		return &failure{err, "your unsaved work was kept and is offered at the next start; please report what you typed last"}
	case err != nil:
		return &failure{err, "please report this with what you typed last"}
	}
	return nil
}

// play has the dashboard on the terminal until it is left, or told to end.
func play(app *ui.App, noMouse bool, ends <-chan os.Signal) error {
	m, out := wrap(app, os.Stdout)
	t := newTerminal(os.Stdout, out)
	s := newSuspender()
	options := []tea.ProgramOption{
		tea.WithAltScreen(), tea.WithInput(input()), tea.WithoutSignalHandler(),
		tea.WithOutput(t), tea.WithFPS(idleTicks), tea.WithFilter(s.filter),
	}
	if !noMouse {
		options = append(options, tea.WithMouseCellMotion())
	}
	rescue := func() { _, _ = app.Rescue() }
	p := tea.NewProgram(&painter{m, t, rescue}, options...)
	t.failed = p.Kill
	defer obey(ends, p, t)()
	defer s.obey(p)()
	_, err := p.Run()
	rescue() // sooner than the rest of the modes, which wait for the screen
	t.drain()
	return cmp.Or(t.failure(), err)
}
