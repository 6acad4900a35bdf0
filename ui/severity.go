package ui

import (
	"example.com/needlewright/model/judge"
	"example.com/needlewright/ui/cells"
)

// signs mark a finding's severity without colour.
var (
	signs          = map[judge.Severity]string{judge.Note: "·", judge.Caution: "!", judge.Fault: "✗"}
	severityStyles = map[judge.Severity]cells.Style{judge.Note: note, judge.Caution: caution, judge.Fault: fault}
)
