//go:build unix

package file

import (
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/pkg/xattr"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/sys/unix"
)

// A file with two names has both after saving, with and without a known stamp,
// and nothing is left of how that was done.
func TestSaveKeepsHardLinks(t *testing.T) {
	here, dir := t.TempDir(), filepath.Join(t.TempDir(), "state")
	path, other := filepath.Join(here, "clock.toml"), filepath.Join(here, "other.toml")
	put(t, path, "a long former text\n")
	require.NoError(t, os.Link(path, other))
	s := stamp(t, path)
	for _, text := range []string{"new\n", strings.Repeat("longer than before\n", 100), ""} {
		saved, err := SaveOver(path, text, s, dir)
		require.NoError(t, err)
		assert.Empty(t, saved.Note)
		assert.Equal(t, text, textOf(t, other))
		assert.Equal(t, stamp(t, path), saved.Stamp)
		s = saved.Stamp
	}
	saved, err := Save(other, "anyway", dir)
	require.NoError(t, err)
	assert.Empty(t, saved.Note)
	assert.Equal(t, "anyway", textOf(t, path))
	_, err = SaveOver(path, "mine", s, dir)
	assert.ErrorIs(t, err, ErrChangedOnDisk)
	assert.Equal(t, "anyway", textOf(t, other))
	assert.Equal(t, []string{"clock.toml", "other.toml"}, folder(t, here), "litter")
	assert.Empty(t, folder(t, dir), "litter")
}

// Where no recovery copy can be kept meanwhile, a file with two names is not
// written in place: the saving is whole, and says what it cost.
func TestSaveSaysWhyALinkWasLost(t *testing.T) {
	here := t.TempDir()
	path, other, noFolder := filepath.Join(here, "clock.toml"), filepath.Join(here, "other.toml"), filepath.Join(here, "state")
	put(t, path, "old")
	put(t, noFolder, "a file")
	for _, dir := range []string{"", noFolder} {
		_ = os.Remove(other)
		require.NoError(t, os.Link(path, other))
		before := textOf(t, other)
		saved, err := Save(path, "new in "+dir, dir)
		require.NoError(t, err)
		assert.Contains(t, saved.Note, "its other names (hard links) could not be kept: ")
		assert.Contains(t, saved.Note, "recovery copy")
		assert.Equal(t, "new in "+dir, textOf(t, path))
		assert.Equal(t, before, textOf(t, other))
	}
	assert.Len(t, folder(t, here), 3, "litter")
}

func TestSaveKeepsOwnerAndGroup(t *testing.T) {
	if os.Geteuid() != 0 {
		t.Skip("only root may give files away")
	}
	path := filepath.Join(t.TempDir(), "clock.toml")
	put(t, path, "old")
	require.NoError(t, os.Chown(path, 4711, 4712))
	require.NoError(t, os.Chmod(path, 0o640))
	require.NoError(t, saveAnyway(path, "new"))
	info, err := os.Stat(path)
	require.NoError(t, err)
	owner := info.Sys().(*syscall.Stat_t)
	assert.Equal(t, []uint32{4711, 4712}, []uint32{owner.Uid, owner.Gid})
	assert.Equal(t, os.FileMode(0o640), info.Mode())
}

func TestSaveKeepsAttributes(t *testing.T) {
	path := filepath.Join(t.TempDir(), "clock.toml")
	put(t, path, "old")
	if err := xattr.Set(path, "user.note", []byte("mine")); err != nil {
		t.Skip("no attributes here: ", err)
	}
	require.NoError(t, saveAnyway(path, "new"))
	got, err := xattr.Get(path, "user.note")
	require.NoError(t, err)
	assert.Equal(t, "mine", string(got))
	assert.Equal(t, "new", textOf(t, path))
}

// A new file is as private as the person wants it.
func TestSaveKeepsToUmask(t *testing.T) {
	before := unix.Umask(0o077)
	defer unix.Umask(before)
	path := filepath.Join(t.TempDir(), "clock.toml")
	require.NoError(t, saveAnyway(path, "new"))
	info, err := os.Stat(path)
	require.NoError(t, err)
	assert.Equal(t, os.FileMode(0o600), info.Mode())
}

// A name may have all the 255 bytes there are, and so may a link's.
func TestSaveTakesLongNames(t *testing.T) {
	here, dir := t.TempDir(), filepath.Join(t.TempDir(), "state")
	for _, name := range []string{strings.Repeat("x", 250), strings.Repeat("時", 83) + ".toml", strings.Repeat("y", 255)} {
		path := filepath.Join(here, name)
		saved, err := SaveOver(path, "first", Stamp{}, dir)
		require.NoError(t, err)
		_, err = SaveOver(path, "second", saved.Stamp, dir)
		require.NoError(t, err)
		assert.Equal(t, "second", textOf(t, path))
		require.NoError(t, os.Link(path, filepath.Join(here, "other")))
		_, err = Save(path, "third", dir)
		require.NoError(t, err)
		assert.Equal(t, "third", textOf(t, filepath.Join(here, "other")))
		require.NoError(t, os.Remove(filepath.Join(here, "other")))
	}
	assert.Len(t, folder(t, here), 3, "litter")
	assert.Empty(t, folder(t, dir), "litter")
}

