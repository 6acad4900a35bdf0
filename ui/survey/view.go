package survey

import (
	"fmt"
	"image"
	"slices"
	"strings"

	"example.com/needlewright/model"
	"example.com/needlewright/model/caution"
	engine "example.com/needlewright/model/survey"
	"example.com/needlewright/ui/cells"
	"example.com/needlewright/ui/draw"
	"example.com/needlewright/ui/layout"
)

// Draw draws the page in a window of w by h.
func (v *Survey) Draw(whole cells.Area, w, h int) {
	picture := sketchOf(v.ask, v.isTurned())
	l := layout.OfSurvey(w, h, picture != nil)
	draw.Titled(whole.In(l.Frame), "Survey of an unknown meter")
	v.drawStage(whole.In(l.Stage))
	marked := image.Rect(l.Left.Min.X-1, l.Left.Min.Y, l.Left.Max.X+1, l.Left.Max.Y) // with a column at either side
	v.drawAsked(whole.In(l.Left), whole.In(marked), picture != nil && !l.Right.Empty())
	if l.Right.Empty() {
		v.drawBelow(whole.In(l.Left))
		return
	}
	right := whole.In(l.Right)
	whole.VLine(l.Right.Min.X-2, l.Right.Min.Y, l.Right.Dy(), draw.Frame)
	if picture != nil {
		picture.draw(right)
		_, rows := right.Size()
		right = right.Rows(layout.SurveyDrawing.Y+1, rows-layout.SurveyDrawing.Y-1)
	}
	v.drawKnown(right)
}

// drawBelow draws what the readings leave of the meter below what is asked, where there is
// room for it.
func (v *Survey) drawBelow(at cells.Area) {
	w, h := at.Size()
	p := v.placed(w, h, false)
	const bands = 2 // rows
	if y := h - bands; v.stage() == 1 && p.list+p.rows < y {
		v.drawBands(at.Rows(y, bands))
	}
}

// isTurned says whether the leads were turned round.
func (v *Survey) isTurned() bool { return v.answered("swap") != "" }

// The stages of a survey.
var stages = []string{"look", "connect", "verdict"}

// stage is which of them the page is of.
func (v *Survey) stage() int { return stageOf(v.ask) }

// drawStage says how far the survey is.
func (v *Survey) drawStage(at cells.Area) {
	x, now := 0, v.stage()
	for i, name := range stages {
		sign, style := "  ", draw.Dim
		switch {
		case i < now && v.wasIn(i):
			sign, style = "✓ ", draw.Note
		case i == now:
			sign, style = "▸ ", draw.Title
		}
		x += at.Text(x, 0, style, sign+name) + 2
	}
	w, _ := at.Size()
	for _, text := range v.countTexts() {
		if cells.Fits(text, w-x) {
			at.Sub(x, 0, w-x, 1).TextRight(0, draw.Dim, text)
			return
		}
	}
}

// wasIn says whether something was answered in a stage.
func (v *Survey) wasIn(stage int) bool {
	return slices.ContainsFunc(v.steps, func(s step) bool { return stageOf(s.ask) == stage })
}

// stageOf is the stage that a question belongs to.
func stageOf(a *engine.Ask) int {
	switch {
	case a == nil:
		return 2
	case a.Of != nil || a.Nominal > 0 || a.Kind == "swap":
		return 1
	}
	return 0
}

// mostConnections are so many as a survey makes at most. Source: the contract.
const mostConnections = 20

// countTexts say how much was asked, the fullest first.
func (v *Survey) countTexts() []string {
	if v.ask == nil {
		return []string{fmt.Sprintf("%d questions answered", len(v.steps))}
	}
	text := fmt.Sprintf("question %d", len(v.steps)+1)
	n := len(v.connections())
	if a := v.ask; a.Of != nil && a.Of.Series > 0 && !v.isConnected(*a.Of) {
		n++
	}
	if n == 0 {
		return []string{text}
	}
	connection := fmt.Sprintf("connection %d of at most %d", n, mostConnections)
	return []string{text + ", " + connection, connection, text}
}

// DrawHelp draws below the page what can flow, what can be hurt, and what may be answered:
// what can be hurt stands whole.
func (v *Survey) DrawHelp(at cells.Area) {
	_, h := at.Size()
	danger, may, current := v.danger(at), "", ""
	if v.ask == nil {
		may = v.endingText()
		if _, ohmmeter := ofOhmmeter(v.verdict.Why); !strings.HasPrefix(ohmmeter, "No ") {
			current = ohmmeter // it bears one
		}
	} else {
		may, current = words[v.ask.Kind].may, currentText(v.ask)
	}
	y, kept := 0, len(at.Lines(danger))
	if long := current + leaveIn; v.ask != nil && current != "" && len(at.Lines(long))+kept+len(at.Lines(may)) <= h {
		current = long
	}
	if len(at.Lines(current))+kept <= h {
		y = at.Wrap(0, draw.Value, current)
	}
	y += at.Wrap(y, draw.Caution, danger)
	if may != "" && y < h {
		draw.Cut(at.Rows(y, min(h-y, len(at.Lines(may)))), draw.Dim, may, "")
	}
}

// danger is the gravest of what can be hurt at the question, in full where that takes two
// lines, or what an ohmmeter would do to what was found; "" where nothing can be hurt.
func (v *Survey) danger(at cells.Area) string {
	all, sign := v.cautions(), draw.CautionSign(at.ASCII())
	if v.verdict != nil && v.verdict.Verdict != engine.Stopped {
		if _, ohmmeter := ofOhmmeter(v.verdict.Why); strings.HasPrefix(ohmmeter, "No ") {
			return sign + ohmmeter
		}
		return ""
	}
	if len(all) == 0 {
		return ""
	}
	const most = 2
	if whole := sign + all[0].Text; len(at.Lines(whole)) <= most {
		return whole
	}
	return sign + all[0].Line()
}

// cautions are those at the question, of a meter that is from where it was said.
func (v *Survey) cautions() []caution.Caution {
	kind := v.lastKind()
	origin := v.answered("origin")
	if kind == "origin" && v.ask != nil && v.chosen >= 0 && v.chosen < len(v.ask.Choices) {
		origin = v.ask.Choices[v.chosen]
	}
	meter := &model.Build{Hands: []model.Hand{{Meter: model.Meter{Origin: origin}}}}
	var found []caution.Caution
	for _, c := range caution.Of(meter) {
		for _, id := range words[kind].cautions {
			if c.ID == id {
				found = append(found, c)
			}
		}
	}
	return found
}

// lastKind is what is asked, or was asked last.
func (v *Survey) lastKind() string {
	switch {
	case v.ask != nil:
		return v.ask.Kind
	case len(v.steps) > 0:
		return v.steps[len(v.steps)-1].ask.Kind
	}
	return ""
}
