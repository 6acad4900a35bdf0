package survey

import (
	"math"

	"example.com/needlewright/model/quantity"
)

// A Change is a key of a meter and the text that the survey has found for it.
type Change struct {
	Path  string `json:"path"`
	Value string `json:"value"`
}

// Prefix writes the changes with what stands before their paths, "hand.hours.".
func (v *Verdict) Prefix(prefix string) { v.Changes = v.changes(prefix) }

// changes are what a build's file takes over of a verdict: what is known of the bare
// movement, with its band.
func (v *Verdict) changes(prefix string) []Change {
	all := []Change{}
	add := func(path string, of Value, u quantity.Unit) {
		if of.IsKnown() && !math.IsNaN(of.Low+of.High) {
			all = append(all, Change{prefix + path, quantity.Show(of.Value, u, 3) + " ±" + quantity.Show((of.High-of.Low)/2, u, 2)})
		}
	}
	add("meter.coil", v.Coil, quantity.Ohms)
	add("meter.full_scale", v.Movement, quantity.Microamperes)
	if v.Law == "linear" || v.Law == "square" {
		all = append(all, Change{prefix + "meter.law", v.Law})
	}
	return all
}
