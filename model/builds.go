package model

// Builds is the kind of file that holds a build. Of each list it takes more than any
// clock has, and few enough for all of them to be worked out with every key.
var Builds = (&Schema{
	lists: []list{
		{"hand", "name", 12, func(root any, n int) { root.(*Build).Hands = make([]Hand, n) }},
		{"lamp", "name", 40, func(root any, n int) { root.(*Build).Lamps = make([]Lamp, n) }},
		{"drain", "name", 40, func(root any, n int) { root.(*Build).Drains = make([]Drain, n) }},
		{"button", "name", 40, func(root any, n int) { root.(*Build).Buttons = make([]Button, n) }},
		{"reading", "at", 200, func(root any, n int) { root.(*Build).Readings = make([]Reading, n) }},
	},
	empty:    func() any { return new(Build) },
	complete: func(root any) { root.(*Build).Battery.fill() },
	check:    crossCheck,
}).prepare(fieldRows)

// NameOf returns the name of the i-th hand, lamp or other element of a list, or its
// number from 1 where it has none.
func (b *Build) NameOf(list string, i int) string { return Builds.NameOf(b, list, i) }

// Read reads the text of a build and returns it with every problem found, in
// the order of their lines. What cannot be read is as if it were absent, so
// that the build is whole, but only one without problems should be evaluated.
func Read(text string) (*Build, []Problem) {
	r := Builds.read(text, nil)
	return r.root.(*Build), r.problems
}

// Open reads the text of a build into a document; see Read.
func Open(text string) *Document { return Builds.Open(text) }

// Set puts a value at a path ("hand.hours.meter.coil") of a text and returns
// the new text. Only the value's own bytes change; a key that is not there is
// added after the last line of its table, and a table that is not there after
// the last of its kin. The value is not judged: Read does that. The problem is
// one of the path, or of a text that is not TOML; then the text is unchanged.
func Set(text, path, given string) (string, *Problem) {
	o := Builds.scan(text)
	if o.broken {
		return text, &o.problems[len(o.problems)-1]
	}
	f, index, problem := o.resolve(path)
	if problem != nil {
		return text, problem
	}
	text, _ = o.set(f, index, given, "")
	return text, nil
}
