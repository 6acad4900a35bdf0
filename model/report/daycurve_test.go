package report

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/modeltest"
	"example.com/needlewright/model/quantity"
)

// A plainHand is one hand worked out from catalogue.md by the plainest means, with
// nothing of calc or of the plan: every equation is bisected.
type plainHand struct {
	b              *model.Build
	h              *model.Hand
	minutes, steps float64
	law            func(current float64) float64
	rail, duty     float64 // V, at the top code
	before, chain  float64 // Ω before the node but for the pin, and in all
	setting        float64
}

// bisected is where a rising f meets zero, from low to high.
func bisected(f func(float64) float64, low, high float64) float64 {
	for range 200 {
		if x := (low + high) / 2; f(x) < 0 {
			low = x
		} else {
			high = x
		}
	}
	return low
}

func newPlainHand(b *model.Build) *plainHand {
	h := &b.Hands[0]
	m, d := &h.Meter, &h.Drive
	p := &plainHand{b: b, h: h, rail: b.Rail.Voltage.Number, duty: float64(d.Top+d.DutyOffset) / float64(d.Counts)}
	p.minutes = map[string]float64{"12 h": 720, "24 h": 1440, "60 min": 60, "60 s": 1}[h.Shows]
	p.steps = map[string]float64{"12 h": 720, "24 h": 1440, "60 min": 60, "60 s": 60}[h.Shows]
	p.law = func(x float64) float64 {
		switch m.Law {
		case "square":
			return x * x
		case "table":
			k := 1
			for k < len(m.Table)-1 && x > m.Table[k].Current {
				k++
			}
			from, to := m.Table[k-1], m.Table[k]
			return from.Scale + (x-from.Current)*(to.Scale-from.Scale)/(to.Current-from.Current)
		}
		return x
	}
	inside := 0.0
	if m.InCircuit == "yes" && m.InternalKind == "multiplier" {
		inside = m.Internal.Number
	}
	p.setting = p.rail*p.duty/m.FullScale.Number - m.Coil.Number - inside - d.PinResistance.Number - d.Stage.Number - d.Fixed.Number
	p.setting = max(0, min(d.Trimmer.Number, p.setting))
	if d.Setting.Given() {
		p.setting = d.Setting.Number
	}
	p.before = d.Stage.Number
	if d.CapacitorAt == "coil" {
		p.before += d.Fixed.Number + p.setting
	}
	p.chain = d.PinResistance.Number + d.Stage.Number + d.Fixed.Number + p.setting + inside + m.Coil.Number
	return p
}

// wanted is the share of current that the firmware means.
func (p *plainHand) wanted(y float64) float64 {
	if p.h.Correct == "codes" {
		return bisected(func(x float64) float64 { return p.law(x) - y }, 0, 2)
	}
	return y
}

// shows is what the dial says of a share of current.
func (p *plainHand) shows(x float64) float64 {
	if p.h.Correct == "dial" {
		return x
	}
	return p.law(x)
}

// needle is how far the needle itself is off.
func (p *plainHand) needle(y float64) float64 {
	x := float64(p.h.Drive.Top) * p.wanted(y)
	code := math.Floor(x + 1e-9)
	if p.h.Drive.Rounding == "nearest" {
		code = math.Floor(x + 0.5 + 1e-9)
	}
	current := p.rail * (code + float64(p.h.Drive.DutyOffset)) / float64(p.h.Drive.Counts) / p.chain
	return p.shows(current/p.h.Meter.FullScale.Number) - y
}

// node is the voltage of the filter's node at a duty, on a rail of 1 V.
func (p *plainHand) node(duty float64) float64 {
	d := &p.h.Drive
	up, down, after := p.before+d.PinHigh.Number, p.before+d.PinLow.Number, p.chain-p.before-d.PinResistance.Number
	return bisected(func(v float64) float64 { return (1-duty)*v/down + v/after - duty*(1-v)/up }, 0, 1)
}

// diodesCoil is the coil's voltage at a share of the supply, V.
func (p *plainHand) diodesCoil(x float64) float64 {
	leak := func(v float64) float64 { return 2.5e-9 * (math.Exp(v/46.3e-3) - 1) }
	m := &p.h.Meter
	full, supply := m.FullScale.Number*m.Coil.Number, p.rail*p.duty
	series := (supply - full) / (m.FullScale.Number + leak(full))
	return bisected(func(v float64) float64 { return v/m.Coil.Number + leak(v) - (x*supply-v)/series }, 0, full)
}

