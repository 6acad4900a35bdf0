package report

import (
	"encoding/json"
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/modeltest"
)

// printed is what a report's JSON has of scales.
type printed struct {
	Scales []struct {
		Hand                       string
		Rows                       int
		Enough                     bool
		Why                        string
		Zero, Stick, Left, Scatter *float64
		None, Codes, Dial          *float64
		Steepest                   *struct {
			Step float64
			At   string
		}
		Outliers []struct {
			Row int
			Off float64
		}
		Scaled []int
		Next   *struct {
			Code int
			Off  *float64
		}
	}
	Findings []struct {
		ID      string
		Changes []struct{ Path, Value string }
	}
}

func scalesOf(t *testing.T, text string) (*Report, printed) {
	t.Helper()
	r, problems := Check(text)
	require.Empty(t, problems)
	out, err := r.JSON()
	require.NoError(t, err)
	var p printed
	require.NoError(t, json.Unmarshal(out, &p))
	return r, p
}

// measuredText is reading-room with rows at sixths of its 240 codes, written into its text path by path, where the needle
// of a scale stood to the minute.
func measuredText(t *testing.T, at func(float64) float64) string {
	t.Helper()
	d := model.Open(modeltest.With(t, modeltest.Example("reading-room"), "hand.hours.correct", "codes"))
	for range 7 {
		var problem *model.Problem
		d, problem = d.AddRow("hand.scale", 0, nil)
		require.Nil(t, problem)
	}
	text := d.Text
	for k := range 7 {
		minutes := int(math.Round(720 * at(float64(k)/6)))
		for key, value := range map[string]string{"code": fmt.Sprint(40 * k), "of": "240", "stands": fmt.Sprintf("%d:%02d", minutes/60, minutes%60)} {
			var problem *model.Problem
			text, problem = model.Set(text, fmt.Sprintf("hand.hours.scale.%d.%s", k+1, key), value)
			require.Nil(t, problem)
		}
	}
	return text
}

// The contract: straightened by codes, the hand is wrong by at most 1.5 steps of the dial between the codes beside it, and
// by what was read wrong, half a minute; a cube root is said to be too steep, and a drawn dial is its cure.
func TestMeasuredScaleStraightens(t *testing.T) {
	for name, at := range map[string]func(float64) float64{
		"square": func(x float64) float64 { return x * x },
		"S":      func(x float64) float64 { return x * x * (3 - 2*x) },
		"cosine": func(x float64) float64 { return (1 - math.Cos(math.Pi*x)) / 2 },
		"cube":   math.Cbrt,
	} {
		r, p := scalesOf(t, measuredText(t, at))
		require.Len(t, p.Scales, 1, name)
		s := p.Scales[0]
		assert.Equal(t, "hours", s.Hand)
		assert.Equal(t, 7, s.Rows)
		assert.True(t, s.Enough, name)
		assert.Less(t, *s.Codes, *s.None, name)
		assert.Less(t, *s.Dial, 1.6, "%s: of 240 codes for 720 min one is 3 min", name)
		steep := false
		for _, f := range p.Findings {
			if steep = steep || f.ID == "scale_steep"; f.ID == "scale_steep" {
				require.NotEmpty(t, f.Changes)
				assert.Equal(t, "hand.hours.correct dial", f.Changes[0].Path+" "+f.Changes[0].Value)
			}
		}
		assert.Equal(t, name == "cube", steep, name)
		if steep { // derived: the first code moves it by the cube root of 1/240 of 720 min, 115.9 min
			assert.InDelta(t, 115.9, s.Steepest.Step, 1, name)
			assert.Equal(t, "0:00", s.Steepest.At)
			continue
		}
		c := r.Plan.Circuit.Hands[0].Quantisation()
		require.True(t, c.Codes)
		told := 0.0
		for k := range 720 {
			y := float64(k) / 720
			code := c.Code(y)
			below, above := at(math.Max(0, code-1)/240), at(math.Min(240, code+1)/240)
			step := max(above-at(code/240), at(code/240)-below)
			off := math.Abs(at(code/240) - y)
			told = max(told, off*720)
			assert.LessOrEqual(t, off, 1.5*step+0.5/720, "%s at %d min", name, k)
		}
		assert.InDelta(t, told, *s.Codes, 3, "%s: what is said is near what is true", name)
	}
}

// Without rows nothing is said; too few say what is missing, and leave out what is not known.
func TestScalesOfABuild(t *testing.T) {
	of := func(rows string) []Scale { return Of(model.Open(modeltest.Example("reading-room") + rows)).Scales() }
	assert.Empty(t, of(""))
	all := of("\n[[hand.scale]]\ncode = 120\nstands = \"49 %\"\n")
	require.Len(t, all, 1)
	s := all[0].record()
	assert.False(t, s.Enough)
	assert.Contains(t, s.Why, "1 of 5 points")
	assert.Nil(t, s.None)
	assert.Nil(t, s.Zero)
	assert.Nil(t, s.Stick)
	assert.Nil(t, s.Steepest)
	require.NotNil(t, s.Next)
	assert.Equal(t, 0, s.Next.Code)
	assert.Nil(t, s.Next.Off)
	assert.NotNil(t, s.Outliers)
	assert.NotNil(t, s.Scaled)
	assert.Equal(t, "hours: scale of 1 reading: 1 of 5 points are there; code 0, the top code and one between are enough; look next at code 0", all[0].String())
}

// The example: its true scale is 1.35·x² − 0.35·x⁴, invented; it sticks by 0.6 %, and was read to the minute. Computed
// of that alone: it is most off at x = 0.405, by 19.3 % of 720 min, 139.0 min, and the codes' half step of 1.5 min.
func TestMeasuredExample(t *testing.T) {
	r, p := scalesOf(t, modeltest.Example("net-loft"))
	s := p.Scales[0]
	assert.Equal(t, 8, s.Rows)
	assert.InDelta(t, 0.006, *s.Stick, 0.001)
	assert.InDelta(t, 140, *s.None, 3)
	assert.Less(t, *s.Codes, 3.0)
	assert.Empty(t, s.Outliers)
	assert.LessOrEqual(t, r.Worst(), judge.Note)
	for _, line := range []string{" off as it is, ", " straightened by codes, ", " on a drawn dial; look next at code "} {
		assert.Contains(t, r.Scales()[0].String(), line)
	}
}
