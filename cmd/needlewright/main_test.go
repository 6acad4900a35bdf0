package main

import (
	"flag"
	"fmt"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/needlewright/examples"
)

// program is the built binary, made once for all tests that run it. It is a
// build of its own because the order in which packages are initialised, which
// the first frame's time hangs on, is another one in a test binary.
var program string

func TestMain(m *testing.M) { os.Exit(buildAndRun(m)) }

func buildAndRun(m *testing.M) int {
	folder, err := os.MkdirTemp("", "needlewright-test-")
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	defer func() { _ = os.RemoveAll(folder) }()
	program = filepath.Join(folder, "needlewright")
	if runtime.GOOS == "windows" {
		program += ".exe"
	}
	args := []string{"build", "-buildvcs=false", "-o", program}
	if underRace() {
		args = append(args, "-race") // whoever looks for races wants them found in the program
	}
	if out, err := exec.Command("go", append(args, ".")...).CombinedOutput(); err != nil {
		fmt.Fprintf(os.Stderr, "the program does not build: %v\n%s", err, out)
		return 1
	}
	// Whoever runs the tests under nohup ignores hangups, and what they start would too.
	signal.Notify(make(chan os.Signal, 1), syscall.SIGHUP)
	const beside = 4 // tests at a time that mostly wait for a terminal
	flag.Parse()
	if runtime.GOMAXPROCS(0) < beside {
		_ = flag.Set("test.parallel", strconv.Itoa(beside))
	}
	return m.Run()
}

// builtOtherwise makes the program that has the manual and fails at some keys, once for all
// tests that run it, and returns its path.
var builtOtherwise = sync.OnceValues(func() (string, error) {
	path := program + "-otherwise" + filepath.Ext(program)
	out, err := exec.Command("go", "build", "-buildvcs=false", "-tags", "panicking,manual", "-o", path, ".").CombinedOutput()
	if err != nil {
		return "", fmt.Errorf("%w\n%s", err, out)
	}
	return path, nil
})

// underRace says whether the tests themselves were built with -race.
func underRace() bool {
	info, _ := debug.ReadBuildInfo()
	for _, s := range info.Settings {
		if s.Key == "-race" {
			return s.Value == "true"
		}
	}
	return false
}

// build writes a copy of the first example, changed by pairs of old and new
// text, and returns its path.
func build(t testing.TB, changes ...string) string {
	t.Helper()
	text, err := examples.Files.ReadFile(examples.First)
	require.NoError(t, err)
	for i := 0; i < len(changes); i += 2 {
		require.Contains(t, string(text), changes[i])
	}
	path := filepath.Join(t.TempDir(), "clock.toml")
	require.NoError(t, os.WriteFile(path, []byte(strings.NewReplacer(changes...).Replace(string(text))), 0o644))
	return path
}

func content(t testing.TB, path string) string {
	t.Helper()
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	return string(text)
}
