package model

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestProblemsAllAtOnce reads a file with everything wrong, by hand.
//
// Birthplace: derived from catalogue.md, "Problems": each with line, path, what
// was given, what is allowed, what to do; unknown keys with the nearest known
// one. The ranges are those of the fields table.
func TestProblemsAllAtOnce(t *testing.T) {
	_, problems := Read(testdata(t, "bad.toml"))
	assert.Equal(t, []string{
		`line 2: format: File format: "2": too large; allowed: 1; give one within the range`,
		`line 3: titel: "titel": no such key; did you mean title?`,
		`line 5: raill: "raill": no such table; did you mean [rail]?`,
		`line 8: rail: "rail": this table stands once; write [rail]`,
		`line 10: rail.maximum: Rail limit: "true": a text or a number is needed; allowed: 1 V to 30 V; write it in quotes`,
		`line 14: hand.hours.noon: At noon: "2024-02-29": a text is needed; allowed: "top" or "zero"; write it in quotes`,
		`line 16: hand.hours.metre: "hand.metre": no such table; did you mean [hand.meter]?`,
		`line 21: hand.hours.meter.coil: "hand.meter.coil": this key stands here for the second time; keep one of them`,
		`line 24: hand.hours.meter.table: Law's points: "[[\"0 %\", \"0 %\"], [\"60 %\", \"50 %\"], [\"60 …": row 3 does not rise above row 2; allowed: both columns rising from 0 % to 100 %; put the rows in order, from 0 %, 0 % to 100 %, 100 %`,
		`line 29: hand.hours.drive.top: Top code: "240": more than the 200 counts; allowed: 1 to 200; lower it, or raise the counts`,
		`line 31: hand.hours.drive.setting: Setting: "2 kΩ": beyond the trimmer's end; allowed: 0 Ω to 1 kΩ; measure it again, or leave it empty to have it set for full scale`,
		`line 33: hand.hours.drive: "hand.drive": this table stands here for the second time; put its keys under the first`,
		`line 37: hand.hours.name: Name: "hours": another hand has this name; take another name`,
		`line 41: hand.hours.meter.shape.round: "round": no such key; did you mean lamp.count?`,
		`line 46: hand.hours.drive.capacitor: Capacitor: "10 µF": nothing stands between the pin and the capacitor; allowed: a resistance above 0 Ω before it; give the pin's resistance, or put a resistor before it`,
		`line 49: hand.crystal.name: Name: "crystal": a table of the file is called so; take another name`,
		`line 57: crystal.room_low: Room from: "30 °C": above the room's highest temperature; allowed: up to 10 °C; exchange the two`,
		`line 59: crystal.measured: Measured: "33.2 kHz": more than 1 % away from the nominal frequency; allowed: within 1 % of 32.768 kHz; check the prefix: a bare number is in Hz`,
		`line 60: crystal.reload: Reload: "65536": a counter of 16 bits does not reach it; allowed: 0 to 65535; lower it, or check the counter's bits`,
		`line 64: battery.curve: Discharge curve: "[[\"1 %\", \"1.5 V\"], [\"100 %\", \"1.0 V\"]]": it does not start at 0 %; allowed: shares rising from 0 % to at most 100 %, voltages not rising; put the rows in order, the fresh cell first`,
		`line 66: lamp.1.name: Name: must be given; write for example seconds`,
		`line 69: lamp: "lamp": there may be several lamps; write [[lamp]]`,
		`line 70: lamp.Second!.name: Name: "Second!": a name is small letters, digits and -, a letter first; write it like seconds or hall-2`,
	}, messages(problems))
}

