package model

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"

	"example.com/needlewright/calc"
	"example.com/needlewright/model/quantity"
)

// set puts a value at a field's place, with a mark behind it or none; ok is false in a text
// that is not TOML.
func (o *outline) set(f *Field, index int, given, mark string) (text string, ok bool) {
	if o.broken {
		return o.source, false
	}
	written := f.written(given)
	if v := o.find(f.Path, index); v != nil {
		_, end := o.mark(v)
		return o.source[:v.start] + written + o.behind(v, mark) + o.source[end:], true
	}
	if given == "" {
		return o.source, true // absent and empty are one
	}
	return o.insert(f, index, last(f.Path)+" = "+written), true
}

// setAnew puts a value of another thing at a field's place: what a comment behind the former
// one said of that goes with it.
func (o *outline) setAnew(f *Field, index int, given, mark string) (text string, ok bool) {
	v := o.find(f.Path, index)
	if o.broken || v == nil {
		return o.set(f, index, given, mark)
	}
	end := o.lineEnd(v.end)
	rest := strings.TrimRight(o.source[v.end:end], "\r")
	if !strings.HasPrefix(strings.TrimSpace(rest), "#") {
		return o.set(f, index, given, mark)
	}
	gap, _, _ := strings.Cut(rest, "#")
	behind := ""
	if mark != "" {
		behind = gap + "# " + mark
	}
	return o.source[:v.start] + f.written(given) + behind + o.source[v.end+len(rest):], true
}

// marks are the comments that say where a value of a new build comes from. They
// are true of that value alone.
var marks = []string{"assumed", "± assumed", "suggested", "measure it", "from the dial", "from the survey"}

// mark returns the mark behind a value and the offset of its end, or "" and the
// end of the value.
func (o *outline) mark(v *value) (mark string, end int) {
	end = o.lineEnd(v.end)
	comment, ok := strings.CutPrefix(strings.TrimSpace(o.source[v.end:end]), "# ")
	if !ok || !slices.Contains(marks, comment) {
		return "", v.end
	}
	return comment, v.end + len(strings.TrimRight(o.source[v.end:end], "\r"))
}

// behind is a mark as it stands behind a value: in the place of the present one, or where
// its line has nothing else.
func (o *outline) behind(v *value, mark string) string {
	rest := o.source[v.end:o.lineEnd(v.end)]
	gap, _, _ := strings.Cut(rest, "#")
	present, _ := o.mark(v)
	switch {
	case mark == "" || present == "" && strings.TrimSpace(rest) != "":
		return ""
	case present == "":
		gap = "  "
	}
	return gap + "# " + mark
}

// A target is what a path leads to: a field, nil where there is none, and which of its list
// it is of. With index -1 none has the name that the path gives, of the elements of a list
// that an owner has.
type target struct {
	field *Field
	index int
	list  *list
	owner int
	name  string
}

// resolve finds the field of a path and, of a hand or lamp, which.
func (o *outline) resolve(path string) (*Field, int, *Problem) {
	t := o.locate(path)
	root, _, _ := strings.Cut(path, ".")
	switch {
	case t.index >= 0:
		return t.field, t.index, nil
	case t.field != nil:
		return nil, 0, o.noneOfName(path, t)
	case !o.schema.isList(root):
		return nil, 0, &Problem{Line: 1, Path: path, Given: path, Wrong: "no such path", Remedy: "did you mean " + o.schema.nearestField(path) + "?"}
	}
	near := o.schema.Field(o.schema.nearestField(path))
	spelled := near.Path
	if isWithin(spelled, root) {
		spelled = o.schema.listOf(near.list).path(0, near.element, func(l *list, _ int) (string, int) { return l.stands(), 0 })
	}
	return nil, 0, &Problem{
		Line: 1, Path: path, Given: path, Wrong: "no such path", Allowed: root + ".NAME.KEY", Remedy: "did you mean " + spelled + "?",
	}
}

