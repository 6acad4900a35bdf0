package class

import (
	"encoding/json"
	"errors"
	"fmt"
	"strings"

	"example.com/needlewright/model"
	"example.com/needlewright/model/bench"
)

// An Exercise is a clock of a build with planted faults: the build's text with what is read
// at its test points, and the key.
type Exercise struct {
	Text   string
	Faults []bench.Planted
	Seed   uint64
}

// NewExercise makes one of a document without problems: so many faults, 1 or 2. The same
// seed makes the same text. What the document has of readings, of its walk and of who built
// it is left out, and its title says what it is.
func NewExercise(d *model.Document, seed uint64, faults int) (*Exercise, error) {
	made, err := bench.New(d.Build).Make(seed, faults)
	if err != nil {
		return nil, err
	}
	for _, list := range []string{"reading", "walk"} {
		if d, err = emptied(d, list); err != nil {
			return nil, err
		}
	}
	d = d.Set(model.Builds.Field("builder"), 0, "")
	if titled := d.Set(model.Builds.Field("title"), 0, fmt.Sprintf("%s, exercise %d", d.Build.Title, seed)); len(titled.Problems) == 0 {
		d = titled // but for a title that is too long
	}
	var text strings.Builder
	text.WriteString(strings.TrimRight(d.Whole(), " \t\r\n") + "\n")
	for _, r := range made.Readings {
		fmt.Fprintf(&text, "\n[[reading]]\nat = %q\nvalue = %q\n", r.At, r.Value)
	}
	return &Exercise{text.String(), made.Faults, seed}, nil
}

// emptied is a document without any of a list.
func emptied(d *model.Document, list string) (*model.Document, error) {
	for n := model.Builds.Field(list + "." + firstKey[list]).Of(d.Build); n > 0; n-- {
		var problem *model.Problem
		if d, problem = d.Remove(list, n-1); problem != nil {
			return nil, errors.New(problem.Message())
		}
	}
	return d, nil
}

// firstKey is a key that each element of a list has, by which they are counted.
var firstKey = map[string]string{"reading": "at", "walk": "stage", "hand.scale": "at", "hand.survey.step": "volts"}

type (
	plantedJSON struct {
		ID      string   `json:"id"`
		About   string   `json:"about"`
		Text    string   `json:"text"`
		Shows   []string `json:"shows"`
		Confirm string   `json:"confirm"`
		Mend    string   `json:"mend"`
	}
	keyJSON struct {
		Faults []plantedJSON `json:"faults"`
	}
)

// JSON returns the key of the exercise.
func (e *Exercise) JSON() ([]byte, error) {
	var out keyJSON
	for _, f := range e.Faults {
		out.Faults = append(out.Faults, plantedJSON{f.ID, f.About, f.Title, f.Shows, f.Confirm, f.Mend})
	}
	text, err := json.MarshalIndent(out, "", " ")
	return model.EscapeControls(text), err
}
