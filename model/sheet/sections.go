package sheet

import (
	"example.com/needlewright/model"
	"example.com/needlewright/model/bench"
	"example.com/needlewright/model/network"
	"example.com/needlewright/model/report"
)

// New returns the sheet of a document without problems.
func New(d *model.Document) (*Sheet, error) {
	m := newMaker(d, false)
	return m.make()
}

// ForLearner returns the sheet of a document without problems with its results blank, and
// the key to it.
func ForLearner(d *model.Document) (sheet, key *Sheet, err error) {
	m := newMaker(d, true)
	if sheet, err = m.make(); err != nil {
		return nil, nil, err
	}
	return sheet, &Sheet{Title: "Key: " + sheet.Title, About: "What belongs into the numbered blanks of the learner's sheet.", Sections: m.key}, nil
}

func newMaker(d *model.Document, learner bool) *maker {
	r := report.Of(d).Advised().Banded()
	m := &maker{d: d, b: r.Build, r: r, n: network.Of(r.Build, &r.Plan), x: bench.Sound(r.Build), learner: learner}
	m.points = m.x.Verdicts(r.Build.Readings).Points
	if learner {
		m.gather()
	}
	return m
}

// title is what the clock is called.
func (m *maker) title() string {
	if m.b.Title == "" {
		return "A meter clock"
	}
	return m.b.Title
}

// make makes the sheet, section by section, in their order.
func (m *maker) make() (*Sheet, error) {
	s := &Sheet{Title: m.title(), About: "Build sheet of a clock whose hands are the needles of meters.", Learner: m.learner}
	if m.learner {
		s.About = "A learner's build sheet of a clock whose hands are the needles of meters: what is asked for is blank."
	}
	for _, part := range []struct {
		id, title string
		blocks    func() ([]Block, error)
	}{
		{"built", "What is built", always(m.built)},
		{"care", "Take care, the gravest first", always(m.care)},
		{"circuit", "The circuit", always(m.circuit)},
		{"connections", "The connections", always(m.connections)},
		{"parts", "The parts", always(m.parts)},
		{"settings", "The settings", always(m.settings)},
		{"steps", "The steps", always(m.steps)},
		{"points", "The test points", always(m.testPoints)},
		{"dials", "The dials, at true size", always(m.dials)},
		{"codes", "The codes for the firmware", always(m.codes)},
		{"results", "The results", always(m.results)},
		{"workings", "The workings", m.workings},
		{"errors", "How wrong it reads, and how long it lasts", always(m.errors)},
		{"assumed", "What is assumed", always(m.assumed)},
	} {
		m.key = append(m.key, Section{ID: part.id, Title: part.title})
		blocks, err := part.blocks()
		if err != nil {
			return nil, err
		}
		if m.hidden().Blocks == nil {
			m.key = m.key[:len(m.key)-1]
		}
		if blocks != nil {
			s.Sections = append(s.Sections, Section{part.id, part.title, blocks})
		}
	}
	return s, nil
}

// always is a section that can always be made.
func always(blocks func() []Block) func() ([]Block, error) {
	return func() ([]Block, error) { return blocks(), nil }
}
