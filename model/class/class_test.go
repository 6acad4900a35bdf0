package class

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/bench"
	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/modeltest"
	"example.com/needlewright/model/report"
)

// A row says what check says of the same build: its faults, cautions and life are counted
// from the report, and the parts stand in the file.
func TestRowIsWhatCheckSays(t *testing.T) {
	for _, name := range []string{"reading-room", "school-store", "station-platform"} {
		text := modeltest.With(t, modeltest.Example(name), "builder", "Group 2")
		row := RowOf(name+".toml", text)
		r := report.Of(model.Open(text))
		faults, cautions := 0, 0
		for _, f := range report.Joined(r.Findings) {
			switch f.Severity {
			case judge.Fault:
				faults++
			case judge.Warning:
				cautions++
			}
		}
		assert.Equal(t, [2]int{faults, cautions}, [2]int{row.Faults, row.Cautions}, name)
		assert.Equal(t, "Group 2", row.Builder)
		assert.Empty(t, row.Problem)
		require.Len(t, row.Hands, len(r.Build.Hands))
		for i := range row.Hands {
			budget := r.Budget(i, judge.AfterMonth)
			assert.Equal(t, budget.RSS, row.Hands[i].Likely)
			assert.GreaterOrEqual(t, row.Likely, budget.RSS)
			assert.GreaterOrEqual(t, row.Overload, r.Plan.Hands[i].OverloadWorst)
		}
	}
	room := RowOf("", modeltest.Example("reading-room"))
	assert.Equal(t, "8.2 kΩ + 1 kΩ, 4.7 µF", room.Hands[0].Parts) // as the file has them
	// Worst overload: 5.05 V over 633.6 Ω + 35 Ω + 8.118 kΩ, over 495 µA; by hand.
	assert.InDelta(t, 1.1611, room.Overload, 0.0001)
}

// Readings are counted as the bench judges them; what was before a repair is not.
func TestRowCountsReadings(t *testing.T) {
	text := modeltest.Example("reading-room") + "\n[[reading]]\nat = \"rail.voltage_on\"\nvalue = \"5.00 V\"\n\n[[reading]]\nat = \"hours.needle_top\"\nvalue = \"30 %\"\n" +
		"\n[[reading]]\nat = \"hours.needle_half\"\nvalue = \"20 %\"\nbefore = \"yes\"\n"
	row := RowOf("", text)
	assert.Equal(t, [2]int{1, 2}, [2]int{row.Inside, row.Readings}) // 5 V is the plan; the needle should stand at 100 %
}

// A file that cannot be read is a row that says why, in all forms; a cell that a spreadsheet
// would take for a formula is none.
func TestListForms(t *testing.T) {
	bad := RowOf("bad.toml", "format = 1\n")
	assert.Contains(t, bad.Problem, "rail.voltage")
	formula := RowOf("a.toml", modeltest.With(t, modeltest.Example("reading-room"), "title", "=1+1", "builder", "@you"))
	list := List{bad, Unreadable("gone.toml", "there is no such file"), formula}
	var out bytes.Buffer
	require.NoError(t, list.WriteCSV(&out))
	table, err := csv.NewReader(&out).ReadAll()
	require.NoError(t, err)
	require.Len(t, table, 4)
	assert.Equal(t, []string{"gone.toml", "", "", "", "", "", "", "", "", "", "", "", "", "", "there is no such file"}, table[2])
	assert.Equal(t, []string{"a.toml", "'=1+1", "'@you"}, table[3][:3])
	text, err := list.JSON()
	require.NoError(t, err)
	var read struct {
		Builds []struct {
			File, Problem, Title string
			Life                 *float64
			Faults, Readings     *int
		}
	}
	require.NoError(t, json.Unmarshal(text, &read))
	require.Len(t, read.Builds, 3)
	for _, unread := range read.Builds[:2] {
		assert.Nil(t, unread.Life)
		assert.Nil(t, unread.Faults, "nobody looked for them")
		assert.Nil(t, unread.Readings)
	}
	require.NotNil(t, read.Builds[2].Faults)
	assert.Zero(t, *read.Builds[2].Faults)
	assert.Equal(t, "=1+1", read.Builds[2].Title)
}

// Who built the clock, and how far its walk is, is of no exercise.
func TestExerciseIsNobodys(t *testing.T) {
	d := model.Open(modeltest.With(t, modeltest.Example("bakery"), "builder", "Group 2"))
	require.NotEmpty(t, d.Build.Walk)
	e, err := NewExercise(d, 5, 1)
	require.NoError(t, err)
	made := modeltest.Sound(t, e.Text)
	assert.Empty(t, made.Walk)
	assert.Empty(t, made.Builder)
}

