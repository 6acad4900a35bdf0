package working

import (
	"fmt"
	"strings"

	"example.com/needlewright/calc"
	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/quantity"
)

// A letter is one quantity of a working: given in the file, or found by a line of its own.
type letter struct {
	words string
	unit  quantity.Unit
	x     float64     // with all digits
	of    *expression // nil: it is given, or taken as it stands
	given bool        // it is in the file, with all its digits
	keep  bool        // its line stands though it comes to nothing
	text  string      // as printed
}

// isShare says whether it is printed without a unit, or in percent.
func (l *letter) isShare() bool {
	_, unit, _ := strings.Cut(l.text, " ")
	return unit == "" || unit == "%"
}

// An entry is a row of the letters' tables: what a letter is in words, and where its number
// comes from. What is behind a dot of its name is handed on.
type entry struct {
	words   func(d *desk, of string) string
	unit    quantity.Unit
	value   func(d *desk, of string) quantity.Value // it is given
	formula func(d *desk, of string) string         // it is found
	taken   bool                                    // the value has all digits and is from another working, or was found by trying
	enters  bool                                    // its formula is of the hand of that number
	keep    bool
}

// says are words that do not depend on anything.
func says(words string) func(*desk, string) string {
	return func(*desk, string) string { return words }
}

// given is a letter for a value of the file.
func given(words string, u quantity.Unit, of func(d *desk) quantity.Value) entry {
	return entry{words: says(words), unit: u, value: func(d *desk, _ string) quantity.Value { return of(d) }}
}

// plain is a letter for a number of the file that has no tolerance.
func plain(words string, u quantity.Unit, of func(d *desk) float64) entry {
	return given(words, u, func(d *desk) quantity.Value { return quantity.Value{Number: of(d)} })
}

// found is a letter with a formula that depends on the build.
func found(words string, u quantity.Unit, formula func(d *desk) string) entry {
	return entry{words: says(words), unit: u, formula: func(d *desk, _ string) string { return formula(d) }}
}

// always is a letter with a formula.
func always(words string, u quantity.Unit, formula string) entry {
	return found(words, u, func(*desk) string { return formula })
}

// tried is a letter for a number that no formula gives: it was found by trying.
func tried(words string, u quantity.Unit, of func(d *desk) float64) entry {
	e := plain(words, u, of)
	e.taken = true
	return e
}

// A desk is where a working is written.
type desk struct {
	b       *model.Build
	p       *circuit.Plan
	list    string             // "hand", "crystal"; that of the result
	i       int                // of its hand, lamp or button
	of      int                // the hand whose letters are looked for
	rows    map[string]row     // of results
	tables  []map[string]entry // where letters are looked up
	letters map[string]*expression
	order   []*letter     // those with a line, as they come
	digits  int           // that answers have at least
	also    []*expression // of which the letters have lines too
}

func (d *desk) hand() *model.Hand           { return &d.b.Hands[d.of] }
func (d *desk) drive() *model.Drive         { return &d.hand().Drive }
func (d *desk) meter() *model.Meter         { return &d.hand().Meter }
func (d *desk) wired() *circuit.HandCircuit { return &d.p.Circuit.Hands[d.of] }
func (d *desk) solved() *circuit.HandPlan   { return &d.p.Hands[d.of] }

// letterOf is what stands for a letter: itself, what it is but another name of, or a number.
func (d *desk) letterOf(name string) *expression {
	key := fmt.Sprintf("%d %s", d.of, name)
	if e, ok := d.letters[key]; ok {
		return e
	}
	e := d.look(name)
	d.letters[key] = e
	return e
}

func (d *desk) look(name string) *expression {
	base, of, _ := strings.Cut(name, ".")
	if e, ok := d.entry(base); ok {
		return d.enter(&e, base, of)
	}
	for k := range circuit.Results {
		r := &circuit.Results[k]
		if (r.List() == d.list || r.OfHand()) && strings.HasSuffix(r.ID, "."+base) {
			row := d.rows[r.ID]
			return d.define(&letter{words: row.words, unit: r.Unit}, d.formula(d.formulaOf(r)))
		}
	}
	panic("no such letter: " + name)
}

func (d *desk) entry(base string) (entry, bool) {
	for _, table := range d.tables {
		if e, ok := table[base]; ok {
			return e, true
		}
	}
	return entry{}, false
}

