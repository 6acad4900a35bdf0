package bench

import (
	"slices"

	built "example.com/needlewright/model/bench"
	"example.com/needlewright/ui/session"
)

// The fields of a reading.
var (
	valueField  = session.FieldOf("reading.value")
	noteField   = session.FieldOf("reading.note")
	beforeField = session.FieldOf("reading.before")
)

// A row is a test point with its reading, or a reading of no point.
type row struct {
	heading string       // of the group it begins, "" inside one
	point   *built.Point // nil: there is no such point in this build
	place   built.Place
	read    *built.Read // nil: it is not taken
}

// key tells the row from all others.
func (r *row) key() string {
	if r.point == nil {
		return numbered(r.read.Index)
	}
	return r.point.ID
}

// id is the test point, also where the build has none such.
func (r *row) id() string {
	if r.point == nil {
		return r.read.At
	}
	return r.point.ID
}

// isBefore says whether the reading was taken before the last repair.
func (r *row) isBefore() bool { return r.read != nil && r.read.Before }

// isInFile says whether the file has a reading for the row; a row of a scale may stand for
// one, until one is typed.
func (r *row) isInFile() bool { return r.read != nil && r.read.Index >= 0 }

// counts says whether the reading is weighed.
func (r *row) counts() bool { return r.read != nil && !r.read.Before }

// list is all rows: the points of the hand in view, then those of the clock, its lamps and
// buttons, then readings of none.
func (b *Bench) list() []row {
	report := b.Report()
	if report == nil {
		return nil
	}
	if b.rows.report != report || b.rows.hand != b.s.Hand {
		b.rows.report, b.rows.hand, b.rows.all = report, b.s.Hand, b.makeRows(report)
	}
	return b.rows.all
}

func (b *Bench) makeRows(report *built.Report) []row {
	groups := map[string][]row{}
	var owners []string
	for i := range report.Points {
		p := &report.Points[i]
		place, _ := b.prepared.Got().PlaceOf(p.ID)
		if place.Hand >= 0 && place.Hand != b.s.Hand {
			continue
		}
		if !slices.Contains(owners, place.Owner) {
			owners = append(owners, place.Owner)
		}
		r := row{point: p, place: place, read: readingAt(report, p.ID)}
		if len(groups[place.Owner]) == 0 {
			r.heading = headingOf(place.Owner)
		}
		groups[place.Owner] = append(groups[place.Owner], r)
	}
	var all []row
	for _, owner := range owners {
		all = append(all, groups[owner]...)
	}
	heading := "Of no test point here"
	for i := range report.Readings {
		if r := &report.Readings[i]; r.Verdict == built.Foreign {
			all = append(all, row{heading: heading, read: r})
			heading = ""
		}
	}
	return all
}

// An At is a test point as a list of all that can be gone to has it.
type At struct{ ID, Text string }

// All are the test points of the hand in view and of the clock.
func (b *Bench) All() []At {
	var all []At
	for _, r := range b.list() {
		if r.point != nil {
			all = append(all, At{r.point.ID, b.prepared.Got().CalledOf(r.point.ID)})
		}
	}
	return all
}

// headingOf is what a group of points is called.
func headingOf(owner string) string {
	if owner == "" {
		return "The clock"
	}
	return owner
}

// readingAt is the reading of a point, the latest; one from before the last repair only
// where there is no other.
func readingAt(report *built.Report, id string) (at *built.Read) {
	for i := range report.Readings {
		if r := &report.Readings[i]; r.At == id && (at == nil || at.Before || !r.Before) {
			at = r
		}
	}
	return at
}

// PlaceOf is where a point stands among all others; false where the build has none such.
func (b *Bench) PlaceOf(id string) (built.Place, bool) { return b.prepared.Got().PlaceOf(id) }

// at is the row that has the keys.
func (b *Bench) at() int {
	return max(0, slices.IndexFunc(b.list(), func(r row) bool { return r.key() == b.focus }))
}

// focused is the row that has the keys; false where there is none.
func (b *Bench) focused() (row, bool) {
	all := b.list()
	if len(all) == 0 {
		return row{}, false
	}
	return all[b.at()], true
}

// given is what the file has for a row.
func (b *Bench) given(r row) string {
	if r.read == nil {
		return ""
	}
	if !r.isInFile() {
		return r.read.Given
	}
	text, _ := b.s.Doc.Given(valueField, r.read.Index)
	return text
}
