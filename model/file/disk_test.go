package file

import (
	"io/fs"
	"net"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// put writes a file as another program would.
func put(t *testing.T, path, text string) {
	t.Helper()
	require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o755))
	require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
}

func stamp(t *testing.T, path string) Stamp {
	t.Helper()
	s, err := stampOf(path)
	require.NoError(t, err)
	return s
}

// stampOf is the stamp of a file that need not be text.
func stampOf(path string) (Stamp, error) {
	_, s, err := readBounded(path, MostBytes)
	return s, err
}

func TestChanged(t *testing.T) {
	path := filepath.Join(t.TempDir(), "clock.toml")
	long := time.Now().Add(-time.Hour) // far from what any file system rounds to
	for name, c := range map[string]struct {
		meanwhile func()
		changed   bool
	}{
		"nothing":                        {func() {}, false},
		"another time, the same content": {func() { require.NoError(t, os.Chtimes(path, long, long)) }, false},
		"written anew, the same content": {func() { require.NoError(t, os.Remove(path)); put(t, path, "old") }, false},
		"longer":                         {func() { put(t, path, "older") }, true},
		"as long, another content":       {func() { put(t, path, "new"); require.NoError(t, os.Chtimes(path, long, long)) }, true},
		"longer, the same time": {func() {
			info, err := os.Stat(path)
			require.NoError(t, err)
			put(t, path, "older")
			require.NoError(t, os.Chtimes(path, info.ModTime(), info.ModTime()))
		}, true},
	} {
		put(t, path, "old")
		s := stamp(t, path)
		c.meanwhile()
		changed, err := s.Changed(path)
		assert.NoError(t, err, name)
		assert.Equal(t, c.changed, changed, name)
	}
}

func TestChangedToWhatIsNoFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "clock.toml")
	put(t, path, "old")
	s := stamp(t, path)
	require.NoError(t, os.Remove(path))
	changed, err := s.Changed(path)
	assert.True(t, changed)
	assert.ErrorIs(t, err, ErrChangedOnDisk)
	assert.ErrorIs(t, err, fs.ErrNotExist)
	assert.ErrorContains(t, err, path+" is no longer there")
	assert.ErrorContains(t, err, "save anyway to write it anew")

	require.NoError(t, os.Mkdir(path, 0o755))
	changed, err = s.Changed(path)
	assert.True(t, changed)
	assert.ErrorContains(t, err, "is no file but a folder")
}

// The zero stamp is a file that is not there.
func TestChangedFromNothing(t *testing.T) {
	path := filepath.Join(t.TempDir(), "clock.toml")
	changed, err := Stamp{}.Changed(path)
	assert.NoError(t, err)
	assert.False(t, changed)
	put(t, path, "") // an empty file is one too
	changed, err = Stamp{}.Changed(path)
	assert.NoError(t, err)
	assert.True(t, changed)
}

// Changed does not read what has the size and time it knows, SaveOver does.
func TestChangedIsCheapAndSaveOverThorough(t *testing.T) {
	path := filepath.Join(t.TempDir(), "clock.toml")
	put(t, path, "old")
	s := stamp(t, path)
	info, err := os.Stat(path)
	require.NoError(t, err)
	put(t, path, "new")
	require.NoError(t, os.Chtimes(path, info.ModTime(), info.ModTime()))
	changed, err := s.Changed(path)
	assert.NoError(t, err)
	assert.False(t, changed, "it read the file")
	_, err = saveOver(path, "mine", s)
	assert.ErrorIs(t, err, ErrChangedOnDisk)
	assert.Equal(t, "new", textOf(t, path))
}

func TestReadBoundedFails(t *testing.T) {
	here := t.TempDir()
	_, err := stampOf(filepath.Join(here, "none"))
	assert.ErrorIs(t, err, fs.ErrNotExist)
	_, err = stampOf(here)
	assert.ErrorContains(t, err, "is no file but a folder")
}

func TestReadBoundedUnreadable(t *testing.T) {
	path := filepath.Join(t.TempDir(), "clock.toml")
	put(t, path, "old")
	require.NoError(t, os.Chmod(path, 0))
	if file, err := os.Open(path); err == nil {
		file.Close()
		t.Skip("this user may read everything: see TestReadBoundedFails")
	}
	_, err := stampOf(path)
	assert.ErrorIs(t, err, fs.ErrPermission)
}

