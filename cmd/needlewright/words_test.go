package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime/debug"
	"strings"
	"syscall"
	"testing"
	"time"
	"unicode"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A fullDisk takes some bytes and no more.
type fullDisk struct {
	left int
	err  error
}

func (f *fullDisk) Write(b []byte) (int, error) {
	n := min(len(b), f.left)
	f.left -= n
	if n < len(b) {
		return n, f.err
	}
	return n, nil
}

// Whatever a command was to print and could not is a failure, with a sentence; a
// reader that has enough is none.
func TestWhatIsNotPrintedWholeFails(t *testing.T) {
	path := build(t)
	for _, args := range [][]string{
		{"check", path}, {"check", "--json", path}, {"yield", "--kits", "1000", path}, {"yield", "--kits", "1000", "--json", path},
		{"--help"}, {"check", "--help"}, {"help", "yield"}, {"--version"},
	} {
		for _, room := range []int{0, 10} {
			var stderr bytes.Buffer
			status := run(args, nil, &fullDisk{room, fmt.Errorf("write /dev/stdout: %w", syscall.ENOSPC)}, &stderr)
			assert.Equal(t, cannotRun, status, "%v", args)
			assert.Regexp(t, `^error: .*not be written whole: .*\nhint: .*make room`, stderr.String(), "%v", args)

			stderr.Reset()
			status = run(args, nil, &fullDisk{room, fmt.Errorf("write |1: %w", syscall.EPIPE)}, &stderr)
			assert.Equal(t, fine, status, "%v", args)
			assert.Empty(t, stderr.String(), "%v", args)
		}
		assert.Equal(t, fine, run(args, nil, &bytes.Buffer{}, io.Discard), "%v", args)
	}
}

// So it is of what is no text.
func TestAPictureThatIsNotPrintedWholeFails(t *testing.T) {
	for _, as := range []string{"png", "pdf"} {
		var stderr bytes.Buffer
		args := []string{"dial", "--as", as, "-o", "-", build(t)}
		assert.Equal(t, cannotRun, run(args, nil, &fullDisk{10, fmt.Errorf("write /dev/stdout: %w", syscall.ENOSPC)}, &stderr), as)
		assert.Regexp(t, `error: .*not be written whole: .*\nhint: .*make room`, stderr.String(), as)
		assert.Equal(t, fine, run(args, nil, &fullDisk{10, fmt.Errorf("write |1: %w", syscall.EPIPE)}, io.Discard), as)
	}
}

// The same with a device that is always full, and the built program.
func TestADeviceThatIsFull(t *testing.T) {
	full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
	if err != nil {
		t.Skip("this system has none")
	}
	defer full.Close()
	var stderr bytes.Buffer
	assert.Equal(t, cannotRun, run([]string{"check", build(t)}, nil, full, &stderr))
	assert.Contains(t, stderr.String(), "no space left on device")
}

// hostile are characters that no text of the program's may hold: a control of each
// kind, and marks of direction (UAX #9, table 3).
const hostile = "\x1b[31m\a\r\n\u009b31m\u202e\u2066\u200f\u061c"

// What comes from outside reaches the terminal only as characters one can see, in
// one line, by whatever way: the name of a file, in the error as in the hint, a word,
// a flag, a value.
func TestNothingFromOutsideIsObeyed(t *testing.T) {
	folder := t.TempDir()
	broken := filepath.Join(folder, "b"+hostile+".toml")
	if err := os.WriteFile(broken, []byte("x = 1\n"), 0o644); err != nil {
		t.Skip("this system has no such names")
	}
	sound := filepath.Join(folder, "s"+hostile+".toml")
	require.NoError(t, os.WriteFile(sound, []byte(strings.Replace(content(t, build(t)), "Reading-room", "a\\u001b[31m\\u202e\\n", 1)), 0o644))
	for _, args := range [][]string{
		{"check", broken}, {"check", "--set", "rail.voltage=5", broken}, {"yield", broken}, {"check", filepath.Join(folder, "n"+hostile)},
		{"check", "--set", hostile, sound}, {"check", "--set", hostile + "=1", sound}, {"check", "--set", "rail.voltage=" + hostile, sound},
		{"check", sound}, {"check", "--json", sound}, {"yield", "--kits", "100", sound}, {"yield", "--kits", "100", "--json", sound},
		{"yield", "--kits", hostile, sound}, {"check", "--" + hostile}, {"--" + hostile}, {"-" + hostile}, {hostile}, {"chec" + hostile}, {hostile, hostile},
		{"help", hostile}, {"--theme", hostile}, {broken}, {filepath.Join(folder, hostile, "x")},
	} {
		var stdout, stderr bytes.Buffer
		run(args, nil, &stdout, &stderr)
		assert.NotEmpty(t, stdout.String()+stderr.String(), "%q", args)
		for _, r := range stdout.String() + stderr.String() {
			if r != '\n' && !unicode.IsGraphic(r) {
				assert.Fail(t, "sent", "%q: %q in %q", args, r, stdout.String()+stderr.String())
				break
			}
		}
		for line := range strings.Lines(stderr.String()) {
			assert.Regexp(t, `^(error|hint|.*toml): `, line, "%q", args)
		}
	}
}

