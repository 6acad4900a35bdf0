package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"example.com/needlewright/model/file"
)

// A form is how a command prints: --as, and --json, which is --as json.
type form struct {
	as     string
	of     []string // what may be asked for, the usual one first
	asJSON bool
	given  bool // --as or --json was
}

// addTo gives a command the flags, and holds it to them.
func (f *form) addTo(c *cobra.Command, of ...string) {
	f.of = of
	c.Flags().StringVar(&f.as, "as", of[0], inWords(of, "or"))
	_ = c.RegisterFlagCompletionFunc("as", cobra.FixedCompletions(of, cobra.ShellCompDirectiveNoFileComp))
	if slices.Contains(of, "json") {
		c.Flags().BoolVar(&f.asJSON, "json", false, "print JSON, with values in SI units; the same as --as json")
	}
	c.PreRunE = func(c *cobra.Command, _ []string) error {
		f.given = c.Flags().Changed("as") || f.asJSON
		return f.settle(c.Flags().Changed("as"))
	}
}

// settle brings the two flags together; given says whether --as was.
func (f *form) settle(given bool) error {
	switch {
	case !slices.Contains(f.of, f.as):
		return &failure{fmt.Errorf("--as %q: allowed are %s", f.as, inWords(f.of, "and")), "write one of these, or leave it out for " + f.of[0]}
	case f.asJSON && given && f.as != "json":
		return &failure{fmt.Errorf("--json is --as json, and --as %s is given too", f.as), "leave out one of them"}
	case f.asJSON:
		f.as = "json"
	}
	return nil
}

// otherwise are the endings of files for what --as calls by another name.
var otherwise = map[string]string{"h": "c", "txt": "text"}

// kind is what is made: what --as says, or without it what the ending of the file does.
func (f *form) kind(o *outfile) string {
	ending := strings.TrimPrefix(o.ending(), ".")
	if called, is := otherwise[ending]; is {
		ending = called
	}
	if o.isFile() && !f.given && slices.Contains(f.of, ending) {
		return ending
	}
	return f.as
}

// inWords joins words as a sentence does: a, b or c.
func inWords(words []string, joint string) string {
	n := len(words) - 1
	if n == 0 {
		return words[0]
	}
	return strings.Join(words[:n], ", ") + " " + joint + " " + words[n]
}

// An outfile is where a command puts what it made: -o, and --force.
type outfile struct {
	path  string
	force bool
}

// addTo gives a command the flags; the endings say what it can make, and a file has one of
// them but where --as says what it is. It comes after the command's form.
func (o *outfile) addTo(c *cobra.Command, endings ...string) {
	named := make([]string, len(endings))
	for i, e := range endings {
		named[i] = "." + e
	}
	c.Flags().StringVarP(&o.path, "output", "o", "", "the file to write, "+inWords(named, "or")+"; - is standard output")
	c.Flags().BoolVar(&o.force, "force", false, "write over a file that is there")
	_ = c.MarkFlagFilename("output", endings...)
	settle := c.PreRunE
	c.PreRunE = func(c *cobra.Command, args []string) error {
		known := slices.Contains(endings, strings.TrimPrefix(o.ending(), "."))
		if o.isFile() && !known && !c.Flags().Changed("as") {
			return &failure{fmt.Errorf("-o %s: what it is to be is not said by its ending", o.path), "let it end in " + inWords(named, "or")}
		}
		return settle(c, args)
	}
}

// isFile says whether a file is to be written.
func (o *outfile) isFile() bool { return o.path != "" && o.path != "-" }

// ending is that of the file, in small letters: .html.
func (o *outfile) ending() string { return strings.ToLower(filepath.Ext(o.path)) }

// write writes a text to the file, whole or not at all, or prints it. What is there stays,
// but by --force.
func (o *outfile) write(w io.Writer, text string) error {
	if !o.isFile() {
		_, err := io.WriteString(w, strings.ReplaceAll(text, "\r\n", "\n"))
		return err
	}
	if err := o.refuse(); err != nil {
		return err
	}
	save := func() (file.Saved, error) { return file.SaveOver(o.path, text, file.Stamp{}, "") }
	if o.force {
		save = func() (file.Saved, error) { return file.Save(o.path, text, "") }
	}
	if _, err := save(); err != nil {
		return &failure{err, "choose another place with -o"}
	}
	return nil
}

// refuse says why the file is not to be written: another is there.
func (o *outfile) refuse() error {
	if !o.isFile() || o.force {
		return nil
	}
	if _, err := os.Lstat(o.path); err == nil {
		return &failure{fmt.Errorf("%s is there already: nothing was written", o.path), "choose another name, or write --force to put this in its place"}
	}
	return nil
}

// writeBoth writes two texts, both or none: where the second cannot be written, what was there
// of the first is put back.
func writeBoth(w io.Writer, one *outfile, first string, other *outfile, second string) error {
	if err := other.refuse(); err != nil {
		return err
	}
	was, err := os.ReadFile(one.path)
	wasThere := err == nil
	if err := one.write(w, first); err != nil {
		return err
	}
	err = other.write(w, second)
	switch {
	case err == nil:
	case wasThere:
		_, _ = file.Save(one.path, string(was), "")
	default:
		_ = os.Remove(one.path)
	}
	return err
}

func printJSON(w io.Writer, of interface{ JSON() ([]byte, error) }) error {
	out, err := of.JSON()
	if err != nil {
		return err
	}
	_, err = fmt.Fprintf(w, "%s\n", out)
	return err
}