// A clash is found only by looking at two values at once.
//
// Birthplace: derived from catalogue.md, "Problems".
func TestClashes(t *testing.T) {
	text := testdata(t, "whole.toml")
	for _, c := range []struct{ path, value, want string }{
		{"battery.curve", `[[0, 1.5], [50, 1.6], [100, 1]]`, "row 2: the voltage rises"},
		{"battery.curve", `[[0, 1.5], [50, 1.4], [50, 1]]`, "row 3: the share used does not rise"},
		{"battery.curve", `[[0, 1.5], [50, 1.4], [110, 1]]`, "it goes beyond 100 %"},
		{"battery.curve", `[[0, 1.5], [100, -1]]`, "a voltage is below 0 V"},
		{"hand.hours.meter.table", `[[1, 0], [100, 100]]`, "it does not start at 0 %, 0 %"},
		{"hand.hours.meter.table", `[[0, 0], [90, 100]]`, "it does not end at 100 %, 100 %"},
		{"hand.hours.meter.table", `[[0, 0], [50, 60], [60, 60], [100, 100]]`, "row 3 does not rise above row 2"},
		{"hand.hours.meter.table", "", "the law is a table and there is none"},
		{"hand.hours.drive.top", "500", "more than the 500 counts but the one that the duty offset adds"},
		{"hand.hours.drive.setting", "5.01 kΩ", "beyond the trimmer's end"},
		{"crystal.room_low", "28.1 °C", "above the room's highest temperature"},
		{"crystal.measured", "32.44 kHz", "more than 1 % away from the nominal frequency"},
		{"crystal.reload", "1048576", "a counter of 20 bits does not reach it"},
	} {
		_, problems := Read(with(t, text, c.path, c.value))
		require.Len(t, problems, 1, "%s = %s: %v", c.path, c.value, messages(problems))
		assert.Equal(t, c.want, problems[0].Wrong)
		assert.Equal(t, c.path, problems[0].Path)
		assert.NotEmpty(t, problems[0].Allowed)
		assert.NotEmpty(t, problems[0].Remedy)
	}
	for path, inside := range map[string]string{ // at the limits, which are allowed
		"battery.curve":            `[[0, 1.5], [50, 1.5], [100, 0]]`,
		"hand.hours.drive.top":     "499",
		"hand.hours.drive.setting": "5 kΩ",
		"crystal.room_low":         "28 °C",
		"crystal.measured":         "33.095 kHz",
		"crystal.reload":           "1048575",
	} {
		assert.Empty(t, second(Read(with(t, text, path, inside))), "%s = %s", path, inside)
	}
}

// What cannot be read is no reason to complain of its neighbour.
func TestNoClashWithUnreadable(t *testing.T) {
	text := testdata(t, "whole.toml")
	alone := with(t, text, "hand.hours.drive.stage", "0", "hand.hours.drive.fixed", "0", "hand.hours.drive.setting", "0")
	for _, c := range []struct{ text, path string }{
		{text, "hand.hours.drive.counts"},          // top stands against it
		{text, "hand.hours.drive.trimmer"},         // setting
		{text, "crystal.counter_bits"},             // reload
		{text, "crystal.frequency"},                // measured
		{text, "crystal.room_high"},                // room_low
		{alone, "hand.hours.drive.pin_resistance"}, // capacitor
		{with(t, text, "battery.cell", ""), "battery.curve"},
	} {
		_, problems := Read(with(t, c.text, c.path, "?"))
		require.Len(t, problems, 1, "%s: %v", c.path, messages(problems))
		assert.Equal(t, c.path, problems[0].Path)
	}
}

func TestNeitherCellNorCurve(t *testing.T) {
	text := with(t, testdata(t, "whole.toml"), "battery.cell", "", "battery.curve", "")
	_, problems := Read(text)
	require.Len(t, problems, 1)
	assert.Equal(t, "neither a cell nor a discharge curve is given", problems[0].Wrong)
	assert.Empty(t, second(Read(with(t, text, "battery.cells", "0"))), "an external supply needs none")
}

// Birthplace: derived; the line is counted by hand.
func TestSyntax(t *testing.T) {
	for _, c := range []struct {
		text, given string
		line        int
	}{
		{"format = 1\n[rail\nvoltage = 5\n", "[rail", 2},
		{"format = 1\n\n[rail]\nvoltage = \"5 V\ndrift = 1\n", `voltage = "5 V`, 4},
		{"format = 1\nvoltage 5\n", "voltage 5", 2},
		{"format = 1\ntitle = 5 V\n", "title = 5 V", 2},
		{"format = 1\r\n[rail]\r\nvoltage = = 5\r\n", "voltage = = 5", 3},
		{"# one\n# two\nx = [[1, 2]\n", "", 3}, // never closed: where the parser stands is its own affair
	} {
		_, problems := Read(c.text)
		require.NotEmpty(t, problems, c.text)
		p := problems[len(problems)-1]
		assert.True(t, strings.HasPrefix(p.Wrong, "this is not TOML: "), p.Wrong)
		if c.given != "" {
			assert.Equal(t, c.line, p.Line, c.text)
			assert.Equal(t, c.given, p.Given, c.text)
		}
		assert.NotEmpty(t, p.Allowed)
		assert.NotEmpty(t, p.Remedy)
		_, problem := Set(c.text, "rail.voltage", "6 V")
		require.NotNil(t, problem)
		assert.Equal(t, p, *problem)
	}
}

func TestForeignFiles(t *testing.T) {
	text := testdata(t, "whole.toml")
	sound := soundBuild(t, text)
	crlf := strings.ReplaceAll(text, "\n", "\r\n")
	for name, same := range map[string]string{
		"CRLF": crlf, "byte order mark": "\uFEFF" + text, "both": "\uFEFF" + crlf,
	} {
		assert.Equal(t, sound, soundBuild(t, same), name)
	}
	// An editor that writes Latin-1: µ is the one byte B5.
	_, problems := Read("format = 1\n[rail]\n# 500 \xb5A\nvoltage = \"5 V\"\n")
	require.NotEmpty(t, problems)
	assert.Equal(t, 3, problems[0].Line)
	assert.Contains(t, problems[0].Message(), "UTF-8")
}

