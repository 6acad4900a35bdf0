package bench

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"

	"example.com/needlewright/model"
	"example.com/needlewright/model/modeltest"
)

// A law: the sound clock alone has the points and verdicts of the whole bench, to the last
// bit.
func TestSoundIsTheSame(t *testing.T) {
	for _, name := range []string{"reading-room", "harbour-office", "boathouse", "school-store"} {
		b := modeltest.Sound(t, modeltest.Example(name))
		readings := append(slices.Clone(b.Readings), model.Reading{At: "hours.dummy_voltage_top", Value: "0.3 V"}, model.Reading{At: "rail.voltage_on", Value: "7 V"}, model.Reading{At: "no.such"})
		want, got := New(b).Verdicts(readings), Sound(b).Verdicts(readings)
		assert.Len(t, got.Points, len(want.Points), name)
		for i := range want.Points { // NaN is not NaN
			assert.Equal(t, fmt.Sprint(want.Points[i]), fmt.Sprint(got.Points[i]), name)
		}
		for i := range want.Readings {
			assert.Equal(t, want.Readings[i].Verdict, got.Readings[i].Verdict, name)
			assert.Equal(t, fmt.Sprint(want.Readings[i].Low, want.Readings[i].High), fmt.Sprint(got.Readings[i].Low, got.Readings[i].High), name)
		}
	}
}
