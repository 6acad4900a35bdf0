package walk

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"example.com/needlewright/model"
)

// Ticks say which of the connections are made and measured, in their order.
type Ticks []bool

// partly is how ticks stand in the file until all are there: "12 of 25: 1-11, 13".
var partly = regexp.MustCompile(`^\d+ of \d+(: [\d, -]+)?$`)

// ticksOf reads what was said of so many connections: a yes is all of them.
func ticksOf(value string, n int) Ticks {
	t := make(Ticks, n)
	if saysYes(value) {
		for k := range t {
			t[k] = true
		}
		return t
	}
	_, list, _ := strings.Cut(value, ": ")
	for _, run := range strings.Split(list, ", ") {
		first, last, isRun := strings.Cut(run, "-")
		from, err := strconv.Atoi(first)
		if err != nil {
			continue
		}
		to := from
		if isRun {
			if to, err = strconv.Atoi(last); err != nil {
				continue
			}
		}
		for k := max(from, 1); k <= min(to, n); k++ {
			t[k-1] = true
		}
	}
	return t
}

// Count is how many are ticked.
func (t Ticks) Count() (n int) {
	for _, is := range t {
		if is {
			n++
		}
	}
	return n
}

// Next is the first from a place on, and then from the beginning, that is not ticked; -1 where
// all are.
func (t Ticks) Next(from int) int {
	for k := range t {
		if at := (from + k) % len(t); !t[at] {
			return at
		}
	}
	return -1
}

// text is what the file says of them: "yes" of all, "" of none.
func (t Ticks) text() string {
	switch t.Count() {
	case 0:
		return ""
	case len(t):
		return "yes"
	}
	most := model.Builds.Field("walk.met.value").Longest()
	text, runs, count := "", "", 0
	for k := 0; k < len(t); k++ {
		if !t[k] {
			continue
		}
		end := t.runEnd(k)
		count += end - k
		runs += run(k, end)
		longer := fmt.Sprintf("%d of %d: %s", count, len(t), runs)
		if len(longer) > most { // the first runs are kept, as many as the file has room for
			break
		}
		text, runs, k = longer, runs+", ", end
	}
	return text
}

// runEnd is the first place behind one that is ticked at which nothing is.
func (t Ticks) runEnd(k int) int {
	for k < len(t) && t[k] {
		k++
	}
	return k
}

// run is how the file has the ticks from one place up to another, which are counted from 1
// there: "13", "1-11".
func run(from, end int) string {
	if end == from+1 {
		return strconv.Itoa(end)
	}
	return fmt.Sprintf("%d-%d", from+1, end)
}

// IsTicked says whether a question asks for connections to be ticked, one after another.
func (q *Question) IsTicked() bool { return q.Sign == soldering }

// Ticks returns what is ticked of so many connections. Ticks count no more once a part has
// changed that they rest on, or the connections are more or fewer; then void is true.
func (s *State) Ticks(n int) (t Ticks, void bool) {
	row, at := s.site.signed(soldering)
	if row < 0 {
		return make(Ticks, n), false
	}
	m := &s.site.b.Walk[row].Met[at]
	var ticked, of int
	_, err := fmt.Sscanf(m.Value, "%d of %d", &ticked, &of)
	if s.movedOn(m) || err == nil && of != n {
		return make(Ticks, n), m.Value != ""
	}
	return ticksOf(m.Value, n), false
}

// movedOn says whether a part has changed that ticks rest on.
func (s *State) movedOn(m *model.MetRow) bool {
	return m.RestedOn != s.site.text(signs[soldering].ground)
}

// Tick returns the document with what is ticked.
func (s *State) Tick(t Ticks, by string) *model.Document { return s.Sign(soldering, t.text(), by) }
