package model

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// A comment behind a value goes with what it was of; one in a line of its own, and another
// value of the same line, stay.
func TestSetAnew(t *testing.T) {
	text := "format = 1\n[[hand]]\nname = \"a\"\n[hand.meter]\n# measured in May\ncoil = \"640 Ω\"   # by half deflection\r\nclass = \"2.5 %\"\n"
	d := Open(text)
	f := Builds.Field("hand.meter.coil")
	assert.Equal(t, "format = 1\n[[hand]]\nname = \"a\"\n[hand.meter]\n# measured in May\ncoil = \"100 Ω\"   # assumed\r\nclass = \"2.5 %\"\n", d.SetAnew(f, 0, "100 Ω", "assumed").Text)
	assert.Equal(t, "format = 1\n[[hand]]\nname = \"a\"\n[hand.meter]\n# measured in May\ncoil = \"100 Ω\"\r\nclass = \"2.5 %\"\n", d.SetAnew(f, 0, "100 Ω", "").Text)
	assert.Equal(t, "assumed", d.SetAnew(f, 0, "100 Ω", "assumed").Mark(f, 0))
	class := Builds.Field("hand.meter.class")
	assert.Equal(t, d.SetMarked(class, 0, "1 %", "assumed").Text, d.SetAnew(class, 0, "1 %", "assumed").Text)
	inline := Open("format = 1\n[[hand]]\nname = \"a\"\nmeter = { coil = \"640 Ω\", class = \"1 %\" } # bought\n")
	assert.Equal(t, "format = 1\n[[hand]]\nname = \"a\"\nmeter = { coil = \"100 Ω\", class = \"1 %\" } # bought\n", inline.SetAnew(f, 0, "100 Ω", "assumed").Text)
	last := Builds.Field("hand.meter.sweep")
	assert.Equal(t, d.Set(last, 0, "80°").Text, d.SetAnew(last, 0, "80°", "assumed").Text, "a new key bears no mark")
	broken := Open("[hand\n")
	assert.Equal(t, broken.Text, broken.SetAnew(f, 0, "1 Ω", "").Text)
}
