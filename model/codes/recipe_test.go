package codes

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model/modeltest"
)

// exhaustive tries every recipe of 16 bits in order, shift before multiply before add; the
// first instant's code alone says which add may be.
func exhaustive(codes []int, first int) *Recipe {
	const most = 65535
	last := len(codes) - 1
	for shift := range 16 {
		for multiply := 0; multiply*last <= most; multiply++ {
			least := codes[first]<<shift - multiply*first
			for add := max(0, least); add < least+1<<shift && multiply*last+add <= most; add++ {
				if right(codes, first, multiply, add, shift) {
					return &Recipe{int64(multiply), int64(add), shift, 16}
				}
			}
		}
	}
	return nil
}

// right says whether a recipe gives every code.
func right(codes []int, first, multiply, add, shift int) bool {
	for s := first; s < len(codes); s++ {
		if (s*multiply+add)>>shift != codes[s] {
			return false
		}
	}
	return true
}

// smaller looks for a recipe of 32 bits with less shift, or as much and less multiply, by
// every multiply that the first and the last code allow.
func smaller(codes []int, first int, than *Recipe) *Recipe {
	const most = 1<<32 - 1
	last := len(codes) - 1
	span, rise := last-first, codes[last]-codes[first]
	for shift := 0; shift < 32 && (than == nil || shift <= than.Shift) && codes[last]<<shift <= most; shift++ {
		for multiply := max(0, (rise-1)<<shift/span-1); multiply <= (rise+1)<<shift/span+1; multiply++ {
			if than != nil && shift == than.Shift && int64(multiply) >= than.Multiply {
				break
			}
			low, high := 0, most-multiply*last
			for s := first; s <= last && low <= high; s++ {
				low, high = max(low, codes[s]<<shift-s*multiply), min(high, (codes[s]+1)<<shift-1-s*multiply)
			}
			if low <= high {
				return &Recipe{int64(multiply), int64(low), shift, 32}
			}
		}
	}
	return nil
}

// proved holds the recipe of codes to all instants, and to both searches.
func proved(t *testing.T, codes []int, first int) *Recipe {
	t.Helper()
	got, small := recipeFor(codes, first), exhaustive(codes, first)
	if small != nil {
		require.Equal(t, small, got)
		return got
	}
	require.Nil(t, smaller(codes, first, got))
	if got != nil {
		require.Equal(t, 32, got.Bits)
		last := int64(len(codes) - 1)
		require.LessOrEqual(t, last*got.Multiply+got.Add, int64(1)<<32-1)
		require.True(t, right(codes, first, int(got.Multiply), int(got.Add), got.Shift))
		require.True(t, got.Add == 0 || !right(codes, first, int(got.Multiply), int(got.Add)-1, got.Shift), "with less added it is right too")
	}
	return got
}

// Every recipe is run for all instants, and no smaller one exists: the examples, even scales
// of usual tops, and random builds.
func TestRecipes(t *testing.T) {
	for name, text := range examples(t) {
		b, p := planned(t, text)
		for i, h := range Of(b, p).Hands {
			if h.Bridge {
				assert.Nil(t, h.Recipe, name)
				continue
			}
			assert.Equal(t, proved(t, h.Codes, h.first()), h.Recipe, "%s %d", name, i)
		}
	}
	there, none := 0, 0
	for _, text := range anyBuilds(33, builds(8)) {
		b, p := planned(t, text)
		for _, h := range Of(b, p).Hands {
			switch {
			case h.Bridge:
			case proved(t, h.Codes, h.first()) == nil:
				none++
			default:
				there++
			}
		}
	}
	t.Log(there, "with a recipe,", none, "without")
	assert.NotZero(t, there)
	assert.NotZero(t, none)
}

// Even scales of any top have a recipe: derived, since a code is then the whole part of an
// even number's share, which some multiply over a power of two comes near enough to.
func TestEvenScalesHaveARecipe(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 5))
	text := modeltest.Example("reading-room")
	for _, top := range []string{"1", "12", "60", "240", "255", "256"} {
		shows := []string{"12 h", "24 h", "60 min", "60 s"}[random.IntN(4)]
		b, p := planned(t, modeltest.With(t, text, "hand.hours.drive.top", top, "hand.hours.shows", shows))
		h := &Of(b, p).Hands[0]
		require.NotNil(t, h.Recipe, "%s %s", top, shows)
		assert.Equal(t, proved(t, h.Codes, h.first()), h.Recipe)
	}
}

// By hand: 60 instants, top 240, noon at zero, nearest: four times the instant. With 59 of 60
// at the top code 60: the instant itself.
func TestRecipeByHand(t *testing.T) {
	var four, same []int
	for s := range 60 {
		four, same = append(four, 4*s), append(same, s)
	}
	assert.Equal(t, &Recipe{4, 0, 0, 16}, recipeFor(four, 0))
	assert.Equal(t, &Recipe{1, 0, 0, 16}, recipeFor(same, 0))
	assert.Equal(t, "(s·4 + 0) >> 0", recipeFor(four, 0).String())
	assert.Nil(t, recipeFor([]int{0, 5, 6, 7}, 0), "no even steps")
}
