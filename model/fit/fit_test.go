package fit

import (
	"context"
	"math"
	"runtime"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/modeltest"
)

// frameOf is the clock of the reading room with changes: 5 V, of which the top code of 240 in
// 256 leaves 4.6875 V, pins of 50 Ω for 10 mA, a rail of 5.5 V at most.
func frameOf(t testing.TB, pathsAndValues ...string) *Frame {
	t.Helper()
	f, err := NewFrame(model.Open(modeltest.With(t, modeltest.Example("reading-room"), pathsAndValues...)), "hours")
	require.NoError(t, err)
	return f
}

// of answers for one meter: "coil=100 Ω, full_scale=1 mA".
func of(t testing.TB, f *Frame, cells string) *Meter {
	t.Helper()
	var heads, values []string
	for cell := range strings.SplitSeq(cells, ", ") {
		head, value, _ := strings.Cut(cell, "=")
		heads, values = append(heads, head), append(values, value)
	}
	d, err := Read(strings.Join(heads, ";") + "\n" + strings.Join(values, ";"))
	require.NoError(t, err)
	require.Empty(t, d.Problems)
	require.Len(t, d.Rows, 1)
	return f.Of(d.Rows[0])
}

func (m *Meter) way(id string) *Way {
	for _, w := range m.Ways {
		if w.ID == id {
			return w
		}
	}
	return nil
}

// made is the hand of a build in which a way is made, through the text.
func made(t testing.TB, m *Meter, id string) (*model.Hand, *circuit.HandPlan) {
	t.Helper()
	w := m.way(id)
	require.NotNil(t, w, "%s: no way %q", m.Name, id)
	d := m.frame.doc.Make(w.Changes)
	require.Empty(t, d.Problems)
	p := new(circuit.Plan)
	circuit.Evaluate(d.Build, p)
	return &d.Build.Hands[0], &p.Hands[0]
}

// The series resistance of each way by Ohm's law, worked by hand: what the top code leaves of
// the rail, over the full scale, less the meter and what drives it. The trimmer, with the fixed
// resistors, must come to it. 4.6875 V is 5 V·240/256; 3.09375 V that of 3.3 V.
func TestWaysByOhmsLaw(t *testing.T) {
	low := frameOf(t, "rail.voltage", "3.3 V ±1 %")
	for _, c := range []struct {
		frame      *Frame
		meter, way string
		verdict    string
		needed     float64 // Ω
		current    float64 // A, of full scale at the terminals
	}{
		// 4.6875/500 µA − 640 − 50, with the parts that there are
		{frameOf(t), "coil=640 Ω ±1 %, full_scale=500 µA ±1 %", direct, Fits, 8685, 500e-6},
		// 4.6875/1 mA − 100 − 50
		{frameOf(t), "coil=100 Ω ±2 %, full_scale=1 mA ±2 %", direct, FitsWithChanges, 4537.5, 1e-3},
		// 4.6875/200 µA − 60 − 50: 12 mV, too low for a capacitor of usual size
		{frameOf(t), "coil=60 Ω ±2 %, full_scale=200 µA ±2 %", filter, FitsWithChanges, 23327.5, 200e-6},
		// 4.6875/100 µA − 1900 − 50
		{frameOf(t), "coil=1.9 kΩ ±2 %, full_scale=100 µA ±2 %, zero_at=centre", half, FitsWithChanges, 44925, 100e-6},
		// the same with both pins
		{frameOf(t), "coil=1.9 kΩ ±2 %, full_scale=100 µA ±2 %, zero_at=centre", bridge, FitsWithChanges, 44875, 100e-6},
		// 4.6875/50 mA − 8 − 2 of a transistor
		{frameOf(t), "coil=8 Ω ±2 %, full_scale=50 mA ±2 %", switched, FitsWithChanges, 83.75, 50e-3},
		// 4 V on a rail of 3.3 V: not before it is 5 V: 4687.5 − 4000 − 50
		{low, "terminal_resistance=4 kΩ ±1 %, terminal_full_scale=1 mA ±2 %, inside=multiplier", rail, FitsWithChanges, 637.5, 1e-3},
		// 60 mV at 1 mA are 60 Ω: 4687.5 − 60 − 50
		{frameOf(t), "marked=10 A, inside=shunt", opened, MeasureFirst, 4577.5, 1e-3},
		// a multiplier takes nothing of the current; 0.1 V at 1 mA are 100 Ω
		{frameOf(t), "terminal_resistance=30 kΩ ±1 %, terminal_full_scale=1 mA ±2 %, inside=multiplier", opened, MeasureFirst, 4537.5, 1e-3},
	} {
		m := of(t, c.frame, c.meter)
		hand, plan := made(t, m, c.way)
		what := c.way + " of " + c.meter
		d := &hand.Drive
		assert.Equal(t, c.verdict, m.way(c.way).Verdict, what)
		fixed := d.Stage.Number + d.Fixed.Number
		assert.Greater(t, c.needed, fixed, what)
		assert.Less(t, c.needed, fixed+d.Trimmer.Number, what)
		assert.InDelta(t, c.needed-fixed, plan.TrimmerSetting, 1e-6*c.needed, what)
		assert.InDelta(t, 1, plan.FullScaleReached, 1e-9, what)
		assert.InDelta(t, c.current, plan.PinMeanCurrent, 1e-9*c.current, what)
	}
}

