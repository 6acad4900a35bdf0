package model

import (
	"fmt"
	"strings"
	"testing"

	"github.com/pelletier/go-toml/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"example.com/needlewright/model/quantity"
)

// rowsOfTwo has rows of both kinds in two hands, with comments and other tables between.
const rowsOfTwo = `# Two hands.
format = 1

# The hours.
[[hand]]
name = "hours"

# Noon first.
[[hand.scale]]
at = "12:00" # just set
code = 240
of = 240
stands = "99 %"

[hand.meter]
coil = 640
full_scale = 500

# Half past.
[[hand.scale]]
code = 125
stands = "6:10"
going = "down"
# the end of the hours

# The minutes.
[[hand]]
name = "minutes"
[hand.meter]
coil = 310
full_scale = "1 mA"
[hand.survey]
# By hand, in the yard.
[[hand.survey.step]]
volts = 9
series = "1 MΩ ±5 %"
needle = "none"
[[hand.survey.step]]
volts = "1.5 V" # the cell
terminals = "-0.31 V"
[[hand.scale]]
stands = "5:53"

# The battery.
[battery]
cells = 0
`

// TestRowsAreRead: birthplace: written by hand from the text; a row is of the hand above it.
func TestRowsAreRead(t *testing.T) {
	b := Open(rowsOfTwo).Build
	require.Len(t, b.Hands, 2)
	assert.Equal(t, []ScaleRow{{At: "12:00", Code: 240, Of: 240, Stands: "99 %"}, {Code: 125, Stands: "6:10", Going: "down"}}, b.Hands[0].Scale)
	assert.Equal(t, []ScaleRow{{Stands: "5:53", Code: -1}}, b.Hands[1].Scale)
	assert.Empty(t, b.Hands[0].Survey)
	steps := b.Hands[1].Survey
	require.Len(t, steps, 2)
	assert.Equal(t, []float64{9, 1.5}, []float64{steps[0].Volts.Number, steps[1].Volts.Number})
	assert.InDelta(t, 50e3, steps[0].Series.Half(), 1e-6)
	assert.Equal(t, "none", steps[0].Needle)
	assert.Equal(t, -0.31, steps[1].Terminals.Number)
	for _, v := range []quantity.Value{steps[0].Source, steps[0].Across, steps[0].Terminals, steps[1].Series} {
		assert.False(t, v.Given())
	}
	f := Builds.Field("hand.scale.stands")
	require.Equal(t, 3, f.Of(b))
	for i, want := range []string{"hand.hours.scale.1.stands", "hand.hours.scale.2.stands", "hand.minutes.scale.1.stands"} {
		assert.Equal(t, want, f.PathOf(b, i))
		found, index, ok := Open(rowsOfTwo).Find(want)
		assert.True(t, ok && found == f && index == i, want)
	}
	assert.Equal(t, "hand.minutes.survey.step.2.needle", Builds.Field("hand.survey.step.needle").PathOf(b, 1))
}

