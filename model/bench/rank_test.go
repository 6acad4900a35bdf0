package bench

import (
	"fmt"
	"math/rand/v2"
	"os"
	"strconv"
	"strings"
	"testing"

	"example.com/needlewright/model"
	"example.com/needlewright/model/bench/faulty"
)

func rankOf(r *Report, f faulty.Fault) int {
	for n, c := range r.Causes {
		ids, abouts := strings.Split(c.ID, " / "), strings.Split(c.About, " / ")
		for m := range ids {
			if ids[m] == f.ID && (abouts[m] == f.About || f.ID == "pins_swapped") {
				return n + 1
			}
		}
		if f.ID == "leak_asleep" && c.ID == "programmer_attached" || f.ID == "programmer_attached" && c.ID == "leak_asleep" {
			return n + 1
		}
	}
	return 99
}

func TestSingles(t *testing.T) {
	names := strings.Fields(os.Getenv("BUILDS"))
	if len(names) == 0 {
		names = []string{"reading-room"}
	}
	each, _ := strconv.Atoi(os.Getenv("EACH"))
	each = max(each, 3)
	for _, name := range names {
		text, err := os.ReadFile("../../examples/" + name + ".toml")
		if err != nil {
			t.Fatal(err)
		}
		b, problems := model.Read(string(text))
		if len(problems) > 0 {
			t.Fatal(problems)
		}
		x := New(b)
		random := rand.New(rand.NewPCG(1, 2))
		total, first, three := 0, 0, 0
		for _, f := range faulty.Faults(b) {
			for range each {
				c := faulty.Make(b, random, f)
				var readings []model.Reading
				for _, id := range c.Points() {
					readings = append(readings, model.Reading{At: id, Value: c.Read(id)})
				}
				r := x.Judge(readings)
				rank := rankOf(r, f)
				total++
				if rank == 1 {
					first++
				}
				if rank <= 3 {
					three++
				}
				if rank > 1 {
					fmt.Printf("%s %s: rank %d; made %+v; said", name, f.ID, rank, c.Faults())
					for n, k := range r.Causes {
						if n < 3 {
							fmt.Printf(" | %s %s %.3g %.3g", k.ID, k.About, k.Probability, k.Amount)
						}
					}
					fmt.Println()
					if os.Getenv("LOOK") != "" {
						k, entries := x.weigh(x.take(readings))
						for _, e := range entries {
							if e.a != nil && len(e.a.causes) == 1 && e.a.causes[0].id == f.ID {
								for n := range k.taken {
									tk := &k.taken[n]
									if o := k.off(e.best.w, tk); o > 2 {
										fmt.Printf("    %s %q off %.3g: mean %.5g\n", tk.At, tk.Given, o, e.best.w.mean[tk.spot])
									}
								}
							}
						}
					}
				}
			}
		}
		sound := 0
		const sounds = 40
		for range sounds {
			c := faulty.Make(b, random)
			var readings []model.Reading
			for _, id := range c.Points() {
				readings = append(readings, model.Reading{At: id, Value: c.Read(id)})
			}
			r := x.Judge(readings)
			if r.Causes[0].ID == Nothing {
				sound++
			} else {
				fmt.Printf("%s sound: said %s %s %.3g\n", name, r.Causes[0].ID, r.Causes[0].About, r.Causes[0].Probability)
			}
			for _, p := range r.Readings {
				if p.Verdict == Foreign || p.Verdict == Unread {
					fmt.Println("     ", p.At, p.Given, p.Verdict, p.Problem)
				}
			}
		}
		fmt.Printf("== %s: %d: first %.3f three %.3f; sound %d of %d\n", name, total, float64(first)/float64(total), float64(three)/float64(total), sound, sounds)
	}
}
