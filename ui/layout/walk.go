package layout

import "image"

// A Walk is where everything stands on a page of the walk, in cells.
type Walk struct {
	Frame   image.Rectangle // of it all, above the help
	Stage   image.Rectangle // a line: which stage, and how far the work is
	Purpose image.Rectangle
	Left    image.Rectangle // what is asked
	Right   image.Rectangle // the circuit; empty where there is no room
	Result  image.Rectangle // what the answers mean
	Done    image.Rectangle // when the stage is done
}

// WalkRows are the rows that the parts of a page would like.
type WalkRows struct{ Purpose, Asked, Result, Done int }

// WalkDrawing is how wide a drawing beside the questions is.
const WalkDrawing = 30

// leastBesideWalk is the width inside from which it stands there.
const leastBesideWalk = 74

// InsideWalk is the room inside of a page's frame.
func InsideWalk(w, h int) image.Rectangle { return Inside(image.Rect(0, 1, w, Of(w, h).Help.Min.Y)) }

// LeftOfWalk is the room of the questions in it, beside the drawing.
func LeftOfWalk(in image.Rectangle) image.Rectangle {
	in.Min.X++ // the mark of the one that has the keys
	if in.Dx() >= leastBesideWalk {
		in.Max.X -= WalkDrawing + 3
	}
	return in
}

// OfWalk divides a window. What is asked and when it is done stand first; the rest has what
// they leave.
func OfWalk(w, h int, rows WalkRows) Walk {
	in := InsideWalk(w, h)
	l := Walk{Frame: image.Rect(0, 1, w, Of(w, h).Help.Min.Y), Stage: image.Rect(in.Min.X, in.Min.Y, in.Max.X, in.Min.Y+1)}
	free := in.Dy() - 1
	take := func(rows int) int {
		rows = max(0, min(rows, free))
		free -= rows
		return rows
	}
	const leastDone = 2
	done := take(min(rows.Done, leastDone))
	asked := take(rows.Asked)
	done += take(rows.Done - done)
	result := take(rows.Result)
	purpose := take(rows.Purpose)
	gap := func() int { return take(1) }
	y := in.Min.Y + 1
	next := func(rows int) image.Rectangle {
		r := image.Rect(in.Min.X, y, in.Max.X, y+rows)
		y += rows
		return r
	}
	l.Purpose = next(purpose)
	y += gap()
	gaps := gap()
	left := LeftOfWalk(in)
	const drawn = 9 // rows of a drawing
	if left.Max.X < in.Max.X {
		asked += take(drawn - asked)
	}
	l.Left = image.Rect(left.Min.X, y, left.Max.X, y+asked)
	if left.Max.X < in.Max.X {
		l.Right = image.Rect(in.Max.X-WalkDrawing, y, in.Max.X, y+asked)
	}
	y += asked + gaps
	l.Result = next(result)
	l.Done = next(done)
	return l
}
