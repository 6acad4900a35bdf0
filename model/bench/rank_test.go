package bench

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/bench/faulty"
	"example.com/needlewright/model/modeltest"
)

// A score is how often the ranking was right.
type score struct{ of, first, three int }

func (s score) String() string {
	if s.of == 0 {
		return "none"
	}
	return fmt.Sprintf("%d of %d first (%.1f %%), %d in three (%.1f %%)", s.first, s.of, 100*float64(s.first)/float64(s.of), s.three, 100*float64(s.three)/float64(s.of))
}

func (s *score) add(rank int) {
	s.of++
	if rank == 1 {
		s.first++
	}
	if rank <= 3 {
		s.three++
	}
}

// A trial is a build whose faulty clocks are diagnosed.
type trial struct {
	t      *testing.T
	name   string
	build  *model.Build
	x      *Bench
	random *rand.Rand
	bench  faulty.Bench
}

func newTrial(t *testing.T, name string) *trial {
	b := modeltest.Sound(t, textOf(t, name))
	return &trial{t: t, name: name, build: b, x: New(b), random: rand.New(rand.NewPCG(2026, 11)), bench: toolsOf(b)}
}

// toolsOf is what a build's file says of the multimeter, and of how the clock is read.
func toolsOf(b *model.Build) faulty.Bench {
	m := &b.Meter
	bench := faulty.UsualBench()
	bench.Multimeter = faulty.Multimeter{
		Volts: m.Volts.Number, Ohms: m.Ohms.Number, Amps: m.Amps.Number, Hertz: m.Hertz.Number, Digits: float64(m.Digits),
		Input: m.Input.Number, Microamps: m.BurdenSmall.Number, Milliamps: m.BurdenLarge.Number,
	}
	if b.Battery.Used.Given() {
		bench.Used = b.Battery.Used.Number
	}
	bench.ToGround, bench.Dummy = map[string]bool{}, map[string]float64{}
	for _, button := range b.Buttons {
		bench.ToGround[button.Name] = button.To == "ground"
	}
	for i := range b.Hands {
		if d := b.Hands[i].Drive.Dummy; d.Given() {
			bench.Dummy[b.Hands[i].Name] = d.Number
		}
	}
	return bench
}

func textOf(t *testing.T, name string) string {
	if text, err := os.ReadFile("../../examples/" + name + ".toml"); err == nil {
		return string(text)
	}
	return modeltest.Text(t, name+".toml")
}

// readings are all of a clock's, as written down.
func readingsOf(c *faulty.Clock) []model.Reading {
	var all []model.Reading
	for _, id := range c.Points() {
		all = append(all, model.Reading{At: id, Value: c.Read(id)})
	}
	return all
}

// rank is the place of the entry that has all of some faults; 99 where none has.
func rank(causes []Cause, faults ...faulty.Fault) int {
	for n, c := range causes {
		if c.has(faults) {
			return n + 1
		}
	}
	return 99
}

// has says whether an entry names faults: alone or among what no point splits from it, or
// all of two.
func (c *Cause) has(faults []faulty.Fault) bool {
	if len(faults) == 2 {
		ids, abouts := strings.Split(c.ID, " + "), strings.Split(c.About, " + ")
		return len(ids) == 2 && (named(ids[0], abouts[0], faults[0]) && named(ids[1], abouts[1], faults[1]) || named(ids[1], abouts[1], faults[0]) && named(ids[0], abouts[0], faults[1]))
	}
	ids, abouts := strings.Split(c.ID, " / "), strings.Split(c.About, " / ")
	return slices.ContainsFunc(seq(len(ids)), func(n int) bool { return named(ids[n], abouts[n], faults[0]) })
}

func seq(n int) []int {
	all := make([]int, n)
	for i := range all {
		all[i] = i
	}
	return all
}

// oneAnother are causes that count as one, by the contract.
var oneAnother = []string{"leak_asleep", "programmer_attached"}

func named(id, about string, f faulty.Fault) bool {
	first, _, _ := strings.Cut(f.About, " + ")
	alike := id == f.ID || slices.Contains(oneAnother, id) && slices.Contains(oneAnother, f.ID)
	return alike && about == first
}

// singles are clocks with one fault each, all readings taken; those that leave no trace
// apart.
func (r *trial) singles(each int) (s, slipped score) {
	for _, f := range faulty.Faults(r.build) {
		for range each {
			c := faulty.MakeAt(r.bench, r.build, r.random, f)
			if len(c.Traces()) == 0 {
				continue
			}
			all := readingsOf(c)
			causes := r.x.Judge(all).Causes
			got := rank(causes, c.Faults()...)
			s.add(got)
			if got > 1 {
				r.tell(c, causes)
			}
			n := r.random.IntN(len(all))
			if wrong := c.Slip(r.random, all[n].At, all[n].Value); wrong != all[n].Value {
				was := all[n].Value
				all[n].Value = wrong
				causes := r.x.Judge(all).Causes
				slipped.add(rank(causes, c.Faults()...))
				if rank(causes, c.Faults()...) > 1 && got == 1 {
					r.t.Logf("slip at %s: %s for %s", all[n].At, wrong, was)
					r.tell(c, causes)
				}
			}
		}
	}
	return s, slipped
}

// tell prints a confusion.
func (r *trial) tell(c *faulty.Clock, causes []Cause) {
	said := ""
	for _, k := range causes[:min(3, len(causes))] {
		said += fmt.Sprintf(" | %s %s %.2g", k.ID, k.About, k.Probability)
	}
	r.t.Logf("%s: %+v%s", r.name, c.Faults(), said)
}

