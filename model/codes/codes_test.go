package codes

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model/modeltest"
)

// By hand: 240 steps of 3 minutes on 12 hours, noon at the top. At 1:00 a twelfth, 20; at
// 1:02 the nearest of 20.67, 21; parks at halves and three quarters; six codes a second where
// the ramp takes 40 s, of which a tick of 20 ms gets 0.12.
func TestCodesByHand(t *testing.T) {
	b, p := planned(t, modeltest.Example("reading-room"))
	h := Of(b, p).Hands[0]
	assert.Equal(t, 720, h.Instants)
	assert.Equal(t, []int{240, 0, 1, 1, 1, 2}, h.Codes[:6])
	assert.Equal(t, []int{20, 20, 21}, h.Codes[60:63])
	assert.Equal(t, 240, h.Codes[719])
	assert.Equal(t, Park{0, 120, 180, 240, 0}, h.Park)
	assert.Equal(t, p.Hands[0].RampPerTick, h.Ramp.PerTick)
	assert.Equal(t, 8, h.Bits)
	assert.Equal(t, []int{8, 8, 16, 16, 32}, []int{bitsFor(1), bitsFor(255), bitsFor(256), bitsFor(65535), bitsFor(65536)})
}

// At each instant the code is the one that the needle of the plan is sent, and each mark's
// place is the needle's.
func TestCodesAreThePlan(t *testing.T) {
	for name, text := range examples(t) {
		b, p := planned(t, text)
		for i, h := range Of(b, p).Hands {
			for s, code := range h.Codes {
				require.Equal(t, p.Needle(i, float64(s*h.seconds())).Code, float64(code), "%s %s %d", name, h.Name, s)
			}
			require.Len(t, h.Marks, map[int]int{60: 12, 720: 12, 1440: 24}[h.Instants])
			last := math.Inf(-1)
			for _, m := range h.Marks {
				assert.Greater(t, m.Place, last, "in the order of the dial")
				last = m.Place
			}
		}
	}
}

// The JSON has the keys of the contract, and for any build no number that is none.
func TestJSON(t *testing.T) {
	for _, text := range append(anyBuilds(35, builds(20)), modeltest.Text(t, "meters-2.toml"), modeltest.Example("harbour-office")) {
		b, p := planned(t, text)
		c := Of(b, p)
		out, err := c.JSON()
		require.NoError(t, err)
		var got struct {
			Title *string
			Hands []map[string]json.RawMessage
			Timer map[string]json.RawMessage
		}
		require.NoError(t, json.Unmarshal(out, &got))
		for _, key := range []string{"clock", "prescale", "reload", "bits", "tick", "tick_counted", "trim"} {
			assert.Contains(t, got.Timer, key)
		}
		require.Len(t, got.Hands, len(b.Hands))
		for i, h := range got.Hands {
			for _, key := range []string{"name", "instants", "counts", "top", "bits", "codes", "recipe", "ramp", "park"} {
				assert.Contains(t, h, key)
			}
			var codes []int
			require.NoError(t, json.Unmarshal(h["codes"], &codes))
			assert.Equal(t, c.Hands[i].Codes, codes)
			assert.Equal(t, c.Hands[i].Bridge, bytes.Contains(h["park"], []byte(`"low"`)))
		}
		again, _ := Of(b, p).JSON()
		assert.Equal(t, out, again)
	}
}

// The table has a row an instant, in order.
func TestCSV(t *testing.T) {
	b, p := planned(t, modeltest.Example("station-platform"))
	c := Of(b, p)
	var text strings.Builder
	require.NoError(t, c.WriteCSV(&text))
	rows, err := csv.NewReader(strings.NewReader(text.String())).ReadAll()
	require.NoError(t, err)
	assert.Equal(t, []string{"hand", "instant", "time", "code"}, rows[0])
	at := 1
	for _, h := range c.Hands {
		for s, code := range h.Codes {
			assert.Equal(t, []string{h.Name, strconv.Itoa(s), strconv.Itoa(code)}, []string{rows[at][0], rows[at][1], rows[at][3]})
			at++
		}
	}
	assert.Len(t, rows, at)
	assert.Equal(t, []string{"hours", "61", "1:01", "10"}, rows[62])
}

// One hand alone, or none of that name.
func TestOnly(t *testing.T) {
	b, p := planned(t, modeltest.Example("station-platform"))
	one, ok := Of(b, p).Only("minutes")
	require.True(t, ok)
	require.Len(t, one.Hands, 1)
	assert.Equal(t, "minutes", one.Hands[0].Name)
	_, ok = one.Only("hours")
	assert.False(t, ok)
}

// Whatever the hands show, once round takes less than 20 s to set. Common practice, no source.
func TestSettingIsQuick(t *testing.T) {
	for _, shows := range []string{"12 h", "24 h", "60 min", "60 s"} {
		b, p := planned(t, modeltest.With(t, modeltest.Example("reading-room"), "hand.hours.shows", shows))
		s := Of(b, p).Setting
		n := Of(b, p).Hands[0].Instants
		// Derived: 3 s at 4 a second, the rest fast.
		assert.InDelta(t, 3+max(0, float64(n-12)/float64(s.Fast)), s.Round, 1e-9, shows)
		assert.Less(t, s.Round, 20.0, shows)
	}
}

// What a needle is led through takes as long as its codes at the ramp's pace: by hand, at the
// wrap the whole scale, an hour a twelfth of it.
func TestMoves(t *testing.T) {
	b, p := planned(t, modeltest.Example("reading-room"))
	h := Of(b, p).Hands[0]
	of := map[string]Move{}
	for _, m := range h.Moves {
		if _, there := of[m.Event]; !there {
			of[m.Event] = m
		}
	}
	assert.Equal(t, 240, of["wrap"].From)
	assert.Equal(t, 0, of["wrap"].To)
	assert.InDelta(t, p.Hands[0].RampTime, of["wrap"].Seconds, 1e-9)
	assert.InDelta(t, p.Hands[0].RampTime/12, of["hour on"].Seconds, 1e-9)
	assert.Equal(t, 238, of["wake"].To, "11:55: 715/720 of 240 is 238.3")
}
