package ui

import (
	"fmt"
	"strings"

	"example.com/needlewright/model/codes"
	"example.com/needlewright/model/network"
	"example.com/needlewright/model/parts"
	"example.com/needlewright/model/schematic"
	"example.com/needlewright/ui/draw"
	"example.com/needlewright/ui/front"
	"example.com/needlewright/ui/session"
)

// circuitPage is a page with the circuit at a time of day, s, the clock awake.
func circuitPage(s *session.Session, seconds int, plain bool) front.Page {
	b, plan := s.Report.Build, &s.Report.Plan
	n := network.Of(b, plan)
	shares := make([]float64, len(b.Hands))
	for i := range shares {
		shares[i] = plan.Needle(i, float64(seconds)).Share
	}
	lines := schematic.Draw(n, n.At(shares), schematic.All, plain).Lines()
	return drawnPage("The circuit, its hands at the time of the preview", lines)
}

// listPage is a page with the list of connections.
func listPage(s *session.Session, plain bool) front.Page {
	text := schematic.List(network.Of(s.Report.Build, &s.Report.Plan), "", plain)
	return drawnPage("Its connections, one after another", strings.Split(text, "\n"))
}

// partsPage is a page with the parts list.
func partsPage(s *session.Session) front.Page {
	list := parts.New(network.Of(s.Report.Build, &s.Report.Plan), 1, 0)
	return drawnPage("Its parts", strings.Split(list.Text(), "\n"))
}

// drawnPage is a page of lines as they are.
func drawnPage(title string, lines []string) front.Page {
	p := front.Page{Title: title}
	for _, line := range lines {
		p.AddDrawn(draw.Value, line)
	}
	return p
}

// codesPage is a page with the codes at the marks of each dial, the recipe, how the needle is
// led, and the timer.
func codesPage(s *session.Session) front.Page {
	c := codes.Of(s.Report.Build, &s.Report.Plan)
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