// sounds are clocks without a fault.
func (r *trial) sounds(n int) (s score) {
	for range n {
		c := faulty.MakeAt(r.bench, r.build, r.random)
		causes := r.x.Judge(readingsOf(c)).Causes
		if causes[0].ID == Nothing {
			s.add(1)
		} else {
			s.add(99)
			r.tell(c, causes)
		}
	}
	return s
}

// pairs are clocks with two faults that both leave a trace.
func (r *trial) pairs(n int) (s score) {
	faults := faulty.Faults(r.build)
	for tries := 0; s.of < n && tries < 20*n; tries++ {
		a, b := faults[r.random.IntN(len(faults))], faults[r.random.IntN(len(faults))]
		if a.ID == b.ID && a.About == b.About {
			continue
		}
		c := faulty.MakeAt(r.bench, r.build, r.random, a, b)
		if len(c.Masked()) > 0 {
			continue
		}
		causes := r.x.Judge(readingsOf(c)).Causes
		got := rank(causes, c.Faults()...)
		s.add(got)
		if got > 3 {
			r.tell(c, causes)
		}
	}
	return s
}

// foreigns are clocks with a fault that the table does not know.
func (r *trial) foreigns(each int) (s score) {
	for _, f := range faulty.Foreign(r.build) {
		for range each {
			c := faulty.MakeAt(r.bench, r.build, r.random, f)
			if len(c.Traces()) == 0 {
				continue
			}
			causes := r.x.Judge(readingsOf(c)).Causes
			if causes[0].ID == Other {
				s.add(1)
			} else {
				s.add(99)
				r.tell(c, causes)
			}
		}
	}
	return s
}

// guided are clocks that are diagnosed by doing what is told to be measured next, from
// nothing: until something is as likely as 0.9, nothing is worth taking, or twelve were.
func (r *trial) guided(each int) (s score, taken []int) {
	for _, f := range faulty.Faults(r.build) {
		for range each {
			c := faulty.MakeAt(r.bench, r.build, r.random, f)
			if len(c.Traces()) == 0 {
				continue
			}
			causes, n := r.follow(c)
			got := rank(causes, c.Faults()...)
			s.add(got)
			taken = append(taken, n)
			if got > 1 {
				r.tell(c, causes)
			}
		}
	}
	slices.Sort(taken)
	return s, taken
}

func (r *trial) follow(c *faulty.Clock) (causes []Cause, n int) {
	var all []model.Reading
	readable := c.Points()
	for {
		report := r.x.Judge(all)
		causes = report.Causes
		if n == 12 || len(causes) > 0 && causes[0].Probability >= 0.9 {
			return causes, n
		}
		at := slices.IndexFunc(report.Next, func(s Step) bool { return slices.Contains(readable, s.At) })
		if at < 0 {
			return causes, n
		}
		id := report.Next[at].At
		all, n = append(all, model.Reading{At: id, Value: c.Read(id)}), n+1
	}
}

// TestRanking: clocks with faults, made up apart from the ranking, are diagnosed. What is
// asked of the ranking is asked of each run within the noise of as many clocks; the long run
// goes over all examples and test builds, and prints its figures:
//
//	CLOCKS=6 go test ./model/bench -run TestRanking -v -timeout 2h
func TestRanking(t *testing.T) {
	names, each := []string{"reading-room"}, 1
	if n, err := strconv.Atoi(os.Getenv("CLOCKS")); err == nil {
		names, each = strings.Fields(os.Getenv("BUILDS")), n
		if len(names) == 0 {
			names = strings.Fields("reading-room harbour-office station-platform boathouse signal-cabin school-store public-1 public-2 three-hands bare-cells whole effects-1 effects-2 effects-3 effects-4")
		}
	}
	var single, slipped, sound, two, foreign, guided score
	var taken []int
	for _, name := range names {
		r := newTrial(t, name)
		a, b := r.singles(each)
		c, d, e := r.sounds(20*each), r.pairs(20*each), r.foreigns(2*each)
		f, n := r.guided(each)
		t.Logf("%s\n single: %v\n one slip: %v\n sound: %v\n two: %v\n foreign: %v\n guided: %v, median %d readings", name, a, b, c, d, e, f, n[len(n)/2])
		for _, pair := range [][2]*score{{&single, &a}, {&slipped, &b}, {&sound, &c}, {&two, &d}, {&foreign, &e}, {&guided, &f}} {
			pair[0].of, pair[0].first, pair[0].three = pair[0].of+pair[1].of, pair[0].first+pair[1].first, pair[0].three+pair[1].three
		}
		taken = append(taken, n...)
	}
	slices.Sort(taken)
	t.Logf("all\n single: %v\n one slip: %v\n sound: %v\n two: %v\n foreign: %v\n guided: %v, median %d readings", single, slipped, sound, two, foreign, guided, taken[len(taken)/2])
	for _, c := range []struct {
		what      string
		of, right int
		asked     float64 // by the contract's issue
	}{
		{"one fault first", single.of, single.first, 0.97}, {"one fault in three", single.of, single.three, 0.995},
		{"a slip of the pen, still first", slipped.of, slipped.first, 0.95}, {"sound", sound.of, sound.first, 0.98},
		{"two faults in three", two.of, two.three, 0.85}, {"foreign", foreign.of, foreign.first, 0.8}, {"guided", guided.of, guided.first, 0.95},
	} {
		require.NotZero(t, c.of, c.what)
		noise := 2.5 * math.Sqrt(c.asked*(1-c.asked)/float64(c.of))
		assert.GreaterOrEqual(t, float64(c.right)/float64(c.of), c.asked-noise, c.what)
	}
	assert.LessOrEqual(t, taken[len(taken)/2], 4, "readings")
}
