package model

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// repeated repeats a line with a number in it.
func repeated(n int, line string) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, line, i)
	}
	return b.String()
}

// TestMonsters: files that nobody writes are read in no more than ten seconds (each
// takes well under one; what grew with the square of their size took longer), with a
// sentence, and few problems are kept however many there are.
func TestMonsters(t *testing.T) {
	build := testdata(t, "public-1.toml")
	hand := build[strings.Index(build, "[[hand]]"):strings.Index(build, "[crystal]")]
	_, fromTitle, _ := strings.Cut(build, "format = 1\n")
	long := strings.Repeat("a", 200_000)
	parts := strings.Repeat("a.", 100_000) + "a"
	for name, c := range map[string]struct {
		text  string
		count int // derived: what was put in
		says  string
	}{
		"hands":             {build + strings.Repeat(hand, 1000), 12, "hand: this is one more than the most hands of a build; allowed: 12"}, // and 11 bear the first one's name
		"bare hands":        {build + strings.Repeat("[[hand]]\n", 200_000), 67, "hand: this is one more than the most hands"},              // 11 hands lack 6 values each
		"lamps":             {build + repeated(10_000, "[[lamp]]\nname = \"l%d\"\nforward = 2\nresistor = 1000\n"), 1, "lamp: this is one more than the most lamps of a build; allowed: 40"},
		"drains":            {build + repeated(10_000, "[[drain]]\nname = \"d%d\"\n"), 1, "allowed: 40"},
		"buttons":           {build + repeated(10_000, "[[button]]\nname = \"b%d\"\npull = 47000\n"), 1, "allowed: 40"},
		"readings":          {build + repeated(10_000, "[[reading]]\nat = \"rail.%d\"\nvalue = 5\n"), 1, "allowed: 200"},
		"unknown keys":      {build + repeated(20_000, "key%d = 1\n"), 20_000, "no such key"},
		"keys in a table":   {build + "\nx = {" + repeated(100_000, "a%d = 1, ") + "b = 1}", 100_001, "no such key"},
		"unknown tables":    {build + repeated(100_000, "[t%d]\nx = 1\n"), 100_000, "no such table"},
		"one key":           {"format = 1\n" + strings.Repeat("format = 1\n", 100_000) + fromTitle, 100_000, "this key stands here for the second time"},
		"dotted header":     {build + "[" + parts + "]\n", 1, "no such table"},
		"dotted key":        {build + parts + " = 1\n", 1, "no such key"},
		"dotted in a table": {build + "\n" + parts + " = {" + repeated(100_000, "a%d = 1, ") + "b = 1}", 1, "no such key"},
		"long header":       {build + "[" + long + "]\n", 1, "no such table"},
		"long key":          {build + long + " = 1\n", 1, "no such key"},
		"deep array":        {build + "x = " + strings.Repeat("[", 1_000_000), 1, "this is not TOML"},
		"deep table":        {build + "x = " + strings.Repeat("{a = ", 500_000), 1, "this is not TOML"},
		"deep enough":       {build + "x = " + strings.Repeat("{a = ", 5000) + "1" + strings.Repeat("}", 5000), 1, "no such key"},
		"rubbish":           {repeated(100_000, "Dear clock %d,\n"), 1, "this is not TOML"},
		"long title":        {with(t, build, "title", strings.Repeat("long ", 200_000)), 1, "1 000 000 characters are too many"},
		"long coil":         {with(t, build, "hand.hours.meter.coil", strings.Repeat("6", 1_000_000)), 1, "1 000 000 characters are too many"},
		"long name":         {with(t, build, "hand.hours.name", long), 1, "200 000 characters are too many"},
		"long table":        {with(t, build, "hand.hours.meter.table", "["+strings.Repeat("[0, 0], ", 100_000)+"]"), 1, "800 002 characters are too many"},
	} {
		t.Run(name, func(t *testing.T) {
			begun := time.Now()
			d := Open(c.text)
			require.NotEmpty(t, d.Problems)
			said := ""
			for i := range d.Problems {
				text := d.Problems[i].String()
				require.Less(t, len(text), 1000)
				said += text + "\n"
				d.Find(d.Problems[i].Path)
			}
			assert.Contains(t, said, c.says)
			assert.Equal(t, c.count, Count(d.Problems), said)
			assert.LessOrEqual(t, len(d.Problems), 150)
			assert.Less(t, time.Since(begun), 10*time.Second)
		})
	}
}

// The most of each list is allowed, and one more is refused wherever it comes from.
func TestTheMostOfEachList(t *testing.T) {
	for _, list := range []string{"hand", "lamp", "drain", "button"} {
		d, err := Open(testdata(t, "whole.toml")), (*Problem)(nil)
		for i := len(d.outline.names(list)); i < Builds.mostOf(list); i++ {
			copyOf := -1
			if list == "hand" {
				copyOf = 0
			}
			d, err = d.Add(list, fmt.Sprintf("more-%d", i), copyOf)
			require.Nil(t, err)
		}
		assert.Empty(t, messages(d.Problems), list)
		same, err := d.Add(list, "too-many", -1)
		require.NotNil(t, err, list)
		assert.Contains(t, err.Message(), "one more than the most "+list+"s of a build; allowed: "+fmt.Sprint(Builds.mostOf(list)))
		assert.Equal(t, d.Text, same.Text)
	}
}

// What is next to nothing but not 0 is a slip, and overflows when it is squared.
func TestNextToNothing(t *testing.T) {
	text := testdata(t, "public-1.toml")
	for _, value := range []string{"1e-300", "1e-9 Ω"} {
		_, problems := Read(with(t, text, "hand.hours.drive.trimmer", value))
		require.Len(t, problems, 1)
		assert.Contains(t, problems[0].String(), "next to nothing, yet not 0; allowed: 0 Ω to 5 MΩ; write 0")
	}
	for _, value := range []string{"0", "1e-5 Ω"} {
		_, problems := Read(with(t, text, "hand.hours.drive.trimmer", value, "hand.hours.drive.setting", ""))
		assert.Empty(t, problems)
	}
}
