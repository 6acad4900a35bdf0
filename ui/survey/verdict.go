package survey

import (
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model"
	"example.com/needlewright/model/quantity"
	engine "example.com/needlewright/model/survey"
	"example.com/needlewright/ui/draw"
	"example.com/needlewright/ui/session"
)

// told is what was found, in words.
func (v *Survey) told() []block {
	f := v.verdict
	if f.Verdict == engine.Stopped {
		nothing := "Nothing is to be connected to it as it is."
		if v.wasIn(1) {
			nothing = "Take the leads off: nothing more is to be connected to it as it is."
		}
		return []block{
			{style: draw.Fault, text: "✗ Stop. " + f.Why},
			{style: draw.Value, text: nothing + " There is nothing to take over: no clock could rest on it."},
		}
	}
	blocks := []block{{style: draw.Title, text: v.headline(f)}}
	if f.Verdict != engine.Known {
		why, _ := ofOhmmeter(f.Why)
		blocks = append(blocks, block{style: draw.Value, text: why})
	}
	said := map[string]bool{}
	for _, row := range []struct {
		label string
		of    engine.Value
		unit  quantity.Unit
	}{
		{"Coil", f.Coil, quantity.Ohms}, {"Full scale", f.Movement, quantity.Microamperes},
		{"At terminals", f.Resistance, quantity.Ohms}, {"Full scale", f.FullScale, quantity.Microamperes},
	} {
		again := row.label == "At terminals" && row.of == f.Coil || said[row.label] && row.of == f.Movement // it was said of the movement
		if !row.of.IsKnown() || again {
			continue
		}
		text := valueText(row.of, row.unit)
		if row.label == "Full scale" && f.FromDial {
			text += ", by its dial's word"
		}
		said[row.label] = true
		blocks = append(blocks, block{draw.Value, row.label, text})
	}
	if v.found().at("meter.zero_at") == "centre" {
		blocks = append(blocks, block{draw.Value, "Zero", "in the middle: full scale is from there to either end"})
	}
	if text := laws[f.Law]; text != "" {
		blocks = append(blocks, block{draw.Value, "Scale", text})
	}
	return append(blocks, block{draw.Value, "Inside", insides[f.Inside]}, block{draw.Note, "", "Next: " + v.next(f)})
}

// ofOhmmeter parts from why a verdict is so what an ohmmeter would do, from the sentence on
// that names it; "" where none does.
func ofOhmmeter(why string) (before, ohmmeter string) {
	sentences := strings.SplitAfter(why, ". ")
	n := slices.IndexFunc(sentences, func(s string) bool { return strings.Contains(s, "ohmmeter") })
	if n < 0 {
		return why, ""
	}
	return strings.TrimSpace(strings.Join(sentences[:n], "")), strings.Join(sentences[n:], "")
}

// valueText is a value and the band that holds it.
func valueText(v engine.Value, u quantity.Unit) string {
	return quantity.Show(v.Value, u, 3) + ", " + bandText(v, u, "no bounds")
}

// The laws and what may be inside, in words.
var (
	laws = map[string]string{
		"linear": "even: half the current, half way",
		"square": "square: half the current, a quarter",
		"uneven": "uneven: measure it point by point",
	}
	insides = map[string]string{
		"none":       "nothing that shows outside",
		"multiplier": "a resistor in line with the coil",
		"shunt":      "a shunt across the coil",
		"unknown":    "not to be told from outside",
	}
)

// headline says in a line what it is.
func (v *Survey) headline(f *engine.Verdict) string {
	kind, bare := v.answered("kind"), "✓ A bare movement."
	if kind == "" || kind == "unknown" || kind == "other" {
		kind = "meter"
	} else {
		bare = "✓ A bare movement, " + kind + "."
	}
	switch f.Inside {
	case "none":
		return bare
	case "multiplier":
		return "✓ A " + kind + " with a resistor inside."
	case "shunt":
		return "✓ A " + kind + " with a shunt inside."
	}
	if f.Verdict == engine.Known {
		return "✓ It is known at its terminals."
	}
	return "It is known in part."
}

// next says what to do next.
func (v *Survey) next(f *engine.Verdict) string {
	switch {
	case f.Inside == "multiplier":
		return "where the case may be opened, take the resistor out and survey it again."
	case f.Inside == "shunt":
		return "where the case may be opened, take the shunt out and survey it again."
	case f.Verdict == engine.Partly:
		return "what is missing may come of another answer (" + v.keys.AnswerBefore.Help().Key + "); what is known can be taken over."
	}
	return "take it over; the findings then say whether it suits the clock."
}

// endings are what can be done when nothing more is asked.
func (v *Survey) endings() []option {
	f := v.verdict
	var all []option
	if f.Verdict != engine.Stopped && len(v.found().changes("hand")) > 0 {
		for i := range v.s.Doc.Build.Hands {
			name := session.ElementName(v.s.Doc.Build, "hand", i)
			all = append(all, option{text: "Take over into " + name, hint: v.presentText(i), do: func() tea.Cmd { return v.takeOver(i) }})
		}
		all = append(all, option{text: "Take over as a new hand", hint: "asks its name", do: func() tea.Cmd {
			v.Close()
			return v.addHand(v.found())
		}})
	}
	return append(all,
		option{text: "Take the last answer back", hint: v.keys.AnswerBefore.Help().Key, do: func() tea.Cmd { v.back(); return nil }},
		option{text: "Begin with another meter", hint: "forgets this one", do: func() tea.Cmd { v.anew(); return nil }},
		option{text: "Leave", hint: "the answers stay", do: func() tea.Cmd { v.Close(); return nil }},
	)
}

// presentText is what a hand has now of what would be taken over.
func (v *Survey) presentText(hand int) string {
	coil, _ := v.s.Doc.Given(coilField, hand)
	fullScale, _ := v.s.Doc.Given(fullScaleField, hand)
	if coil == "" && fullScale == "" {
		return ""
	}
	return "now " + model.OrNone(model.NominalText(coil)) + ", " + model.OrNone(model.NominalText(fullScale))
}

// endingText stands below the last page.
func (v *Survey) endingText() string {
	if v.verdict.Verdict == engine.Stopped {
		return "Another meter can be surveyed, or the last answer taken back where it was wrong."
	}
	return "Bands hold 95 % of such surveys. What is taken over is one edit: " + v.keys.Undo.Help().Key + " takes it back."
}
