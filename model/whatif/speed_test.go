package whatif

import (
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/modeltest"
)

// What an answer costs, beside the keys.
func BenchmarkReach(b *testing.B) {
	for _, c := range [][4]string{
		{"reading-room", "hours.trimmer_travel", "50 %", "hand.hours.drive.fixed"},
		{"reading-room", "hours.ripple_needle", "3 ms", "hand.hours.drive.capacitor"},
		{"reading-room", "hours.code_error_max", "1 min", "hand.hours.drive.top"},
		{"reading-room", "battery.life_mixed", "120 d", "load.hours_on"},
		{"station-platform", "seconds.temperature_error", "1 s", "rail.voltage"},
		{"station-platform", "minutes.pwm_frequency", "1 kHz", "hand.minutes.drive.prescale"},
	} {
		d := model.Open(modeltest.Example(c[0]))
		q, err := Ask(d, c[1], c[2], c[3])
		require.NoError(b, err)
		b.Run(c[1]+" by "+c[3], func(b *testing.B) {
			for b.Loop() {
				Reach(q)
			}
		})
	}
}