func TestSaveOver(t *testing.T) {
	path := filepath.Join(t.TempDir(), "clock.toml")
	s, err := saveOver(path, "first\n", Stamp{})
	require.NoError(t, err)
	assert.Equal(t, stamp(t, path), s, "what it returns is not the stamp of the file")
	require.NoError(t, os.Chmod(path, 0o600))
	s, err = saveOver(path, "second, µ\r\n\x00", s)
	require.NoError(t, err)
	assert.Equal(t, "second, µ\r\n\x00", textOf(t, path))
	assert.Equal(t, stamp(t, path), s)
	if runtime.GOOS != "windows" {
		info, err := os.Stat(path)
		require.NoError(t, err)
		assert.Equal(t, fs.FileMode(0o600), info.Mode().Perm(), "permissions")
	}
	assert.Equal(t, []string{"clock.toml"}, folder(t, filepath.Dir(path)), "litter")
}

func TestSaveOverRefuses(t *testing.T) {
	path := filepath.Join(t.TempDir(), "clock.toml")
	put(t, path, "theirs")
	_, err := saveOver(path, "mine", Stamp{})
	assert.ErrorIs(t, err, ErrChangedOnDisk)
	assert.ErrorContains(t, err, "is already there")
	s := stamp(t, path)
	put(t, path, "theirs too")
	got, err := saveOver(path, "mine", s)
	assert.ErrorIs(t, err, ErrChangedOnDisk)
	assert.ErrorContains(t, err, "save anyway to put yours in its place")
	assert.Equal(t, Stamp{}, got)
	assert.Equal(t, "theirs too", textOf(t, path))
	assert.Equal(t, []string{"clock.toml"}, folder(t, filepath.Dir(path)), "litter")
	require.NoError(t, os.Remove(path))
	_, err = saveOver(path, "mine", s)
	assert.ErrorIs(t, err, ErrChangedOnDisk)
	assert.Empty(t, folder(t, filepath.Dir(path)), "litter, or the file is back")
	require.NoError(t, saveAnyway(path, "mine"), "saving anyway")
	assert.Equal(t, "mine", textOf(t, path))
}

func TestSaveOverThroughLinks(t *testing.T) {
	here := t.TempDir()
	target, link := filepath.Join(here, "far", "clock.toml"), filepath.Join(here, "link.toml")
	require.NoError(t, os.Mkdir(filepath.Dir(target), 0o755))
	require.NoError(t, os.Symlink(filepath.Join("far", "clock.toml"), link))
	s, err := saveOver(link, "first", Stamp{}) // the link leads to nothing yet
	require.NoError(t, err)
	s, err = saveOver(target, "second", s)
	require.NoError(t, err)
	put(t, target, "theirs")
	_, err = saveOver(link, "third", s)
	assert.ErrorIs(t, err, ErrChangedOnDisk)
	assert.Equal(t, "theirs", textOf(t, target))
	assert.Equal(t, []string{"far", "link.toml"}, folder(t, here))
}

func TestSaveOverFails(t *testing.T) {
	here := t.TempDir()
	put(t, filepath.Join(here, "file"), "old")
	put(t, filepath.Join(here, "folder", "keep"), "old")
	require.NoError(t, os.Symlink("loop", filepath.Join(here, "loop")))
	for _, path := range []string{filepath.Join("file", "clock.toml"), filepath.Join("none", "clock.toml"), "folder", "loop"} {
		_, err := saveOver(filepath.Join(here, path), "new", Stamp{})
		assert.Error(t, err, path)
		assert.NotErrorIs(t, err, ErrChangedOnDisk, path)
	}
	assert.Equal(t, []string{"file", "folder", "loop"}, folder(t, here))
	assert.Equal(t, []string{"keep"}, folder(t, filepath.Join(here, "folder")))
	b, err := writeBeside(filepath.Join(here, "folder"), "new", nil, 0o600)
	require.NoError(t, err)
	assert.Error(t, moveOver(b.name, filepath.Join(here, "folder")), "over a folder that holds something")
	assert.Equal(t, []string{"file", "folder", "loop"}, folder(t, here), "litter")
}

