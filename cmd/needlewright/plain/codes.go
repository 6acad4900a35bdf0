package plain

import (
	"fmt"
	"io"

	"example.com/needlewright/model/codes"
)

// Codes prints what the firmware is given, with the codes at the marks of each dial alone.
func Codes(w io.Writer, c *codes.Codes) {
	Paragraph(w, "", "Codes of "+Shown(c.Title))
	for i := range c.Hands {
		h := &c.Hands[i]
		fmt.Fprintf(w, "\n%s: %s\n", h.Name, h.Summary())
		paragraphs(w, h.Lines())
		fmt.Fprintf(w, "  %8s  %7s  %6s  %8s\n", "time", "instant", "code", "place")
		for _, m := range h.Marks {
			fmt.Fprintf(w, "  %8s  %7d  %6d  %6.2f %%\n", m.Time, m.Instant, m.Code, 100*m.Place)
		}
	}
	fmt.Fprint(w, "\nTimer\n")
	paragraphs(w, c.Timer.Lines())
	fmt.Fprint(w, "\nSetting by two buttons\n")
	paragraphs(w, c.Setting.Lines())
}

// paragraphs prints each, two columns in.
func paragraphs(w io.Writer, texts []string) {
	for _, text := range texts {
		Paragraph(w, "  ", Shown(text))
	}
}
