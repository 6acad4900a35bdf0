package working

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/modeltest"
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

func TestRandom(t *testing.T) {
	n, _ := strconv.Atoi(os.Getenv("NEEDLEWRIGHT_BUILDS"))
	n = max(n, 200)
	kinds, took := map[string]int{}, map[string]int64{}
	lines, failed := 0, 0
	for seed := range n {
		text := modeltest.AnyBuild(rand.New(rand.NewPCG(7, uint64(seed))))
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
			for _, s := range w.Steps {
				lines++
				x, err := Read(s.Expression)
				a, err2 := Read(s.Answer)
				tol := lastDigit(s.Answer) / 2 * (1 + 1e-9)
				if !s.Exact {
					tol = 0.02 * math.Abs(a)
				}
				if err != nil || err2 != nil || math.Abs(x-a) > tol {
					kinds["law "+o.ID]++
					if kinds["law "+o.ID] <= 3 {
						fmt.Println("LAW", seed, o.ID, s, x, a, err, err2)
					}
				}
			}
		}
	}
	fmt.Println(lines, failed, kinds)
	fmt.Println(took)
}
