package ui

import (
	"math"
	"slices"
	"strings"

	"example.com/needlewright/model"
	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/measure"
	"example.com/needlewright/model/quantity"
	"example.com/needlewright/ui/keys"
)

// ofItsOwn says whether the meter is like none of the build.
func (a *answers) ofItsOwn() bool { return a.Like == "" }

// origin is where the meter is from, as is the one that it is like.
func (a *answers) origin() string {
	for _, h := range a.hands {
		if h.Name == a.Like {
			return h.Meter.Origin
		}
	}
	return a.Origin
}

// fromASet says whether the meter may still hang in something that can hurt.
func (a *answers) fromASet() bool { return measure.FromASet(a.origin()) }

// meter is what was said of the meter.
func (a *answers) meter() judge.Meter {
	m := a.Meter
	m.Origin = a.origin()
	if !a.fromASet() {
		m.Removed = "" // it was not asked
	}
	return m
}

// supply is what was said of the supply; cells are asked of where it is not a plug-in one.
func (a *answers) supply() judge.Supply {
	fed := judge.Supply{Rail: a.rail}
	for _, p := range judge.Packs(a.rail, a.cell) {
		if packText(p) == a.pack {
			fed.Pack = p
		}
	}
	return fed
}

// packText says how many cells they are, and what stands behind them.
func packText(p judge.Pack) string {
	behind := map[string]string{"boost": " and a step-up", "linear": " and a regulator", "none": ", straight on the rail"}
	return []string{"One", "Two", "Three", "Four"}[p.Count-1] + behind[p.Converter]
}

// onCells says whether the supply is of cells, and ofACell whether they are known.
func (a *answers) onCells() bool { return a.rail != judge.PlugIn }
func (a *answers) ofACell() bool { return a.onCells() && a.cell != judge.NotKnown }

// cells are the built-in cells that can feed the rail.
func (a *answers) cells() []choice {
	choices := []choice{{dontKnow, "what suits, for now", judge.NotKnown}}
	for _, cell := range model.Builds.Field("battery.cell").Choices {
		if judge.Packs(a.rail, cell) != nil {
			choices = append(choices, choice{text: cell, value: cell})
		}
	}
	return choices
}

// packs are what of the cell can feed the rail.
func (a *answers) packs() []choice {
	var choices []choice
	for _, p := range judge.Packs(a.rail, a.cell) {
		choices = append(choices, choice{text: packText(p), value: packText(p)})
	}
	return choices
}

// Where answers go that are not of the meter.
func (a *answers) ofRail() *string { return &a.rail }
func (a *answers) ofCell() *string { return &a.cell }
func (a *answers) ofPack() *string { return &a.pack }
func (a *answers) ofDial() *string { return &a.shows }
func (a *answers) ofName() *string { return &a.name }

// measured is what is known of the meter to who measures it.
func (a *answers) measured() measure.Meter {
	m := measure.Meter{Origin: a.origin(), Removed: a.Removed, FullScale: math.NaN()}
	if v, err := quantity.Parse(a.FullScale, quantity.Microamperes); err == nil {
		m.FullScale = v.Number
	}
	return m
}

// unasked is what stands before anything was asked.
func unasked() answers {
	return answers{Meter: judge.Meter{Origin: "salvaged", Removed: "no"}, cell: judge.NotKnown}
}

// next says what to do next, once all is asked.
func (a *answers) next(k *keys.Map) string {
	if a.Like != "" {
		return "Its meter has the values of that of " + a.Like + ": measure its full scale and coil too, for no two are alike."
	}
	var assumed []string
	if a.FullScale == judge.NotKnown {
		assumed = append(assumed, "full scale")
	}
	if a.Coil == judge.NotKnown {
		assumed = append(assumed, "coil")
	}
	if assumed == nil {
		return "Values marked ? are assumed: measure the coil's tolerance, the needle's period and overshoot next."
	}
	return "Values marked ? are assumed, the " + strings.Join(assumed, " and the ") + " too: measure before you buy parts or connect the meter, which too much current burns. " + keys.First(k.Unknown) + " leads through it."
}

// dontKnow is the choice of who has not measured yet.
const dontKnow = "I don't know yet"