// Birthplace: catalogue.md: format and rail.voltage must be given.
func TestNothingWritten(t *testing.T) {
	for _, text := range []string{"", "\n", "# a clock\n# to come", "\uFEFF", "\uFEFF# a clock\n"} {
		_, problems := Read(text)
		assert.Equal(t, []string{
			`line 1: format: File format: must be given; allowed: 1; write for example 1`,
			`line 1: rail.voltage: Rail: must be given; allowed: 1 V to 24 V; write for example 5 V ±1 %`,
		}, messages(problems), "%q", text)
	}
}

// Birthplace: TOML 1.0: three ways to write the same keys.
func TestDottedAndInline(t *testing.T) {
	const head = "format = 1\n"
	want := texts(soundBuild(t, head+"[rail]\nvoltage = \"5 V\"\ndrift = \"1 %\"\n[[lamp]]\nname = \"noon\"\nforward = 2\n"))
	for _, text := range []string{
		head + "rail.voltage = 5\nrail.drift = 1\n[[lamp]]\nname = 'noon'\nforward = 2.0\n",
		head + "rail = { voltage = 5, drift = 1 }\n[[lamp]]\n\"name\" = 'noon'\n'forward' = \"2\"\n",
		head + "rail . voltage = 5 # V\n  rail.'drift' = 1\n[[ lamp ]]\nname = \"\"\"noon\"\"\"\nforward = 2e0\n",
	} {
		assert.Equal(t, want, texts(soundBuild(t, text)), text)
	}
}

// What stands where no build has anything is never passed over in silence.
//
// Birthplace: derived from catalogue.md: unknown keys with the nearest known one.
func TestUnknownPlaces(t *testing.T) {
	const head = "format = 1\nrail.voltage = 5\n"
	for text, want := range map[string]string{
		"bogus = {}":                       `line 3: bogus: "bogus": no such key`,
		"bogus.x = 1":                      `line 3: bogus.x: "x": no such key`,
		"rail.bogus.x = 1":                 `line 3: rail.bogus.x: "x": no such key`,
		"title.x = 1":                      `line 3: title.x: "x": no such key`,
		"load = { hour_on = 3 }":           `line 3: load.hour_on: "hour_on": no such key; did you mean load.hours_on?`,
		"hand = { name = 'a' }":            `line 3: hand: "hand": a hand has a table of its own; write [[hand]], and its keys below`,
		"lamp.name = 'a'":                  `line 3: lamp.1.name: "lamp.name": a lamp has a table of its own; write [[lamp]], and its keys below`,
		"lamp = [{ name = 'a' }]":          `line 3: lamp: "lamp": a lamp has a table of its own; write [[lamp]], and its keys below`,
		"[[hand.meter]]\ncoil = 5":         `line 3: hand.1.meter: "hand.meter": it stands before the hand it belongs to; write [[hand]] above it`,
		"[hand.drive]\ntop = 5":            `line 3: hand.1.drive: "hand.drive": it stands before the hand it belongs to; write [[hand]] above it`,
		"\"load.hours_on\" = 3":            `line 3: "load.hours_on": `,
		"[\"\"]\ntitle = 'a'":              `line 3: "": "\"\"": no such table`,
		"[lamp.deep.down]\nname = 'a'":     `line 3: lamp.1.deep.down: "lamp.deep.down": it stands before the lamp it belongs to`,
		"[load]\nhour_on = 3":              `line 4: load.hour_on: "hour_on": no such key; did you mean load.hours_on?`,
		"[[reading]]\nat = 'x'\nvalues =1": `line 5: reading.x.values: "values": no such key; did you mean reading.value?`,
	} {
		_, problems := Read(head + text)
		require.NotEmpty(t, problems, text)
		found := strings.Join(messages(problems), "\n")
		assert.Contains(t, found, want, text)
	}
}

// A rail that is no low voltage is not taken for a slip of the prefix. Common practice, no source.
func TestNoRailFromTheMains(t *testing.T) {
	text := testdata(t, "whole.toml")
	for _, volts := range []string{"24.1 V", "48 V", "230 V"} {
		said := messages(Open(with(t, text, "rail.voltage", volts)).Problems)
		require.Len(t, said, 1, volts)
		assert.Contains(t, said[0], "allowed: 1 V to 24 V; never from the mains: ")
		assert.NotContains(t, said[0], "prefix")
	}
}