// Driven one way, a class of 2.5 % is of twice the dial: 2.5 %·1440 min are 36 min; between
// two pins it is of the dial, 18 min. The rest is a few minutes: 14.4 of the rail's 2 % at
// full scale, where class is nothing. A square of both is 38.8 and 23 at most.
func TestHalfAndBridge(t *testing.T) {
	m := of(t, frameOf(t), "coil=1.9 kΩ ±2 %, full_scale=100 µA ±2 %, zero_at=centre, class=2.5")
	assert.InDelta(t, 37.5, m.way(half).Likely, 1.5)
	assert.InDelta(t, 20, m.way(bridge).Likely, 2)
	assert.Equal(t, bridge, m.Best().ID, "the better one is first")
	hand, _ := made(t, m, bridge)
	assert.Equal(t, "bridge", hand.Drive.By)
	iron := of(t, frameOf(t), "kind=moving iron, law=square, coil=1.9 kΩ ±2 %, full_scale=100 µA ±2 %, zero_at=centre")
	assert.Nil(t, iron.way(bridge), "a moving iron has no wrong way round")
}

// Through two transistors a meter of 200 mA may go, more through nothing; through the pin what
// it gives while it is high, 9.375 mA of 10 mA on the mean.
func TestWhatCarries(t *testing.T) {
	f := frameOf(t)
	for meter, want := range map[string]string{
		"coil=10 Ω, full_scale=9.3 mA": direct, "coil=10 Ω, full_scale=9.4 mA": switched,
		"coil=1 Ω, full_scale=199 mA": switched, "coil=1 Ω, full_scale=201 mA": "",
	} {
		m := of(t, f, meter)
		if want == "" {
			assert.Equal(t, DoesNotFit, m.Verdict)
			assert.Empty(t, m.Ways)
			continue
		}
		require.NotNil(t, m.Best(), meter)
		assert.Equal(t, want, m.Best().ID, meter)
		assert.Equal(t, FitsWithChanges, m.Verdict, "%s: %s", meter, m.Why)
	}
	w := of(t, f, "coil=1 Ω, full_scale=100 mA").Best()
	assert.Contains(t, strings.Join(w.Parts, "; "), "pull resistor 10 kΩ")
	hand, plan := made(t, of(t, f, "coil=1 Ω, full_scale=100 mA"), switched)
	assert.LessOrEqual(t, plan.ResistorPower, hand.Drive.ResistorRating.Number/2, "0.5 W at most, and they stand twice that")
}

