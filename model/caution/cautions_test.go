package caution

import (
	"os"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/modeltest"
)

// A cautionCase changes the build public-1 so that a caution holds, and so that
// it does not.
type cautionCase struct {
	id         string
	holds, not []string // paths and values; not nil where it always holds
}

// caution makes a case of one path, its value where a caution holds and where it does not.
func caution(id, path, holds, not string, more ...string) cautionCase {
	more = slices.Clip(more)
	return cautionCase{id, append(more, path, holds), append(more, path, not)}
}

const origin = "hand.hours.meter.origin"

// noParts leaves nothing to solder.
var noParts = []string{
	"hand.hours.drive.capacitor", "0", "hand.hours.drive.fixed", "0", "hand.hours.drive.trimmer", "0", "hand.hours.drive.stage", "0",
	"lamp.seconds.count", "0", "lamp.afternoon.count", "0",
}

// When a caution holds, and the 150 mA of an old ohmmeter: common practice, no
// source.
var cautionCases = []cautionCase{
	caution("coin_cell", "battery.cell", "CR2032", "alkaline AA"),
	caution("coin_cell", "battery.cells", "1", "0", "battery.cell", "CR2032"),
	caution("mains_circuit", origin, "mains", "salvaged"),
	caution("mains_circuit", origin, "high voltage", "vehicle"),
	caution("current_transformer", origin, "mains", "vehicle"),
	caution("high_voltage", origin, "high voltage", "mains"),
	caution("stored_charge", origin, "mains", "new"),
	caution("stored_charge", origin, "high voltage", "vehicle"),
	caution("once_mains", origin, "", "new"),
	caution("once_mains", origin, "salvaged", "vehicle"),
	caution("airbag", origin, "vehicle", "salvaged"),
	caution("mains_adapter", "battery.cells", "0", "1"),
	{"solder_heat", nil, noParts},
	{"solder_fume", slices.Concat(noParts, []string{"hand.hours.drive.fixed", "1 kΩ"}), noParts},
	{"solder_fume", slices.Concat(noParts, []string{"hand.hours.drive.trimmer", "1 kΩ"}), noParts},
	{"solder_fume", slices.Concat(noParts, []string{"hand.hours.drive.stage", "1 kΩ"}), noParts},
	{"solder_fume", slices.Concat(noParts, []string{"hand.hours.drive.capacitor", "1 µF"}), noParts},
	{"solder_fume", slices.Concat(noParts, []string{"lamp.seconds.count", "1"}), noParts},
	caution("reversed_capacitor", "hand.hours.drive.capacitor_kind", "electrolytic", "film"),
	caution("reversed_capacitor", "hand.hours.drive.capacitor", "1 µF", "0.9 µF"),
	caution("reversed_capacitor", "rail.capacitor", "100 µF", "0", "hand.hours.drive.capacitor_kind", "ceramic"),
	caution("drilling", "hand.hours.meter.panel", "steel", ""),
	caution("lithium_ion", "battery.cell", "Li-ion 18650, protected", "lithium FeS2 AA"),
	caution("lithium_ion_charging", "battery.cell", "Li-ion 18650, protected", "LSD NiMH AA"),
	caution("lithium_primary", "battery.cell", "lithium FeS2 AA", "Li-ion 18650, protected"),
	caution("lithium_primary", "battery.cell", "CR2032", "alkaline AA"),
	caution("unknown_cell", "battery.cell", "", "alkaline AA"),
	caution("unknown_cell", "battery.cells", "1", "0", "battery.cell", ""),
	caution("recharging", "battery.cell", "zinc-carbon AA", "LSD NiMH AA"),
	caution("recharging", "battery.cell", "alkaline 9 V block", "CR2032"),
	caution("alkaline_leak", "battery.cell", "alkaline AAA", "LSD NiMH AA"),
	caution("zinc_leak", "battery.cell", "zinc-carbon AA", "alkaline AA"),
	caution("nimh_leak", "battery.cell", "LSD NiMH AA", "zinc-carbon AA"),
	caution("nimh_charging", "battery.cell", "LSD NiMH AA", "alkaline AA"),
	caution("lithium_leak", "battery.cell", "Li-ion 18650, protected", "LSD NiMH AA"),
	caution("lithium_leak", "battery.cell", "lithium FeS2 AA", "zinc-carbon AA"),
	caution("lithium_leak", "battery.cell", "CR2032", "alkaline AA"),
	caution("alkaline_short", "battery.cell", "alkaline D", "alkaline 9 V block"),
	caution("nimh_short", "battery.cell", "LSD NiMH AA", "alkaline AA"),
	caution("vinegar", "battery.cell", "alkaline AA", "LSD NiMH AA"),
	caution("vehicle_battery", origin, "vehicle", "new"),
	caution("shunt_leads", "hand.hours.meter.internal_kind", "shunt", "multiplier", "hand.hours.meter.internal", "10 Ω"),
	caution("shunt_leads", origin, "salvaged", "new", "hand.hours.meter.internal", "10 Ω", "hand.hours.meter.internal_kind", "shunt"),
	caution("radium", origin, "", "new"),
	caution("radium", origin, "salvaged", "new"),
	caution("radium", origin, "military", "new"),
	caution("sealed_lights", origin, "military", "salvaged"),
	caution("old_paint", origin, "", "new"),
	caution("asbestos", origin, "", "new"),
	caution("asbestos", origin, "mains", "vehicle"),
	caution("mercury", origin, "", "new"),
	caution("mercury", origin, "high voltage", "vehicle"),
	caution("oil_capacitor", origin, "salvaged", "new"),
	caution("selenium", origin, "mains", "military"),
	caution("glass", origin, "", "new"),
	caution("ohmmeter", origin, "", "new", "hand.hours.meter.full_scale", "200 mA"),
	caution("ohmmeter", origin, "salvaged", "new", "hand.hours.meter.full_scale", "1 A"),
	caution("ohmmeter", "hand.hours.meter.full_scale", "149 mA", "150 mA", origin, "new"),
	caution("first_current", origin, "", "new"),
	caution("magnet", origin, "salvaged", "new"),
	caution("iron_dust", origin, "", "new"),
	caution("solvent", origin, "vehicle", "new"),
	caution("transport", origin, "", "new"),
	{"programming", []string{origin, "new"}, nil},
	{"programming", []string{origin, ""}, nil},
	caution("voltage_next", "battery.cells", "1", "0"),
	caution("feeding_cells", "battery.cells", "1", "0"),
	caution("feeding_converter", "converter.kind", "boost", "none"),
	caution("feeding_converter", "battery.cells", "3", "0"),
	caution("metal_case", "battery.cells", "1", "0"),
	caution("crystal_probe", "crystal.frequency", "32.768 kHz", ""),
}

