package layout

import "image"

// A Scale is where everything stands on the scale's pane, in cells: each with its frame.
type Scale struct {
	Rows image.Rectangle // the table
	Law  image.Rectangle // beside it, or in a narrow window below it: what comes of it
	Plot bool            // there is room for a plot in it
}

// leastBesideScale is the width of a window from which the law stands beside the rows,
// tableColumns the columns of a table with its frame there, and lawRows the rows of the
// law inside its frame below them.
const leastBesideScale, tableColumns, lawRows = 78, 46, 3

// OfScale divides a window: the rows, and beside them the law.
func OfScale(w, h int) Scale {
	l := Of(w, h)
	top, bottom := l.Form.Min.Y, l.Form.Max.Y
	if w < leastBesideScale {
		split := bottom - lawRows - 2
		return Scale{Rows: image.Rect(0, top, w, split), Law: image.Rect(0, split, w, bottom)}
	}
	split := tableColumns + (w-80)/4
	return Scale{Rows: image.Rect(0, top, split, bottom), Law: image.Rect(split, top, w, bottom), Plot: true}
}

// RowColumns are those of a line of the table of a scale: widths.
type RowColumns struct{ Code, Means, Stands, Going, Off int }

// ScaleColumns shares a width between the columns of a scale's rows.
func ScaleColumns(w int) RowColumns {
	const code, means, stands, mostStands, going, off, sign = 6, 5, 10, 24, 4, 7, 2
	c := RowColumns{code, means, stands, going, off}
	c.Stands += max(0, min(w-(code+means+stands+going+off+sign+5), mostStands-stands))
	return c
}
