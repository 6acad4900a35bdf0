package sheet

import (
	"fmt"
	"slices"

	"example.com/needlewright/model"
	"example.com/needlewright/model/bench"
	"example.com/needlewright/model/caution"
	"example.com/needlewright/model/walk"
)

// steps are the stages of the walk, each with its cautions where the hand acts.
func (m *maker) steps() []Block {
	var blocks []Block
	states := m.r.Walk().States
	for k := range states {
		blocks = append(blocks, m.step(k+1, &states[k])...)
	}
	return blocks
}

// step is one of them.
func (m *maker) step(no int, s *walk.State) []Block {
	head := fmt.Sprintf("%d. %s: %s", no, s.Name(), s.Title)
	if !m.learner {
		head += " – " + map[string]string{walk.Done: "done", walk.Again: "to be looked at again", walk.Here: "here", walk.Open: "open"}[s.State]
	}
	first := Block{Heading: head, Texts: []string{s.Purpose}, Warned: []string{s.Caution}}
	if stop := s.Stop(); stop != "" {
		first.Warned = append(first.Warned, stop)
	}
	asked := &Table{Head: []string{"What", "How", "Stands"}}
	for _, page := range s.Asked() {
		for k := range page {
			q := &page[k]
			first.Warned = m.warn(first.Warned, s, q)
			asked.Rows = append(asked.Rows, []Cell{text(q.What), text(q.How), m.stands(s, q)})
		}
	}
	if asked.Rows != nil {
		first.Table = asked
	}
	blocks := []Block{first}
	if s.Command != "" {
		blocks[0].Texts = append(blocks[0].Texts, "The command  "+s.Command+"  makes it.")
	}
	if m.learner && s.ID == "bring-up" {
		blocks = append(blocks, Block{Heading: "Before first power", Texts: []string{"No power before this is signed: the meter is off, the resistor in its place, the trimmer at its maximum."},
			Signs: []string{"Teacher's yes to first power", "Name of the learner", "Date and time"}})
	}
	done := &Table{Head: []string{"Done when", "Yes"}}
	for _, c := range s.Conditions {
		done.Rows = append(done.Rows, []Cell{text(c.Says), tick(!m.learner && c.IsMet())})
	}
	return append(blocks, Block{Table: done})
}

// warn adds the cautions at what is asked for, each once a step.
func (m *maker) warn(warned []string, s *walk.State, q *walk.Question) []string {
	switch {
	case q.Field != "":
		f, i := s.FieldOf(q)
		return m.warnAt(warned, f, i)
	case q.Point != "":
		place, _ := m.x.PlaceOf(s.PointOf(q))
		return m.warnAtPoint(warned, place)
	}
	return warned
}

// warnAtPoint adds the cautions at a test point, each once.
func (m *maker) warnAtPoint(warned []string, place bench.Place) []string {
	if place.Caution == "" {
		return warned
	}
	return m.warnAt(warned, model.Builds.Field(place.Caution), max(0, place.Hand))
}

// warnAt adds the cautions at a field, each once.
func (m *maker) warnAt(warned []string, f *model.Field, i int) []string {
	if i >= f.Of(m.b) {
		return warned
	}
	for _, c := range caution.At(m.b, f, i) {
		if line := c.Line(); !slices.Contains(warned, line) {
			warned = append(warned, line)
		}
	}
	return warned
}

// stands is what there is of it; of a learner what is read and signed is to be found anew.
func (m *maker) stands(s *walk.State, q *walk.Question) Cell {
	given, mark, void := s.Given(q)
	switch {
	case m.learner && q.Field == "", given == "" && q.Field == "":
		return room
	case void:
		return Cell{Text: given, Small: "counts no more"}
	case given == "":
		f, i := s.FieldOf(q)
		return Cell{Text: m.spared(m.d.Assumed(f, i)), Small: "not in the file"}
	}
	return Cell{Text: given, Small: mark}
}

// testPoints are where the multimeter goes on the built clock, with what a sound one reads.
func (m *maker) testPoints() []Block {
	t := &Table{Head: []string{"Where", "How", "A sound clock", "Reads", "Fits"}}
	byID := map[string]string{}
	for _, r := range m.b.Readings {
		if r.Before != "yes" {
			byID[r.At] = r.Value
		}
	}
	var warned []string
	for k := range m.points {
		p := &m.points[k]
		place, _ := m.x.PlaceOf(p.ID)
		name := m.x.CalledOf(p.ID)
		how := Cell{Text: p.State, Small: p.Mind}
		if p.Probes != "" {
			how.Text += ": " + p.Probes
		}
		warned = m.warnAtPoint(warned, place)
		value, band := m.expected(p)
		cells := []Cell{text(name), how, m.expectedCell(name, value, band), room, box}
		if read := byID[p.ID]; read != "" && !m.learner {
			cells[3] = figure(read)
		}
		t.Rows = append(t.Rows, cells)
	}
	return []Block{{Texts: []string{"Read one after another, write down what the multimeter says, and tick what fits. Below what a sound clock reads stands between what 95 of 100 lie."}, Warned: warned, Table: t}}
}

// expectedCell is what is expected as a cell: one of some words is no answer yet.
func (m *maker) expectedCell(name, value, band string) Cell {
	switch {
	case band == "":
		return text(value)
	case m.learner:
		return m.answer(name, value+"; "+band)
	}
	return Cell{Text: value, Small: band, Number: true}
}

// expected is what a sound clock reads at a point, and between what 95 of 100 do.
func (m *maker) expected(p *bench.Point) (value, band string) {
	place, ok := m.x.PlaceOf(p.ID)
	if !ok {
		return "", ""
	}
	return place.Sound(p)
}
