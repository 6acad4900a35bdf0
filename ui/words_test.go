package ui

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model/words"
	"example.com/needlewright/ui/front"
	"example.com/needlewright/ui/uitest"
)

// said is what a page has of a word.
func said(t testing.TB, name string) string {
	t.Helper()
	w := words.Find(name)
	require.NotNil(t, w, name)
	return lineOf(w)
}

// onPage holds the open page to words that it explains, at its top or further down.
func onPage(t testing.TB, a *App, names ...string) {
	t.Helper()
	require.Equal(t, front.Paging, a.front.Mode)
	for _, name := range names {
		assert.Contains(t, a.front.Page.Text(), said(t, name))
	}
}

// F5 at a field explains the words in what stands of it, before the cautions of the whole
// build, and then those of the results and findings beside.
func TestWordsOfAField(t *testing.T) {
	for _, size := range uitest.Sizes {
		a := open(exampleText(t, "reading-room"), size[0], size[1])
		focusOn(t, a, "hand.hours.drive.trimmer")
		was := a.Plain()
		press(a, "f5")
		text := a.front.Page.Text()
		here, further := strings.Index(text, "The words here"), strings.Index(text, "Further cautions for this build")
		require.Less(t, 0, here)
		require.Less(t, here, further)
		assert.Contains(t, text[here:further], said(t, "trimmer"))
		assert.Contains(t, text[further:], said(t, "asbestos"), "of a caution")
		if size[0] > 60 {
			onPage(t, a, "code", "duty", "drift") // beside the form
		}
		for _, w := range words.In(text) {
			assert.LessOrEqual(t, strings.Count(text, lineOf(w)), 1, w.Name)
		}
		press(a, "esc")
		assert.Equal(t, was, a.Plain(), size)
	}
}

// F5 on any page has the words of that page over it; esc goes back to the line where one was.
func TestWordsOfAPage(t *testing.T) {
	a := open(exampleText(t, "reading-room"), 80, 24)
	focusOn(t, a, "hand.hours.meter.coil")
	was := a.Plain()
	press(a, "f5", "pgdown", "down")
	page := a.Plain()
	press(a, "f5")
	assert.Contains(t, a.Plain(), "Words: Help and cautions")
	onPage(t, a, "coil", "ohmmeter")
	press(a, "pgdown", "esc")
	assert.Equal(t, page, a.Plain())
	press(a, "f5", "f5")
	assert.Equal(t, page, a.Plain(), "the same key goes back too")
	press(a, "esc")
	assert.Equal(t, was, a.Plain())

	press(a, "f6", "worst over", "f6", "f5")
	onPage(t, a, "rail", "full scale")
	press(a, "esc")
	assert.Contains(t, a.Plain(), "Why it matters: ", "a working has words too")
	press(a, "esc")
	assert.Contains(t, a.Plain(), "Look into")
}

// F5 at a result of the list explains its words, at a part's choice those; the list stands as
// it stood.
func TestWordsInLists(t *testing.T) {
	for _, size := range uitest.Sizes {
		a := open(exampleText(t, "reading-room"), size[0], size[1])
		press(a, "f6", "ripple", "down")
		was := a.Plain()
		press(a, "f5")
		onPage(t, a, "ripple")
		assert.NotContains(t, a.front.Page.Text(), said(t, "trimmer"))
		press(a, "esc")
		assert.Equal(t, was, a.Plain(), size)
		press(a, "esc")
		focusOn(t, a, "hand.hours.drive.fixed")
		press(a, "f4", "down")
		was = a.Plain()
		press(a, "f5")
		onPage(t, a, "travel", "overload")
		press(a, "esc")
		assert.Equal(t, was, a.Plain(), size)
		press(a, "esc", "ctrl+s", "f5") // a prompt without words of the trade
		assert.Equal(t, front.Paging, a.front.Mode)
		press(a, "esc", "esc")
	}
}

// F5 at a finding that was gone to has it whole, with its words; its advice stands there
// still, to be taken.
func TestWordsOfAFinding(t *testing.T) {
	a := open(exampleText(t, "school-store"), 80, 24)
	press(a, "ctrl+g")
	was := a.Plain()
	require.NotNil(t, a.finder.advised())
	finding := *a.finder.advised()
	press(a, "f5")
	assert.Contains(t, a.front.Page.Text(), finding.Text)
	assert.Contains(t, a.front.Page.Text(), finding.Advice)
	for _, w := range words.In(finding.Text + " " + finding.Advice) {
		onPage(t, a, w.Name)
	}
	press(a, "esc")
	assert.Equal(t, was, a.Plain())
	text := a.Text()
	press(a, "f3")
	assert.NotEqual(t, text, a.Text(), "it can be taken")
}

// At the bench F5 explains what stands of the point and of what it may be, and on the page of
// causes theirs.
func TestWordsOfCauses(t *testing.T) {
	a := atBench(t, exampleText(t, "boathouse"), 80, 24)
	was := a.Plain()
	press(a, "f5")
	onPage(t, a, "shunt", "tapped", "cause")
	press(a, "esc")
	assert.Equal(t, was, a.Plain())
	press(a, "f6")
	causes := a.Plain()
	press(a, "f5")
	onPage(t, a, "shunt", "terminal", "radium")
	press(a, "esc")
	assert.Equal(t, causes, a.Plain())
	press(a, "esc")
	assert.Equal(t, was, a.Plain())
}

// In the walk F5 has the words of the stage first, of all its pages; what is asked follows.
func TestWordsOfAStage(t *testing.T) {
	for _, size := range uitest.Sizes {
		a := walking(t, exampleText(t, "bakery"), size[0], size[1])
		for range 30 {
			if a.notice.Text != "" { // there are no more pages
				break
			}
			was := a.Plain()
			press(a, "f5")
			text := a.front.Page.Text()
			asks := strings.Index(text, "What it asks")
			require.Less(t, 0, asks)
			for _, w := range words.In(a.walk.StageText()) {
				assert.Contains(t, text[:asks], lineOf(w))
			}
			for _, w := range words.In(text) {
				assert.LessOrEqual(t, strings.Count(text, lineOf(w)), 1, w.Name)
			}
			press(a, "esc")
			require.Equal(t, was, a.Plain())
			press(a, "pgup")
		}
	}
}

// The survey, the scale's pane and the questions of a new build have their words too.
func TestWordsElsewhere(t *testing.T) {
	a := surveying(t, 80, 24)
	press(a, "f5")
	onPage(t, a, "survey", "mains")
	a = atScale(t, exampleText(t, "net-loft"), 80, 24)
	press(a, "f5")
	onPage(t, a, "law", "scale", "firmware")
	a = asked(80, 24)
	press(a, "enter", "enter", "f5")
	onPage(t, a, "full scale", "ohmmeter", "shunt")
	a = open(exampleText(t, "reading-room"), 80, 24)
	press(a, "ctrl+r", "f5")
	onPage(t, a, "error budget", "accuracy class")
}
