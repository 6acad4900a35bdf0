package ui

import (
	"testing"
	"time"

	"example.com/needlewright/model/circuit"
	"example.com/needlewright/ui/uitest"
)

// From a key to the frame. The floor: evaluating the build once, and making the
// bytes of as many cells.
func BenchmarkKeystrokeToFloor(b *testing.B) {
	a := open(exampleText(b, "reading-room"), 120, 40)
	focusOn(b, a, "hand.hours.meter.coil")
	press(a, "ctrl+u")
	press(a, "5")
	_ = a.View()
	var plan circuit.Plan
	build := *a.session.Report.Build
	circuit.Evaluate(&build, &plan)
	timeOf := func(do func()) time.Duration {
		begun := time.Now()
		do()
		return time.Since(begun)
	}
	keys := [...]string{"5", "backspace"}
	var took, least time.Duration
	for i := 0; b.Loop(); i++ {
		msg := uitest.Key(keys[i%2])
		took += timeOf(func() {
			a.Update(msg)
			_ = a.View()
		})
		least += timeOf(func() {
			circuit.Evaluate(&build, &plan)
			_ = a.screen.canvas.String(a.screen.palette)
		})
	}
	b.ReportMetric(float64(took.Nanoseconds())/float64(b.N), "ns/op")
	b.ReportMetric(float64(least.Nanoseconds())/float64(b.N), "floor-ns/op")
	b.ReportMetric(float64(took)/float64(least), "x-floor")
}
