package walk

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/modeltest"
)

// Ticks stand in the file as runs of numbers and read back; all of them are a yes, and so are
// they read; a part that changes makes them void. Birthplace: laws.
func TestTicks(t *testing.T) {
	const n = 26
	build := func(d *model.Document) *State { return walkOf(t, d).Find("build", "") }
	d := model.Open(modeltest.Example("reading-room"))
	random := rand.New(rand.NewPCG(5, 8))
	for range 60 {
		want := make(Ticks, n)
		for k := range want {
			want[k] = random.IntN(3) > 0
		}
		ticked := build(d).Tick(want, "builder")
		require.Empty(t, ticked.Problems)
		got, void := build(ticked).Ticks(n)
		assert.Equal(t, want, got)
		assert.False(t, void)
		assert.Contains(t, build(ticked).Needs(), "parts-ticked", "not all are")
	}
	some, all := make(Ticks, n), make(Ticks, n)
	for k := range all {
		all[k], some[k] = true, k < 12
	}
	ticked := build(d).Tick(some, "builder")
	assert.Contains(t, ticked.Text, `value = "12 of 26: 1-12"`)
	moved := model.Open(modeltest.With(t, ticked.Text, "hand.hours.drive.fixed", "9.1 kΩ"))
	got, void := build(moved).Ticks(n)
	assert.Zero(t, got.Count())
	assert.True(t, void)
	got, void = build(ticked).Ticks(n + 2)
	assert.Zero(t, got.Count(), "two connections more: nobody knows which")
	assert.True(t, void)
	done := build(ticked).Tick(all, "builder")
	assert.NotContains(t, build(done).Needs(), "parts-ticked")
	got, _ = build(done).Ticks(n)
	assert.Equal(t, all, got)
}

// Of more ticks than the file has room for the first are kept, as many as fit, even where the
// very first connection is not ticked. Birthplace: laws.
func TestTicksWithoutRoom(t *testing.T) {
	room := model.Builds.Field("walk.met.value").Longest()
	for _, first := range []int{31, 0} {
		long := make(Ticks, 400)
		for k := range long {
			long[k] = k < first || k%2 == 1
		}
		text := long.text()
		assert.LessOrEqual(t, len(text), room)
		assert.Greater(t, len(text), room-len(", 399")-1, "there is no room for one more: %s", text)
		kept := ticksOf(text, 400)
		assert.Greater(t, kept.Count(), first, text)
		last := 0
		for k := range kept {
			if kept[k] {
				last = k
			}
		}
		assert.Equal(t, long[:last+1], kept[:last+1], text)
	}
	for _, value := range []string{"", "no", "3 of 9: 4-, -2, 99-3", "12 of 26"} {
		assert.Zero(t, ticksOf(value, 9).Count(), value)
	}
}
