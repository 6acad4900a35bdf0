package bench

import "fmt"

// SureEnough is the probability of a cause at which guidance ends.
const SureEnough = 0.9

// chances are probabilities in words, the likeliest first.
var chances = []struct {
	from float64
	word string
}{{0.97, "almost sure"}, {SureEnough, "very likely"}, {0.6, "likely"}, {0.15, "possible"}, {0.05, "less likely"}, {0, "hardly"}}

// ChanceOf is a probability in words.
func ChanceOf(probability float64) string {
	for _, c := range chances {
		if probability >= c.from {
			return c.word
		}
	}
	return chances[len(chances)-1].word
}

// Percent is a probability as people read it: never quite none or all.
func Percent(p float64) string {
	switch {
	case p < 0.01:
		return "<1 %"
	case p > 0.99:
		return ">99 %"
	}
	return fmt.Sprintf("%.0f %%", 100*p)
}

// LeastShown is the least probability of a cause that is shown beside the likeliest.
const LeastShown = 0.005

// efforts are what a reading costs, in words.
var efforts = []struct {
	upTo float64
	word string
}{{0, "a look"}, {1, "probes in place"}, {2, "turn and turn back"}, {3, "a lead off, or in the lead"}}

// EffortOf is what a reading costs, in words.
func EffortOf(cost float64) string {
	for _, e := range efforts {
		if cost <= e.upTo {
			return e.word
		}
	}
	return "unsolder"
}
