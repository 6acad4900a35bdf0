package ui

// savedMsg tells how saving a text went.
type savedMsg struct {
	text string
	err  error
}

// A notice is the one line the dashboard says of itself.
type notice struct {
	tone tone
	text string
}

// A tone is how a notice is meant.
type tone uint8

const (
	said tone = iota
	warned
	failed
)