// An exercise is the build with readings: nothing else but its title is changed, none of them is of no
// point, and the bench finds what is planted among the first three.
func TestExercise(t *testing.T) {
	for _, name := range []string{"reading-room", "boathouse"} {
		d := model.Open(modeltest.Example(name))
		for seed := range uint64(5) {
			e, err := NewExercise(d, seed, 1)
			require.NoError(t, err)
			again, err := NewExercise(d, seed, 1)
			require.NoError(t, err)
			assert.Equal(t, e, again)
			made := modeltest.Sound(t, e.Text)
			assert.NotContains(t, e.Text, e.Faults[0].ID)
			found := bench.New(made).Judge(made.Readings)
			among := false
			for _, c := range found.Causes[:min(3, len(found.Causes))] {
				among = among || strings.Contains(c.ID, e.Faults[0].ID)
			}
			assert.True(t, among, "%s, seed %d: %s", name, seed, e.Faults[0].Title)
			made.Readings, d.Build.Readings = nil, nil
			assert.Equal(t, fmt.Sprintf("%s, exercise %d", d.Build.Title, seed), made.Title)
			made.Title = d.Build.Title
			assert.Equal(t, modeltest.Texts(d.Build), modeltest.Texts(made))
		}
	}
}

// A starter file has the kit's parts and none of what was measured of another clock; with a
// coil and a full scale it is whole.
func TestStarter(t *testing.T) {
	for _, name := range []string{"reading-room", "signal-cabin", "station-platform"} {
		text := modeltest.With(t, modeltest.Example(name), "builder", "Teacher", "hand.hours.scale.1.code", "100", "hand.hours.scale.1.stands", "40 %")
		starter, err := Starter(model.Open(text))
		require.NoError(t, err)
		d := model.Open(starter)
		was := modeltest.Sound(t, text)
		hands := len(d.Build.Hands)
		require.Len(t, d.Problems, 2*hands, "%s", modeltest.Messages(d.Problems))
		row := RowOf("kit.toml", starter)
		assert.Contains(t, row.Problem, "must be given")
		assert.Equal(t, "survey", strings.Split(row.Stage, ",")[0], "each begins there")
		for i := range hands {
			for _, path := range []string{"hand.meter.coil", "hand.meter.full_scale"} {
				f := model.Builds.Field(path)
				assert.Equal(t, "measure it", d.Mark(f, i))
				d = d.Set(f, i, map[string]string{"hand.meter.coil": "500 Ω", "hand.meter.full_scale": "1 mA"}[path])
			}
			assert.Equal(t, was.Hands[i].Drive.Fixed, d.Build.Hands[i].Drive.Fixed)
			assert.Equal(t, was.Hands[i].Drive.Capacitor, d.Build.Hands[i].Drive.Capacitor)
			assert.False(t, d.Build.Hands[i].Meter.Class.Given())
			assert.Empty(t, d.Build.Hands[i].Scale)
		}
		assert.Empty(t, d.Problems)
		assert.Empty(t, d.Build.Readings)
		assert.Empty(t, d.Build.Builder)
		assert.Equal(t, was.Title, d.Build.Title)
		assert.NotContains(t, starter, "half deflection")
	}
}

// The stage of a row is the one that comes next: of a finished clock none, after a change the
// first that is to be looked at again, of the clock itself without a hand, and of a hand with
// its name where there are several. Derived: from what the walk asks of each stage.
func TestRowSaysTheStage(t *testing.T) {
	bakery := modeltest.Example("bakery")
	two, problem := model.Open(bakery).Add("hand", "minutes", 0)
	require.Nil(t, problem)
	for text, want := range map[string]string{
		bakery: "done",
		modeltest.With(t, bakery, "hand.hours.drive.fixed", "11 kΩ ±1 %"): "drive",
		modeltest.With(t, bakery, "hand.hours.drive.capacitor", "10 µF"):  "smooth",
		modeltest.With(t, bakery, "crystal.tolerance", ""):                "time",
		modeltest.With(t, bakery, "hand.hours.meter.sweep", "180°"):       "dial",
		modeltest.With(t, two.Text, "crystal.tolerance", ""):              "time",
		modeltest.With(t, two.Text, "hand.minutes.meter.coil", "810 Ω"):   "dial, minutes",
		modeltest.With(t, two.Text, "hand.minutes.meter.origin", ""):      "survey, minutes",
	} {
		assert.Equal(t, want, RowOf("", text).Stage)
	}
}
