package main

import (
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What a shell would ask, cobra's way: a command that completes, then the line so far.
func offered(t *testing.T, line ...string) (words []string, directive string) {
	t.Helper()
	got := ran("", append([]string{cobra.ShellCompNoDescRequestCmd}, line...)...)
	require.Equal(t, fine, got.status, got.stderr)
	lines := strings.Split(strings.TrimSpace(got.stdout), "\n")
	return lines[:len(lines)-1], lines[len(lines)-1]
}

// What each place of a line offers. The directives are cobra's: 4 no files, 8 files by
// these endings, 2 no space, 32 in this order.
func TestWhatIsOffered(t *testing.T) {
	folderOfExamples(t)
	for _, c := range []struct {
		line      []string
		words     string // the first ones
		directive string
	}{
		{[]string{"w"}, "working walk", ":4"},
		{[]string{"m"}, "mine.toml my-clock.toml", ":8"}, // no command: files by their ending
		{[]string{"examples/"}, "toml", ":8"},
		{[]string{"check", ""}, "toml", ":8"},
		{[]string{"check", "mine.toml", ""}, "", ":4"},
		{[]string{"compare", "mine.toml", ""}, "toml", ":8"},
		{[]string{"compare", "mine.toml", "hers.toml", ""}, "", ":4"},
		{[]string{"list", "mine.toml", "hers.toml", ""}, "toml", ":8"},
		{[]string{"fit", ""}, "toml csv tsv", ":8"},
		{[]string{"fit", "drawer.csv", "--for", ""}, "toml", ":8"},
		{[]string{"fit", "drawer.csv", "--for", "station-platform.toml", "--hand", ""}, "hours minutes seconds", ":36"},
		{[]string{"survey", "mine.toml", "--hand", ""}, "hours", ":36"},
		{[]string{"working", "mine.toml", "hours.trimmer_s"}, "hours.trimmer_setting hours.trimmer_share", ":36"},
		{[]string{"working", "mine.toml", "--hand", "h"}, "hours", ":36"},
		{[]string{"reach", "mine.toml", "crystal.ra"}, "crystal.rate", ":36"},
		{[]string{"reach", "mine.toml", "crystal.rate", ""}, "", ":4"},
		{[]string{"reach", "mine.toml", "--change", "hand.hours.drive.f"}, "hand.hours.drive.fixed", ":36"},
		{[]string{"check", "mine.toml", "--set", "battery.ce"}, "battery.cell= battery.cells=", ":38"},
		{[]string{"check", "mine.toml", "--set", "hand.hours.noon="}, "hand.hours.noon=top hand.hours.noon=zero", ":36"},
		{[]string{"check", "--set", "battery.ce"}, "", ":4"}, // of which build?
		{[]string{"check", "nowhere.toml", "--set", "battery.ce"}, "", ":4"},
		{[]string{"yield", "mine.toml", "--kits", ""}, "", ":4"},
		{[]string{"list", "--as", ""}, "text csv json", ":4"},
		{[]string{"exercise", "mine.toml", "-o", ""}, "toml html", ":8"},
		{[]string{"dial", "mine.toml", "--paper", ""}, "a4 letter a3", ":4"},
		{[]string{"papers", "mine.toml", "--paper", ""}, "a4 letter a3", ":4"},
		{[]string{"--theme", ""}, "dark light", ":4"},
	} {
		words, directive := offered(t, c.line...)
		if c.line[0] == "m" {
			c.words = "toml"
		}
		assert.Equal(t, c.directive, directive, "%q", c.line)
		want := strings.Fields(c.words)
		require.GreaterOrEqual(t, len(words), len(want), "%q offers %q", c.line, words)
		assert.Equal(t, strings.Join(want, " "), strings.Join(words[:len(want)], " "), "%q", c.line)
		if len(want) == 0 {
			assert.Empty(t, words, "%q", c.line)
		}
	}
}

// Beside the commands stand the builds of the folder.
func TestCommandsAndFilesAreOffered(t *testing.T) {
	t.Chdir(t.TempDir())
	for _, name := range []string{"clock.toml", "church.toml", "cat.txt"} {
		require.NoError(t, os.WriteFile(name, nil, 0o644))
	}
	words, directive := offered(t, "c")
	assert.Equal(t, []string{"check", "compare", "codes", "circuit", "completion", "church.toml", "clock.toml"}, words)
	assert.Equal(t, ":4", directive)
	words, _ = offered(t, "clock.toml", "")
	assert.Empty(t, words, "the dashboard opens one file")
}

// Every flag of every command that takes a value says what it may be, or that no file is
// meant; a new one does so as soon as it is there.
func TestEveryFlagOffersSomething(t *testing.T) {
	n := 0
	for name, c := range commands(t) {
		if name == "completion" {
			continue
		}
		assert.NotNil(t, c.ValidArgsFunction, name)
		c.Flags().VisitAll(func(f *pflag.Flag) {
			if f.NoOptDefVal != "" || f.Annotations != nil {
				return
			}
			_, known := c.GetFlagCompletionFunc(f.Name)
			assert.True(t, known, "%s --%s", name, f.Name)
			n++
		})
	}
	assert.Greater(t, n, 20)
}

// A hand's name that a terminal would obey is offered without that.
func TestWhatIsOfferedSendsNoControls(t *testing.T) {
	path := build(t, `name = "hours"`, `name = "h\u001b[31m\u009b"`)
	got := ran("", cobra.ShellCompNoDescRequestCmd, "check", path, "--set", "")
	assert.NotContains(t, got.stdout, "\x1b")
	assert.NotContains(t, got.stdout, "\u009b")
	assert.Contains(t, got.stdout, "rail.voltage=")
}

// A shell that has the script completes by it: the paths of --set up to the =, so that
// typing goes on behind it, and what stands behind it.
func TestCompletionInAShell(t *testing.T) {
	bash, err := exec.LookPath("bash")
	if err != nil {
		t.Skip("there is no bash")
	}
	folderOfExamples(t)
	var script strings.Builder
	require.Equal(t, fine, run([]string{"completion", "bash"}, nil, &script, io.Discard))
	require.NoError(t, os.WriteFile("script", []byte(script.String()), 0o644))
	for line, want := range map[string]string{
		"needlewright wo": "working",
		"needlewright working mine.toml hours.trimmer_sett":                "hours.trimmer_setting",
		"needlewright check mine.toml --set hand.hours.drive.fi":           "hand.hours.drive.fixed=",
		"needlewright reach mine.toml --change hand.hours.meter.co":        "hand.hours.meter.coil hand.hours.meter.coil_copper",
		"needlewright working station-platform.toml --hand m":              "minutes",
		"needlewright check mine.toml --set hand.hours.drive.capacitor_at": "hand.hours.drive.capacitor_at=",
	} {
		words := strings.Fields(line)
		// What bash does at tab: the line, its words and where the cursor stands. The
		// function that finds the word is that of bash-completion, without which no such
		// script works; here is no more of it than one line needs.
		c := exec.Command(bash, "--norc", "-c", `source ./script
			compopt() { :; }
			_get_comp_words_by_ref() { words=("${COMP_WORDS[@]}"); cword=$COMP_CWORD; cur=${words[cword]}; prev=${words[cword-1]}; }
			COMP_LINE=$1; COMP_POINT=${#1}; shift
			COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1)); COMP_TYPE=9; COMP_KEY=9
			__start_needlewright
			echo ${COMPREPLY[*]}`, "bash", line)
		c.Args = append(c.Args, words...)
		c.Env = append(os.Environ(), "PATH="+filepath.Dir(program)+string(os.PathListSeparator)+os.Getenv("PATH"))
		out, err := c.CombinedOutput()
		require.NoError(t, err, "%s", out)
		assert.Equal(t, want, strings.TrimSpace(string(out)), "%s", line)
	}
}

// The scripts of all shells come whole, and are the same each time.
func TestCompletionScripts(t *testing.T) {
	for _, shell := range []string{"bash", "zsh", "fish", "powershell"} {
		one := ran("", "completion", shell)
		assert.Equal(t, fine, one.status)
		assert.Empty(t, one.stderr)
		assert.Contains(t, one.stdout, "needlewright", shell)
		assert.NotContains(t, one.stdout, "\uFFFD", "%s: all characters are there", shell)
		assert.Equal(t, one, ran("", "completion", shell), shell)
	}
}
