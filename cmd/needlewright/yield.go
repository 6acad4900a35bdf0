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

	"example.com/needlewright/model"
	"example.com/needlewright/model/quantity"
	"example.com/needlewright/model/spread"
)

// yieldCommand prints what comes of many kits of a build.
func yieldCommand() *cobra.Command {
	var asJSON bool
	var sets []string
	kits, seed := wholeNumber{100_000, 1, spread.MostKits}, wholeNumber{1, 0, 1<<64 - 1}
	c := &cobra.Command{
		Use:   "yield FILE",
		Short: "Print what comes of many kits of parts within their tolerances",
		Long: `Print what comes of many kits of a build, each of parts anywhere within their
tolerances and trimmed by its builder: how many come to full scale and what the
others need, how wrong they show, how they drift and how long they last, and
which part is worth buying tighter, or what is worth knowing better.

The same seed gives the same output. Exits with 0, or with 2 where the file
cannot be read or the kits were not all made.`,
		Example: `  needlewright yield reading-room.toml
  needlewright yield --kits 20000 --seed 7 --set hand.hours.drive.trimmer=2k reading-room.toml`,
		Args: fileOf("yield"),
		RunE: func(c *cobra.Command, args []string) error {
			text, err := readChanged(args[0], sets)
			if err != nil {
				return err
			}
			b, problems := model.Read(text)
			if problems != nil {
				return refuse(c.ErrOrStderr(), args[0], len(sets) > 0, problems)
			}
			y, err := makeKits(c.Context(), c.ErrOrStderr(), b, int(kits.n), seed.n)
			if err != nil {
				return err
			}
			if asJSON {
				return printJSON(c.OutOrStdout(), y)
			}
			printYield(c.OutOrStdout(), y)
			return nil
		},
	}
	c.Flags().Var(&kits, "kits", "how many, at most "+strconv.Itoa(spread.MostKits))
	c.Flags().Var(&seed, "seed", "of the random numbers")
	c.Flags().BoolVar(&asJSON, "json", false, "print JSON, with values in SI units")
	c.Flags().StringArrayVar(&sets, "set", nil, "change a value first: PATH=VALUE, e.g. hand.hours.drive.fixed=7k5")
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

// printYield tells it in words, tables and bars of plain characters.
func printYield(w io.Writer, y *spread.Yield) {
	fmt.Fprintf(w, "%s\n\n%s of parts within their tolerances, seed %d\n", shown(y.Build.Title), quantity.Counted(y.Kits, "kit"), y.Seed)
	if y.Inputs == 0 {
		fmt.Fprintln(w, "No value has a tolerance: every kit is alike.")
	}
	if len(y.Hands) > 1 {
		fmt.Fprintf(w, "All hands trim up in %s\n", ofKits(y.TrimUp, y.Kits))
	}
	for i := range y.Hands {
		printTrimming(w, y, i)
	}
	for _, r := range y.Results() {
		printHistogram(w, r)
	}
	printTighter(w, y)
}

// printTrimming tells how many kits of a hand trim up, and what the others need.
func printTrimming(w io.Writer, y *spread.Yield, i int) {
	h, drive := &y.Hands[i], &y.Build.Hands[i].Drive
	fmt.Fprintf(w, "\n%s: trims up in %s\n", h.Name, ofKits(h.TrimUp, y.Kits))
	if drive.Trimmer.Number == 0 {
		fmt.Fprintln(w, "  it has no trimmer")
	}
	if drive.Setting.Given() {
		fmt.Fprintf(w, "  its trimmer stays at %s, as given\n", quantity.Format(drive.Setting, quantity.Ohms))
	}
	if h.More.Kits > 0 {
		fmt.Fprintf(w, "  needs more than 98 %% of the trimmer in %s\n", ofKits(h.More.Kits, y.Kits))
		fmt.Fprintf(w, "    another trimmer: %s\n", h.More.Text(h.More.Trimmers, strconv.Itoa))
		fmt.Fprintf(w, "    another fixed resistor: %s\n", h.More.Text(h.More.Fixed, strconv.Itoa))
	}
	if h.Less.Kits > 0 {
		fmt.Fprintf(w, "  needs less than 2 %% of the trimmer in %s\n", ofKits(h.Less.Kits, y.Kits))
		fmt.Fprintf(w, "    another fixed resistor: %s\n", h.Less.Text(h.Less.Fixed, strconv.Itoa))
	}
}

// ofKits is a number of kits beside all, and its share.
func ofKits(n, kits int) string {
	return fmt.Sprintf("%d of %d (%s)", n, kits, spread.ShareOf(n, kits))
}

// widestBar is the bar of the fullest bin.
const widestBar = 40

// printHistogram prints the percentiles of a result, then its bins as bars.
func printHistogram(w io.Writer, r spread.YieldResult) {
	fmt.Fprintf(w, "\n%s, %s\n", r.Label, r.In())
	heads, values := "  "+column("least"), "  "+column(r.Text(r.Least))
	for i, share := range spread.Percentiles {
		heads += column(strconv.FormatFloat(100*share, 'g', -1, 64) + " %")
		values += column(r.Text(r.At[i]))
	}
	fmt.Fprintf(w, "%s%s\n%s%s\n", heads, column("most"), values, column(r.Text(r.Most)))
	most, from, to := 0, 0, 0
	for _, b := range r.Bins {
		low, high := r.Ends(b)
		most, from, to = max(most, b.Kits), max(from, len(low)), max(to, len(high))
	}
	for _, b := range r.Bins {
		low, high := r.Ends(b)
		fmt.Fprintln(w, strings.TrimRight(fmt.Sprintf("  %*s to %*s %8d  %s", from, low, to, high, b.Kits, bar(b.Kits, most)), " "))
	}
}

func column(text string) string { return fmt.Sprintf("%8s", text) }

// bar is as long as a bin is full; a point where it would be nothing.
func bar(kits, most int) string {
	if n := (kits*widestBar + most/2) / most; n > 0 {
		return strings.Repeat("#", n)
	}
	if kits > 0 {
		return "."
	}
	return ""
}

// printTighter lists the parts that are worth buying tighter, and what is worth knowing
// better.
func printTighter(w io.Writer, y *spread.Yield) {
	for _, way := range spread.Tightenings {
		switch {
		case way.In(y):
			fmt.Fprintln(w, "\n"+way.Head)
		case way.None() != "":
			fmt.Fprintln(w, "\n"+way.Head+"\n"+way.None())
		}
		for i := range y.Hands {
			h := &y.Hands[i]
			for _, t := range way.Of(h) {
				now, half := t.Texts(y.Build)
				fmt.Fprintf(w, "%s: %s %s -> %s\n", h.Name, t.Path(y.Build), now, half)
				fmt.Fprintf(w, "  trims up %s -> %s, 95 %% are wrong by at most %s -> %s without %s\n", ofKits(h.Before.TrimUp, h.Before.Kits),
					ofKits(t.TrimUp, t.Kits), minutes(h.Before.Error95), minutes(t.Error95), spread.LeftOut)
			}
		}
	}
}

// minutes is a dial's time.
func minutes(x float64) string { return quantity.Show(x, quantity.Minutes, 3) }
