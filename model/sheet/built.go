package sheet

import (
	"strconv"
	"strings"

	"example.com/needlewright/model"
	"example.com/needlewright/model/caution"
	"example.com/needlewright/model/report"
)

// text, number and room are cells.
func text(s string) Cell   { return Cell{Text: s} }
func number(n int) Cell    { return Cell{Text: strconv.Itoa(n), Number: true} }
func figure(s string) Cell { return Cell{Text: s, Number: true} }

var room, box = Cell{Room: true}, Cell{Box: true}

// tick is a box that is ticked or not.
func tick(is bool) Cell { return Cell{Box: true, Ticked: is} }

// built says in a few lines what the clock is, and what is found of it.
func (m *maker) built() []Block {
	facts := &Table{Head: []string{"What", "How it is"}}
	add := func(what string, paths ...string) {
		for i := range model.Builds.Field(paths[0]).Of(m.b) {
			var says []string
			for _, path := range paths {
				f := model.Builds.Field(path)
				if s := f.Text(m.b, i); s != "" {
					says = append(says, strings.ToLower(strings.TrimSpace(f.Label[:1]))+strings.TrimSpace(f.Label[1:])+" "+s)
				}
			}
			name := what
			if list := model.Builds.Field(paths[0]).List(); list != "" {
				name += " " + model.Builds.NameOf(m.b, list, i)
			}
			facts.Rows = append(facts.Rows, []Cell{text(name), text(strings.Join(says, ", "))})
		}
	}
	add("Hand", "hand.shows", "hand.meter.full_scale", "hand.meter.coil", "hand.drive.by", "hand.drive.fixed", "hand.drive.trimmer", "hand.drive.capacitor")
	add("Supply", "rail.voltage", "battery.cell", "battery.cells", "converter.kind")
	add("Time", "crystal.frequency")
	add("Lamp", "lamp.count", "lamp.forward", "lamp.resistor")
	add("Button", "button.pull")
	first := Block{Table: facts}
	if m.b.Builder != "" {
		first.Texts = []string{"Built by " + m.b.Builder + "."}
	}
	blocks := []Block{first}
	if m.learner {
		blocks = append([]Block{{Signs: []string{"Name", "Group", "Date"}}}, blocks...)
	} else {
		blocks[0].Texts = append(blocks[0].Texts, "Verdict: "+m.r.Verdict())
	}
	return append(blocks, m.findings()...)
}

// findings are what is found of the build, the worst first, with what to do.
func (m *maker) findings() []Block {
	found := report.Joined(m.r.Findings)
	if len(found) == 0 {
		return nil
	}
	t := &Table{Caption: "What is found", Head: []string{"Is", "Of", "What", "What to do"}}
	for _, f := range found {
		about := f.About
		if about == "" {
			about = "the clock"
		}
		if m.learner {
			m.keep(Block{Texts: []string{f.String() + " " + f.Advice}})
		}
		t.Rows = append(t.Rows, []Cell{text(f.Severity.String()), text(about), text(m.veiled(f.Text)), text(m.veiled(f.Advice))})
	}
	b := Block{Table: t}
	if m.learner {
		b.Texts = []string{"The numbers are blank where they follow from others: find them."}
	}
	return []Block{b}
}

// care are the dangers of the work, each whole.
func (m *maker) care() []Block {
	var all []string
	for _, c := range caution.Of(m.b) {
		says := "For " + c.To + ": " + c.Text
		if c.Source != "" {
			says += " (" + c.Source + ")"
		}
		all = append(all, says)
	}
	all = append(all, "Where the work can hurt somebody, local codes and licensed practice decide.")
	return []Block{{Warned: all}}
}

// skipped says whether a field is none of what a clock is built of: rows of what was read,
// surveyed or signed have tables of their own.
func skipped(f *model.Field) bool {
	if f.IsRow() || f.Path == "format" || f.Path == "title" || f.Path == "builder" {
		return true
	}
	switch f.List() {
	case "", "hand", "lamp", "drain", "button":
		return strings.HasPrefix(f.Path, "walk.") || strings.HasPrefix(f.Path, "multimeter.")
	}
	return true
}

