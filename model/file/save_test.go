package file

import (
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// folder lists the names in a folder.
func folder(t *testing.T, path string) []string {
	t.Helper()
	entries, err := os.ReadDir(path)
	require.NoError(t, err)
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	return names
}

func textOf(t *testing.T, path string) string {
	t.Helper()
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	return string(text)
}

// saveAnyway is Save, and saveOver SaveOver, without a folder for recovery copies.
func saveAnyway(path, text string) error {
	_, err := Save(path, text, "")
	return err
}

func saveOver(path, text string, known Stamp) (Stamp, error) {
	saved, err := SaveOver(path, text, known, "")
	return saved.Stamp, err
}

func TestSaveNewAndOver(t *testing.T) {
	path := filepath.Join(t.TempDir(), "clock.toml")
	require.NoError(t, saveAnyway(path, "first\n"))
	require.NoError(t, saveAnyway(path, "second, µ\r\n\x00"))
	assert.Equal(t, "second, µ\r\n\x00", textOf(t, path))
	assert.Equal(t, []string{"clock.toml"}, folder(t, filepath.Dir(path)), "litter")
}

func TestSaveKeepsPermissions(t *testing.T) {
	path := filepath.Join(t.TempDir(), "clock.toml")
	for _, mode := range []os.FileMode{0o600, 0o640, 0o444} {
		require.NoError(t, os.WriteFile(path, []byte("old"), 0o600))
		require.NoError(t, os.Chmod(path, mode))
		require.NoError(t, saveAnyway(path, "new"))
		info, err := os.Stat(path)
		require.NoError(t, err)
		assert.Equal(t, mode, info.Mode().Perm())
		assert.Equal(t, "new", textOf(t, path))
		require.NoError(t, os.Remove(path))
	}
}

func TestSaveThroughLinks(t *testing.T) {
	for _, absolute := range []bool{false, true} {
		for _, there := range []bool{false, true} {
			here := t.TempDir()
			require.NoError(t, os.Mkdir(filepath.Join(here, "far"), 0o755))
			target, link := filepath.Join(here, "far", "clock.toml"), filepath.Join(here, "link.toml")
			if there {
				require.NoError(t, os.WriteFile(target, []byte("old"), 0o600))
			}
			points := filepath.Join("far", "clock.toml")
			if absolute {
				points = target
			}
			require.NoError(t, os.Symlink(points, link))
			require.NoError(t, saveAnyway(link, "new"))
			kept, err := os.Readlink(link)
			require.NoError(t, err, "the link became a file")
			assert.Equal(t, points, kept)
			assert.Equal(t, "new", textOf(t, target))
			assert.Equal(t, []string{"far", "link.toml"}, folder(t, here))
			assert.Equal(t, []string{"clock.toml"}, folder(t, filepath.Dir(target)))
		}
	}
}

// What cannot be saved leaves all as it was. None of these depends on
// permissions, which do not bind every user.
func TestSaveFails(t *testing.T) {
	here := t.TempDir()
	file, inside := filepath.Join(here, "file"), filepath.Join(here, "folder", "keep")
	require.NoError(t, os.WriteFile(file, []byte("old"), 0o600))
	require.NoError(t, os.Mkdir(filepath.Dir(inside), 0o755))
	require.NoError(t, os.WriteFile(inside, []byte("old"), 0o600))
	loop := filepath.Join(here, "loop")
	require.NoError(t, os.Symlink("loop", loop))
	for name, path := range map[string]string{
		"through a file": filepath.Join(file, "clock.toml"), "no such folder": filepath.Join(here, "none", "clock.toml"),
		"a folder itself": filepath.Dir(inside), "a link to itself": loop, "no name": "",
	} {
		assert.Error(t, saveAnyway(path, "new"), name)
	}
	assert.Equal(t, "old", textOf(t, file))
	assert.Equal(t, "old", textOf(t, inside))
	assert.Equal(t, []string{"file", "folder", "loop"}, folder(t, here))
	assert.Equal(t, []string{"keep"}, folder(t, filepath.Dir(inside)))
}

func TestSaveWhereNothingMayBeWritten(t *testing.T) {
	here := t.TempDir()
	path := filepath.Join(here, "clock.toml")
	require.NoError(t, os.WriteFile(path, []byte("old"), 0o600))
	require.NoError(t, os.Chmod(here, 0o500))
	t.Cleanup(func() { _ = os.Chmod(here, 0o700) })
	if probe := os.WriteFile(filepath.Join(here, "probe"), nil, 0o600); probe == nil {
		t.Skip("this user may write everywhere: see TestSaveFails")
	}
	assert.Error(t, saveAnyway(path, "new"))
	assert.Equal(t, "old", textOf(t, path))
	assert.Equal(t, []string{"clock.toml"}, folder(t, here))
}

// A reader at the same time sees the one text or the other, never a part.
func TestSaveNeverHalf(t *testing.T) {
	path := filepath.Join(t.TempDir(), "clock.toml")
	texts := []string{strings.Repeat("a", 100_000), strings.Repeat("b", 70_000)}
	require.NoError(t, saveAnyway(path, texts[0]))
	stop := make(chan struct{})
	var reader sync.WaitGroup
	reads, halves := 0, 0
	reader.Go(func() {
		for {
			select {
			case <-stop:
				return
			default:
			}
			got, err := os.ReadFile(path)
			if reads++; err != nil || string(got) != texts[0] && string(got) != texts[1] {
				halves++
			}
		}
	})
	for i := range 40 {
		require.NoError(t, saveAnyway(path, texts[i%2]))
	}
	close(stop)
	reader.Wait()
	assert.Positive(t, reads)
	assert.Zero(t, halves, "of %d reads", reads)
}
