package calc

// TrimStep returns how finely a trimmer, Ω, sets, Ω: a hand turns it to half a
// percent of its whole, and over several turns, 0.5 or more, to a hundredth of one turn.
//
// Source: common practice, no source
func TrimStep(trimmer, turns float64) float64 { return trimmer * min(0.5e-2, 1e-2/turns) }
