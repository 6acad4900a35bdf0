package ui

import (
	"context"
	"errors"
	"path/filepath"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model"
	"example.com/needlewright/model/dial"
	"example.com/needlewright/model/file"
	"example.com/needlewright/model/paper"
	"example.com/needlewright/ui/front"
	"example.com/needlewright/ui/jobs"
	"example.com/needlewright/ui/session"
)

// papers writes the papers of the build that is open: sheets, dials, codes, parts and circuit.
type papers struct {
	*files
	asked   writing
	written *jobs.Job[writing, string]
}

// A writing is a paper on its way to a file, or all of them to a folder.
type writing struct {
	kind int // of the table of kinds; or everyPaper
	path string
	on   dial.Paper // that dials are laid on, where they are
	over bool       // what is there is written over
}

const everyPaper = -1

func newPapers(f *files) *papers {
	p := &papers{files: f}
	p.written = jobs.New[writing](nil, p.wasWritten)
	return p
}

// choose asks which paper is to be written.
func (p *papers) choose() tea.Cmd {
	if p.s.Stale() || p.s.Report == nil {
		p.say.Say("Papers are written once every value can be read: " + p.s.ToMend() + ".")
		return nil
	}
	var entries []front.Entry
	for k := range paper.Kinds {
		kind := &paper.Kinds[k]
		entries = append(entries, front.Entry{Text: kind.Title, Hint: kind.File, More: kind.Says, Do: func() tea.Cmd { return p.where(writing{kind: k}, kind.Title, kind.File) }})
	}
	entries = append(entries, front.Entry{Text: "All for a finished clock", Hint: "a folder", More: "Dials, codes, parts and the build sheet, into a folder of their own: all or none.",
		Do: func() tea.Cmd { return p.where(writing{kind: everyPaper}, "All papers", "papers") }})
	return p.ask(&front.Prompt{Title: "Papers", Entries: entries, Hint: "Which paper is to be written? Enter asks where."}, "")
}

// where asks for the place of a paper; usual is the one that stands there.
func (p *papers) where(w writing, title, usual string) tea.Cmd {
	what := "The path of the file."
	if w.kind == everyPaper {
		what = "The path of the folder; it is made where there is none."
	}
	return p.ask(&front.Prompt{
		Title: title + ": where to", Most: front.LongestPath,
		Hint: what + " Enter writes, esc leaves.",
		Accept: func(typed string) (string, func() tea.Cmd) {
			if strings.TrimSpace(typed) == "" {
				return "A path is needed, such as " + usual + ".", nil
			}
			w.path = p.besideBuild(typed, filepath.Ext(usual))
			return "", func() tea.Cmd { return p.onPaper(w) }
		},
	}, usual)
}

// besideBuild is where what is typed is written: a name alone beside the build's file.
func (p *papers) besideBuild(typed, ending string) string {
	path := session.Expanded(typed)
	if filepath.Ext(path) == "" {
		path += ending
	}
	if p.s.Path != "" && filepath.Base(path) == path {
		path = filepath.Join(filepath.Dir(p.s.Path), path)
	}
	return path
}

// onPaper asks which paper dials are printed on, and writes.
func (p *papers) onPaper(w writing) tea.Cmd {
	if w.kind != everyPaper && !paper.Kinds[w.kind].IsLaid {
		return p.write(w)
	}
	var entries []front.Entry
	for _, sheet := range dial.Papers {
		entries = append(entries, front.Entry{Text: strings.ToUpper(sheet.Name[:1]) + sheet.Name[1:], Do: func() tea.Cmd { w.on = sheet; return p.write(w) }})
	}
	return p.ask(&front.Prompt{Title: "Paper of the dials", Fixed: true, Entries: entries, Hint: "On which paper are the dials printed? Nothing is scaled to fit."}, "")
}

// write makes the paper and writes it, beside the keys.
func (p *papers) write(w writing) tea.Cmd {
	d := p.s.Doc
	p.asked = w
	return p.written.Start(w, func(context.Context, func(int)) (string, error) {
		return inFull(w.path), w.run(d)
	})
}

// run makes and writes it.
func (w *writing) run(d *model.Document) error {
	if w.kind == everyPaper {
		made, err := paper.All(d, w.on)
		if err != nil {
			return err
		}
		return file.SaveFolder(w.path, made, w.over)
	}
	text, err := paper.Kinds[w.kind].Make(d, w.on)
	switch {
	case err != nil:
		return err
	case w.over:
		_, err = file.Save(w.path, text, "")
		return err
	}
	return session.WriteNew(w.path, text)
}

// wasWritten says where the paper is, or asks before another is written over.
func (p *papers) wasWritten(path string, err error) {
	w := p.asked
	switch {
	case errors.Is(err, session.ErrThere) || errors.Is(err, file.ErrThere):
		if p.front.Mode != front.Editing {
			p.say.Fail("Nothing was written: it is there already.")
			return
		}
		w.over = true
		p.ask(&front.Prompt{Title: "It is there already", Fixed: true, Hint: "Nothing was written yet.", Entries: []front.Entry{
			{Text: "Leave it", More: "What is there stays; nothing is written.", Do: func() tea.Cmd { return nil }},
			{Text: "Write over it", More: "What is there is lost: " + w.path, Do: func() tea.Cmd { return p.write(w) }},
		}}, "")
	case err != nil:
		p.say.Fail("Nothing was written: " + reason(err) + ".")
	default:
		p.say.Say("Written: " + path + ".")
	}
}
