package ui

import (
	"fmt"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/ui/keys"
)

// aPicture is a screen in the README.
var aPicture = regexp.MustCompile("(?s)```text\n.*?```\n")

// The README's key table and screens are the program's own.
func TestReadme(t *testing.T) {
	text, err := os.ReadFile("../README.md")
	require.NoError(t, err)
	readme, want := string(text), pictures(t)
	if *update {
		i := -1
		readme = aPicture.ReplaceAllStringFunc(readme, func(string) string {
			i++
			return want[min(i, len(want)-1)]
		})
		readme = aKeyTable.ReplaceAllLiteralString(readme, keyHead+keyTable())
		require.NoError(t, os.WriteFile("../README.md", []byte(readme), 0o644))
	}
	assert.Equal(t, want, aPicture.FindAllString(readme, -1), "if the change is meant, go test ./ui -update")
	assert.Contains(t, readme, keyHead+keyTable()+"\n")
}

// keyHead stands above the README's table of keys.
const keyHead = "| key | does |\n| --- | --- |\n"

var aKeyTable = regexp.MustCompile(regexp.QuoteMeta(keyHead) + `(\|.*\n)+`)

// pictures are the README's screens, for each use that it tells of.
func pictures(t *testing.T) []string {
	tweaked := open(exampleText(t, "reading-room"), 80, 24)
	focusOn(t, tweaked, "hand.hours.meter.full_scale")
	press(tweaked, "512 uA")
	walked := walking(t, "", 80, 24)
	for _, keys := range storyKeys[:7] {
		tap(walked, keys...)
	}
	tap(walked, "0", "enter", ".316", "enter")
	begun := asked(80, 24)
	press(begun, "enter", "enter", "f5")
	surveyed := surveying(t, 80, 24)
	press(surveyed, looked...)
	for range 4 { // to the second connection
		press(surveyed, bareMeter.reply(t, surveyed.Plain()), "enter")
	}
	judged := asked(80, 24)
	press(judged, "enter", "15 mA", "enter", "15 mA", "enter", "5", "enter", "down", "enter", "ctrl+g")
	bent := atScale(t, strings.Replace(exampleText(t, "net-loft"), `correct = "codes"`, `correct = "none"`, 1), 80, 24)
	press(bent, "f3")
	var all []string
	for _, a := range []*App{tweaked, walked, begun, surveyed, judged, bent} {
		all = append(all, "```text\n"+strings.TrimRight(a.Plain(), "\n")+"\n```\n")
	}
	return all
}

// keyTable is the README's table of keys.
func keyTable() string {
	var b strings.Builder
	keys := keys.New()
	for _, k := range keys.All() {
		fmt.Fprintf(&b, "| %s | %s |\n", k.Help().Key, k.Help().Desc)
	}
	return b.String()
}
