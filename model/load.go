package model

import (
	"cmp"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"

	"github.com/agnivade/levenshtein"
	"github.com/pelletier/go-toml/v2/unstable"

	"example.com/needlewright/calc"
	"example.com/needlewright/model/quantity"
)

// read reads a text in which clipped values may stand.
func (s *Schema) read(text string, c *clips) *reader {
	r := &reader{outline: s.scanClipped(text, c)}
	r.prepare()
	for i := range r.values {
		r.value(&r.values[i])
	}
	s.complete(r.root)
	if !r.broken {
		r.names()
		r.given()
		s.check(r)
	}
	for i := range r.problems {
		r.problems[i].Line = r.unfolded(r.problems[i].Line)
	}
	slices.SortStableFunc(r.problems, func(a, b Problem) int { return cmp.Compare(a.Line, b.Line) })
	if n := len(r.problems); n > 0 {
		r.problems[n-1].Others = max(0, r.unplaced-mostUnplaced)
	}
	return r
}

// A reader fills a root from an outline.
type reader struct {
	*outline
	root any
}

// prepare makes room for the hands, lamps and other lists, gives every field its
// absent value, and sets the names, which paths are made of.
func (r *reader) prepare() {
	r.root = r.schema.room(func(list string, owner int) int {
		_, n := r.rows(r.schema.listOf(list), owner)
		return n
	})
	for _, f := range r.schema.Fields {
		for i := range f.Of(r.root) {
			switch p := f.At(r.root, i).(type) {
			case *quantity.Value:
				*p = f.absent
			case *int:
				*p = f.absentCount
			case *string:
				*p = f.Absent
			}
		}
	}
	for i := range r.values {
		if v := &r.values[i]; r.schema.isNameOfList(v.path) {
			*r.schema.Field(v.path).At(r.root, v.index).(*string) = v.text
		}
	}
}

// value reads one value into its field.
func (r *reader) value(v *value) {
	f := r.schema.Field(v.path)
	if f == nil {
		switch {
		case !r.schema.isTable(v.path):
			r.problems = append(r.problems, r.unknown(v))
		case v.kind != unstable.InlineTable || r.schema.isForRows(v.path): // another empty one is as good as none
			r.problems = append(r.problems, Problem{
				Line: v.line, Path: r.pathOf(v.path, v.index), Given: v.text,
				Wrong: "a table stands by this name", Remedy: "write [" + v.path + "], and its keys below",
			})
		}
		return
	}
	switch {
	case v.text == "":
		return // empty is absent
	case v.long > 0:
		r.tooLong(f, v)
		return
	}
	switch p := f.At(r.root, v.index).(type) {
	case *quantity.Value:
		r.quantity(f, v, p)
	case *int:
		r.number(f, v, p)
	case *string:
		r.word(f, v, p)
	case *[]calc.Point:
		if rows := r.pairs(f, v, quantity.Percent, 2, MostPairs); rows != nil {
			*p = make([]calc.Point, len(rows))
			for i, row := range rows {
				(*p)[i] = calc.Point{Current: row[0], Scale: row[1]}
			}
		}
	case *[]calc.Charge:
		if rows := r.pairs(f, v, quantity.Volts, 2, 50); rows != nil {
			*p = make([]calc.Charge, len(rows))
			for i, row := range rows {
				(*p)[i] = calc.Charge{Used: row[0], Rest: row[1]}
			}
		}
	case *[]Hole:
		*p = r.holes(f, v)
	}
}

// isPlain says whether a value is a text or a number.
func (v *value) isPlain() bool {
	return v.kind == unstable.String || v.kind == unstable.Integer || v.kind == unstable.Float
}

func (r *reader) quantity(f *Field, v *value, to *quantity.Value) {
	if !v.isPlain() {
		r.problem(f, v, "a text or a number is needed", "write it in quotes")
		return
	}
	q, err := quantity.Parse(v.text, f.Unit)
	if err != nil {
		r.unreadable(f, v, err)
		return
	}
	if wrong, remedy := f.wrongWith(q); wrong != "" {
		r.problem(f, v, wrong, remedy)
		return
	}
	*to = q
}

// wrongWith says what is wrong with a quantity by itself, and what to do; "" where it will
// do.
func (f *Field) wrongWith(q quantity.Value) (wrong, remedy string) {
	switch {
	case q.Number < f.low:
		return "too small", remedyForRange(f)
	case q.Number > f.high:
		return "too large", cmp.Or(f.TooMuch, remedyForRange(f))
	case f.low == 0 && 0 < q.Number && q.Number < f.high*leastShare:
		return "next to nothing, yet not 0", "write 0, or check the prefix"
	case f.low > 0 && q.Low() <= 0:
		return "its tolerance reaches zero", "make the tolerance smaller than the value"
	case f.low >= 0 && q.Low() < 0:
		return "its tolerance reaches below zero", "make the tolerance smaller than the value"
	}
	return "", ""
}

