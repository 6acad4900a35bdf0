package main

import (
	"bytes"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/spf13/cobra"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/examples"
)

// What the commands have in common is asked of each that there is, by running the examples
// of its own help: a new command is held to it as soon as it is there. Where one differs, it
// is named in these tables, with why.

// withoutRunning open the dashboard, which reads keys and a terminal.
var withoutRunning = []string{"walk"}

// withoutStandardInput read something else there, and say what.
var withoutStandardInput = map[string]string{"walk": "keys", "survey": "answers"}

// withoutSet change no build for a while: the dashboard is there to change it for good.
var withoutSet = []string{"walk"}

// withoutPrinting write files alone, into a folder.
var withoutPrinting = []string{"papers"}

// statusAtFault is the exit status with a build that has faults. Who is not named makes
// something of it all the same: it exits with 0, and says on standard error that there are
// some.
var statusAtFault = map[string]int{"check": faulty}

// silentAtFault answer a question that a fault of the build does not touch.
var silentAtFault = []string{"check", "reach", "compare", "working", "fit"}

// alike are the ways to say --json.
var alike = [][]string{{"--as", "json"}, {"--json", "--as=json"}}

// commands are all that the help lists, with their names.
func commands(t *testing.T) map[string]*cobra.Command {
	t.Helper()
	status, all := 0, map[string]*cobra.Command{}
	for _, c := range rootCommand(&status, io.Discard).Commands() {
		if c.IsAvailableCommand() {
			all[c.Name()] = c
		}
	}
	require.Greater(t, len(all), 9)
	return all
}

// examplesOf are the arguments of a command's examples.
func examplesOf(t *testing.T, c *cobra.Command) [][]string {
	t.Helper()
	var all [][]string
	for line := range strings.Lines(c.Example) {
		line, _, _ = strings.Cut(strings.TrimSpace(line), " > ")
		var args []string
		for _, m := range regexp.MustCompile(`'([^']*)'|(\S+)`).FindAllStringSubmatch(line, -1) {
			args = append(args, m[1]+m[2])
		}
		require.Greater(t, len(args), 1, "%s: %q", c.Name(), line)
		require.Equal(t, []string{"needlewright", c.Name()}, args[:2], "an example of %s", c.Name())
		all = append(all, args[1:])
	}
	require.NotEmpty(t, all, "%s has no example in its help", c.Name())
	return all
}

// folderOfExamples is a folder with all files that the examples name: copies of the first example, but
// for those whose names the examples folder has.
func folderOfExamples(t *testing.T) {
	t.Helper()
	t.Chdir(t.TempDir())
	first, err := examples.Files.ReadFile(examples.First)
	require.NoError(t, err)
	for _, name := range []string{"mine.toml", "hers.toml", "ours.toml", "theirs.toml", "my-clock.toml", "clocks/one.toml"} {
		require.NoError(t, os.MkdirAll(filepath.Dir(name), 0o755))
		require.NoError(t, os.WriteFile(name, first, 0o644))
	}
	require.NoError(t, os.Mkdir("examples", 0o755))
	entries, err := examples.Files.ReadDir(".")
	require.NoError(t, err)
	for _, e := range entries {
		text, err := examples.Files.ReadFile(e.Name())
		require.NoError(t, err)
		for _, name := range []string{e.Name(), filepath.Join("examples", e.Name())} {
			require.NoError(t, os.WriteFile(name, text, 0o644))
		}
	}
}

// A result is what a run gave.
type result struct {
	status         int
	stdout, stderr string
}

// ran runs a command, with a text at standard input.
func ran(stdin string, args ...string) result {
	var stdout, stderr bytes.Buffer
	status := run(args, strings.NewReader(stdin), &stdout, &stderr)
	return result{status, stdout.String(), stderr.String()}
}

// printing is a command line that writes no file, or the same files each time.
func printing(args []string) []string {
	if slices.Contains(withoutPrinting, args[0]) {
		return append(slices.Clone(args), "--force")
	}
	var left []string
	for i := 0; i < len(args); i++ {
		if args[i] == "-o" || args[i] == "--answers" && args[0] == "sheet" {
			i++
			continue
		}
		left = append(left, args[i])
	}
	if slices.Contains(left, "yield") {
		left = append(left, "--kits", "1000")
	}
	return left
}

// builds are the places of arguments that are builds' files.
func builds(args []string) []int {
	var at []int
	for i, a := range args {
		if strings.HasSuffix(a, ".toml") && args[i-1] != "--for" {
			at = append(at, i)
		}
	}
	return at
}

// replaced is a copy of arguments with another one at a place.
func replaced(args []string, at int, by string) []string {
	c := slices.Clone(args)
	c[at] = by
	return c
}