// meterQuestions are what is asked of any meter.
var meterQuestions = []question{
	{about: "where from", hint: "Where is the meter from? What can hurt you differs.", path: "hand.meter.origin",
		to: func(a *answers) *string { return &a.Origin }, needed: (*answers).ofItsOwn,
		choices: func(*answers) []choice {
			return []choice{
				{"Out of old equipment", "", "salvaged"}, {"Bought new", "", "new"}, {"Out of a mains set or panel", "", "mains"},
				{"Out of a high-voltage set", "", "high voltage"}, {"Out of a vehicle", "", "vehicle"},
				{"Military, or an aircraft's", "", "military"}, {"I don't know", "", ""},
			}
		}},
	{about: "out of its set", hint: "Is it out, with nothing else on its terminals and no capacitor in its case?", path: "hand.meter.removed",
		to: func(a *answers) *string { return &a.Removed }, needed: (*answers).fromASet,
		choices: func(*answers) []choice {
			return []choice{{"No, not yet", "", "no"}, {"Yes, it is", "", "yes"}, {"I don't know", "", "unknown"}}
		}},
	{about: "its dial", hint: "What does the dial say, such as 30 V or 1 mA? It may stay empty.", path: "hand.meter.marked",
		to: func(a *answers) *string { return &a.Marked }, needed: (*answers).ofItsOwn, typed: true},
	{about: "full scale", hint: "The current that brings the needle to the last mark, such as 500 µA or 1 mA.", path: "hand.meter.full_scale",
		to: func(a *answers) *string { return &a.FullScale }, needed: (*answers).ofItsOwn, typed: true,
		choices: func(a *answers) []choice {
			usual, _ := a.meter().Usual()
			return []choice{{dontKnow, usual + " for now", judge.NotKnown}}
		}},
	{about: "coil", hint: "The resistance of the coil alone, not of the meter's terminals, such as 640 or 1k2.", path: "hand.meter.coil",
		to: func(a *answers) *string { return &a.Coil }, needed: (*answers).ofItsOwn, typed: true,
		choices: func(a *answers) []choice {
			_, usual := a.meter().Usual()
			return []choice{{dontKnow, usual + " for now", judge.NotKnown}}
		}},
}

// buildQuestions are what a new build asks.
var buildQuestions = append(slices.Clone(meterQuestions), question{
	about: "rail", hint: "The voltage that cells and converter give the controller; or choose below.", path: "rail.voltage",
	to: (*answers).ofRail, typed: true, first: func(*answers) string { return "5 V ±1 %" },
	choices: func(*answers) []choice { return []choice{{"A plug-in 5 V supply", "no cells", judge.PlugIn}} },
}, question{
	about: "cells", hint: "Which cells feed it?", path: "battery.cell", to: (*answers).ofCell, needed: (*answers).onCells, choices: (*answers).cells,
}, question{
	about: "how many", hint: "How many in a row, and what makes the rail of them?", path: "battery.cells", to: (*answers).ofPack, needed: (*answers).ofACell, choices: (*answers).packs,
})

// likes are the meters that a further one may be like.
func (a *answers) likes() []choice {
	var choices []choice
	for _, h := range a.hands {
		if h.Name != "" {
			choices = append(choices, choice{"A meter like that of " + h.Name, "its values", h.Name})
		}
	}
	return append(choices, choice{"Another meter", "", ""})
}

// furtherHand is what is most likely of a further hand of a build.
func furtherHand(b *model.Build) answers {
	said := unasked()
	said.shows, said.hands = nextDial(b), b.Hands
	if len(b.Hands) > 0 {
		said.Origin, said.Like = b.Hands[0].Meter.Origin, b.Hands[0].Name
	}
	return said
}

// handQuestions are what a further hand asks, in a document that takes it.
func handQuestions(d *model.Document) []question {
	return append([]question{
		{about: "what it shows", hint: "What does the needle's whole sweep stand for?", path: "hand.shows",
			to: (*answers).ofDial,
			choices: func(*answers) []choice {
				return []choice{{"Hours, 12 to a sweep", "", "12 h"}, {"Hours, 24 to a sweep", "", "24 h"}, {"Minutes", "", "60 min"}, {"Seconds", "", "60 s"}}
			}},
		{about: "its name", hint: "A short name in small letters, digits and -, such as minutes.", path: "hand.name",
			to: (*answers).ofName, typed: true,
			first: func(a *answers) string { return freeName(d.Build, a.shows) },
			wrong: func(a *answers) *model.Problem {
				_, problem := d.Add("hand", a.name, -1)
				return problem
			}},
		{about: "its meter", hint: "Which meter does it get?", path: "hand.meter.origin",
			to: func(a *answers) *string { return &a.Like }, needed: func(a *answers) bool { return len(a.hands) > 0 },
			choices: (*answers).likes},
	}, meterQuestions...)
}

// nextDial is what a further hand of a build most likely shows.
func nextDial(b *model.Build) string {
	for _, shows := range [][]string{{"12 h", "24 h"}, {"60 min"}, {"60 s"}} {
		if !slices.ContainsFunc(b.Hands, func(h model.Hand) bool { return slices.Contains(shows, h.Shows) }) {
			return shows[0]
		}
	}
	return "12 h"
}

// freeName is the usual name of a hand that shows this, "" where another has it.
func freeName(b *model.Build, shows string) string {
	name := map[string]string{"60 min": "minutes", "60 s": "seconds"}[shows]
	if name == "" {
		name = "hours"
	}
	if b.HandNamed(name) >= 0 {
		return ""
	}
	return name
}
