package model

import (
	"bytes"
	"errors"
	"fmt"
	"strconv"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"
)

// An outline is where everything stands in the text of a build.
type outline struct {
	schema   *Schema
	source   string // the text
	text     []byte // the same, but a byte order mark at its start is blanked out
	start    int    // offset behind that mark
	tables   []table
	values   []value
	count    map[string]int   // hands, lamps, readings and rows
	owners   map[string][]int // of lists that others own: whose each element is
	problems []Problem
	broken   bool // the text is not TOML from some line on

	seen     map[seat]int  // headers and keys so far; of keys, which value
	tooMany  map[seat]bool // lists that have come to their most, with their owners
	unplaced int           // problems that are of no field, of which there may be as many as lines
	counted  int           // offset up to which lines are counted
	lines    int           // before it

	longValues
}

// A seat is where a table's header or a key may stand once.
type seat struct {
	path   string
	index  int
	header bool
}

// A table is one header with the keys below it; the first has no header.
type table struct {
	path    string // "hand.meter"; "" at the top of the file
	list    *list  // the innermost it belongs to; nil: it stands once
	index   int    // which element of that, from 0
	line    int
	start   int  // offset of its header's line
	end     int  // offset of the end of its last line, where a new key goes
	refused bool // no build has such a table: its keys are not read
}

// A value is one key with its value.
type value struct {
	path       string // "hand.meter.coil"
	index      int    // which element of its table's list it belongs to
	line       int
	start, end int // offsets of the value itself
	kind       unstable.Kind
	text       string     // its content: unquoted, without _ in numbers, as written for arrays
	long       int        // characters of one that is too long, of which text is the beginning; else 0
	pairs      [][]string // of an array: its pairs, or rows of three; nil where it is of anything else
	prefix     string     // of a dotted key, as written: all before its last part
	inline     bool       // it stands in an inline table
}

// ByteOrderMark is what some editors put before UTF-8.
var ByteOrderMark = []byte("\uFEFF")

// scan outlines a text. It stops at the first line that is not TOML, with a
// problem that says so.
func (s *Schema) scan(text string) *outline { return s.scanClipped(text, nil) }

// scanClipped outlines a text in which clipped values may stand.
func (s *Schema) scanClipped(text string, c *clips) *outline {
	o := &outline{schema: s, source: text, text: []byte(text), count: map[string]int{}, owners: map[string][]int{}, seen: make(map[seat]int, 128), tooMany: map[seat]bool{}, values: make([]value, 0, 128)}
	o.clips = c
	if bytes.HasPrefix(o.text, ByteOrderMark) {
		o.start = copy(o.text, "   ")
	}
	o.tables = append(o.tables, table{line: 1, end: o.start})
	var p unstable.Parser
	p.Reset(o.text)
	for p.NextExpression() {
		switch e := p.Expression(); e.Kind {
		case unstable.Table, unstable.ArrayTable:
			o.header(e)
		case unstable.KeyValue:
			t := &o.tables[len(o.tables)-1]
			t.end = o.lineEnd(int(e.Raw.Offset + e.Raw.Length))
			if t.refused {
				o.skip(e)
			} else {
				o.keyValue(e, t.path, t.index, false)
			}
		}
	}
	if err := p.Error(); err != nil {
		o.broken = true
		o.problems = append(o.problems, o.syntax(&p, err))
	}
	return o
}

