package dial

import (
	"math"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/letters"
	"example.com/needlewright/model/quantity"
)

// A Point stands on the page, in mm from its upper left corner, y down.
type Point = letters.Point

func xy(x, y float64) Point { return Point{X: x, Y: y} }

// A Line goes from one point to another.
type Line struct {
	From, To Point
	Width    float64 // mm
}

// A Rect is the edge of a plate.
type Rect struct{ X, Y, Width, Height float64 }

// A Kind is how long a tick is.
type Kind string

// The kinds of ticks.
const (
	Short  Kind = "short"
	Middle Kind = "middle"
	Long   Kind = "long"
)

// A Tick is a mark outside the arc.
type Tick struct {
	Line
	Kind  Kind
	Share float64 // of the dial's time
	Time  string  // the same, as it is written
	Angle float64 // degrees clockwise from straight up
}

// A Numeral is one that was set.
type Numeral struct {
	Share      float64 // of the dial's time
	Time, Text string
	Outline    letters.Outline
	hull       hull
}

// A Circle is a hole, or a window.
type Circle struct {
	Middle Point
	Radius float64
}

// A Band lies between two radii round the pivot, from an angle to another.
type Band struct{ Inner, Outer, From, To float64 }

// An Inner scale is the second one.
type Inner struct {
	Shows    string
	Radius   float64
	Lines    []Tick // from its radius inward
	Numerals []Numeral
}

// A Plate is the dial of a hand as it is printed, in mm on the page.
type Plate struct {
	Hand   string
	Edge   Rect
	Pivot  Point
	Start  float64 // direction of the needle at 0:00, degrees clockwise from straight up
	Sweep  float64 // degrees from there to where the whole time stands, clockwise
	Radius float64
	Weight float64 // of the arc, mm

	Ticks    []Tick
	Numerals []Numeral
	Second   *Inner
	Mirror   *Band
	Ends     []Line // fine marks where the needle stands at zero and at full scale
	Title    *letters.Outline
	Words    string // the title's text

	Holes, Windows []Circle
	Cuts           []Line // outside the plate's corners
	Notes          []string
}

// A measure is what a dial's form gives, with what stands in for what it does not, in mm
// and degrees.
type measure struct {
	form          *model.DialForm
	width, height float64
	pivot         Point // from the plate's middle, y down
	radius        float64
	start, sweep  float64
	figure        float64 // height of a numeral
	unit          float64 // 1 on a scale of 50 mm, by which marks grow
}

const (
	usualWidth   = 100.0 // mm
	half         = 90.0  // degrees to either side at which a scale goes half round
	figureShare  = 0.05  // of the plate's width
	lowPivot     = 0.43  // of the height, below the middle
	shallow      = 0.7   // height over width
	usualRadius  = 50.0  // mm, at which marks have their usual length and weight
	edgeShare    = 0.035 // of the width, kept free within the plate's edge
	millimetre   = 1e-3
	numeralRoom  = 1.5 // heights of a numeral that the arc leaves for it
	turnOfSweeps = 360.0
)

// lengths and weights of the ticks, mm, on a scale of the usual radius.
var (
	lengths = map[Kind]float64{Short: 2.3, Middle: 3.4, Long: 4.8}
	weights = map[Kind]float64{Short: 0.18, Middle: 0.26, Long: 0.45}
)

const (
	arcWeight = 0.25
	endWeight = 0.12
	gap       = 1.5 // between the long ticks and the numerals
)

// measureOf finds it for a hand of a build, with numerals so many times as high as usual
// where their height is not given.
func measureOf(h *model.Hand, c *circuit.HandCircuit, figures float64) measure {
	d := &h.Dial
	m := measure{form: d}
	m.start, m.sweep = directions(h, c)
	round := max(math.Abs(m.start), math.Abs(m.start+m.sweep)) > half+0.5
	m.width = millimetres(d.Width, millimetres(h.Meter.Diameter, usualWidth))
	tall := shallow * m.width
	if round {
		tall = m.width
	}
	m.height = millimetres(d.Height, tall)
	low := lowPivot * m.height
	if round {
		low = 0
	}
	m.pivot = xy(millimetres(d.PivotX, 0), -millimetres(d.PivotY, -low))
	m.figure = millimetres(d.NumeralHeight, figures*figureShare*m.width)
	m.radius = millimetres(d.Radius, m.roomiest())
	m.unit = min(max(m.radius/usualRadius, 0.5), 2)
	return m
}

// directions are the start and the sweep, degrees. Of a needle that rests in the middle and
// is driven one way the scale begins there, and has half of the sweep.
func directions(h *model.Hand, c *circuit.HandCircuit) (start, sweep float64) {
	whole := h.Meter.Sweep.Number
	sweep = whole * c.Used
	start = -whole/2 + whole*(1-c.Used)
	if c.Mirrored {
		start, sweep = -start, -sweep
	}
	if h.Dial.Start.Given() {
		start = h.Dial.Start.Number
	}
	return start, sweep
}

// millimetres is a length of the file, or another where it gives none.
func millimetres(v quantity.Value, other float64) float64 {
	if v.Given() {
		return v.Number / millimetre
	}
	return other
}

