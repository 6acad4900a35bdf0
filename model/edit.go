package model

import (
	"bytes"
	"strings"
)

// Add returns the document with one more of a list, "hand", "lamp", "drain",
// "button" or "reading", of this name (a reading's is its point): a copy of the
// copyOf-th with its comments but without its rows, which were measured of that one
// alone, or, where copyOf is -1, one of usual values; a hand
// waits for its coil and full scale. It goes behind the last of its list, or to the end of the text. Nothing else of the
// text changes. With a problem (the name, or a text that is not TOML) the
// document is the old one.
func (d *Document) Add(list, name string, copyOf int) (*Document, *Problem) {
	o := d.outline
	if p := d.NoRoomFor(list); p != nil {
		return d, p
	}
	if copyOf < 0 {
		return d.AddNew(list, name, nil)
	}
	block := ""
	for _, s := range o.ownSpans(list, copyOf) {
		block += o.source[s.start:s.end]
	}
	return d.named(d.Reopen(o.appended(o.spans(list, every), block)), list, o.count[list], name)
}

// AddNew returns the document with one more of a list, of this name, with the values
// given by path and the usual ones for the rest; else it is as Add.
func (d *Document) AddNew(list, name string, values map[string]NewValue) (*Document, *Problem) {
	o := d.outline
	if p := d.NoRoomFor(list); p != nil {
		return d, p
	}
	block := strings.ReplaceAll(o.schema.newElement(list, values), "\n", o.newline())
	return d.named(d.Reopen(o.appended(o.spans(list, every), block)), list, o.count[list], name)
}

// AddRow returns the document with one more row of a list whose elements have no name,
// "hand.scale", with the values given by path: the last of those that the owner-th has, 0
// where the list stands in the file itself.
func (d *Document) AddRow(list string, owner int, values map[string]NewValue) (*Document, *Problem) {
	o := d.outline
	if p := o.notTOML(); p != nil {
		return d, p
	}
	l := o.schema.listOf(list)
	if _, n := o.rows(l, owner); n == l.most {
		p := o.tooManyOf(l, owner, 1)
		return d, &p
	}
	return d.Reopen(o.withRow(l, owner, values)), nil
}

// withRow is the text with that row behind the last of its kind, or the last table of its
// owner.
func (o *outline) withRow(l *list, owner int, values map[string]NewValue) string {
	behind := o.spansOf(func(t *table) bool { return t.list == l && o.isOf(t, l.in, owner) })
	switch {
	case l.in == nil:
		behind = o.spans(l.name, every)
	case len(behind) == 0:
		behind = o.spans(l.in.name, owner)
	}
	return o.appended(behind, strings.ReplaceAll(o.schema.newElement(l.name, values), "\n", o.newline()))
}

// NoRoomFor returns why no more of a list can be added, nil where it can.
func (d *Document) NoRoomFor(list string) *Problem {
	o := d.outline
	if p := o.notTOML(); p != nil {
		return p
	}
	if o.count[list] == o.schema.mostOf(list) {
		p := o.tooManyOf(o.schema.listOf(list), 0, 1)
		return &p
	}
	return nil
}

// Remove returns the document without the i-th of a list, comments right above
// it included. The only hand stays: the problem says so.
func (d *Document) Remove(list string, i int) (*Document, *Problem) {
	o := d.outline
	if p := o.notTOML(); p != nil {
		return d, p
	}
	if list == "hand" && o.count[list] == 1 {
		return d, &Problem{
			Line: 1, Path: "hand." + o.nameOf("hand", i), Wrong: "it is the only hand of the build",
			Allowed: "one hand or more", Remedy: "add another first, or change this one",
		}
	}
	return d.without(list, i), nil
}

// Rename returns the document with another name for the i-th of a list. A name of
// the wrong form, or that another has, is a problem, and the document is the old
// one.
func (d *Document) Rename(list string, i int, name string) (*Document, *Problem) {
	if p := d.outline.notTOML(); p != nil {
		return d, p
	}
	return d.named(d, list, i, name)
}

// named gives an element of a changed document its name. One that will not do
// leaves the document as it was.
func (d *Document) named(changed *Document, list string, i int, name string) (*Document, *Problem) {
	f := d.outline.schema.Field(list + "." + d.outline.schema.listOf(list).key)
	n := changed.Set(f, i, name)
	if p := n.Problem(f, i); p != nil {
		refused := *p
		refused.Line = 1 // the text with that line is given up
		return d, &refused
	}
	return n, nil
}