// TestRowsThatWillNotDo: birthplace: derived by hand from the rules of problems: line, path,
// what was given, what is allowed, what to do.
func TestRowsThatWillNotDo(t *testing.T) {
	const hand = "[[hand]]\nname = 'a'\n"
	for _, c := range []struct{ text, want string }{
		{"[[hand.scale]]\nat = '6:00'\n", `line 1: hand.1.scale: "hand.scale": it stands before the hand it belongs to; write [[hand]] above it`},
		{"[hand.survey]\n", `line 1: hand.1.survey: "hand.survey": it stands before the hand it belongs to; write [[hand]] above it`},
		{hand + "[hand.scale]\nat = '6:00'\n", `line 3: hand.a.scale: "hand.scale": there may be several scale rows; write [[hand.scale]]`},
		{hand + "[hand.scale.deep]\n", `line 3: hand.a.scale.1.deep: "hand.scale.deep": it stands before the scale row it belongs to; write [[hand.scale]] above it`},
		{hand + "[[hand.scale]]\n[hand.scale.deep]\n", `line 4: hand.a.scale.1.deep: "hand.scale.deep": no such table; did you mean [hand.scale]?`},
		{hand + "[[hand.survey]]\n", `line 3: hand.a.survey: "hand.survey": this table stands once; write [hand.survey]`},
		{hand + "[hand.survey]\n[hand.survey]\n", `line 4: hand.a.survey: "hand.survey": this table stands here for the second time; put its keys under the first`},
		{hand + "scale = [{at = '6:00'}]\n", `line 3: hand.a.scale: "hand.scale": a scale row has a table of its own; write [[hand.scale]], and its keys below`},
		{hand + "scale.at = '6:00'\n", `line 3: hand.a.scale.at: "hand.scale.at": a scale row has a table of its own; write [[hand.scale]], and its keys below`},
		{hand + "survey = {step = []}\n", `line 3: hand.a.survey.step: "hand.survey.step": a survey step has a table of its own; write [[hand.survey.step]], and its keys below`},
		{hand + "[hand.survey]\nstep = []\n", `line 4: hand.a.survey.step: "hand.survey.step": a survey step has a table of its own; write [[hand.survey.step]], and its keys below`},
		{hand + "survey = {}\n", `line 3: hand.a.survey: "{}": a table stands by this name; write [hand.survey], and its keys below`},
		{hand + "[hand.survey]\nneedle = '2 %'\n", `line 4: hand.a.survey.needle: "needle": no such key; did you mean hand.survey.step.needle?`},
		{hand + "[[hand.scale]]\n[[hand]]\nname = 'b'\n[[hand.scale]]\n[[hand.scale]]\nstand = '2 %'\n", `line 8: hand.b.scale.2.stand: "stand": no such key; did you mean hand.scale.stands?`},
		{hand + "[[hand.scale]]\nat = '1'\nat = '2'\n", `line 5: hand.a.scale.1.at: "hand.scale.at": this key stands here for the second time; keep one of them`},
		{hand + "[[hand.scale]]\nat = 6\n", `line 4: hand.a.scale.1.at: Set to: "6": a text is needed; write it in quotes`},
		{hand + "[[hand.scale]]\ncode = '4.7'\n", `line 4: hand.a.scale.1.code: Code: "4.7": "4.7" is not a whole number; allowed: 0 to 65536; write a whole number, for example 256`},
		{hand + "[[hand.scale]]\nof = 0\n", `line 4: hand.a.scale.1.of: Of top code: "0": too small; allowed: 1 to 65536; give one within the range`},
		{hand + "[[hand.scale]]\ngoing = 'upp'\n", `line 4: hand.a.scale.1.going: Came from: "upp": no such choice; allowed: "up" or "down"; did you mean "up"?`},
		{hand + "[[hand.survey.step]]\n[[hand.survey.step]]\nvolts = 3\n", `line 5: hand.a.survey.step.2.volts: Source: "3": no such source; allowed: 1.5 V or 9 V; write which of the two it was; what it measured stands in source`},
		{hand + "[[hand.survey.step]]\nseries = '1 Ω'\n", `line 4: hand.a.survey.step.1.series: Series resistor: "1 Ω": too small; allowed: 10 Ω to 20 MΩ; check the prefix: a bare number is in Ω`},
		{hand + "[[hand.survey.step]]\nterminals = '-13 V'\n", `line 4: hand.a.survey.step.1.terminals: At the terminals: "-13 V": too small; allowed: -12 V to 12 V; check the prefix: a bare number is in V`},
	} {
		var own []string
		for _, p := range Open(c.text).Problems {
			if p.Wrong != "must be given" { // what the hand lacks
				own = append(own, p.String())
			}
		}
		require.Len(t, own, 1, c.text)
		assert.True(t, strings.HasPrefix(own[0], c.want), "%s\n%s", c.want, own[0])
	}
}

