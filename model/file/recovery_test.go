package file

import (
	"errors"
	"fmt"
	"io/fs"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"example.com/needlewright/model"
	"example.com/needlewright/model/modeltest"
)

// nobody is the number of no process: derived, systems give none so large (Linux
// at most 2^22, and on Windows all are multiples of four).
const nobody = math.MaxInt32

// former is the recovery of a build by a program that runs no more; several
// starts are several programs.
func former(dir, path, start string) Recovery {
	r := RecoveryFor(dir, path)
	r.by = process{nobody, start}
	return r
}

// leave has a former program write a copy and gives it an age, h.
func leave(t *testing.T, r Recovery, text string, age int) {
	t.Helper()
	require.NoError(t, r.Write(text))
	then := time.Now().Add(-time.Duration(age) * time.Hour)
	require.NoError(t, os.Chtimes(r.file(), then, then))
}

func textsOf(copies []Copy) []string {
	var texts []string
	for _, c := range copies {
		texts = append(texts, c.Text)
	}
	return texts
}

func TestRecovery(t *testing.T) {
	dir, path := filepath.Join(t.TempDir(), "state", "needlewright"), filepath.Join(t.TempDir(), "Küche 1.toml")
	r := RecoveryFor(dir, path)
	got, err := r.Offer("on disk")
	require.NoError(t, err, "no folder yet")
	assert.Empty(t, got)
	require.NoError(t, r.Remove(), "nothing to remove")

	gone := former(dir, path, "a")
	leave(t, gone, "first", 2)
	leave(t, gone, "second", 1)
	got, err = r.Offer("on disk")
	require.NoError(t, err)
	require.Equal(t, []string{"second"}, textsOf(got))
	assert.WithinDuration(t, time.Now().Add(-time.Hour), got[0].Written, time.Minute)
	assert.Equal(t, "second", strings.SplitN(textOf(t, gone.file()), "\n", 2)[1], "behind the first line")
	assert.Contains(t, filepath.Base(gone.file()), "Küche-1-")

	require.NoError(t, got[0].Remove())
	require.NoError(t, got[0].Remove(), "gone already")
	assert.Empty(t, folder(t, dir))
}

func TestRecoveryIsPrivate(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("Windows has no such permissions: the folder is the person's own")
	}
	r := RecoveryFor(filepath.Join(t.TempDir(), "state"), "")
	require.NoError(t, r.Write("mine"))
	for path, want := range map[string]fs.FileMode{r.file(): 0o600, r.dir: 0o700} {
		info, err := os.Stat(path)
		require.NoError(t, err)
		assert.Equal(t, want, info.Mode().Perm(), path)
	}
}

// A program does not offer itself what it has just written, and removes that
// alone.
func TestRecoveryOfOneself(t *testing.T) {
	dir, path := t.TempDir(), filepath.Join(t.TempDir(), "clock.toml")
	r := RecoveryFor(dir, path)
	leave(t, former(dir, path, "a"), "left", 1)
	require.NoError(t, r.Write("mine"))
	got, err := r.Offer("on disk")
	require.NoError(t, err)
	assert.Equal(t, []string{"left"}, textsOf(got))
	_, ok := r.Other()
	assert.False(t, ok)
	require.NoError(t, r.Remove())
	assert.Len(t, folder(t, dir), 1)
}

// In a container the next start often has the number of the last.
func TestRecoveryOfOurOwnNumber(t *testing.T) {
	dir, path := t.TempDir(), filepath.Join(t.TempDir(), "clock.toml")
	last := RecoveryFor(dir, path)
	last.by.start = "a"
	leave(t, last, "left", 1)
	r := RecoveryFor(dir, path)
	require.NoError(t, r.Write("mine"))
	got, err := r.Offer("on disk")
	require.NoError(t, err)
	assert.Equal(t, []string{"left"}, textsOf(got))
	_, ok := r.Other()
	assert.False(t, ok)
}

func TestOfferNewestFirst(t *testing.T) {
	dir, path := t.TempDir(), filepath.Join(t.TempDir(), "clock.toml")
	for i, start := range []string{"a", "b", "c", "d"} {
		leave(t, former(dir, path, start), start, []int{2, 1, 4, 3}[i])
	}
	r := RecoveryFor(dir, path)
	got, err := r.Offer("c")
	require.NoError(t, err)
	assert.Equal(t, []string{"b", "a", "d"}, textsOf(got))
	assert.Len(t, folder(t, dir), 3, "the one like the text on disk")
}

