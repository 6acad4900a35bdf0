package ui

import (
	"fmt"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"

	"example.com/needlewright/ui/uitest"
)

// Files with more problems than anyone can mend open and take keys like any other,
// in no more than ten seconds for what takes a tenth of one; the first problem is
// said.
func TestManyProblemsDoNotHang(t *testing.T) {
	build := exampleText(t, "reading-room")
	var keys, lamps strings.Builder
	for i := range 20_000 {
		fmt.Fprintf(&keys, "key%d = 1\n", i)
		fmt.Fprintf(&lamps, "[[lamp]]\nname = \"l%d\"\n", i)
	}
	for name, text := range map[string]string{
		"unknown keys":  keys.String() + build,
		"one key":       strings.Repeat("format = 1\n", 20_000) + build,
		"dotted header": build + "[" + strings.Repeat("a.", 100_000) + "a]\n",
		"lamps":         build + lamps.String(),
		"hands":         build + strings.Repeat("[[hand]]\n", 20_000),
	} {
		t.Run(name, func(t *testing.T) {
			begun := time.Now()
			a := New(Options{Text: text, At: teatime})
			a.Update(tea.WindowSizeMsg{Width: 80, Height: 24})
			for _, key := range []string{"down", "up", "1", "ctrl+z", "ctrl+g", "tab"} {
				a.Update(uitest.Key(key))
				assert.NotEmpty(t, a.Plain())
			}
			assert.True(t, a.session.Stale())
			assert.LessOrEqual(t, len(a.session.Doc.Problems), 250)
			assert.Less(t, time.Since(begun), 10*time.Second)
		})
	}
}
