package side

import (
	"strings"

	"example.com/needlewright/model/spread"
	"example.com/needlewright/ui/cells"
	"example.com/needlewright/ui/draw"
	"example.com/needlewright/ui/layout"
)

// BandText is the band of a result as it stands beside its value, whose unit it
// leaves out: "" where no tolerance moves it, or until it was worked out.
func BandText(row spread.Row) string {
	_, unit, _ := strings.Cut(row.Text(), " ")
	text := strings.TrimSuffix(fromTo(row), " "+unit)
	if !strings.Contains(text, "-") { // else a dash would look like one more sign
		text = strings.ReplaceAll(text, " to ", "–")
	}
	if text != "" && row.Band.Simulated {
		return draw.SimulatedSign + text
	}
	return text
}

// fromTo is the band of a result in words, which stand in plain characters too:
// "30.20 to 67.25 %".
func fromTo(row spread.Row) string { return strings.ReplaceAll(row.BandText(), "…", "to") }

// A resultPlace is where the parts of a result stand in its line, by columns.
type resultPlace struct {
	value int // where the value ends, its sign of change behind it
	band  int // where the band begins; the line's width: there is none
}

// places are where a value with its band stands, and where one for which there is
// no room before a band. The room is kept, whether there is a band or not.
func (r *results) places(w int) (withBand, without resultPlace) {
	without = resultPlace{w - 2, w}
	if r.Bare || w < layout.LeastBandColumn {
		return without, without
	}
	room := min(w-layout.LeastBeforeBand, layout.MostBand)
	begins := min(w-room, layout.MostBeforeBand)
	return resultPlace{begins - 3, begins}, without
}

// drawResult draws a heading, or a result with its value, its band and the sign of
// its change. Values stand below each other; one whose label needs the room goes
// without a band.
func (r *results) drawResult(at cells.Area, l resultLine) {
	if l.heading != "" {
		at.Text(0, 0, draw.Heading, l.heading)
		return
	}
	labelStyle, valueStyle := draw.Label, draw.Value
	if r.s.Stale() {
		labelStyle, valueStyle = draw.Dim, draw.Dim
	}
	w, _ := at.Size()
	place, without := r.places(w)
	if l.value == "" {
		l.value = l.shown.Row.Text()
	} else {
		l.shown, without.value = nil, min(without.value, mostBeforeChange)
		if without.value-cells.Width(l.value) < leastLabel {
			l.value = l.short
		}
	}
	if l.shown == nil || cells.Width(l.label)+cells.Width(l.value)+2 > place.value {
		place = without
	}
	if l.pinned {
		at.Text(0, 0, draw.Note, pinSign)
	}
	at.Sub(1, 0, place.value-cells.Width(l.value)-2, 1).Text(0, 0, labelStyle, l.label)
	at.Sub(0, 0, place.value, 1).TextRight(0, valueStyle, l.value)
	at.Text(place.value+1, 0, draw.Note, l.changed)
	if l.shown == nil || place.band == w {
		return
	}
	if text := BandText(l.shown.Row); cells.Width(text) <= w-place.band {
		at.Text(place.band, 0, draw.Dim, text)
	}
}

// Of what a result was and is: the room that its label and the gap behind that have at
// least, and how far from the left edge it ends at most.
const leastLabel, mostBeforeChange = 10, layout.MostBeforeBand + 8

// pinSign stands before a result that is pinned.
const pinSign = "•"

// drawBandHead says above a column of bands what they are, where the heading leaves the
// room.
func (r *results) drawBandHead(at cells.Area, l resultLine) {
	w, _ := at.Size()
	place, _ := r.places(w)
	begins := min(place.band, w-cells.Width(draw.OfKits))
	if place.band < w && cells.Width(l.heading) < begins {
		at.Text(begins, 0, draw.Dim, draw.OfKits)
	}
}
