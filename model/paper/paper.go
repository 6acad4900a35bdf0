// Package paper makes the papers of a build by name: sheets, dials, codes, parts and circuit,
// as files to be written. What stands in them is of other rooms.
package paper

import (
	"bytes"
	"strings"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/codes"
	"example.com/needlewright/model/dial"
	"example.com/needlewright/model/file"
	"example.com/needlewright/model/network"
	"example.com/needlewright/model/parts"
	"example.com/needlewright/model/schematic"
	"example.com/needlewright/model/sheet"

	drawn "example.com/needlewright/model/paper/dial"
)

// A Kind is a paper that can be written by itself.
type Kind struct {
	Title  string // "Build sheet"
	File   string // what it is called unless another name is asked for
	Says   string // what it is, in a line
	IsLaid bool   // its dials are laid on sheets of a size that is asked for
	make   func(m *maker) (string, error)
}

// Kinds are those papers.
var Kinds = []Kind{
	{Title: "Build sheet", File: "sheet.html", make: (*maker).sheet,
		Says: "All that is needed to build, mend and understand the clock: one HTML file, to print or for a phone."},
	{Title: "Learner's sheet", File: "learner.html", make: (*maker).learner,
		Says: "The same with its results blank, and a place for the teacher's yes."},
	{Title: "Key to the learner's sheet", File: "key.html", make: (*maker).key,
		Says: "What belongs into its blanks."},
	{Title: "Dials", File: "dials.pdf", make: (*maker).dials, IsLaid: true,
		Says: "Those of all hands at true size, as PDF: print at 100 %."},
	{Title: "Codes", File: "codes.h", make: (*maker).codes,
		Says: "What the firmware is given, as a header of C."},
	{Title: "Parts", File: "parts.csv", make: (*maker).parts,
		Says: "What is bought, as a table."},
	{Title: "Circuit", File: "circuit.svg", make: (*maker).circuit,
		Says: "The circuit with its values, volts and amps, as SVG."},
}

// Make makes a paper of a document without problems; dials are laid on a sheet of paper.
func (k *Kind) Make(d *model.Document, on dial.Paper) (string, error) {
	return k.make(newMaker(d, on))
}

// All are the papers that belong to a finished clock, for a folder of their own: dials, codes,
// parts and the build sheet. Where one cannot be made there are none.
func All(d *model.Document, on dial.Paper) ([]file.Named, error) {
	m := newMaker(d, on)
	var all []file.Named
	var err error
	add := func(name string, of func() (string, error)) {
		if err != nil {
			return
		}
		var text string
		if text, err = of(); err == nil {
			all = append(all, file.Named{Name: name, Text: text})
		}
	}
	if len(m.b.Hands) > 0 {
		add("dials.pdf", m.dials)
	}
	for i := range m.b.Hands {
		add("dial-"+m.b.Hands[i].Name+".svg", func() (string, error) { return m.dial(i) })
	}
	add("codes.h", m.codes)
	add("parts.csv", m.parts)
	add("sheet.html", m.sheet)
	if err != nil {
		return nil, err
	}
	return all, nil
}

// A maker makes papers of a build.
type maker struct {
	d  *model.Document
	b  *model.Build
	p  *circuit.Plan
	on dial.Paper
}

func newMaker(d *model.Document, on dial.Paper) *maker {
	m := &maker{d: d, b: d.Build, p: new(circuit.Plan), on: on}
	circuit.Evaluate(m.b, m.p)
	return m
}

func (m *maker) sheet() (string, error) {
	s, err := sheet.New(m.d)
	if err != nil {
		return "", err
	}
	return s.HTML()
}

func (m *maker) learner() (string, error) {
	s, _, err := sheet.ForLearner(m.d)
	if err != nil {
		return "", err
	}
	return s.HTML()
}

func (m *maker) key() (string, error) {
	_, key, err := sheet.ForLearner(m.d)
	if err != nil {
		return "", err
	}
	return key.HTML()
}

// dials are those of all hands, as PDF.
func (m *maker) dials() (string, error) {
	hands := make([]int, len(m.b.Hands))
	for i := range hands {
		hands[i] = i
	}
	pages, err := dial.Pages(m.b, m.p, hands, m.on)
	if err != nil {
		return "", err
	}
	pdf, err := drawn.PDF(pages)
	return string(pdf), err
}

// dial is that of a hand, as SVG.
func (m *maker) dial(hand int) (string, error) {
	pages, err := dial.Pages(m.b, m.p, []int{hand}, m.on)
	if err != nil {
		return "", err
	}
	return drawn.SVG(pages[0]), nil
}

func (m *maker) codes() (string, error) {
	var header bytes.Buffer
	err := codes.Of(m.b, m.p).WriteHeader(&header)
	return header.String(), err
}

func (m *maker) parts() (string, error) {
	return parts.New(network.Of(m.b, m.p), 1, 0).CSV(), nil
}

// circuit is that of the clock, its hands at their tops.
func (m *maker) circuit() (string, error) {
	n := network.Of(m.b, m.p)
	return strings.TrimSpace(schematic.Draw(n, n.At(n.Tops()), schematic.All, false).SVG()) + "\n", nil
}
