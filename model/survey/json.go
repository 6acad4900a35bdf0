package survey

import (
	"encoding/json"
	"math"
)

// MarshalJSON returns what is asked by the contract's names.
func (a *Ask) MarshalJSON() ([]byte, error) {
	m := map[string]any{"ask": a.Kind, "text": a.Text}
	if a.Choices != nil {
		m["choices"] = a.Choices
	}
	if a.Of != nil {
		m["volts"], m["series"] = a.Of.Volts, orNull(a.Of.Series)
		if a.Kind != "source" {
			m["across"] = nil
		}
	}
	if a.Nominal > 0 {
		m["nominal"] = a.Nominal
	}
	if a.Current > 0 {
		m["current"] = a.Current
	}
	if a.Problem != "" {
		m["problem"] = a.Problem
	}
	return json.Marshal(m)
}

// MarshalJSON returns the verdict by the contract's names.
func (v *Verdict) MarshalJSON() ([]byte, error) {
	return json.Marshal(map[string]any{
		"done": true, "verdict": v.Verdict, "why": v.Why, "terminal_resistance": v.Resistance, "terminal_full_scale": v.FullScale,
		"coil": v.Coil, "full_scale": v.Movement, "inside": v.Inside, "changes": append([]Change{}, v.Changes...),
	})
}

// MarshalJSON returns a value with its band, null where nothing is known.
func (v Value) MarshalJSON() ([]byte, error) {
	if !v.IsKnown() {
		return []byte("null"), nil
	}
	return json.Marshal(map[string]any{"value": v.Value, "low": orNull(v.Low), "high": orNull(v.High)})
}

func orNull(x float64) any {
	if math.IsNaN(x) || math.IsInf(x, 0) || x == 0 {
		return nil
	}
	return x
}