// with is a command line with flags behind the command's name.
func with(args []string, flags ...string) []string {
	return slices.Concat(args[:1], flags, args[1:])
}

// The examples of the help work, from standard input as from a file.
func TestExamplesOfTheHelp(t *testing.T) {
	folderOfExamples(t)
	for name, c := range commands(t) {
		if slices.Contains(withoutRunning, name) || name == "completion" {
			continue
		}
		for _, args := range examplesOf(t, c) {
			args = printing(args)
			got := ran("no\n", args...)
			if name == "survey" { // ends early: nobody answers
				assert.NotEmpty(t, got.stdout, "%q", args)
				continue
			}
			assert.Less(t, got.status, cannotRun, "%q: %s", args, got.stderr)
			assert.Equal(t, slices.Contains(withoutPrinting, name), got.stdout == "", "%q", args)
			for _, at := range builds(args) {
				text, err := os.ReadFile(args[at])
				require.NoError(t, err)
				again := ran(string(text), replaced(args, at, "-")...)
				assert.Equal(t, got.status, again.status, "%q from standard input: %s", args, again.stderr)
				if name != "list" { // which says the file's name
					assert.Equal(t, got.stdout, again.stdout, "%q from standard input", args)
				}
			}
		}
	}
}

// Who does not take a build from standard input says why.
func TestNoBuildFromStandardInput(t *testing.T) {
	folderOfExamples(t)
	for name, reads := range withoutStandardInput {
		for _, args := range [][]string{{name, "-"}, {"-"}} {
			if name != "walk" && len(args) == 1 {
				continue
			}
			got := ran("", args...)
			assert.Equal(t, cannotRun, got.status, "%q", args)
			assert.Contains(t, got.stderr, reads, "%q", args)
			assert.Contains(t, got.stderr, "standard input", "%q", args)
		}
	}
}

// Who reads a build takes --set, and refuses one that changes nothing.
func TestEveryCommandTakesSet(t *testing.T) {
	folderOfExamples(t)
	for name, c := range commands(t) {
		if name == "completion" {
			continue
		}
		assert.Equal(t, !slices.Contains(withoutSet, name), c.Flag("set") != nil, "%s and --set", name)
		if c.Flag("set") == nil {
			continue
		}
		for _, args := range examplesOf(t, c) {
			args = printing(args)
			if len(builds(args)) == 0 {
				continue
			}
			for _, bad := range []string{"rail.nonsense=1", "rail.voltage", "rail.voltage=blue"} {
				got := ran("", with(args, "--set", bad)...)
				if name == "list" { // of which one that cannot be read is a row
					assert.Contains(t, got.stdout, "rail.", "%q --set %s", args, bad)
					continue
				}
				assert.Equal(t, cannotRun, got.status, "%q --set %s", args, bad)
				assert.Regexp(t, `error: .*--set `, got.stderr, "%q", args)
				assert.Empty(t, got.stdout, "%q", args)
			}
			good := ran("no\n", with(args, "--set", "title=Another title")...)
			if name != "survey" {
				assert.Less(t, good.status, cannotRun, "%q: %s", args, good.stderr)
			}
		}
	}
}

// --json is --as json; what --as may be stands in the help, and anything else is refused.
func TestJSONIsAsJSON(t *testing.T) {
	folderOfExamples(t)
	asked := 0
	for name, c := range commands(t) {
		if c.Flag("json") == nil && c.Flag("as") == nil {
			continue
		}
		require.NotNil(t, c.Flag("as"), "%s has --json and no --as", name)
		for _, args := range examplesOf(t, c)[:1] {
			args = slices.DeleteFunc(printing(args), func(a string) bool { return a == "--json" || a == "--starter" })
			if at := slices.Index(args, "--as"); at >= 0 {
				args = slices.Delete(args, at, at+2)
			}
			got := ran("", with(args, "--as", "papyrus")...)
			assert.Equal(t, cannotRun, got.status, "%q --as papyrus", args)
			assert.Contains(t, got.stderr, `error: --as "papyrus": allowed are `, "%q", args)
			assert.Empty(t, got.stdout)
			if c.Flag("json") == nil {
				continue
			}
			if c.Flag("answers") != nil { // the key alone is JSON
				args = append(slices.DeleteFunc(args, func(a string) bool { return a == "--answers" }), "--answers")
			}
			asked++
			one := ran("no\n", with(args, "--json")...)
			assert.Contains(t, one.stdout, "{", "%q", args)
			for _, a := range alike {
				assert.Equal(t, one, ran("no\n", with(args, a...)...), "%q --json and %q", args, a)
			}
			both := ran("no\n", with(args, "--json", "--as", c.Flag("as").DefValue)...)
			assert.Equal(t, cannotRun, both.status, "%q", args)
			assert.Contains(t, both.stderr, "error: --json is --as json", "%q", args)
		}
	}
	assert.Greater(t, asked, 8)
}