// header opens a table.
func (o *outline) header(e *unstable.Node) {
	path, _, at := Dotted(e.Key())
	t := table{path: path, line: o.lineAt(at), end: o.lineEnd(at), refused: !o.schema.isTable(path), list: o.schema.listAt(path)}
	t.start = bytes.LastIndexByte(o.text[:at], '\n') + 1
	again, isElement := e.Kind == unstable.ArrayTable, o.schema.isList(path)
	full, missing := o.full(t.list, path), o.missing(t.list, path)
	switch {
	case full != nil:
		t.refused, t.list = true, full
	case missing != nil:
		o.open(missing, t.list)
	case isElement:
		o.open(t.list, t.list)
	}
	if t.list != nil {
		t.index = o.count[t.list.name] - 1
	}
	switch {
	case full != nil:
		o.oneTooMany(t.line, full)
	case missing != nil:
		o.refuse(t.line, path, t.index, "it stands before the "+missing.one+" it belongs to", fmt.Sprintf("write [[%s]] above it", missing.name))
	case isElement && !again:
		o.refuse(t.line, path, t.index, fmt.Sprintf("there may be several %ss", t.list.one), fmt.Sprintf("write [[%s]]", path))
	case isElement:
	case t.refused:
		if o.keepsOne() {
			o.add(t.line, o.pathOf(path, t.index), path, "no such table", "did you mean ["+nearest(path, o.schema.tables)+"]?")
		}
	case again:
		o.refuse(t.line, path, t.index, "this table stands once", fmt.Sprintf("write [%s]", path))
	}
	if key := (seat{path, t.index, true}); !again && !t.refused {
		if _, twice := o.seen[key]; twice {
			o.refuse(t.line, path, t.index, "this table stands here for the second time", "put its keys under the first")
		}
		o.seen[key] = 0
	}
	o.tables = append(o.tables, t)
}

// oneTooMany refuses what a list has beyond its most, with one problem for all.
func (o *outline) oneTooMany(line int, l *list) {
	at := seat{l.name, o.lastOwner(l), true}
	if o.tooMany[at] {
		return
	}
	o.tooMany[at] = true
	o.problems = append(o.problems, o.tooManyOf(l, at.index, line))
}

// tooManyOf is the problem of one more in a list than there may be.
func (o *outline) tooManyOf(l *list, owner, line int) Problem {
	p := Problem{
		Line: line, Path: l.name, Wrong: fmt.Sprintf("this is one more than the most %ss of a build", l.one),
		Allowed: fmt.Sprintf("%d", l.most), Remedy: "take it out, with all that follow it, or put them into a build of their own",
	}
	if l.in != nil {
		p.Path = l.in.path(owner, l.inOwner(), o.element)
		p.Wrong = fmt.Sprintf("this is one more than the most %ss of a %s", l.one, l.in.one)
		p.Remedy = "take it out, with all that follow it in this " + l.in.one
	}
	return p
}

// keyValue adds a key of a table, or the keys of an inline table.
func (o *outline) keyValue(e *unstable.Node, table string, index int, inline bool) {
	path, prefix, at := Dotted(e.Key())
	v := value{path: path, index: index, line: o.lineAt(at), kind: e.Value().Kind, inline: inline}
	v.prefix = string(o.text[prefix.Offset : prefix.Offset+prefix.Length])
	if table != "" {
		v.path = table + "." + path
	}
	if l := o.ownTable(v.path, table); l != nil {
		if o.keepsOne() {
			o.add(v.line, o.pathAbove(l, v.path, index), v.path, "a "+l.one+" has a table of its own", fmt.Sprintf("write [[%s]], and its keys below", l.name))
		}
		o.skip(e)
		return
	}
	if len(v.path) > longestPath {
		o.refuse(v.line, v.path, index, "no such key", noneLikeIt)
		o.skip(e)
		return
	}
	if inside := e.Value().Children(); v.kind == unstable.InlineTable && e.Value().Child() != nil {
		for inside.Next() {
			o.keyValue(inside.Node(), v.path, index, true)
		}
		return
	}
	key := seat{v.path, index, false}
	known := o.schema.Field(v.path) != nil || o.schema.isTable(v.path)
	if _, twice := o.seen[key]; twice {
		o.refuse(v.line, v.path, index, "this key stands here for the second time", "keep one of them")
		o.skip(e)
		return
	}
	if !known && !o.keepsOne() {
		o.skip(e)
		return
	}
	o.seen[key] = len(o.values)
	v.start = o.valueStart(at)
	v.end = int(e.Raw.Offset + e.Raw.Length)
	v.text = content(e.Value(), o.text[v.start:v.end])
	if v.kind == unstable.Array {
		v.pairs = pairs(e.Value())
	}
	o.shorten(&v)
	o.values = append(o.values, v)
}

// content is a value without its quotes, a number without its underscores, or
// the bytes as they stand.
func content(n *unstable.Node, raw []byte) string {
	switch n.Kind {
	case unstable.String:
		return string(n.Data)
	case unstable.Integer, unstable.Float:
		return strings.ReplaceAll(string(raw), "_", "")
	}
	return string(raw)
}

