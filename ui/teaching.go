package ui

import (
	"context"
	"errors"
	"path/filepath"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model/class"
	"example.com/needlewright/model/judge"
	"example.com/needlewright/ui/draw"
	"example.com/needlewright/ui/front"
	"example.com/needlewright/ui/jobs"
	"example.com/needlewright/ui/session"
)

// teaching makes the starter file of a kit, which each of a class begins with, and shows the
// builds of a class.
type teaching struct {
	*files
	written *jobs.Job[string, string] // a starter file, by its path

	folder string // of the class that was looked at last
	table  *front.Prompt
	listed *jobs.Job[string, class.List]
}

func newTeaching(f *files) *teaching {
	t := &teaching{files: f}
	t.written = jobs.New[string](nil, t.wasWritten)
	t.listed = jobs.New[string](t.soFar, t.wasListed)
	return t
}

// kit asks what the kit is: one that is asked for as a new build is, or that of the build
// that is open.
func (t *teaching) kit() tea.Cmd {
	entries := []front.Entry{{
		Text: "A new kit", Hint: "questions",
		More: "A few questions about the meter that most of the class have, and the supply; parts are chosen for it. The kit's build stays open: look whether it suits.",
		Do: func() tea.Cmd {
			return t.unlessUnsaved(t.keys.Lose, "begins a new kit", t.newKit)
		},
	}}
	if !t.s.Stale() && len(t.s.Doc.Build.Hands) > 0 {
		entries = append(entries, front.Entry{
			Text: "The build that is open", Hint: t.s.Name(), Do: func() tea.Cmd { return t.starter("") },
			More: "Its parts are those of the kit: " + t.s.Name() + ". What was measured of its meters, cells and crystal is left out.",
		})
	}
	return t.ask(&front.Prompt{
		Title: "A kit for a class", Fixed: true, Entries: entries,
		Hint: "Which kit? Its starter file has the parts given and each one's own meter left open.",
	}, "")
}

// newKit asks what a new build begins with, has that as the build that is open, and makes its
// starter file.
func (t *teaching) newKit() tea.Cmd {
	v := &interview{form: t.form, front: t.front, keys: t.keys, what: "Kit", of: buildQuestions, said: unasked()}
	v.done = func(a *answers) tea.Cmd {
		build, _ := judge.NewBuild(a.meter(), a.supply())
		return tea.Batch(t.begin("", build), t.starter(""))
	}
	return v.begin()
}

// starter asks where the starter file is to be saved, and saves it there; refused says why
// another place was refused.
func (t *teaching) starter(refused string) tea.Cmd {
	if t.s.Stale() {
		t.say.Warn("A starter file is made once every value can be read: " + t.s.ToMend() + ".")
		return nil
	}
	text, err := class.Starter(t.s.Doc)
	if err != nil {
		t.say.Fail("The starter file could not be made: " + err.Error() + ".")
		return nil
	}
	return t.ask(&front.Prompt{
		Title: "Save the starter file", Most: front.LongestPath,
		Hint: strings.TrimSpace(refused + " The path of the file that each of the class gets a copy of. Enter saves, esc leaves."),
		Accept: func(typed string) (string, func() tea.Cmd) {
			if strings.TrimSpace(typed) == "" {
				return "A path is needed, such as starter.toml.", nil
			}
			path := t.pathOf(typed)
			return "", func() tea.Cmd {
				return t.written.Start(path, func(context.Context, func(int)) (string, error) {
					return inFull(path), session.WriteNew(path, text)
				})
			}
		},
	}, "starter.toml")
}

// inFull is a path from the root on, where that is known.
func inFull(path string) string {
	if whole, err := filepath.Abs(path); err == nil {
		return whole
	}
	return path
}

// wasWritten says where the starter file is and what to do with it, or asks for another place.
func (t *teaching) wasWritten(path string, err error) {
	switch {
	case errors.Is(err, session.ErrThere) && t.front.Mode == front.Editing:
		t.starter("There is a file of this name already, which stays: choose another.")
	case err != nil:
		t.say.Fail("The starter file was not saved: " + reason(err) + ".")
	case t.front.Mode != front.Editing:
		t.say.Say("The starter file is saved as " + path + ".")
	default:
		t.front.Open(t.starterPage(path))
	}
}

// starterPage says what pupils and teacher do with a starter file.
func (t *teaching) starterPage(path string) front.Page {
	p, name := front.Page{Title: "The starter file is saved"}, filepath.Base(path)
	p.Add(draw.Value, path)
	p.Add(draw.Heading, "\nYour pupils")
	p.Add(draw.Value, "Each gets a copy of it and goes on from there, stage by stage:")
	p.Add(draw.KeyName, "  needlewright walk "+name)
	p.Add(draw.Value, "The parts of the kit stand in it: "+t.parts()+". What is of the own meter is open: full scale and coil are only assumed, marked ?, until each has measured them. Builder, in the form Meter, takes a name.")
	p.Add(draw.Caution, "Agree who signs first power: the walk asks for it, after a plain resistor in the meter's place read right.")
	p.Add(draw.Heading, "\nYou, afterwards")
	p.Add(draw.Value, "Gather their files in a folder. All of them in one table, with what is wrong and where each stands:")
	p.Add(draw.KeyName, "  needlewright list FOLDER")
	p.Add(draw.Value, "The same on the screen is A class's builds, in the menu ("+t.keys.Menu.Help().Key+"); enter opens one. What differs between two of them:")
	p.Add(draw.KeyName, "  needlewright compare ONE OTHER")
	return p
}

// parts are those of the kit, hand by hand.
func (t *teaching) parts() string {
	row := class.RowOf("", t.s.Text())
	var all []string
	for i := range row.Hands {
		text := row.Hands[i].Parts
		if len(row.Hands) > 1 {
			text = row.Hands[i].Name + " " + text
		}
		all = append(all, text)
	}
	return strings.Join(all, "; ")
}
