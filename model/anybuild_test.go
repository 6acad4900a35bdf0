package model

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/calc"
	"example.com/needlewright/model/quantity"
)

// TestAnyBuildGivesJSON: of builds with every field anywhere in its range, at
// either end or left out, whatever is chosen: each gives JSON that parses, without
// a null, whose bands hold their values, and text without a number that is none.
// NEEDLEWRIGHT_BUILDS says how many, for a long run.
func TestAnyBuildGivesJSON(t *testing.T) {
	builds := 40
	if text := os.Getenv("NEEDLEWRIGHT_BUILDS"); text != "" {
		var err error
		builds, err = strconv.Atoi(text)
		require.NoError(t, err)
	}
	accepted, failed := 0, 0
	for seed := range uint64(builds) {
		text := anyBuild(rand.New(rand.NewPCG(seed, 9)))
		if _, problems := Read(text); len(problems) > 0 {
			continue
		}
		accepted++
		if !checkNumbers(t, text) {
			t.Logf("seed %d:\n%s", seed, text)
			failed++
		}
		if failed > 5 {
			break
		}
	}
	assert.Greater(t, accepted, builds*2/3, "builds that are accepted")
}

// none is what Go prints for a number that is none.
var none = regexp.MustCompile(`NaN|Inf\b|%!`)

// checkNumbers holds all that is printed of a build to numbers.
func checkNumbers(t *testing.T, text string) bool {
	t.Helper()
	r, problems := Check(text)
	require.Empty(t, problems)
	out, err := r.JSON()
	ok := assert.NoError(t, err) && checkParses(t, out)
	for _, row := range r.Results {
		b := row.Band
		ok = ok && assert.True(t, b.Low <= row.Value && row.Value <= b.High && b.WorstLow <= row.Value && row.Value <= b.WorstHigh,
			"%s: %v %+v", row.IDOf(r.Build, row.Index), row.Value, *b)
		ok = ok && assert.NotRegexp(t, none, row.Text()+row.BandText(), row.ID)
	}
	for _, f := range r.Findings {
		ok = ok && assert.NotRegexp(t, none, f.Text+f.Advice)
	}
	for i := range r.Build.Hands {
		for _, horizon := range []Horizon{AfterDay, AfterCells} {
			budget := r.Budget(i, horizon)
			ok = ok && assert.NotRegexp(t, none, strings.Join(budget.Lines(r.Build), "\n"))
		}
	}
	if len(r.Build.Hands) > 0 {
		y, err := NewYield(context.Background(), r.Build, 50, 1, nil)
		require.NoError(t, err)
		out, err = y.JSON()
		ok = ok && assert.NoError(t, err) && checkParses(t, out)
	}
	return ok
}

// checkParses: the catalogue's JSON has no null.
func checkParses(t *testing.T, out []byte) bool {
	t.Helper()
	d := json.NewDecoder(bytes.NewReader(out))
	for {
		token, err := d.Token()
		if err != nil {
			return assert.ErrorContains(t, err, "EOF")
		}
		if !assert.NotNil(t, token, "a null before offset %d", d.InputOffset()) {
			return false
		}
	}
}

// anyBuild is the text of a build with anything in it, as sound as its own tables
// and pairs of values ask for.
func anyBuild(random *rand.Rand) string {
	b := Builds.room(func(string) int { return random.IntN(4) }).(*Build)
	var text strings.Builder
	for _, list := range []string{"", "hand", "lamp", "drain", "button", "reading"} {
		for i := range elements(b, list) {
			header := ""
			for _, f := range inFileOrder(list) {
				value := anyValue(f, i, random)
				if at := parent(f.Path); at != header {
					brackets := [2]string{"[", "]"}
					if at == list {
						brackets = [2]string{"[[", "]]"}
					}
					header = at
					fmt.Fprintf(&text, "%s%s%s\n", brackets[0], at, brackets[1])
				}
				if value != "" {
					fmt.Fprintf(&text, "%s = %s\n", last(f.Path), f.written(value))
				}
			}
		}
	}
	return agreed(text.String(), random)
}

// elements is how many of a list a build has; of no list, one.
func elements(b *Build, list string) int { return inFileOrder(list)[0].Of(b) }

// inFileOrder are the fields of a list, those of one table together, the list's own
// first.
func inFileOrder(list string) []*Field {
	tables, byTable := []string{list}, map[string][]*Field{}
	for _, f := range Builds.Fields {
		if f.list != list {
			continue
		}
		at := parent(f.Path)
		if at != "" && at != list && byTable[at] == nil {
			tables = append(tables, at)
		}
		byTable[at] = append(byTable[at], f)
	}
	var ordered []*Field
	for _, at := range tables {
		ordered = append(ordered, byTable[at]...)
	}
	return ordered
}