// What is measured first, refused, and never opened.
func TestVerdicts(t *testing.T) {
	f := frameOf(t)
	for _, c := range []struct {
		meter, verdict string
		missing        []string
		ways           []string
		why            string
	}{
		{"kind=moving coil", MeasureFirst, []string{"full_scale", "coil"}, nil, "Not known yet: its full scale and its coil"},
		{"coil=640 Ω", MeasureFirst, []string{"full_scale"}, []string{direct}, "Not known yet: its full scale."},
		{"full_scale=500 µA", MeasureFirst, []string{"coil"}, []string{direct}, "Not known yet: its coil."},
		{"marked=500 µA", MeasureFirst, []string{"full_scale", "coil"}, []string{direct}, "Should it be 500 µA at 200 Ω"},
		{"marked=500 µA, full_scale=510 µA, coil=600 Ω", Fits, nil, []string{direct}, "510 µA at 600 Ω suits the parts as they stand"},
		{"shunt_drop=60 mV, marked=60 A", MeasureFirst, []string{"full_scale", "coil"}, []string{direct}, "1.00 mA at 60.0 Ω"},
		{"shunt_drop=60 mV, marked=60 A, full_scale=2 mA", FitsWithChanges, nil, []string{direct}, "2.00 mA at 30.0 Ω"},
		{"marked=30 V, ohms_per_volt=1 kΩ/V", MeasureFirst, []string{"coil", "full_scale"}, []string{opened}, "30.0 V at its terminals"},
		{"marked=30 V", MeasureFirst, []string{"full_scale", "coil"}, []string{opened}, "a multiplier is inside"},
		{"marked=30 V, glow=unknown", MeasureFirst, []string{"glow", "terminal_full_scale", "terminal_resistance"}, nil, "Not known yet"},
		{"coil=100 Ω, full_scale=1 mA, glow=unknown", MeasureFirst, []string{"glow"}, []string{direct}, "whether its paint may be radium"},
		{"coil=100 Ω, full_scale=1 mA, glow=yes", DoesNotFit, nil, nil, "may be radium"},
		{"marked=10 A, inside=shunt, glow=yes", DoesNotFit, nil, nil, "may be radium"},
		{"marked=10 A, inside=shunt, glow=unknown", MeasureFirst, []string{"glow"}, nil, "10.0 A through a pin: no. A shunt may be inside"},
		{"marked=10 A", DoesNotFit, nil, nil, "10.0 A through a pin: no. If a shunt is inside, the movement behind it may do with 50 to 75 mV: open it and look."},
		{"marked=10 A, kind=moving iron", DoesNotFit, nil, nil, "10.0 A through a pin: no. A moving iron meter takes all of it itself"},
		{"marked=10 A, inside=shunt", MeasureFirst, []string{"full_scale", "coil"}, []string{opened}, "10.0 A through a pin: no. With the shunt taken out and 50 to 75 mV at 0.1 to 10 mA behind it"},
		{"kind=cross coil", DoesNotFit, nil, nil, "A cross coil has no spring"},
		{"kind=moving iron, coil=100 Ω, full_scale=5 mA", MeasureFirst, []string{"law"}, []string{direct}, "With the law of a square"},
		{"kind=moving iron, coil=100 Ω, full_scale=5 mA, law=square", FitsWithChanges, nil, []string{direct}, "5.00 mA at 100 Ω"},
		{"coil=100 Ω, full_scale=1 mA, origin=mains", MeasureFirst, []string{"removed"}, nil, "connect nothing"},
		{"coil=100 Ω, full_scale=1 mA, origin=vehicle, removed=unknown", MeasureFirst, []string{"removed"}, nil, "a vehicle"},
		{"coil=100 Ω, full_scale=1 mA, origin=high voltage, removed=no", DoesNotFit, nil, nil, "leave it there"},
		{"coil=100 Ω, full_scale=1 mA, origin=mains, removed=yes", FitsWithChanges, nil, []string{direct}, "1.00 mA at 100 Ω"},
		{"coil=100 Ω, full_scale=1 mA, inside=shunt, inside_value=25 Ω", FitsWithChanges, nil, []string{direct, opened}, "5.00 mA at 20.0 Ω"}, // 1 mA·(1 + 100/25), 100 ∥ 25
		{"coil=100 Ω, full_scale=1 mA, inside=shunt", MeasureFirst, []string{"full_scale", "coil"}, []string{opened}, "a shunt is inside"},
		{"kind=rectifier, coil=100 Ω, full_scale=1 mA", MeasureFirst, []string{"full_scale", "coil"}, []string{opened}, "With the rectifier taken out and 1.00 mA at 100 Ω"},
		{"kind=rectifier, terminal_resistance=1 kΩ, terminal_full_scale=1 mA", MeasureFirst, []string{"law"}, []string{direct, opened}, "With an even scale"},
	} {
		m := of(t, f, c.meter)
		assert.Equal(t, c.verdict, m.Verdict, "%s: %s", c.meter, m.Why)
		assert.ElementsMatch(t, c.missing, m.Missing, c.meter)
		assert.Contains(t, m.Why, c.why, c.meter)
		var ids []string
		for _, w := range m.Ways {
			if w.ID != filter || slices.Contains(c.ways, filter) { // a filter may always be looked at besides
				ids = append(ids, w.ID)
			}
		}
		assert.ElementsMatch(t, c.ways, ids, c.meter)
	}
}

