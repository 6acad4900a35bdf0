package ui

import (
	"github.com/charmbracelet/bubbles/cursor"
	"github.com/charmbracelet/lipgloss"

	"example.com/needlewright/ui/cells"
)

// Styles, named for what they mean. None says anything by its colour alone.
const (
	plain cells.Style = iota
	dim               // units, assumed values, what is not in force
	frame             // lines round panes
	title
	chosen  // the form that is open
	heading // of a group
	label
	value
	focusLabel // of the field that has the keys
	focusValue
	focusDim
	focusFault
	cursorCell
	scale // of the dial
	needle
	note
	caution
	fault
	keyName
	styleCount
)

// cursorMode is a cursor that stands still, so that an idle screen is idle.
const cursorMode = cursor.CursorStatic

// newPalette returns the colours for a dark or a light background.
func newPalette(light bool) cells.Palette {
	pick := func(dark, onLight string) lipgloss.Color {
		if light {
			return lipgloss.Color(onLight)
		}
		return lipgloss.Color(dark)
	}
	ink := func(dark, onLight string) lipgloss.Style {
		return lipgloss.NewStyle().Foreground(pick(dark, onLight))
	}
	tint := pick("#24343a", "#d9e6e4")
	styles := make([]lipgloss.Style, styleCount)
	styles[plain] = lipgloss.NewStyle()
	styles[dim] = ink("#7d8a90", "#6d767a")
	styles[frame] = ink("#46555c", "#a9b4b8")
	styles[title] = ink("#e6dcc4", "#2b3a40").Bold(true)
	styles[chosen] = ink("#10181b", "#ffffff").Background(pick("#7fb8ad", "#2f7468")).Bold(true)
	styles[heading] = ink("#7fb8ad", "#2f7468")
	styles[label] = ink("#b4bec2", "#48545a")
	styles[value] = ink("#ece7da", "#1d282c")
	styles[focusLabel] = ink("#ece7da", "#1d282c").Background(tint).Bold(true)
	styles[focusValue] = ink("#ffffff", "#000000").Background(tint)
	styles[focusDim] = ink("#a3afb4", "#56626a").Background(tint)
	styles[focusFault] = ink("#f2666b", "#b3202a").Background(tint).Bold(true)
	styles[cursorCell] = ink("#10181b", "#ffffff").Background(pick("#ece7da", "#1d282c"))
	styles[scale] = ink("#cfc6ae", "#5d5640")
	styles[needle] = ink("#f0673e", "#c23b12").Bold(true)
	styles[note] = ink("#86b3dc", "#2a6298")
	styles[caution] = ink("#e5b04c", "#8f5f00").Bold(true)
	styles[fault] = ink("#f2666b", "#b3202a").Bold(true)
	styles[keyName] = ink("#cfc6ae", "#5d5640")
	return cells.NewPalette(styles)
}
