package layout

import "image"

// A Survey is where everything stands while an unknown meter is surveyed, in cells.
type Survey struct {
	Frame image.Rectangle // of it all, above the help
	Stage image.Rectangle // a line: how far one is
	Left  image.Rectangle // what is asked, and the answer
	Right image.Rectangle // what is known so far; empty where there is no room
}

// SurveyDrawing is how wide and high the drawing of a connection is.
var SurveyDrawing = image.Pt(43, 7)

// leastBesideSurvey is the width of a window from which what is known stands beside what
// is asked, and leastKnown the columns that it has then.
const leastBesideSurvey, leastKnown = 78, 26

// OfSurvey divides a window; where a connection is drawn, there is room for it at the right.
func OfSurvey(w, h int, drawn bool) Survey {
	l := Survey{Frame: image.Rect(0, 1, w, Of(w, h).Help.Min.Y)}
	in := Inside(l.Frame)
	l.Stage = image.Rect(in.Min.X, in.Min.Y, in.Max.X, in.Min.Y+1)
	l.Left = image.Rect(in.Min.X, in.Min.Y+1, in.Max.X, in.Max.Y)
	if w < leastBesideSurvey {
		return l
	}
	known := max(leastKnown, w/3)
	if drawn {
		known = max(SurveyDrawing.X, w*9/20)
	}
	l.Left.Min.Y++
	l.Right = image.Rect(in.Max.X-known, l.Left.Min.Y, in.Max.X, in.Max.Y)
	const gap = 3 // with a line in it
	l.Left.Max.X = l.Right.Min.X - gap
	return l
}