// stands is what is known of the error at a share of the dial, min.
func (p *plainHand) stands(y, lawRipple float64) float64 {
	m, d := &p.h.Meter, &p.h.Drive
	x := p.wanted(y)
	off := p.needle(y) + m.ZeroOffset.Number*(1-y)
	if d.PinHigh.Given() && d.PinLow.Given() && d.Capacitor.Number > 0 {
		bend := p.node(x*p.duty)/p.node(p.duty) - x
		off += p.shows(x+bend) - p.shows(x)
	}
	if m.Diodes == "silicon" && d.Capacitor.Number > 0 {
		bend := p.diodesCoil(x)/(m.FullScale.Number*m.Coil.Number) - x
		off += p.shows(x+bend) - p.shows(x)
	}
	off *= p.minutes
	if m.Law == "square" {
		off += 4 * y * (1 - y) * lawRipple
	}
	return off
}

// either is the root of the squares of what may be either way at a share of the
// dial, min. Its ripples, its cells' errors and its lag are those of the plan.
func (p *plainHand) either(y float64, plan *circuit.HandPlan, settling float64) float64 {
	m, d := &p.h.Meter, &p.h.Drive
	between, x := 4*y*(1-y), p.wanted(y)
	gain := func(offs ...float64) float64 {
		most := 0.0
		for _, e := range offs {
			most = max(most, math.Abs(p.shows(x*(1+e))-p.shows(x)))
		}
		return most
	}
	parts := []float64{m.Stick.Number, plan.RippleNeedle / 2 / p.minutes, settling / p.minutes}
	if plan.FadeError > 0 {
		parts = append(parts, gain(-plan.FadeError/p.minutes))
	} else {
		parts = append(parts, gain(p.b.Rail.Drift.Number, -p.b.Rail.Drift.Number))
	}
	if plan.FreshError > 0 {
		parts = append(parts, gain(plan.FreshError/p.minutes))
	}
	switch {
	case m.Law == "table": // of these builds none has points that say better than 0.5 % of the scale
		parts = append(parts, 0.005*between)
	case m.Class.Given():
		parts = append(parts, m.Class.Number*between)
	}
	if m.Law == "table" {
		parts = append(parts, plan.LawRippleError/p.minutes*between)
	}
	tempco := m.MovementTempco.Number
	if math.IsNaN(tempco) { // 0, and the class for each 10 K
		tempco = 0
		x, at := p.b.Crystal, p.b.Rail.TrimmedAt.Number
		off := m.Class.Number / 10 * max(math.Abs(x.RoomLow.Number-at), math.Abs(x.RoomHigh.Number-at))
		if !math.IsNaN(off) {
			parts = append(parts, gain(off, -off))
		}
	}
	mounting := 0.0
	if m.Panel != "" && m.PanelFor != "any" && m.Panel != m.PanelFor {
		mounting += 0.05
	}
	if m.Position != "" && m.PositionFor != "any" && m.Position != m.PositionFor {
		mounting += 0.02
	}
	parts = append(parts, mounting)
	if d.CapacitorKind == "electrolytic" && d.Capacitor.Number > 0 {
		leak := 3e-6 * (p.before + d.PinResistance.Number) / p.chain / m.FullScale.Number
		parts = append(parts, gain(leak, -leak))
	}
	if d.TrimmerTurns.Given() {
		step := d.Trimmer.Number * min(0.005, 0.01/d.TrimmerTurns.Number) / p.chain / 2
		parts = append(parts, gain(step, -step))
	}
	var warm []float64
	for _, t := range []float64{p.b.Crystal.RoomLow.Number, p.b.Crystal.RoomHigh.Number} {
		by := t - p.b.Rail.TrimmedAt.Number
		copper := 1 - m.CoilCopper.Number + m.CoilCopper.Number*(234.5+t)/(234.5+p.b.Rail.TrimmedAt.Number)
		pin := d.PinResistance.Number
		hot := (p.chain-m.Coil.Number-pin)*(1+d.ResistorTempco.Number*1e-6*by) + pin*(1+d.PinTempco.Number*1e-6*by) + m.Coil.Number*copper
		warm = append(warm, p.chain/hot*(1+tempco*1e-6*by)-1)
	}
	parts = append(parts, gain(warm...))
	squares := 0.0
	for _, part := range parts {
		squares += part * part
	}
	return p.minutes * math.Sqrt(squares)
}