func TestListBuilds(t *testing.T) {
	here := t.TempDir()
	put(t, filepath.Join(here, "b.toml"), "title = \"Reading room\"\n")
	put(t, filepath.Join(here, "A.TOML"), "format = 1\n")
	put(t, filepath.Join(here, "a.toml"), "")
	put(t, filepath.Join(here, "notes.txt"), "title = 'no build'")
	put(t, filepath.Join(here, ".hidden.toml"), "")
	put(t, filepath.Join(here, ".git", "x.toml"), "")
	put(t, filepath.Join(here, "zoo", "x.toml"), "")
	put(t, filepath.Join(here, "zz.toml"), "")
	put(t, filepath.Join(here, "Drawer.toml", "x.toml"), "")
	require.NoError(t, os.Symlink("zoo", filepath.Join(here, "link")))
	require.NoError(t, os.Symlink("b.toml", filepath.Join(here, "c.toml")))
	require.NoError(t, os.Symlink("nowhere", filepath.Join(here, "lost.toml")))

	list, _, err := ListBuilds(here)
	require.NoError(t, err)
	var names []string
	for _, e := range list {
		names = append(names, e.Name)
		assert.Equal(t, len(names) <= 4, e.Folder, e.Name)
	}
	require.Equal(t, []string{"..", "Drawer.toml", "link", "zoo", "A.TOML", "a.toml", "b.toml", "c.toml", "zz.toml"}, names)
	for _, e := range list[6:8] {
		assert.Equal(t, "Reading room", e.Title)
	}
	assert.Empty(t, list[4].Title)

	t.Chdir(here)
	relative, _, err := ListBuilds(filepath.Join("zoo", ".."))
	require.NoError(t, err)
	assert.Equal(t, list, relative)
}

func TestListBuildsOfTheRoot(t *testing.T) {
	here, err := filepath.Abs(".")
	require.NoError(t, err)
	root := filepath.VolumeName(here) + string(filepath.Separator)
	list, _, err := ListBuilds(root)
	require.NoError(t, err)
	require.NotEmpty(t, list)
	for _, e := range list {
		assert.NotEqual(t, "..", e.Name)
	}
}

// What is neither file nor folder would be waited for.
func TestNoFile(t *testing.T) {
	t.Chdir(t.TempDir()) // the path of a socket must be short
	socket, err := net.Listen("unix", "clock.toml")
	if err != nil {
		t.Skip("no sockets in folders here")
	}
	defer socket.Close()
	list, _, err := ListBuilds(".")
	require.NoError(t, err)
	assert.Equal(t, []Entry{{Name: "..", Folder: true}}, list)
	_, err = stampOf("clock.toml")
	assert.ErrorContains(t, err, "is no file but a socket")
}

func TestListBuildsFails(t *testing.T) {
	here := t.TempDir()
	put(t, filepath.Join(here, "file"), "")
	for _, name := range []string{"none", "file"} {
		list, _, err := ListBuilds(filepath.Join(here, name))
		assert.Nil(t, list)
		assert.ErrorContains(t, err, filepath.Join(here, name))
		assert.ErrorContains(t, err, "choose another")
	}
}

func TestTitleOf(t *testing.T) {
	path := filepath.Join(t.TempDir(), "clock.toml")
	rest := "\n[rail]\nvoltage = \"5 V\"\n"
	for text, want := range map[string]string{ // derived: by the rules of TOML
		"title = \"Hall\"" + rest:                               "Hall",
		"\uFEFF# a clock\r\nformat = 1\r\ntitle='Hall'\r\n":     "Hall",
		"# title = 'no'\n\"title\" = \"a \\\"b\\\" \\u00b5\"\n": "a \"b\" µ",
		"title = '''\ntwo\nlines'''":                            "two\nlines",
		"note = \"\"\"\ntitle = 'no'\n\"\"\"\ntitle = 'yes'":    "yes",
		"title = 'cut off'\n[[hand":                             "cut off",
		"[rail]\ntitle = 'no'":                                  "",
		"[[hand]]\ntitle = 'no'":                                "",
		"title = 5":                                             "",
		"title.x = 'no'":                                        "",
		"titles = 'no'":                                         "",
		"= =\ntitle = 'no'":                                     "",
		"":                                                      "",
		"\xff\x00\x1b[2J":                                       "",
	} {
		put(t, path, text)
		assert.Equal(t, want, titleOf(path), "%q", text)
	}
	assert.Empty(t, titleOf(filepath.Join(t.TempDir(), "none.toml")))
}

// The title is looked for in the first 64 KiB and not beyond.
func TestTitleOfLongFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "clock.toml")
	line := "title = 'Hall'\n"
	comment := func(n int) string { return "#" + strings.Repeat("x", n-2) + "\n" } // n bytes
	put(t, path, comment(64<<10-len(line))+line+comment(1<<20))
	assert.Equal(t, "Hall", titleOf(path))
	put(t, path, comment(64<<10)+line)
	assert.Empty(t, titleOf(path))
}
