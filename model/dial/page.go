package dial

import (
	"fmt"
	"math"
	"strings"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/letters"
	"example.com/needlewright/model/quantity"
)

// A Paper is a sheet that a printer takes, upright, in mm.
type Paper struct {
	Name          string
	Width, Height float64
}

// Papers are those that can be asked for, by ISO 216 and ANSI/ASME Y14.1.
var Papers = []Paper{{"a4", 210, 297}, {"letter", 215.9, 279.4}, {"a3", 297, 420}}

// PaperNamed returns the paper of a name.
func PaperNamed(name string) (Paper, bool) {
	for _, p := range Papers {
		if p.Name == strings.ToLower(name) {
			return p, true
		}
	}
	return Paper{}, false
}

// A Page is a sheet with what is printed on it, in mm.
type Page struct {
	Width, Height float64
	Plates        []*Plate
	Checks        [2]Line // of 50 mm each: across, and along
	Words         []letters.Outline
	Title         string // of the build
}

// CheckLength is how long a check line is, mm.
const CheckLength = 50.0

// What of a page is kept free, mm: printers leave its edge blank, and the check lines stand
// in a strip on the left and one below.
const (
	margin     = 10.0
	checkStrip = 8.0
	belowStrip = 16.0
	around     = cutClear + cutLong // a plate
)

// A TooLargeError says that a plate does not fit on a paper.
type TooLargeError struct {
	Hand                  string
	Width, Height         float64 // of the plate, mm
	Paper                 Paper
	MostWidth, MostHeight float64 // of a plate on it, mm
	SideWidth, SideHeight float64 // the same with the paper on its side
	Fits                  string  // a paper it fits on, "" for none
}

func (e *TooLargeError) Error() string {
	return fmt.Sprintf("the plate of %s, %s × %s mm, does not fit on %s, which takes %.0f × %.0f mm upright and %.0f × %.0f mm on its side: nothing is scaled",
		e.Hand, Length(e.Width), Length(e.Height), e.Paper.Name, e.MostWidth, e.MostHeight, e.SideWidth, e.SideHeight)
}

// Length is a length in mm with as many decimals as it needs, two at most: "112.5".
func Length(mm float64) string {
	return strings.TrimSuffix(strings.TrimRight(fmt.Sprintf("%.2f", mm), "0"), ".")
}

// room is how large a plate may be on a sheet.
func (p Paper) room() (w, h float64) {
	return p.Width - 2*margin - checkStrip - 2*around, p.Height - 2*margin - belowStrip - 2*around
}

// onItsSide is the paper turned.
func (p Paper) onItsSide() Paper { return Paper{p.Name, p.Height, p.Width} }

// takes says whether a plate fits on a sheet.
func (p Paper) takes(w, h float64) bool {
	most, high := p.room()
	return w <= most+1e-9 && h <= high+1e-9
}

// tooLarge is the error of a plate that fits on no side of a paper.
func (p Paper) tooLarge(hand string, w, h float64) error {
	e := &TooLargeError{Hand: hand, Width: w, Height: h, Paper: p}
	e.MostWidth, e.MostHeight = p.room()
	e.SideWidth, e.SideHeight = p.onItsSide().room()
	for _, other := range Papers {
		if other.takes(w, h) || other.onItsSide().takes(w, h) {
			e.Fits = other.Name
			break
		}
	}
	return e
}

// Pages returns the dials of some hands on as many sheets as they take, in their order;
// a sheet lies on its side where a plate does not fit upright. The error is a
// *TooLargeError.
func Pages(b *model.Build, p *circuit.Plan, hands []int, paper Paper) ([]*Page, error) {
	sheet := paper
	for _, i := range hands {
		w, h := Size(b, p, i)
		switch {
		case !paper.takes(w, h) && !paper.onItsSide().takes(w, h):
			return nil, paper.tooLarge(b.Hands[i].Name, w, h)
		case !sheet.takes(w, h):
			sheet = paper.onItsSide()
		}
	}
	for _, i := range hands { // turned for one, another may not fit: then each has a sheet of its own side
		if w, h := Size(b, p, i); !sheet.takes(w, h) {
			return each(b, p, hands, paper)
		}
	}
	narrowest := math.Inf(1)
	for _, i := range hands {
		w, _ := Size(b, p, i)
		narrowest = min(narrowest, w)
	}
	var pages []*Page
	at := shelf{}
	for _, i := range hands {
		w, h := Size(b, p, i)
		middle, fresh := at.put(sheet, w, h)
		if fresh {
			pages = append(pages, newPage(b, sheet))
		}
		if at.first && at.x+narrowest+2*around > sheet.Width-margin { // it is alone in its row
			middle.X = sheet.Width / 2
		}
		last := pages[len(pages)-1]
		last.Plates = append(last.Plates, New(b, p, i, middle))
	}
	for _, page := range pages {
		page.caption(b)
	}
	return pages, nil
}

