package main

import (
	"cmp"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/adrg/xdg"
	"github.com/mattn/go-isatty"
	"github.com/spf13/cobra"

	"example.com/needlewright/cmd/needlewright/terminal"
	"example.com/needlewright/examples"
	"example.com/needlewright/model/file"
	"example.com/needlewright/ui"
)

// dashboardCommand opens a build, or the first example, on the screen.
func dashboardCommand() *cobra.Command {
	var l looks
	c := &cobra.Command{
		Use:   "needlewright [FILE]",
		Short: "Plan and check clocks whose hand is a meter's needle",
		Long: `Plan and check clocks whose hand is the needle of a moving-coil panel meter.

Opens FILE in the dashboard, or an example where no file is given.`,
		Args:          fileOrNone,
		SilenceErrors: true,
		SilenceUsage:  true,
		RunE:          func(_ *cobra.Command, args []string) error { return l.show(ui.Options{}, args) },
	}
	c.Version = version()
	c.SuggestionsMinimumDistance = 2
	c.SetFlagErrorFunc(func(c *cobra.Command, err error) error {
		return cmp.Or(mistyped(c, c.Flags().Args()), err) // a command's flags are unknown where it is mistyped
	})
	l.addTo(c)
	return c
}

// walkCommand opens the walk on a build, or begins one with nothing known.
func walkCommand() *cobra.Command {
	var l looks
	c := &cobra.Command{
		Use:   "walk [FILE]",
		Short: "Go through the work on a clock, stage by stage",
		Long: `Go through the work on a clock, stage by stage, from an unknown meter to a
clock that runs: what to do and to measure, what can be hurt, what comes next.

Opens FILE at the stage that comes next. Without one, or where there is no such
file yet, it begins with nothing known.`,
		Example: `  needlewright walk
  needlewright walk my-clock.toml`,
		Args: fileOrNone,
		RunE: func(_ *cobra.Command, args []string) error { return l.show(ui.Options{Walk: true}, args) },
	}
	l.addTo(c)
	return c
}

// looks are the flags of what opens the dashboard.
type looks struct {
	ascii, noMouse bool
	theme          string
}

func (l *looks) addTo(c *cobra.Command) {
	c.Flags().BoolVar(&l.ascii, "ascii", false, "draw with plain characters only (always so where TERM is linux)")
	c.Flags().BoolVar(&l.noMouse, "no-mouse", false, "leave the mouse to the terminal")
	c.Flags().StringVar(&l.theme, "theme", "dark", "colours for a dark or a light background")
}

// show opens a build on the screen, as the flags say.
func (l *looks) show(o ui.Options, args []string) error {
	o.ASCII, o.Light, o.At = l.ascii || os.Getenv("TERM") == "linux", l.theme == "light", secondsNow()
	if l.theme != "dark" && l.theme != "light" {
		return &failure{fmt.Errorf("--theme %q is not known", l.theme), "write --theme dark or --theme light"}
	}
	o.NoMouse = l.noMouse
	ends, stop := terminal.Listen()
	defer stop()
	if err := unlessEnded(ends, func() error { return open(&o, args) }); err != nil {
		return err
	}
	return show(o, ends)
}

// fileOrNone holds the dashboard to one file at most.
func fileOrNone(c *cobra.Command, args []string) error {
	if slices.Contains(args, "-") {
		return &failure{errors.New("the dashboard takes its keys from standard input, and can have no build from there"), "write the build to a file;  needlewright check -  reads one there"}
	}
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
	o.CanSuspend = terminal.CanSuspend()
	o.RecoveryFolder = filepath.Join(xdg.StateHome, "needlewright")
	o.Answers = file.Answers(o.RecoveryFolder)
	drawer, err := examples.Files.ReadFile(examples.Drawer)
	if err != nil {
		return err
	}
	o.Drawer = string(drawer)
	if len(args) == 0 {
		first, err := examples.Files.ReadFile(examples.First)
		if err != nil {
			return err
		}
		finished, err := examples.Files.ReadFile(examples.Finished)
		if err != nil {
			return err
		}
		o.Text, o.Example, o.Finished = string(first), true, string(finished)
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
	keepAnswers := func() error { return file.KeepAnswers(o.RecoveryFolder, app.SurveyAnswers()) }
	err := terminal.Play(app, func() { _, _ = app.Rescue(); _ = keepAnswers() }, !o.NoMouse, ends)
	kept, keepErr := app.Rescue()
	keepErr = errors.Join(keepErr, keepAnswers())
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

// unlessEnded does what may take long, before there is a dashboard. Told to end,
// it does not wait for it.
func unlessEnded(ends <-chan os.Signal, do func() error) error {
	done := make(chan error, 1)
	go func() { done <- do() }()
	select {
	case err := <-done:
		return err
	case s := <-ends:
		return &failure{fmt.Errorf("ended before the build was read: %v", s), "no file was changed"}
	}
}
