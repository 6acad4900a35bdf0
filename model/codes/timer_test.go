package codes

import (
	"math"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/modeltest"
)

// clocked is a build whose crystal was measured, with a counter of so many bits.
func clocked(t *testing.T, measured string, pathsAndValues ...string) string {
	t.Helper()
	text := modeltest.With(t, modeltest.Example("reading-room"), "crystal.measured", measured, "crystal.measured_at", "25 °C", "crystal.turnover", "25 °C")
	return modeltest.With(t, text, pathsAndValues...)
}

// run is the rate, s/day, of a clock that does what a trim says, over ten rounds of it: each
// tick as long as its counts take at a frequency, the ticks added up as the firmware does.
// Independent of the formulas: whole ticks, one after the other.
func run(x *model.Crystal, trim Trim, counted, frequency float64) float64 {
	went, shown := 0.0, 0.0
	for tick := int64(1); tick <= 10*trim.Every; tick++ {
		load, ticks := int64(x.Reload), int64(1)
		if tick%trim.Every == 0 {
			if trim.Unit == "counts" {
				load += trim.Add
			} else {
				ticks += trim.Add
			}
		}
		went += float64(x.Prescale) * float64(int64(1)<<x.CounterBits-load+int64(x.LostCounts)) / frequency
		shown += float64(ticks) * counted
	}
	return (shown/went - 1) * 86400
}

// A trimmed clock goes as its trim says: fast and slow crystals, counts that are lost,
// counters that are loaded and that run free, ticks that are counted wrong.
func TestTrimByRunningIt(t *testing.T) {
	for _, c := range []struct {
		measured string
		unit     string
		with     []string
	}{
		{"32768.5 Hz", "counts", nil},
		{"32767.3 Hz", "counts", nil},
		{"32768 Hz", "counts", []string{"crystal.lost_counts", "1"}},
		{"32768.2 Hz", "counts", []string{"crystal.lost_counts", "3"}},
		{"32768.5 Hz", "ticks", []string{"crystal.reload", "0"}},
		{"32767.4 Hz", "ticks", []string{"crystal.reload", "0", "crystal.counter_bits", "8", "crystal.prescale", "128"}},
		{"32768 Hz", "counts", []string{"crystal.tick_counted", "1.0001 s"}},
		{"32768 Hz", "counts", []string{"crystal.tick_counted", "2 s"}},
		{"32768 Hz", "ticks", []string{"crystal.tick_counted", "3 s"}},
		{"32768 Hz", "ticks", []string{"crystal.tick_counted", "0.4 s"}},
	} {
		b, p := planned(t, clocked(t, c.measured, c.with...))
		timer := Of(b, p).Timer
		require.Equal(t, c.unit, timer.Trim.Unit, "%v", c)
		assert.NotZero(t, timer.Trim.Add, "%v", c)
		assert.LessOrEqual(t, math.Abs(timer.Trim.Left), closeEnough*1.000001, "%v", c)
		none := run(&b.Crystal, Trim{0, "ticks", 1, 0}, timer.TickCounted, b.Crystal.Measured.Number)
		left := run(&b.Crystal, timer.Trim, timer.TickCounted, b.Crystal.Measured.Number)
		assert.InDelta(t, timer.Rate, none, math.Abs(none)*1e-4+1e-4, "%v: untrimmed", c) // the catalogue adds what this multiplies
		assert.InDelta(t, timer.Trim.Left, left, math.Abs(none)*1e-4+1e-3, "%v: %+v", c, timer.Trim)
	}
}

// No trim with less every comes as near: all of them are tried, with the add next to what is
// wanted. By the catalogue's words, "codes": the rate with the mean tick.
func TestNoSmallerTrim(t *testing.T) {
	for _, measured := range []string{"32768.5 Hz", "32767.3 Hz", "32768.03 Hz", "32769.7 Hz"} {
		for _, reload := range []string{"32768", "0"} {
			b, p := planned(t, clocked(t, measured, "crystal.reload", reload))
			timer := Of(b, p).Timer
			each := 86400 * timer.TickCounted / timer.Tick // of a tick more a tick
			if timer.Trim.Unit == "counts" {
				each /= float64(timer.counts())
			}
			for every := int64(1); every < timer.Trim.Every; every++ {
				add := math.Round(-timer.Rate / each * float64(every))
				left := timer.Rate + each*add/float64(every)
				if !(math.Abs(left) > closeEnough*0.999) { // asked very often: testify takes its time
					require.Fail(t, "a smaller trim does", "%s %s: %v of %d instead of %+v", measured, reload, add, every, timer.Trim)
				}
			}
		}
	}
}

// By hand: 20 ppm fast are 1.728 s/day, 0.655 of a count in each of 32 768: two in three
// leave 1.728 − 2.637·2/3 = −0.030, too much; 19 of 29 leave 1.728 − 1.7275.
// A clock that is right is left alone.
func TestTrimByHand(t *testing.T) {
	b, p := planned(t, clocked(t, "32768.65536 Hz"))
	trim := Of(b, p).Timer.Trim
	assert.Equal(t, "counts", trim.Unit)
	assert.InDelta(t, -0.65536, float64(trim.Add)/float64(trim.Every), 0.0038, "0.01 s/day is 0.0038 of a count")
	assert.Negative(t, trim.Add, "a fast clock counts more before its tick")
	b, p = planned(t, clocked(t, "32768 Hz"))
	assert.Equal(t, Trim{0, "ticks", 1, 0}, Of(b, p).Timer.Trim)
}

// With each way of loading without a loss, made in the text, the clock goes as if none were
// lost.
func TestLoadsLoseNothing(t *testing.T) {
	for _, counted := range []string{"", "1.00002 s"} {
		for _, lost := range []int{1, 2, 7} {
			text := clocked(t, "32768.4 Hz", "crystal.lost_counts", strconv.Itoa(lost), "crystal.tick_counted", counted)
			_, sound := planned(t, modeltest.With(t, text, "crystal.lost_counts", "0"))
			b, p := planned(t, text)
			require.NotEqual(t, sound.Crystal.Rate, p.Crystal.Rate)
			loads := Of(b, p).Timer.Loads
			require.Len(t, loads, 3)
			for _, l := range loads {
				changed := text
				for _, c := range l.Changes {
					changed = modeltest.With(t, changed, c[0], c[1])
				}
				_, now := planned(t, changed)
				assert.InDelta(t, sound.Crystal.Rate, now.Crystal.Rate, 1e-9, l.How)
			}
		}
	}
	b, p := planned(t, clocked(t, "32768.4 Hz"))
	assert.Empty(t, Of(b, p).Timer.Loads, "nothing is lost")
}