// ids are those of cautions, in their order.
func ids(cautions []Caution) []string {
	list := make([]string, len(cautions))
	for i, c := range cautions {
		list[i] = c.ID
	}
	return list
}

func TestCautionsHoldWhereTheyShould(t *testing.T) {
	text := modeltest.Text(t, "public-1.toml")
	for _, c := range cautionCases {
		k := slices.IndexFunc(cautions, func(d Caution) bool { return d.ID == c.id })
		require.GreaterOrEqual(t, k, 0, c.id)
		yes, no := modeltest.Sound(t, modeltest.With(t, text, c.holds...)), modeltest.Sound(t, modeltest.With(t, text, c.not...))
		assert.Contains(t, ids(Of(yes)), c.id, "%v", c.holds)
		if c.not != nil {
			assert.NotContains(t, ids(Of(no)), c.id, "%v", c.not)
		}
		for _, at := range cautions[k].fields {
			path, choice, only := strings.Cut(at, "=")
			yes := yes
			if only {
				chosen := append(slices.Clip(c.holds), strings.Replace(path, "hand.", "hand.hours.", 1), choice)
				yes = modeltest.Sound(t, modeltest.With(t, text, chosen...))
			}
			if f := model.Builds.Field(path); assert.NotNil(t, f, "%s: %s is no field", c.id, path) {
				assert.Contains(t, ids(At(yes, f, 0)), c.id, path)
				if c.not != nil {
					assert.NotContains(t, ids(At(no, f, 0)), c.id, path)
				}
			}
		}
	}
	for _, d := range cautions {
		assert.True(t, slices.ContainsFunc(cautionCases, func(c cautionCase) bool { return c.id == d.ID }), "%s has no case", d.ID)
	}
}

