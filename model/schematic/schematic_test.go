package schematic

import (
	"encoding/xml"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/modeltest"
	"example.com/needlewright/model/network"
)

// wired is a build's network, and what flows in it at a share of its first hand's dial.
func wired(b *model.Build, share float64) (*network.Network, *network.Flow) {
	p := new(circuit.Plan)
	circuit.Evaluate(b, p)
	n := network.Of(b, p)
	return n, n.At(n.Shares(0, share))
}

// Every part of the build is drawn once, and nothing else.
func TestEveryPartIsDrawnOnce(t *testing.T) {
	for name, b := range modeltest.Every(t, 30) {
		n, f := wired(b, 0.5)
		var parts []string
		for _, p := range n.Parts {
			parts = append(parts, p.ID)
		}
		drawn := slices.Clone(Draw(n, f, All, false).Drawn)
		slices.Sort(parts)
		slices.Sort(drawn)
		assert.Equal(t, parts, drawn, name)
	}
}

// All fits 76 columns, of 78 that are allowed, the plain drawing and list are ASCII, and both show the same.
func TestDrawingsFit(t *testing.T) {
	for name, b := range modeltest.Every(t, 30) {
		n, f := wired(b, 0.25)
		for _, plain := range []bool{false, true} {
			text := Draw(n, f, All, plain).Text() + List(n, "", plain)
			for _, line := range strings.Split(text, "\n") {
				require.LessOrEqual(t, utf8.RuneCountInString(line), Width, "%s: %s", name, line)
				require.Equal(t, strings.TrimRight(line, " "), line, name)
			}
			if plain {
				at := strings.IndexFunc(text, func(r rune) bool { return r > unicode.MaxASCII })
				require.Equal(t, -1, at, "%s: %q", name, text[max(0, at-20):min(len(text), max(0, at)+20)])
			}
		}
		assert.Len(t, Draw(n, f, All, true).Lines(), len(Draw(n, f, All, false).Lines()), name)
	}
}

// Of a build with usual names nothing is cut, whichever way its current flows, in ASCII too,
// where a unit is longer: a cut unit would be another one.
func TestNothingIsCut(t *testing.T) {
	room := modeltest.Example("reading-room")
	for name, set := range map[string][]string{
		"two cells": {"battery.cells", "2", "battery.resistance", "0.25 Ω", "converter.kind", "linear"},
		"a bridge":  {"hand.hours.drive.by", "bridge", "hand.hours.meter.zero_at", "centre"},
		"a switch":  {"hand.hours.drive.by", "switch"},
	} {
		for _, share := range []float64{0, 0.25, 1} {
			n, f := wired(modeltest.Sound(t, modeltest.With(t, room, set...)), share)
			for _, plain := range []bool{false, true} {
				assert.NotRegexp(t, `[~…]`, Draw(n, f, All, plain).Text(), name)
			}
		}
	}
}

// A printed row of a hand: its figures by the columns in which they stand, in units of the
// last digit; said tells which are there.
type printed struct {
	name              string
	ground, over, amp float64
}

// rows reads a drawing as a person does: by the columns of its heads.
func rows(t *testing.T, lines []string) (all []printed) {
	t.Helper()
	cell := func(line []rune, from, to int) float64 {
		fields := strings.Fields(string(line[min(from, len(line)):min(to, len(line))]))
		if len(fields) != 2 || fields[0] == "left" {
			return math.NaN()
		}
		x, err := strconv.ParseFloat(fields[0], 64)
		require.NoError(t, err, string(line))
		return x
	}
	begin := slices.IndexFunc(lines, func(line string) bool { return strings.HasSuffix(line, "through it") })
	require.NotEqual(t, -1, begin)
	for _, line := range lines[begin+1:] {
		if line == "" {
			break
		}
		r := []rune(line)
		name := ""
		if len(r) > labels {
			name = strings.TrimSpace(string(r[labels:min(len(r), labels+nodeWide)]))
		}
		p := printed{name, math.NaN(), cell(r, 54, 65), cell(r, 65, 76)}
		if strings.Contains(line, "●") || strings.HasPrefix(name, "gives on average") {
			p.ground = cell(r, 44, 54)
		}
		all = append(all, p)
	}
	return all
}

// Around each hand's loop the printed volts add up to the last digit, and at each node the
// printed amps: read from the printed text alone.
func TestKirchhoffAsPrinted(t *testing.T) {
	judged, split := 0, 0
	for name, b := range modeltest.Every(t, 30) {
		for _, share := range []float64{0, 0.37, 1} {
			n, f := wired(b, share)
			for i := range b.Hands {
				if !f.Hands[i].Driven.Known {
					continue
				}
				judged++
				lines := Draw(n, f, i, false).Lines()
				if holdLoop(t, name+", "+b.Hands[i].Name, rows(t, lines)) {
					split++
				}
			}
		}
	}
	assert.Greater(t, judged, 100)
	assert.Greater(t, split, 2, "meters with a shunt inside")
}

