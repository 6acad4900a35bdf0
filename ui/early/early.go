// Package early keeps the program's start from waiting for the terminal.
//
// Bubble Tea v1 asks the terminal for its background colour in a package
// init and waits up to five seconds where nothing answers, even for a
// subcommand that draws nothing. It asks through lipgloss, which keeps quiet
// once it has been told. So this package tells it, in an init that must run
// first: packages that are ready are initialised in the order of their import
// paths, and this one is ready as soon as lipgloss is. Its path must therefore
// sort before github.com/charmbracelet/bubbletea, and it must import nothing
// but lipgloss. Import it from main for its effect alone:
//
//	import _ "example.com/needlewright/ui/early"
//
// Nothing is lost by not asking: light or dark is a setting of the program.
package early

import "github.com/charmbracelet/lipgloss"

func init() { lipgloss.SetHasDarkBackground(true) }