// cautioned are the builds of all cases, and those of two meters.
func cautioned(t *testing.T) []*model.Build {
	t.Helper()
	text := modeltest.Text(t, "public-1.toml")
	all := []*model.Build{new(model.Build), twoMeters(t, "mains", "new"), twoMeters(t, "new", "military")}
	for _, c := range cautionCases {
		all = append(all, modeltest.Sound(t, modeltest.With(t, text, c.holds...)), modeltest.Sound(t, modeltest.With(t, text, c.not...)))
	}
	return all
}

// twoMeters is public-1 with its meter twice, of two origins.
func twoMeters(t *testing.T, first, second string) *model.Build {
	t.Helper()
	b := modeltest.Sound(t, modeltest.Text(t, "public-1.toml"))
	b.Hands = append(b.Hands, b.Hands[0])
	b.Hands[0].Meter.Origin, b.Hands[1].Meter.Origin = first, second
	return b
}

// Gravest first: what kills, then what hurts people, then what hurts things.
// What can kill: common practice, no source.
func TestCautionsComeGravestFirst(t *testing.T) {
	kill := []string{"coin_cell", "mains_circuit", "current_transformer", "high_voltage", "stored_charge", "once_mains", "airbag", "mains_adapter"}
	harm := func(d Caution) int {
		switch {
		case slices.Contains(kill, d.ID):
			return 0
		case d.To == "you" || d.To == "children":
			return 1
		}
		return 2
	}
	gravestFirst := func(a, b Caution) int { return harm(a) - harm(b) }
	for _, b := range cautioned(t) {
		found := Of(b)
		assert.True(t, slices.IsSortedFunc(found, gravestFirst), "%v", ids(found))
		assert.Len(t, slices.Compact(slices.Sorted(slices.Values(ids(found)))), len(found), "one twice: %v", ids(found))
		for _, f := range model.Builds.Fields {
			for i := range f.Of(b) {
				shown := At(b, f, i)
				assert.True(t, slices.IsSortedFunc(shown, gravestFirst), "%s: %v", f.Path, ids(shown))
				assert.Subset(t, ids(found), ids(shown), f.Path)
			}
		}
	}
}

// What is about a meter is shown at the fields of that meter alone.
func TestCautionsAtAHand(t *testing.T) {
	b := twoMeters(t, "new", "military")
	field := model.Builds.Field("hand.meter.origin")
	assert.NotContains(t, ids(At(b, field, 0)), "radium")
	assert.Contains(t, ids(At(b, field, 1)), "radium")
	assert.Contains(t, ids(Of(b)), "radium")
}

// Where nothing is done but a word chosen or written none is shown; they still hold. The
// dial is opened by who draws one to the needle.
func TestCautionsOnlyWhereTheHandActs(t *testing.T) {
	words := []string{"title", "hand.name", "hand.shows", "hand.noon", "hand.correct", "hand.mark", "hand.meter.law", "hand.drive.rounding", "lamp.name", "crystal.frequency"}
	for _, b := range cautioned(t) {
		for _, path := range words {
			f := model.Builds.Field(path)
			for i := range f.Of(b) {
				assert.Empty(t, ids(At(b, f, i)), path)
			}
		}
	}
	text := modeltest.Text(t, "public-1.toml")
	b := modeltest.Sound(t, modeltest.With(t, text, origin, "salvaged", "hand.hours.correct", "dial"))
	assert.Contains(t, ids(At(b, model.Builds.Field("hand.correct"), 0)), "radium")
	b = modeltest.Sound(t, modeltest.With(t, text, noParts...))
	assert.Contains(t, ids(Of(modeltest.Sound(t, text))), "solder_fume")
	assert.NotContains(t, ids(Of(b)), "solder_fume")
}