// holdLoop goes down a hand's drawing: what the driver gives, less what stands across each
// part, is what the next node has; and where a shunt is, its amps and the coil's are the
// chain's.
func holdLoop(t *testing.T, name string, rows []printed) (split bool) {
	t.Helper()
	const near = 1e-9
	at, chain, shunt, node := math.NaN(), math.NaN(), math.NaN(), math.NaN()
	for _, r := range rows {
		if !math.IsNaN(r.ground) && !strings.Contains(r.name, "rail line") {
			if !math.IsNaN(at) {
				require.InDelta(t, at, r.ground, near, "%s: volts at %q", name, r.name)
			}
			at, node = r.ground, r.ground
		}
		switch {
		case strings.HasPrefix(r.name, "shunt"):
			shunt = r.amp
			assert.False(t, math.IsNaN(shunt), name)
		case math.IsNaN(r.over) || math.IsNaN(r.amp):
		default:
			at -= r.over
			amps := r.amp
			if strings.HasPrefix(r.name, "coil") && !math.IsNaN(shunt) {
				amps, split = amps+shunt, true
			}
			if !math.IsNaN(chain) {
				require.InDelta(t, chain, amps, near, "%s: amps at %q", name, r.name)
			}
			chain = amps
		}
	}
	assert.InDelta(t, at, node, near, "%s: the end", name)
	return split
}

// At the rail line and at the controller the printed amps add up: what comes is what goes.
func TestKirchhoffOfTheSupply(t *testing.T) {
	judged := 0
	for name, b := range modeltest.Every(t, 30) {
		n, f := wired(b, 0.6)
		if !f.Supply.Total.Known || !f.Supply.Carries {
			continue
		}
		judged++
		lines := Draw(n, f, All, false).Lines()
		holdSupply(t, name, lines)
	}
	assert.Greater(t, judged, 20)
}

// last is the number of mA, µA or A that a line ends with, or that stands before words.
func last(t *testing.T, line string) float64 {
	t.Helper()
	fields := strings.Fields(strings.TrimSuffix(line, " its own"))
	if fields[len(fields)-1] == "0" {
		return 0
	}
	x, err := strconv.ParseFloat(fields[len(fields)-2], 64)
	require.NoError(t, err, line)
	return x
}

func holdSupply(t *testing.T, name string, lines []string) {
	t.Helper()
	const near = 1e-9
	rail, takers, chip, pins, cells, direct := math.NaN(), 0.0, math.NaN(), 0.0, math.NaN(), 0.0
	in, back := math.NaN(), 0.0
	onRail, onBoard := false, false
	for _, line := range lines {
		switch {
		case strings.HasPrefix(line, "Hand "):
			onBoard = false
		case strings.HasPrefix(line, "Controller"):
			onBoard, onRail = true, false
		case strings.Contains(line, "●") && strings.Contains(line, " rail line") && !onBoard && math.IsNaN(rail):
			rail, onRail = last(t, line), true
		case onRail && strings.Contains(line, "├──"):
			takers += last(t, line)
		case !onRail && !onBoard && strings.Contains(line, "├──▶"):
			direct += last(t, line)
		case !onRail && strings.Contains(line, "to ground ") && strings.HasPrefix(line, "│"):
			back = last(t, line)
		case !onRail && !onBoard && strings.HasPrefix(line, "│ input"):
			in = last(t, line)
		case !onRail && !onBoard && strings.HasPrefix(line, "│ +"):
			cells = last(t, line)
		case onBoard && strings.Contains(line, "│          supply ├"):
			chip = last(t, line)
		case onBoard && (strings.HasSuffix(line, "its own") || strings.Contains(line, "on average") || strings.Contains(line, "hand ") && strings.HasSuffix(line, "A")):
			pins += last(t, line)
		}
	}
	assert.InDelta(t, rail, takers, near, "%s: at the rail line", name)
	assert.InDelta(t, chip, pins, near, "%s: at the controller", name)
	if !math.IsNaN(in) {
		assert.InDelta(t, in, rail+back, near, "%s: at the converter", name)
	} else {
		in = rail
	}
	assert.InDelta(t, cells, in+direct, near, "%s: at the cells", name)
}

// Hostile titles and names are text in the SVG, and nothing else.
func TestSVGIsSound(t *testing.T) {
	for name, sound := range modeltest.Every(t, 30) {
		b := new(model.Build)
		*b = *sound
		b.Title = "<script>alert('&\"')</script>]]>\x1b[31m\u202e\x00 title"
		n, f := wired(b, 0.5)
		svg := Draw(n, f, All, false).SVG()
		assert.Equal(t, svg, Draw(n, f, All, false).SVG(), "the same bytes")
		decoder := xml.NewDecoder(strings.NewReader(svg))
		for {
			token, err := decoder.Token()
			if err == io.EOF {
				break
			}
			require.NoError(t, err, name)
			if start, is := token.(xml.StartElement); is {
				assert.Contains(t, []string{"svg", "title", "rect", "g", "path", "text"}, start.Name.Local, name)
			}
		}
		assert.NotContains(t, svg, "\x1b")
	}
}

// The list has a row for each connection, as text and as CSV.
func TestListAndCSV(t *testing.T) {
	for name, b := range modeltest.Every(t, 30) {
		n, _ := wired(b, 0)
		assert.Equal(t, len(n.Connections), strings.Count(List(n, "", false), " [ ] "), name)
		assert.Equal(t, len(n.Connections)+1, strings.Count(CSV(n, ""), "\n"), name)
	}
}
