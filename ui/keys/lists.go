package keys

import "github.com/charmbracelet/bubbles/key"

// All is every binding, in the order of the help.
func (k *Map) All() []key.Binding {
	return []key.Binding{
		k.Up, k.Down, k.NextPane, k.PreviousPane, k.NextHand, k.ChoiceBack, k.ChoiceOn, k.StepUp, k.StepDown,
		k.Left, k.Right, k.WordLeft, k.WordRight, k.Start, k.End,
		k.DeleteLeft, k.DeleteRight, k.DeleteWord, k.DeleteWordRight, k.DeleteRest, k.Empty, k.Revert,
		k.Jump, k.Finding, k.Take, k.Choose, k.Cautions, k.Look, k.Pin, k.Kits, k.Mended,
		k.MinuteBack, k.MinuteOn, k.FiveBack, k.FiveOn, k.HourBack, k.HourOn, k.Follow, k.FastDay,
		k.Plot, k.Budget, k.Differ, k.Leave, k.Large, k.ResultsUp, k.ResultsDown, k.Unknown, k.AnswerBefore, k.Skip,
		k.Undo, k.Redo, k.Open, k.Save, k.Menu, k.Help, k.Suspend, k.Quit,
	}
}

// AllAt is every binding where a pane gives some keys a meaning of its own.
func (k *Map) AllAt(own []key.Binding) []key.Binding {
	means := map[string]key.Binding{}
	for _, b := range own {
		means[b.Help().Key] = b
	}
	all := k.All()
	for i, b := range all {
		if there, ok := means[First(b)]; ok {
			all[i] = bind(b.Help().Key, there.Help().Desc)
		}
	}
	return all
}

// AllWalking is every binding while the walk is open.
func (k *Map) AllWalking() []key.Binding {
	return []key.Binding{
		bind("enter", "take it, go on"), bind(k.ResultsUp.Help().Key, "page back"), bind(k.ResultsDown.Help().Key, "page on"),
		bind("↑", "question above"), bind("↓", "question below"), bind("← →", "choose, move"),
		bind(k.Skip.Help().Key, "don't know"), bind("y", "yes; all are"), bind("backspace", "empty; not yet"), k.Empty,
		bind(k.Cautions.Help().Key, "help and words"), bind(k.Look.Help().Key, "working"), bind(k.Take.Help().Key, "mend it"),
		k.Jump, k.Unknown, bind("esc", "leave the walk"), k.Undo, k.Redo, k.Save, k.Help, k.Suspend, k.Quit,
	}
}

// AllSurveying is every binding while the survey is open.
func (k *Map) AllSurveying() []key.Binding {
	return []key.Binding{
		bind("enter", "take it"), k.AnswerBefore, k.Skip, bind("↑↓", "choose"), k.Empty,
		bind(k.Cautions.Help().Key, "help and words"), bind("esc", "leave it"), k.Save, k.Help, k.Suspend, k.Quit,
	}
}
