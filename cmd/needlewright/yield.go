package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"strconv"
	"strings"
	"syscall"
	"time"

	"github.com/mattn/go-isatty"
	"github.com/spf13/cobra"

	"example.com/needlewright/cmd/needlewright/plain"
	"example.com/needlewright/model"
	"example.com/needlewright/model/spread"
)

// yieldCommand prints what comes of many kits of a build.
func yieldCommand() *cobra.Command {
	var as form
	var sets []string
	kits, seed := wholeNumber{100_000, 1, spread.MostKits}, wholeNumber{1, 0, 1<<64 - 1}
	c := &cobra.Command{
		Use:   "yield FILE",
		Short: "Print what comes of many kits of parts within their tolerances",
		Long: `Print what comes of many kits of a build, each of parts anywhere within their
tolerances and trimmed by its builder: how many come to full scale and what the
others need, how wrong they show, how they drift and how long they last, and
which part is worth buying tighter, or what is worth knowing better.

The same seed gives the same output. FILE may be - for standard input. Exits with
0, or with 2 where the file cannot be read or the kits were not all made; that the
build has a fault is said on standard error.`,
		Example: `  needlewright yield reading-room.toml
  needlewright yield --kits 20000 --seed 7 --set hand.hours.drive.trimmer=2k reading-room.toml`,
		Args: fileOf("yield"),
		RunE: func(c *cobra.Command, args []string) error {
			d, err := openChanged(c, args[0], sets)
			if err != nil {
				return err
			}
			y, err := makeKits(c.Context(), c.ErrOrStderr(), d.Build, int(kits.n), seed.n)
			if err != nil {
				return err
			}
			sayFaults(c, args[0], d.Build)
			if as.as == "json" {
				return printJSON(c.OutOrStdout(), y)
			}
			plain.Yield(c.OutOrStdout(), y)
			return nil
		},
	}
	c.Flags().Var(&kits, "kits", "how many, at most "+strconv.Itoa(spread.MostKits))
	c.Flags().Var(&seed, "seed", "of the random numbers")
	as.addTo(c, "text", "json")
	addSets(c, &sets)
	return c
}

// A wholeNumber is a flag's whole number between two others.
type wholeNumber struct{ n, least, most uint64 }

func (w *wholeNumber) String() string { return strconv.FormatUint(w.n, 10) }

// Type is what the help calls it.
func (w *wholeNumber) Type() string { return "number" }

// Set reads it.
func (w *wholeNumber) Set(text string) error {
	n, err := strconv.ParseUint(text, 10, 64)
	if err != nil || n < w.least || n > w.most {
		return fmt.Errorf("a whole number from %d to %d is allowed", w.least, w.most)
	}
	w.n = n
	return nil
}

// makeKits makes them, and says on a terminal how far it is once that takes long.
func makeKits(ctx context.Context, stderr io.Writer, b *model.Build, kits int, seed uint64) (*spread.Yield, error) {
	if len(b.Hands) == 0 {
		return nil, &failure{errors.New("the build has no hand: there is nothing to trim"), "add a [[hand]] to the file, with its meter and its drive"}
	}
	ctx, stop := signal.NotifyContext(ctx, endings()...)
	defer stop()
	p := progress{to: stderr, kits: kits, next: time.Now().Add(time.Second)}
	if f, ok := stderr.(*os.File); ok && isatty.IsTerminal(f.Fd()) {
		defer p.clear()
	} else {
		p.to = io.Discard
	}
	y, err := spread.NewYield(ctx, b, kits, seed, p.show)
	switch {
	case err != nil && ctx.Err() != nil:
		return nil, &failure{err, "nothing was printed; the same command begins anew, fewer --kits end sooner"}
	case err != nil:
		return nil, &failure{err, "please report this with the file"}
	}
	return y, nil
}

// endings are the signals that ask the program to end, but for those that it was
// started to ignore (by nohup).
func endings() []os.Signal {
	signals := []os.Signal{syscall.SIGTERM}
	for _, s := range []os.Signal{os.Interrupt, syscall.SIGHUP} {
		if !signal.Ignored(s) {
			signals = append(signals, s)
		}
	}
	return signals
}

// A progress says how far it is, on one line of a terminal.
type progress struct {
	to    io.Writer
	kits  int
	next  time.Time
	shown int // characters
}

func (p *progress) show(done int) {
	if now := time.Now(); now.After(p.next) {
		p.next = now.Add(time.Second / 10)
		p.shown, _ = fmt.Fprintf(p.to, "\r%d of %d kits; ctrl+c ends it", done, p.kits)
	}
}

func (p *progress) clear() {
	if p.shown > 0 {
		fmt.Fprint(p.to, "\r"+strings.Repeat(" ", p.shown)+"\r")
	}
}