// TestTheMostRows: birthplace: the contract: 100 scale rows and 60 survey steps of a hand. What is
// beyond costs one problem, belongs to that hand, and the next one's are read.
func TestTheMostRows(t *testing.T) {
	for _, c := range []struct {
		list, path, one string
		most            int
	}{{"hand.scale", "hand.a.scale", "scale row", 100}, {"hand.survey.step", "hand.a.survey.step", "survey step", 60}} {
		rows := strings.Repeat("[["+c.list+"]]\n", c.most)
		const a, b = "[[hand]]\nname = 'a'\n", "[[hand]]\nname = 'b'\n"
		beyond := strings.Repeat("[["+c.list+"]]\nx = 1\n", 1000)
		next := b + strings.Repeat("[["+c.list+"]]\n", 3)
		d := Open(a + rows + beyond + next)
		key := Builds.Field(c.list + map[string]string{"hand.scale": ".at", "hand.survey.step": ".needle"}[c.list])
		assert.Equal(t, c.most+3, key.Of(d.Root))
		var found []Problem
		for _, p := range d.Problems {
			if strings.HasPrefix(p.Path, c.path) {
				found = append(found, p)
			}
		}
		require.Len(t, found, 1)
		assert.Equal(t, fmt.Sprintf("line %d: %s: this is one more than the most %ss of a hand; allowed: %d; take it out, with all that follow it in this hand",
			c.most+3, c.path, c.one, c.most), found[0].String())
		removed, problem := d.Remove("hand", 0)
		require.Nil(t, problem)
		assert.Equal(t, next, removed.Text)

		full := Open(a + rows + next)
		same, problem := full.AddRow(c.list, 0, nil)
		assert.Same(t, full, same)
		require.NotNil(t, problem)
		assert.Contains(t, problem.Message(), "one more than the most "+c.one+"s of a hand")
		_, problem = Set(full.Text, fmt.Sprintf("%s.%d.%s", c.path, c.most+1, last(key.Path)), "x")
		require.NotNil(t, problem)
		assert.Contains(t, problem.Message(), "one more than the most "+c.one+"s of a hand")
		_, problem = Set(full.Text, fmt.Sprintf("%s.%d.%s", c.path, c.most+5, last(key.Path)), "x")
		require.NotNil(t, problem)
		assert.Equal(t, fmt.Sprintf("1 to %d", c.most), problem.Allowed)
		more, problem := full.AddRow(c.list, 1, nil)
		require.Nil(t, problem)
		assert.Equal(t, c.most+4, key.Of(more.Root))
	}
}

// TestSetRows: birthplace: derived by hand: only the value's bytes change; the number behind
// the last adds a row behind the last of its kind in its hand, or behind that hand.
func TestSetRows(t *testing.T) {
	for _, c := range []struct{ path, given, old, now string }{
		{"hand.hours.scale.1.stands", "98 %", "stands = \"99 %\"", "stands = \"98 %\""},
		{"hand.hours.scale.2.code", "126", "code = 125", "code = 126"},
		{"hand.minutes.scale.1.at", "6:00", "stands = \"5:53\"\n", "stands = \"5:53\"\nat = \"6:00\"\n"},
		{"hand.minutes.survey.step.2.needle", "12 %", "terminals = \"-0.31 V\"\n", "terminals = \"-0.31 V\"\nneedle = \"12 %\"\n"},
		{"hand.hours.drive.top", "240", "going = \"down\"\n", "going = \"down\"\n\n[hand.drive]\ntop = 240\n"},
		{"hand.hours.scale.3.code", "60", "# the end of the hours\n", "# the end of the hours\n\n[[hand.scale]]\ncode = 60\n"},
		{"hand.minutes.scale.2.stands", "50 %", "stands = \"5:53\"\n", "stands = \"5:53\"\n\n[[hand.scale]]\nstands = \"50 %\"\n"},
		{"hand.minutes.survey.step.3.series", "1 MΩ", "terminals = \"-0.31 V\"\n", "terminals = \"-0.31 V\"\n[[hand.survey.step]]\nseries = \"1 MΩ\"\n"},
		{"hand.hours.survey.step.1.needle", "none", "# the end of the hours\n", "# the end of the hours\n\n[[hand.survey.step]]\nneedle = \"none\"\n"},
		{"hand.hours.scale.3.code", "", "", ""},
	} {
		for _, newline := range []string{"\n", "\r\n"} {
			text, want := rowsOfTwo, strings.Replace(rowsOfTwo, c.old, c.now, 1)
			text, want = strings.ReplaceAll(text, "\n", newline), strings.ReplaceAll(want, "\n", newline)
			got := with(t, text, c.path, c.given)
			require.Equal(t, want, got, c.path)
			require.NoError(t, toml.Unmarshal([]byte(got), new(map[string]any)), c.path)
		}
	}
	for _, c := range []struct{ path, want string }{
		{"hand.hours.scale.4.at", `line 1: hand.hours.scale.4.at: "4": there is no scale row of this number; allowed: 1 to 3; write one of these numbers in its place: the last of them adds one`},
		{"hand.hours.scale.0.at", `line 1: hand.hours.scale.0.at: "0": there is no scale row of this number; allowed: 1 to 3; write one of these numbers in its place: the last of them adds one`},
		{"hand.hours.scale.03.at", `line 1: hand.hours.scale.03.at: "03": there is no scale row of this number; allowed: 1 to 3; write one of these numbers in its place: the last of them adds one`},
		{"hand.hours.survey.step.2.needle", `line 1: hand.hours.survey.step.2.needle: "2": there is no survey step of this number; allowed: 1; write 1: that adds the first one`},
		{"hand.days.scale.1.at", `line 1: hand.days.scale.1.at: "days": there is no hand of this name; allowed: hours, minutes; write one of these names in its place`},
		{"hand.hours.scale.1.stand", `line 1: hand.hours.scale.1.stand: "hand.hours.scale.1.stand": no such path; allowed: hand.NAME.KEY; did you mean hand.NAME.scale.N.stands?`},
		{"hand.hours.scale.stands", `line 1: hand.hours.scale.stands: "hand.hours.scale.stands": no such path; allowed: hand.NAME.KEY; did you mean hand.NAME.scale.N.stands?`},
		{"hand.scale.stands", `line 1: hand.scale.stands: "hand.scale.stands": no such path; allowed: hand.NAME.KEY; did you mean hand.NAME.scale.N.stands?`},
	} {
		got, problem := Set(rowsOfTwo, c.path, "1")
		require.NotNil(t, problem, c.path)
		assert.Equal(t, c.want, problem.String())
		assert.Equal(t, rowsOfTwo, got)
	}
}

