package survey

import (
	"math"
	"strings"
	"unicode"
	"unicode/utf8"

	"example.com/needlewright/model/quantity"
	engine "example.com/needlewright/model/survey"
	"example.com/needlewright/ui/cells"
)

// skip is the answer of who has none.
const skip = "skip"

// labelColumns is the room of the label of what is known.
const labelColumns = 15

// labelled is a text behind a label, with the room that all labels have.
func labelled(label, text string) string {
	if label == "" {
		return text
	}
	return label + strings.Repeat("\u00a0", max(1, labelColumns-cells.Width(label))) + text
}

// sentence is a text with a capital at its beginning and a full stop at its end.
func sentence(text string) string {
	r, n := utf8.DecodeRuneInString(text)
	if text == "" {
		return ""
	}
	text = string(unicode.ToUpper(r)) + text[n:]
	if last := text[len(text)-1]; last == '.' || last == '?' || last == '!' {
		return text
	}
	return text + "."
}

// bandText is the band that holds a value; otherwise where there is none.
func bandText(v engine.Value, u quantity.Unit, otherwise string) string {
	low, high := quantity.Show(v.Low, u, 3), quantity.Show(v.High, u, 3)
	const wide = 1e3 // times: then the upper end says nothing
	switch {
	case !(v.Low > 0) && (!(v.High > 0) || math.IsInf(v.High, 1)):
		return otherwise
	case !(v.Low > 0):
		return "at most " + high
	case !(v.High > 0) || v.High > wide*v.Low:
		return "from " + low + " up"
	}
	return low + " to " + high
}

// exactly is a nominal value, of a series of two digits, with as many as it has.
func exactly(x float64, u quantity.Unit) string {
	return strings.Replace(quantity.Show(x, u, 2), ".0 ", " ", 1)
}
