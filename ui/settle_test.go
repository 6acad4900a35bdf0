package ui

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model/modeltest"
)

// A value typed bare over one with a tolerance keeps that, and shows both; ±0 drops
// it, one of its own stands, and a title is only text. One undo gives all back.
func TestATypedValueKeepsItsTolerance(t *testing.T) {
	for _, c := range []struct{ path, typed, want string }{
		{"hand.hours.meter.coil", "700", "700 Ω ±1 %"},
		{"hand.hours.meter.coil", "700 ±0", "700 Ω"},
		{"hand.hours.meter.coil", "700 ±3 %", "700 Ω ±3 %"},
		{"hand.hours.meter.coil", "abc", "abc"},
		{"hand.hours.meter.coil", "", ""},
		{"title", "Hall", "Hall"},
	} {
		text := modeltest.With(t, exampleText(t, "reading-room"), "title", "Hall clock ±1")
		a := open(text, 80, 24)
		focusOn(t, a, c.path)
		press(a, "ctrl+u")
		for _, letter := range c.typed {
			press(a, string(letter))
		}
		press(a, "down")
		f, i, ok := a.session.Doc.Find(c.path)
		require.True(t, ok)
		given, _ := a.session.Doc.Given(f, i)
		assert.Equal(t, c.want, given, "%s: %q", c.path, c.typed)
		press(a, "ctrl+z")
		assert.Equal(t, text, a.Text())
	}
}

// What is saved in the middle of a visit stays saved when that ends.
func TestSavingKeepsTheToleranceToo(t *testing.T) {
	a, path := onDisk(t, "")
	press(a, "ctrl+u", "650")
	do(a, "ctrl+s")
	assert.Contains(t, read(t, path), `coil = "650 Ω ±1 %"`)
	assert.Equal(t, "650 Ω ±1 %", typedIn(a))
	press(a, "0") // typing goes on where it was
	assert.Equal(t, "6500 Ω ±1 %", typedIn(a))
	press(a, "backspace", "down")
	assert.False(t, a.Unsaved())
}

// What a text may mean besides is said at the field, and one key makes it that: the
// marking of a part, IEC 60062, and a comma between thousands. Where nothing else can be
// meant, or the field does not take it, nothing is said.
func TestWhatElseIsMeant(t *testing.T) {
	for _, c := range []struct{ path, typed, says, becomes string }{
		{"hand.hours.drive.fixed", "822", "822 is the marking of a part: 8.2 kΩ", "8.2 kΩ"},
		{"hand.hours.drive.fixed", "1,200", "The comma is the decimal sign", "1200 Ω"},
		{"hand.hours.drive.capacitor", "104", "104 is the marking of a part: 0.1 µF", "0.1 µF"},
		{"crystal.capacitor_in", "220", "220 is the marking of a part: 22 pF", "22 pF"},
		{"hand.hours.meter.coil", "1,200", "The comma is the decimal sign", "1200 Ω"},
		{"hand.hours.meter.coil", "822", "", ""},     // no part that is marked
		{"crystal.capacitor_in", "104", "", ""},      // 100 nF is beyond the field
		{"hand.hours.drive.fixed", "822 Ω", "", ""},  // it is said in what
		{"hand.hours.drive.fixed", "1,2000", "", ""}, // no thousands
	} {
		a := open(exampleText(t, "reading-room"), 120, 40)
		focusOn(t, a, c.path)
		press(a, "ctrl+u")
		for _, letter := range c.typed {
			press(a, string(letter))
		}
		typed := typedIn(a)
		require.Equal(t, c.typed, typed)
		if c.says == "" {
			assert.NotContains(t, a.Plain(), "marking of a part", "%s: %q", c.path, c.typed)
			assert.NotContains(t, a.Plain(), "The comma is", "%s: %q", c.path, c.typed)
			continue
		}
		assert.Contains(t, a.Plain(), c.says, "%s: %q", c.path, c.typed)
		press(a, "f3")
		assert.Equal(t, c.becomes, typedIn(a), "%s: %q", c.path, c.typed)
	}
}