func TestOfferIsForOneBuild(t *testing.T) {
	dir, here := t.TempDir(), t.TempDir()
	one, two := filepath.Join(here, "one", "clock.toml"), filepath.Join(here, "two", "clock.toml")
	for i, path := range []string{one, two, ""} {
		if path != "" {
			put(t, path, "on disk")
		}
		leave(t, former(dir, path, "a"), fmt.Sprint("text ", i), 1)
	}
	for i, path := range []string{one, two} {
		got, err := RecoveryFor(dir, path).Offer("")
		require.NoError(t, err)
		assert.Equal(t, []string{fmt.Sprint("text ", i)}, textsOf(got))
	}
	got, err := Stray(dir)
	require.NoError(t, err)
	assert.Equal(t, []string{"text 2"}, textsOf(got))
}

// One file is one build by whatever path it is reached, also before it is there.
func TestRecoveryForOneFile(t *testing.T) {
	here := t.TempDir()
	require.NoError(t, os.Mkdir(filepath.Join(here, "far"), 0o755))
	require.NoError(t, os.Symlink("far", filepath.Join(here, "near")))
	require.NoError(t, os.Symlink(filepath.Join("far", "clock.toml"), filepath.Join(here, "link.toml")))
	t.Chdir(here)
	file := filepath.Join("far", "clock.toml")
	want := RecoveryFor("state", filepath.Join(here, file))
	check := func() {
		for _, path := range []string{
			file, filepath.Join(".", "far", "..", file), filepath.Join("near", "clock.toml"), "link.toml",
			filepath.Join(here, "near", "clock.toml"), filepath.Join(here, "link.toml"),
		} {
			assert.Equal(t, want, RecoveryFor("state", path), path)
		}
	}
	check()
	put(t, file, "")
	check()
	assert.NotEqual(t, want.file(), RecoveryFor("state", "clock.toml").file())
	assert.NotEqual(t, want.file(), RecoveryFor("state", filepath.Join("none", "clock.toml")).file(), "no such folder")
}

// Whatever a file is called, its copy has a plain name that is found again.
func TestRecoveryNames(t *testing.T) {
	dir, here := t.TempDir(), t.TempDir()
	for _, name := range []string{
		".toml", "-", "a-0123456789ab-1-2.recovery.toml", "unnamed", "new\nline", "\xff", "a b'c\"d", "..x", "時計.toml",
		strings.Repeat("時", 80) + ".toml", strings.Repeat("x", 250),
	} {
		path := filepath.Join(here, name)
		leave(t, former(dir, path, "a"), name, 1)
		got, err := RecoveryFor(dir, path).Offer("")
		require.NoError(t, err)
		assert.Equal(t, []string{name}, textsOf(got))
	}
	for _, name := range folder(t, dir) {
		assert.Regexp(t, `^[-\pL\pN]*-[0-9a-f]{12}-[0-9]+-[0-9a-z]+\.recovery\.toml$`, name)
	}
}

// A copy opens as a build: its first line is a comment whatever the path.
func TestRecoveryIsTOML(t *testing.T) {
	text := modeltest.Text(t, "whole.toml")
	_, want := model.Read(text)
	for _, path := range []string{"", "/a/b.toml", `C:\a\b.toml`, "/a\nb\x00\x7f\xff\u2028.toml"} {
		_, problems := model.Read(wrap(path, text))
		assert.Equal(t, len(want), len(problems), "%q: %v", path, problems)
	}
}

// What is not whole is never offered and never deleted, and is told of once it
// has the name of a copy of this build.
func TestOfferDamaged(t *testing.T) {
	path := filepath.Join(t.TempDir(), "clock.toml")
	whole := wrap(resolved(path), "title = 'Hall'\n")
	for name, content := range map[string]string{
		"empty": "", "cut": whole[:len(whole)-1], "longer": whole + "\n", "one letter": strings.Replace(whole, "Hall", "Hell", 1),
		"another build": wrap(resolved(path)+"x", "title = 'Hall'\n"), "no first line": "title = 'Hall'\n",
		"another first line": "#" + whole, "the first line alone": strings.SplitN(whole, "\n", 2)[0],
		"with carriage returns": strings.ReplaceAll(whole, "\n", "\r\n"), "blanks": strings.Repeat("\x00", len(whole)),
		"quoted otherwise": strings.Replace(whole, "clock", `\x63lock`, 1),
	} {
		r := former(t.TempDir(), path, "a")
		put(t, r.file(), content)
		leave(t, former(r.dir, path, "b"), "sound", 1)
		got, err := RecoveryFor(r.dir, path).Offer(content)
		assert.ErrorContains(t, err, r.file(), name)
		assert.ErrorContains(t, err, "is damaged: look into it", name)
		assert.Equal(t, []string{"sound"}, textsOf(got), name)
		assert.Equal(t, content, textOf(t, r.file()), name)
	}
}

