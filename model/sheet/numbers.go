package sheet

import (
	"fmt"
	"regexp"
	"strings"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/spread"
	"example.com/needlewright/model/working"
)

// everyNumber is any number.
var everyNumber = regexp.MustCompile(`[−-]?\d[\d.:,]*\d|\d`)

// questions head the results, by what they answer.
var questions = map[circuit.Question]string{
	circuit.Reaches: "Does the needle reach the last mark, unhurt?", circuit.Smooth: "Does it stand still, and settle?",
	circuit.Wrong: "How wrong does it read?", circuit.Drifts: "How fast does it drift?", circuit.Lasts: "How long do the cells last?",
}

// label is what a result is called, with whose it is.
func (m *maker) label(row spread.Row) string {
	label := strings.TrimSpace(row.Label)
	if list := row.List(); list == "lamp" || list == "button" || list == "hand" && len(m.b.Hands) > 1 {
		return model.Builds.NameOf(m.b, list, row.Index) + ": " + label
	}
	return label
}

// results are all of them, with their bands.
func (m *maker) results() []Block {
	var blocks []Block
	for q := circuit.Reaches; q <= circuit.Lasts; q++ {
		t := &Table{Caption: questions[q], Head: []string{"What", "Is", "95 % of kits"}}
		for _, row := range m.r.Results {
			if row.Question == q {
				label := m.label(row)
				t.Rows = append(t.Rows, []Cell{text(label), m.answer(label, row.TextIn(3)), m.answer(label+", 95 % of kits", row.BandTextIn(3))})
			}
		}
		if t.Rows != nil {
			blocks = append(blocks, Block{Table: t})
		}
	}
	return blocks
}

// workings are how each result comes about, and, but for a learner, each part that is chosen.
func (m *maker) workings() ([]Block, error) {
	blocks := []Block{{Texts: []string{"Each line is true by itself: what is printed of it, computed, gives its answer. ≈ is a check by hand that comes near it."}}}
	for _, row := range m.r.Results {
		w, err := working.OfRow(m.b, &m.r.Plan, row)
		if err != nil {
			return nil, err
		}
		blocks = append(blocks, m.working(w))
	}
	if m.learner {
		return blocks, nil
	}
	for _, id := range working.IDs(m.b, &m.r.Plan)[len(m.r.Results):] {
		w, err := working.Named(m.b, &m.r.Plan, id, "")
		if err != nil {
			return nil, err
		}
		blocks = append(blocks, m.choice(w))
	}
	return blocks, nil
}

// working is one of a result.
func (m *maker) working(w *working.Working) Block {
	t := &Table{Caption: w.Label, Head: []string{"No.", "What", "From", "Is"}, Tight: true}
	if hand := strings.TrimPrefix(w.About, "hand: "); w.About != "" {
		t.Caption += " – " + hand
	}
	for k, s := range w.Steps {
		t.Rows = append(t.Rows, m.stepRow(t.Caption, k+1, s))
	}
	says := []string{"Why it matters: " + m.veiled(w.Why)}
	if !m.learner {
		says = nonempty(w.Held, says[0], "Source: "+w.From())
	}
	return Block{Table: t, After: strings.Join(says, " ")}
}

// stepRow is a line of a working.
func (m *maker) stepRow(of string, no int, s working.Step) []Cell {
	is := "="
	if !s.Exact {
		is = "≈"
	}
	if m.learner {
		words := m.veiled(s.Words)
		return []Cell{number(no), text(words), room, m.answer(fmt.Sprintf("%s, line %d: %s", of, no, words), s.Expression+" "+is+" "+s.Answer)}
	}
	return []Cell{number(no), text(s.Words), text(s.Expression), figure(is + " " + s.Answer)}
}

// choice is the working of a part, with what was tried.
func (m *maker) choice(w *working.Working) Block {
	b := m.working(w)
	for k, tried := range w.Trials {
		row := m.stepRow(b.Table.Caption, len(w.Steps)+k+1, tried.Step)
		row[1].Small = tried.Figures
		if tried.Expression == "" && tried.Answer == "" {
			row[3] = text("")
		}
		b.Table.Rows = append(b.Table.Rows, row)
	}
	if w.Order != "" {
		b.After = "Tried, the best first; ▸ is what the build has. " + w.Order + " " + b.After
	}
	return b
}

// nonempty are texts without those that say nothing.
func nonempty(texts ...string) (all []string) {
	for _, s := range texts {
		if s != "" {
			all = append(all, s)
		}
	}
	return all
}