// At the fields of the unknown coil the ohmmeter comes first, unless the meter's
// circuit itself can kill.
func TestOhmmeterComesFirst(t *testing.T) {
	text := modeltest.Text(t, "public-1.toml")
	for _, from := range append([]string{""}, model.Builds.Field("hand.meter.origin").Choices...) {
		b := modeltest.Sound(t, modeltest.With(t, text, origin, from))
		for _, path := range []string{"hand.meter.coil", "hand.meter.full_scale"} {
			first := "ohmmeter"
			if from == "mains" || from == "high voltage" {
				first = "mains_circuit"
			}
			shown := ids(At(b, model.Builds.Field(path), 0))
			require.NotEmpty(t, shown, path)
			assert.Equal(t, first, shown[0], "%s at %s", from, path)
			assert.Contains(t, shown, "ohmmeter", "%s at %s", from, path)
		}
	}
}

// Who builds with new meters is not told of radium: at most seven cautions of an
// external supply (the project's own limit), and no old thing among them.
func TestNewMetersAreNotDrowned(t *testing.T) {
	b := modeltest.Sound(t, modeltest.With(t, modeltest.Text(t, "public-1.toml"), origin, "new", "battery.cells", "0"))
	found := ids(Of(b))
	assert.LessOrEqual(t, len(found), 7, "%v", found)
	assert.Subset(t, found, []string{"mains_adapter", "solder_heat", "ohmmeter", "programming"})
}

// A caution fits the area of help, 3 lines of 110 or 4 of 78 columns.
func TestCautionsAreShort(t *testing.T) {
	short := 0
	for _, d := range cautions {
		n := utf8.RuneCountInString(d.Text)
		assert.LessOrEqual(t, n, 200, d.ID)
		if n < 140 {
			short++
		}
		assert.True(t, strings.HasSuffix(d.Text, "."), d.ID)
		assert.NotContains(t, d.Text, "  ", d.ID)
		assert.NotEmpty(t, d.To, d.ID)
		assert.NotEmpty(t, d.fields, d.ID)
		assert.NotContains(t, strings.ToLower(d.Text+d.Source), "per standard", d.ID)
	}
	assert.Greater(t, short, len(cautions)*3/4, "most are under 140")
}

// What stands at a field is a line at 80 columns, with its sign in plain characters too. It
// is the text where that is short, and else says less.
func TestCautionLines(t *testing.T) {
	for k := range cautions {
		line, text := cautions[k].Line(), cautions[k].Text
		assert.LessOrEqual(t, utf8.RuneCountInString(line), 75, cautions[k].ID)
		assert.True(t, strings.HasSuffix(line, "."), cautions[k].ID)
		if line != text {
			assert.Greater(t, utf8.RuneCountInString(text), 75, "%s: the text would do", cautions[k].ID)
			assert.Less(t, utf8.RuneCountInString(line), utf8.RuneCountInString(text), cautions[k].ID)
		}
	}
}

// Nor does the line leave out who is to judge or to treat. Common practice, no source.
func TestCautionLinesDefer(t *testing.T) {
	for id, to := range map[string]string{
		"coin_cell": "emergency help", "mains_circuit": "local codes", "current_transformer": "local codes", "high_voltage": "local codes",
		"stored_charge": "licensed practice", "once_mains": "local codes", "airbag": "licensed practice", "mains_adapter": "local codes",
		"alkaline_leak": "a doctor", "zinc_leak": "a doctor", "nimh_leak": "a doctor", "lithium_leak": "a doctor", "shunt_leads": "licensed practice",
		"sealed_lights": "local rules", "asbestos": "local rules", "mercury": "local rules", "oil_capacitor": "local rules",
	} {
		k := slices.IndexFunc(cautions, func(d Caution) bool { return d.ID == id })
		require.GreaterOrEqual(t, k, 0, id)
		assert.Contains(t, strings.ToLower(cautions[k].Line()), to, id)
	}
}

