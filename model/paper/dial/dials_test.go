package dial

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/modeltest"

	plate "example.com/needlewright/model/dial"
)

// example is the text of an example.
func example(t *testing.T, name string) string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("..", "..", "..", "examples", name+".toml"))
	require.NoError(t, err)
	return string(text)
}

// sheets are the dials of all hands of a text, with values set, on A4.
func sheets(t *testing.T, text string, pathsAndValues ...string) []*plate.Page {
	t.Helper()
	b := modeltest.Sound(t, modeltest.With(t, text, pathsAndValues...))
	p := new(circuit.Plan)
	circuit.Evaluate(b, p)
	var hands []int
	for i := range b.Hands {
		hands = append(hands, i)
	}
	pages, err := plate.Pages(b, p, hands, plate.Papers[0])
	require.NoError(t, err)
	return pages
}

// kinds are dials of all kinds: what an example is changed to.
var kinds = []struct {
	name, example string
	set           []string
}{
	{"linear", "reading-room", nil},
	{"square", "reading-room", []string{"hand.hours.meter.law", "square", "hand.hours.correct", "dial"}},
	{"measured", "net-loft", []string{"hand.hours.correct", "dial"}},
	{"linear, 240°", "reading-room", []string{"hand.hours.meter.sweep", "240°"}},
	{"square, 240°", "reading-room", []string{"hand.hours.meter.sweep", "240°", "hand.hours.meter.law", "square", "hand.hours.correct", "dial"}},
	{"measured, 240°", "net-loft", []string{"hand.hours.meter.sweep", "240°", "hand.hours.dial.height", "100 mm", "hand.hours.dial.pivot_y", "0 mm", "hand.hours.correct", "dial"}},
	{"from the right, mirror", "reading-room", []string{"hand.hours.meter.zero_at", "right", "hand.hours.dial.mirror", "yes", "hand.hours.dial.numerals", "all"}},
	{"from the middle", "reading-room", []string{"hand.hours.meter.zero_at", "centre"}},
	{"roman, second scale", "reading-room", []string{"hand.hours.dial.numeral_style", "roman", "hand.hours.dial.numerals_along", "arc", "hand.hours.dial.second_scale", "24 h", "hand.hours.dial.mirror", "yes"}},
	{"holes", "reading-room", []string{"hand.hours.dial.holes", `[["-45 mm", "0 mm", "3.2 mm"], ["45 mm", "0 mm", "3.2 mm"]]`, "hand.hours.dial.windows", `[["0 mm", "-15 mm", "5 mm"]]`}},
}
