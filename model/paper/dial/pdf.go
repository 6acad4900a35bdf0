package dial

import (
	"bytes"
	"fmt"
	"strings"
	"time"

	"codeberg.org/go-pdf/fpdf"

	"example.com/needlewright/model/letters"

	plate "example.com/needlewright/model/dial"
)

// always is the date of every file: the same sheet has the same bytes on any day.
var always = time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)

// pointsPerMM are PDF's units in a millimetre.
const pointsPerMM = 72 / 25.4

// PDF returns sheets as one PDF, all outlines: no font is needed to print it.
func PDF(pages []*plate.Page) ([]byte, error) {
	f := fpdf.New("P", "mm", "A4", "")
	f.SetCreationDate(always)
	f.SetModificationDate(always)
	f.SetCatalogSort(true)
	f.SetProducer("needlewright", false)
	f.SetTitle(printable(pages[0].Title), true)
	f.SetAutoPageBreak(false, 0)
	f.SetMargins(0, 0, 0)
	for _, p := range pages {
		f.AddPageFormat("P", fpdf.SizeType{Wd: p.Width, Ht: p.Height})
		f.RawWriteStr(content(p))
	}
	var out bytes.Buffer
	err := f.Output(&out)
	return out.Bytes(), err
}

// content are the shapes of a sheet as PDF has them, in mm with y down.
func content(p *plate.Page) string {
	var b strings.Builder
	fmt.Fprintf(&b, "q\n%s 0 0 %s 0 %s cm\n0 J 0 j\n", number(pointsPerMM), number(-pointsPerMM), number(p.Height*pointsPerMM))
	for _, s := range shapesOf(p) {
		if s.width > 0 {
			fmt.Fprintf(&b, "%s G %s w\n", decimals(s.grey, 3), number(s.width))
		} else {
			fmt.Fprintf(&b, "%s g\n", decimals(s.grey, 3))
		}
		pathData(&b, s.path)
		b.WriteString(map[bool]string{true: "S\n", false: "f\n"}[s.width > 0])
	}
	b.WriteString("Q\n")
	return b.String()
}

// pathData writes a path; a quadratic curve becomes the cubic one that it is.
func pathData(b *strings.Builder, path []letters.Segment) {
	var at plate.Point
	for _, s := range path {
		points := s.Points[:s.Op.Ends()]
		if s.Op == letters.Quad {
			c, end := s.Points[0], s.Points[1]
			third := func(a plate.Point) plate.Point {
				return plate.Point{X: a.X + (c.X-a.X)*2/3, Y: a.Y + (c.Y-a.Y)*2/3}
			}
			points = []plate.Point{third(at), third(end), end}
		}
		for _, p := range points {
			b.WriteString(decimals(p.X, 6) + " " + decimals(p.Y, 6) + " ")
		}
		at = points[len(points)-1]
		b.WriteString([...]string{letters.Move: "m\n", letters.Line: "l\n", letters.Quad: "c\n", letters.Cube: "c\n"}[s.Op])
	}
}
