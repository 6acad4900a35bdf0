package model

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// A value is too long by one character more than its field takes, and says so at
// its place, in a check as on the form.
func TestTooLong(t *testing.T) {
	text := testdata(t, "public-1.toml")
	for _, f := range Builds.Fields {
		if f.Of(Open(text).Build) == 0 {
			continue
		}
		path := f.PathOf(Open(text).Build, 0)
		if strings.HasSuffix(path, ".name") || path == "format" {
			continue // other values hang on them
		}
		long, problem := Set(text, path, strings.Repeat("é", f.Longest()+1))
		require.Nil(t, problem)
		_, problems := Read(long)
		require.NotEmpty(t, problems, path)
		d := Open(long)
		require.Equal(t, problems, d.Problems, path)
		p := d.Problem(f, 0)
		require.NotNil(t, p, path)
		assert.Contains(t, p.Wrong, "characters are too many", path)
		assert.Contains(t, p.Allowed, "at most", path)
		assert.Equal(t, f.Longest()+1, d.TooLong(f, 0), path)
		given, ok := d.Given(f, 0)
		assert.True(t, ok)
		assert.Equal(t, strings.Repeat("é", 40)+"…", given, path)
		assert.Equal(t, long, d.Whole(), path)

		just, _ := Set(text, path, strings.Repeat("é", f.Longest()))
		d = Open(just)
		assert.Zero(t, d.TooLong(f, 0), path)
		assert.Equal(t, just, d.Text, path)
	}
}

// A long value does not stand in the text that is edited, wherever the file has
// it, and comes back byte for byte through every kind of change.
func TestLongValuesAreClipped(t *testing.T) {
	const size = 100_000
	x := strings.Repeat("x", size)
	base := testdata(t, "public-1.toml")
	for name, text := range map[string]string{
		"basic":        "title = \"" + x + "\"\n",
		"literal":      "title = '" + x + "'",
		"lines":        "title = \"\"\"" + strings.Repeat("x\n", size) + "\"\"\" # end\n",
		"array":        "[[hand]]\nname = \"a\"\n[hand.meter]\ntable = [" + strings.Repeat("[\"1 %\", \"2 %\"],\n", size/10) + "]\n",
		"unknown key":  "nonsense = \"" + x + "\"\n",
		"inline table": "rail = { voltage = \"" + x + "\", drift = \"2 %\" }\n",
		"no table":     "[nonsense]\na = \"" + x + "\"\nb = { c = '" + x + "' }\n",
		"second time":  "title = \"a\"\ntitle = \"" + x + "\"\n",
		"mark":         "\ufefftitle = \"" + x + "\"\r\n",
		"number":       "[rail]\nvoltage = " + strings.Repeat("1", size) + "\n",
		"escapes":      "title = \"" + strings.Repeat(`\u00e9\"`, size/8) + "\"\n",
		"twice":        "title = \"" + x + "\"\n[rail]\nvoltage = \"" + x + "\"\n",
	} {
		d := Open(text)
		require.False(t, d.Broken(), name)
		assert.Less(t, len(d.Text), 1000, name)
		assert.True(t, text == d.Whole(), name)
		_, problems := Read(text)
		assert.Equal(t, problems, d.Problems, "%s: with the lines of the file", name)
		changed := d.Set(Builds.Field("crystal.load"), 0, "9 pF")
		want, problem := Set(text, "crystal.load", "9 pF")
		require.Nil(t, problem, name)
		assert.True(t, want == changed.Whole(), name)
		assert.True(t, text == changed.Reopen(d.Text).Whole(), name)
		assert.Equal(t, changed.Text, d.Reopen(want).Text, "%s: the same stands for the same", name)
		assert.True(t, base == d.Reopen(base).Whole(), name)
	}
}

// What looks like the sign for a clipped value is not taken for one.
func TestClipsAreNotMistaken(t *testing.T) {
	x := strings.Repeat("x", 300)
	place := Open("title = \"" + x + "\"\n")
	text := "title = \"" + x + "\"\n[rail]\n" + strings.Replace(strings.TrimSpace(place.Text), "title", "voltage", 1) + "\n"
	d := Open(text)
	assert.Equal(t, text, d.Whole())
	assert.Equal(t, text, d.Set(Builds.Field("crystal.load"), 0, "9 pF").Reopen(text).Whole())
}

// Whatever values a file has, the whole is what was opened.
func TestWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := ""
		for i, path := range []string{"title", "rail.voltage", "crystal.load", "battery.curve", "load.hours_on"} {
			value := strings.Repeat(rapid.SampledFrom([]string{"x", "é", "\"", "\\", "\n", "[", "…" + notText + "0", "日"}).Draw(t, "sign"), rapid.IntRange(0, 300).Draw(t, "times"))
			var problem *Problem
			text, problem = Set(text, path, value)
			require.Nil(t, problem, i)
		}
		d := Open(text)
		require.Equal(t, text, d.Whole())
		d = d.Set(Builds.Field("load.controller_on"), 0, "2 mA")
		want, _ := Set(text, "load.controller_on", "2 mA")
		require.Equal(t, want, d.Whole())
	})
}
