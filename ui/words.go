package ui

import (
	"slices"
	"strings"

	"example.com/needlewright/model"
	"example.com/needlewright/model/bench"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/words"
	"example.com/needlewright/ui/draw"
	"example.com/needlewright/ui/front"
)

// explain adds the words that a text has to a page, but those that stand there already, and
// returns all that stand there then.
func explain(p *front.Page, heading, text string, there []*words.Word) []*words.Word {
	for _, w := range words.In(text) {
		if slices.Contains(there, w) {
			continue
		}
		if heading != "" {
			p.Add(draw.Heading, heading)
			heading = ""
		}
		p.Add(draw.Value, lineOf(w))
		there = append(there, w)
	}
	return there
}

// lineOf is a word with what it is.
func lineOf(w *words.Word) string { return w.Name + ": " + w.Says }

// explained is a page with its words at its end.
func explained(p front.Page) front.Page {
	explain(&p, "\nThe words here", p.Text(), nil)
	return p
}

// wordsOf is a page with the words of a text, and nothing else.
func wordsOf(title, text string) front.Page {
	p := front.Page{Title: "Words: " + title, Explains: true}
	if explain(&p, "", text, nil) == nil {
		p.Add(draw.Value, "Every word here is a plain one.")
	}
	return p
}

// wordPage is all that is to be known of a word: what it is, what belongs to it, and where it
// stands.
func wordPage(w *words.Word) front.Page {
	p := front.Page{Title: "Word: " + w.Name, Explains: true}
	p.Add(draw.Value, w.Says)
	for i, seen := range w.Seen() {
		if i == 0 {
			p.Add(draw.Heading, "\nSee also")
		}
		p.Add(draw.Value, lineOf(seen))
	}
	for _, of := range []struct {
		heading string
		names   []string
	}{{"\nFields with it", fieldsWith(w)}, {"\nResults with it", resultsWith(w)}, {"\nCauses with it", causesWith(w)}} {
		if len(of.names) > 0 {
			p.Add(draw.Heading, of.heading)
			p.Add(draw.Value, strings.Join(of.names, "; ")+".")
		}
	}
	return p
}

// withWord adds a name to those that have a word, each once.
func withWord(names []string, w *words.Word, name string) []string {
	if name = strings.TrimSpace(name); slices.Contains(words.In(name), w) && !slices.Contains(names, name) {
		names = append(names, name)
	}
	return names
}

func fieldsWith(w *words.Word) (names []string) {
	for _, f := range model.Builds.Fields {
		if f.Pane != model.NoPane {
			names = withWord(names, w, f.Label)
		}
	}
	return names
}

func resultsWith(w *words.Word) (names []string) {
	for i := range circuit.Results {
		names = withWord(names, w, circuit.Results[i].Label)
	}
	return names
}

func causesWith(w *words.Word) (names []string) {
	for _, c := range bench.AllTold() {
		names = withWord(names, w, c.Title)
	}
	return names
}

// causePage is what a cause is: how it shows, and how to mend it.
func causePage(c *bench.Told) front.Page {
	p := front.Page{Title: "Cause: " + c.Title}
	of := map[string]string{"hand": "A hand", "lamp": "A lamp", "button": "A button", "": "The clock"}
	p.Add(draw.Value, of[c.Of]+" can have it. At the bench, readings tell how likely it is.")
	p.Add(draw.Heading, "\nHow it shows")
	p.Add(draw.Value, c.Confirm)
	p.Add(draw.Heading, "\nHow to mend it")
	p.Add(draw.Value, c.Mend)
	return explained(p)
}
