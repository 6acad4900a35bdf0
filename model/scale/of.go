package scale

import (
	"slices"
	"sync"

	"example.com/needlewright/model"
)

// Of returns what the rows of a hand tell of its meter's scale, nil where none was read. What
// it works out for the same rows it remembers: a build is solved many times over.
func Of(h *model.Hand) *Fitted {
	if !slices.ContainsFunc(h.Scale, func(r model.ScaleRow) bool { return r.Stands != "" }) {
		return nil
	}
	hand := HandOf(h)
	remembered.Lock()
	defer remembered.Unlock()
	for k := range remembered.fits {
		if f := &remembered.fits[k]; f.hand == hand && slices.Equal(f.rows, h.Scale) {
			return f.fitted
		}
	}
	rows := make([]Row, len(h.Scale))
	for i, r := range h.Scale {
		rows[i] = Row{At: r.At, Stands: r.Stands, Going: r.Going, Code: r.Code, Of: r.Of}
	}
	made := remembering{hand, slices.Clone(h.Scale), Fit(rows, hand)}
	remembered.fits = append([]remembering{made}, remembered.fits...)
	remembered.fits = remembered.fits[:min(len(remembered.fits), mostRemembered)]
	return made.fitted
}

// HandOf returns what readings of a hand's scale are of.
func HandOf(h *model.Hand) Hand {
	hand := Hand{Shows: h.Shows, Top: h.Drive.Top, Offset: h.Drive.DutyOffset, Bridge: h.Drive.By == "bridge"}
	if h.Meter.ZeroAt == "centre" {
		hand.Rest = 0.5
	}
	return hand
}

// mostRemembered is how many are remembered: more than a build has hands.
const mostRemembered = 24

var remembered struct {
	sync.Mutex
	fits []remembering
}

type remembering struct {
	hand   Hand
	rows   []model.ScaleRow
	fitted *Fitted
}
