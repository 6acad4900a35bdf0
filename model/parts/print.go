package parts

import (
	"encoding/csv"
	"encoding/json"
	"strconv"
	"strings"
	"unicode/utf8"

	"example.com/needlewright/model"
	"example.com/needlewright/model/quantity"
)

// Width is how many columns the list as text takes at most.
const Width = 78

// heading says of what the list is.
func (l *List) heading() string {
	text := "Parts"
	if l.Title != "" {
		text = l.Title + ": parts"
	}
	text += " for " + quantity.Counted(l.Kits, "kit")
	if l.Spares > 0 {
		text += " with " + quantity.Format(quantity.Value{Number: l.Spares}, quantity.Percent) + " spares"
	}
	return text
}

// JSON returns the list as JSON, with texts as a shop has them.
func (l *List) JSON() ([]byte, error) {
	text, err := json.MarshalIndent(l, "", "  ")
	return model.EscapeControls(text), err
}

// Text is the list as text.
func (l *List) Text() string {
	var out strings.Builder
	write := func(first, text string) {
		indent := utf8.RuneCountInString(first)
		for k, part := range wrapped(text, Width-indent) {
			if k > 0 {
				first = strings.Repeat(" ", indent)
			}
			out.WriteString(first + part + "\n")
		}
	}
	write("", l.heading())
	for k := range l.Parts {
		part := &l.Parts[k]
		out.WriteString("\n")
		write(padded(strconv.Itoa(part.Needed))+" × ", part.Name())
		write("       for ", strings.Join(part.For, "; "))
		if part.Instead != "" {
			write("       or  ", part.Instead)
		}
	}
	out.WriteString("\nWhat the controller's pins need besides stands in its papers: mostly a\nceramic capacitor of 100 nF at its supply pin. Wire, board and solder.\n")
	return out.String()
}

// Name is what a line is in words: "resistor 8.2 kΩ ±1 %, 125 mW".
func (l *Line) Name() string {
	text := l.What
	if l.Value != "" {
		text += " " + l.Value
	}
	if l.Tolerance != "" {
		text += " ±" + l.Tolerance
	}
	return join(text, l.Rating)
}

// padded is a number at the right of its column.
func padded(number string) string { return strings.Repeat(" ", max(0, 5-len(number))) + number }

// wrapped is a text in lines of so many columns at most; a word that is longer is cut.
func wrapped(text string, most int) (lines []string) {
	line := ""
	for _, word := range strings.Fields(text) {
		for utf8.RuneCountInString(word) > most {
			r := []rune(word)
			lines, word = append(lines, string(r[:most])), string(r[most:])
		}
		if line != "" && utf8.RuneCountInString(line+" "+word) > most {
			lines, line = append(lines, line), ""
		}
		if line != "" {
			line += " "
		}
		line += word
	}
	return append(lines, line)
}

// CSV is the list as a table, with a first row of names.
func (l *List) CSV() string {
	var out strings.Builder
	w := csv.NewWriter(&out)
	write := func(row ...string) { _ = w.Write(row) } // a Builder never fails
	write("needed", "what", "value", "tolerance", "rating", "each", "for", "instead")
	for k := range l.Parts {
		p := &l.Parts[k]
		write(strconv.Itoa(p.Needed), p.What, p.Value, p.Tolerance, p.Rating, strconv.Itoa(p.Each), strings.Join(p.For, "; "), p.Instead)
	}
	w.Flush()
	return out.String()
}
