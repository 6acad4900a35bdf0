//go:build unix

package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/sys/unix"
)

// Work on a build whose file is not there yet, or no more, is offered: at the next
// start on its path, and at one without a file.
func TestWorkWithoutAFileIsOffered(t *testing.T) {
	for name, path := range map[string]func(t *testing.T) string{
		"new":     func(t *testing.T) string { return filepath.Join(t.TempDir(), "new.toml") },
		"deleted": func(t *testing.T) string { return build(t) },
	} {
		for _, bare := range []bool{false, true} {
			t.Run(name, func(t *testing.T) {
				t.Parallel()
				usual := setting{env: []string{"XDG_STATE_HOME=" + t.TempDir()}}
				file := path(t)
				x := start(t, usual, file)
				if name == "new" {
					for _, asked := range [][2]string{
						{"where from", "\r"}, {"its dial", "\r"}, {"full scale", "500 uA\r"}, {"coil", "640\r"}, {"rail", "\r"}, {"cells", "\r"},
					} {
						x.waitFor("New build: " + asked[0])
						x.typed(asked[1])
					}
				}
				x.waitForResult(coilAtFullScale, "320.0 mV") // 640 Ω · 500 µA
				x.typed(ctrlU + "712")
				x.waitForResult(coilAtFullScale, "356.0 mV") // 712 Ω · 500 µA
				if name == "deleted" {
					require.NoError(t, os.Remove(file))
				}
				require.NoError(t, x.command.Process.Signal(unix.SIGHUP))
				x.exit()

				args := []string{file}
				if bare {
					args = nil
				}
				x = start(t, usual, args...)
				x.waitFor("Unsaved work was found")
				x.typed("\r")
				x.waitForResult(coilAtFullScale, "356.0 mV")
				x.typed(ctrlS)
				x.waitFor("Saved")
				assert.Contains(t, content(t, file), `"712 Ω ±`)
				x.typed(ctrlQ)
				x.exit()
			})
		}
	}
}

// What is no build's file is refused in a sentence, by check as by the dashboard,
// and none of it is waited for.
func TestRefusesWhatIsNoBuild(t *testing.T) {
	here := t.TempDir()
	pipe, large, folder, binary := filepath.Join(here, "pipe"), filepath.Join(here, "large"), filepath.Join(here, "folder"), filepath.Join(here, "binary")
	require.NoError(t, unix.Mkfifo(pipe, 0o600))
	require.NoError(t, os.WriteFile(large, nil, 0o600))
	require.NoError(t, os.Truncate(large, 1<<30))
	require.NoError(t, os.Mkdir(folder, 0o700))
	require.NoError(t, os.WriteFile(binary, []byte("\x7fELF\x00\xff"), 0o600))
	for path, want := range map[string]string{
		"/dev/zero": "is no file but a device", pipe: "is no file but a pipe", large: "holds 1024 MiB, a build's file at most 4 MiB",
		folder: "is no file but a folder", binary: "holds a zero byte",
	} {
		// Memory and time are bounded for the sake of those who run the tests.
		c := exec.Command("sh", "-c", "ulimit -v 4000000; exec \"$0\" check \"$1\"", program, path)
		var stderr strings.Builder
		c.Stderr = &stderr
		require.NoError(t, c.Start())
		stop := time.AfterFunc(10*time.Second, func() { _ = c.Process.Kill() })
		_ = c.Wait() // its status says more
		stop.Stop()
		assert.Equal(t, cannotRun, c.ProcessState.ExitCode(), path)
		assert.Contains(t, stderr.String(), "error: ", path)
		assert.Contains(t, stderr.String(), want, path)

		x := start(t, setting{}, path)
		assert.Equal(t, cannotRun, x.exit().ExitCode(), path)
		assert.Contains(t, strings.Join(strings.Fields(x.text()), ""), strings.Join(strings.Fields(want), ""), path)
	}
	x := start(t, setting{}, build(t))
	x.waitFor("Reading-room clock")
	for _, path := range []string{"/dev/zero", pipe, large} {
		x.typed("\x0f" + path + "\r") // ctrl+o
		x.waitFor("Not opened: ")
		x.typed(down)
	}
}
