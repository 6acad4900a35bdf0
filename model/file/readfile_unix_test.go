//go:build unix

package file

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/sys/unix"
)

// pipe makes a pipe with a name, which nobody writes into.
func pipe(t *testing.T, path string) {
	t.Helper()
	require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o755))
	require.NoError(t, unix.Mkfifo(path, 0o600))
}

func TestReadFileOfDevices(t *testing.T) {
	here := t.TempDir()
	pipe(t, filepath.Join(here, "pipe.toml"))
	require.NoError(t, os.Symlink("/dev/zero", filepath.Join(here, "link.toml")))
	for path, want := range map[string]string{
		"/dev/zero": "a device", filepath.Join(here, "pipe.toml"): "a pipe", filepath.Join(here, "link.toml"): "a device",
	} {
		inTime(t, path, func() {
			_, _, err := ReadFile(path)
			assert.ErrorContains(t, err, "is no file but "+want)
			_, err = stampOf(path)
			assert.ErrorContains(t, err, "is no file but "+want)
			assert.Empty(t, titleOf(path))
			for _, save := range []func() error{
				func() error { return saveAnyway(path, "mine") },
				func() error { _, err := saveOver(path, "mine", Stamp{}); return err },
			} {
				assert.ErrorContains(t, save(), "is no file but "+want)
			}
		})
	}
	info, err := os.Stat("/dev/zero")
	require.NoError(t, err)
	assert.False(t, info.Mode().IsRegular(), "it was written over")
}

// What takes the name of a recovery copy and is none is not waited for either.
func TestOfferOfDevices(t *testing.T) {
	dir, path := t.TempDir(), filepath.Join(t.TempDir(), "clock.toml")
	pipe(t, former(dir, path, "a").file())
	sparse(t, former(dir, path, "b").file(), 1<<30)
	leave(t, former(dir, path, "c"), "left", 1)
	inTime(t, dir, func() {
		for _, look := range []func() ([]Copy, error){
			func() ([]Copy, error) { return RecoveryFor(dir, path).Offer("") },
			func() ([]Copy, error) { return Stray(dir) },
		} {
			got, err := look()
			assert.ErrorContains(t, err, former(dir, path, "a").file()+" is damaged")
			assert.ErrorContains(t, err, former(dir, path, "b").file()+" is damaged")
			assert.Equal(t, []string{"left"}, textsOf(got))
		}
	})
}
