package walk

import (
	"fmt"
	"image"
	"path/filepath"
	"strings"

	"example.com/needlewright/model"
	engine "example.com/needlewright/model/walk"
	"example.com/needlewright/ui/cells"
	"example.com/needlewright/ui/draw"
	"example.com/needlewright/ui/layout"
)

// Draw draws the page in a window of w by h.
func (v *Walk) Draw(whole cells.Area, w, h int) {
	s := v.state()
	p := v.placed(w, h)
	draw.Titled(whole.In(p.Frame), "The walk: "+s.Title)
	v.drawStage(whole.In(p.Stage))
	draw.Cut(whole.In(p.Purpose), draw.Dim, s.Purpose, "")
	v.drawQuestions(whole, &p)
	if !p.Right.Empty() {
		whole.VLine(p.Right.Min.X-2, p.Right.Min.Y, p.Right.Dy(), draw.Frame)
		v.drawBeside(whole.In(p.Right))
	}
	draw.Cut(whole.In(p.Result), draw.Value, v.result(), "")
	v.drawDone(whole.In(p.Done))
}

// A shared page is its layout, with the rows that each question has.
type sharedPage struct {
	layout.Walk
	asked []image.Rectangle
	how   image.Rectangle // behind the question that has the keys
}

// placed shares the room of a window among the parts of the page.
func (v *Walk) placed(w, h int) sharedPage {
	inside := layout.InsideWalk(w, h)
	left := layout.LeftOfWalk(inside)
	questions := len(v.questions())
	how := len(cells.Lines(v.how(), left.Dx()-indent))
	p := sharedPage{Walk: layout.OfWalk(w, h, layout.WalkRows{
		Purpose: len(cells.Lines(v.state().Purpose, inside.Dx())), Asked: 2*questions + how,
		Result: len(cells.Lines(v.result(), inside.Dx())), Done: len(cells.Lines(v.doneText(), inside.Dx())),
	})}
	y := p.Left.Min.Y
	for i := range questions {
		p.asked = append(p.asked, image.Rect(p.Left.Min.X, y, p.Left.Max.X, min(y+2, p.Left.Max.Y)))
		y += 2
		if i == v.at.row {
			p.how = image.Rect(p.Left.Min.X+indent, y, p.Left.Max.X, min(y+how, p.Left.Max.Y))
			y += how
		}
	}
	return p
}

// indent is how far an answer stands in from its question.
const indent = 2

// how says how to find the answer, of a reading what the plan has for it, or what is wrong
// with what was answered.
func (v *Walk) how() string {
	if v.problem != "" {
		return v.problem
	}
	q := v.question()
	if t := v.ticksHere(); t.Next(0) >= 0 {
		return v.jointText()
	}
	if q.Point == "" {
		return q.How
	}
	return v.codeOf(q.Point) + v.planned(v.state().PointOf(q)) + q.How
}

// drawStage says which stage it is, and how far the work is.
func (v *Walk) drawStage(at cells.Area) {
	w, _ := at.Size()
	s := v.state()
	text := s.Name()
	if n := len(s.Asked()); n > 1 {
		text += fmt.Sprintf(", page %d of %d", v.at.page+1, n)
	}
	x := at.Text(0, 0, draw.Title, text)
	boxes := v.boxes()
	count := fmt.Sprintf(" %d of %d done", v.on.Count(), len(v.on.States))
	if x+cells.Width(boxes+count)+1 > w {
		count = ""
	}
	at.Sub(x+1, 0, w-x-1, 1).TextRight(0, draw.Heading, boxes+count)
}

// signs are those of the states, in the boxes.
var signs = map[string]string{engine.Done: "✓", engine.Again: "!", engine.Here: "▸", engine.Open: "_"}

// boxes are ten signs, one for each stage; the one that is open stands in brackets.
func (v *Walk) boxes() string {
	var b strings.Builder
	for k := range engine.Stages {
		sign := signs[engine.Done]
		for i := range v.on.States {
			if s := &v.on.States[i]; s.ID == engine.Stages[k].ID && s.State != engine.Done && sign == signs[engine.Done] {
				sign = signs[s.State]
			}
		}
		if v.state().ID == engine.Stages[k].ID {
			sign = "[" + sign + "]"
		}
		b.WriteString(sign)
	}
	return b.String()
}

// drawQuestions draws what is asked, each with what stands for it below.
func (v *Walk) drawQuestions(whole cells.Area, p *sharedPage) {
	for i := range v.questions() {
		q, at := &v.questions()[i], whole.In(p.asked[i])
		style := draw.Label
		if i == v.at.row {
			style = draw.FocusLabel
			draw.Here(whole.Sub(p.asked[i].Min.X-1, p.asked[i].Min.Y, 1, 1))
		}
		at.Text(0, 0, style, q.What)
		w, _ := at.Size()
		v.drawAnswer(at.Sub(indent, 1, w-indent, 1), q, i == v.at.row)
	}
	style := draw.Dim
	if v.problem != "" {
		style = draw.Fault
	}
	draw.Cut(whole.In(p.how), style, v.how(), "")
}

