package bench

import "math"

// truncated are mean and deviation of what is spread normally, mean 0 and deviation 1,
// held between two ends. From memory.
func truncated(from, to float64) (mean, deviation float64) {
	share := below(to) - below(from)
	a, b := density(from), density(to)
	mean = (a - b) / share
	variance := 1 - mean*mean
	if !math.IsInf(from, 0) {
		variance += from * a / share
	}
	if !math.IsInf(to, 0) {
		variance -= to * b / share
	}
	return mean, math.Sqrt(max(variance, 1e-6))
}

func density(x float64) float64 { return math.Exp(-x*x/2) / math.Sqrt(2*math.Pi) }
func below(x float64) float64   { return math.Erfc(-x/math.Sqrt2) / 2 }

func norm(x []float64) float64 {
	sum := 0.0
	for _, v := range x {
		sum += v * v
	}
	return math.Sqrt(sum)
}

// orNothing is 0 for what no circuit gives.
func orNothing(x float64) float64 {
	if math.IsNaN(x) {
		return 0
	}
	return x
}
