package ui

import (
	"strings"

	"example.com/needlewright/model/spread"
	"example.com/needlewright/model/working"
	"example.com/needlewright/ui/draw"
	"example.com/needlewright/ui/front"
	"example.com/needlewright/ui/session"
)

// workingPage is a page with how a result comes about.
func workingPage(s *session.Session, row spread.Row) front.Page {
	w, err := working.OfRow(s.Report.Build, &s.Report.Plan, row)
	return pageOf(w, err)
}

// partPage is a page with how the choice of a part comes about.
func partPage(s *session.Session, id string) front.Page {
	w, err := working.Named(s.Report.Build, &s.Report.Plan, id, "")
	return pageOf(w, err)
}

// pageOf is a working as a page; where its lines do not come to the result it says so.
func pageOf(w *working.Working, err error) front.Page {
	if err != nil {
		p := front.Page{Title: "Its working"}
		p.Add(draw.Fault, "Its lines do not come to the result: "+err.Error()+". Please report this with the file.")
		return p
	}
	p := front.Page{Title: strings.TrimSpace(w.Label) + " " + w.Shown}
	if w.About != "" {
		p.Title += " – " + strings.TrimPrefix(w.About, "hand: ")
	}
	p.AddLaid(strings.Join(w.Body(working.Width), "\n"), func(columns int) []front.Line {
		var lines []front.Line
		for _, line := range w.Body(columns) {
			style := draw.Value
			if strings.HasPrefix(line, "   ") && !strings.Contains(line, "=  ") && !strings.Contains(line, "≈  ") {
				style = draw.Label
			}
			lines = append(lines, front.Line{Style: style, Text: line})
		}
		return lines
	})
	return p
}
