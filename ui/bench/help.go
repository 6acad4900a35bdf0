package bench

import (
	"strings"

	built "example.com/needlewright/model/bench"
	"example.com/needlewright/model/caution"
	"example.com/needlewright/ui/cells"
	"example.com/needlewright/ui/draw"
	"example.com/needlewright/ui/form"
	"example.com/needlewright/ui/front"
	"example.com/needlewright/ui/session"
)

// bringUp says what a parked code is: in a line, and on the page.
const (
	bringUp     = "Parked: bring-up mode (both buttons held at power-up) holds 0, half or top."
	bringUpLong = "In its bring-up mode the firmware keeps a hand at one code: 0, half of the top code or the top, awake, its lamps off. " +
		"Who has none writes one: begun, for instance, by holding both buttons at power-up, and each press goes on to the next code."
)

// What is to be known of a point, in the order in which it is read.
type known struct {
	what     string   // the state of the clock, and where the probes go
	problem  string   // why its reading is not weighed
	cautions []string // what can go wrong or be hurt
	more     []string // effort, what may be typed, what a key does
}

// known is what is to be known of a row.
func (b *Bench) known(r row) known {
	if r.point == nil {
		return known{
			what:    r.read.At + ": " + r.read.Problem + ".",
			problem: "It is not weighed. " + b.keys.Empty.Help().Key + " takes it out of the file.",
		}
	}
	p := r.point
	k := known{what: b.prepared.Got().CalledOf(p.ID) + ". State: " + p.State + ". Then: " + p.Probes + "."}
	switch {
	case r.read == nil || strings.TrimSpace(r.read.Given) == "":
	case r.read.Problem != "":
		k.problem = "It cannot be read: " + r.read.Problem + "."
	case r.read.Before:
		k.problem = "Taken before the last repair: it is not weighed. What you type now counts."
	}
	for _, c := range b.cautionsAt(r) {
		k.cautions = append(k.cautions, c.Line())
	}
	if p.Mind != "" {
		k.cautions = append(k.cautions, p.Mind)
	}
	if r.counts() && b.prepared.Got().IsInput(p.ID) {
		k.more = append(k.more, b.keys.Take.Help().Key+" "+form.OfferSign+" takes this reading into the plan.")
	}
	k.more = append(k.more, "Effort: "+built.EffortOf(p.Cost)+". "+b.mayBe(r))
	if strings.Contains(p.State, "code") || strings.Contains(p.State, "parked") {
		k.more = append(k.more, bringUp)
	}
	if r.read != nil && !r.isInFile() {
		k.more = append(k.more, "As the rows of its scale have it; what you type goes before that.")
	}
	if r.isInFile() {
		if note, _ := b.s.Doc.Given(noteField, r.read.Index); note != "" {
			k.more = append(k.more, "Note: "+note)
		}
	}
	return k
}

// mayBe says what may be typed.
func (b *Bench) mayBe(r row) string {
	p := r.point
	if p.Words != nil {
		return "← → choose: " + strings.Join(p.Words, ", ") + "."
	}
	text := "Bare in " + r.place.Unit.Symbol() + "; none"
	switch {
	case strings.Contains(p.ID, ".needle_") && !strings.HasSuffix(p.ID, "tapped"):
		text += ", below, over, or a dial time"
	case strings.HasSuffix(p.ID, "_ohms") || strings.HasSuffix(p.ID, "resistance"):
		text += ", over (open)"
	case p.ID == "clock.drift":
		text = "As +12 s in 3 d"
	}
	return text + "."
}

// cautionsAt are those that hold where a reading is taken.
func (b *Bench) cautionsAt(r row) []caution.Caution {
	if r.place.Caution == "" {
		return nil
	}
	index := max(0, r.place.Hand)
	return caution.At(b.s.Report.Build, session.FieldOf(r.place.Caution), index)
}

// DrawHelp says what is to be known of the point that has the keys: what stands in no room
// is on the page.
func (b *Bench) DrawHelp(at cells.Area) {
	r, ok := b.focused()
	_, h := at.Size()
	if !ok || h < 1 {
		return
	}
	k := b.known(r)
	sign := draw.CautionSign(at.ASCII())
	kept := 0
	if len(k.cautions) > 0 { // the gravest stands whole
		kept = len(at.Lines(sign + k.cautions[0]))
	}
	if k.problem != "" {
		kept++
	}
	rows := max(1, min(len(at.Lines(k.what)), h-kept))
	draw.Cut(at.Rows(0, rows), draw.Value, k.what, "")
	y := rows
	put := func(style cells.Style, text string) bool {
		n := len(at.Lines(text))
		if y+n > h {
			return false
		}
		at.Rows(y, n).Wrap(0, style, text)
		y += n
		return true
	}
	if k.problem != "" {
		put(draw.Caution, k.problem)
	}
	for _, c := range k.cautions {
		put(draw.Caution, sign+c)
	}
	for i, m := range k.more {
		style := draw.Dim
		if strings.HasPrefix(m, b.keys.Take.Help().Key) {
			style = draw.Note
		}
		if !put(style, m) && i > 0 {
			return
		}
	}
}

// HelpPage is a page with all that is to be known of the point that has the keys, what words
// adds to that, and the cautions of the build.
func (b *Bench) HelpPage(ascii bool, words func(*front.Page)) front.Page {
	p := front.Page{Title: "Help and cautions"}
	sign := draw.CautionSign(ascii)
	var here []caution.Caution
	if r, ok := b.focused(); ok {
		k := b.known(r)
		p.Add(draw.Heading, b.prepared.Got().CalledOf(r.id()))
		p.Add(draw.Value, k.what)
		p.Add(draw.Caution, k.problem)
		for _, c := range k.cautions {
			p.Add(draw.Caution, sign+c)
		}
		if r.point != nil && r.point.Words == nil {
			p.Add(draw.Value, "Plan "+r.place.Shows(r.point.Value, 5)+"; 95 % of sound clocks read "+r.place.Shows(r.point.Low, 4)+" to "+r.place.Shows(r.point.High, 4)+
				", all of them "+r.place.Shows(r.point.Least, 4)+" to "+r.place.Shows(r.point.Most, 4)+".")
		}
		for _, m := range k.more {
			if m == bringUp {
				m = bringUpLong
			}
			p.Add(draw.Dim, m)
		}
		here = b.cautionsAt(r)
	}
	words(&p)
	b.form.AddFurther(&p, here, ascii)
	return p
}
