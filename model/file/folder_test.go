package file

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// inFolder is what stands in a folder.
func inFolder(t *testing.T, path string) map[string]string {
	t.Helper()
	held := map[string]string{}
	entries, err := os.ReadDir(path)
	require.NoError(t, err)
	for _, e := range entries {
		text, err := os.ReadFile(filepath.Join(path, e.Name()))
		if err != nil {
			text = []byte("a folder")
		}
		held[e.Name()] = string(text)
	}
	return held
}

// Files come into a folder all or none, fresh, beside others and over others; nothing else is
// left anywhere.
func TestSaveFolderWritesAllOrNone(t *testing.T) {
	home := t.TempDir()
	path := filepath.Join(home, "papers")
	one := []Named{{"a.txt", "1"}, {"b.txt", "2"}}
	require.NoError(t, SaveFolder(path, one, false))
	assert.Equal(t, map[string]string{"a.txt": "1", "b.txt": "2"}, inFolder(t, path))

	other := []Named{{"c.txt", "3"}, {"b.txt", "4"}}
	require.ErrorIs(t, SaveFolder(path, other, false), ErrThere)
	assert.Equal(t, map[string]string{"a.txt": "1", "b.txt": "2"}, inFolder(t, path), "as it was")
	require.NoError(t, SaveFolder(path, other, true))
	assert.Equal(t, map[string]string{"a.txt": "1", "b.txt": "4", "c.txt": "3"}, inFolder(t, path))
	require.NoError(t, SaveFolder(path, []Named{{"d.txt", "5"}}, false), "beside others")
	assert.Equal(t, map[string]string{"papers": "a folder"}, inFolder(t, home), "nothing beside it")
}

// A folder that is there may be a disk of its own, as a stick is, whose files come from nowhere
// else; here a link to one stands for it.
func TestSaveFolderOnAnotherDisk(t *testing.T) {
	disk, err := os.MkdirTemp("/dev/shm", "needlewright-")
	if err != nil {
		t.Skip("no other disk: ", err)
	}
	defer func() { require.NoError(t, os.RemoveAll(disk)) }()
	path := filepath.Join(t.TempDir(), "stick")
	require.NoError(t, os.Symlink(disk, path))
	require.NoError(t, SaveFolder(path, []Named{{"a.txt", "1"}}, false))
	require.NoError(t, SaveFolder(path, []Named{{"a.txt", "2"}, {"b.txt", "3"}}, true))
	assert.Equal(t, map[string]string{"a.txt": "2", "b.txt": "3"}, inFolder(t, disk))
}

// Where the last file cannot be written or moved, the former ones stand as they did.
func TestSaveFolderPutsBack(t *testing.T) {
	home := t.TempDir()
	path := filepath.Join(home, "papers")
	require.NoError(t, SaveFolder(path, []Named{{"a.txt", "1"}, {"b.txt", "2"}}, false))
	was := inFolder(t, path)
	bad := filepath.Join("no", "folder.txt")
	require.Error(t, SaveFolder(path, []Named{{"a.txt", "new"}, {bad, "x"}}, true))
	assert.Equal(t, was, inFolder(t, path), "it could not be written")

	made, former := t.TempDir(), t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(made, "a.txt"), []byte("new"), 0o644))
	require.Error(t, moveAll([]Named{{Name: "a.txt"}, {Name: "b.txt"}}, made, path, former), "there is no new b.txt")
	assert.Equal(t, was, inFolder(t, path), "it could not be moved")

	require.Error(t, SaveFolder(filepath.Join(path, "a.txt"), nil, true), "a file")
	require.Error(t, SaveFolder(filepath.Join(home, "none", "papers"), nil, true), "no folder to stand in")
	assert.Equal(t, map[string]string{"papers": "a folder"}, inFolder(t, home))
}
