package ui

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/ui/front"
	"example.com/needlewright/ui/uitest"
)

// The circuit, its connections and its parts are pages of the menu. By hand, of reading-room
// at 16:20: 4:20 of twelve hours is code 240·260/720 = 86.67, so 87; 5 V·87/256 = 1.699 V.
func TestCircuitPages(t *testing.T) {
	for _, page := range []struct{ typed, title, says string }{
		{"circuit, at", "The circuit", "3 × alkaline C"},
		{"connections", "Its connections", "cells' holder, − → ground line"},
		{"parts list", "Its parts", "3 × cell alkaline C"},
	} {
		a := open(exampleText(t, "reading-room"), 80, 24)
		before := a.Text()
		press(a, append(append([]string{"f2"}, strings.Split(page.typed, "")...), "enter")...)
		require.Equal(t, front.Paging, a.front.Mode, page.typed)
		assert.Contains(t, a.Plain(), page.title)
		assert.Contains(t, a.Plain(), page.says)
		press(a, "esc")
		assert.Equal(t, before, a.Text())
	}
	a := open(exampleText(t, "reading-room"), 80, 120)
	a.side.Preview.Seconds = (16*60 + 20) * 60
	press(a, "f2", "c", "i", "r", "c", "u", "i", "t", ",", "enter")
	assert.Contains(t, a.Plain(), "Hand hours at 4:20")
	assert.Contains(t, a.Plain(), "Code 87: the pin is high for 87 of 256 counts.")
	assert.Contains(t, a.Plain(), "1.699 V")
}

// Of a file that cannot be read yet nothing in the menu ends the program: what there is not says
// so.
func TestMenuOfWhatCannotBeRead(t *testing.T) {
	for _, text := range []string{"", "nonsense", "format = 1\n[rail]\nvoltage = \"much\"\n", "[[hand]]\nname = \"hours\"\n"} {
		all := open(text, 80, 24)
		require.NotEmpty(t, all.session.Doc.Problems)
		press(all, "f2")
		for i := range all.front.Prompt.Entries {
			a := open(text, 80, 24)
			press(a, "f2")
			name := a.front.Prompt.Entries[i].Text
			a.front.Prompt.Choose(i)
			require.NotPanics(t, func() { press(a, "enter"); a.Plain() }, "%q: %s", text, name)
			for _, lack := range []struct{ begins, says string }{
				{"Codes", "There are no codes until every value can be read"}, {"Circuit", "There is no circuit until every"},
				{"Connections", "There are no connections until every"}, {"Parts list", "There is no parts list until every"},
			} {
				if strings.HasPrefix(name, lack.begins) {
					assert.Contains(t, a.notice.Text, lack.says, name)
				}
			}
		}
	}
}

// The pages at every size.
func TestGoldenCircuit(t *testing.T) {
	for _, size := range uitest.Sizes {
		a := open(exampleText(t, "reading-room"), size[0], size[1])
		a.side.Preview.Seconds = 18 * 3600
		press(a, "f2", "c", "i", "r", "c", "u", "i", "t", ",", "enter")
		golden(t, fmt.Sprintf("circuit-%dx%d", size[0], size[1]), a.Plain())
		press(a, "end")
		golden(t, fmt.Sprintf("circuit-end-%dx%d", size[0], size[1]), a.Plain())
	}
}

// Connections are ticked one after another; what is ticked is in the file at once, and a start
// later goes on there. Backspace takes one back, and all of them are a yes.
func TestConnectionsAreTicked(t *testing.T) {
	a := walking(t, "", 80, 24)
	for _, keys := range storyKeys[:6] {
		tap(a, keys...)
	}
	assert.Contains(t, oneLine(a), "1 of 17. cells' holder, −")
	tap(a, "enter", "enter", "enter")
	assert.Contains(t, a.Text(), `value = "3 of 17: 1-3"`)
	assert.Contains(t, oneLine(a), "4 of 17. step-up converter, output")
	later := walking(t, a.Text(), 80, 24)
	assert.Contains(t, oneLine(later), "4 of 17. step-up converter, output")
	assert.Contains(t, later.Plain(), "3 of 17")
	tap(later, "up", "backspace")
	assert.Contains(t, later.Text(), `value = "2 of 17: 1-2"`)
	tap(later, "right")
	assert.Contains(t, later.Text(), `value = "2 of 17: 1-2"`, "nothing is lost")
	tap(later, "f6")
	assert.Contains(t, later.Plain(), "The circuit")
	tap(later, "esc")
	for range 15 {
		assert.NotContains(t, later.Text(), "value = \"yes\"\nby = \"builder\"\nrested_on = \"hand.hours.drive.fixed")
		tap(later, "enter")
	}
	assert.Contains(t, later.Text(), "id = \"parts-ticked\"\nvalue = \"yes\"")
	tap(later, "enter")
	assert.Contains(t, later.Plain(), "bring-up")
	tap(later, "ctrl+z", "ctrl+z")
	assert.Contains(t, later.Text(), `value = "16 of 17: 1-16"`)
}
