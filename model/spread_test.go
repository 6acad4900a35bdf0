package model

import (
	"encoding/json"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Birthplace: an independent computation, testdata/README.md.
func TestPublicBands(t *testing.T) {
	for _, name := range []string{"public-1", "public-2"} {
		bytes, err := os.ReadFile("testdata/" + name + ".bands.json")
		require.NoError(t, err)
		var want struct{ Bands map[string][2]float64 }
		require.NoError(t, json.Unmarshal(bytes, &want))
		r := banded(t, testdata(t, name+".toml"))
		for _, row := range r.Results {
			id := row.IDOf(r.Build, row.Index)
			w, there := want.Bands[id]
			if row.Band.Simulated {
				t.Log("simulated", id, row.Value, row.Band.Low, row.Band.High, w)
				continue
			}
			if !there {
				t.Log("more", id, row.Value, row.Band.Low, row.Band.High)
				continue
			}
			delta := 1e-3 * (w[1] - w[0])
			assert.InDelta(t, w[0], row.Band.Low, delta, id)
			assert.InDelta(t, w[1], row.Band.High, delta, id)
		}
	}
}

func banded(t testing.TB, text string) *Report {
	return check(soundBuild(t, text)).Banded()
}

func BenchmarkBanded(b *testing.B) {
	for _, name := range []string{"station-platform", "reading-room", "school-store"} {
		b.Run(name, func(b *testing.B) {
			r := check(soundBuild(b, fileText("../examples/"+name+".toml")))
			b.ReportAllocs()
			for b.Loop() {
				r.Banded()
			}
		})
	}
}
