// Package survey finds out what an unknown meter is without hurting it: it asks a person one
// thing at a time, from where the meter comes to where its needle stands behind a resistor,
// and says what follows. The contract is catalogue.md, "Survey". Nothing here knows a screen.
package survey

import (
	"errors"
	"strings"
)

// An Ask is one thing that a person is asked.
type Ask struct {
	Kind    string   // "origin", "needle" …: what is asked, by the contract's names
	Choices []string // nil: free text
	Of      *Connection
	Nominal float64 // Ω, of the resistor that is to be measured
	Current float64 // A, the most that can pass a movement that the answers so far allow; 0: nothing is connected
	Text    string  // what to do, in words
	Problem string  // why the last answer was not taken

	read func(answer string) error
}

// A Connection is a source, a resistor between it and the meter, and one across the
// meter's terminals.
type Connection struct {
	Volts  float64 // of the source, nominal: 1.5 or 9
	Series float64 // Ω, nominal; 0: nothing is connected, the source is measured by itself
}

// A Survey is a dialogue so far: the answers that were taken. What is next follows from
// them alone.
type Survey struct {
	answers []string
	problem string
}

// Next is what is asked now, or the verdict where nothing more is.
func (s *Survey) Next() (ask *Ask, verdict *Verdict) {
	d := &dialogue{answers: s.answers}
	defer func() {
		switch r := recover().(type) {
		case nil:
		case *Ask: // the dialogue waits for an answer
			ask, verdict = r, nil
			ask.Problem = s.problem
		default:
			panic(r)
		}
	}()
	return nil, d.run()
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
			s.answers = s.answers[:len(s.answers)-1]
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
	s.answers = append(s.answers, text)
	return nil
}

// skip is the answer of who has none.
const skip = "skip"
