package ui

import (
	"strings"

	"example.com/needlewright/model/spread"
	"example.com/needlewright/ui/cells"
)

// bandText is the band of a result as it stands beside its value, whose unit it
// leaves out: "" where no tolerance moves it, or until it was worked out.
func bandText(row spread.Row) string {
	_, unit, _ := strings.Cut(row.Text(), " ")
	text := strings.TrimSuffix(fromTo(row), " "+unit)
	if !strings.Contains(text, "-") { // else a dash would look like one more sign
		text = strings.ReplaceAll(text, " to ", "–")
	}
	if text != "" && row.Band.Simulated {
		return simulatedSign + text
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
	if r.bare || w < leastBandColumn {
		return without, without
	}
	room := min(w-leastBeforeBand, mostBand)
	begins := min(w-room, mostBeforeBand)
	return resultPlace{begins - 3, begins}, without
}

// drawResult draws a heading, or a result with its value, its band and the sign of
// its change. Values stand below each other; one whose label needs the room goes
// without a band.
func (r *results) drawResult(at cells.Area, l resultLine) {
	if l.heading != "" {
		at.Text(0, 0, heading, l.heading)
		return
	}
	labelStyle, valueStyle := label, value
	if r.s.stale() {
		labelStyle, valueStyle = dim, dim
	}
	if l.value == "" {
		l.value = l.shown.row.Text()
	}
	w, _ := at.Size()
	place, without := r.places(w)
	if cells.Width(l.label)+cells.Width(l.value)+2 > place.value {
		place = without
	}
	at.Sub(1, 0, place.value-cells.Width(l.value)-2, 1).Text(0, 0, labelStyle, l.label)
	at.Sub(0, 0, place.value, 1).TextRight(0, valueStyle, l.value)
	at.Text(place.value+1, 0, note, l.changed)
	if l.shown == nil || place.band == w {
		return
	}
	if text := bandText(l.shown.row); cells.Width(text) <= w-place.band {
		at.Text(place.band, 0, dim, text)
	}
}

// drawBandHead says above a column of bands what they are, where its first line is
// a heading that leaves the room.
func (r *results) drawBandHead(at cells.Area, l resultLine) {
	w, _ := at.Size()
	place, _ := r.places(w)
	if place.band < w && l.heading != "" && cells.Width(l.heading) < place.band && cells.Width(ofKits) <= w-place.band {
		at.Text(place.band, 0, dim, ofKits)
	}
}