// enter finds a letter of the tables.
func (d *desk) enter(e *entry, base, of string) *expression {
	if e.enters {
		was := d.of
		_, _ = fmt.Sscan(of, &d.of)
		defer func() { d.of = was }()
	}
	l := &letter{words: e.words(d, of), unit: e.unit, keep: e.keep}
	if e.formula != nil {
		return d.define(l, d.formula(e.formula(d, of)))
	}
	v := e.value(d, of)
	l.given = !e.taken
	switch of {
	case "low", "high":
		return d.endOf(l, v, base, of)
	case "tolerance":
		l.unit, v = quantity.Percent, quantity.Value{Number: v.Tolerance}
	case "half":
		v = quantity.Value{Number: v.Tolerance}
	default:
		v = quantity.Value{Number: v.Number}
	}
	if v.Number == 0 && !e.taken {
		return constant(0)
	}
	l.x = v.Number * scale(l.unit)
	l.text = quantity.Format(v, l.unit)
	if e.taken {
		d.order = append(d.order, l)
	}
	return &expression{op: 'l', letter: l}
}

// endOf is the lower or the upper end of what a value's tolerance allows.
func (d *desk) endOf(l *letter, v quantity.Value, base, of string) *expression {
	sign := map[string]string{"low": "−", "high": "+"}[of]
	if v.Tolerance == 0 {
		return d.letterOf(base)
	}
	l.given = false
	l.words += map[string]string{"low": ", least", "high": ", most"}[of]
	if v.Share {
		return d.define(l, d.formula(base+"·(1 "+sign+" "+base+".tolerance)"))
	}
	return d.define(l, d.formula(base+" "+sign+" "+base+".half"))
}

// define gives a letter its expression, and a line, unless it is only another name or a
// number.
func (d *desk) define(l *letter, e *expression) *expression {
	if !l.keep && (e.op == 'l' || e.op == '#') {
		return e
	}
	l.of, l.x = e, e.value()
	d.order = append(d.order, l)
	return &expression{op: 'l', letter: l}
}

// law is where the needle stands for a share of full-scale current.
func (d *desk) law(x *expression) *expression {
	law := &d.wired().Law
	if law.From > 0 {
		from := d.letterOf("scale_from")
		x = join('/', &expression{op: 'f', name: "max", parts: []*expression{constant(0), join('−', x, from)}}, join('−', constant(1), from))
	}
	switch points := law.Points; law.Kind {
	case calc.Square:
		return join('^', x, constant(2))
	case calc.Table:
		k, at := 1, x.value()
		for k < len(points)-1 && at >= points[k].Current {
			k++
		}
		a, b := points[k-1], points[k]
		slope := join('/', join('−', share(b.Scale), share(a.Scale)), join('−', share(b.Current), share(a.Current)))
		return join('+', share(a.Scale), join('·', slope, join('−', x, share(a.Current))))
	case calc.Smooth: // no line says how it was made: only what it gives
		at := law.At(x.value())
		if at == 0 || at == 1 {
			return constant(at)
		}
		return d.found("Of the scale as it was measured, at "+quantity.Show(x.value(), quantity.Percent, usual), at)
	}
	return x
}

// share is a number of percent as the file has it.
func share(x float64) *expression {
	if x == 0 {
		return constant(0)
	}
	return &expression{op: 'l', letter: &letter{x: x, given: true, text: quantity.Format(quantity.Value{Number: x}, quantity.Percent)}}
}

// A row is what a result's working needs beside its formula: what its last line says, why it
// matters, and another formula, in the letters of the tables, where that of the results is
// too long for a line, or calls what no calculator has.
type row struct {
	words   string
	label   string // what its working is called, "": as in the results
	why     string
	formula func(d *desk) string // nil: that of the results
	verdict func(d *desk) string // what the value is held against, in a sentence; nil: nothing
}

// formulaOf is the formula of a result's working.
func (d *desk) formulaOf(r *circuit.Result) string {
	if own := d.rows[r.ID].formula; own != nil {
		return own(d)
	}
	return r.Formula
}

// choose is one of two formulas.
func choose(so bool, then, other string) string {
	if so {
		return then
	}
	return other
}

// words are those of the last line of a result's working.
func (d *desk) words(o circuit.Outcome) string { return d.rows[o.ID].words }
