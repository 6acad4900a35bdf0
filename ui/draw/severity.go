package draw

import (
	"example.com/needlewright/model/judge"
	"example.com/needlewright/ui/cells"
)

// CautionSign stands before what can be hurt, and says so without a colour.
func CautionSign(ascii bool) string {
	if ascii {
		return "!! "
	}
	return "⚠ "
}

// FaultSign stands before what ends the work.
var FaultSign = Signs[judge.Fault] + " "

// signs mark a finding's severity without colour.
var (
	Signs          = map[judge.Severity]string{judge.Note: "·", judge.Warning: "!", judge.Fault: "✗"}
	SeverityStyles = map[judge.Severity]cells.Style{judge.Note: Note, judge.Warning: Caution, judge.Fault: Fault}
)
