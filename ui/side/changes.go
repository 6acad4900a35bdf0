package side

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"example.com/needlewright/model"
	"example.com/needlewright/model/quantity"
)

// leastHeaded is the room for results from which what was changed has a heading, and
// largeRoom the one from which a third of it is kept for the others.
const leastHeaded, largeRoom = 3, 8

// changeLines lists the results that the last edit moved, as they were and as they are:
// those of the open form's questions first, and among them what changed most.
func (r *results) changeLines(shown []shownResult, pane model.Pane, room int) []resultLine {
	changed, likely := r.movedResults(shown, pane), r.likelyLines()
	if len(changed)+len(likely) == 0 {
		return nil
	}
	if room >= largeRoom {
		room = room*2/3 + len(likely) // which pushes none of them out
	}
	var lines []resultLine
	if room >= leastHeaded {
		lines = append(lines, resultLine{heading: "What changed"})
	}
	lines = append(lines, likely[:min(len(likely), max(1, room-len(lines)))]...)
	for _, s := range changed[:min(len(changed), max(1-len(likely), room-len(lines)))] {
		lines = append(lines, resultLine{label: s.alone(), value: s.wasAndIs(), short: s.Row.Text(), changed: s.direction()})
	}
	return lines
}

// likelyDigits are those in which it is told: what changes less does not stand first.
const likelyDigits = 3

// likelyLines is a line with how far the hand in view was and is likely to be off, a day after
// its clock was set, where the last edit moved that and the report has it by now.
func (r *results) likelyLines() []resultLine {
	now, base, hand := r.s.Report, r.s.Base, r.s.ReportHand()
	if hand < 0 || base == nil || base == now || now.Likely == nil || !base.Alike(now) {
		return nil
	}
	before := base.Likely
	if before == nil { // an edit went on before it was advised
		if r.before.of != base {
			r.before.of, r.before.likely = base, base.LikelyOff()
		}
		before = r.before.likely
	}
	was, is := quantity.DialTimeIn(before[hand], likelyDigits), quantity.DialTimeIn(now.Likely[hand], likelyDigits)
	if was == is {
		return nil
	}
	return []resultLine{{label: "Likely off", value: wasAndIs(was, is), short: is, changed: direction(before[hand], now.Likely[hand])}}
}

// movedResults are those that the last edit moved and that are not pinned, in that
// order.
func (r *results) movedResults(shown []shownResult, pane model.Pane) []*shownResult {
	var moved []*shownResult
	for i := range shown {
		if s := &shown[i]; s.changed && !r.Pinned(s.Row) {
			moved = append(moved, s)
		}
	}
	later := func(s *shownResult) int {
		if slices.Contains(firstQuestions[pane], s.Row.Question) {
			return 0
		}
		return 1
	}
	slices.SortStableFunc(moved, func(a, b *shownResult) int {
		return cmp.Or(cmp.Compare(later(a), later(b)), cmp.Compare(b.relative(), a.relative()))
	})
	return moved
}

// relative is how much a result has changed, as a share of the larger of its values.
func (s *shownResult) relative() float64 {
	return math.Abs(s.Row.Value-s.was) / max(math.Abs(s.was), math.Abs(s.Row.Value))
}

// wasAndIs is a result before and after the edit, with one unit where it is the same:
// "48.50 → 61.20 %".
func (s *shownResult) wasAndIs() string {
	old := s.Row
	old.Value = s.was
	return wasAndIs(old.Text(), s.Row.Text())
}

// wasAndIs are two texts of a value, with one unit where it is the same.
func wasAndIs(was, is string) string {
	if _, unit, ok := strings.Cut(is, " "); ok && !strings.HasPrefix(was, "under") {
		was = strings.TrimSuffix(was, " "+unit)
	}
	return was + " → " + is
}

// alone is the label of a result away from the one that it belongs to: "Trimmer at zero,
// times full scale".
func (s *shownResult) alone() string {
	if s.of == "" {
		return s.Label
	}
	return s.of + ", " + strings.TrimSpace(s.Label)
}

// pinLines are the results that a person pinned, in the order of pinning.
func (r *results) pinLines(shown []shownResult) []resultLine {
	var lines []resultLine
	for _, p := range r.pins {
		for i := range shown {
			s := &shown[i]
			if pinOf(s.Row) != p {
				continue
			}
			l := resultLine{label: s.alone(), pinned: true, shown: s, changed: s.direction()}
			if s.changed {
				l.value, l.short = s.wasAndIs(), s.Row.Text()
			}
			lines = append(lines, l)
		}
	}
	return lines
}
