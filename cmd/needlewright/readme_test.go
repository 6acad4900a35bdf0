package main

import (
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A step is one command of a session in a text, and the lines below it.
type step struct {
	command string
	output  []string
}

// steps are the commands in a text's blocks that begin with ```console.
func steps(markdown string) []step {
	var all []step
	inside, open := false, false // in a block; below a command
	for line := range strings.Lines(markdown) {
		line = strings.TrimRight(line, "\r\n")
		command, isCommand := strings.CutPrefix(line, "$ ")
		switch {
		case strings.HasPrefix(line, "```"):
			inside, open = !inside && line == "```console", false
		case !inside:
		case isCommand:
			all, open = append(all, step{command: command}), true
		case open:
			last := &all[len(all)-1]
			last.output = append(last.output, line)
		}
	}
	return all
}

// matches says whether got is as want says, where a line ... of want stands for
// any lines or none.
func matches(want, got []string) bool {
	switch {
	case len(want) == 0:
		return len(got) == 0
	case want[0] == "...":
		for i := range len(got) + 1 {
			if matches(want[1:], got[i:]) {
				return true
			}
		}
		return false
	}
	return len(got) > 0 && want[0] == got[0] && matches(want[1:], got[1:])
}

// runnable is how the commands begin that the test runs: those that print and end.
const runnable = "go run ./cmd/needlewright check"

// isRunnable says whether a command is one of those.
func isRunnable(command string) bool {
	for _, name := range []string{"check", "working", "list", "compare", "reach"} {
		if strings.HasPrefix(command, "go run ./cmd/needlewright "+name+" ") {
			return true
		}
	}
	return false
}

// output runs a command of the README as "go run" would, in the root, and gives
// what it prints on both outputs.
func output(t *testing.T, command string) []string {
	t.Helper()
	require.False(t, strings.ContainsAny(command, `'"|;<>&$\`), "this test runs no shell: write %q without quotes and pipes", command)
	c := exec.Command(program, strings.Fields(command)[3:]...)
	c.Dir = filepath.Join("..", "..")
	out, err := c.CombinedOutput()
	text := string(out)
	if exit := (*exec.ExitError)(nil); errors.As(err, &exit) {
		text += exit.String() + "\n" // "exit status 1": go run ends so
	} else {
		require.NoError(t, err)
	}
	if text == "" {
		return nil
	}
	return strings.Split(strings.TrimSuffix(text, "\n"), "\n")
}

// TestReadmeSession runs the README's session and compares what it prints.
func TestReadmeSession(t *testing.T) {
	text, err := os.ReadFile(filepath.Join("..", "..", "README.md"))
	require.NoError(t, err)
	ran := 0
	for _, s := range steps(string(text)) {
		if !isRunnable(s.command) {
			continue
		}
		ran++
		if got := output(t, s.command); !matches(s.output, got) {
			assert.Equal(t, strings.Join(s.output, "\n"), strings.Join(got, "\n"), "$ %s", s.command)
		}
	}
	assert.NotZero(t, ran, "README.md has no ```console block with a line $ %s ...", runnable)
}

func TestSteps(t *testing.T) {
	text := strings.Join([]string{
		"# Clocks", "$ not in a block", "```go", "$ not a console", "```",
		"```console", "before any command", "$ one", "a", "", "b", "$ two", "```", "between",
		"```console", "$ three", "c", "```", "after",
	}, "\n")
	assert.Equal(t, []step{
		{"one", []string{"a", "", "b"}}, {"two", nil}, {"three", []string{"c"}},
	}, steps(text))
}

func TestMatches(t *testing.T) {
	got := []string{"a", "b", "c"}
	for _, want := range []string{"a b c", "...", "... c", "a ...", "a ... c", "a ... b c", "... b ...", "a b c ...", "... ..."} {
		assert.True(t, matches(strings.Fields(want), got), want)
	}
	for _, want := range []string{"", "a", "a b", "a b c d", "... b", "b ...", "a ... d", "c ... a", "a ... b"} {
		assert.False(t, matches(strings.Fields(want), got), want)
	}
	assert.True(t, matches(nil, nil))
}

// A session as a README would have it, through all of the above: the verdict on
// an example, a blank line and what follows; the last line of a build with
// faults is that of go run.
func TestASession(t *testing.T) {
	s := steps("```console\n$ " + runnable + " examples/harbour-office.toml\nHarbour-office night clock: Sound: only 5 notes.\n\n...\n" +
		"$ " + runnable + " examples/school-store.toml\n...\nexit status 1\n```\n")
	require.Len(t, s, 2)
	for _, step := range s {
		got := output(t, step.command)
		assert.True(t, matches(step.output, got), "%s:\n%s", step.command, strings.Join(got, "\n"))
	}
	assert.False(t, matches(s[1].output, output(t, s[0].command)))
}
