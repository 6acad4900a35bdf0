package walk

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/modeltest"
)

// A step of a story: what is answered, and where the work stands then.
type step struct {
	id, hand, asks, text string
	here                 string // the stage that is next
}

// plan stands for what a sound clock reads at the point.
const plan = "(plan)"

// story is a beginner's way from nothing to a clock that is written up. Birthplace: written
// by hand from the contract's table of what is asked and when a stage is done.
var story = []step{
	{"survey", "hours", "hand.meter.origin", "mains", "survey"},
	{"survey", "hours", "hand.meter.removed", "yes", "survey"},
	{"survey", "hours", "hand.meter.glow", "no", "survey"},
	{"survey", "hours", "hand.meter.marked", "500 µA", "survey"},
	{"survey", "hours", "hand.meter.full_scale", "506", "survey"},
	{"survey", "hours", "hand.meter.coil", "640", "drive"},
	{"drive", "hours", "rail.voltage", "5.02", "time"},
	{"smooth", "hours", "", "", "time"}, // it is only looked at
	{"time", "", "set-weekly", "yes", "power"},
	{"power", "", "battery.cell", "alkaline D", "power"},
	{"power", "", "battery.cells", "3", "dial"},
	{"dial", "hours", "hand.meter.sweep", "88", "dial"},
	{"dial", "hours", "ruler-true", "yes", "build"},
	{"build", "", "parts-ticked", "yes", "bring-up"},
	{"bring-up", "hours", "dummy_voltage_zero", "0 V", "bring-up"},
	{"bring-up", "hours", "dummy_voltage_top", plan, "bring-up"},
	{"bring-up", "hours", "dummy_voltage_half", plan, "bring-up"},
	{"bring-up", "hours", "first-power", "yes", "bring-up"},
	{"bring-up", "hours", "needle-steady", "yes", "set"},
	{"set", "hours", "needle_top", "100 %", "set"},
	{"set", "hours", "needle_half", "49.5 %", "set"},
	{"set", "hours", "ran-a-day", "yes", "write-up"},
	{"write-up", "", "title", "Kitchen clock", "write-up"},
	{"write-up", "", "accepted", "it hangs in a kitchen", ""},
}

// begun is a build of which nothing is known.
func begun(t testing.TB) *model.Document {
	t.Helper()
	return Begin()
}

// told goes through a story, and gives each document on the way to see.
func told(t *testing.T, d *model.Document, see func(at step, d *model.Document)) *model.Document {
	t.Helper()
	for _, at := range story {
		text := at.text
		if text == plan {
			text = planned(t, d, at.hand+"."+at.asks)
		}
		if at.asks != "" {
			d = answered(t, d, at.id, at.hand, at.asks, text)
		}
		if s := stateOf(t, d, at.id, at.hand); s.State == Done {
			d = s.Looked()
		}
		see(at, d)
	}
	return d
}

// A build that was started from nothing ends with all stages done and no fault.
func TestFromNothingToTheEnd(t *testing.T) {
	d := told(t, begun(t), func(at step, d *model.Document) {
		here := ""
		if next := walkOf(t, d).Next(); next != nil {
			here = next.ID
			assert.Equal(t, Here, next.State, "after %s: %v", at.asks, next.Changed)
		}
		assert.Equal(t, at.here, here, "after %s = %s\n%s", at.asks, at.text, walkOf(t, d).Text())
	})
	w := walkOf(t, d)
	assert.Nil(t, w.Next())
	assert.Equal(t, "All 10 stages done.", w.Text())
	for _, f := range w.shared.found {
		assert.Less(t, f.Severity, judge.Fault, f.String())
	}
	for _, s := range w.States {
		assert.Equal(t, Done, s.State, s.Name())
		assert.GreaterOrEqual(t, s.row, 0, "%s: what it rested on is kept", s.ID)
	}
	assert.Equal(t, w.Text(), walkOf(t, model.Open(d.Text)).Text(), "the text is the document")
}

// Every stage goes through each of its states with the document: of two hands the first
// stage waits too.
func TestEveryStageInEveryState(t *testing.T) {
	d := begun(t)
	seen := map[string]map[string]bool{}
	see := func(d *model.Document) {
		for _, s := range walkOf(t, d).States {
			if seen[s.ID] == nil {
				seen[s.ID] = map[string]bool{}
			}
			seen[s.ID][s.State] = true
		}
	}
	two, problem := judge.NewHand(d, "minutes", "60 min", judge.Meter{FullScale: judge.NotKnown, Coil: judge.NotKnown})
	require.Nil(t, problem)
	see(two)
	d = told(t, d, func(_ step, d *model.Document) { see(d) })
	for _, change := range [][2]string{
		{"hand.hours.meter.coil", "700 Ω ±2 %"}, {"hand.hours.drive.capacitor", "22 µF ±10 %"}, {"crystal.capacitor_in", "12 pF"},
		{"battery.cell", "alkaline C"}, {"hand.hours.meter.sweep", "100°"}, {"hand.hours.meter.class", "0.1 %"},
	} {
		see(model.Open(modeltest.With(t, d.Text, change[0], change[1])))
	}
	// smooth and power wait where a fault is made
	poor := model.Open(modeltest.With(t, begun(t).Text, "hand.hours.drive.clock", "100 Hz", "hand.hours.drive.capacitor", "0"))
	see(poor)
	for path, value := range map[string]string{"hand.hours.meter.origin": "new", "hand.hours.meter.glow": "no", "hand.hours.meter.coil": "100 Ω", "hand.hours.meter.full_scale": "1 mA", "rail.voltage": "5 V"} {
		poor = model.Open(modeltest.With(t, poor.Text, path, value))
	}
	see(poor)
	for _, s := range Stages {
		for _, state := range []string{Done, Again, Here, Open} {
			assert.True(t, seen[s.ID][state], "%s was never %s", s.ID, state)
		}
	}
}

// Laws of random builds: one stage at most is here, and exactly one while any is neither done
// nor to be looked at again; a stage that is open stands behind it; nothing is needed and
// there at once; a comment and a title change nothing.
func TestAnyBuildHasItsStages(t *testing.T) {
	accepted := 0
	for seed := range uint64(60) {
		text := modeltest.AnyBuild(rand.New(rand.NewPCG(seed, 15)))
		d := model.Open(text)
		if len(d.Problems) > 0 {
			continue
		}
		accepted++
		w := walkOf(t, d)
		assert.Len(t, w.States, 4+6*len(d.Build.Hands))
		here := -1
		for i, s := range w.States {
			switch s.State {
			case Here:
				assert.Equal(t, -1, here, "two are here")
				here = i
			case Open:
				assert.GreaterOrEqual(t, here, 0, "open before here")
			case Done:
				assert.Empty(t, s.Needs(), s.Name())
			}
			for _, need := range s.Needs() {
				assert.NotEmpty(t, need, s.Name())
			}
		}
		titled := model.Open(modeltest.With(t, "# a comment\n"+text, "title", "Another"))
		assert.Equal(t, summary(w), summary(walkOf(t, titled)))
	}
	assert.Greater(t, accepted, 30)
}

// summary is a walk without its document.
func summary(w *Walk) (all []string) {
	for i := range w.States {
		s := &w.States[i]
		all = append(all, s.Name()+": "+s.State+"; "+list(s.Needs())+"; "+list(s.Met())+"; "+list(s.Changed))
	}
	return all
}