// leastShare is the least part of its most that a quantity may be which is not 0.
// What is computed of less has no meaning, and its squares no number.
const leastShare = 1e-12

func (r *reader) number(f *Field, v *value, to *int) {
	n, err := quantity.ParseCount(v.text)
	switch {
	case !v.isPlain():
		r.problem(f, v, "a whole number is needed", "write digits only")
	case err != nil:
		r.unreadable(f, v, err)
	case float64(n) < f.low:
		r.problem(f, v, "too small", remedyForRange(f))
	case float64(n) > f.high:
		r.problem(f, v, "too large", remedyForRange(f))
	default:
		*to = n
	}
}

func (r *reader) word(f *Field, v *value, to *string) {
	switch {
	case v.kind == unstable.Bool && f.spelled(v.text) != v.text:
		*to = f.spelled(v.text)
	case v.kind != unstable.String && !(f.Path == "reading.value" && v.isPlain()):
		r.problem(f, v, "a text is needed", "write it in quotes")
	case f.Choices != nil && !slices.Contains(f.Choices, v.text):
		r.problem(f, v, "no such choice", "did you mean "+f.meant(v.text)+"?")
	default:
		*to = v.text
	}
}

// pairs reads rows of a share and a second quantity; nil after a problem.
func (r *reader) pairs(f *Field, v *value, second quantity.Unit, least, most int) [][2]float64 {
	example := "47 %"
	if second == quantity.Volts {
		example = "1.24 V"
	}
	if len(v.pairs) < least || len(v.pairs) > most {
		r.problem(f, v, fmt.Sprintf("%d to %d pairs are needed", least, most), "write each as [\"50 %\", \""+example+"\"] in the file, 50 % : "+example+" on the form")
		return nil
	}
	rows := make([][2]float64, len(v.pairs))
	for i, pair := range v.pairs {
		if len(pair) != 2 {
			r.problem(f, v, fmt.Sprintf("row %d: there are 3 values in a pair", i+1), "take one of them out")
			return nil
		}
		for k, u := range [2]quantity.Unit{quantity.Percent, second} {
			q, err := quantity.ParsePlain(pair[k], u)
			if err != nil {
				r.unreadable(f, v, fmt.Errorf("row %d: %w", i+1, err))
				return nil
			}
			rows[i][k] = q.Number
		}
	}
	return rows
}

// mostHoles is how many holes, or windows, a dial may have.
const mostHoles = 60

// holes reads rows of x, y and diameter; nil after a problem.
func (r *reader) holes(f *Field, v *value) []Hole {
	remedy := `write each as ["-40 mm", "0 mm", "3 mm"] in the file, -40 mm : 0 mm : 3 mm on the form`
	if v.pairs == nil || len(v.pairs) > mostHoles {
		r.problem(f, v, fmt.Sprintf("rows of three are needed, %d at most", mostHoles), remedy)
		return nil
	}
	holes := make([]Hole, len(v.pairs))
	for i, row := range v.pairs {
		if len(row) != 3 {
			r.problem(f, v, fmt.Sprintf("row %d: x, y and the diameter are needed", i+1), remedy)
			return nil
		}
		for k, to := range []*float64{&holes[i].X, &holes[i].Y, &holes[i].Diameter} {
			q, err := quantity.ParsePlain(row[k], quantity.Millimetres)
			if err == nil && !q.Given() {
				err = errors.New("a value is missing")
			}
			if err != nil {
				r.unreadable(f, v, fmt.Errorf("row %d: %w", i+1, err))
				return nil
			}
			*to = q.Number
		}
		if wrong := holes[i].wrong(); wrong != "" {
			r.problem(f, v, fmt.Sprintf("row %d: %s", i+1, wrong), remedy)
			return nil
		}
	}
	return holes
}

// problem adds a problem of one value.
func (r *reader) problem(f *Field, v *value, wrong, remedy string) {
	r.problems = append(r.problems, Problem{
		Line: v.line, Path: f.PathOf(r.root, v.index), Label: f.Label, Given: v.text,
		Wrong: wrong, Allowed: f.Allowed(), Remedy: remedy,
	})
}

