package bench

import (
	"fmt"
	"math"
	"os"
	"testing"
	"time"

	"example.com/needlewright/model"
)

func TestLook(t *testing.T) {
	for _, name := range []string{"reading-room", "station-platform", "harbour-office"} {
		text, _ := os.ReadFile("../../examples/" + name + ".toml")
		b, problems := model.Read(string(text))
		if len(problems) > 0 {
			t.Fatal(problems)
		}
		t0 := time.Now()
		x := New(b)
		ways := 0
		for _, a := range x.all {
			ways += len(a.ways)
		}
		fmt.Println(name, "prepared in", time.Since(t0), len(x.all), "candidates", ways, "ways", len(x.unknowns), "unknowns", len(x.spots))
		if name == "reading-room" {
			for j, s := range x.spots {
				v := 0.0
				for _, r := range x.sound.rows {
					v += r[j] * r[j]
				}
				fmt.Printf("%-28s %12.6g  ±%.3g noise %.3g %v\n", s.id, x.sound.mean[j], sqrt(v), x.noise(x.sound, j, nan), x.sound.chance[j])
			}
		}
	}
}

var nan = sqrt(-1)

func sqrt(x float64) float64 { return math.Sqrt(x) }
