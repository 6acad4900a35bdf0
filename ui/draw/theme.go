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
	Marked // what the next letter takes the place of
	scale  // of the dial
	Needle
	Note
	Caution
	Fault
	KeyName
	styleCount
)

// CursorMode is a cursor that stands still, so that an idle screen is idle.
const CursorMode = cursor.CursorStatic

// shade is a colour of all there are, and the one for it on a terminal that has sixteen.
// Nearest to many pale ones would be a loud one there: HSLuv makes much of their hue.
func shade(full, of16 string) lipgloss.CompleteColor {
	return lipgloss.CompleteColor{TrueColor: full, ANSI256: full, ANSI: of16}
}

// NewPalette returns the colours for a dark or a light background.
func NewPalette(light bool) cells.Palette {
	pick := func(dark, onLight lipgloss.CompleteColor) lipgloss.CompleteColor {
		if light {
			return onLight
		}
		return dark
	}
	ink := func(dark, onLight lipgloss.CompleteColor) lipgloss.Style {
		return lipgloss.NewStyle().Foreground(pick(dark, onLight))
	}
	text, textOnLight := shade("#ece7da", "15"), shade("#1d282c", "0")
	text.ANSI256 = "255" // nearest would be a pink
	onText, onTextOnLight := shade("#10181b", "0"), shade("#ffffff", "15")
	tint := pick(shade("#24343a", "4"), shade("#d9e6e4", "7"))
	alarm := tint
	alarm.ANSI = "1" // red letters could not be read on blue

	styles := make([]lipgloss.Style, styleCount)
	styles[plain] = lipgloss.NewStyle()
	styles[Dim] = ink(shade("#7d8a90", "7"), shade("#6d767a", "8"))
	styles[Frame] = ink(shade("#46555c", "8"), shade("#a9b4b8", "7"))
	styles[Title] = ink(shade("#e6dcc4", "15"), shade("#2b3a40", "0")).Bold(true)
	styles[Chosen] = ink(onText, onTextOnLight).Background(pick(shade("#7fb8ad", "6"), shade("#2f7468", "6"))).Bold(true)
	styles[Heading] = ink(shade("#7fb8ad", "14"), shade("#2f7468", "6"))
	styles[Label] = ink(shade("#b4bec2", "7"), shade("#48545a", "0"))
	styles[Value] = ink(text, textOnLight)
	styles[FocusLabel] = ink(text, textOnLight).Background(tint).Bold(true)
	styles[FocusValue] = ink(shade("#ffffff", "15"), shade("#000000", "0")).Background(tint)
	styles[FocusDim] = ink(shade("#a3afb4", "7"), shade("#56626a", "0")).Background(tint)
	styles[FocusFault] = ink(shade("#f2666b", "15"), shade("#b3202a", "15")).Background(alarm).Bold(true)
	styles[CursorCell] = ink(text, textOnLight).Background(pick(onText, onTextOnLight)).Reverse(true)
	styles[Marked] = ink(shade("#2f7468", "7"), shade("#2f7468", "4")).Background(pick(shade("#ffffff", "0"), shade("#ffffff", "15"))).Reverse(true)
	styles[scale] = ink(shade("#cfc6ae", "7"), shade("#5d5640", "0"))
	styles[Needle] = ink(shade("#f0673e", "9"), shade("#c23b12", "1")).Bold(true)
	styles[Note] = ink(shade("#86b3dc", "12"), shade("#2a6298", "4"))
	styles[Caution] = ink(shade("#e5b04c", "11"), shade("#8f5f00", "3")).Bold(true)
	styles[Fault] = ink(shade("#f2666b", "9"), shade("#b3202a", "1")).Bold(true)
	styles[KeyName] = ink(shade("#cfc6ae", "15"), shade("#5d5640", "0"))
	return cells.NewPalette(styles)
}
