package whatif

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/modeltest"
	"example.com/needlewright/model/quantity"
)

// A scan looks at values of an input one after the other, each through the text of the file:
// it shares with Reach only how a build is read and solved.
type scan struct {
	*Question
	plan circuit.Plan
}

// at is the result at a value, NaN where the build has a problem then. Only what the result
// needs is solved: some random builds have others that take a second.
func (s *scan) at(x float64) float64 {
	d := s.Doc.Set(s.Field, s.FieldIndex, s.text(x))
	if len(d.Problems) > 0 {
		return math.NaN()
	}
	circuit.Wire(d.Build, &s.plan.Circuit)
	s.plan.Solve(s.Result.Group.With())
	return circuit.Finite(*s.Result.At(&s.plan, s.ResultIndex))
}

// values are those that the scan looks at: half of them evenly over the range, half evenly in
// the logarithm, of a count whole numbers.
func (s *scan) values(n int) []float64 {
	low, high := s.Field.Range()
	least := max(low, high*1e-12)
	var all []float64
	if s.isWhole() && high-low <= float64(n) {
		for x := low; x <= high; x++ {
			all = append(all, x)
		}
		return all
	}
	half := n / 2
	for k := range half {
		all = append(all, least*math.Pow(high/least, float64(k)/float64(half-1)))
	}
	for k := range half {
		all = append(all, low+(high-low)*float64(k)/float64(half-1))
	}
	for k := range all {
		all[k] = min(max(all[k], low), high)
		if s.isWhole() {
			all[k] = math.Round(all[k])
		}
	}
	return all
}

// A find is where the scan found the result to be what is wanted.
type find struct{ from, to float64 }

// finds are all of them: values at which it is just that, and pairs of neighbours between
// which it passes it without a jump.
func (s *scan) finds(n int) []find {
	var all []find
	half := s.values(n)
	was := place{math.NaN(), math.NaN()}
	for _, x := range half {
		now := place{x, s.at(x)}
		switch {
		case s.is(now.Result):
			all = append(all, find{x, x})
		case !s.isWhole() && was.Value < x && (was.Result-s.Want)*(now.Result-s.Want) < 0 && !s.is(was.Result) && s.passes(was, now):
			all = append(all, find{was.Value, x})
		}
		was = now
	}
	return all
}

// is says whether a result is what is wanted, but for rounding.
func (s *scan) is(y float64) bool { return math.Abs(y-s.Want) <= 1e-13*math.Abs(s.Want) }

// passes says whether the result goes from one side to the other without a jump, by halving.
func (s *scan) passes(a, b place) bool {
	apart := math.Abs(a.Result - b.Result)
	for range 200 {
		x := a.Value + (b.Value-a.Value)/2
		if x == a.Value || x == b.Value {
			break
		}
		m := place{x, s.at(x)}
		switch {
		case math.IsNaN(m.Result):
			return false
		case s.is(m.Result):
			return true
		case (m.Result > s.Want) == (a.Result > s.Want):
			a = m
		default:
			b = m
		}
	}
	return math.Abs(a.Result-b.Result) <= 1e-6*max(apart, math.Abs(s.Want))
}

// anyQuestion is a random question of a random build: what a result is at some value of an
// input that moves it.
func anyQuestion(random *rand.Rand) *Question {
	for {
		d := model.Open(modeltest.AnyBuild(random))
		if len(d.Problems) > 0 {
			continue
		}
		var p circuit.Plan
		circuit.Evaluate(d.Build, &p)
		outcomes := circuit.Outcomes(&p)
		for range 40 {
			o := outcomes[random.IntN(len(outcomes))]
			q := &Question{Doc: d, Result: o.Result, ResultIndex: o.Index}
			paths := Paths(q.Doc.Build)
			q.Field, q.FieldIndex, _ = d.Find(paths[random.IntN(len(paths))])
			s := &scan{Question: q}
			values := s.values(1000)
			x := values[random.IntN(len(values))]
			now, then := o.Value, s.at(x)
			if math.IsNaN(then) || math.Abs(then-now) <= o.Hair() {
				continue
			}
			q.Want = then
			return q
		}
	}
}

// Reach finds all that a scan finds, and what it finds is so. NEEDLEWRIGHT_QUESTIONS=200 asks
// so many, against scans of 10 000 values.
func TestReachFindsWhatAScanFinds(t *testing.T) {
	questions, scanned := 6, 400
	if n, err := strconv.Atoi(os.Getenv("NEEDLEWRIGHT_QUESTIONS")); err == nil {
		questions, scanned = n, 10_000
	}
	seed := uint64(1)
	if n, err := strconv.ParseUint(os.Getenv("NEEDLEWRIGHT_SEED"), 10, 64); err == nil {
		seed = n
	}
	random := rand.New(rand.NewPCG(seed, 15))
	found, solutions := 0, 0
	var slowest, all time.Duration
	for n := range questions {
		q := anyQuestion(random)
		begun := time.Now()
		a := Reach(q)
		took := time.Since(begun)
		all, slowest = all+took, max(slowest, took)
		what := fmt.Sprintf("question %d: which %s gives %s = %v", n, q.Path(), q.ResultID(), q.Want)
		if took > 300*time.Millisecond {
			t.Log(what, took)
		}
		if n%20 == 19 {
			t.Log(n+1, "asked")
		}
		s := &scan{Question: q}
		for _, x := range a.Solutions {
			solutions++
			holds(t, s, x, what)
		}
		finds := s.finds(scanned)
		found += len(finds)
		for _, f := range finds {
			if !a.has(f) {
				t.Errorf("%s: a scan finds it from %v to %v; Reach has %d others\n%s", what, f.from, f.to, len(a.Solutions), q.Doc.Text)
				break
			}
		}
	}
	require.NotZero(t, found)
	t.Logf("%d questions: %d finds of scans of %d values, all in %d solutions; %v each, %v at most", questions, found, scanned, solutions, all/time.Duration(questions), slowest)
}

// has says whether a find touches a solution.
func (a *Answer) has(f find) bool {
	for _, x := range a.Solutions {
		hair := 1e-8 * max(math.Abs(x.From), math.Abs(x.To))
		if x.From-hair <= f.to && f.from <= x.To+hair {
			return true
		}
	}
	return false
}

// holds holds a solution to what it says, at its ends and amid them.
func holds(t *testing.T, s *scan, x Solution, what string) {
	t.Helper()
	for _, v := range []float64{x.From, x.To, (x.From + x.To) / 2} {
		if s.isWhole() {
			v = math.Floor(v)
		}
		if y := s.at(v); !modeltest.Near(y, s.Want, 1e-6) && !(math.Abs(y-s.Want) <= (circuit.Outcome{Result: s.Result}).Hair()) {
			t.Errorf("%s: %v gives %v\n%s", what, v, y, s.Doc.Text)
			return
		}
	}
	for _, c := range x.Choices {
		if y := s.at(c.Value); !modeltest.Near(y, c.Result, 1e-12) {
			t.Errorf("%s: the choice %s gives %v, not %v", what, quantity.Format(quantity.Value{Number: c.Value}, s.Field.Unit), y, c.Result)
		}
	}
}
