package model

import (
	"cmp"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/pelletier/go-toml/v2/unstable"

	"example.com/needlewright/calc"
	"example.com/needlewright/model/quantity"
)

// The longest values, in characters: common practice, no source. A quantity
// with its tolerance takes some twenty.
const (
	longestNumber = 60                           // a quantity, a count, a choice
	longestWords  = 200                          // a title, a name, what the multimeter said
	longestTable  = 20_000                       // all pairs of a table, as the file holds them
	MostPairs     = 100                          // of them
	LongestPair   = 2*longestNumber + len(" : ") // one pair as it is typed
)

// Longest returns how many characters a value of the field may have, all pairs
// of a table together.
func (f *Field) Longest() int { return f.longest }

// Wanted returns what the field takes, where that is a number: "a number, such as 85 %"; else
// "".
func (f *Field) Wanted() string {
	switch f.zero().(type) {
	case *quantity.Value:
		return "a number, such as " + f.Unit.Example()
	case *int:
		return "a whole number, such as 256"
	}
	return ""
}

// longestOf works that out.
func longestOf(f *Field) int {
	switch f.zero().(type) {
	case *[]calc.Point, *[]calc.Charge, *[]Hole:
		return longestTable
	case *string:
		if f.Choices == nil {
			return longestWords
		}
	}
	return longestNumber
}

// longestAt is the same for a path, whether a field has it or not.
func (s *Schema) longestAt(path string) int {
	if f := s.Field(path); f != nil {
		return f.longest
	}
	return longestTable
}

// TooLong returns how many characters the text gives for a value where they are
// more than its field takes, else 0. Given is then its beginning.
func (d *Document) TooLong(f *Field, index int) int {
	if v := d.outline.find(f.Path, index); v != nil {
		return v.long
	}
	return 0
}

// Whole returns the text as it is in the file. It differs from Text where a
// value is too long: in Text a short one stands for it, so that what is done at
// every key does not grow with it.
func (d *Document) Whole() string { return d.clips.restored(d.Text) }

// Reopen reads another text of the same build, whole or with values clipped as
// in this document.
func (d *Document) Reopen(text string) *Document { return d.outline.schema.open(text, d.clips) }

// clips are the values that are clipped out of the texts of a build. They only
// grow.
type clips struct {
	clips    map[string]*clip  // by what stands in their place
	places   map[string]string // the places, by the values
	restorer *strings.Replacer
}

// A clip is a value that is too long.
type clip struct {
	whole  string // as the file has it
	length int    // of its content, in characters
	lines  int    // that it goes on for
}

// longValues are what an outline knows of values that are too long.
type longValues struct {
	clips *clips      // what stands for some; nil: nothing does
	longs []longValue // others, that could be clipped
	folds []fold      // where what stands for one had several lines
}

// A longValue is one that is too long, where it stands in a text.
type longValue struct {
	start, end int
	content    string
}

// clipped returns the text with short values in place of long ones.
func (c *clips) clipped(text string, found []longValue) string {
	taken := ""
	if strings.Contains(text, notText) {
		taken = text
	}
	var b strings.Builder
	from := 0
	for _, l := range found {
		b.WriteString(text[from:l.start])
		b.WriteString(c.place(text[l.start:l.end], l.content, taken))
		from = l.end
	}
	b.WriteString(text[from:])
	return b.String()
}

// notText is a code point that is never a character: it marks what stands in
// place of a clipped value, and cannot be typed.
const notText = "\uFDD0"

// place is what stands for a value: nothing that stands in a text already.
func (c *clips) place(whole, content, taken string) string {
	if place, known := c.places[whole]; known {
		return place
	}
	place := ""
	for n := len(c.places); place == "" || c.clips[place] != nil || strings.Contains(taken, place); n++ {
		place = inQuotes(beginning(content) + notText + strconv.Itoa(n))
	}
	whole = strings.Clone(whole) // not the file's whole text with it
	c.places[whole] = place
	c.clips[place] = &clip{whole, utf8.RuneCountInString(content), strings.Count(whole, "\n")}
	c.restorer = nil
	return place
}

// at is the clip that a value stands for, nil where it stands for itself.
func (c *clips) at(raw []byte) *clip {
	if c == nil {
		return nil
	}
	return c.clips[string(raw)]
}

// restored is a text with its clipped values.
func (c *clips) restored(text string) string {
	if c == nil || len(c.clips) == 0 {
		return text
	}
	if c.restorer == nil {
		var pairs []string
		for place, clip := range c.clips {
			pairs = append(pairs, place, clip.whole)
		}
		c.restorer = strings.NewReplacer(pairs...)
	}
	return c.restorer.Replace(text)
}

// beginning is the head of a text, with a sign that it goes on.
func beginning(s string) string {
	const most = 40
	n := 0
	for i := range s {
		if n == most {
			return s[:i] + "…"
		}
		n++
	}
	return s + "…"
}

// shorten makes a value that is too long one that is not read: its beginning
// stands for it, and long says how many characters it has. One that is not
// clipped yet is added to those that can be.
func (o *outline) shorten(v *value) {
	raw := o.text[v.start:v.end]
	if clip := o.clips.at(raw); clip != nil {
		v.long = clip.length
		v.text, _, _ = strings.Cut(v.text, notText)
		if clip.lines > 0 {
			o.folds = append(o.folds, fold{v.line, clip.lines})
		}
		return
	}
	most := o.schema.longestAt(v.path)
	if len(v.text) <= most {
		return
	}
	if n := utf8.RuneCountInString(v.text); n > most {
		o.longs = append(o.longs, longValue{v.start, v.end, v.text})
		v.long, v.text, v.pairs = n, beginning(v.text), nil
	}
}

// skip passes over a value that is not read, and shortens it all the same.
func (o *outline) skip(e *unstable.Node) {
	if inside := e.Value().Children(); e.Value().Kind == unstable.InlineTable {
		for inside.Next() {
			o.skip(inside.Node())
		}
		return
	}
	_, _, at := Dotted(e.Key())
	v := value{line: o.lineAt(at), start: o.valueStart(at), end: int(e.Raw.Offset + e.Raw.Length)}
	v.text = content(e.Value(), o.text[v.start:v.end])
	o.shorten(&v)
}

// A fold is a line of the text that stands for more of the file.
type fold struct{ line, more int }

// unfolded is a line's number in the file.
func (o *outline) unfolded(line int) int {
	more := 0
	for _, f := range o.folds {
		if f.line < line {
			more += f.more
		}
	}
	return line + more
}

// tooLong is the problem of a value that is.
func (r *reader) tooLong(f *Field, v *value) {
	r.problems = append(r.problems, Problem{
		Line: v.line, Path: f.PathOf(r.root, v.index), Label: f.Label, Given: v.text,
		Wrong: quantity.Grouped(v.long) + " characters are too many", Allowed: "at most " + quantity.Grouped(f.longest), Remedy: "write " + cmp.Or(f.Wanted(), "a shorter one"),
	})
}
