package quantity

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

var dialShows = []string{"12 h", "24 h", "60 min", "60 s"}

// Derived: minutes or seconds over those of the whole.
func TestParseDial(t *testing.T) {
	for _, c := range []struct {
		text, shows string
		want        float64
	}{
		{"0:00", "12 h", 0}, {"6:00", "12 h", 0.5}, {"5:53", "12 h", 353.0 / 720}, {"12:00", "12 h", 1}, {" 05:53 ", "12 h", 353.0 / 720},
		{"6:00", "24 h", 0.25}, {"24:00", "24 h", 1}, {"17:53", "24 h", 1073.0 / 1440},
		{"0:00", "60 min", 0}, {"29:30", "60 min", 1770.0 / 3600}, {"60:00", "60 min", 1}, {"5:07", "60 min", 307.0 / 3600},
		{"0", "60 s", 0}, {"30", "60 s", 0.5}, {"29.5 s", "60 s", 29.5 / 60}, {"29,5", "60 s", 29.5 / 60}, {"60", "60 s", 1},
	} {
		share, err := ParseDial(c.text, c.shows)
		require.NoError(t, err, "%q of %s", c.text, c.shows)
		assert.InDelta(t, c.want, share, 1e-15, "%q of %s", c.text, c.shows)
	}
}

// The messages are this package's own words.
func TestParseDialRefuses(t *testing.T) {
	for _, c := range []struct{ text, shows, want string }{
		{"", "12 h", `"" is not a time of a dial; write a time of this dial, for example 5:53`},
		{"half past five", "12 h", `"half past five" is not a time of a dial; write a time of this dial, for example 5:53`},
		{"5.53", "12 h", `"5.53" is not a time of a dial; write a time of this dial, for example 5:53`},
		{"5:5", "12 h", `"5:5" is not a time of a dial; write a time of this dial, for example 5:53`},
		{"-1:00", "24 h", `"-1:00" is not a time of a dial; write a time of this dial, for example 17:53`},
		{"5:53:20", "12 h", `"5:53:20" is not a time of a dial; write a time of this dial, for example 5:53`},
		{"5:60", "12 h", "there are 60 parts behind the colon, 00 to 59; write a time of this dial, for example 5:53"},
		{"12:01", "12 h", `"12:01" is not on this dial; write 0:00 to 12:00, or a share, for example 102 %`},
		{"60:01", "60 min", `"60:01" is not on this dial; write 0:00 to 60:00, or a share, for example 102 %`},
		{"61", "60 s", `"61" is not on this dial; write 0 to 60, or a share, for example 102 %`},
		{"-1", "60 s", `"-1" is not on this dial; write 0 to 60, or a share, for example 102 %`},
		{"0:30", "60 s", `"0:30" is not a time of a dial; write the seconds, for example 29.5`},
		{"", "60 s", "nothing is written here; write the seconds, for example 29.5"},
	} {
		_, err := ParseDial(c.text, c.shows)
		require.Error(t, err, "%q of %s", c.text, c.shows)
		assert.Equal(t, c.want, err.Error(), "%q of %s", c.text, c.shows)
		assert.Equal(t, c.text, err.(*Error).Given)
	}
}

// Derived; half of the last digit is half a percent, half a minute of 720, half a tenth of a second of 60.
func TestParsePlace(t *testing.T) {
	for _, c := range []struct {
		text, shows string
		want, half  float64
	}{
		{"49 %", "12 h", 0.49, 0.005}, {"49.3%", "12 h", 0.493, 0.0005}, {"-2 percent", "12 h", -0.02, 0.005}, {"101,5 %", "60 s", 1.015, 0.0005},
		{"5:53", "12 h", 353.0 / 720, 0.5 / 720}, {"29:30", "60 min", 1770.0 / 3600, 0.5 / 3600}, {"30", "60 s", 0.5, 0.5 / 60}, {"29.5 s", "60 s", 29.5 / 60, 0.05 / 60},
	} {
		place, half, err := ParsePlace(c.text, c.shows)
		require.NoError(t, err, "%q of %s", c.text, c.shows)
		assert.InDelta(t, c.want, place, 1e-15, "%q of %s", c.text, c.shows)
		assert.InDelta(t, c.half, half, 1e-15, "%q of %s", c.text, c.shows)
	}
	for _, c := range []struct{ text, shows, want string }{
		{"49", "12 h", `"49" may be a share or a time; write 49 %, or a time of this dial, for example 5:53`},
		{"", "12 h", "nothing is written here; write a share, for example 49 %, or a time of this dial, for example 5:53"},
		{"half", "60 min", `"half" is not a number; write a share, for example 49 %, or a time of this dial, for example 29:30`},
		{"3 V", "12 h", `"V" is a unit of voltage; this is in %; write a share, for example 49 %, or a time of this dial, for example 5:53`},
		{"49 % ±1 %", "12 h", "no tolerance can be given here; write a share, for example 49 %, or a time of this dial, for example 5:53"},
		{"130 %", "12 h", `"130 %" is far off the scale; write -25 % to 125 %`},
		{"13:00", "12 h", `"13:00" is not on this dial; write 0:00 to 12:00, or a share, for example 102 %`},
	} {
		_, _, err := ParsePlace(c.text, c.shows)
		require.Error(t, err, "%q of %s", c.text, c.shows)
		assert.Equal(t, c.want, err.Error(), "%q of %s", c.text, c.shows)
	}
}

// What is printed of a share reads back within half of the last digit, and prints the same again.
func TestFormatDialReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		shows := rapid.SampledFrom(dialShows).Draw(t, "shows")
		share := rapid.Float64Range(0, 1).Draw(t, "share")
		text := FormatDial(share, shows)
		again, err := ParseDial(text, shows)
		require.NoError(t, err, text)
		assert.LessOrEqual(t, math.Abs(again-share), 0.5/faces[shows].parts+1e-12, text)
		assert.Equal(t, text, FormatDial(again, shows))
		place, half, err := ParsePlace(text, shows)
		require.NoError(t, err, text)
		assert.Equal(t, again, place)
		assert.InDelta(t, 0.5/faces[shows].parts, half, 1e-15)
	})
	assert.Equal(t, "–", FormatDial(math.NaN(), "12 h"))
}

// What is refused is refused with a printable message; what is read is on the scale, or near it.
func FuzzParsePlace(f *testing.F) {
	for _, text := range []string{"49 %", "5:53", "29.5 s", "12:60", "-2 %", "13:00", "", ":", "1e9 %", "5:\x1b[0m", "49"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, shows := range dialShows {
			place, half, err := ParsePlace(text, shows)
			if err != nil {
				checkRefusal(t, err.(*Error), text)
			} else if !(-0.25 <= place && place <= 1.25 && half >= 0) {
				t.Fatalf("%q of %s gave %v, %v", text, shows, place, half)
			}
			if _, err = ParseDial(text, shows); err != nil {
				checkRefusal(t, err.(*Error), text)
			}
		}
	})
}