// A link that leads to nothing yet is written through, however many there are.
func TestSaveThroughDanglingLinks(t *testing.T) {
	here := t.TempDir()
	for _, d := range []string{"far/deep", "links", "builds"} {
		require.NoError(t, os.MkdirAll(filepath.Join(here, d), 0o755))
	}
	link := func(to, name string) string {
		require.NoError(t, os.Symlink(to, filepath.Join(here, name)))
		return filepath.Join(here, name)
	}
	link("../far/deep", "links/deep") // .. behind a link is above what it leads to
	link("../links/second.toml", "links/first.toml")
	link("deep/../third.toml", "links/second.toml")
	link(filepath.Join(here, "builds", "clock.toml"), "far/third.toml")
	require.NoError(t, saveAnyway(filepath.Join(here, "links", "first.toml"), "through"))
	assert.Equal(t, "through", textOf(t, filepath.Join(here, "builds", "clock.toml")))
	for _, name := range []string{"links/first.toml", "links/second.toml", "far/third.toml"} {
		info, err := os.Lstat(filepath.Join(here, name))
		require.NoError(t, err)
		assert.NotZero(t, info.Mode()&os.ModeSymlink, "%s became a file", name)
	}

	lost := link("no/such/clock.toml", "lost.toml")
	err := saveAnyway(lost, "new")
	assert.ErrorContains(t, err, lost+" is a link to "+filepath.Join(here, "no", "such", "clock.toml"))
	assert.ErrorContains(t, err, "there is no folder "+filepath.Join(here, "no", "such"))
	link("b.toml", "a.toml")
	err = saveAnyway(link("a.toml", "b.toml"), "new")
	assert.ErrorContains(t, err, "link")
	assert.Len(t, folder(t, here), 6, "litter")
}

// What stands in the way is named, and what was there stays.
func TestSaveSaysWhatIsInTheWay(t *testing.T) {
	here := t.TempDir()
	path := filepath.Join(here, "gone", "clock.toml")
	put(t, path, "old")
	s := stamp(t, path)
	require.NoError(t, os.Remove(path))
	require.NoError(t, os.Mkdir(path, 0o755))
	_, err := saveOver(path, "new", s)
	assert.ErrorContains(t, err, "is no file but a folder")
	require.NoError(t, os.RemoveAll(filepath.Dir(path)))
	_, err = saveOver(path, "new", Stamp{})
	assert.ErrorContains(t, err, "there is no folder "+filepath.Join(here, "gone"))

	way := &saving{target: path}
	for cause, want := range map[error]string{
		unix.ENOSPC: "there is no room left in the folder", unix.EDQUOT: "there is no room left in the folder", unix.EROFS: "nothing may be written in the folder",
	} {
		err := way.explained(&os.PathError{Op: "write", Path: "ours", Err: cause})
		assert.ErrorContains(t, err, want)
		assert.ErrorContains(t, err, cause.Error())
		assert.NotContains(t, err.Error(), "ours", "a name of the program's own making")
	}
}

func TestSaveOfMoreThanIsOpened(t *testing.T) {
	path := filepath.Join(t.TempDir(), "clock.toml")
	text := strings.Repeat("#", MostBytes+1)
	saved, err := Save(path, text, "")
	require.NoError(t, err, "it is not lost for that")
	assert.Contains(t, saved.Note, "grown beyond 4 MiB")
	_, err = saveOver(path, text+"#", saved.Stamp)
	assert.NoError(t, err, "its own stamp")
}

// asChild runs a test again as another program, which does what is asked of it
// where the variable is set; it returns that program, not yet started.
func asChild(t *testing.T, variable, value string) *exec.Cmd {
	t.Helper()
	c := exec.Command(os.Args[0], "-test.run=^"+t.Name()+"$")
	c.Env = append(os.Environ(), variable+"="+value)
	return c
}