// owners are what fields are of, in the order of the sheet: the clock, then each hand, lamp,
// drain and button, with what to do with each field.
func (m *maker) owners(each func(f *model.Field, i int) []Cell, head ...string) []Block {
	var blocks []Block
	for _, list := range []string{"", "hand", "lamp", "drain", "button"} {
		var tables []*Table
		for _, f := range model.Builds.Fields {
			if skipped(f) || f.List() != list {
				continue
			}
			for i := range f.Of(m.b) {
				for len(tables) <= i {
					tables = append(tables, &Table{Head: head, Caption: m.owner(list, len(tables))})
				}
				if row := each(f, i); row != nil {
					tables[i].Rows = append(tables[i].Rows, row)
				}
			}
		}
		for _, t := range tables {
			if t.Rows != nil {
				blocks = append(blocks, Block{Table: t})
			}
		}
	}
	return blocks
}

// owner is what a table is of.
func (m *maker) owner(list string, i int) string {
	if list == "" {
		return "The clock"
	}
	return strings.ToUpper(list[:1]) + list[1:] + " " + model.Builds.NameOf(m.b, list, i)
}

// named is what a field is called, in its group.
func named(f *model.Field) string {
	label := strings.TrimSpace(f.Label)
	if f.Group != "" && !strings.Contains(strings.ToLower(label), strings.ToLower(f.Group)) {
		return f.Group + ": " + label
	}
	return label
}

// settings are what is to be set, and all values that the file gives.
func (m *maker) settings() []Block {
	set := &Table{Caption: "To be set", Head: []string{"What", "To what"}}
	for _, row := range m.r.Results {
		switch row.ID {
		case "hand.trimmer_setting", "hand.trimmer_travel":
			set.Rows = append(set.Rows, []Cell{text(m.label(row)), m.answer(m.label(row), row.TextIn(3))})
		}
	}
	for i := range m.b.Hands {
		set.Rows = append(set.Rows, []Cell{text("Needle of " + m.b.Hands[i].Name + ", without power"), text("on its first mark: case closed, in its place, tapped")})
	}
	values := m.owners(func(f *model.Field, i int) []Cell {
		if _, given := m.d.Given(f, i); !given || f.IsAsAbsent(m.b, i) && f.Text(m.b, i) == "" {
			return nil
		}
		return []Cell{text(named(f)), {Text: f.Text(m.b, i), Small: m.d.Mark(f, i)}}
	}, "Value", "As the file has it")
	return append([]Block{{Table: set}}, values...)
}

// assumed are what nobody measured or said, and what every number here rests on.
func (m *maker) assumed() []Block {
	blocks := []Block{{Texts: []string{
		"A band holds 95 of 100 kits whose parts lie anywhere within their tolerances. Cells are typical ones, at room temperature.",
		"The trimmer was set at full scale, in the final place, and the needle on its first mark without power.",
	}}}
	marked := m.owners(func(f *model.Field, i int) []Cell {
		mark := m.d.Mark(f, i)
		if mark == "" {
			return nil
		}
		return []Cell{text(named(f)), text(f.Text(m.b, i)), text(mark)}
	}, "Value", "Taken as", "Why")
	if marked != nil {
		blocks = append(blocks, Block{Heading: "Taken, and not measured"})
		blocks = append(blocks, marked...)
	}
	usual := m.owners(func(f *model.Field, i int) []Cell {
		if _, given := m.d.Given(f, i); given || f.Absent == "" {
			return nil
		}
		taken := m.spared(m.d.Assumed(f, i))
		if taken == "" {
			return nil
		}
		return []Cell{text(named(f)), text(taken)}
	}, "Value", "Taken as")
	if usual != nil {
		blocks = append(blocks, Block{Heading: "Not in the file, so taken as usual"})
		blocks = append(blocks, usual...)
	}
	return blocks
}