func TestOfferForeign(t *testing.T) {
	dir, path := t.TempDir(), filepath.Join(t.TempDir(), "clock.toml")
	r := former(dir, path, "a")
	key, content := r.key(), wrap(r.path, "left")
	names := []string{
		"clock.toml", "clock-" + key + ".recovery.toml", "clock-" + key + "-0-a.recovery.toml", "clock-" + key + "-99999999999-a.recovery.toml",
		"clock-" + key + "-7x-a.recovery.toml", filepath.Base(r.file()) + "~", "." + filepath.Base(r.file()) + ".123", "clock-" + strings.ToUpper("abc"+key[3:]) + "-1-a.recovery.toml",
	}
	for _, name := range names {
		put(t, filepath.Join(dir, name), content)
	}
	got, err := RecoveryFor(dir, path).Offer("left")
	assert.NoError(t, err)
	assert.Empty(t, got)
	assert.Len(t, folder(t, dir), len(names))
	require.NoError(t, os.Mkdir(r.file(), 0o755)) // a folder of that name
	got, err = RecoveryFor(dir, path).Offer("left")
	assert.ErrorContains(t, err, "is damaged")
	assert.Empty(t, got)
}

func TestOfferUnreadableCopy(t *testing.T) {
	dir, path := t.TempDir(), filepath.Join(t.TempDir(), "clock.toml")
	r := former(dir, path, "a")
	leave(t, r, "left", 1)
	require.NoError(t, os.Chmod(r.file(), 0))
	if file, err := os.Open(r.file()); err == nil {
		file.Close()
		t.Skip("this user may read everything: see TestOfferForeign")
	}
	got, err := RecoveryFor(dir, path).Offer("")
	assert.ErrorIs(t, err, fs.ErrPermission)
	assert.ErrorContains(t, err, "see that you may read it")
	assert.Empty(t, got)
}

// Where the folder is a file nothing can be read or written, and both say so.
func TestRecoveryWithoutAFolder(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "state")
	put(t, dir, "a file")
	for _, path := range []string{"", filepath.Join(t.TempDir(), "clock.toml")} {
		r := RecoveryFor(dir, path)
		err := r.Write("mine")
		assert.ErrorContains(t, err, "no recovery copy of "+r.what())
		assert.ErrorContains(t, err, "save the build now")
		got, err := r.Offer("")
		assert.ErrorContains(t, err, "see that "+dir+" is a folder you may read")
		assert.Empty(t, got)
		_, ok := r.Other()
		assert.False(t, ok)
	}
	_, err := Stray(dir)
	assert.Error(t, err)
	assert.Equal(t, "a file", textOf(t, dir))
}

// Where a copy cannot be written the former one stays.
func TestRecoveryWriteFails(t *testing.T) {
	r := RecoveryFor(t.TempDir(), "")
	require.NoError(t, os.Mkdir(r.file(), 0o755))
	put(t, filepath.Join(r.file(), "keep"), "old")
	assert.ErrorContains(t, r.Write("mine"), "save the build now")
	assert.Equal(t, []string{filepath.Base(r.file())}, folder(t, r.dir), "litter")
	assert.ErrorContains(t, r.Remove(), "delete it yourself")
	assert.Equal(t, "old", textOf(t, filepath.Join(r.file(), "keep")))
}

// Of several writes at a time one stays, whole; a reader never sees a part.
func TestRecoveryWritesAtATime(t *testing.T) {
	dir := t.TempDir()
	r := former(dir, "", "a")
	texts := []string{strings.Repeat("a", 90_000), strings.Repeat("b", 60_000), ""}
	require.NoError(t, r.Write(texts[0]))
	var writers sync.WaitGroup
	for i := range 4 {
		writers.Go(func() {
			for k := range 8 {
				assert.NoError(t, r.Write(texts[(i+k)%3]))
				got, err := Stray(dir)
				if assert.NoError(t, err) && assert.Len(t, got, 1) {
					assert.True(t, got[0].Text == texts[0] || got[0].Text == texts[1] || got[0].Text == texts[2], "a part")
				}
			}
		})
	}
	writers.Wait()
	assert.Len(t, folder(t, dir), 1, "litter")
}