// pairs reads [["0 %", "0 %"], …], or rows of three; nil where it is anything else.
func pairs(n *unstable.Node) [][]string {
	list := [][]string{}
	for it := n.Children(); it.Next(); {
		var pair []string
		row := it.Node()
		if row.Kind != unstable.Array {
			return nil
		}
		for cells := row.Children(); cells.Next(); {
			cell := cells.Node()
			switch cell.Kind {
			case unstable.String, unstable.Integer, unstable.Float:
				pair = append(pair, content(cell, cell.Data))
			default:
				return nil
			}
		}
		if len(pair) != 2 && len(pair) != 3 {
			return nil
		}
		list = append(list, pair)
	}
	return list
}

// Dotted joins a key's parts, and gives where what stands before the last of
// them is, and the offset just past it.
func Dotted(key unstable.Iterator) (path string, prefix unstable.Range, end int) {
	var parts []string
	for key.Next() {
		n := key.Node()
		if parts == nil {
			prefix.Offset = n.Raw.Offset
		}
		part := string(n.Data)
		if part == "" || strings.Contains(part, ".") {
			part = strconv.Quote(part) // one key with a dot in it is not two
		}
		parts = append(parts, part)
		prefix.Length = n.Raw.Offset - prefix.Offset
		end = int(n.Raw.Offset + n.Raw.Length)
	}
	return strings.Join(parts, "."), prefix, end
}

// valueStart finds the value behind a key that ends at an offset.
func (o *outline) valueStart(keyEnd int) int {
	i := keyEnd + bytes.IndexByte(o.text[keyEnd:], '=') + 1
	for i < len(o.text) && (o.text[i] == ' ' || o.text[i] == '\t') {
		i++
	}
	return i
}

// lineAt gives the line of an offset, from 1.
func (o *outline) lineAt(offset int) int {
	if offset < o.counted {
		o.counted, o.lines = 0, 0
	}
	o.lines += bytes.Count(o.text[o.counted:offset], []byte("\n"))
	o.counted = offset
	return 1 + o.lines
}

// lineEnd gives the offset of the end of the line an offset is on.
func (o *outline) lineEnd(offset int) int {
	if i := bytes.IndexByte(o.text[offset:], '\n'); i >= 0 {
		return offset + i
	}
	return len(o.text)
}

// refuse adds a problem of the file's make.
func (o *outline) refuse(line int, path string, index int, wrong, remedy string) {
	if o.keepsOne() {
		o.add(line, o.pathOf(path, index), path, wrong, remedy)
	}
}

func (o *outline) add(line int, path, given, wrong, remedy string) {
	o.problems = append(o.problems, Problem{Line: line, Path: cut(path, longestPath), Given: given, Wrong: wrong, Remedy: remedy})
}

// keepsOne counts a problem that is of no field, and says whether it is kept: the
// first ones are, for there may be as many as the text has lines.
func (o *outline) keepsOne() bool {
	o.unplaced++
	return o.unplaced <= mostUnplaced
}

// mostUnplaced is how many problems are kept of those that are of no field.
const mostUnplaced = 50

// longestPath is more than the path of any field has, in bytes.
const longestPath = 100

// syntax tells what the parser stumbled over.
func (o *outline) syntax(p *unstable.Parser, err error) Problem {
	problem := Problem{
		Line: 1, Wrong: "this is not TOML: " + strings.TrimPrefix(err.Error(), "toml: "),
		Allowed: `lines such as coil = "640 Ω", [tables] and # comments`, Remedy: "look for a missing quote, bracket or = on this line",
	}
	var at *unstable.ParserError
	if errors.As(err, &at) && len(at.Highlight) > 0 {
		offset := int(p.Range(at.Highlight).Offset)
		problem.Line = o.lineAt(offset)
		start := bytes.LastIndexByte(o.text[:offset], '\n') + 1
		problem.Given = strings.TrimSpace(string(o.text[start:o.lineEnd(offset)]))
	}
	return problem
}

// find returns the value at a field's place, nil where it is absent.
func (o *outline) find(path string, index int) *value {
	if i, ok := o.seen[seat{path, index, false}]; ok {
		return &o.values[i]
	}
	return nil
}

// newline is how the text ends its lines.
func (o *outline) newline() string {
	if strings.Contains(o.source, "\r\n") {
		return "\r\n"
	}
	return "\n"
}