// Where a danger is one for others to judge or to treat, its caution says so.
// Common practice, no source.
func TestCautionsDefer(t *testing.T) {
	for id, to := range map[string]string{
		"coin_cell": "emergency help", "mains_circuit": "local codes", "current_transformer": "local codes", "high_voltage": "local codes",
		"stored_charge": "licensed practice", "once_mains": "local codes", "airbag": "licensed practice", "mains_adapter": "local codes",
		"alkaline_leak": "a doctor", "zinc_leak": "a doctor", "nimh_leak": "a doctor", "lithium_leak": "local rules", "shunt_leads": "licensed practice",
		"radium": "the regulator", "sealed_lights": "local rules", "asbestos": "local rules", "mercury": "local rules", "oil_capacitor": "local rules",
	} {
		k := slices.IndexFunc(cautions, func(d Caution) bool { return d.ID == id })
		require.GreaterOrEqual(t, k, 0, id)
		assert.Contains(t, strings.ToLower(cautions[k].Text), to, id)
	}
}

// A cited source was read, or read second-hand and says so. All others are
// common practice or from memory, and cite none.
func TestCautionsCiteOnlyWhatWasRead(t *testing.T) {
	const secondHand = ", read second-hand"
	cited := map[string][]string{
		// The page was cited elsewhere.
		"mains_circuit": {"CDC/NIOSH 2022-141" + secondHand},
		// gecdurham.com, aimdynamics.com: read. No regulator's page was found.
		"current_transformer": {"engineering notes"},
		// The lesson, a shock from a 5 kV supply's capacitor: read. "For days" is common practice.
		"stored_charge": {"UC Berkeley EH&S, 31 May 2005", "NFPA 70E" + secondHand},
		// hse.gov.uk/asthma/solderers.htm and both leaflets: read.
		"solder_fume":     {"HSE asthma pages, solderers", "HSE INDG248", "COSHH Essentials WL17"},
		"lithium_primary": {"makers' handbooks" + secondHand},
		// Support pages of Panasonic and Philips: read.
		"recharging":    {"battery makers' support pages"},
		"alkaline_leak": {"battery makers' support pages"},
		"vinegar":       {"battery makers' support pages"},
		// 1.5 V over 0.15 to 0.30 Ω, a fresh cell's resistance by sheets quoted elsewhere: 5 to 10 A.
		"alkaline_short": {"makers' data sheets" + secondHand},
		// nepis.epa.gov P100K4AN: read. The Canadian leaflet and the rule of the Energy Policy Act 2005: not.
		"radium": {"US EPA, Radioactive Antiques", "CNSC CC172-41 and NRC rule on Ra-226" + secondHand},
		// The state's manual: read. EPA's and ATSDR's page by info.5y1.org.
		"mercury": {"California DTSC, May 2005", "EPA/ATSDR Cleaning up Mercury Spills" + secondHand},
		// Its rules of dates: read. Of EPA's manuals on PCB only the covers were: not cited.
		"oil_capacitor": {"BNL ESH Highlight 20"},
		// colandino.nl/d-c-meter-formulas, and question 2 of the worksheet, on pegged needles: read.
		"ohmmeter":      {"D-C Meter Formulas, handbook page", "All About Circuits worksheet, Voltmeter Design"},
		"first_current": {"D-C Meter Formulas, handbook page"},
	}
	for _, d := range cautions {
		assert.Equal(t, strings.Join(cited[d.ID], "; "), d.Source, d.ID)
		delete(cited, d.ID)
	}
	assert.Empty(t, cited, "no such caution")
}

// TestCatalogueNamesCautions: every caution has its row, with its fields.
func TestCatalogueNamesCautions(t *testing.T) {
	text, err := os.ReadFile("../catalogue.md")
	require.NoError(t, err)
	_, section, found := strings.Cut(string(text), "\n## Cautions\n")
	require.True(t, found)
	for _, d := range cautions {
		_, row, found := strings.Cut(section, "\n| `"+d.ID+"` | ")
		require.True(t, found, d.ID)
		row, _, _ = strings.Cut(row, "\n")
		_, fields, _ := strings.Cut(row, " | ")
		assert.Equal(t, "`"+strings.Join(d.fields, "` `")+"` |", fields, d.ID)
	}
}
