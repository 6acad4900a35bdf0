package model

import "slices"

// Builds is the kind of file that holds a build. Of each list it takes more than any
// clock has, and few enough for all of them to be worked out with every key.
var Builds = (&Schema{
	lists: []list{
		listOfBuilds("hand", "hand", "name", 12, func(b *Build, _ int) *[]Hand { return &b.Hands }),
		listOfBuilds("hand.scale", "scale row", "", 100, func(b *Build, hand int) *[]ScaleRow { return &b.Hands[hand].Scale }),
		listOfBuilds("hand.survey.step", "survey step", "", 60, func(b *Build, hand int) *[]SurveyStep { return &b.Hands[hand].Survey }),
		listOfBuilds("lamp", "lamp", "name", 40, func(b *Build, _ int) *[]Lamp { return &b.Lamps }),
		listOfBuilds("drain", "drain", "name", 40, func(b *Build, _ int) *[]Drain { return &b.Drains }),
		listOfBuilds("button", "button", "name", 40, func(b *Build, _ int) *[]Button { return &b.Buttons }),
		listOfBuilds("reading", "reading", "at", 200, func(b *Build, _ int) *[]Reading { return &b.Readings }),
		listOfBuilds("walk", "walk row", "", 200, func(b *Build, _ int) *[]WalkRow { return &b.Walk }),
		listOfBuilds("walk.met", "met row", "", 20, func(b *Build, row int) *[]MetRow { return &b.Walk[row].Met }),
	},
	empty:    func() any { return new(Build) },
	complete: func(root any) { root.(*Build).Battery.fill() },
	check:    crossCheck,
}).prepare(fieldRows)

// listOfBuilds is a list of builds, of which each owner has a slice.
func listOfBuilds[T any](name, one, key string, most int, of func(b *Build, owner int) *[]T) list {
	return list{
		name: name, one: one, key: key, most: most,
		make: func(root any, owner, n int) { *of(root.(*Build), owner) = make([]T, n) },
		size: func(root any, owner int) int { return len(*of(root.(*Build), owner)) },
	}
}

// NameOf returns the name of the i-th hand, lamp or other element of a list, or its
// number from 1 where it has none.
func (b *Build) NameOf(list string, i int) string { return Builds.NameOf(b, list, i) }

// HandNamed returns which hand is called so, -1 where none is.
func (b *Build) HandNamed(name string) int {
	return slices.IndexFunc(b.Hands, func(h Hand) bool { return h.Name == name })
}

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
// the last of its kin. A row of a hand is added where the path gives the number behind
// the last ("hand.hours.scale.4.code"). The value is not judged: Read does that. The
// problem is one of the path, or of a text that is not TOML; then the text is unchanged.
func Set(text, path, given string) (string, *Problem) {
	o := Builds.scan(text)
	if o.broken {
		return text, &o.problems[len(o.problems)-1]
	}
	if t := o.locate(path); o.isNext(t) {
		if given == "" {
			return text, nil // absent and empty are one
		}
		return o.withRow(t.list, t.owner, map[string]NewValue{t.field.Path: {Text: given}}), nil
	}
	f, index, problem := o.resolve(path)
	if problem != nil {
		return text, problem
	}
	text, _ = o.set(f, index, given, "")
	return text, nil
}

// fieldRows is the fields table. Ranges, usual values and the words about
// measuring are common practice, no source, unless a row says otherwise.
//
// Choices and their absent values are those of catalogue.md.
var fieldRows = slices.Concat(fieldsOfMeter, fieldsOfDial, fieldsOfRows, fieldsOfFilter, fieldsOfCrystal, fieldsOfBattery)

// one places a field that stands once in a build.
func one(at func(*Build) any) place {
	return place{func(any) int { return 1 }, func(root any, _ int) any { return at(root.(*Build)) }}
}

// in places a field that each element of a list of builds has.
func in[T any](list func(*Build) []T, at func(*T) any) place {
	return place{
		func(root any) int { return len(list(root.(*Build))) },
		func(root any, i int) any { return at(&list(root.(*Build))[i]) },
	}
}

func inHand(at func(*Hand) any) place {
	return in(func(b *Build) []Hand { return b.Hands }, at)
}

func inLamp(at func(*Lamp) any) place {
	return in(func(b *Build) []Lamp { return b.Lamps }, at)
}

func inDrain(at func(*Drain) any) place {
	return in(func(b *Build) []Drain { return b.Drains }, at)
}

func inButton(at func(*Button) any) place {
	return in(func(b *Build) []Button { return b.Buttons }, at)
}

func inMeter(at func(*Multimeter) any) place {
	return one(func(b *Build) any { return at(&b.Meter) })
}

func inReading(at func(*Reading) any) place {
	return in(func(b *Build) []Reading { return b.Readings }, at)
}

func inWalk(at func(*WalkRow) any) place {
	return in(func(b *Build) []WalkRow { return b.Walk }, at)
}

// inRow places a field of the rows that the elements of a list have, counted through all
// of them.
func inRow[O, T any](owners func(*Build) []O, rows func(*O) []T, at func(*T) any) place {
	return place{
		func(root any) (n int) {
			all := owners(root.(*Build))
			for i := range all {
				n += len(rows(&all[i]))
			}
			return n
		},
		func(root any, i int) any {
			all := owners(root.(*Build))
			for k := range all {
				of := rows(&all[k])
				if i < len(of) {
					return at(&of[i])
				}
				i -= len(of)
			}
			panic("unreachable: a row beyond the last")
		},
	}
}

func handsOf(b *Build) []Hand { return b.Hands }

func inScale(at func(*ScaleRow) any) place {
	return inRow(handsOf, func(h *Hand) []ScaleRow { return h.Scale }, at)
}

func inSurvey(at func(*SurveyStep) any) place {
	return inRow(handsOf, func(h *Hand) []SurveyStep { return h.Survey }, at)
}

func inMet(at func(*MetRow) any) place {
	return inRow(func(b *Build) []WalkRow { return b.Walk }, func(w *WalkRow) []MetRow { return w.Met }, at)
}
