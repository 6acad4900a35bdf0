package ui

import (
	"fmt"

	"example.com/needlewright/model/codes"
	"example.com/needlewright/ui/draw"
	"example.com/needlewright/ui/front"
	"example.com/needlewright/ui/notice"
	"example.com/needlewright/ui/session"
)

// openCodes opens the page of the codes that the firmware is given.
func openCodes(s *session.Session, front *front.Front, say *notice.Notice) {
	if s.Stale() || s.Report == nil {
		say.Say("There are no codes until every value can be read: " + s.ToMend() + ".")
		return
	}
	front.Open(codesPage(codes.Of(s.Report.Build, &s.Report.Plan)))
}

// codesPage is a page with the codes at the marks of each dial, the recipe, how the needle is
// led, and the timer.
func codesPage(c *codes.Codes) front.Page {
	p := front.Page{Title: "Codes for the firmware"}
	p.Add(draw.Dim, "needlewright codes FILE  writes all of them, for C, as CSV or JSON.")
	for i := range c.Hands {
		h := &c.Hands[i]
		p.Add(draw.Heading, "\n"+h.Name+": "+h.Summary())
		for _, line := range h.Lines() {
			p.Add(draw.Value, "  "+line)
		}
		p.Add(draw.Label, "    time instant   code    place")
		for _, m := range h.Marks {
			p.Add(draw.Value, fmt.Sprintf("%8s %7d %6d %8s", m.Time, m.Instant, m.Code, fmt.Sprintf("%.2f %%", 100*m.Place)))
		}
	}
	p.Add(draw.Heading, "\nTimer")
	for _, line := range c.Timer.Lines() {
		p.Add(draw.Value, "  "+line)
	}
	p.Add(draw.Heading, "\nSetting by two buttons")
	for _, line := range c.Setting.Lines() {
		p.Add(draw.Value, "  "+line)
	}
	return p
}
