package working

import "example.com/needlewright/model/circuit"

// checks are the workings of results that no closed expression gives.
var checks map[string]func(d *desk, o circuit.Outcome) []Step
