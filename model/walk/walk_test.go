package walk

import (
	"fmt"
	"testing"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/modeltest"
)

// walkOf is the walk of a document.
func walkOf(t testing.TB, d *model.Document) *Walk {
	t.Helper()
	if len(d.Problems) > 0 {
		t.Fatal(modeltest.Messages(d.Problems), d.Text)
	}
	var p circuit.Plan
	circuit.Evaluate(d.Build, &p)
	return Of(d, judge.Findings(d.Build, &p))
}

func TestLook(t *testing.T) {
	for _, e := range []string{"reading-room", "harbour-office", "station-platform", "school-store", "boathouse", "signal-cabin"} {
		w := walkOf(t, model.Open(modeltest.Example(e)))
		fmt.Println(e, w.Text())
		for _, s := range w.States {
			fmt.Println("  ", s.Name(), s.State, s.Needs(), s.Met(), s.site.text(s.rests))
		}
	}
	text, problems := judge.NewBuild(judge.Meter{FullScale: "?", Coil: "?"}, judge.Supply{Rail: "5 V"})
	fmt.Println(problems, text)
	w := walkOf(t, model.Open(text))
	for _, s := range w.States {
		fmt.Println("  ", s.Name(), s.State, s.Needs(), s.Met(), s.site.text(s.rests))
	}
}
