package words

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// list reads a list of testdata, a line a word or several between blanks; # begins a comment.
func list(t *testing.T, name string) map[string]bool {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("testdata", name))
	require.NoError(t, err)
	words := map[string]bool{}
	for _, line := range strings.Split(string(text), "\n") {
		line, _, _ = strings.Cut(line, "#")
		for _, word := range strings.Fields(line) {
			assert.False(t, words[word], "%s stands twice in %s", word, name)
			words[word] = true
		}
	}
	require.NotEmpty(t, words)
	return words
}

// endings that make another form of a plain word.
var endings = []string{"'s", "s", "es", "ed", "d", "ing", "ly"}

// isPlain says whether a word is one of ordinary English, or a name.
func isPlain(word string, lists ...map[string]bool) bool {
	word = strings.ToLower(word)
	if utf8.RuneCountInString(word) == 1 { // a letter of a formula
		return true
	}
	for _, list := range lists {
		if list[word] {
			return true
		}
		for _, ending := range endings {
			if stem, ok := strings.CutSuffix(word, ending); ok && list[stem] {
				return true
			}
		}
	}
	return false
}

// unexplained are the words of a text that are neither explained nor plain.
func unexplained(text string, lists ...map[string]bool) []string {
	var found []string
	for _, p := range parts(text) {
		if !p.known && !isPlain(p.text, lists...) && !slices.Contains(found, p.text) {
			found = append(found, p.text)
		}
	}
	return found
}

const whatToDo = "%s: %q is neither explained nor plain. If it is a word of the trade, write its row in model/words; " +
	"if everybody knows it, put it into model/words/testdata/plain.txt"

// Each word that a screen can show has its row, or is in the list of plain words, which was
// read through. A new word of the trade in a new text fails here until it is explained.
func TestNoWordWithoutItsRow(t *testing.T) {
	plain, names := list(t, "plain.txt"), list(t, "names.txt")
	said := map[string]bool{}
	n := 0
	for _, shown := range shownTexts(t) {
		for _, word := range unexplained(shown.text, plain, names) {
			if low := strings.ToLower(word); !said[low] {
				said[low] = true
				t.Errorf(whatToDo, shown.at, word)
			}
		}
		n++
	}
	t.Logf("%d texts, %d rows, %d plain words, %d names", n, len(All), len(plain), len(names))
	require.Greater(t, n, 2000, "texts are gathered")
	// It fails where it should: words that stand nowhere, of the trade and not.
	assert.Equal(t, []string{"varistor"}, unexplained("Put a varistor across the coil.", plain, names))
}

// What a row says has no word without its row, and is short.
func TestRowsExplainThemselves(t *testing.T) {
	plain, names := list(t, "plain.txt"), list(t, "names.txt")
	for i := range All {
		w := &All[i]
		for _, word := range unexplained(w.Says, plain, names) {
			t.Errorf(whatToDo, "what is said of "+w.Name, word)
		}
		assert.LessOrEqual(t, utf8.RuneCountInString(w.Says), 200, w.Name)
		assert.Regexp(t, `^[A-Z0-9].*\.$`, w.Says, w.Name)
		for _, name := range strings.Split(w.See, ",") {
			if name = strings.TrimSpace(name); name != "" {
				assert.NotNil(t, Find(name), "%s says to see %s", w.Name, name)
				assert.NotEqual(t, w.Name, name)
			}
		}
	}
}

// Every row is of a word that some screen shows.
func TestEveryRowIsUsed(t *testing.T) {
	used := map[*Word]bool{}
	for _, shown := range shownTexts(t) {
		for _, w := range In(shown.text) {
			used[w] = true
		}
	}
	for i := range All {
		assert.True(t, used[&All[i]], "%s stands on no screen", All[i].Name)
	}
}

// A spelling is of one row, and the plain words are none of them.
func TestSpellings(t *testing.T) {
	plain, names := list(t, "plain.txt"), list(t, "names.txt")
	of := map[string]string{}
	for i := range All {
		for _, spelt := range All[i].Forms() {
			if other, is := of[spelt]; is {
				t.Errorf("%q is of %s and of %s", spelt, other, All[i].Name)
			}
			of[spelt] = All[i].Name
			assert.False(t, plain[spelt], "%s is explained and plain", spelt)
			assert.Contains(t, In("a "+spelt+"."), &All[i], spelt)
		}
	}
	for word := range names {
		assert.False(t, plain[word], "%s is a name and plain", word)
	}
}

// Words are found in any form, each once, in the order of the text; a phrase hides its parts.
func TestIn(t *testing.T) {
	for text, want := range map[string]string{
		"Full scale of the coils; the coil's copper.": "full scale, coil, copper",
		"The scale, full of dust":                     "scale",
		"A step-up, a STEP UP, a step up\nboard":      "step-up",
		"10 kΩ ±5 % at 5 V":                           "ohm, volt",
		"A trimmer. A wiper":                          "trimmer, wiper",
		"coil_open":                                   "open circuit",
		"The survey leads through it all":             "survey",
		"One lead off":                                "lead",
		"Led so slowly":                               "",
		"The LEDs are led":                            "LED",
		"":                                            "",
		"The moving iron's scale":                     "moving iron, scale",
	} {
		var names []string
		for _, w := range In(text) {
			names = append(names, w.Name)
		}
		assert.Equal(t, want, strings.Join(names, ", "), text)
	}
	require.Nil(t, Find("varistor"))
	var seen []string
	for _, w := range Find("coil").Seen() {
		seen = append(seen, w.Name)
	}
	assert.Equal(t, []string{"movement", "full scale"}, seen)
}