// Two programs have one file open, and a third a build without a file; then they
// are killed. The other programs are this test in processes of their own.
func TestRecoveryOfProcesses(t *testing.T) {
	if dir := os.Getenv("RECOVERY_TEST_DIR"); dir != "" {
		path := os.Getenv("RECOVERY_TEST_PATH")
		if err := RecoveryFor(dir, path).Write("theirs"); err != nil {
			panic(err)
		}
		fmt.Println("written")
		time.Sleep(time.Minute) // it is killed long before
		return
	}
	dir, path := t.TempDir(), filepath.Join(t.TempDir(), "clock.toml")
	put(t, path, "on disk")
	named, unnamed := start(t, dir, path), start(t, dir, "")
	r := RecoveryFor(dir, path)
	require.NoError(t, r.Write("mine"))
	require.NoError(t, RecoveryFor(dir, "").Write("mine"))
	pid, ok := r.Other()
	assert.True(t, ok)
	assert.Equal(t, named.Process.Pid, pid)
	_, ok = RecoveryFor(dir, "").Other()
	assert.False(t, ok, "builds without a file are not the same build")
	for _, look := range []func() ([]Copy, error){func() ([]Copy, error) { return r.Offer("") }, func() ([]Copy, error) { return Stray(dir) }} {
		got, err := look()
		assert.NoError(t, err)
		assert.Empty(t, got, "of a program that runs")
	}
	_, err := r.Offer("theirs")
	require.NoError(t, err)
	assert.Len(t, folder(t, dir), 4, "a running program's copy is not removed")

	for _, c := range []*exec.Cmd{named, unnamed} {
		require.NoError(t, c.Process.Kill())
		_ = c.Wait() // killed, so an error
	}
	_, ok = r.Other()
	assert.False(t, ok)
	got, err := r.Offer("")
	require.NoError(t, err)
	assert.Equal(t, []string{"theirs"}, textsOf(got))
	got, err = Stray(dir)
	require.NoError(t, err)
	assert.Equal(t, []string{"theirs"}, textsOf(got))
}

// start runs TestRecoveryOfProcesses as another program, until it has written.
func start(t *testing.T, dir, path string) *exec.Cmd {
	t.Helper()
	c := exec.Command(os.Args[0], "-test.run=^TestRecoveryOfProcesses$")
	c.Env = append(os.Environ(), "RECOVERY_TEST_DIR="+dir, "RECOVERY_TEST_PATH="+path)
	out, err := c.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, c.Start())
	t.Cleanup(func() {
		if c.ProcessState == nil {
			_ = c.Process.Kill()
			_ = c.Wait()
		}
	})
	line := make([]byte, len("written"))
	_, err = out.Read(line)
	require.NoError(t, err)
	require.Equal(t, "written", string(line))
	return c
}

// A number that now belongs to another program is not a running dashboard's;
// what started this test is one.
func TestAliveIsThisProgram(t *testing.T) {
	assert.True(t, alive(os.Getpid()))
	assert.False(t, alive(nobody))
	if runtime.GOOS == "linux" {
		assert.False(t, alive(os.Getppid()), "another program")
	}
}

// The law: what a program wrote before it died is offered exactly, once, and
// not where it is on disk.
func TestRecoveryLaw(t *testing.T) {
	dir := t.TempDir()
	rapid.Check(t, func(t *rapid.T) {
		name := rapid.StringMatching(`[^/\\\x00]{1,60}`).Filter(func(s string) bool { return s != "." && s != ".." }).Draw(t, "name")
		law(t, dir, filepath.Join(dir, name), string(rapid.SliceOf(rapid.Byte()).Draw(t, "text")))
	})
}

func law(t require.TestingT, dir, path, text string) {
	r := former(dir, path, "a")
	require.NoError(t, r.Write(text))
	got, err := RecoveryFor(dir, path).Offer(text + "x")
	require.NoError(t, err)
	require.Equal(t, []string{text}, textsOf(got))
	got, err = RecoveryFor(dir, path).Offer(text)
	require.NoError(t, err)
	require.Empty(t, got)
	_, err = os.Stat(r.file())
	require.True(t, errors.Is(err, fs.ErrNotExist), "it is on disk, and the copy stays")
}

// FuzzOffer: the law for any text; and of a copy with one piece replaced, only
// what reads as it was written is offered, and nothing else is deleted.
func FuzzOffer(f *testing.F) {
	dir := f.TempDir()
	path := filepath.Join(dir, "clock.toml")
	for _, text := range []string{"", "\n", "\uFEFFtitle = 'Hall'\r\n", "\xff\x00", wrap(path, "title = 1\n")} {
		f.Add(text, uint16(0), uint16(0), "")
		f.Add(text, uint16(3), uint16(1), "y")
		f.Add(text, uint16(60), uint16(9), text)
	}
	f.Fuzz(func(t *testing.T, text string, from, length uint16, piece string) {
		law(t, dir, path, text)
		r := former(dir, path, "a")
		whole := wrap(r.path, text)
		start := min(int(from), len(whole))
		end := min(start+int(length), len(whole))
		damaged := whole[:start] + piece + whole[end:]
		require.NoError(t, os.WriteFile(r.file(), []byte(damaged), 0o600))
		got, err := RecoveryFor(dir, path).Offer(text + "x")
		if damaged == whole {
			require.NoError(t, err)
			require.Equal(t, []string{text}, textsOf(got))
			return
		}
		require.Error(t, err)
		require.Empty(t, got)
		require.Equal(t, damaged, textOf(t, r.file()))
		require.NoError(t, os.Remove(r.file()))
	})
}
