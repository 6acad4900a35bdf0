package survey

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

// skip is the answer of who has none.
const skip = "skip"

const notKnown = "unknown"
