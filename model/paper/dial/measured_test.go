package dial

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	plate "example.com/needlewright/model/dial"
)

// What a print may be off, by the contract: mm at a check line, degrees at a tick.
const (
	offMM      = 0.1
	offDegrees = 0.1
	printDPI   = 600
)

// A picture is a sheet as somebody rendered it.
type picture struct {
	image.Image
	perMM float64
}

func pictureOf(t *testing.T, content []byte) picture {
	t.Helper()
	img, err := png.Decode(bytes.NewReader(content))
	require.NoError(t, err)
	return picture{img, printDPI / 25.4}
}

// ink is how dark the picture is at a dot, 0 to 1.
func (p picture) ink(x, y int) float64 {
	return 1 - float64(color.GrayModel.Convert(p.At(x, y)).(color.Gray).Y)/255
}

// at is the same at a place in mm, between dots.
func (p picture) at(x, y float64) float64 {
	x, y = x*p.perMM-0.5, y*p.perMM-0.5
	i, k := int(math.Floor(x)), int(math.Floor(y))
	u, v := x-float64(i), y-float64(k)
	return p.ink(i, k)*(1-u)*(1-v) + p.ink(i+1, k)*u*(1-v) + p.ink(i, k+1)*(1-u)*v + p.ink(i+1, k+1)*u*v
}

// longest is the longest run of ink of the picture's lower left part, mm, along a row, or a
// column where down; ends count by how dark they are. There are only the check lines.
func (p picture) longest(down bool) float64 {
	size := p.Bounds().Size()
	most := 0.0
	w, h := size.X/2, size.Y
	lines, along := h-size.Y/4, w
	if down {
		lines, along = int(20*p.perMM), h
	}
	for line := range lines {
		run := 0.0
		for k := range along {
			x, y := k, size.Y/4+line
			if down {
				x, y = line, k
			}
			if ink := p.ink(x, y); ink > 0.05 {
				run += ink
				most = max(most, run)
			} else {
				run = 0
			}
		}
	}
	return most / p.perMM
}

// ticks are the middles of what is dark on a circle round a pivot, degrees clockwise from
// straight up, in that order between two of them.
func (p picture) ticks(pivot plate.Point, radius, from, till float64) []float64 {
	const step = 0.002
	var found []float64
	sum, weight := 0.0, 0.0
	for angle := from; angle <= till; angle += step {
		o := onCircle(pivot, radius, angle)
		ink := p.at(o.X, o.Y)
		switch {
		case ink > 0.25:
			sum, weight = sum+ink*angle, weight+ink
		case weight > 0:
			found = append(found, sum/weight)
			sum, weight = 0, 0
		}
	}
	return found
}

// hold measures a picture of a sheet with one dial: check lines, pivot, each tick. worst
// are what it is off at most, mm and degrees.
func hold(t *testing.T, name string, p picture, page *plate.Page) (mm, deg float64) {
	t.Helper()
	size := p.Bounds().Size()
	assert.InDelta(t, page.Width*p.perMM, float64(size.X), 1, name)
	assert.InDelta(t, page.Height*p.perMM, float64(size.Y), 1, name)
	for _, down := range []bool{false, true} {
		long := p.longest(down)
		// the ends' own lines reach half their width beyond
		off := math.Abs(long - fine - plate.CheckLength)
		assert.LessOrEqual(t, off, offMM, "%s: a check line measures %.3f mm", name, long)
		mm = max(mm, off)
	}
	d := page.Plates[0]
	low, high := min(d.Start, d.Start+d.Sweep)-2, max(d.Start, d.Start+d.Sweep)+2
	shortest := math.Inf(1)
	for _, tick := range d.Ticks {
		shortest = min(shortest, math.Hypot(tick.To.X-tick.From.X, tick.To.Y-tick.From.Y))
	}
	found := p.ticks(d.Pivot, d.Radius+0.6*shortest, low, high)
	want := d.Ticks
	require.Len(t, found, len(want), "%s: ticks seen", name)
	for i, tick := range want {
		at := found[i]
		if d.Sweep < 0 {
			at = found[len(found)-1-i]
		}
		assert.InDelta(t, tick.Angle, at, offDegrees, "%s: the tick at %s", name, tick.Time)
		deg = max(deg, math.Abs(at-tick.Angle))
	}
	return mm, deg
}

// A PNG of a square-law dial measures as its plan says, by its dots alone.
func TestPictureMeasures(t *testing.T) {
	k := kinds[1]
	page := sheets(t, example(t, k.example), k.set...)[0]
	content, err := PNG(page, printDPI)
	require.NoError(t, err)
	mm, deg := hold(t, k.name, pictureOf(t, content), page)
	t.Logf("off by %.4f mm and %.4f° at most", mm, deg)
}

// Every kind of dial, as PDF rendered by poppler's pdftoppm and as PNG, measures as its
// plan says; and xmllint takes the SVG. It asks for both programs: .ci/papers.
func TestPrintedMeasures(t *testing.T) {
	if os.Getenv("NEEDLEWRIGHT_PRINTED") == "" {
		t.Skip("NEEDLEWRIGHT_PRINTED=1 renders with pdftoppm: .ci/papers")
	}
	for _, k := range kinds {
		page := sheets(t, example(t, k.example), k.set...)[0]
		folder := t.TempDir()
		pdf, err := PDF([]*plate.Page{page})
		require.NoError(t, err)
		file := filepath.Join(folder, "dial.pdf")
		require.NoError(t, os.WriteFile(file, pdf, 0o600))
		run(t, "pdftoppm", "-r", strconv.Itoa(printDPI), "-gray", "-png", "-singlefile", file, filepath.Join(folder, "dial"))
		rendered, err := os.ReadFile(filepath.Join(folder, "dial.png"))
		require.NoError(t, err)
		mm, deg := hold(t, k.name+", PDF", pictureOf(t, rendered), page)
		own, err := PNG(page, printDPI)
		require.NoError(t, err)
		ownMM, ownDeg := hold(t, k.name+", PNG", pictureOf(t, own), page)
		t.Logf("%-24s PDF off by %.3f mm, %.4f°; PNG by %.3f mm, %.4f°; %d ticks", k.name, mm, deg, ownMM, ownDeg, len(page.Plates[0].Ticks))
		file = filepath.Join(folder, "dial.svg")
		require.NoError(t, os.WriteFile(file, []byte(SVG(page)), 0o600))
		run(t, "xmllint", "--noout", file)
	}
}

func run(t *testing.T, name string, args ...string) {
	t.Helper()
	out, err := exec.Command(name, args...).CombinedOutput()
	require.NoError(t, err, "%s: %s", name, out)
	require.Empty(t, string(out), name)
}
