package model

import (
	"path/filepath"
	"strings"
	"testing"

	"github.com/pelletier/go-toml/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

const twoHands = `# Two hands.
format = 1

# The hours, on the left.
[[hand]]
name = "hours" # left
[hand.meter]
coil = 640 # Ω
full_scale = 500

# The minutes.
# On the right.
[[hand]]
name = "minutes"
  [hand.meter]
  coil = 310
  full_scale = "1 mA"
  table = [ # measured
    [0, 0],
# not a comment of a table
    [100, 100]]
[hand.drive] # its own
clock = "1 MHz"
counts = 256
top = 240
# still of the drive

# The battery.
[battery]
cells = 0
`

// copyOfHours is written by hand from the rule: the block with its comments,
// behind the last hand, with the blank lines that stood there.
const copyOfHours = `# The hours, on the left.
[[hand]]
name = "seconds" # left
[hand.meter]
coil = 640 # Ω
full_scale = 500

`

// TestAddAndRemove: birthplace: derived, by hand, from the rules of a block.
func TestAddAndRemove(t *testing.T) {
	battery := strings.Index(twoHands, "# The battery.")
	first, second := strings.Index(twoHands, "# The hours"), strings.Index(twoHands, "# The minutes")
	d := Open(twoHands)

	added, problem := d.Add("hand", "seconds", 0)
	require.Nil(t, problem)
	assert.Equal(t, twoHands[:battery]+copyOfHours+twoHands[battery:], added.Text)

	removed, problem := d.Remove("hand", 0)
	require.Nil(t, problem)
	assert.Equal(t, twoHands[:first]+twoHands[second:], removed.Text)

	removed, problem = d.Remove("hand", 1)
	require.Nil(t, problem)
	assert.Equal(t, twoHands[:second]+twoHands[battery:], removed.Text)

	only, problem := removed.Remove("hand", 0)
	assert.Same(t, removed, only)
	require.NotNil(t, problem)
	assert.Equal(t, "line 1: hand.hours: it is the only hand of the build; allowed: one hand or more; remedy", strings.Replace(problem.String(), "add another first, or change this one", "remedy", 1))
}

// TestAddLampAtTheEnd: birthplace: derived, by hand: behind a blank line at the
// end where there is no lamp yet, behind the last lamp where there is.
func TestAddLampAtTheEnd(t *testing.T) {
	for _, c := range []struct{ name, text, before string }{
		{"a line at the end", "[load]\nhours_on = 3\n", "\n"},
		{"no line at the end", "[load]\nhours_on = 3", "\n\n"},
		{"a blank line there already", "[load]\nhours_on = 3\n\n", "\n"},
		{"a comment at the end", "[load]\n# end\n", "\n"},
		{"CRLF", "[load]\r\nhours_on = 3\r\n", "\r\n"},
		{"CRLF, no line at the end", "[load]\r\nhours_on = 3\r\n# end", "\r\n\r\n"},
		{"nothing", "", "\n"},
		{"after a lamp", "[[lamp]]\nname = \"noon\"\n", "\n"},
	} {
		d := Open(c.text)
		added, problem := d.Add("lamp", "tide", -1)
		require.Nil(t, problem, c.name)
		block, ok := strings.CutPrefix(added.Text, c.text+c.before)
		require.True(t, ok, c.name)
		assert.Regexp(t, "^\\[\\[lamp\\]\\]\r?\nname = \"tide\"\r?\nforward = ", block, c.name)
		assert.Equal(t, strings.HasSuffix(c.text, "\n") || c.text == "", strings.HasSuffix(block, "\n"), c.name)
		assert.Equal(t, strings.Contains(c.text, "\r\n"), strings.Count(block, "\r\n") == strings.Count(block, "\n"), c.name)
		restored, problem := added.Remove("lamp", len(d.Build.Lamps))
		require.Nil(t, problem, c.name)
		assert.Equal(t, c.text, restored.Text, c.name)
	}
}

// TestNewHandWaits: birthplace: the catalogue: coil and full scale must be given,
// and evaluation never invents one.
func TestNewHandWaits(t *testing.T) {
	d, problem := Open(testdata(t, "whole.toml")).Add("hand", "minutes", -1)
	require.Nil(t, problem)
	require.Len(t, d.Build.Hands, 2)
	var paths []string
	for _, p := range d.Problems {
		assert.Equal(t, "must be given", p.Wrong)
		paths = append(paths, p.Path)
	}
	assert.ElementsMatch(t, []string{"hand.minutes.meter.coil", "hand.minutes.meter.full_scale"}, paths)
	text := with(t, d.Text, "hand.minutes.meter.coil", "640", "hand.minutes.meter.full_scale", "500")
	soundBuild(t, text)
}

// TestNewOfEachList: birthplace: the catalogue: a lamp, a drain and a button of
// usual values can be evaluated as they are.
func TestNewOfEachList(t *testing.T) {
	d := Open(testdata(t, "public-1.toml"))
	require.Empty(t, d.Problems)
	for _, list := range []string{"lamp", "drain", "button"} {
		n := d.outline.count[list]
		added, problem := d.Add(list, "spare", -1)
		require.Nil(t, problem, list)
		assert.Empty(t, messages(added.Problems), list)
		assert.Equal(t, n+1, added.outline.count[list], list)
		assert.Equal(t, "spare", added.Build.NameOf(list, n), list)
		twice, problem := added.Add(list, "spare", -1)
		assert.Same(t, added, twice, list)
		if assert.NotNil(t, problem, list) {
			assert.Equal(t, "another "+list+" has this name", problem.Wrong)
		}
		without, problem := added.Remove(list, n)
		require.Nil(t, problem, list)
		assert.Equal(t, d.Text, without.Text, list)
	}
}

// TestChangesText: birthplace: derived, by hand.
func TestChangesText(t *testing.T) {
	d := Open("[[hand]]\nname = \"hours\"\n[hand.drive]\nfixed = \"3.3 kΩ ±5 %\"\ntrimmer = \"1 kΩ\"\nsetting = \"200 Ω\"\n")
	changes := []Change{
		{Builds.Field("hand.drive.fixed"), 0, "4.3 kΩ ±5 %"}, {Builds.Field("hand.drive.trimmer"), 0, "500 Ω"}, {Builds.Field("hand.drive.setting"), 0, ""},
	}
	assert.Equal(t, "Fixed resistor 3.3 kΩ → 4.3 kΩ, trimmer 1 kΩ → 500 Ω, setting 200 Ω → none", d.ChangesText(changes))
}

// TestTablesApart: birthplace: derived; TOML lets the table of a hand stand far
// from its header, and it must come and go with its hand.
func TestTablesApart(t *testing.T) {
	const text = "[[hand]]\nname = \"hours\"\n\n[load]\nhours_on = 3\n\n[hand.meter]\ncoil = 640\n\n[rail]\nvoltage = 5\n"
	d := Open(text)
	added, problem := d.Add("hand", "minutes", 0)
	require.Nil(t, problem)
	assert.Equal(t, "[[hand]]\nname = \"hours\"\n\n[load]\nhours_on = 3\n\n[hand.meter]\ncoil = 640\n\n"+
		"[[hand]]\nname = \"minutes\"\n\n[hand.meter]\ncoil = 640\n\n[rail]\nvoltage = 5\n", added.Text)
	removed, problem := added.Remove("hand", 0)
	require.Nil(t, problem)
	assert.Equal(t, "[load]\nhours_on = 3\n\n[[hand]]\nname = \"minutes\"\n\n[hand.meter]\ncoil = 640\n\n[rail]\nvoltage = 5\n", removed.Text)
}

// TestNamesThatWillNotDo: birthplace: the catalogue's rules for names.
func TestNamesThatWillNotDo(t *testing.T) {
	d := Open(twoHands)
	for name, wrong := range map[string]string{
		"":        "must be given",
		"Seconds": "a name is small letters, digits and -, a letter first",
		"meter 3": "a name is small letters, digits and -, a letter first",
		"minutes": "another hand has this name",
		"battery": "a table of the file is called so",
	} {
		for _, try := range []func() (*Document, *Problem){
			func() (*Document, *Problem) { return d.Add("hand", name, 0) },
			func() (*Document, *Problem) { return d.Add("hand", name, -1) },
			func() (*Document, *Problem) { return d.Rename("hand", 0, name) },
		} {
			got, problem := try()
			assert.Same(t, d, got)
			if assert.NotNil(t, problem, name) {
				assert.Equal(t, wrong, problem.Wrong, name)
				assert.NotEmpty(t, problem.Remedy)
				assert.Equal(t, 1, problem.Line, "of a text that was given up")
			}
		}
	}
	renamed, problem := d.Rename("hand", 1, "seconds")
	require.Nil(t, problem)
	assert.Equal(t, strings.Replace(twoHands, `"minutes"`, `"seconds"`, 1), renamed.Text)
	same, problem := d.Rename("hand", 1, "minutes")
	assert.Nil(t, problem)
	assert.Same(t, d, same)
}

// TestNoTOMLStays: birthplace: derived; what cannot be read is not cut up.
func TestNoTOMLStays(t *testing.T) {
	d := Open("[[hand]]\nname = \"hours\"\n[[hand]]\nname = = 3\n")
	for _, try := range []func() (*Document, *Problem){
		func() (*Document, *Problem) { return d.Add("hand", "minutes", 0) },
		func() (*Document, *Problem) { return d.Add("lamp", "noon", -1) },
		func() (*Document, *Problem) { return d.Remove("hand", 0) },
		func() (*Document, *Problem) { return d.Rename("hand", 0, "minutes") },
	} {
		got, problem := try()
		assert.Same(t, d, got)
		if assert.NotNil(t, problem) {
			assert.Equal(t, 4, problem.Line)
		}
	}
}

// wholeBuilds are texts of whole builds, some changed in their make.
func wholeBuilds(t testing.TB) []string {
	files, err := filepath.Glob("../examples/*.toml")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	battery := strings.Index(twoHands, "# The battery.")
	texts := []string{twoHands, twoHands[:battery], strings.TrimSpace(twoHands[:battery])} // with the hands at the end
	for _, f := range append(files, "testdata/whole.toml", "testdata/three-hands.toml", "testdata/public-1.toml", "testdata/public-2.toml") {
		text := fileText(f)
		texts = append(texts, text, strings.ReplaceAll(text, "\n", "\r\n"), strings.TrimSpace(text), "\uFEFF"+text,
			strings.ReplaceAll(text, "\n\n", "\n"), text+"\n\n")
	}
	return texts
}

// TestEditLaws: derived; what is added is one piece, all the rest stays byte for
// byte, and taking it away again gives the text back.
func TestEditLaws(t *testing.T) {
	texts := wholeBuilds(t)
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.SampledFrom(texts).Draw(t, "text")
		d := Open(text)
		list := rapid.SampledFrom([]string{"hand", "lamp", "drain", "button"}).Draw(t, "list")
		n := d.outline.count[list]
		from := rapid.IntRange(-1, n-1).Draw(t, "copy of")
		added, problem := d.Add(list, "spare", from)
		require.Nil(t, problem)
		require.Equal(t, n+1, added.outline.count[list])

		same := 0
		for same < len(text) && text[same] == added.Text[same] {
			same++
		}
		assert.True(t, strings.HasSuffix(added.Text, text[same:]), "the rest stays")
		require.NoError(t, toml.Unmarshal([]byte(strings.TrimPrefix(added.Text, "\uFEFF")), new(map[string]any)))
		if from >= 0 && len(d.Problems) == 0 {
			assert.Empty(t, messages(added.Problems))
			again, problem := added.Rename(list, n, "other")
			require.Nil(t, problem)
			assert.Empty(t, messages(again.Problems))
			for _, f := range Builds.Fields {
				if f.list == list && f.element != "name" {
					assert.Equal(t, f.Text(d.Build, from), f.Text(again.Build, n), f.Path)
				}
			}
		}
		restored, problem := added.Remove(list, n)
		require.Nil(t, problem)
		assert.Equal(t, text, restored.Text)

		if n > 1 || (n == 1 && list != "hand") { // one of those that were there
			i := rapid.IntRange(0, n-1).Draw(t, "removed")
			less, problem := d.Remove(list, i)
			require.Nil(t, problem)
			assert.Empty(t, lost(d, less, list, i))
		}
	})
}

