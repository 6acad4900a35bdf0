// Package survey finds out what an unknown meter is without hurting it: it asks a person one
// thing at a time, from where the meter comes to where its needle stands behind a resistor,
// and says what follows. The contract is catalogue.md, "Survey". Nothing here knows a screen.
package survey

import (
	"errors"
	"fmt"
	"slices"
	"strings"
)

// A Survey is a dialogue so far: the answers that were taken. What is next follows from
// them alone.
type Survey struct {
	answers []string
	problem string
	now     *standing // nil until it is asked for
	weighed map[int]posterior
}

// A standing is where the answers have come to: either asks or verdict is there.
type standing struct {
	dialogue *dialogue
	ask      *Ask
	verdict  *Verdict
}

// New returns a survey with answers that were given before, in their order, as Answers
// returns them. An error names the first that is not taken, and the survey goes on before it.
func New(answers []string) (*Survey, error) {
	s := &Survey{}
	for n, answer := range answers {
		if err := s.Answer(answer); err != nil {
			return s, fmt.Errorf("answer %d, %q: %w", n+1, answer, err)
		}
		if s.problem != "" {
			problem := s.problem
			s.problem = ""
			return s, fmt.Errorf("answer %d: %s", n+1, problem)
		}
	}
	return s, nil
}

// Answers returns the answers that were taken, in their order.
func (s *Survey) Answers() []string { return slices.Clone(s.answers) }

// Next is what is asked now, or the verdict where nothing more is.
func (s *Survey) Next() (ask *Ask, verdict *Verdict) {
	now := s.stands()
	if now.ask != nil {
		now.ask.Problem = s.problem
	}
	return now.ask, now.verdict
}

// stands goes through the dialogue with the answers.
func (s *Survey) stands() *standing {
	if s.now == nil {
		if s.weighed == nil {
			s.weighed = map[int]posterior{}
		}
		s.now = &standing{dialogue: &dialogue{answers: s.answers, weighed: s.weighed}}
		s.now.run()
	}
	return s.now
}

func (now *standing) run() {
	defer func() {
		switch r := recover().(type) {
		case nil:
		case *Ask: // the dialogue waits for an answer
			now.ask = r
		default:
			panic(r)
		}
	}()
	v := now.dialogue.run()
	v.found, v.Steps = now.dialogue.found, now.dialogue.steps()
	now.verdict = v
}

// run is the whole survey.
func (d *dialogue) run() *Verdict {
	d.sources, d.loaded, d.series = map[float64]measured{}, map[Connection]measured{}, map[float64]measured{}
	if v := d.look(); v != nil {
		return v
	}
	if v := d.connect(); v != nil {
		return v
	}
	return d.conclude()
}

// ErrNothingAsked says that the survey is over.
var ErrNothingAsked = errors.New("nothing is asked any more")

// Answer takes an answer to what Next asks. "back" takes the last one back, "skip" goes on
// without. One that cannot be read is not taken: Next says why.
func (s *Survey) Answer(text string) error {
	ask, _ := s.Next()
	s.problem = ""
	text = strings.TrimSpace(text)
	switch {
	case text == "back":
		if len(s.answers) > 0 {
			delete(s.weighed, len(s.answers))
			s.answers, s.now = s.answers[:len(s.answers)-1], nil
		}
		return nil
	case ask == nil:
		return ErrNothingAsked
	}
	if text != skip {
		if err := ask.read(text); err != nil {
			s.problem = err.Error()
			return nil
		}
	}
	s.answers, s.now = append(s.answers, text), nil
	return nil
}