// noneOfName is the problem of a name, or a number, that none of a list has.
func (o *outline) noneOfName(path string, t target) *Problem {
	first, n := o.rows(t.list, t.owner)
	switch {
	case t.list.key != "":
		names := o.names(t.list.name)[first : first+n]
		return &Problem{Line: 1, Path: path, Given: t.name, Wrong: "there is no " + t.list.one + " of this name", Allowed: strings.Join(names, ", "), Remedy: "write one of these names in its place"}
	case t.name == strconv.Itoa(n+1):
		p := o.tooManyOf(t.list, t.owner, 1)
		return &p
	}
	allowed, remedy := fmt.Sprintf("1 to %d", n), "write one of these numbers in its place"
	switch {
	case n == 0:
		allowed, remedy = "1", "write 1: that adds the first one"
	case n < t.list.most:
		allowed, remedy = fmt.Sprintf("1 to %d", n+1), remedy+": the last of them adds one"
	}
	return &Problem{Line: 1, Path: path, Given: t.name, Wrong: "there is no " + t.list.one + " of this number", Allowed: allowed, Remedy: remedy}
}

// isNext says whether a path leads to a row that may be added: the one behind the last.
func (o *outline) isNext(t target) bool {
	if t.field == nil || t.index >= 0 || t.list.key != "" {
		return false
	}
	_, n := o.rows(t.list, t.owner)
	return n < t.list.most && t.name == strconv.Itoa(n+1)
}

// stands is what stands in a path for the name of an element.
func (l *list) stands() string {
	if l.key == "" {
		return "N"
	}
	return "NAME"
}

// locate finds what a path leads to.
func (o *outline) locate(path string) target {
	root, rest, _ := strings.Cut(path, ".")
	if l := o.schema.listOf(root); l != nil {
		return o.among(l, 0, rest)
	}
	f := o.schema.Field(path)
	if f == nil {
		return target{index: -1}
	}
	return target{field: f}
}

// among finds what "NAME.KEY" leads to among those of a list that an owner has, -1 for
// one that is not there. Names of readings hold dots: the longest that fits a field is it.
func (o *outline) among(l *list, owner int, path string) target {
	for name := parent(path); name != ""; name = parent(name) {
		if l.key == "" && strings.Contains(name, ".") {
			continue // a number has none
		}
		t := target{list: l, owner: owner, name: name, index: o.indexOf(l, owner, name)}
		key := l.name + strings.TrimPrefix(path, name)
		if t.field = o.schema.Field(key); t.field != nil && t.field.list == l.name {
			return t
		}
		for k := range o.schema.lists {
			inner := &o.schema.lists[k]
			rest, ok := strings.CutPrefix(key, inner.name+".")
			if !ok || inner.in != l {
				continue
			}
			found := o.among(inner, t.index, rest)
			if t.field = found.field; t.field != nil && t.index < 0 {
				return t
			}
			if found.field != nil {
				return found
			}
		}
	}
	return target{index: -1}
}

// indexOf is which of a list has a name, of those that an owner has; -1 for none.
func (o *outline) indexOf(l *list, owner int, name string) int {
	first, n := o.rows(l, owner)
	for i := first; i < first+n; i++ {
		if own, _ := o.element(l, i); own == name {
			return i
		}
	}
	return -1
}

// names are those of a list, a number from 1 where one has none.
func (o *outline) names(list string) []string {
	names := make([]string, o.count[list])
	for i := range names {
		names[i] = o.nameOf(list, i)
	}
	return names
}

// written is a value as the file holds it: counts as numbers and tables as
// arrays where they can be read so, everything else in quotes.
func (f *Field) written(given string) string {
	switch f.zero().(type) {
	case *int:
		if n, err := quantity.ParseCount(given); err == nil && strconv.Itoa(n) == given {
			return given
		}
	case *[]calc.Point, *[]calc.Charge, *[]Hole:
		const key = "x = "
		o := f.schema.scan(key + given)
		if v := o.find("x", 0); !o.broken && v != nil && v.kind == unstable.Array &&
			v.start == len(key) && v.end == len(o.text) { // all of it is the one array
			return given
		}
	}
	return inQuotes(given)
}