// A build that has a fault has it still: what another meter does not mend is not held against
// it, what is of its own hand is.
func TestFaultsThatWereThere(t *testing.T) {
	f := frameOf(t, "rail.maximum", "4.5 V") // the rail of 5 V is above it
	m := of(t, f, "coil=640 Ω ±1 %, full_scale=500 µA ±1 %")
	assert.Equal(t, Fits, m.Verdict)
	assert.Equal(t, 1, m.Best().Faults)
	f = frameOf(t, "hand.hours.drive.fixed", "2 kΩ") // far too little for either
	assert.Equal(t, DoesNotFit, of(t, f, "coil=640 Ω ±1 %, full_scale=500 µA ±1 %, glow=yes").Verdict)
	assert.Equal(t, FitsWithChanges, of(t, f, "coil=640 Ω ±1 %, full_scale=500 µA ±1 %").Verdict)
}

// The meter that a build has: as it stands, with other parts, and where the text says that
// its figures are assumed.
func TestOfHand(t *testing.T) {
	m := frameOf(t).OfHand()
	assert.Equal(t, Fits, m.Verdict)
	assert.Empty(t, m.Best().Changes)
	m = frameOf(t, "hand.hours.drive.fixed", "2 kΩ").OfHand()
	assert.Equal(t, FitsWithChanges, m.Verdict)
	hand, _ := made(t, m, direct)
	assert.Greater(t, hand.Drive.Fixed.Number, 5e3)
	text := strings.Replace(modeltest.Example("reading-room"), `coil = "640 Ω ±1 %"         # by half deflection`, `coil = "640 Ω ±1 %" # assumed`, 1)
	f, err := NewFrame(model.Open(text), "hours")
	require.NoError(t, err)
	m = f.OfHand()
	assert.Equal(t, MeasureFirst, m.Verdict)
	assert.Equal(t, []string{"coil"}, m.Missing)
}

// What stands in for what nobody measured is marked in the text, also where the build did not
// have the key, and what was said of the former meter goes.
func TestMakeMarksWhatIsAssumed(t *testing.T) {
	f := frameOf(t)
	m := of(t, f, "marked=500 µA, class=1.5")
	d := m.way(direct).Make(f.doc)
	require.Empty(t, d.Problems)
	for path, want := range map[string]string{fullScalePath: "from the dial", coilPath: "assumed", "hand.meter.class": "", "hand.meter.period": "assumed", "hand.meter.glow": ""} {
		assert.Equal(t, want, d.Mark(model.Builds.Field(path), 0), path)
	}
	assert.NotContains(t, d.Text, "by half deflection")
	closed := of(t, f, "marked=4 V, ohms_per_volt=1 kΩ/V")
	d = closed.way(direct).Make(f.doc)
	require.Empty(t, d.Problems)
	assert.Equal(t, "from the dial", d.Mark(model.Builds.Field(ohmsPath), 0))
	assert.Equal(t, "from the dial", d.Mark(model.Builds.Field(currentPath), 0))
	again, err := NewFrame(d, "hours")
	require.NoError(t, err)
	assert.Equal(t, MeasureFirst, again.OfHand().Verdict, "the build knows that nobody measured them")
}

