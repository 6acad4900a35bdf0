package working

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"sort"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/modeltest"
	"example.com/needlewright/model/quantity"
)

func TestLook(t *testing.T) {
	b := modeltest.Sound(t, modeltest.Example("reading-room"))
	p := new(circuit.Plan)
	circuit.Evaluate(b, p)
	for _, o := range circuit.Outcomes(p) {
		w, err := Of(b, p, o)
		if err != nil {
			fmt.Println("ERR", o.ID, err)
			continue
		}
		fmt.Println(o.IDOf(b, o.Index), o.Value)
		for _, s := range w.Steps {
			fmt.Printf("   %-32s %s = %s\n", s.Words, s.Expression, s.Answer)
		}
	}
	_ = assert.True
	_ = require.True
}

// mild is an example of which some values are others of their kind.
func mild(random *rand.Rand) string {
	names := []string{"reading-room", "station-platform", "harbour-office", "school-store", "boathouse", "signal-cabin"}
	text := modeltest.Example(names[random.IntN(len(names))])
	b, _ := model.Read(text)
	for _, f := range model.Builds.Fields {
		for i := range f.Of(b) {
			if f.IsRow() || random.IntN(3) > 0 {
				continue
			}
			value := ""
			switch v := f.At(b, i).(type) {
			case *quantity.Value:
				if !v.Given() {
					continue
				}
				value = quantity.Format(quantity.Value{Number: round(v.Number*math.Pow(2, 2*random.Float64()-1), 3), Tolerance: v.Tolerance, Share: v.Share}, f.Unit)
			case *string:
				if f.Choices == nil || random.IntN(2) > 0 {
					continue
				}
				value = f.Choices[random.IntN(len(f.Choices))]
			default:
				continue
			}
			if next, problem := model.Set(text, f.PathOf(b, i), value); problem == nil {
				if _, problems := model.Read(next); len(problems) == 0 {
					text = next
				}
			}
		}
	}
	return text
}

func TestRandom(t *testing.T) {
	n, _ := strconv.Atoi(os.Getenv("NEEDLEWRIGHT_BUILDS"))
	n = max(n, 200)
	kinds, took := map[string]int{}, map[string]int64{}
	lines, failed := 0, 0
	last := map[string]int{}
	for seed := range n {
		random := rand.New(rand.NewPCG(7, uint64(seed)))
		text := ""
		if os.Getenv("MILD") != "" {
			text = mild(random)
		} else {
			text = modeltest.AnyBuild(random)
		}
		b, problems := model.Read(text)
		if len(problems) > 0 {
			continue
		}
		p := new(circuit.Plan)
		circuit.Evaluate(b, p)
		for _, o := range circuit.Outcomes(p) {
			begun := time.Now()
			w, err := Of(b, p, o)
			took[o.ID] += time.Since(begun).Microseconds()
			if err != nil {
				failed++
				kinds[o.ID]++
				if kinds[o.ID] <= 3 {
					fmt.Println("ERR", seed, err)
				}
				continue
			}
			if l := w.Steps[len(w.Steps)-1]; !l.Exact {
				last[o.ID+": "+strings.Split(l.Words, ", 0.")[0]]++
			}
			for _, s := range w.Steps {
				lines++
				x, err := Read(s.Expression)
				a, err2 := Read(s.Answer)
				tol := lastDigit(s.Answer) / 2 * (1 + 1e-9)
				if !s.Exact {
					tol = 0.02 * math.Abs(a)
				}
				if err != nil || err2 != nil || !(math.Abs(x-a) <= tol) {
					kinds["law "+o.ID]++
					if kinds["law "+o.ID] <= 3 {
						fmt.Println("LAW", seed, o.ID, s, x, a, err, err2)
					}
				}
			}
		}
	}
	fmt.Println(lines, failed, kinds)
	var names []string
	for k, n := range last {
		names = append(names, fmt.Sprintf("%5d %s", n, k))
	}
	sort.Strings(names)
	fmt.Println(strings.Join(names, "\n"))
	_ = took
}
