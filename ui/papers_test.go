package ui

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model/dial"
	"example.com/needlewright/model/paper"
)

// Each paper of the menu is written where it is asked for, as its command makes it; one that
// is there is written over after a yes alone.
func TestPapersFromTheMenu(t *testing.T) {
	folder := t.TempDir()
	a := firstRun(t, 80, 24)
	press(a, "esc")
	on, _ := dial.PaperNamed("a4")
	for k, kind := range paper.Kinds {
		path := filepath.Join(folder, kind.File)
		tap(a, "f2")
		press(a, "papers", "enter")
		require.Contains(t, a.Plain(), "Which paper is to be written")
		for range k {
			tap(a, "down")
		}
		tap(a, "enter")
		cmd := press(a, path, "enter")
		if kind.File == "dials.pdf" {
			require.Contains(t, a.Plain(), "On which paper")
			cmd = press(a, "enter")
		}
		news(a, cmd)
		got, err := os.ReadFile(path)
		require.NoError(t, err, kind.Title)
		want, err := kind.Make(a.session.Doc, on)
		require.NoError(t, err)
		assert.Equal(t, want, string(got), kind.Title)
		assert.Contains(t, oneLine(a), kind.File)
	}

	path := filepath.Join(folder, "codes.h")
	require.NoError(t, os.WriteFile(path, []byte("mine"), 0o644))
	again := func() {
		tap(a, "f2")
		press(a, "papers", "enter")
		for range 4 {
			tap(a, "down")
		}
		tap(a, "enter")
		news(a, press(a, path, "enter"))
		require.Contains(t, a.Plain(), "It is there already")
	}
	again()
	tap(a, "enter")
	got, _ := os.ReadFile(path)
	assert.Equal(t, "mine", string(got), "left")
	again()
	tap(a, "down")
	news(a, press(a, "enter"))
	got, _ = os.ReadFile(path)
	assert.Contains(t, string(got), "codes_hours")
}

// All papers go into a folder, all or none.
func TestAllPapersIntoAFolder(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "clock")
	a := firstRun(t, 80, 24)
	press(a, "esc")
	tap(a, "f2")
	press(a, "papers", "enter")
	for range paper.Kinds {
		tap(a, "down")
	}
	tap(a, "enter")
	press(a, folder, "enter")
	news(a, press(a, "enter"))
	var names []string
	entries, err := os.ReadDir(folder)
	require.NoError(t, err)
	for _, e := range entries {
		names = append(names, e.Name())
	}
	assert.Equal(t, []string{"codes.h", "dial-hours.svg", "dials.pdf", "parts.csv", "sheet.html"}, names)
}
