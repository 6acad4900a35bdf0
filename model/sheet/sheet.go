// Package sheet is the build sheet of a clock: all that somebody needs to build it, to mend
// it and to understand it, as data, as one HTML file and as Markdown. A learner's sheet has
// the results blank, with room to write; its key has them.
package sheet

import (
	"html/template"
)

// A Sheet is a paper in sections.
type Sheet struct {
	Title    string
	About    string // what the paper is, in a sentence
	Learner  bool
	Sections []Section
}

// A Section is a part of it.
type Section struct {
	ID, Title string
	Blocks    []Block
}

// A Block is one thing that stands in a section; of its fields those that are given are
// shown, in their order.
type Block struct {
	Heading string
	Texts   []string
	Warned  []string // cautions, in a frame; never blank
	Signs   []string // to be signed by hand, a line each
	Table   *Table
	Figure  *Figure
	After   string
}

// A Table is one of texts, with a first row of names.
type Table struct {
	Caption string
	Head    []string
	Rows    [][]Cell
	Tight   bool // many lines of few words: set small, without a first row
}

// A Cell is a text, or room for what is to be written or ticked.
type Cell struct {
	Text, Small string
	Number      bool // it is not broken, and its digits stand below each other
	Box, Ticked bool
	Blank       int // the number under which the key has what belongs here
	Room        bool
}

// A Figure is a picture, and what stands for it in text.
type Figure struct {
	Name  string
	SVG   template.HTML
	Class string
	Text  []string // drawn with characters
	Table *Table
}