// unreadable adds the problem of a text that is no quantity.
func (r *reader) unreadable(f *Field, v *value, err error) {
	var q *quantity.Error
	if errors.As(err, &q) {
		wrong := strings.Replace(err.Error(), q.Error(), q.Problem, 1) // keeps "row 3: "
		r.problem(f, v, wrong, cmp.Or(toEnter(f.Path, q.Measures), q.Remedy))
		return
	}
	r.problem(f, v, err.Error(), remedyForRange(f))
}

func remedyForRange(f *Field) string {
	if f.Unit.Symbol() != "" {
		return "check the prefix: a bare number is in " + f.Unit.Symbol()
	}
	return "give one within the range"
}

// unknown is the problem of a path that no field has.
func (r *reader) unknown(v *value) Problem {
	remedy := noneLikeIt
	if near := r.schema.nearestField(v.path); levenshtein.ComputeDistance(last(near), last(v.path)) <= 1+len(last(v.path))/3 {
		remedy = "did you mean " + near + "?"
	}
	return Problem{
		Line: v.line, Path: r.pathOf(v.path, v.index), Given: last(v.path),
		Wrong: "no such key", Remedy: remedy,
	}
}

const noneLikeIt = "no key of a build is like it: take the line out"

var nameForm = regexp.MustCompile(`^[a-z][a-z0-9-]*$`)

// names holds names to their form and to being unique.
func (r *reader) names() {
	for _, l := range r.schema.lists {
		if l.key != "name" { // readings may be of one test point, and rows have none
			continue
		}
		path := l.name + ".name"
		f, taken := r.schema.Field(path), map[string]bool{}
		for i := range f.Of(r.root) {
			name, v := *f.At(r.root, i).(*string), r.find(path, i)
			switch {
			case name == "" || r.hasProblem(path, i): // see given and word
			case !nameForm.MatchString(name):
				r.problem(f, v, "a name is small letters, digits and -, a letter first", "write it like seconds or hall-2")
			case slices.Contains(r.schema.tables, name):
				r.problem(f, v, "a table of the file is called so", "take another name")
			case taken[name]:
				r.problem(f, v, "another "+l.one+" has this name", "take another name")
			}
			taken[name] = true
		}
	}
}

// given adds a problem for each field that must be given and is not.
func (r *reader) given() {
	for _, f := range r.schema.Fields {
		if !f.Must {
			continue
		}
		for i := range f.Of(r.root) {
			v := r.find(f.Path, i)
			if v != nil && v.text != "" || f.Spared != nil && f.Spared(r.root, i) {
				continue
			}
			r.problems = append(r.problems, Problem{
				Line: r.lineOf(f, i), Path: f.PathOf(r.root, i), Label: f.Label,
				Wrong: "must be given", Allowed: f.Allowed(), Remedy: f.remedyWhenMissing(),
			})
		}
	}
}

func (f *Field) remedyWhenMissing() string {
	example := f.New
	switch {
	case example == "" && f.Unit == quantity.Ohms:
		example = "640 Ω"
	case example == "" && f.Unit == quantity.Microamperes:
		example = "500 µA"
	case example == "":
		return "write what the multimeter said"
	}
	return "write for example " + example
}

// lineOf is the line a field stands on, or that of its table.
func (r *reader) lineOf(f *Field, index int) int {
	if v := r.find(f.Path, index); v != nil {
		return v.line
	}
	for path := parent(f.Path); ; path = parent(path) {
		for _, t := range r.tables {
			if t.path == path && t.index == index {
				return t.line
			}
		}
		if path == "" {
			return 1
		}
	}
}

// clash adds a problem of a value against others; it stands at the field, or at
// its table where the value is absent. Where it or one of the others could not be
// read there is nothing to compare.
func (r *reader) clash(path string, index int, wrong, allowed, remedy string, others ...string) {
	f := r.schema.Field(path)
	for _, p := range append(others, path) {
		if r.hasProblem(p, index) {
			return
		}
	}
	p := Problem{
		Line: r.lineOf(f, index), Path: f.PathOf(r.root, index), Label: f.Label,
		Wrong: wrong, Allowed: allowed, Remedy: remedy,
	}
	if v := r.find(path, index); v != nil {
		p.Given = v.text
	}
	r.problems = append(r.problems, p)
}

// hasProblem says whether a field's value already has one.
func (r *reader) hasProblem(path string, index int) bool {
	f := r.schema.Field(path)
	at, line := f.PathOf(r.root, index), r.lineOf(f, index) // two of one name have different lines
	return slices.ContainsFunc(r.problems, func(p Problem) bool { return p.Path == at && p.Line == line })
}