// TestDayCurve: an independent computation, a plain loop over every instant of the
// dial, from the text by the definitions of catalogue.md. The ripples and the lag of
// a needle are the plan's, tested on their own.
func TestDayCurve(t *testing.T) {
	all := modeltest.WithErrors(t)
	room := modeltest.Example("reading-room")
	all["noon at zero, down"] = modeltest.With(t, room, "hand.hours.noon", "zero", "hand.hours.drive.rounding", "down", "hand.hours.drive.top", "239")
	all["a day's dial"] = modeltest.With(t, all["square, codes"], "hand.hours.shows", "24 h", "hand.hours.drive.top", "231")
	compared := 0
	for name, text := range all {
		r := check(modeltest.Sound(t, text))
		if len(r.Build.Hands) > 0 && len(r.Build.Hands[0].Scale) > 0 {
			continue // its law is that of the rows, which is held where it is made
		}
		plot, p, h := r.DayCurve(0), newPlainHand(r.Build), &r.Plan.Hands[0]
		drawable(t, name, plot)
		settling := 0.0
		if p.minutes == 1 && h.NeedleSettling > 1 {
			settling = r.Plan.Circuit.Hands[0].Movement.Lag(1) / 60
		}
		lines := plot.Lines
		require.Len(t, lines, 3)
		for s := range int(p.steps) {
			y := float64(s) / p.steps
			if s == 0 && p.h.Noon == "top" {
				y = 1
			}
			want, either := p.stands(y, h.LawRippleError), p.either(y, h, settling)
			for k, y := range []float64{want, want + either, want - either} {
				require.InDelta(t, y, lines[k].Points[s].Y, 1e-9*p.minutes, "%s at %d", name, s)
				require.InDelta(t, float64(s)/p.steps*p.minutes, lines[k].Points[s].X*minutesOf(plot.X), 1e-9)
			}
			compared++
		}
		require.Len(t, lines[0].Points, int(p.steps), "every instant")
	}
	assert.Greater(t, compared, 14*720)
}

// minutesOf is how many minutes one on an axis of time is.
func minutesOf(a circuit.Axis) float64 {
	return map[quantity.Unit]float64{quantity.Hours: 60, quantity.Minutes: 1, quantity.Seconds: 1.0 / 60}[a.Unit]
}

// TestDayOfEqualSteps: derived by hand; 240 codes of 3 min, to the nearest, make
// 0, -1 and +1 min at the first three minutes; a rail 2 % higher with the trimmer
// where it was shows 2 % more at noon: 14.4 min.
func TestDayOfEqualSteps(t *testing.T) {
	text := modeltest.Example("reading-room")
	nominal := func(text string) ([]circuit.Dot, *Report) {
		r := check(modeltest.Sound(t, text))
		return line(t, r.DayCurve(0), "nominal"), r
	}
	dots, r := nominal(modeltest.With(t, text, "hand.hours.noon", "zero"))
	assert.InDelta(t, 0, dots[0].Y, 1e-9)
	assert.InDelta(t, -1, dots[1].Y, 1e-9)
	assert.InDelta(t, 1.0/60, dots[1].X, 1e-12)
	assert.InDelta(t, 1, dots[2].Y, 1e-9)

	setting := modeltest.ValueText(r.Plan.Hands[0].TrimmerSetting, quantity.Ohms)
	dots, _ = nominal(modeltest.With(t, text, "hand.hours.drive.setting", setting, "rail.voltage", "5.1 V"))
	assert.InDelta(t, 14.4, dots[0].Y, 1e-9)
}

// TestAnyDayCurve: a law, of any build without problems.
func TestAnyDayCurve(t *testing.T) {
	modeltest.Long(t)
	rapid.Check(t, func(t *rapid.T) {
		_, build := modeltest.SoundOrSkip(t, modeltest.Draw(t))
		r := check(build)
		for i := range build.Hands {
			for _, l := range r.DayCurve(i).Lines {
				for _, d := range l.Points {
					require.False(t, math.IsNaN(d.Y) || math.IsInf(d.Y, 0), l.Name)
				}
			}
		}
	})
}

// line is a plot's line of this name.
func line(t *testing.T, plot circuit.Plot, name string) []circuit.Dot {
	for _, l := range plot.Lines {
		if l.Name == name {
			return l.Points
		}
	}
	require.Fail(t, "no line "+name, "%v", plot.Title)
	return nil
}

// drawable holds a plot to what a drawing needs.
func drawable(t *testing.T, where string, plot circuit.Plot) {
	assert.NotEmpty(t, plot.Title, where)
	assert.NotEmpty(t, plot.X.Label, where)
	assert.NotEmpty(t, plot.Y.Label, where)
	for _, l := range plot.Lines {
		assert.NotEmpty(t, l.Name, where)
		assert.GreaterOrEqual(t, len(l.Points), 2, "%s: %s", where, l.Name)
		if !l.Apart {
			assert.LessOrEqual(t, len(l.Points), 420, "%s: %s", where, l.Name)
		}
		for k, d := range l.Points {
			require.False(t, math.IsNaN(d.X+d.Y) || math.IsInf(d.X+d.Y, 0), "%s: %s: %v", where, l.Name, d)
			if k > 0 {
				assert.GreaterOrEqual(t, d.X, l.Points[k-1].X, "%s: %s", where, l.Name)
			}
		}
	}
}
