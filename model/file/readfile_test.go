package file

import (
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// inTime fails a test that hangs, long after what it does should be done.
func inTime(t *testing.T, what string, do func()) {
	t.Helper()
	done := make(chan struct{})
	go func() {
		defer close(done)
		do()
	}()
	select {
	case <-done:
	case <-time.After(20 * time.Second):
		require.FailNow(t, "it hangs: "+what)
	}
}

// sparse makes a file that says it is large and takes no room.
func sparse(t *testing.T, path string, size int64) {
	t.Helper()
	put(t, path, "")
	require.NoError(t, os.Truncate(path, size))
}

func TestReadFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "clock.toml")
	put(t, path, "\uFEFFtitle = \"Küche\"\r\n")
	text, s, err := ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, "\uFEFFtitle = \"Küche\"\r\n", text)
	assert.Equal(t, stamp(t, path), s)
}

// Each refusal says what is there, what is allowed and what to do.
func TestReadFileRefuses(t *testing.T) {
	here := t.TempDir()
	at := func(name string) string { return filepath.Join(here, name) }
	sparse(t, at("large"), 1<<30)
	sparse(t, at("just too large"), MostBytes+1)
	put(t, at("latin"), "title = 'x'\n# K\xfcche\n")
	put(t, at("wide"), "\xff\xfet\x00i\x00")
	put(t, at("zero"), "a\nb\nc\x00")
	put(t, at("cut"), "# \xc3")
	for path, wants := range map[string][]string{
		at("large"):          {"too large", "holds 1024 MiB", "at most 4 MiB", "give the path of a build"},
		at("just too large"): {"holds 4.1 MiB", "at most 4 MiB"},
		here:                 {"is no file but a folder", "a text file of at most 4 MiB", "give the path of one"},
		at("latin"):          {"line 2 of " + at("latin"), "not UTF-8", "save it as UTF-8"},
		at("wide"):           {"line 1 of", "a zero byte"},
		at("zero"):           {"line 3 of", "a zero byte"},
		at("cut"):            {"line 1 of", "not UTF-8"},
	} {
		inTime(t, path, func() {
			text, s, err := ReadFile(path)
			for _, want := range wants {
				assert.ErrorContains(t, err, want)
			}
			assert.Empty(t, text)
			assert.Equal(t, Stamp{}, s)
		})
	}
	_, _, err := ReadFile(at("none"))
	assert.ErrorIs(t, err, fs.ErrNotExist)
}

func TestReadFileOfTheMost(t *testing.T) {
	path := filepath.Join(t.TempDir(), "clock.toml")
	put(t, path, strings.Repeat("#", MostBytes))
	text, _, err := ReadFile(path)
	require.NoError(t, err)
	assert.Len(t, text, MostBytes)
}

// A file that was small when it was looked at and grows while it is read.
func TestReadFileThatGrows(t *testing.T) {
	path := filepath.Join(t.TempDir(), "clock.toml")
	put(t, path, "")
	file, err := os.OpenFile(path, os.O_APPEND|os.O_WRONLY, 0)
	require.NoError(t, err)
	defer file.Close()
	stop, stopped := make(chan struct{}), make(chan struct{})
	go func() {
		defer close(stopped)
		piece := []byte(strings.Repeat("#", 64<<10))
		for range 16 * MostBytes / len(piece) {
			select {
			case <-stop:
				return
			default:
				_, _ = file.Write(piece)
			}
		}
	}()
	inTime(t, "a file that grows", func() {
		for {
			if text, _, err := ReadFile(path); err != nil {
				assert.ErrorIs(t, err, errTooLarge)
				return
			} else if !assert.LessOrEqual(t, len(text), MostBytes) {
				return
			}
		}
	})
	close(stop)
	<-stopped
}

// A file that became large is another one, and is not read to know that.
func TestChangedToLarge(t *testing.T) {
	path := filepath.Join(t.TempDir(), "clock.toml")
	put(t, path, "old")
	s := stamp(t, path)
	sparse(t, path, 1<<30)
	inTime(t, path, func() {
		changed, err := s.Changed(path)
		assert.NoError(t, err)
		assert.True(t, changed)
		for _, known := range []Stamp{s, {}} {
			_, err = saveOver(path, "mine", known)
			assert.ErrorIs(t, err, ErrChangedOnDisk)
		}
		assert.Empty(t, titleOf(path))
	})
}