// roomiest is the largest radius that leaves room for ticks, numerals and an edge: the
// arc's ends and its highest, lowest and outermost places are looked at.
func (m *measure) roomiest() float64 {
	edge := edgeShare * m.width
	left, right := m.width/2+m.pivot.X-edge, m.width/2-m.pivot.X-edge
	up, down := m.height/2+m.pivot.Y-edge, m.height/2-m.pivot.Y-edge
	most := math.Inf(1)
	const parts = 180
	for k := range parts + 1 {
		sin, cos := math.Sincos((m.start + m.sweep*float64(k)/parts) * math.Pi / 180)
		for _, side := range [...]struct{ to, room float64 }{{sin, right}, {-sin, left}, {cos, up}, {-cos, down}} {
			if side.to > 1e-9 {
				most = min(most, side.room/side.to)
			}
		}
	}
	numerals := numeralRoom * m.figure
	if m.form.Numerals == "none" {
		numerals = 0
	}
	perRadius := (lengths[Long] + gap) / usualRadius // of long ticks and the gap, which grow with it
	return max((most-numerals)/(1+perRadius), 5)
}

// on is a point of the page at a radius and an angle round a pivot.
func on(pivot Point, radius, angle float64) Point {
	sin, cos := math.Sincos(angle * math.Pi / 180)
	return xy(pivot.X+radius*sin, pivot.Y-radius*cos)
}

// Size returns how wide and high the plate of a hand is, mm.
func Size(b *model.Build, p *circuit.Plan, i int) (width, height float64) {
	m := measureOf(&b.Hands[i], &p.Circuit.Hands[i], 1)
	return m.width, m.height
}

// New draws the dial of the i-th hand of a solved plan with the middle of its plate at a
// point of the page. Numerals that have no room are drawn smaller, where their height is not
// given; where no height has room for all, they have the usual one and some are left out.
func New(b *model.Build, p *circuit.Plan, i int, middle Point) *Plate {
	h, c := &b.Hands[i], &p.Circuit.Hands[i]
	d := drawing{hand: h, circuit: c}
	for _, figures := range []float64{1, 0.9, 0.8, 0.7, 0.6, 1} {
		d.measure = measureOf(h, c, figures)
		d.plate = &Plate{
			Hand: h.Name, Edge: Rect{middle.X - d.width/2, middle.Y - d.height/2, d.width, d.height},
			Pivot: xy(middle.X+d.pivot.X, middle.Y+d.pivot.Y),
			Start: d.start, Sweep: d.sweep, Radius: d.radius, Weight: d.weight(arcWeight),
		}
		if left := d.numerals(); left == 0 && !d.crowded() || d.form.NumeralHeight.Given() {
			break
		}
	}
	d.holes(middle)
	d.ticks()
	d.mirror()
	d.second()
	d.ends()
	d.title(b.Title)
	d.cuts()
	d.look()
	return d.plate
}

// A drawing is a plate in the making.
type drawing struct {
	measure
	hand    *model.Hand
	circuit *circuit.HandCircuit
	plate   *Plate
	inner   float64 // radius within which nothing stands yet
}

// weight is that of a line, which grows less than the dial.
func (d *drawing) weight(usual float64) float64 { return usual * min(max(d.unit, 0.7), 1.4) }

// place is where a share of the dial's time stands, a share of the sweep: 0 at the start.
func (d *drawing) place(share float64) float64 {
	return (d.circuit.Mark(share) - (1 - d.circuit.Used)) / d.circuit.Used
}

// angle is the same in degrees.
func (d *drawing) angle(share float64) float64 { return d.start + d.sweep*d.place(share) }

// line goes from one radius to another at an angle.
func (d *drawing) line(from, to, angle, width float64) Line {
	return Line{on(d.plate.Pivot, from, angle), on(d.plate.Pivot, to, angle), width}
}

// cuts are the marks at which the plate is cut out, clear of it.
func (d *drawing) cuts() {
	e := d.plate.Edge
	for _, x := range [...]struct{ at, out float64 }{{e.X, -1}, {e.X + e.Width, 1}} {
		for _, y := range [...]struct{ at, out float64 }{{e.Y, -1}, {e.Y + e.Height, 1}} {
			from, to := cutClear, cutClear+cutLong
			d.plate.Cuts = append(d.plate.Cuts,
				Line{xy(x.at+x.out*from, y.at), xy(x.at+x.out*to, y.at), endWeight},
				Line{xy(x.at, y.at+y.out*from), xy(x.at, y.at+y.out*to), endWeight})
		}
	}
}

// How far cut marks stand off the plate, and how long they are, mm.
const cutClear, cutLong = 2.0, 5.0

// mirror is the band below the arc.
func (d *drawing) mirror() {
	d.inner = d.radius
	if d.form.Mirror != "yes" {
		return
	}
	outer := d.radius - 1.1*d.unit
	inner := outer - 4.5*d.unit
	beyond := math.Copysign(2.5, d.sweep)
	if math.Abs(d.sweep)+2*math.Abs(beyond) > turnOfSweeps-5 {
		beyond = 0
	}
	d.plate.Mirror = &Band{Inner: inner, Outer: outer, From: d.start - beyond, To: d.start + d.sweep + beyond}
	d.inner = inner - 1.1*d.unit
}

// ends are fine marks where the needle stands at zero and at full scale, inside the arc.
func (d *drawing) ends() {
	if d.form.EndMarks == "no" {
		return
	}
	long := 3.4
	if d.plate.Mirror != nil {
		long = 5.6 // across the band
	}
	for _, place := range []float64{0, 1} {
		d.plate.Ends = append(d.plate.Ends, d.line(d.radius-long*d.unit, d.radius, d.start+d.sweep*place, endWeight))
	}
}

// holes puts holes and windows on the page.
func (d *drawing) holes(middle Point) {
	circles := func(holes []model.Hole) []Circle {
		var all []Circle
		for _, h := range holes {
			all = append(all, Circle{xy(middle.X+h.X/millimetre, middle.Y-h.Y/millimetre), h.Diameter / millimetre / 2})
		}
		return all
	}
	d.plate.Holes, d.plate.Windows = circles(d.form.Holes), circles(d.form.Windows)
}
