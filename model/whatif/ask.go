package whatif

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/quantity"
)

// An Unasked is why a question cannot be asked, with what to do.
type Unasked struct {
	Why  error
	Hint string
}

func (u *Unasked) Error() string { return u.Why.Error() }

// Ask makes a question of a document without problems: of the id of a result
// ("hours.trimmer_travel"), what it is to be, as people write it, and the path of the input
// that may change. The error is an *Unasked.
func Ask(d *model.Document, result, value, path string) (*Question, error) {
	q := &Question{Doc: d}
	if err := q.findResult(result); err != nil {
		return nil, err
	}
	v, err := Wanted(value, q.Result, result)
	if err != nil {
		return nil, err
	}
	q.Want, q.Within = v, within(value, v)
	f, i, ok := d.Find(path)
	switch {
	case !ok:
		return nil, &Unasked{fmt.Errorf("there is no input %s", path), "did you mean " + model.NearestID(path, Paths(q.Doc.Build)) + "?"}
	case f.IsRow() || !IsNumber(f, d.Build, i):
		return nil, &Unasked{fmt.Errorf("%s is neither a quantity nor a count", path), "name one that is, as " + q.example()}
	}
	q.Field, q.FieldIndex = f, i
	return q, nil
}

// Wanted reads what a result is to be, as people write it; called is its name in the error,
// which is an *Unasked.
func Wanted(value string, r *circuit.Result, called string) (float64, error) {
	v, err := valueOf(value, r.Unit)
	if err != nil {
		return 0, &Unasked{fmt.Errorf("%q is no value of %s: %w", value, called, err), "write it as the results are written: " + r.Unit.Example()}
	}
	return v, nil
}

// Says is an error in one sentence, with what to do where it is an *Unasked.
func Says(err error) string {
	text := err.Error()
	if u := (*Unasked)(nil); errors.As(err, &u) {
		text += "; " + u.Hint
	}
	return text + "."
}

// valueOf reads a result as people write it, and as it is shown: times of the dial below a
// second in ms, lives in months and years.
func valueOf(text string, u quantity.Unit) (float64, error) {
	v, err := quantity.ParsePlain(text, u)
	if err == nil {
		return v.Number, nil
	}
	also := map[quantity.Unit][]shownIn{
		quantity.Minutes: {{quantity.Seconds, 1.0 / 60, ""}},
		quantity.Hours:   {{quantity.Years, hoursAYear, ""}, {quantity.Times, hoursAYear / 12, "months"}, {quantity.Times, hoursAYear / 12, "month"}},
	}
	for _, other := range also[u] {
		number, ok := strings.CutSuffix(strings.TrimSpace(text), other.word)
		if v, err := quantity.ParsePlain(number, other.unit); ok && err == nil {
			return v.Number * other.times, nil
		}
	}
	return 0, err
}

// A shownIn is another unit in which a result is shown: how much one of it is, and the word
// behind the number, if it is not the unit's own.
type shownIn struct {
	unit  quantity.Unit
	times float64
	word  string
}

// hoursAYear is the catalogue's year.
const hoursAYear = 8766

// IsNumber says whether a field is a quantity or a count.
func IsNumber(f *model.Field, b *model.Build, i int) bool {
	switch f.At(b, i).(type) {
	case *quantity.Value, *int:
		return true
	}
	return false
}

// findResult finds a result by its id, which of the only hand may be without its name; one
// that the build does not have now it may have with another value.
func (q *Question) findResult(id string) error {
	var p circuit.Plan
	circuit.Evaluate(q.Doc.Build, &p)
	var ids []string
	whole := id
	if hands := q.Doc.Build.Hands; len(hands) == 1 {
		whole = hands[0].Name + "." + id
	}
	for k := range circuit.Results {
		r := &circuit.Results[k]
		for i := range r.Of(&p) {
			if name := r.IDOf(q.Doc.Build, i); name == id || name == whole {
				q.Result, q.ResultIndex = r, i
				return nil
			}
			ids = append(ids, r.IDOf(q.Doc.Build, i))
		}
	}
	return &Unasked{fmt.Errorf("there is no result %s", id), "did you mean " + model.NearestID(id, ids) + "?  needlewright check --all FILE  lists them all"}
}

// Paths returns those of all quantities and counts of a build: what may be changed.
func Paths(b *model.Build) []string {
	var all []string
	for _, f := range model.Builds.Fields {
		for i := range f.Of(b) {
			if !f.IsRow() && IsNumber(f, b, i) {
				all = append(all, f.PathOf(b, i))
			}
		}
	}
	return all
}

// example is a path of the build at hand.
func (q *Question) example() string {
	for _, path := range Paths(q.Doc.Build) {
		if strings.HasSuffix(path, ".drive.fixed") {
			return path
		}
	}
	return "rail.voltage"
}

// within is half of what the last digit of a text means, at most half of a digit in four:
// a count that gives the result as it is shown gives it.
func within(text string, value float64) float64 {
	const shown = 0.0005
	decimals, digits := 0, strings.TrimLeft(strings.TrimSpace(text), "+-−")
	if end := strings.IndexFunc(digits, func(r rune) bool { return (r < '0' || r > '9') && r != '.' && r != ',' }); end >= 0 {
		digits = digits[:end]
	}
	if at := strings.IndexAny(digits, ".,"); at >= 0 {
		decimals = len(digits) - at - 1
	}
	n, err := quantity.ParsePlain(strings.ReplaceAll(digits, ",", "."), quantity.Times)
	if err != nil || n.Number == 0 {
		return 0
	}
	return math.Abs(value) * min(shown, math.Pow10(-decimals)/2/n.Number)
}

// Path is that of the input: "hand.hours.drive.fixed".
func (q *Question) Path() string { return q.Field.PathOf(q.Doc.Build, q.FieldIndex) }

// ResultID is the id of the result: "hours.trimmer_travel".
func (q *Question) ResultID() string { return q.Result.IDOf(q.Doc.Build, q.ResultIndex) }
