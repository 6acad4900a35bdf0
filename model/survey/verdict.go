package survey

// A Verdict is what the survey has found.
type Verdict struct {
	Verdict    string // "known", "partly", "stop"
	Why        string
	Resistance Value // Ω, of the closed case at its terminals
	FullScale  Value // A, at its terminals
	Coil       Value // Ω, of the movement
	Movement   Value // A, its full scale
	Inside     string
	Law        string // "linear", "square", "uneven", "" where it is not known
	FromDial   bool   // whether full scale rests on the dial's word alone
	Steps      []Step // what was read, in its order
	Changes    []Change

	found
}

// The words of a verdict.
const (
	Known   = "known"
	Partly  = "partly"
	Stopped = "stop" // nothing more is to be connected
)

func stop(why string) *Verdict {
	return &Verdict{Verdict: Stopped, Why: why, Resistance: nothing, FullScale: nothing, Coil: nothing, Movement: nothing, Inside: notKnown}
}

// A Change is a key of a hand and the text that the survey has found for it. Note is "from
// the dial" where that rests on the dial's word alone, else "".
type Change struct {
	Path  string `json:"path"`
	Value string `json:"value"`
	Note  string `json:"-"`
}

// fromDial is the note at what rests on the dial's word alone.
const fromDial = "from the dial"

// fromSurvey is the note at what follows from the readings.
const fromSurvey = "from the survey"

// A Step is one connection with what was read of it, as a build's file has it. Texts are as
// they were answered, "" where they were not.
type Step struct {
	Volts             float64 // V, nominal
	Source            string
	Series            string
	Needle, Terminals string
}
