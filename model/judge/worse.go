package judge

import (
	"math"
	"strings"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/quantity"
)

// A standing is what a change may make worse, whatever it mends: minutes of a hand, its
// worst overload, the life of the cells.
type standing struct {
	name  string
	unit  quantity.Unit
	x     float64
	least float64 // less than this of it does not matter
	life  bool    // the more, the better
	none  bool    // there are no cells
}

// standings are those of a solved build.
func standings(b *model.Build, p *circuit.Plan) []standing {
	var all []standing
	for i := range b.Hands {
		h, s := &p.Hands[i], sinceSet{subject{b, p, i}, AfterMonth}
		name := ""
		if len(b.Hands) > 1 {
			name = b.NameOf("hand", i) + " "
		}
		little := s.minutes() / 5000 // no eye sees it
		all = append(all,
			standing{name + "likely error", quantity.Minutes, s.rss(), little, false, false},
			standing{name + "coding error", quantity.Minutes, h.CodeErrorMax, little, false, false},
			standing{name + "worst overload", quantity.Times, h.OverloadWorst, 1, false, false})
	}
	const hour = 1
	return append(all,
		standing{"awake", quantity.Hours, p.Battery.LifeOn, hour, true, b.Battery.Cells == 0},
		standing{"as used", quantity.Hours, p.Battery.LifeMixed, hour, true, b.Battery.Cells == 0})
}

// A worsening is what is worse after a change than before.
type worsening struct {
	texts  []string
	factor float64 // by how much, of what is worst
}

// String names what is worse: " Worse: as used 14.6 months → 7.67 months."; "" where
// nothing is.
func (w worsening) String() string {
	if w.texts == nil {
		return ""
	}
	return " Worse: " + strings.Join(w.texts, ", ") + "."
}

// beside is the same at the end of a list: "; worse: as used 14.6 months → 7.67 months".
func (w worsening) beside() string {
	if w.texts == nil {
		return ""
	}
	return "; worse: " + strings.Join(w.texts, ", ")
}

// worseThan is what is worse in other standings of the same build.
func worseThan(before, after []standing) worsening {
	w := worsening{factor: 1}
	for k := range before {
		a, b := &before[k], &after[k]
		if a.none || b.none {
			continue
		}
		less, more := a.x, b.x
		if a.life {
			less, more = b.x, a.x
		}
		if !(more > less*1.001+leastError) && !(math.IsNaN(b.x) && !math.IsNaN(a.x)) {
			continue
		}
		w.texts = append(w.texts, a.name+" "+figureText(a.x, a.unit)+" → "+figureText(b.x, a.unit))
		if matters := max(more, a.least) / max(less, a.least); !(matters <= w.factor) { // Inf over Inf neither
			w.factor = matters
		}
	}
	return w
}

// bears says whether what changes mend is worth what they make worse: a fault is worth
// all, a caution a factor of two, a note a tenth. Common practice, no source.
func (w worsening) bears(before, after score) bool {
	switch {
	case after[0] < before[0]:
		return true
	case after[1] < before[1]:
		return w.factor <= 2
	}
	return w.factor <= 1.1
}
