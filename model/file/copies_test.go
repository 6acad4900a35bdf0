package file

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Each copy is offered somewhere: at a start on its file, or where no file is
// given if that start cannot be.
func TestEveryCopyIsOffered(t *testing.T) {
	dir, here := t.TempDir(), t.TempDir()
	at := func(name string) string { return filepath.Join(here, name) }
	for age, name := range []string{"there.toml", "gone.toml", filepath.Join("no folder", "gone.toml"), "folder.toml", "binary.toml"} {
		leave(t, former(dir, at(name), "a"), name, 9-age)
	}
	leave(t, former(dir, "", "a"), "unnamed", 20)
	put(t, at("there.toml"), "on disk")
	put(t, at("binary.toml"), "\xff\x00")
	require.NoError(t, os.Mkdir(at("folder.toml"), 0o755))

	got, err := Stray(dir)
	require.NoError(t, err)
	assert.Equal(t, []string{"binary.toml", "folder.toml", filepath.Join("no folder", "gone.toml"), "gone.toml", "unnamed"}, textsOf(got))
	assert.Equal(t, at("gone.toml"), got[3].Path)
	assert.Empty(t, got[4].Path)

	for name, fresh := range map[string]bool{"there.toml": false, "gone.toml": true, filepath.Join("no folder", "gone.toml"): true} {
		f, err := OpenFile(at(name), dir)
		require.NoError(t, err, name)
		assert.Equal(t, fresh, f.Fresh, name)
		assert.Equal(t, []string{name}, textsOf(f.Found))
	}
	for _, name := range []string{"folder.toml", "binary.toml"} {
		_, err := OpenFile(at(name), dir)
		assert.ErrorContains(t, err, at(name))
		assert.ErrorContains(t, err, "start needlewright without a file", name)
	}
	assert.Len(t, folder(t, dir), 6, "looking takes nothing away")
}

func TestOpenFile(t *testing.T) {
	here, dir := t.TempDir(), filepath.Join(t.TempDir(), "none")
	path := filepath.Join(here, "clock.toml")
	f, err := OpenFile(path, dir)
	require.NoError(t, err)
	assert.Equal(t, File{Path: path, Fresh: true}, f)
	put(t, path, "title = 'Hall'")
	f, err = OpenFile(path, dir)
	require.NoError(t, err)
	assert.Equal(t, File{Path: path, Text: "title = 'Hall'", Stamp: stamp(t, path)}, f)
	_, err = OpenFile(filepath.Join(here, "none", "clock.toml"), dir)
	assert.Error(t, err)
	_, err = OpenFile(here, dir)
	assert.ErrorContains(t, err, "is no file but a folder")
}

// Of very many copies the newest are offered, the others once these are gone.
func TestOfferOfManyCopies(t *testing.T) {
	dir, path := t.TempDir(), filepath.Join(t.TempDir(), "clock.toml")
	for i := range 3 * mostOffered / 2 {
		leave(t, former(dir, path, fmt.Sprint(i)), fmt.Sprint(i), i)
	}
	seen := 0
	for _, want := range []int{mostOffered, mostOffered / 2} {
		got, err := RecoveryFor(dir, path).Offer("on disk")
		require.NoError(t, err)
		require.Len(t, got, want)
		for _, c := range got {
			assert.Equal(t, fmt.Sprint(seen), c.Text)
			seen++
			require.NoError(t, c.Remove())
		}
	}
	assert.Empty(t, folder(t, dir))
}

// What a killed program was about to rename is taken away at the next look at its
// folder; everything else stays, whatever it is called.
func TestLitter(t *testing.T) {
	dir, here := t.TempDir(), t.TempDir()
	path := filepath.Join(here, "clock.toml")
	name := func(machine string, pid int, start string) string {
		return fmt.Sprintf(".needlewright-%s-%d-%s-1.tmp", machine, pid, start)
	}
	litter := []string{name(thisMachine, nobody, "a"), name(thisMachine, os.Getpid(), "a")}
	others := []string{
		name("00000000", nobody, "a"),                     // another machine's, which shares the folder
		name(thisMachine, os.Getpid(), thisProcess.start), // being written
		name(thisMachine, nobody, "a") + "~", ".needlewright-notes.tmp", ".clock.toml.123", "clock.toml.tmp", "clock.toml",
		".needlewright-" + thisMachine + "-1x-a-1.tmp", ".needlewright-" + thisMachine + "-99999999999-a-1.tmp",
	}
	for _, folder := range []string{dir, here} {
		for _, n := range append(litter, others...) {
			put(t, filepath.Join(folder, n), "a person's")
		}
		require.NoError(t, os.Mkdir(filepath.Join(folder, name(thisMachine, nobody, "b")), 0o755))
		require.NoError(t, os.Symlink("clock.toml", filepath.Join(folder, name(thisMachine, nobody, "c"))))
	}
	b, err := writeBeside(path, "mine", nil, 0o600)
	require.NoError(t, err)
	assert.Regexp(t, besideName, filepath.Base(b.name), "the name that is looked for")

	old := name("00000000", os.Getpid(), "b") // of another machine, two days ago
	put(t, filepath.Join(here, old), "")
	then := time.Now().Add(-2 * litterAfter)
	require.NoError(t, os.Chtimes(filepath.Join(here, old), then, then))

	_, err = RecoveryFor(dir, path).Offer("")
	require.NoError(t, err)
	assert.NoFileExists(t, filepath.Join(here, old))
	for _, n := range litter {
		assert.NoFileExists(t, filepath.Join(here, n))
		assert.NoFileExists(t, filepath.Join(dir, n))
	}
	assert.Len(t, folder(t, here), len(others)+3)
	assert.Len(t, folder(t, dir), len(others)+2)
	put(t, filepath.Join(dir, litter[0]), "")
	_, err = Stray(dir)
	require.NoError(t, err)
	assert.NoFileExists(t, filepath.Join(dir, litter[0]))
}
