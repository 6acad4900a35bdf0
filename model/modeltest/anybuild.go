package modeltest

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strconv"
	"strings"

	"example.com/needlewright/calc"
	"example.com/needlewright/model"
	"example.com/needlewright/model/quantity"
)

// oneOfEach is a build with one of everything that there may be several of.
var oneOfEach, _ = model.Read("[[hand]]\n[[hand.scale]]\n[[hand.survey.step]]\n[[lamp]]\n[[drain]]\n[[button]]\n[[reading]]\n[[walk]]\n[[walk.met]]\n")

// AnyBuild returns the text of a build with anything in it, as sound as its own tables
// and pairs of values ask for.
func AnyBuild(random *rand.Rand) string {
	var text strings.Builder
	for _, list := range []string{"", "hand", "lamp", "drain", "button", "reading", "walk"} {
		elements := 1
		if list != "" {
			elements = random.IntN(4)
		}
		for i := range elements {
			anyElement(&text, list, i, random)
			for range rowsOf[list] {
				anyElement(&text, rowsOf[list][random.IntN(len(rowsOf[list]))], 0, random)
			}
		}
	}
	return agreed(text.String(), random)
}

// rowsOf are the lists of which the elements of another have rows.
var rowsOf = map[string][]string{"hand": {"hand.scale", "hand.survey.step"}, "walk": {"walk.met", "walk.met"}}

// anyElement writes one of a list.
func anyElement(text *strings.Builder, list string, i int, random *rand.Rand) {
	header := ""
	for _, f := range inFileOrder(list) {
		from := random
		if strings.HasPrefix(f.Path, "hand.dial.") { // no result depends on it: the builds stay those they are without
			from = rand.New(rand.NewPCG(uint64(text.Len()), uint64(i)))
		}
		value := anyValue(f, i, from)
		if at := parent(f.Path); at != header {
			brackets := [2]string{"[", "]"}
			if at == list {
				brackets = [2]string{"[[", "]]"}
			}
			header = at
			fmt.Fprintf(text, "%s%s%s\n", brackets[0], at, brackets[1])
		}
		if value != "" {
			fmt.Fprintf(text, "%s = %s\n", last(f.Path), written(f, value))
		}
	}
}

// inFileOrder are the fields of a list, those of one table together, the list's own
// first.
func inFileOrder(list string) []*model.Field {
	tables, byTable := []string{list}, map[string][]*model.Field{}
	for _, f := range model.Builds.Fields {
		if f.List() != list {
			continue
		}
		at := parent(f.Path)
		if at != "" && at != list && byTable[at] == nil {
			tables = append(tables, at)
		}
		byTable[at] = append(byTable[at], f)
	}
	var ordered []*model.Field
	for _, at := range tables {
		ordered = append(ordered, byTable[at]...)
	}
	return ordered
}

// anyValue is any that the field may have; "" leaves it out.
func anyValue(f *model.Field, i int, random *rand.Rand) string {
	switch {
	case f.Path == "format":
		return "1"
	case last(f.Path) == "name":
		return "n" + strconv.Itoa(i)
	case !f.Must && random.IntN(4) == 0, f.Path == "hand.dial.numerals", f.Path == "hand.dial.ticks":
		return ""
	case f.Choices != nil:
		return f.Choices[random.IntN(len(f.Choices))]
	}
	switch f.At(oneOfEach, 0).(type) {
	case *quantity.Value:
		return anyQuantity(f, random)
	case *int:
		return strconv.Itoa(int(math.Round(anyNumber(f, random))))
	case *[]model.Hole:
		return `[["-30 mm", 0, "3 mm"], [30, 0, 3]]`
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
func anyNumber(f *model.Field, random *rand.Rand) float64 {
	least, most := f.Range()
	switch n := random.IntN(8); {
	case n == 0:
		return least
	case n == 1:
		return most
	case n == 2 && least == 0:
		return most * math.Pow(10, -12*random.Float64()) // next to nothing
	case least > 0:
		return least * math.Pow(most/least, random.Float64())
	}
	return least + random.Float64()*(most-least)
}

func anyQuantity(f *model.Field, random *rand.Rand) string {
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
		b, problems := model.Read(text)
		if len(problems) == 0 {
			break
		}
		for _, p := range problems {
			f, index, ok := model.Open(text).Find(p.Path)
			if !ok {
				continue
			}
			value := ""
			switch {
			case f.Path == "hand.drive.top":
				value = strconv.Itoa(1 + random.IntN(b.Hands[index].Drive.MostTop()))
			case f.Path == "hand.meter.table":
				value = "[[0, 0], [50, 47], [100, 100]]"
			case f.Path == "battery.cell":
				value = f.Choices[random.IntN(len(f.Choices))]
			case f.Path == "crystal.measured" && b.Crystal.Frequency.Given():
				value = quantity.Format(quantity.Value{Number: b.Crystal.Frequency.Number * (0.99 + 0.02*random.Float64())}, f.Unit)
			case f.Must:
				value = anyValue(f, index, random)
			}
			text, _ = model.Set(text, p.Path, value)
		}
	}
	return text
}

// written is a value as the file holds it: tables as they are, all else in quotes.
func written(f *model.Field, value string) string {
	if f.IsTable() {
		return value
	}
	return strconv.Quote(value)
}

func parent(path string) string {
	if i := strings.LastIndexByte(path, '.'); i >= 0 {
		return path[:i]
	}
	return ""
}
