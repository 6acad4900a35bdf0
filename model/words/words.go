// Package words explains the words of the trade that stand on the screens, each in a sentence
// or two for who has never held a soldering iron. Its tables are meter.go, drive.go,
// crystal.go, supply.go, bench.go, units.go, work.go and safety.go. A test holds that no word
// stands on a screen which is neither here nor in the list of plain English words.
package words

import (
	"regexp"
	"slices"
	"strings"
	"unicode"
)

// All is every word, in the order of the alphabet.
var All = sorted(meterWords, driveWords, crystalWords, supplyWords, benchWords, unitWords, workWords, safetyWords)

// index has the forms of all words by their first part, the longest first.
var index = indexed(All)

func sorted(tables ...[]Word) []Word {
	all := slices.Concat(tables...)
	slices.SortFunc(all, func(a, b Word) int { return strings.Compare(strings.ToLower(a.Name), strings.ToLower(b.Name)) })
	return all
}

// Forms returns a word as it is listed, and its other forms.
func (w *Word) Forms() []string {
	forms := []string{w.Name}
	for _, form := range strings.Split(w.Also, ",") {
		if form = strings.TrimSpace(form); form != "" {
			forms = append(forms, form)
		}
	}
	return forms
}

// Seen returns the words that it says belong to it.
func (w *Word) Seen() []*Word {
	var seen []*Word
	for _, name := range strings.Split(w.See, ",") {
		if at := Find(strings.TrimSpace(name)); at != nil {
			seen = append(seen, at)
		}
	}
	return seen
}

// Find returns the word of a name; nil where there is none.
func Find(name string) *Word {
	if i := slices.IndexFunc(All, func(w Word) bool { return w.Name == name }); i >= 0 {
		return &All[i]
	}
	return nil
}

// In returns the words that a text has, each once, in the order in which they stand there. Of
// a phrase the phrase is meant, not its parts.
func In(text string) []*Word {
	var found []*Word
	for _, p := range parts(text) {
		if p.word != nil && !slices.Contains(found, p.word) {
			found = append(found, p.word)
		}
	}
	return found
}

// plainly are phrases that mean no more than their words, though one of those is of the trade.
var plainly = []string{
	"leads to", "leads through", "leads back", "leads out", "leads deeper", "leads from", "leads nowhere", "at hand", "in hand", "by hand", "hand it in", "hand them in", "hand in",
	"hand the old ones in", "hands the terminal", "who builds it", "ask the regulator", "help and cautions", "help, cautions",
}

// A form is one spelling of a word, by its parts.
type form struct {
	parts []string
	word  *Word
}

// matches says whether the form begins a text's parts.
func (f *form) matches(text []part) bool {
	if len(f.parts) > len(text) {
		return false
	}
	for i, p := range f.parts {
		if i > 0 && !text[i].joined || !isForm(text[i].text, p, i == len(f.parts)-1) {
			return false
		}
	}
	return true
}

// isForm says whether a text is a word's part: of one with a capital exactly, else in letters
// of any size; the last part may have an s more.
func isForm(text, part string, last bool) bool {
	if strings.IndexFunc(part, unicode.IsUpper) < 0 {
		text = strings.ToLower(text)
	}
	return text == part || last && (text == part+"s" || text == part+"es" || text == part+"'s" || text == part+"s'")
}

func indexed(all []Word) map[string][]form {
	forms := map[string][]form{}
	for i := range all {
		for _, spelt := range all[i].Forms() {
			parts := aPart.FindAllString(spelt, -1)
			key := keyOf(parts[0])
			forms[key] = append(forms[key], form{parts, &all[i]})
		}
	}
	for _, spelt := range plainly {
		parts := aPart.FindAllString(spelt, -1)
		key := keyOf(parts[0])
		forms[key] = append(forms[key], form{parts, nil})
	}
	for _, f := range forms {
		slices.SortStableFunc(f, func(a, b form) int { return len(b.parts) - len(a.parts) })
	}
	return forms
}

// keyOf is what a form is looked up by: it leaves the endings open.
func keyOf(part string) string {
	letters := []rune(strings.ToLower(part))
	return string(letters[:min(2, len(letters))])
}

// A part is what stands between blanks and signs in a text, with what it is.
type part struct {
	text   string
	joined bool  // only blanks, a hyphen or an underscore stand before it
	word   *Word // that it is of
	known  bool  // it is of a word, or of a phrase that is plain
}

var (
	aPart  = regexp.MustCompile(`\p{L}[\p{L}\p{Nd}]*(?:['’]\p{L}+)?`)
	aBreak = regexp.MustCompile(`[^\s_-]`)
)

// parts are those of a text.
func parts(text string) []part {
	var all []part
	end := 0
	for _, at := range aPart.FindAllStringIndex(text, -1) {
		p := part{text: strings.ReplaceAll(text[at[0]:at[1]], "’", "'"), joined: !aBreak.MatchString(text[end:at[0]])}
		end = at[1]
		all = append(all, p)
	}
	for i := 0; i < len(all); {
		n := 1
		for _, f := range index[keyOf(all[i].text)] {
			if f.matches(all[i:]) {
				n = len(f.parts)
				for k := range n {
					all[i+k].word, all[i+k].known = f.word, true
				}
				break
			}
		}
		i += n
	}
	return all
}
