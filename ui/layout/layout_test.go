package layout

import (
	"image"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// At every size the places lie in the window and in each other, and none covers another.
func TestPlaces(t *testing.T) {
	for w := LeastWidth; w <= 250; w += 7 {
		for h := LeastHeight; h <= 80; h += 3 {
			require.False(t, TooSmall(w, h))
			l, window := Of(w, h), image.Rect(0, 0, w, h)
			parts := []image.Rectangle{image.Rect(0, 0, w, 1), l.Form, l.Side, l.Help, l.Foot}
			for i, a := range parts {
				require.True(t, a.In(window), "%d x %d: %v", w, h, a)
				require.False(t, a.Empty(), "%d x %d: %v", w, h, a)
				for _, b := range parts[:i] {
					require.False(t, a.Overlaps(b), "%d x %d: %v and %v", w, h, a, b)
				}
			}
			inside := []image.Rectangle{l.Dial, l.Readout, l.Divider, l.Below}
			rows := 0
			for _, r := range inside {
				require.True(t, r.In(Inside(l.Side)), "%d x %d: %v", w, h, r)
				rows += r.Dy()
			}
			require.Equal(t, Inside(l.Side).Dy(), rows, "%d x %d: nothing is left out", w, h)
			require.Equal(t, window.Dy(), l.Form.Dy()+l.Help.Dy()+2)
		}
	}
	assert.True(t, TooSmall(LeastWidth-1, LeastHeight))
	assert.True(t, TooSmall(LeastWidth, LeastHeight-1))
}

// Tabs stand in the first row in their order, with room for a sign, and for a blank where there is any.
func TestTabs(t *testing.T) {
	for _, names := range [][]string{{"Meter", "Filter", "Crystal", "Battery"}, {"日本"}, {}} {
		tabs := Tabs(LeastWidth, names)
		require.Len(t, tabs, len(names))
		for i, tab := range tabs {
			assert.True(t, tab.In(image.Rect(0, 0, LeastWidth, 1)))
			if i > 0 {
				assert.Less(t, tabs[i-1].Max.X, tab.Min.X+1)
			}
		}
	}
	assert.Equal(t, image.Rect(72, 0, 79, 1), Tabs(80, []string{"Meter"})[0]) // derived: five letters and two blanks before the last column
	assert.Equal(t, image.Rect(53, 0, 59, 1), Tabs(60, []string{"Meter"})[0]) // and one blank, for the sign, where there is little room
}

// At every size the survey's places lie in its frame, above the help, and none covers another;
// a connection that is drawn has the room that it needs.
func TestSurveyPlaces(t *testing.T) {
	for w := LeastWidth; w <= 250; w += 3 {
		for h := LeastHeight; h <= 80; h += 3 {
			for _, drawn := range []bool{false, true} {
				l := OfSurvey(w, h, drawn)
				require.False(t, l.Frame.Overlaps(Of(w, h).Help))
				parts := []image.Rectangle{l.Stage, l.Left, l.Right}
				for i, a := range parts {
					require.True(t, a.Empty() && i == 2 || a.In(Inside(l.Frame)), "%d x %d: %v", w, h, a)
					for _, b := range parts[:i] {
						require.False(t, a.Overlaps(b), "%d x %d: %v and %v", w, h, a, b)
					}
				}
				if drawn && !l.Right.Empty() {
					require.True(t, SurveyDrawing.In(image.Rect(0, 0, l.Right.Dx()+1, l.Right.Dy()+1)), "%d x %d", w, h)
				}
				require.GreaterOrEqual(t, l.Left.Dx(), 28, "%d x %d", w, h)
			}
		}
	}
}

// At every size the scale's places lie above the help and beside or below each other, and the columns of its rows in
// their frame.
func TestScalePlaces(t *testing.T) {
	for w := LeastWidth; w <= 250; w += 3 {
		for h := LeastHeight; h <= 80; h += 3 {
			l := OfScale(w, h)
			require.False(t, l.Rows.Overlaps(l.Law), "%d x %d", w, h)
			require.False(t, l.Rows.Union(l.Law).Overlaps(Of(w, h).Help), "%d x %d", w, h)
			require.GreaterOrEqual(t, l.Rows.Dy(), 8, "%d x %d", w, h)
			require.GreaterOrEqual(t, Inside(l.Law).Dy(), 3, "%d x %d", w, h)
			require.GreaterOrEqual(t, Inside(l.Law).Dx(), 28, "%d x %d", w, h)
			room := Inside(l.Rows).Dx()
			c := ScaleColumns(room)
			require.LessOrEqual(t, c.Code+1+c.Means+1+c.Stands+1+c.Going+1+c.Off+3, room, "%d x %d", w, h)
			require.GreaterOrEqual(t, c.Stands, 10)
		}
	}
}
