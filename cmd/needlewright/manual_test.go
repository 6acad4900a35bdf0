package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/spf13/pflag"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The manual has a page of every command, of no day, and is the same each time.
func TestManual(t *testing.T) {
	folder := t.TempDir()
	packer, err := builtOtherwise()
	require.NoError(t, err)
	pages := func(name, day string) map[string]string {
		c := exec.Command(packer, "manual", "-o", filepath.Join(folder, name))
		c.Env = append(os.Environ(), "SOURCE_DATE_EPOCH="+day)
		out, err := c.CombinedOutput()
		require.NoError(t, err, "%s", out)
		entries, err := os.ReadDir(filepath.Join(folder, name))
		require.NoError(t, err)
		all := map[string]string{}
		for _, e := range entries {
			all[e.Name()] = content(t, filepath.Join(folder, name, e.Name()))
		}
		return all
	}
	one := pages("one", "0")
	assert.Equal(t, one, pages("other", "1700000000"))
	assert.Contains(t, one["needlewright.1"], "needlewright-check(1)")
	for name, c := range commands(t) {
		if name == "help" {
			continue
		}
		page := one["needlewright-"+name+".1"]
		require.NotEmpty(t, page, "no page of %s", name)
		assert.Contains(t, page, `.TH "NEEDLEWRIGHT-`+strings.ToUpper(name)+`" "1" "" "needlewright"`, name)
		c.Flags().VisitAll(func(f *pflag.Flag) { assert.Contains(t, page, "--"+f.Name, name) })
		assert.Contains(t, page, strings.Split(c.Short, ",")[0], name)
	}
	day := regexp.MustCompile(`\b(Jan|Feb|Mar|Apr|May|Jun|Jul|Aug|Sep|Oct|Nov|Dec) \d{4}|\b20\d\d\b`)
	for name, page := range one {
		assert.NotRegexp(t, day, page, name)
	}
	assert.NotContains(t, ran("", "--help").stdout, "manual", "the program that people have is without it")
}