// anyValue is any that the field may have; "" leaves it out.
func anyValue(f *Field, i int, random *rand.Rand) string {
	switch {
	case f.Path == "format":
		return "1"
	case last(f.Path) == "name":
		return "n" + strconv.Itoa(i)
	case !f.Must && random.IntN(4) == 0:
		return ""
	case f.Choices != nil:
		return f.Choices[random.IntN(len(f.Choices))]
	}
	switch f.zero().(type) {
	case *quantity.Value:
		return anyQuantity(f, random)
	case *int:
		return strconv.Itoa(int(math.Round(anyNumber(f, random))))
	case *[]calc.Point:
		return `[[0, 0], [` + pairOf(random) + `], [100, 100]]`
	case *[]calc.Charge:
		top := 0.1 + 4*random.Float64()
		return fmt.Sprintf(`[[0, %.3f], [%.3g, %.3f], [100, %.3f]]`, top, anyShare(random), top*0.9, top*random.Float64()*0.9)
	}
	return "x"
}

// anyShare is a number of percent, in one of four next to nothing.
func anyShare(random *rand.Rand) float64 {
	if random.IntN(4) == 0 {
		return 100 * math.Pow(10, -300*random.Float64())
	}
	return 100 * random.Float64()
}

func pairOf(random *rand.Rand) string {
	return fmt.Sprintf("%.4g, %.4g", anyShare(random), anyShare(random))
}

// anyNumber is at an end of the range, or anywhere in it: by its logarithm where it
// is of one sign.
func anyNumber(f *Field, random *rand.Rand) float64 {
	switch n := random.IntN(8); {
	case n == 0:
		return f.low
	case n == 1:
		return f.high
	case n == 2 && f.low == 0:
		return f.high * math.Pow(10, -12*random.Float64()) // next to nothing
	case f.low > 0:
		return f.low * math.Pow(f.high/f.low, random.Float64())
	}
	return f.low + random.Float64()*(f.high-f.low)
}

func anyQuantity(f *Field, random *rand.Rand) string {
	v := quantity.Value{Number: anyNumber(f, random)}
	if random.IntN(2) == 0 && f.Unit != quantity.Celsius && v.Number != 0 {
		v.Tolerance, v.Share = []float64{0.01, 0.05, 0.3, 0.999}[random.IntN(4)], true
		if f.Unit == quantity.Percent {
			v.Tolerance, v.Share = math.Abs(v.Number)*v.Tolerance, false
		}
	}
	return quantity.Format(v, f.Unit)
}

// agreed makes values agree that must, and takes out those that still do not.
func agreed(text string, random *rand.Rand) string {
	for range 12 {
		b, problems := Read(text)
		if len(problems) == 0 {
			break
		}
		for _, p := range problems {
			f, index, problem := Builds.scan(text).resolve(p.Path)
			if problem != nil {
				continue
			}
			value := ""
			switch {
			case f.Path == "hand.drive.top":
				value = strconv.Itoa(1 + random.IntN(b.Hands[index].Drive.Counts))
			case f.Path == "hand.meter.table":
				value = "[[0, 0], [50, 47], [100, 100]]"
			case f.Path == "battery.cell":
				value = f.Choices[random.IntN(len(f.Choices))]
			case f.Path == "crystal.measured" && b.Crystal.Frequency.Given():
				value = quantity.Format(quantity.Value{Number: b.Crystal.Frequency.Number * (0.99 + 0.02*random.Float64())}, f.Unit)
			case f.Must:
				value = anyValue(f, index, random)
			}
			text, _ = Set(text, p.Path, value)
		}
	}
	return text
}

// Diodes across a coil of many volts take no more than the chain drives through
// them: derived, from Ohm's law of what is in series, and of the diode's own ohm.
func TestDiodesAcrossManyVolts(t *testing.T) {
	for _, c := range [][3]string{{"1 kΩ", "20 mA", "1 kΩ"}, {"100 kΩ", "1 A", "100 Ω"}, {"10 kΩ", "1 mA", "0 Ω"}} {
		text := with(t, testdata(t, "public-1.toml"), "rail.voltage", "5 V ±1 %", "hand.hours.meter.diodes", "silicon",
			"hand.hours.meter.coil", c[0]+" ±1 %", "hand.hours.meter.full_scale", c[1]+" ±1 %", "hand.hours.drive.fixed", c[2])
		b, p := soundPlan(t, text)
		d := &b.Hands[0].Drive
		most := 5 / (d.PinResistance.Number + d.Stage.Number + d.Fixed.Number + 1)
		assert.Less(t, p.Hands[0].DiodeLeak, most)
		assert.Greater(t, p.Hands[0].DiodeLeak, most/2, "of 5 V they leave most to the resistors")
		assert.True(t, checkNumbers(t, text))
	}
}