// answerColumns is how much room an answer has at least.
const answerColumns = 16

// drawAnswer draws what stands for a question, with its mark.
func (v *Walk) drawAnswer(at cells.Area, q *engine.Question, focused bool) {
	w, _ := at.Size()
	text, mark, void := v.state().Given(q)
	if v.isChoice(q) {
		text = v.said(q)
	}
	note := noteOf(q, text, mark, void)
	switch {
	case v.state().IsBefore(q):
		note = "before a change"
	case void && v.inMilli(q, text):
		note = "outside; mV meant?"
	case v.state().IsAtTheEdge(q):
		note = "✓ at the edge"
	}
	if all := v.choicesText(q); focused && all != "" {
		note = all
	}
	room := min(w, max(answerColumns, cells.Width(text)+1))
	if focused && v.isChoice(q) {
		const signs = 4 // "< " and " >"
		room = min(w, max(answerColumns, cells.Width(text)+signs))
	}
	cell := at.Sub(0, 0, room, 1)
	switch {
	case focused && !v.isChoice(q):
		cell.Fill(draw.FocusValue, ' ')
		v.line.Draw(cell, "", false)
		if v.typing {
			note = ""
		}
	case focused:
		cell.Fill(draw.FocusValue, ' ')
		cell.Text(0, 0, draw.FocusValue, "< "+orDash(text)+" >")
	default:
		cell.Text(0, 0, draw.Value, orDash(text))
	}
	at.Sub(room+1, 0, w-room-1, 1).Text(0, 0, draw.Dim, note)
}

// choicesText names what may be chosen, "" where a text is typed or few words say it all.
func (v *Walk) choicesText(q *engine.Question) string {
	if !v.isChoice(q) || q.Sign != "" {
		return ""
	}
	return strings.Join(model.Builds.Field(q.Field).Choices, ", ")
}

// orDash is a text, or a dash where nothing is.
func orDash(text string) string {
	if text == "" {
		return "–"
	}
	return text
}

// noteOf says of an answer where it is from, or why it does not count.
func noteOf(q *engine.Question, text, mark string, void bool) string {
	switch {
	case void && q.Sign != "":
		return "said before a change"
	case void:
		return "outside"
	case q.Point != "" && text != "":
		return "✓ fits"
	case q.Sign != "":
		return ""
	}
	return mark
}

// doneText says when the stage is done, with what is so already.
func (v *Walk) doneText() string {
	parts := []string{"Done when"}
	for _, c := range v.conditions() {
		sign := "_"
		if c.IsMet() {
			sign = "✓"
		}
		parts = append(parts, sign+"\u00a0"+c.Says+";")
	}
	text := strings.TrimSuffix(strings.Join(parts, " "), ";") + "."
	if s := v.state(); s.State == engine.Again {
		text = "To be looked at again, " + v.keys.Accept.Help().Key + " through it: " + strings.Join(s.Changed, ", ") + ". " + text
	}
	return text
}

// conditions are those of the stage, as they would be with what is typed.
func (v *Walk) conditions() []engine.Condition {
	s := v.state()
	if v.tried != nil {
		if tried := v.tried.Find(s.ID, s.Hand); tried != nil {
			return tried.Conditions
		}
	}
	return s.Conditions
}

// drawDone draws it.
func (v *Walk) drawDone(at cells.Area) {
	style := draw.Note
	if v.state().State == engine.Again {
		style = draw.Caution
	}
	draw.Cut(at, style, v.doneText(), "")
}

// DrawHelp draws below the page what can be hurt: it is never cut.
func (v *Walk) DrawHelp(at cells.Area) {
	if why := v.state().Stop(); why != "" {
		at.Wrap(0, draw.Fault, draw.FaultSign+why)
		return
	}
	y := at.Wrap(0, draw.Caution, draw.CautionSign(at.ASCII())+v.state().Caution)
	_, h := at.Size()
	if s := v.state(); s.Command != "" && y < h {
		file := "FILE"
		if v.s.Path != "" {
			file = filepath.Base(v.s.Path)
		}
		draw.Cut(at.Rows(y, h-y), draw.Dim, "esc, "+v.keys.Menu.Help().Key+", Papers, writes "+s.Makes+"; or, saved, in a terminal: "+strings.ReplaceAll(s.Command, "FILE", file), "")
	}
}

// Click gives the keys to the question at a place of a window of w by h.
func (v *Walk) Click(at image.Point, w, h int) {
	for i, r := range v.placed(w, h).asked {
		if at.In(r) && i != v.at.row {
			v.goTo(place{v.at.state, v.at.page, i})
		}
	}
}

// Stage is which row of the table the page is of.
func (v *Walk) Stage() int {
	for k := range engine.Stages {
		if engine.Stages[k].ID == v.state().ID {
			return k
		}
	}
	return -1
}

// MustStand are the texts of the page that are never cut: what can be hurt, and what is asked.
func (v *Walk) MustStand() []string {
	all := []string{v.state().Caution}
	if why := v.state().Stop(); why != "" {
		all[0] = why
	}
	for _, q := range v.questions() {
		all = append(all, q.What)
	}
	return all
}