// On any number of cores the same bytes; stopped, none.
func TestAllIsTheSameOnAnyCores(t *testing.T) {
	d, err := Read(modeltest.FileText("../../examples/drawer.csv"))
	require.NoError(t, err)
	f := frameOf(t)
	var all [][]byte
	before := runtime.GOMAXPROCS(0)
	defer runtime.GOMAXPROCS(before)
	for _, cores := range []int{1, 4} {
		runtime.GOMAXPROCS(cores)
		came := 0
		meters, err := f.All(t.Context(), d.Rows, func(*Meter) { came++ })
		require.NoError(t, err)
		assert.Len(t, d.Rows, came)
		out, err := JSON(meters)
		require.NoError(t, err)
		all = append(all, out)
	}
	assert.Equal(t, string(all[0]), string(all[1]))
	assert.NotContains(t, string(all[0]), "NaN")
	ctx, stop := context.WithCancel(t.Context())
	stop()
	_, err = f.All(ctx, d.Rows, nil)
	assert.ErrorIs(t, err, context.Canceled)
}

// By verdict, then by likely, then by row; of the example every verdict is there.
func TestOrder(t *testing.T) {
	d, err := Read(modeltest.FileText("../../examples/drawer.csv"))
	require.NoError(t, err)
	require.Len(t, d.Rows, 12)
	meters, err := frameOf(t).All(t.Context(), d.Rows, nil)
	require.NoError(t, err)
	seen := map[string]bool{}
	for k, m := range meters {
		seen[m.Verdict] = true
		if k == 0 {
			continue
		}
		was := meters[k-1]
		a, b := slices.Index(verdicts, was.Verdict), slices.Index(verdicts, m.Verdict)
		require.LessOrEqual(t, a, b)
		if a == b && was.Best() != nil && m.Best() != nil {
			assert.LessOrEqual(t, was.Best().Likely, m.Best().Likely)
		}
	}
	assert.Len(t, seen, len(verdicts))
	same := []*Meter{{Row: 2, Verdict: MeasureFirst}, {Row: 1, Verdict: MeasureFirst}, {Row: 3, Verdict: MeasureFirst, Ways: []*Way{{Likely: 5}}}}
	Sort(same)
	assert.Equal(t, []int{3, 1, 2}, []int{same[0].Row, same[1].Row, same[2].Row})
}

func TestWriteCSV(t *testing.T) {
	var b strings.Builder
	require.NoError(t, WriteCSV(&b, []*Meter{{Name: "=1+1", Verdict: DoesNotFit, Why: "no, no"}, {Name: "@b", Verdict: MeasureFirst, Missing: []string{"coil"}, Ways: []*Way{{ID: direct, Likely: 1.5, Worst: math.NaN()}}}}))
	assert.Equal(t, "name,verdict,way,likely,worst,life_on,life_mixed,current,faults,cautions,missing,why\n"+
		"'=1+1,does not fit,,,,,,,,,,\"no, no\"\n'@b,measure first,direct,1.5,,0,0,0,0,0,coil,\n", b.String())
}

func BenchmarkDrawer(b *testing.B) {
	d, err := Read(modeltest.FileText("../../examples/drawer.csv"))
	require.NoError(b, err)
	f := frameOf(b)
	for b.Loop() {
		for _, row := range d.Rows {
			f.Of(row)
		}
	}
}