// TextWithout is the text without any of a list: what does not depend on them has it
// for its key.
func (d *Document) TextWithout(list string) string {
	text := d.outline.source
	spans := d.outline.spans(list, every)
	for k := len(spans) - 1; k >= 0; k-- {
		text = strings.TrimRight(text[:spans[k].start], blank) + "\n\n" + text[spans[k].end:]
	}
	return strings.TrimRight(text, blank)
}

// without takes the tables of the i-th of a list out of the text.
func (d *Document) without(list string, i int) *Document {
	o := d.outline
	text, spans := o.source, o.spans(list, i)
	for k := len(spans) - 1; k >= 0; k-- {
		head, tail := text[:spans[k].start], text[spans[k].end:]
		if tail == "" {
			head = o.withoutGap(head, text)
		}
		text = head + tail
	}
	return d.Reopen(text)
}

// ChangesText says what changes would change: "Fixed resistor 3.3 kΩ → 4.3 kΩ,
// trimmer 1 kΩ → 500 Ω".
func (d *Document) ChangesText(changes []Change) string { return ChangesText(d.Build, changes) }

// notTOML is the problem of a text that is no TOML, nil where it is.
func (o *outline) notTOML() *Problem {
	if !o.broken {
		return nil
	}
	return &o.problems[len(o.problems)-1]
}

// A span is a stretch of the text, by its offsets.
type span struct{ start, end int }

// spans are where the tables of the i-th hand, lamp or reading stand, or those
// of every one: usually one stretch, from its header with the comment lines
// right above it to the same of the next table that is not its own.
func (o *outline) spans(list string, i int) []span {
	l := o.schema.listOf(list)
	return o.spansOf(func(t *table) bool { return o.isOf(t, l, i) })
}

// ownSpans are those without the rows that the i-th has, which are its alone.
func (o *outline) ownSpans(list string, i int) []span {
	l := o.schema.listOf(list)
	return o.spansOf(func(t *table) bool { return o.isOf(t, l, i) && !o.schema.isForRows(t.path) })
}

// spansOf are where such tables stand.
func (o *outline) spansOf(wanted func(t *table) bool) []span {
	var found []span
	for k := 1; k < len(o.tables); k++ {
		if !wanted(&o.tables[k]) {
			continue
		}
		s := span{o.above(k), len(o.source)}
		if k+1 < len(o.tables) {
			s.end = o.above(k + 1)
		}
		if n := len(found); n > 0 && found[n-1].end == s.start {
			found[n-1].end = s.end
			continue
		}
		found = append(found, s)
	}
	return found
}

// above is the offset of the comment lines right above the k-th table, or of
// its header. What is a line of the table before it is none, whatever it begins
// with.
func (o *outline) above(k int) int {
	at := o.tables[k].start
	for at > 0 {
		before := bytes.LastIndexByte(o.text[:at-1], '\n') + 1
		isComment := bytes.HasPrefix(bytes.TrimSpace(o.text[before:at]), []byte("#"))
		if !isComment || before < o.tables[k-1].end {
			break
		}
		at = before
	}
	return at
}

// appended puts a block behind the last of some spans, with the blank lines that
// stand there, or at the end of the text behind a blank line.
func (o *outline) appended(behind []span, block string) string {
	at := len(o.source)
	if len(behind) > 0 {
		at = behind[len(behind)-1].end
	}
	head, tail, newline := o.source[:at], o.source[at:], o.newline()
	block = strings.TrimRight(block, blank)
	switch {
	case tail != "":
		gap := head[len(strings.TrimRight(head, blank)):]
		return head + block + gap + tail
	case head == "" || strings.HasSuffix(head, "\n"):
		return head + newline + block + newline
	}
	return head + newline + newline + block
}

// blank are the characters of blank lines.
const blank = " \t\r\n"

// withoutGap takes back the line that appended puts before the last block of a
// text.
func (o *outline) withoutGap(head, text string) string {
	newline := o.newline()
	if !strings.HasSuffix(text, "\n") {
		return strings.TrimSuffix(head, newline+newline)
	}
	if head == newline || strings.HasSuffix(head, "\n"+newline) {
		return strings.TrimSuffix(head, newline)
	}
	return head
}