// TestRowsComeAndGo: birthplace: derived by hand from the rules of a block: a row has the
// comments right above it; a hand has its rows; one like it has not.
func TestRowsComeAndGo(t *testing.T) {
	d := Open(rowsOfTwo)
	cut := func(from, to string) string {
		before, rest, ok := strings.Cut(rowsOfTwo, from)
		_, after, found := strings.Cut(rest, to)
		require.True(t, ok && found)
		return before + to + after
	}
	for _, c := range []struct {
		list     string
		i        int
		from, to string
	}{
		{"hand.scale", 0, "# Noon first.", "[hand.meter]"},
		{"hand.scale", 1, "# Half past.", "# The minutes."},
		{"hand.scale", 2, "[[hand.scale]]\nstands = \"5:53\"", "# The battery."},
		{"hand.survey.step", 0, "# By hand, in the yard.", "[[hand.survey.step]]\nvolts = \"1.5 V\""},
		{"hand", 0, "# The hours.", "# The minutes."},
		{"hand", 1, "# The minutes.", "# The battery."},
	} {
		removed, problem := d.Remove(c.list, c.i)
		require.Nil(t, problem)
		assert.Equal(t, cut(c.from, c.to), removed.Text, "%s %d", c.list, c.i)
	}
	for i, block := range []string{
		"# The hours.\n[[hand]]\nname = \"seconds\"\n\n[hand.meter]\ncoil = 640\nfull_scale = 500\n\n",
		"# The minutes.\n[[hand]]\nname = \"seconds\"\n[hand.meter]\ncoil = 310\nfull_scale = \"1 mA\"\n\n",
	} {
		added, problem := d.Add("hand", "seconds", i)
		require.Nil(t, problem)
		assert.Equal(t, strings.Replace(rowsOfTwo, "# The battery.", block+"# The battery.", 1), added.Text)
		assert.Empty(t, added.Build.Hands[2].Scale)
		assert.Empty(t, added.Build.Hands[2].Survey)
	}
	renamed, problem := d.Rename("hand", 1, "seconds")
	require.Nil(t, problem)
	assert.Equal(t, strings.Replace(rowsOfTwo, "\"minutes\"", "\"seconds\"", 1), renamed.Text)
	_, index, ok := renamed.Find("hand.seconds.survey.step.2.volts")
	assert.True(t, ok)
	assert.Equal(t, 1, index)
	_, _, ok = renamed.FirstChange(d)
	assert.True(t, ok, "the lists are the same")
	fewer, _ := d.Remove("hand.scale", 2)
	other, problem := fewer.AddRow("hand.scale", 0, map[string]NewValue{"hand.scale.stands": {Text: "5:53"}})
	require.Nil(t, problem)
	_, _, ok = other.FirstChange(d)
	assert.False(t, ok, "a row is another hand's")
}

