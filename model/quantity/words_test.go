package quantity

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestDuration(t *testing.T) {
	for _, c := range []struct { // derived: three digits; a year is 8766 h, a month a twelfth
		hours float64
		want  string
	}{
		{0, "0 h"}, {0.5, "0.50 h"}, {9.994, "9.99 h"}, {9.996, "10.0 h"}, {71.94, "71.9 h"}, {72, "3.00 days"}, {251.809, "10.5 days"},
		{239.99, "10.0 days"}, {2399, "100 days"}, {2397, "99.9 days"}, {2400, "3.29 months"}, {8766, "12.0 months"}, {17531, "24.0 months"}, {17532, "2.00 years"},
		{87660, "10.0 years"}, {876600, "100 years"}, {8766e4, "10000 years"}, {math.Inf(1), "–"}, {math.NaN(), "–"},
	} {
		assert.Equal(t, c.want, ShowDuration(c.hours), "%v h", c.hours)
	}
}

// A dial's time in seconds below a minute; one that is not known is no time. By hand.
func TestDialTime(t *testing.T) {
	for minutes, want := range map[float64]string{
		2.5: "2.50 min", -0.5: "-30.0 s", 0: "0 s", 1e-6: "under 1 ms", math.NaN(): "–", math.Inf(1): "–",
	} {
		assert.Equal(t, want, DialTimeIn(minutes, 3), "%v", minutes)
	}
}
