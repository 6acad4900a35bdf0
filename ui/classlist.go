package ui

import (
	"context"
	"fmt"
	"path/filepath"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model/class"
	"example.com/needlewright/model/file"
	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/quantity"
	"example.com/needlewright/ui/draw"
	"example.com/needlewright/ui/front"
	"example.com/needlewright/ui/session"
)

// classHeads stand above the figures of a class's builds; a narrow window has the first of
// them, and all stands below the table.
var classHeads = []string{"stage", "found", "min off", "inside", "builder", "overload", "life", "coil", "full scale"}

// askFolder asks which folder holds the builds of a class.
func (t *teaching) askFolder() tea.Cmd {
	folder := t.folder
	if folder == "" {
		folder = filepath.Dir(t.s.Path)
	}
	return t.ask(&front.Prompt{
		Title: "A class's builds", Most: front.LongestPath,
		Hint: "The folder that holds them; each file is a row. Nothing is changed by looking.",
		Accept: func(typed string) (string, func() tea.Cmd) {
			if strings.TrimSpace(typed) == "" {
				return "A folder is needed; . is the one that needlewright was started in.", nil
			}
			return "", func() tea.Cmd { return t.list(session.Expanded(typed)) }
		},
	}, folder)
}

// list reads the builds of a folder beside the keys, and shows them when they are there.
func (t *teaching) list(folder string) tea.Cmd {
	t.folder = folder
	t.table = &front.Prompt{
		Title: "Builds in " + folder, Hint: "They are being read.",
		Back: func(string) tea.Cmd { t.listed.Cancel(); return t.askFolder() },
	}
	t.ask(t.table, "")
	return t.listed.Start(folder, func(ctx context.Context, tell func(int)) (class.List, error) {
		return readClass(ctx, folder, tell)
	})
}

// readClass reads the builds of a folder, and tells how many it has read.
func readClass(ctx context.Context, folder string, tell func(int)) (class.List, error) {
	paths, err := file.BuildsIn(folder)
	if err != nil {
		return nil, err
	}
	var list class.List
	for _, path := range paths {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		text, _, err := file.ReadFile(path)
		if err != nil {
			list = append(list, class.Unreadable(path, err.Error()))
		} else {
			list = append(list, class.RowOf(path, text))
		}
		tell(len(list))
	}
	return list, nil
}

// isOpen says whether the table stands there.
func (t *teaching) isOpen() bool { return t.table != nil && t.front.Prompt == t.table }

// soFar says how many were read.
func (t *teaching) soFar(n int) {
	if t.isOpen() {
		t.table.Refill(quantity.Counted(n, "build")+" read so far.", nil)
	}
}

// wasListed fills the table.
func (t *teaching) wasListed(list class.List, err error) {
	switch {
	case !t.isOpen(): // it was left meanwhile
	case err != nil || len(list) == 0:
		t.front.Close()
		t.form.Enter()
		text := "No build in " + t.folder + ": a build's name ends in .toml."
		if err != nil {
			text = "The builds cannot be listed: " + reason(err) + "."
		}
		t.say.Warn(text)
	default:
		entries := make([]front.Entry, len(list))
		for i, row := range list {
			entries[i] = t.entry(row)
		}
		text := quantity.Counted(len(list), "build")
		if n := list.Faulty(); n > 0 {
			text += fmt.Sprintf(", %d with a fault", n)
		}
		t.table.Refilled(text+". Enter opens one; type to find a name, a stage or a file:", classHeads, entries)
	}
}

// entry is a build as a row of the table.
func (t *teaching) entry(row *class.Row) front.Entry {
	name := filepath.Base(row.File)
	e := front.Entry{
		Text: name, Also: name + " " + row.Builder + " " + row.Stage,
		Do: func() tea.Cmd {
			return t.unlessUnsaved(t.keys.Lose, "opens another build", func() tea.Cmd { return t.await(t.s.OpenFile(row.File)) })
		},
	}
	if row.Title != "" {
		e.Text = row.Title
	}
	e.Figures = figuresOf(row)
	e.More = name + ": "
	if row.Problem != "" {
		if row.Stage != "" {
			e.More += "begun, its meter is not measured yet. "
		}
		e.More += row.Problem + "."
		return e
	}
	for i := range row.Hands {
		h := &row.Hands[i]
		e.More += h.Name + " " + h.CoilText() + ", " + h.FullScaleText() + ", " + h.Parts + "; "
	}
	e.More += "worst overload " + quantity.Show(row.Overload, quantity.Times, 3) + ", likely " + row.LikelyText() + " off after a month, cells last " + quantity.ShowDuration(row.Life) + "."
	if row.Builder != "" {
		e.More += " Built by " + row.Builder + "."
	}
	return e
}

// figuresOf are those of a build under classHeads.
func figuresOf(row *class.Row) []string {
	if row.Problem != "" {
		found := draw.Signs[judge.Fault] + " unread"
		if row.Stage != "" { // a starter file still
			found = "begun"
		}
		return []string{row.Stage, found, "", "", row.Builder, "", "", "", ""}
	}
	inside := "–"
	if row.Readings > 0 {
		inside = fmt.Sprintf("%d/%d", row.Inside, row.Readings)
	}
	coil, fullScale := "–", "–"
	for i := range row.Hands {
		if i == 0 {
			coil, fullScale = row.Hands[i].CoilText(), row.Hands[i].FullScaleText()
		}
		if i == 1 {
			coil, fullScale = coil+" …", fullScale+" …"
		}
	}
	return []string{
		row.Stage, leaves(judge.Left{Faults: row.Faults, Cautions: row.Cautions}), row.LikelyText(), inside,
		row.Builder, quantity.Show(row.Overload, quantity.Times, 3), quantity.ShowDuration(row.Life), coil, fullScale,
	}
}
