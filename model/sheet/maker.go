package sheet

import (
	"example.com/needlewright/model"
	"example.com/needlewright/model/bench"
	"example.com/needlewright/model/network"
	"example.com/needlewright/model/report"
)

// A maker makes the sheet of a build.
type maker struct {
	d       *model.Document
	b       *model.Build
	r       *report.Report
	n       *network.Network
	x       *bench.Bench
	points  []bench.Point
	learner bool

	blanks int // so far
	given  map[string]bool
	found  map[string]bool
	key    []Section // what is blank, by the sections of the sheet
}
