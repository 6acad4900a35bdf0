// Package draw draws what it is given into an area: frames, texts, bars, plots and dials,
// in styles that are named for what they mean. It knows no part of the dashboard.
package draw

import (
	"github.com/charmbracelet/bubbles/cursor"
	"github.com/charmbracelet/lipgloss"

	"example.com/needlewright/ui/cells"
)

// Styles, named for what they mean. None says anything by its colour alone.
const (
	plain cells.Style = iota
	Dim               // units, assumed values, what is not in force
	Frame             // lines round panes
	Title
	Chosen  // the form that is open
	Heading // of a group
	Label
	Value
	FocusLabel // of the field that has the keys
	FocusValue
	FocusDim
	FocusFault
	CursorCell
	scale // of the dial
	Needle
	Note
	Caution
	Fault
	KeyName
	styleCount
)

// CursorMode is a cursor that stands still, so that an idle screen is idle.
const CursorMode = cursor.CursorStatic

// NewPalette returns the colours for a dark or a light background.
func NewPalette(light bool) cells.Palette {
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
	styles[Dim] = ink("#7d8a90", "#6d767a")
	styles[Frame] = ink("#46555c", "#a9b4b8")
	styles[Title] = ink("#e6dcc4", "#2b3a40").Bold(true)
	styles[Chosen] = ink("#10181b", "#ffffff").Background(pick("#7fb8ad", "#2f7468")).Bold(true)
	styles[Heading] = ink("#7fb8ad", "#2f7468")
	styles[Label] = ink("#b4bec2", "#48545a")
	styles[Value] = ink("#ece7da", "#1d282c")
	styles[FocusLabel] = ink("#ece7da", "#1d282c").Background(tint).Bold(true)
	styles[FocusValue] = ink("#ffffff", "#000000").Background(tint)
	styles[FocusDim] = ink("#a3afb4", "#56626a").Background(tint)
	styles[FocusFault] = ink("#f2666b", "#b3202a").Background(tint).Bold(true)
	styles[CursorCell] = ink("#10181b", "#ffffff").Background(pick("#ece7da", "#1d282c"))
	styles[scale] = ink("#cfc6ae", "#5d5640")
	styles[Needle] = ink("#f0673e", "#c23b12").Bold(true)
	styles[Note] = ink("#86b3dc", "#2a6298")
	styles[Caution] = ink("#e5b04c", "#8f5f00").Bold(true)
	styles[Fault] = ink("#f2666b", "#b3202a").Bold(true)
	styles[KeyName] = ink("#cfc6ae", "#5d5640")
	return cells.NewPalette(styles)
}
