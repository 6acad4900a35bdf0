package circuit

import (
	"example.com/needlewright/model/quantity"
	"example.com/needlewright/model/scale"
)

// ScalePlot returns where the needle stood, as a share of the scale, against the share of
// full-scale current, with the law through these places and the even scale beside it. The
// errors of zero and full scale and the sticking are taken out; a row that counts as wrong
// is a line of its own.
func ScalePlot(f *scale.Fitted) Plot {
	const parts = 100
	plot := Plot{Title: "Scale", X: Axis{"Current", quantity.Percent}, Y: Axis{"Of the scale", quantity.Percent}}
	if f.Enough {
		law := make([]Dot, parts+1)
		for k := range law {
			x := float64(k) / parts
			law[k] = Dot{x, f.Law.At(x)}
		}
		plot.Lines = append(plot.Lines, Line{Name: "law", Points: law})
	}
	plot.Lines = append(plot.Lines, Line{Name: "even", Points: []Dot{{0, 0}, {1, 1}}})
	seen, off := Line{Name: "seen", Sign: "●"}, Line{Name: "left out", Sign: "×"}
	for _, s := range f.Seen {
		line := &seen
		for _, o := range f.Outliers {
			if o.Row == s.Row {
				line = &off
			}
		}
		line.Points = append(line.Points, Dot{s.Current, s.Scale})
	}
	for _, line := range [2]Line{seen, off} {
		if line.Points != nil {
			plot.Lines = append(plot.Lines, line)
		}
	}
	return plot
}
