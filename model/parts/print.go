package parts

import (
	"encoding/csv"
	"strconv"
	"strings"
	"unicode/utf8"
)

// Width is how many columns the list as text takes at most.
const Width = 78

// Heading says of what the list is.
func Heading(title string, kits int, spares string) string {
	text := "Parts"
	if title != "" {
		text = title + ": parts"
	}
	text += " for " + strconv.Itoa(kits) + " kit"
	if kits != 1 {
		text += "s"
	}
	if spares != "" {
		text += " with " + spares + " spares"
	}
	return text
}

// Text is the list as text, under its heading.
func Text(heading string, lines []Line) string {
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
	write("", heading)
	for k := range lines {
		l := &lines[k]
		out.WriteString("\n")
		write(padded(strconv.Itoa(l.Needed))+" × ", l.Name())
		write("       for ", strings.Join(l.For, "; "))
		if l.Instead != "" {
			write("       or  ", l.Instead)
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
func CSV(lines []Line) string {
	var out strings.Builder
	w := csv.NewWriter(&out)
	write := func(row ...string) { _ = w.Write(row) } // a Builder never fails
	write("needed", "what", "value", "tolerance", "rating", "each", "for", "instead")
	for k := range lines {
		l := &lines[k]
		write(strconv.Itoa(l.Needed), l.What, l.Value, l.Tolerance, l.Rating, strconv.Itoa(l.Each), strings.Join(l.For, "; "), l.Instead)
	}
	w.Flush()
	return out.String()
}