// TestChangedRows: what is changed of a row is so in the copy alone.
func TestChangedRows(t *testing.T) {
	d := Open(rowsOfTwo)
	changed := d.Build.Changed([]Change{{Builds.Field("hand.scale.code"), 1, "7"}, {Builds.Field("hand.survey.step.source"), 1, "1.53 V"}})
	assert.Equal(t, []int{240, 7}, []int{changed.Hands[0].Scale[0].Code, changed.Hands[0].Scale[1].Code})
	assert.Equal(t, 1.53, changed.Hands[1].Survey[1].Source.Number)
	assert.Equal(t, texts(Open(rowsOfTwo).Build), texts(d.Build))
}

// textsOfRows are whole builds with rows at several places, in the make of both line ends.
func textsOfRows(t testing.TB) []string {
	hands, _, _ := strings.Cut(rowsOfTwo, "# The battery.")
	texts := []string{rowsOfTwo, strings.TrimSpace(hands)}
	for _, name := range []string{"whole.toml", "three-hands.toml"} {
		texts = append(texts, testdata(t, name))
	}
	for _, text := range texts {
		texts = append(texts, strings.ReplaceAll(text, "\n", "\r\n"), "\uFEFF"+text)
	}
	return texts
}

// TestSetRowsReadBack: a law: what is set in a row that is there, or the next, reads back,
// the file stays TOML and all else in it as it was; a row that is taken away again leaves
// the text as it was.
func TestSetRowsReadBack(t *testing.T) {
	texts := textsOfRows(t)
	var fields []*Field
	for _, f := range Builds.Fields {
		if l := Builds.listOf(f.list); l != nil && l.key == "" {
			fields = append(fields, f)
		}
	}
	require.Len(t, fields, 18)
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.SampledFrom(texts).Draw(t, "text")
		for range rapid.IntRange(1, 4).Draw(t, "sets") {
			d := Open(text)
			o, f := d.outline, rapid.SampledFrom(fields).Draw(t, "field")
			l, owner := Builds.listOf(f.list), 0
			if l.in != nil {
				owners := o.count[l.in.name]
				if owners == 0 {
					continue
				}
				owner = rapid.IntRange(0, owners-1).Draw(t, "owner")
			}
			first, n := o.rows(l, owner)
			i := rapid.IntRange(0, n).Draw(t, "row")
			given := rapid.OneOf(rapid.SampledFrom([]string{"6:00", "[1]", "1.5", "12", `"`, "[[hand]]", "a\nb"}), rapid.StringN(1, 20, -1)).Draw(t, "given")
			path := fmt.Sprintf("%s.%d.%s", l.name, i+1, f.element)
			if l.in != nil {
				path = fmt.Sprintf("%s.%s.%s.%d.%s", l.in.name, o.nameOf(l.in.name, owner), l.inOwner(), i+1, f.element)
			}
			got, problem := Set(text, path, given)
			require.Nil(t, problem)
			after := Open(got)
			require.NoError(t, toml.Unmarshal([]byte(strings.TrimPrefix(got, "\uFEFF")), new(map[string]any)))
			read, _ := after.Given(f, first+i)
			require.Equal(t, strings.ToValidUTF8(given, "\uFFFD"), read)
			require.Equal(t, path, f.PathOf(after.Root, first+i))
			require.Equal(t, strings.Count(got, "\n") > strings.Count(got, "\r\n"), !strings.Contains(text, "\r\n"))
			if i == n {
				restored, problem := after.Remove(l.name, first+i)
				require.Nil(t, problem)
				require.Equal(t, text, restored.Text)
			}
			for _, v := range o.values {
				at := v.index
				if i == n && Builds.listAt(v.path) == l && at >= first+n {
					at++
				}
				if v.path != f.Path || at != first+i {
					require.Equal(t, v.text, after.outline.find(v.path, at).text, v.path)
				}
			}
			text = got
		}
	})
}
