package scale

import (
	"fmt"

	"example.com/needlewright/model/quantity"
	"example.com/needlewright/ui/cells"
	"example.com/needlewright/ui/draw"
	"example.com/needlewright/ui/front"
)

// What to do about a row, in the order in which it is read.
type known struct {
	problem string // why it does not count
	todo    string
	more    []string
}

// known is what is to be known of a row.
func (s *Scale) known(r row) known {
	h := &s.s.Doc.Build.Hands[s.s.Hand]
	k := known{problem: s.problem(r)}
	if off, ok := s.outlier(r); ok && k.problem == "" {
		k.problem = "Off by " + signed(quantity.Show(off, quantity.Percent, 2)) + " of the scale from what the others say: left out. Look again, or empty it (" + s.keys.Empty.Help().Key + ")."
	}
	if r.further {
		k.todo = fmt.Sprintf("A further place: type a code, 0 to %d, or a time such as %s; enter goes on to where its needle stands.", h.Drive.Top, exampleOf(h.Shows))
		k.more = []string{s.done()}
		return k
	}
	if s.typesCode(r) {
		k.todo = fmt.Sprintf("The code that was sent, 0 to %d, or the time it was set to, such as %s: the table in force makes a code of that.", h.Drive.Top, exampleOf(h.Shows))
		return k
	}
	park := fmt.Sprintf("park %s at code %d in the bring-up mode", h.Name, r.code)
	if means := s.means(r); means != "" {
		park = fmt.Sprintf("Set the clock to %s, or %s", means, park)
	} else {
		park = "P" + park[1:]
	}
	k.todo = park + fmt.Sprintf("; wait until it rests, tap, look straight from the front. Type where it stands: 49 %%, or %s as an evenly divided dial shows it.", exampleOf(h.Shows))
	k.more = []string{
		s.done(),
		"Not tapped? alt+↑ it came from below, alt+↓ from above; both with one code show how far it sticks.",
		s.keys.Choose.Help().Key + " mends the code, " + s.keys.Empty.Help().Key + " takes the row out.",
	}
	return k
}

// done says how far one is, and where to look next.
func (s *Scale) done() string {
	f := s.fitted()
	wanted := f.Wanted()
	goes := s.keys.Finding.Help().Key
	switch {
	case len(wanted) == 0:
		return ""
	case !f.Enough:
		return fmt.Sprintf("Next: code %d (%s). Seven places are looked at first.", wanted[0], goes)
	case len(wanted) == 1 && wanted[0] == f.Next.Code:
		text := fmt.Sprintf("Enough; code %d would tell most next (%s).", wanted[0], goes)
		if s.correct() == "none" && s.offered() != "" {
			text += " " + s.keys.Take.Help().Key + " straightens."
		}
		return text
	}
	return fmt.Sprintf("There is a law already; better with code %d too (%s).", wanted[0], goes)
}

// DrawHelp says what to do about the row that has the keys: what stands in no room is on the
// page.
func (s *Scale) DrawHelp(at cells.Area) {
	r, ok := s.focused()
	_, h := at.Size()
	if !ok || h < 1 {
		return
	}
	k, y := s.known(r), 0
	put := func(style cells.Style, text string, kept int) {
		rows := min(len(at.Lines(text)), h-y-kept)
		if text == "" || rows < 1 {
			return
		}
		draw.Cut(at.Rows(y, rows), style, text, "")
		y += rows
	}
	if k.problem != "" {
		put(draw.Fault, k.problem, 1)
	}
	put(draw.Value, k.todo, 0)
	for i, text := range k.more {
		if style := [2]cells.Style{draw.Note, draw.Dim}[min(i, 1)]; len(at.Lines(text)) <= h-y {
			put(style, text, 0)
		}
	}
}

// HelpPage is a page with all that is to be known of the pane, what words adds to that, and
// the cautions of the build.
func (s *Scale) HelpPage(ascii bool, words func(*front.Page)) front.Page {
	p := front.Page{Title: "Help and cautions"}
	if r, ok := s.focused(); ok {
		k := s.known(r)
		p.Add(draw.Fault, k.problem)
		p.Add(draw.Value, k.todo)
		for _, text := range k.more {
			p.Add(draw.Dim, text)
		}
	}
	p.Add(draw.Heading, "\nMeasure a scale")
	for _, text := range []string{
		"1. Set zero with the screw, and full scale with the trimmer; touch neither until all is read.",
		"2. Go up from code 0, code by code, and type where the needle stands. Five places make a law, three with both ends.",
		"3. Off is how much too late the hand shows there, what zero and full scale are off and the sticking taken out. × stands at a row that does not agree with the others: it is left out.",
		"4. Straightened by codes, the firmware sends other codes, and the even dial stays; on a drawn dial the marks stand where the needle does.",
		"5. A row can be typed with where the needle came from: 5:53 up.",
	} {
		p.Add(draw.Value, text)
	}
	words(&p)
	s.form.AddFurther(&p, nil, ascii)
	return p
}