// Few of many problems are printed, and the rest is counted, with --set too.
func TestManyProblemsAreCounted(t *testing.T) {
	path := filepath.Join(t.TempDir(), "many.toml")
	var text strings.Builder
	for i := range 20_000 {
		fmt.Fprintf(&text, "key%d = 1\n", i)
	}
	require.NoError(t, os.WriteFile(path, []byte(text.String()+content(t, build(t))), 0o644))
	begun := time.Now()
	for _, args := range [][]string{{"check", path}, {"yield", path}, {"check", "--set", "rail.voltage=5", path}} {
		var stdout, stderr bytes.Buffer
		assert.Equal(t, cannotRun, run(args, nil, &stdout, &stderr))
		lines := strings.Split(strings.TrimSpace(stderr.String()), "\n")
		require.Len(t, lines, 50+1+2) // and the error and the hint
		assert.Equal(t, path+": and 19950 more", lines[50])
		assert.Contains(t, lines[51], " has 20000 problems")
	}
	assert.Less(t, time.Since(begun), 10*time.Second)
}

// What the version says, of how the program may have been built.
func TestVersion(t *testing.T) {
	const path = "example.com/needlewright"
	for _, c := range []struct {
		version string
		set     []debug.BuildSetting
		want    string
	}{
		{"", nil, "devel"},
		{"(devel)", nil, "devel"},
		{"v1.2.3", nil, "v1.2.3"},
		{"(devel)", []debug.BuildSetting{{Key: "vcs.revision", Value: "0123abc"}, {Key: "vcs.modified", Value: "false"}}, "devel, revision 0123abc"},
		{"(devel)", []debug.BuildSetting{{Key: "vcs.revision", Value: "0123abc"}, {Key: "vcs.modified", Value: "true"}}, "devel, revision 0123abc and changes to it"},
	} {
		info := &debug.BuildInfo{Path: path, Main: debug.Module{Path: path, Version: c.version}, Settings: c.set}
		assert.Equal(t, c.want, versionOf(info))
	}
	var stdout bytes.Buffer
	require.Equal(t, fine, run([]string{"--version"}, nil, &stdout, io.Discard))
	assert.Regexp(t, `^needlewright version \S.*\n$`, stdout.String())
	assert.NotContains(t, stdout.String(), string(os.PathSeparator))

	release = "v1.2.3"
	defer func() { release = "" }()
	assert.Equal(t, "needlewright version v1.2.3\n", ran("", "--version").stdout)
}

// A build begins where it is meant, and a slip in a command begins none.
func TestMistyped(t *testing.T) {
	t.Chdir(t.TempDir())
	require.NoError(t, os.WriteFile("yields", nil, 0o644))
	for word, want := range map[string]string{
		"chek": "did you mean check?", "ckeck": "did you mean check?", "Check": "did you mean check?", "yiled": "did you mean yield?",
		"newclock": "a new build begins with  needlewright newclock.toml", "export": "--help lists the commands",
	} {
		for _, args := range [][]string{{word}, {word, "FILE"}, {word, "--json", "FILE"}, {"--ascii", word}} {
			var stderr bytes.Buffer
			assert.Equal(t, cannotRun, run(args, nil, io.Discard, &stderr))
			assert.Contains(t, stderr.String(), "error: "+word+" is no command, and there is no file of this name\n")
			assert.Contains(t, stderr.String(), want)
		}
	}
	for _, word := range []string{"newclock.toml", "chek.toml", "chek.TOML", "." + string(os.PathSeparator) + "chek", "yields"} {
		var stderr bytes.Buffer
		run([]string{word}, nil, io.Discard, &stderr)
		assert.NotContains(t, stderr.String(), "is no command", word)
	}
	entries, err := os.ReadDir(".")
	require.NoError(t, err)
	assert.Len(t, entries, 1, "nothing is left behind")
	var f *failure
	assert.False(t, errors.As(mistyped(dashboardCommand(), nil), &f), "no word at all is none")
}
