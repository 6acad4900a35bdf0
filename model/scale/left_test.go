package scale

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/calc"
)

// What Left says against what the law is off by, all over the dial: the share of places at which it is
// more, of readings that are wrong by up to half a percent.
func TestLeftHoldsTheTruth(t *testing.T) {
	random := rand.New(rand.NewPCG(4, 7))
	for _, read := range []float64{0.001, 0.005} {
		beyond, n, said, off := 0, 0, 0.0, 0.0
		for range 8 {
			for _, at := range []func(float64) float64{square, cosine, smoothstep, logistic, straight} {
				f := Fit(bench{at: at, top: 240, parts: 6, decimals: 2, read: read, random: random}.rows(), twelve)
				for k := range 100 {
					y := float64(k) / 100
					e := math.Abs(at(f.Law.Inverse(y)) - y)
					if n++; e > f.Left(y)+1e-6 {
						beyond++
					}
					said, off = said+f.Left(y), off+e
				}
			}
		}
		t.Logf("read within %v: %.1f %% beyond; said %.2f %%, off %.2f %% in the mean", read, 100*float64(beyond)/float64(n), 100*said/float64(n), 100*off/float64(n))
		assert.LessOrEqual(t, float64(beyond)/float64(n), 0.15)
		assert.Less(t, said, 6*off)
	}
}

// Too few points to tell: common practice. Nothing is left at the ends, which are set.
func TestLeftWithoutScatter(t *testing.T) {
	rows := bench{at: square, top: 240, parts: 2, decimals: 4}.rows()
	f := Fit(rows, twelve)
	require.True(t, f.Enough)
	assert.True(t, math.IsNaN(f.Scatter))
	assert.InDelta(t, 0.005, f.Left(0.25), 1e-6)
	assert.Zero(t, f.Left(0))
	assert.InDelta(t, 0, f.Left(1), 1e-9)
	assert.GreaterOrEqual(t, f.MostLeft(), 0.005)
	none := Fit(nil, twelve)
	assert.InDelta(t, 0.005, none.Left(0.5), 1e-15)
}

// The next point lies where the scale is bent and not where the widest gap is.
func TestNext(t *testing.T) {
	// Invented: even up to half, with the widest gaps, and waves behind it.
	waves := func(x float64) float64 { return x + 0.06*math.Sin(4*math.Pi*max(0, x-0.5)) }
	var rows []Row
	for _, code := range []int{0, 60, 120, 150, 180, 210, 240} {
		rows = append(rows, Row{Code: code, Of: 240, Stands: fmt.Sprintf("%.4f %%", 100*waves(float64(code)/240))})
	}
	f := Fit(rows, twelve)
	require.True(t, f.Enough)
	assert.True(t, 120 < f.Next.Code && f.Next.Code < 240, "%+v", f.Next)
	assert.Positive(t, f.Next.Off)
	rows = append(rows, Row{Code: f.Next.Code, Of: 240, Stands: fmt.Sprintf("%.4f %%", 100*waves(float64(f.Next.Code)/240))})
	again := Fit(rows, twelve)
	assert.NotEqual(t, f.Next.Code, again.Next.Code)
	// All codes measured: none is left.
	f = Fit([]Row{{Code: 0, Stands: "0 %"}, {Code: 1, Stands: "50 %"}, {Code: 2, Stands: "100 %"}}, Hand{Shows: "12 h", Top: 2})
	assert.True(t, f.Enough)
	assert.Equal(t, -1, f.Next.Code)
}

