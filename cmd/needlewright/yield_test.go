package main

import (
	"bytes"
	"encoding/json"
	"io"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// yieldJSON is the form of the catalogue: these keys and no others.
type yieldJSON struct {
	Title   *string
	Kits    int
	Seed    uint64
	Inputs  int
	TrimUp  int `json:"trim_up"`
	Hands   []handYield
	Results []histogram
}

type (
	other struct {
		Value *float64
		Kits  int
	}
	lack struct {
		Kits            int
		Trimmers, Fixed []other
	}
	gain struct {
		Kits    int
		TrimUp  *int     `json:"trim_up"`
		Error95 *float64 `json:"dial_error_95"`
	}
	handYield struct {
		Name    string
		TrimUp  int  `json:"trim_up"`
		More    lack `json:"need_more"`
		Less    lack `json:"need_less"`
		Before  gain
		Tighter []struct {
			Path, Value, Half string
			gain
		}
	}
	histogram struct {
		ID, Unit    string
		Least, Most float64
		Percentiles []struct{ Share, Value float64 }
		Bins        []struct {
			From, To float64
			Kits     int
		}
	}
)

// What is printed keeps to a hundred columns, of kits that trim up and of those that do not.
func TestYieldKeepsToItsColumns(t *testing.T) {
	for _, fixed := range []string{"8.2 kΩ ±1 %", "9.1 kΩ ±1 %", "7.5 kΩ ±1 %"} {
		var out bytes.Buffer
		require.Equal(t, fine, run([]string{"yield", "--kits", "2000", "--set", "hand.hours.drive.fixed=" + fixed, build(t)}, nil, &out, io.Discard))
		for line := range strings.Lines(out.String()) {
			assert.LessOrEqual(t, utf8.RuneCountInString(strings.TrimSuffix(line, "\n")), 100, line)
		}
	}
}

// TestYieldJSON reads what the command prints, strictly, and holds its numbers
// together: derived from what they mean.
func TestYieldJSON(t *testing.T) {
	for _, file := range []string{"reading-room", "station-platform", "harbour-office", "school-store"} {
		path := filepath.Join("..", "..", "examples", file+".toml")
		out, err := exec.Command(program, "yield", "--json", "--kits", "2000", "--seed", "7", path).Output()
		require.NoError(t, err)
		var y yieldJSON
		d := json.NewDecoder(bytes.NewReader(out))
		d.DisallowUnknownFields()
		require.NoError(t, d.Decode(&y))
		require.NotNil(t, y.Title)
		assert.Equal(t, 2000, y.Kits)
		assert.Equal(t, uint64(7), y.Seed)
		for _, h := range y.Hands {
			assert.Equal(t, y.Kits, h.TrimUp+h.More.Kits+h.Less.Kits, "each kit trims up, or needs more, or less")
			assert.LessOrEqual(t, y.TrimUp, h.TrimUp)
			assert.Equal(t, h.TrimUp, *h.Before.TrimUp)
			assert.NotEmpty(t, h.Tighter)
			for _, x := range h.Tighter {
				assert.NotNil(t, x.Error95)
				assert.NotEqual(t, x.Value, x.Half)
			}
		}
		require.NotEmpty(t, y.Results)
		for _, r := range y.Results {
			last, kits := r.Least, 0
			for _, p := range r.Percentiles {
				assert.GreaterOrEqual(t, p.Value, last, r.ID)
				last = p.Value
			}
			assert.GreaterOrEqual(t, r.Most, last, r.ID)
			for _, b := range r.Bins {
				kits += b.Kits
			}
			assert.Equal(t, y.Kits, kits, r.ID)
			assert.LessOrEqual(t, r.Bins[0].From, r.Least, r.ID)
			assert.GreaterOrEqual(t, r.Bins[len(r.Bins)-1].To, r.Most, r.ID)
		}
	}
}

// manyHands is a build whose million kits take some seconds.
func manyHands(t *testing.T) string {
	t.Helper()
	path := build(t)
	text := content(t, path)
	from, to := strings.Index(text, "[[hand]]"), strings.Index(text, "[crystal]")
	hands := ""
	for _, name := range strings.Fields("a b c d e f g h") {
		hands += strings.Replace(text[from:to], `"hours"`, `"`+name+`"`, 1)
	}
	return build(t, text[from:to], hands)
}