// lost are the paths outside the i-th of a list whose values changed with its
// removal.
func lost(before, after *Document, list string, i int) []string {
	var changed []string
	for _, f := range Builds.Fields {
		for k := range f.Of(before.Build) {
			to := k
			if f.list == list && k == i {
				continue
			}
			if f.list == list && k > i {
				to = k - 1
			}
			was, _ := before.Given(f, k)
			if now, _ := after.Given(f, to); now != was {
				changed = append(changed, f.PathOf(before.Build, k))
			}
		}
	}
	return changed
}

// TestMultilineTextIsNoComment: birthplace: derived; the last line of a text of
// several lines is part of it, though it begins like a comment.
func TestMultilineTextIsNoComment(t *testing.T) {
	const text = "title = \"\"\"\na\n# b\"\"\"\n[[hand]]\nname = \"hours\"\n[[hand]]\nname = \"minutes\"\n"
	removed, problem := Open(text).Remove("hand", 0)
	require.Nil(t, problem)
	assert.Equal(t, "title = \"\"\"\na\n# b\"\"\"\n[[hand]]\nname = \"minutes\"\n", removed.Text)
}

// Readings come and go, and the text without them stays: it is the key of what does not
// depend on them.
func TestTextWithoutReadings(t *testing.T) {
	text := "format = 1\n\n[rail]\nvoltage = \"5 V\"\n"
	d := Open(text)
	key := d.TextWithout("reading")
	with, problem := d.Add("reading", "rail.voltage_on", -1)
	require.Nil(t, problem)
	with = with.Set(Builds.Field("reading.value"), 0, "4.9 V")
	require.Equal(t, []Reading{{At: "rail.voltage_on", Value: "4.9 V", Before: "no"}}, with.Build.Readings)
	assert.Equal(t, key, with.TextWithout("reading"))
	more, problem := with.Add("reading", "reset.voltage", -1)
	require.Nil(t, problem)
	assert.Equal(t, key, more.TextWithout("reading"))
	assert.NotEqual(t, key, more.Set(Builds.Field("rail.voltage"), 0, "4 V").TextWithout("reading"))
	gone, problem := with.Remove("reading", 0)
	require.Nil(t, problem)
	assert.Equal(t, text, gone.Text)
}
