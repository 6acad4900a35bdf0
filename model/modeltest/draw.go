package modeltest

import (
	"fmt"
	"math"
	"strings"

	"pgregory.net/rapid"

	"example.com/needlewright/calc"
	"example.com/needlewright/model"
	"example.com/needlewright/model/quantity"
)

// Draw draws the text of a build of values within their ranges, or absent.
func Draw(t *rapid.T) string {
	text := "format = 1\n"
	for i := range rapid.IntRange(0, 2).Draw(t, "hands") {
		text += fmt.Sprintf("[[hand]]\nname = \"h%d\"\n", i)
	}
	for i := range rapid.IntRange(0, 2).Draw(t, "lamps") {
		text += fmt.Sprintf("[[lamp]]\nname = \"l%d\"\n", i)
	}
	b, _ := model.Read(text)
	for _, f := range model.Builds.Fields {
		for i := range f.Of(b) {
			path := f.PathOf(b, i)
			if f.Path == "format" || last(f.Path) == "name" || !f.Must && rapid.IntRange(0, 3).Draw(t, "given "+path) == 0 {
				continue
			}
			text, _ = model.Set(text, path, drawText(t, b, f, i))
		}
	}
	return text
}

// drawText draws a good text for a field.
func drawText(t *rapid.T, b *model.Build, f *model.Field, i int) string {
	path := f.PathOf(b, i)
	least, most := f.Range()
	switch f.At(b, i).(type) {
	case *quantity.Value:
		// Evenly over the decades where a range spans many.
		x := rapid.Float64Range(0, 1).Draw(t, path)
		low := max(least, most*1e-6)
		value := least + x*(most-least)
		if least >= 0 && most/low > 100 {
			value = low * math.Pow(most/low, x)
		}
		value = min(max(value, least), most)
		if tolerance := rapid.SampledFrom([]float64{0, 0.01, 0.3}).Draw(t, "±"); tolerance > 0 && least >= 0 {
			return quantity.Format(quantity.Value{Number: value, Tolerance: tolerance * value}, f.Unit)
		}
		return ValueText(value, f.Unit)
	case *int:
		return fmt.Sprint(int(rapid.Float64Range(least, min(most, 1e6)).Draw(t, path)))
	case *[]model.Hole:
		return `[["-30 mm", "0 mm", "3 mm"]]`
	case *[]calc.Point:
		return `[["0 %", "0 %"], ["30 %", "22 %"], ["100 %", "100 %"]]`
	case *[]calc.Charge:
		return `[["0 %", "1.6 V"], ["50 %", "1.3 V"], ["50.001 %", "1.2 V"], ["100 %", "0 V"]]`
	}
	if f.Path == "hand.dial.numerals" || f.Path == "hand.dial.ticks" {
		return ""
	}
	if f.Choices != nil {
		return rapid.SampledFrom(f.Choices).Draw(t, path)
	}
	return "x"
}

// SoundOrSkip reads a drawn text; clashes between its values are put right
// where that is easy, else the draw is skipped.
func SoundOrSkip(t *rapid.T, text string) (string, *model.Build) {
	b, problems := model.Read(text)
	for _, p := range problems {
		text, _ = model.Set(text, p.Path, map[string]string{"top": "1", "setting": "", "measured": "", "table": `[[0, 0], [100, 100]]`, "reload": "0"}[last(p.Path)])
	}
	if len(problems) > 0 {
		if b, problems = model.Read(text); len(problems) > 0 {
			t.Skip()
		}
	}
	return text, b
}

func last(path string) string { return path[strings.LastIndexByte(path, '.')+1:] }
