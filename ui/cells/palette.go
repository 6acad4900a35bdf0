package cells

import (
	"strings"

	"github.com/charmbracelet/lipgloss"
)

// A Style is a place in a Palette. Style 0 is that of blank cells.
type Style uint8

// A Palette says how each Style looks on the terminal.
type Palette struct {
	marks []mark
}

// A mark is what switches a style on and off.
type mark struct {
	prefix, suffix string
}

// NewPalette takes the bytes each style puts around a text, so that Style i
// looks like styles[i]. Only colours and attributes count: padding, borders,
// sizes and the like have no meaning in a cell. What lipgloss knows of the
// terminal at this moment (colour profile, NO_COLOR) is obeyed, but that what is
// reversed stays so without colours; build the palette anew when that changes. A Style past the end looks plain; places
// after 255 cannot be reached.
func NewPalette(styles []lipgloss.Style) Palette {
	p := Palette{marks: make([]mark, len(styles))}
	for i, s := range styles {
		p.marks[i] = markOf(s)
	}
	return p
}

func markOf(s lipgloss.Style) mark {
	const letter = "x" // no sequence of colours or attributes contains it
	s = s.Inline(true).SetString().UnsetTransform().
		UnsetWidth().UnsetHeight().UnsetMaxWidth().UnsetMaxHeight()
	prefix, suffix, _ := strings.Cut(s.Render(letter), letter)
	if prefix == "" && s.GetReverse() {
		return mark{"\x1b[7m", "\x1b[0m"} // ECMA-48, SGR: no colour, but lipgloss leaves it out with them
	}
	return mark{prefix, suffix}
}

func (p Palette) mark(s Style) mark {
	if int(s) >= len(p.marks) {
		return mark{}
	}
	return p.marks[s]
}
