package bench

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model/bench/faulty"
)

// Clocks that are made up for an exercise: what is read can be read back, the same seed makes
// the same, each fault shows, and the bench finds it as it finds those made up apart from it.
// What is asked is what the contract's issue asks of the ranking, within the noise of so many.
func TestMadeClocksAreFound(t *testing.T) {
	const clocks = 60
	r := newTrial(t, "reading-room")
	var found score
	seen := map[string]bool{}
	for seed := range uint64(clocks) {
		m, err := r.x.Make(seed, 1)
		require.NoError(t, err)
		again, err := r.x.Make(seed, 1)
		require.NoError(t, err)
		assert.Equal(t, m, again, "seed %d", seed)
		require.Len(t, m.Faults, 1)
		f := m.Faults[0]
		seen[f.ID] = true
		assert.NotEmpty(t, f.Shows, f.Title)
		report := r.x.Judge(m.Readings)
		require.Len(t, report.Readings, len(m.Readings))
		for _, read := range report.Readings {
			assert.NotContains(t, []Verdict{Foreign, Unread}, read.Verdict, "%s = %q", read.At, read.Given)
		}
		got := rank(report.Causes, faulty.Fault{ID: f.ID, About: f.About})
		if got > 1 {
			t.Logf("seed %d: %s comes as number %d, after %s", seed, f.Title, got, report.Causes[0].ID)
		}
		found.add(got)
	}
	noise := 2.5 * math.Sqrt(0.97*0.03/clocks)
	assert.GreaterOrEqual(t, float64(found.first)/clocks, 0.97-noise)
	assert.Greater(t, len(seen), clocks/3, "faults of many kinds")
	t.Log(found, len(seen), "kinds")
}

// With two faults both show, and neither hides the other.
func TestTwoFaultsBothShow(t *testing.T) {
	r := newTrial(t, "reading-room")
	for seed := range uint64(20) {
		m, err := r.x.Make(seed, 2)
		require.NoError(t, err)
		require.Len(t, m.Faults, 2)
		assert.NotEqual(t, m.Faults[0].ID, m.Faults[1].ID)
		assert.NotEmpty(t, m.Faults[0].Shows)
		assert.NotEmpty(t, m.Faults[1].Shows)
	}
}

// What clocks read that have a fault without an amount is held against clocks with the same
// fault that are made up by other equations (package faulty): each reading lies on the same
// side of what a sound clock reads, or is the same word.
func TestMadeClocksReadAsOthersDo(t *testing.T) {
	r := newTrial(t, "reading-room")
	random := rand.New(rand.NewPCG(15, 1))
	plan := map[string]float64{}
	for _, p := range r.x.Verdicts(nil).Points {
		plan[p.ID] = p.Value
	}
	compared, alike := 0, 0
	for seed := range uint64(120) {
		m, err := r.x.Make(seed, 1)
		require.NoError(t, err)
		f := m.Faults[0]
		if c := causeOf(f.ID); c.trims || c.place || len(faultOf(f.ID).Amounts) > 0 || c.spans != nil {
			continue
		}
		other := faulty.MakeAt(r.bench, r.build, random, faulty.Fault{ID: f.ID, About: f.About})
		ours := r.x.take(m.Readings)
		theirs := r.x.take(readingsOf(other))
		for _, a := range ours {
			for _, b := range theirs {
				if a.At != b.At || !slices.Contains(f.Shows, a.At) {
					continue
				}
				compared++
				if a.kind == b.kind && a.word == b.word && (a.kind != number || (a.Value > plan[a.At]) == (b.Value > plan[a.At])) {
					alike++
				} else {
					t.Logf("%s: %s reads %q here and %q there", f.Title, a.At, a.Given, b.Given)
				}
			}
		}
	}
	require.Greater(t, compared, 100)
	assert.GreaterOrEqual(t, alike, compared*97/100, "of %d", compared)
	t.Log(alike, "of", compared)
}