// No room: the system is told to let no file grow beyond 100 bytes, which stops a
// writing in its midst as a full disk does. It runs as a program of its own.
func TestSaveWithoutRoom(t *testing.T) {
	const variable = "SAVE_TEST_ROOM"
	here := os.Getenv(variable)
	if here == "" {
		here = t.TempDir()
		out, err := asChild(t, variable, here).CombinedOutput()
		require.NoError(t, err, "%s", out)
		return
	}
	dir := filepath.Join(here, "state")
	path, linked := filepath.Join(here, "clock.toml"), filepath.Join(here, "linked.toml")
	former := strings.Repeat("old\n", 25)
	put(t, path, former)
	put(t, linked, former)
	require.NoError(t, os.Link(linked, filepath.Join(here, "other.toml")))
	limit := unix.Rlimit{Cur: 100, Max: unix.RLIM_INFINITY}
	require.NoError(t, unix.Setrlimit(unix.RLIMIT_FSIZE, &limit)) // Go ignores the signal
	for _, p := range []string{path, linked} {
		_, err := SaveOver(p, strings.Repeat("new\n", 100), stamp(t, p), dir)
		assert.ErrorIs(t, err, unix.EFBIG)
		assert.Equal(t, former, textOf(t, p))
	}
	assert.ErrorIs(t, RecoveryFor(dir, path).Write(strings.Repeat("new\n", 100)), unix.EFBIG)
	assert.Equal(t, []string{"clock.toml", "linked.toml", "other.toml", "state"}, folder(t, here), "litter")
	assert.Empty(t, folder(t, dir), "litter")

	// In the midst of writing in place the former text is put back.
	file, err := os.OpenFile(linked, os.O_RDWR, 0)
	require.NoError(t, err)
	defer file.Close()
	s := &saving{target: linked, text: strings.Repeat("new\n", 100)}
	_, err = s.rewrite(file, []byte(former), RecoveryFor(dir, linked))
	assert.ErrorIs(t, err, unix.EFBIG)
	assert.NotErrorIs(t, err, errCutShort)
	assert.Equal(t, former, textOf(t, linked))
	_, err = s.rewrite(file, []byte(former+former), RecoveryFor(dir, linked)) // that cannot be put back
	assert.ErrorIs(t, err, errCutShort)
	assert.ErrorContains(t, err, "all your work is in "+RecoveryFor(dir, linked).file())
}

// A file with two names is written in place again and again by a program that is
// killed at some instant: the file is whole, or else a whole text is offered.
func TestKilledInPlace(t *testing.T) {
	const variable = "SAVE_TEST_IN_PLACE"
	texts := []string{strings.Repeat("a", MostBytes), strings.Repeat("b", MostBytes-1000)}
	if here := os.Getenv(variable); here != "" {
		for i := 0; ; i++ {
			if _, err := Save(filepath.Join(here, "clock.toml"), texts[i%2], filepath.Join(here, "state")); err != nil {
				panic(err)
			}
			if i == 0 {
				fmt.Println("saved")
			}
		}
	}
	const seed = 9
	instants := rand.New(rand.NewPCG(seed, seed))
	torn := 0
	for i := range 12 {
		here := t.TempDir()
		path, other, dir := filepath.Join(here, "clock.toml"), filepath.Join(here, "other.toml"), filepath.Join(here, "state")
		put(t, path, "old")
		require.NoError(t, os.Link(path, other))
		c := asChild(t, variable, here)
		out, err := c.StdoutPipe()
		require.NoError(t, err)
		require.NoError(t, c.Start())
		_, err = io.ReadFull(out, make([]byte, len("saved")))
		require.NoError(t, err)
		time.Sleep(time.Duration(instants.IntN(60_000)) * time.Microsecond)
		require.NoError(t, c.Process.Kill())
		_ = c.Wait() // killed, so an error

		content, offered := textOf(t, path), ""
		got, err := RecoveryFor(dir, path).Offer(content)
		require.NoError(t, err)
		if len(got) > 0 {
			offered = got[0].Text
		}
		if content != texts[0] && content != texts[1] {
			torn++
			assert.True(t, offered == texts[0] || offered == texts[1], "instant %d: torn, and no whole text is offered", i)
		}
		assert.Equal(t, content, textOf(t, other), "the link is kept")
		assert.Equal(t, []string{"clock.toml", "other.toml", "state"}, folder(t, here), "litter")
		assert.Len(t, folder(t, dir), len(got), "litter")
	}
	t.Logf("%d of 12 files were torn, and their text offered", torn)
}

// A file in a folder that takes no new files is written in place.
func TestSaveInAReadOnlyFolder(t *testing.T) {
	here, dir := t.TempDir(), t.TempDir()
	path := filepath.Join(here, "clock.toml")
	put(t, path, "old")
	asNobody(t, here, dir, path)
	require.NoError(t, os.Chmod(here, 0o555))
	t.Cleanup(func() { _ = os.Chmod(here, 0o755) })
	s := stamp(t, path)
	saved, err := SaveOver(path, "new", s, dir)
	require.NoError(t, err)
	assert.Equal(t, "new", textOf(t, path))
	assert.Equal(t, stamp(t, path), saved.Stamp)
	_, err = Save(filepath.Join(here, "another.toml"), "new", dir)
	assert.ErrorContains(t, err, "nothing may be written in the folder "+here)
	_, err = Save(path, "newer", "")
	assert.ErrorContains(t, err, "nothing may be written in the folder "+here)
	assert.Equal(t, "new", textOf(t, path))
	assert.Equal(t, []string{"clock.toml"}, folder(t, here), "litter")
	assert.Empty(t, folder(t, dir), "litter")
}
