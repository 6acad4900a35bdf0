package file

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Of thousands of files the first by name are listed, and it says so.
func TestListBuildsOfThousands(t *testing.T) {
	here := t.TempDir()
	for i := range 3000 {
		put(t, filepath.Join(here, fmt.Sprintf("%04d.toml", i)), "title = 'x'\n")
	}
	list, whole, err := ListBuilds(here)
	require.NoError(t, err)
	assert.False(t, whole)
	require.Len(t, list, 1+mostListed) // with the folder above
	assert.Equal(t, "0000.toml", list[1].Name)
	assert.Equal(t, fmt.Sprintf("%04d.toml", mostListed-1), list[mostListed].Name)
	for i := mostListed - 1; i < 3000; i++ {
		require.NoError(t, os.Remove(filepath.Join(here, fmt.Sprintf("%04d.toml", i))))
	}
	list, whole, err = ListBuilds(here)
	require.NoError(t, err)
	assert.True(t, whole)
	assert.Len(t, list, mostListed)
}

// A file that does not answer costs its title, and no more than the patience.
func TestListBuildsOfASlowFolder(t *testing.T) {
	here := t.TempDir()
	for _, name := range []string{"a", "b", "c"} {
		put(t, filepath.Join(here, name+".toml"), "title = '"+name+"'\n")
	}
	forever := make(chan struct{})
	defer close(forever)
	inTime(t, "a slow file", func() {
		list, whole, err := listWithin(here, func(path string) string {
			if strings.HasSuffix(path, "b.toml") {
				<-forever
			}
			return titleOf(path)
		}, time.Second)
		assert.NoError(t, err)
		assert.True(t, whole)
		assert.Equal(t, []Entry{{Name: "a.toml", Title: "a"}, {Name: "b.toml"}, {Name: "c.toml"}}, list)
	})
}
