package bench

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"example.com/needlewright/model"
	"example.com/needlewright/model/bench/faulty"
)

func TestCal(t *testing.T) {
	for _, name := range []string{"station-platform", "reading-room"} {
		text, _ := os.ReadFile("../../examples/" + name + ".toml")
		b, _ := model.Read(string(text))
		x := New(b)
		random := rand.New(rand.NewPCG(5, 2))
		n := 400
		sum := make([]float64, len(x.spots))
		sq := make([]float64, len(x.spots))
		cnt := make([]float64, len(x.spots))
		sound := 0
		said := map[string]int{}
		for range n {
			c := faulty.Make(b, random)
			var readings []model.Reading
			for _, id := range c.Points() {
				readings = append(readings, model.Reading{At: id, Value: c.Read(id)})
			}
			for _, tk := range x.take(readings) {
				if tk.kind == number && tk.spot >= 0 {
					j := tk.spot
					z := (tk.Value - x.sound.mean[j]) / math.Hypot(x.sound.spread[j], x.noise(x.sound, j, tk.digit))
					sum[j] += z
					sq[j] += z * z
					cnt[j]++
				}
			}
			r := x.Judge(readings)
			if r.Causes[0].ID == Nothing {
				sound++
			} else {
				said[r.Causes[0].ID]++
			}
		}
		fmt.Println(name, "sound", sound, "of", n, said)
		for j, s := range x.spots {
			if cnt[j] > 0 {
				m := sum[j] / cnt[j]
				sd := math.Sqrt(sq[j]/cnt[j] - m*m)
				if math.Abs(m) > 0.25 || sd > 1.15 || sd < 0.8 {
					fmt.Printf("  %-28s z mean %.2f sd %.2f n %v (spread %.3g noise %.3g)\n", s.id, m, sd, cnt[j], x.sound.spread[j], x.sound.noise[j])
				}
			}
		}
	}
}