// The contract: at most 1.5 steps of the dial between neighbouring codes, and what was read wrong: to the minute.
func TestStraightenedIsTrue(t *testing.T) {
	for name, at := range map[string]func(float64) float64{"square": square, "cosine": cosine, "smoothstep": smoothstep, "logistic": logistic} {
		for _, top := range []int{240, 720} {
			b := bench{at: at, top: top, parts: 6}
			rows := b.rows()
			for i := range rows {
				minutes := int(math.Round(720 * at(float64(rows[i].Code)/float64(top))))
				rows[i].Stands = fmt.Sprintf("%d:%02d", minutes/60, minutes%60)
			}
			f := Fit(rows, Hand{Shows: "12 h", Top: top})
			c := calc.Quantisation{Law: &f.Law, Top: float64(top), Steps: 720, Codes: true}
			code := 0.0
			for s := range 720 {
				y := float64(s) / 720
				for at((code+1)/c.Top) <= y {
					code++
				}
				step := at((code+1)/c.Top) - at(code/c.Top)
				assert.LessOrEqual(t, math.Abs(at(c.Code(y)/c.Top)-y), 1.5*step+0.5/720, "%s, %d codes, %d min", name, top, s)
			}
			told := f.Straightened(calc.Quantisation{Top: float64(top), Steps: 720})
			assert.Less(t, told.Codes, told.None)
			assert.InDelta(t, 0, told.Dial, 0.51/float64(top))
		}
	}
}

// Derived: the first of 240 codes of a cube root moves the needle by the cube root of 1/240 of 720 min.
func TestSteepest(t *testing.T) {
	c := calc.Quantisation{Top: 240, Steps: 720}
	f := Fit(bench{at: math.Cbrt, top: 240, parts: 6, decimals: 4}.rows(), twelve)
	s := f.Steepest(c)
	assert.InDelta(t, 720*math.Cbrt(1.0/240), 720*s.Step, 0.5)
	assert.True(t, s.TooSteep)
	assert.Equal(t, "Near 0:00 one code moves the needle by 116 min: the scale is too steep there for codes to straighten it. A dial drawn to the needle would read right.", s.Text("12 h", 720))
	for _, at := range []func(float64) float64{square, cosine, smoothstep, logistic, straight} {
		f := Fit(bench{at: at, top: 240, parts: 6, decimals: 4}.rows(), twelve)
		assert.Empty(t, f.Steepest(c).Text("12 h", 720))
	}
}

func BenchmarkFit(b *testing.B) {
	rows := bench{at: cosine, top: 240, parts: 6, decimals: 4}.rows()
	for b.Loop() {
		Fit(rows, twelve)
	}
}

// First sixths of the top code, then the point that tells most; a row that cannot be read is still wanted.
func TestWanted(t *testing.T) {
	rows := bench{at: square, top: 240, parts: 6, decimals: 4}.rows()
	assert.Equal(t, []int{0, 40, 80, 120, 160, 200, 240}, Fit(nil, twelve).Wanted())
	assert.Equal(t, []int{40, 120, 160, 200, 240}, Fit([]Row{rows[2], rows[0]}, twelve).Wanted())
	f := Fit(rows, twelve)
	assert.Equal(t, []int{f.Next.Code}, f.Wanted())
	rows[3].Stands = "half"
	assert.Equal(t, []int{120}, Fit(rows, twelve).Wanted())
	assert.Equal(t, []int{0, 1, 2}, Fit(nil, Hand{Shows: "12 h", Top: 2}).Wanted(), "fewer codes than parts")
	all := Fit([]Row{{Code: 0, Stands: "0 %"}, {Code: 1, Stands: "50 %"}, {Code: 2, Stands: "100 %"}}, Hand{Shows: "12 h", Top: 2})
	assert.Empty(t, all.Wanted())
}

// What was seen is without the errors of the ends and the sticking: the scale itself, by derivation.
func TestSeen(t *testing.T) {
	b := bench{at: cosine, zero: 0.02, fullScale: -0.05, stick: 0.01, top: 240, parts: 6, decimals: 6, both: true}
	f := Fit(b.rows(), twelve)
	require.Len(t, f.Seen, 14)
	for i, s := range f.Seen {
		assert.Equal(t, i+1, s.Row)
		assert.InDelta(t, cosine(s.Current), s.Scale, 1e-6)
	}
	few := Fit([]Row{{Code: 120, Stands: "30 %"}}, twelve)
	assert.Equal(t, []Seen{{1, calc.Point{Current: 0.5, Scale: 0.3}}}, few.Seen, "as it was read")
}