// each puts every dial on a sheet of its own.
func each(b *model.Build, p *circuit.Plan, hands []int, paper Paper) ([]*Page, error) {
	var pages []*Page
	for _, i := range hands {
		page, err := Pages(b, p, []int{i}, paper)
		if err != nil {
			return nil, err
		}
		pages = append(pages, page...)
	}
	return pages, nil
}

// A shelf is where the next plate of a sheet goes: rows from the top, each from the left.
type shelf struct {
	x, y, high   float64
	begun, first bool // a sheet; in its row
}

// put gives the middle of the next plate's place, and whether a new sheet begins with it.
func (s *shelf) put(sheet Paper, w, h float64) (middle Point, fresh bool) {
	right, low := sheet.Width-margin, sheet.Height-margin-belowStrip
	s.first = false
	if s.begun && s.x+w+2*around > right+1e-9 { // the next row
		s.x, s.y, s.high, s.first = margin+checkStrip, s.y+s.high, 0, true
	}
	if fresh = !s.begun || s.y+h+2*around > low+1e-9; fresh {
		*s = shelf{begun: true, first: true, x: margin + checkStrip, y: margin}
	}
	middle = xy(s.x+around+w/2, s.y+around+h/2)
	s.x, s.high = s.x+w+2*around, max(s.high, h+2*around)
	return middle, fresh
}

// newPage is a sheet with its check lines.
func newPage(b *model.Build, sheet Paper) *Page {
	const weight = 0.18
	low := sheet.Height - margin
	across := xy(margin+checkStrip+4, low-6)
	along := xy(margin+5, low-6-CheckLength)
	return &Page{Width: sheet.Width, Height: sheet.Height, Title: b.Title, Checks: [2]Line{
		{across, xy(across.X+CheckLength, across.Y), weight},
		{along, xy(along.X, along.Y+CheckLength), weight},
	}}
}

// caption says beside the check lines how the sheet is to be printed, and what is on it.
func (p *Page) caption(b *model.Build) {
	const height, line = 2.1, 4.2
	across, along := p.Checks[0], p.Checks[1]
	set := func(text string) letters.Outline { return letters.Set(text, letters.Regular, height, 0.03) }
	centred := func(text string, at Point, turn float64) {
		p.Words = append(p.Words, set(text).Placed(at, turn))
	}
	centred("50 mm", xy((across.From.X+across.To.X)/2, across.From.Y+3.6), 0)
	centred("50 mm", xy(along.From.X-2.6, (along.From.Y+along.To.Y)/2), -90)
	x, y := across.To.X+8, across.From.Y-line
	var dials []string
	for _, plate := range p.Plates {
		dials = append(dials, fmt.Sprintf("%s: %s, radius %s mm", plate.Hand, degrees(plate.Sweep), Length(plate.Radius)))
	}
	for _, text := range []string{"print at 100 %: both lines measure 50 mm then", b.Title, strings.Join(dials, "; ")} {
		o := set(text)
		if w, _ := o.Size(); w > 0 {
			by := min(1, (p.Width-margin-x)/w) // a long title is set smaller
			o = letters.Set(text, letters.Regular, height*by, 0.03)
			w, _ = o.Size()
			p.Words = append(p.Words, o.Placed(xy(x+w/2, y), 0))
		}
		y += line
	}
}

// degrees is a sweep without its sign.
func degrees(sweep float64) string { return quantity.Show(max(sweep, -sweep), quantity.Degrees, 4) }