// inQuotes is a TOML basic string.
func inQuotes(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range strings.ToValidUTF8(s, "\uFFFD") {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r < 0x20 || r == 0x7f:
			fmt.Fprintf(&b, `\u%04X`, r)
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}

// insert adds a line to the table of a field, or the table with it.
func (o *outline) insert(f *Field, index int, line string) string {
	newline := o.newline()
	path := parent(f.Path)
	at, header := -1, ""
	for _, t := range o.tables {
		if t.path == path && t.index == index {
			at = t.end
		}
	}
	if v := o.sibling(path, index); at < 0 && v != nil {
		return o.besideSibling(v, newline, line)
	}
	if at < 0 { // after the last table of the same hand, or of all
		header = newline + "[" + path + "]" + newline
		for _, t := range o.tables {
			if f.list == "" || o.isOf(&t, o.schema.listOf(f.list), index) {
				at = max(at, t.end)
			}
		}
	}
	head, tail := splitLine(o.source, at)
	switch {
	case at == o.start && path == "":
		return head + line + newline + tail
	case at == o.start:
		return head + header[len(newline):] + line + newline + tail
	}
	return head + newline + header + line + tail
}

// sibling is a value of a table that has no header: it is written with dotted
// keys or as an inline table, which a header must not open again. Or it is the
// table itself, inline and empty.
func (o *outline) sibling(path string, index int) *value {
	if v := o.find(path, index); v != nil {
		return v
	}
	for i := len(o.values) - 1; i >= 0; i-- {
		if v := &o.values[i]; path != "" && v.index == index && parent(v.path) == path {
			return v
		}
	}
	return nil
}

// besideSibling adds a key in the way its sibling is written.
func (o *outline) besideSibling(v *value, newline, line string) string {
	switch {
	case v.kind == unstable.InlineTable:
		return o.source[:v.start] + "{ " + line + " }" + o.source[v.end:]
	case v.inline:
		return o.source[:v.end] + ", " + line + o.source[v.end:]
	}
	head, tail := splitLine(o.source, o.lineEnd(v.end))
	return head + newline + v.prefix + line + tail
}

// splitLine cuts a text at the end of a line, before the CR of a CRLF.
func splitLine(text string, at int) (head, tail string) {
	if at > 0 && text[at-1] == '\r' && strings.HasPrefix(text[at:], "\n") {
		at--
	}
	return text[:at], text[at:]
}

// pointsText is a law's table as the file holds it.
func pointsText(points []calc.Point) string {
	rows := make([][]string, len(points))
	for i, p := range points {
		rows[i] = []string{PlainText(p.Current, quantity.Percent), PlainText(p.Scale, quantity.Percent)}
	}
	return rowsText(rows)
}

// curveText is a discharge curve as the file holds it.
func curveText(curve []calc.Charge) string {
	rows := make([][]string, len(curve))
	for i, c := range curve {
		rows[i] = []string{PlainText(c.Used, quantity.Percent), PlainText(c.Rest, quantity.Volts)}
	}
	return rowsText(rows)
}

// holesText are holes as the file holds them.
func holesText(holes []Hole) string {
	rows := make([][]string, len(holes))
	for i, h := range holes {
		for _, x := range []float64{h.X, h.Y, h.Diameter} {
			rows[i] = append(rows[i], PlainText(x, quantity.Millimetres))
		}
	}
	return rowsText(rows)
}

// PlainText returns a number in a unit as it can be written in a file.
func PlainText(x float64, u quantity.Unit) string {
	return quantity.Format(quantity.Value{Number: x}, u)
}

func rowsText(rows [][]string) string {
	if len(rows) == 0 {
		return ""
	}
	parts := make([]string, len(rows))
	for i, row := range rows {
		parts[i] = `["` + strings.Join(row, `", "`) + `"]`
	}
	return "[" + strings.Join(parts, ", ") + "]"
}
