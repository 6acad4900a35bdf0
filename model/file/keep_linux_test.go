package file

import (
	"os"
	"path/filepath"
	"runtime"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/sys/unix"
)

// nobodyID is the person without rights that Linux systems have.
const nobodyID = 65534

// asNobody makes the rest of a test, if root runs it, touch files as a person
// without rights would; the paths become theirs.
func asNobody(t *testing.T, paths ...string) {
	t.Helper()
	if os.Geteuid() != 0 {
		return
	}
	for _, path := range paths {
		require.NoError(t, os.Chmod(filepath.Dir(path), 0o755))
		require.NoError(t, os.Chown(path, nobodyID, nobodyID))
	}
	runtime.LockOSThread() // the next lines are of this thread alone
	require.NoError(t, unix.Setfsgid(nobodyID))
	require.NoError(t, unix.Setfsuid(nobodyID))
	t.Cleanup(func() {
		_ = unix.Setfsuid(0)
		_ = unix.Setfsgid(0)
		runtime.UnlockOSThread()
	})
}

// A file of another owner, who lets everybody write it, stays theirs; one that
// may only be replaced becomes the person's own, and that is said.
func TestSaveOfAnothersFile(t *testing.T) {
	if os.Geteuid() != 0 {
		t.Skip("only root may give files away")
	}
	here, dir := t.TempDir(), t.TempDir()
	open, closed := filepath.Join(here, "open.toml"), filepath.Join(here, "closed.toml")
	put(t, open, "old")
	put(t, closed, "old")
	require.NoError(t, os.Chmod(open, 0o666))
	asNobody(t, here, dir)
	ownerOf := func(path string) uint32 {
		info, err := os.Stat(path)
		require.NoError(t, err)
		return info.Sys().(*syscall.Stat_t).Uid
	}
	saved, err := Save(open, "new", dir)
	require.NoError(t, err)
	assert.Empty(t, saved.Note)
	assert.Equal(t, "new", textOf(t, open))
	assert.Zero(t, ownerOf(open))

	saved, err = Save(closed, "new", dir)
	require.NoError(t, err)
	assert.Contains(t, saved.Note, "its owner and group could not be kept: the file itself cannot be written (permission denied).")
	assert.Equal(t, "new", textOf(t, closed))
	assert.EqualValues(t, nobodyID, ownerOf(closed))
	assert.Equal(t, []string{"closed.toml", "open.toml"}, folder(t, here), "litter")
	assert.Empty(t, folder(t, dir), "litter")
}
