package dial

import (
	"bytes"
	"encoding/binary"
	"encoding/xml"
	"errors"
	"image/png"
	"io"
	"math"
	"runtime"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model/letters"

	plate "example.com/needlewright/model/dial"
)

// An element of an SVG, with the group of a dial that it stands in.
type element struct {
	name string
	attr map[string]string
	dial map[string]string // attributes of that group; nil: none
}

func (e element) number(t *testing.T, name string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(e.attr[name], 64)
	require.NoError(t, err, "%s of %v", name, e)
	return x
}

// elements are those of an SVG, read by an XML reader.
func elements(t *testing.T, text string) []element {
	t.Helper()
	var all []element
	var open []element
	d := xml.NewDecoder(strings.NewReader(text))
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			require.Empty(t, open)
			return all
		}
		require.NoError(t, err)
		switch token := token.(type) {
		case xml.StartElement:
			e := element{name: token.Name.Local, attr: map[string]string{}}
			for _, a := range token.Attr {
				e.attr[a.Name.Local] = a.Value
			}
			for _, o := range open {
				if o.attr["class"] == "dial" {
					e.dial = o.attr
				}
			}
			open, all = append(open, e), append(all, e)
		case xml.EndElement:
			open = open[:len(open)-1]
		}
	}
}

// The lines of an SVG agree with its plan to 1e-6 mm, on every kind of dial: the ticks by
// what their group says of pivot, start, sweep and radius, and the check lines. Nothing is
// transformed, and the page is in mm.
func TestSVGAgrees(t *testing.T) {
	for _, k := range kinds {
		page := sheets(t, example(t, k.example), k.set...)[0]
		all := elements(t, SVG(page))
		assert.Equal(t, "svg", all[0].name)
		assert.Equal(t, [3]string{"210mm", "297mm", "0 0 210 297"}, [3]string{all[0].attr["width"], all[0].attr["height"], all[0].attr["viewBox"]})
		d, checks, ticks := page.Plates[0], 0, 0
		for _, e := range all {
			assert.NotContains(t, e.attr, "transform")
			class, _, _ := strings.Cut(e.attr["class"], " ")
			switch class {
			case "check":
				checks++
				assert.InDelta(t, 50, math.Hypot(e.number(t, "x2")-e.number(t, "x1"), e.number(t, "y2")-e.number(t, "y1")), 1e-6)
			case "tick":
				tick := d.Ticks[ticks]
				ticks++
				assert.Equal(t, tick.Time, e.attr["data-time"])
				assert.Equal(t, "tick "+string(tick.Kind), e.attr["class"])
				x, y, _ := strings.Cut(e.dial["data-pivot"], ",")
				group := element{attr: map[string]string{"x": x, "y": y, "start": e.dial["data-start"], "sweep": e.dial["data-sweep"], "radius": e.dial["data-radius"]}}
				angle := (group.number(t, "start") + group.number(t, "sweep")*(tick.Angle-d.Start)/d.Sweep) * math.Pi / 180
				assert.InDelta(t, group.number(t, "x")+group.number(t, "radius")*math.Sin(angle), e.number(t, "x1"), 1e-6)
				assert.InDelta(t, group.number(t, "y")-group.number(t, "radius")*math.Cos(angle), e.number(t, "y1"), 1e-6)
				assert.InDelta(t, tick.To.X, e.number(t, "x2"), 1e-6)
				assert.InDelta(t, tick.To.Y, e.number(t, "y2"), 1e-6)
			}
		}
		assert.Equal(t, 2, checks, k.name)
		assert.Len(t, d.Ticks, ticks, k.name)
	}
}

// Whatever a title or what is asked for contains, the SVG holds nothing that could run, and
// says it as text. Marks of direction are left out.
func TestHostileTitles(t *testing.T) {
	for _, title := range []string{
		`<script>alert(1)</script>`, `"><image href="http://example.com/x"/>`, `' onload='x`, `]]>&amp;<!-- -->`, "\u202eright to left\u202c \u200f", "\x01\x1b[31m", "</title></svg>", strings.Repeat("<", 199),
	} {
		page := sheets(t, example(t, "reading-room"), "title", title)[0]
		text := SVG(page)
		names := map[string]bool{}
		for _, e := range elements(t, text) {
			names[e.name] = true
			for a := range e.attr {
				assert.False(t, strings.HasPrefix(a, "on") || a == "href", a)
			}
		}
		assert.Subset(t, []string{"svg", "title", "g", "path", "line", "circle"}, keysOf(names), title)
		assert.NotContains(t, text, "\u202e")
		assert.NotContains(t, text, "\u200f")
		assert.NotContains(t, text, "\x1b")
		pdf, err := PDF([]*plate.Page{page})
		require.NoError(t, err)
		assert.True(t, bytes.HasPrefix(pdf, []byte("%PDF-")))
	}
}

func keysOf(names map[string]bool) []string {
	var all []string
	for n := range names {
		all = append(all, n)
	}
	return all
}

// The same sheets have the same bytes: drawn again, in another zone, on one core, later.
func TestSameBytes(t *testing.T) {
	zone := time.Local
	t.Cleanup(func() { time.Local = zone })
	made := func() [3]string {
		pages := sheets(t, example(t, "station-platform"))
		pdf, err := PDF(pages)
		require.NoError(t, err)
		picture, err := PNG(pages[0], 100)
		require.NoError(t, err)
		return [3]string{SVG(pages[0]), string(pdf), string(picture)}
	}
	first := made()
	time.Local = time.FixedZone("elsewhere", 9*3600)
	time.Sleep(1100 * time.Millisecond) // dates in a PDF are to the second
	cores := runtime.GOMAXPROCS(1)
	t.Cleanup(func() { runtime.GOMAXPROCS(cores) })
	assert.True(t, first == made())
	assert.NotContains(t, first[1], time.Now().Format("D:2006"))
	assert.Contains(t, first[1], "D:20000101000000")
}

// A picture says its dots: 600 an inch are 23 622 a metre. Birthplace: derived,
// 600/0.0254.
func TestPictureSaysItsDots(t *testing.T) {
	page := sheets(t, example(t, "reading-room"))[0]
	content, err := PNG(page, 600)
	require.NoError(t, err)
	head, err := png.DecodeConfig(bytes.NewReader(content))
	require.NoError(t, err)
	assert.Equal(t, [2]int{4961, 7016}, [2]int{head.Width, head.Height}) // 210 and 297 mm
	at := bytes.Index(content, []byte("pHYs"))
	require.Positive(t, at)
	assert.EqualValues(t, 23622, binary.BigEndian.Uint32(content[at+4:]))
	assert.EqualValues(t, 23622, binary.BigEndian.Uint32(content[at+8:]))
}

// A sheet of a PDF is as large as its paper, a page each.
func TestPDFPages(t *testing.T) {
	pages := sheets(t, example(t, "station-platform"))
	require.Len(t, pages, 2)
	pdf, err := PDF(pages)
	require.NoError(t, err)
	assert.Equal(t, 2, bytes.Count(pdf, []byte("/Type /Page\n")))
	assert.Contains(t, string(pdf), "595.28 841.89") // A4 in points, to a hundredth
	assert.NotContains(t, string(pdf), "/Font\n<<", "no font is needed")
}

// Curves leave the circle by less than a thousandth of a millimetre, at the largest radius.
func TestArcIsRound(t *testing.T) {
	const radius = 1000
	o := letters.Outline{Segments: arcPath(plate.Point{}, radius, -120, 120)}
	o.Walk(func(p plate.Point) { assert.InDelta(t, radius, math.Hypot(p.X, p.Y), 1e-3) })
}
