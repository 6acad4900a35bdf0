package model

import (
	"strings"
	"testing"

	"github.com/pelletier/go-toml/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// TestSetKeepsTheRest: birthplace of the wants: derived, written by hand from
// the rule that only the value's bytes change.
func TestSetKeepsTheRest(t *testing.T) {
	for _, c := range []struct{ name, text, path, given, want string }{
		{"trailing comment and spacing", "[rail]\n  voltage  =\t'5 V'   # at the pin\n\n# end\n", "rail.voltage", "4.8 V",
			"[rail]\n  voltage  =\t\"4.8 V\"   # at the pin\n\n# end\n"},
		{"number becomes text", "[rail]\nvoltage = 5 # V\n", "rail.voltage", "5.1", "[rail]\nvoltage = \"5.1\" # V\n"},
		{"count stays number", "[crystal]\nreload = 0x10\n", "crystal.reload", "32768", "[crystal]\nreload = 32768\n"},
		{"count that is none", "[crystal]\nreload = 5\n", "crystal.reload", "05", "[crystal]\nreload = \"05\"\n"},
		{"CRLF", "[rail]\r\nvoltage = 5\r\n[load]\r\n", "rail.drift", "1 %", "[rail]\r\nvoltage = 5\r\ndrift = \"1 %\"\r\n[load]\r\n"},
		{"no newline at the end", "[rail]\nvoltage = 5", "rail.drift", "1 %", "[rail]\nvoltage = 5\ndrift = \"1 %\""},
		{"new key after the last of its table", "[rail]\nvoltage = 5 # V\n# note\n\n[load]\nhours_on = 3\n", "rail.drift", "1 %",
			"[rail]\nvoltage = 5 # V\ndrift = \"1 %\"\n# note\n\n[load]\nhours_on = 3\n"},
		{"new key in an empty table", "[rail]\n[load]\n", "rail.drift", "1 %", "[rail]\ndrift = \"1 %\"\n[load]\n"},
		{"new table", "[rail]\nvoltage = 5\n", "load.hours_on", "3 h", "[rail]\nvoltage = 5\n\n[load]\nhours_on = \"3 h\"\n"},
		{"top of the file", "# a clock\n[rail]\n", "title", "Mine", "title = \"Mine\"\n# a clock\n[rail]\n"},
		{"behind a byte order mark", "\uFEFF[rail]\nvoltage = 5\n", "title", "Mine", "\uFEFFtitle = \"Mine\"\n[rail]\nvoltage = 5\n"},
		{"value behind a byte order mark", "\uFEFFtitle = 'a'\n", "title", "b", "\uFEFFtitle = \"b\"\n"},
		{"empty file", "", "rail.voltage", "5 V", "[rail]\nvoltage = \"5 V\"\n"},
		{"multi-line array with comments", "[battery]\ncurve = [ # used, volts\n  [0, 1.5], # new\n  [100, 1],\n]  # done\ncells = 3\n", "battery.curve", "[[0, 2], [100, 1]]",
			"[battery]\ncurve = [[0, 2], [100, 1]]  # done\ncells = 3\n"},
		{"multi-line array as text", "[battery]\ncurve = [\n[0, 1.5]]\n", "battery.curve", "none", "[battery]\ncurve = \"none\"\n"},
		{"array that is more than one", "[battery]\ncurve = []\n", "battery.curve", "[]\n[rail]", "[battery]\ncurve = \"[]\\u000A[rail]\"\n"},
		{"array behind a space", "[battery]\ncurve = []\n", "battery.curve", " []", "[battery]\ncurve = \" []\"\n"},
		{"multi-line text", "title = \"\"\"\nold\n\"\"\" # c\n", "title", "new", "title = \"new\" # c\n"},
		{"dotted keys", "rail.voltage = 5\n\n[load]\n", "rail.drift", "1 %", "rail.voltage = 5\nrail.drift = \"1 %\"\n\n[load]\n"},
		{"inline table", "rail = { voltage = 5 } # pin\n", "rail.drift", "1 %", "rail = { voltage = 5, drift = \"1 %\" } # pin\n"},
		{"empty inline table", "rail = {}\n", "rail.drift", "1 %", "rail = { drift = \"1 %\" }\n"},
	} {
		got, problem := Set(c.text, c.path, c.given)
		require.Nil(t, problem, c.name)
		assert.Equal(t, c.want, got, c.name)
		assert.NoError(t, toml.Unmarshal([]byte(strings.TrimPrefix(got, "\uFEFF")), new(map[string]any)), "%s: no longer TOML", c.name)
	}
}

// Birthplace: derived from the rule: after that hand's last table, before the
// next hand.
func TestSetMakesATableOfAHand(t *testing.T) {
	const text = `[[hand]]
name = "hours"
[hand.meter]
coil = 640 # Ω

[[hand]]
name = "minutes"

[[lamp]]
name = "noon"
`
	got := with(t, text, "hand.hours.drive.top", "240", "hand.minutes.meter.coil", "80", "lamp.noon.count", "2")
	assert.Equal(t, `[[hand]]
name = "hours"
[hand.meter]
coil = 640 # Ω

[hand.drive]
top = 240

[[hand]]
name = "minutes"

[hand.meter]
coil = "80"

[[lamp]]
name = "noon"
count = 2
`, got)
	b, _ := Read(got)
	assert.Equal(t, 240, b.Hands[0].Drive.Top)
	assert.Equal(t, 80.0, b.Hands[1].Meter.Coil.Number)
	assert.Equal(t, 2, b.Lamps[0].Count)
}

// A key of a dotted or inline sub-table of a hand stays with its kin.
func TestSetBesideItsKin(t *testing.T) {
	const text = "[[hand]]\nname = 'a'\ndrive.top = 5 # code\nmeter = { coil = 80 }\n[[hand]]\nname = 'b'\n"
	assert.Equal(t, "[[hand]]\nname = 'a'\ndrive.top = 5 # code\ndrive.counts = 9\nmeter = { coil = 80, period = \"1 s\" }\n[[hand]]\nname = 'b'\n",
		with(t, text, "hand.a.drive.counts", "9", "hand.a.meter.period", "1 s"))
}

func TestSetAndBack(t *testing.T) {
	for _, name := range []string{"whole.toml", "three-hands.toml", "public-1.toml", "public-2.toml"} {
		text := testdata(t, name)
		b := soundBuild(t, text)
		for _, v := range Builds.scan(text).values {
			f := Builds.Field(v.path)
			path := f.PathOf(b, v.index)
			if last(path) == "name" || path == "reading" {
				continue // the path changes with it
			}
			changed := with(t, text, path, "another")
			require.NotEqual(t, text, changed)
			if f.list == "reading" && last(f.Path) == "at" {
				path = "reading.another.at"
			}
			assert.Equal(t, text, with(t, changed, path, v.text), "%s: %s", name, path)
		}
	}
}

// Birthplace: derived; the nearest by letters to change.
func TestSetUnknownPaths(t *testing.T) {
	text := testdata(t, "three-hands.toml")
	for _, c := range []struct{ path, want string }{
		{"rail.voltag", `line 1: rail.voltag: "rail.voltag": no such path; did you mean rail.voltage?`},
		{"voltage", `line 1: voltage: "voltage": no such path; did you mean rail.voltage?`},
		{"", `line 1: no such path; did you mean drain.on?`}, // the shortest key is nearest to none
		{"hand.hours.meter.coill", `line 1: hand.hours.meter.coill: "hand.hours.meter.coill": no such path; allowed: hand.NAME.KEY; did you mean hand.NAME.meter.coil?`},
		{"hand.meter.coil", `line 1: hand.meter.coil: "hand.meter.coil": no such path; allowed: hand.NAME.KEY; did you mean hand.NAME.meter.coil?`},
		{"hand.days.meter.coil", `line 1: hand.days.meter.coil: "days": there is no hand of this name; allowed: hours, minutes, seconds; write one of these names in its place`},
		{"lamp.noon.count", `line 1: lamp.noon.count: "noon": there is no lamp of this name; allowed: afternoon; write one of these names in its place`},
	} {
		got, problem := Set(text, c.path, "1")
		require.NotNil(t, problem, c.path)
		assert.Equal(t, c.want, problem.String())
		assert.Equal(t, text, got)
	}
}

func TestSetByNumberWhereThereIsNoName(t *testing.T) {
	got := with(t, "[[lamp]]\n[[lamp]]\nname = 'b'\n", "lamp.1.name", "a")
	assert.Equal(t, "[[lamp]]\nname = \"a\"\n[[lamp]]\nname = 'b'\n", got)
}

// The law of Set, for any text put into any field: what is outside the value
// keeps its bytes, and what is inside reads back as given.
func checkSet(t require.TestingT, text string, f *Field, index int, given string) {
	before := Builds.scan(text)
	v := before.find(f.Path, index)
	require.NotNil(t, v)
	got, ok := before.set(f, index, given, "")
	require.True(t, ok)
	head, tail := text[:v.start], text[v.end:]
	require.True(t, strings.HasPrefix(got, head) && strings.HasSuffix(got, tail) && len(got) >= len(head)+len(tail))
	after := Builds.scan(got)
	require.False(t, after.broken, got)
	require.Len(t, after.values, len(before.values))
	require.Equal(t, strings.ToValidUTF8(given, "\uFFFD"), after.find(f.Path, index).text)
	for i, other := range before.values {
		if other.path != f.Path || other.index != index {
			require.Equal(t, other.text, after.values[i].text, other.path)
		}
	}
}

func TestSetAnyText(t *testing.T) {
	text := testdata(t, "whole.toml")
	rapid.Check(t, func(t *rapid.T) {
		f := rapid.SampledFrom(Builds.Fields).Draw(t, "field")
		given := rapid.OneOf(rapid.String(), rapid.StringOf(rapid.SampledFrom([]rune("\"\\'\n\r\t\x00\x1f\x7f\u0085\u2028#=[]{},. 1aΩ🕰"))),
			rapid.SampledFrom([]string{`"""`, `'''`, `\u0041`, "[[0, 0], [100, 100]]", " []", "[] ", "[]#", "1_000", "0x1F", "-0", "+5", "true"})).Draw(t, "given")
		checkSet(t, text, f, 0, given)
	})
}

// A key that is not there yet comes to its own table, and nothing else moves.
func TestSetAnyMissing(t *testing.T) {
	text := testdata(t, "three-hands.toml")
	b := soundBuild(t, text)
	o := Builds.scan(text)
	for _, f := range Builds.Fields {
		for i := range f.Of(b) {
			if o.find(f.Path, i) != nil {
				continue
			}
			for _, text := range []string{text, strings.ReplaceAll(text, "\n", "\r\n")} {
				got := with(t, text, f.PathOf(b, i), "7")
				after := Builds.scan(got)
				require.NoError(t, toml.Unmarshal([]byte(got), new(map[string]any)), f.Path)
				require.NotNil(t, after.find(f.Path, i), f.Path)
				assert.Equal(t, "7", after.find(f.Path, i).text, f.Path)
				assert.Len(t, after.values, len(o.values)+1)
				assert.Equal(t, strings.Count(got, "\n") > strings.Count(got, "\r\n"), !strings.Contains(text, "\r\n"), "line ends are of one kind")
			}
		}
	}
}

// A value can be put in with the comment that says where it is from: in the place of the
// present one, or behind a value with nothing else on its line. Nothing else moves.
func TestSetMarked(t *testing.T) {
	coil := Builds.Field("hand.meter.coil")
	for _, c := range []struct{ line, mark, want string }{
		{`coil = "640 Ω ±2 %"    # ± assumed`, "± assumed", `coil = "700 Ω"    # ± assumed`},
		{`coil = "640 Ω ±2 %" # assumed`, "± assumed", `coil = "700 Ω" # ± assumed`},
		{`coil = "640 Ω ±2 %" # assumed`, "", `coil = "700 Ω"`},
		{`coil = "640 Ω"`, "± assumed", `coil = "700 Ω"  # ± assumed`},
		{"coil = \"640 Ω\"\r", "± assumed", "coil = \"700 Ω\"  # ± assumed\r"},
		{"coil = \"640 Ω\" # assumed\r", "± assumed", "coil = \"700 Ω\" # ± assumed\r"},
		{`coil = "640 Ω" # by the old multimeter`, "± assumed", `coil = "700 Ω" # by the old multimeter`},
	} {
		d := Builds.Open("[[hand]]\nname = \"hours\"\n[hand.meter]\n" + c.line + "\n# the end\n")
		set := d.SetMarked(coil, 0, "700 Ω", c.mark)
		assert.Equal(t, "[[hand]]\nname = \"hours\"\n[hand.meter]\n"+c.want+"\n# the end\n", set.Text, c.line)
		if strings.Contains(c.want, "# ±") {
			assert.Equal(t, c.mark, set.Mark(coil, 0), c.line)
		}
	}
	const inline = "[[hand]]\nname = \"hours\"\nmeter = { coil = \"640 Ω\" }\n"
	assert.Equal(t, strings.Replace(inline, "640", "700", 1), Builds.Open(inline).SetMarked(coil, 0, "700 Ω", "± assumed").Text)
}
