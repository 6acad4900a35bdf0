package survey

import (
	"encoding/json"
	"math/rand/v2"
	"testing"
	"time"

	"example.com/needlewright/model/survey/unknown"
)

// BenchmarkAnswer is what a screen does after each answer: what is asked next, and what is
// known so far. It reports the longest as well.
func BenchmarkAnswer(b *testing.B) {
	random := rand.New(rand.NewPCG(3, 14))
	longest, answers := time.Duration(0), 0
	var all time.Duration
	for b.Loop() {
		bench, s := unknown.NewBench(unknown.Draw(random), random), &Survey{}
		for {
			ask, verdict := s.Next()
			if verdict != nil {
				break
			}
			var object map[string]any
			line, err := json.Marshal(ask)
			if err == nil {
				err = json.Unmarshal(line, &object)
			}
			if err != nil {
				b.Fatal(err)
			}
			answer, from := bench.Answer(object), time.Now()
			if err := s.Answer(answer); err != nil {
				b.Fatal(err)
			}
			s.Next()
			s.Summary()
			took := time.Since(from)
			longest, all, answers = max(longest, took), all+took, answers+1
		}
	}
	b.ReportMetric(float64(all.Microseconds())/1e3/float64(answers), "ms/answer")
	b.ReportMetric(float64(longest.Microseconds())/1e3, "ms/longest")
}
