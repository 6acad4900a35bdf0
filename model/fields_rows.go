package model

import "example.com/needlewright/model/quantity"

// StageIDs are the stages of the work in their order, as the file writes them.
var StageIDs = []string{"survey", "drive", "smooth", "time", "power", "dial", "build", "bring-up", "set", "write-up"}

// MetIDs are the conditions of the stages that somebody signs, as the file writes them.
var MetIDs = []string{"from-dial", "no-hum", "set-weekly", "ruler-true", "parts-ticked", "first-power", "needle-steady", "ran-a-day", "accepted"}

// fieldsOfRows are what was measured of a hand's meter, row by row, and how far the work has
// come.
var fieldsOfRows = []Field{
	{Path: "hand.scale.at", Pane: ScalePane, Group: "Measured scale", Label: "Set to",
		Help:  "The time that the hand was set to show, such as 6:00.",
		place: inScale(func(r *ScaleRow) any { return &r.At })},
	{Path: "hand.scale.code", Pane: ScalePane, Group: "Measured scale", Label: "Code", Least: "0", Most: "65536", Absent: "-1",
		Help:  "The code that the firmware gave to the counter then.",
		place: inScale(func(r *ScaleRow) any { return &r.Code })},
	{Path: "hand.scale.of", Pane: ScalePane, Group: "Measured scale", Label: "Of top code", Least: "1", Most: "65536",
		Help:  "The code at which the needle stood on the last mark on that day.",
		place: inScale(func(r *ScaleRow) any { return &r.Of })},
	{Path: "hand.scale.stands", Pane: ScalePane, Group: "Measured scale", Label: "Needle stands",
		Help:    "Where the needle stood on an evenly divided dial: a share such as 49 %, or a time such as 5:53.",
		Measure: "Park the hand, wait until the needle rests, look at it straight from the front.",
		place:   inScale(func(r *ScaleRow) any { return &r.Stands })},
	{Path: "hand.scale.going", Pane: ScalePane, Group: "Measured scale", Label: "Came from", Choices: []string{"up", "down"},
		Help:  "Up: the needle rose to its place; down: it fell to it. Both ways at a place show how far it sticks.",
		place: inScale(func(r *ScaleRow) any { return &r.Going })},
	{Path: "hand.survey.step.volts", Pane: NoPane, Group: "Survey", Label: "Source", Unit: quantity.Volts, Least: "1.5 V", Most: "9 V",
		Help:  "Which source was connected by its name: a cell of 1.5 V, or a block of 9 V.",
		place: inSurvey(func(s *SurveyStep) any { return &s.Volts })},
	{Path: "hand.survey.step.source", Pane: NoPane, Group: "Survey", Label: "Source measured", Unit: quantity.Volts, Least: "0.5 V", Most: "12 V",
		Help:  "What the multimeter said across the source itself, such as 1.530 V.",
		place: inSurvey(func(s *SurveyStep) any { return &s.Source })},
	{Path: "hand.survey.step.series", Pane: NoPane, Group: "Survey", Label: "Series resistor", Unit: quantity.Ohms, Least: "10 Ω", Most: "20 MΩ",
		Help:  "The resistor between source and meter, as measured or as marked, with its tolerance.",
		place: inSurvey(func(s *SurveyStep) any { return &s.Series })},
	{Path: "hand.survey.step.across", Pane: NoPane, Group: "Survey", Label: "Across the meter", Unit: quantity.Ohms, Least: "10 Ω", Most: "20 MΩ",
		Help:  "One from terminal to terminal of the meter, which takes a part of the current. Empty: there was none.",
		place: inSurvey(func(s *SurveyStep) any { return &s.Across })},
	{Path: "hand.survey.step.needle", Pane: NoPane, Group: "Survey", Label: "Needle seen",
		Help:  "Where it stood: a share such as 12 %, a reading on the scale such as 6 of 30, or none, below, over.",
		place: inSurvey(func(s *SurveyStep) any { return &s.Needle })},
	{Path: "hand.survey.step.terminals", Pane: NoPane, Group: "Survey", Label: "At the terminals", Unit: quantity.Volts, Least: "-12 V", Most: "12 V",
		Help:  "DC between the meter's terminals while it was connected so. Empty: it was not measured.",
		place: inSurvey(func(s *SurveyStep) any { return &s.Terminals })},
	{Path: "walk.stage", Pane: NoPane, Group: "Walk", Label: "Stage", Choices: StageIDs,
		Help:  "Which stage of the work the row is of.",
		place: inWalk(func(w *WalkRow) any { return &w.Stage })},
	{Path: "walk.hand", Pane: NoPane, Group: "Walk", Label: "Of hand",
		Help:  "The hand it is of, by its name. Empty: the stage is the clock's.",
		place: inWalk(func(w *WalkRow) any { return &w.Hand })},
	{Path: "walk.rested_on", Pane: NoPane, Group: "Walk", Label: "Rested on",
		Help:  "The values that the stage was done with. The program writes it, and asks to look again where they moved since.",
		place: inWalk(func(w *WalkRow) any { return &w.RestedOn })},
	{Path: "walk.met.id", Pane: NoPane, Group: "Signed", Label: "Condition", Choices: MetIDs,
		Help:  "What was met that no value and no reading tells.",
		place: inMet(func(m *MetRow) any { return &m.ID })},
	{Path: "walk.met.value", Pane: NoPane, Group: "Signed", Label: "Said",
		Help:  "Yes, or why what is left is accepted. No, or nothing: it is not met.",
		place: inMet(func(m *MetRow) any { return &m.Value })},
	{Path: "walk.met.by", Pane: NoPane, Group: "Signed", Label: "By",
		Help:  "Who says so: the builder, or a teacher.",
		place: inMet(func(m *MetRow) any { return &m.By })},
	{Path: "walk.met.rested_on", Pane: NoPane, Group: "Signed", Label: "Rested on",
		Help:  "The values that it was said of. It is void as soon as one of them has changed.",
		place: inMet(func(m *MetRow) any { return &m.RestedOn })},
}