// With a build that has faults each exits as its help says, and none is silent about them
// that makes something of it.
func TestStatusAtAFault(t *testing.T) {
	folderOfExamples(t)
	const sick = "school-store.toml"
	for name, c := range commands(t) {
		if slices.Contains(withoutRunning, name) || slices.Contains([]string{"completion", "survey", "compare", "exercise"}, name) { // exercise takes seconds with this one
			continue
		}
		assert.Contains(t, c.Long, "xits with", "the help of %s does not say how it exits", name)
		args := printing(examplesOf(t, c)[0])
		if len(builds(args)) == 1 {
			args = replaced(args, builds(args)[0], sick)
		} else {
			args = []string{name, sick}
		}
		got := ran("", args...)
		if status, named := statusAtFault[name]; named {
			assert.Equal(t, status, got.status, "%q with faults: %s", args, got.stderr)
		}
		if slices.Contains(silentAtFault, name) {
			assert.Empty(t, got.stderr, "%q", args)
			continue
		}
		assert.Equal(t, fine, got.status, "%q with faults: %s", args, got.stderr)
		assert.Contains(t, got.stderr, "fault", "%q", args)
	}
}

// A file that is not there, or is none, is an error with a hint, and nothing is printed.
func TestFilesThatAreNotThere(t *testing.T) {
	folderOfExamples(t)
	for name, c := range commands(t) {
		if name == "completion" || name == "walk" || name == "list" { // walk begins a build, of list it is a row
			continue
		}
		for _, args := range examplesOf(t, c) {
			args = printing(args)
			for _, at := range builds(args) {
				for _, path := range []string{"nowhere.toml", "clocks"} {
					got := ran("", replaced(args, at, path)...)
					assert.Equal(t, cannotRun, got.status, "%q without its file", args)
					assert.Regexp(t, `^error: .*`+path+`(.|\n)*\nhint: `, got.stderr)
					assert.Empty(t, got.stdout)
				}
			}
		}
	}
}

// A slip in any command's name, with no such file, is told, and nothing is asked or begun.
func TestASlipInAnyCommand(t *testing.T) {
	folderOfExamples(t)
	for name := range commands(t) {
		for i := range name {
			slip := name[:i] + name[i+1:]
			if commands(t)[slip] != nil {
				continue
			}
			for _, args := range [][]string{{slip}, {slip, "reading-room.toml"}, {slip, "--json", "reading-room.toml"}} {
				got := ran("", args...)
				assert.Equal(t, cannotRun, got.status, "%q", args)
				assert.Contains(t, got.stderr, "did you mean ", "%q", args)
				assert.Contains(t, got.stderr, name, "%q", args)
				assert.Empty(t, got.stdout)
			}
		}
	}
}

// The help has each command in one group, in the order of the contract.
func TestGroupsOfTheHelp(t *testing.T) {
	help := ran("", "--help").stdout
	at := 0
	for _, part := range []string{
		"\nPlan:\n", "check ", "yield ", "reach ", "compare ", "working ", "\nMeters:\n", "survey ", "fit ", "\nPapers:\n", "papers ", "dial ", "codes ", "parts ", "circuit ", "sheet ", "\nTeach:\n", "walk ", "list ", "exercise ", "\nAdditional Commands:\n", "completion ",
	} {
		next := strings.Index(help[at:], part)
		require.GreaterOrEqual(t, next, 0, "%s in its place in\n%s", part, help)
		at += next
	}
	for name, c := range commands(t) {
		if name != "completion" && name != "help" {
			assert.NotEmpty(t, c.GroupID, "%s has no group", name)
		}
	}
}

// The README's table of commands is the help's: each once, in its order, in its words.
func TestReadmeHasEveryCommand(t *testing.T) {
	text := content(t, filepath.Join("..", "..", "README.md"))
	var want []string
	status := 0
	for _, c := range rootCommand(&status, io.Discard).Commands() {
		if c.IsAvailableCommand() && c.GroupID != "" {
			want = append(want, "| `"+strings.ReplaceAll(c.Use, "|", `\|`)+"` | "+c.Short+" |")
		}
	}
	var got []string
	_, table, found := strings.Cut(text, "\n## The commands\n")
	require.True(t, found)
	table, _, _ = strings.Cut(table, "\n## ")
	for line := range strings.Lines(table) {
		if strings.HasPrefix(line, "| `") {
			got = append(got, strings.TrimSpace(line))
		}
	}
	assert.Equal(t, strings.Join(want, "\n"), strings.Join(got, "\n"))
}
