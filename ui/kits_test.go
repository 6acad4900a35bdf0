package ui

import (
	"context"
	"fmt"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/quantity"
	"example.com/needlewright/model/spread"
	"example.com/needlewright/ui/draw"
	"example.com/needlewright/ui/front"
	"example.com/needlewright/ui/notice"
	"example.com/needlewright/ui/uitest"
)

// news runs a command and what it leads to, until nothing more is to come, and
// returns the notices on the way.
func news(a *App, cmd tea.Cmd) []string {
	var said []string
	for cmd != nil {
		_, cmd = a.Update(cmd())
		said = append(said, a.notice.Text)
	}
	return said
}

// The page says what model.NewYield says of the same kits, at every size, and how
// far the making is stands below the form meanwhile.
func TestManyKits(t *testing.T) {
	for _, name := range []string{"reading-room", "station-platform", "school-store"} {
		a := open(exampleText(t, name), 120, 40)
		cmd := press(a, "f9")
		assert.Contains(t, a.Plain(), "0 of 20 000 kits are made; esc ends it")
		said := news(a, cmd)
		require.Greater(t, len(said), 1)
		assert.Contains(t, said[0], "000 of 20 000")
		require.Equal(t, front.Paging, a.front.Mode)

		y, err := spread.NewYield(context.Background(), a.session.Report.Build, kitsMade, kitsSeed, nil)
		require.NoError(t, err)
		page := wholePage(a)
		for i := range y.Hands {
			assert.Contains(t, page, y.Hands[i].Name+" trims up in "+kitsText(y.Hands[i].TrimUp, y.Kits))
			for _, w := range y.Hands[i].Worth() {
				now, half := w.Texts(y.Build)
				assert.Contains(t, page, strings.TrimSpace(w.Field.Label)+", "+now+" → "+half)
			}
		}
		require.NotEmpty(t, y.Results())
		for _, r := range y.Results() {
			assert.Contains(t, page, r.Label+", "+r.In())
			for _, b := range r.Bins {
				low, high := r.Ends(b)
				assert.Regexp(t, ` `+low+` to +`+high+` +`+quantity.Grouped(b.Kits), page)
			}
		}
		for _, size := range [][2]int{{60, 20}, {80, 24}, {200, 60}, {20, 5}} {
			a.Update(windowSize(size[0], size[1]))
			framed(t, a)
		}
		a.Update(windowSize(80, 24))
		press(a, "x")
		assert.Nil(t, press(a, "f9"), "the kits of the same build are kept")
		assert.Equal(t, front.Paging, a.front.Mode)
	}
}

// wholePage is what scrolling through the page shows.
func wholePage(a *App) string {
	var all strings.Builder
	for before := ""; before != a.Plain(); press(a, "pgdown") {
		before = a.Plain()
		all.WriteString(before + "\n")
	}
	return all.String()
}

// The longest bar is as long as its line, others by their share.
func TestPageBars(t *testing.T) {
	a := open(exampleText(t, "reading-room"), 60, 20)
	p := front.Page{Title: "Bars"}
	p.AddBar(draw.Label, "half", 0.5)
	p.AddBar(draw.Label, "all", 1)
	a.front.Open(p)
	lines := splitLines(a.Plain())
	// derived: 56 columns inside, less the text and a blank
	assert.Contains(t, lines[2], "half "+strings.Repeat("█", 25)+"▌")
	assert.Contains(t, lines[3], "all "+strings.Repeat("█", 52)+" │")
}

// Esc ends it, and leaves the field as it is.
func TestKitsAreEnded(t *testing.T) {
	a := open(exampleText(t, "reading-room"), 80, 24)
	focusOn(t, a, "hand.hours.drive.fixed")
	press(a, "alt+up")
	text := a.Text()
	cmd := press(a, "f9")
	_, cmd = a.Update(cmd())
	making := a.kits.made.Running()
	require.NotNil(t, making)
	press(a, "esc")
	assert.Contains(t, a.Plain(), "the kits were not made")
	assert.Nil(t, a.kits.made.Running())
	assert.Equal(t, text, a.Text())
	news(a, cmd)
	assert.Equal(t, front.Editing, a.front.Mode, "what comes later is not heeded")
	press(a, "esc")
	assert.False(t, a.Unsaved(), "and the next esc is the field's again")
}

// An edit ends it: the kits would be of another build.
func TestAnEditEndsTheKits(t *testing.T) {
	a := open(exampleText(t, "reading-room"), 80, 24)
	focusOn(t, a, "hand.hours.drive.fixed")
	begun, ended := make(chan bool), make(chan error, 1)
	a.kits.make = func(ctx context.Context, _ *model.Build, _ int, _ uint64, _ func(int)) (*spread.Yield, error) {
		close(begun)
		<-ctx.Done()
		ended <- ctx.Err()
		return nil, ctx.Err()
	}
	cmd := press(a, "f9")
	message := make(chan tea.Msg)
	go func() { message <- cmd() }()
	<-begun
	press(a, "alt+up")
	assert.Nil(t, a.kits.made.Running())
	require.ErrorIs(t, <-ended, context.Canceled, "nobody goes on making them")
	a.Update(<-message)
	assert.Equal(t, front.Editing, a.front.Mode)
	assert.Nil(t, a.kits.made.Got())
}

// A failure of the program while kits are made comes back as a notice.
func TestKitsThatFail(t *testing.T) {
	a := open(exampleText(t, "reading-room"), 80, 24)
	a.kits.make = func(context.Context, *model.Build, int, uint64, func(int)) (*spread.Yield, error) {
		panic("no kits today")
	}
	news(a, press(a, "f9"))
	assert.Nil(t, a.kits.made.Running())
	assert.Equal(t, notice.Failed, a.notice.Tone)
	assert.Contains(t, a.Plain(), "no kits today")
	assert.NotNil(t, press(a, "f9"), "it can be tried again")
}

// While something else is open, the kits do not get in its way.
func TestKitsWait(t *testing.T) {
	a := open(exampleText(t, "reading-room"), 80, 24)
	cmd := press(a, "f9")
	press(a, "f2")
	news(a, cmd)
	assert.Equal(t, front.Asking, a.front.Mode)
	press(a, "esc", "f9")
	assert.Equal(t, front.Paging, a.front.Mode)
}

// Without a hand, and while the text has problems, it says why there are none.
func TestNoKits(t *testing.T) {
	a := open("format = 1\n[rail]\nvoltage = \"5 V\"\n", 80, 24)
	news(a, press(a, "f9"))
	assert.Contains(t, uitest.Squeezed(a.Plain()), uitest.Squeezed("kits"))
	assert.Equal(t, front.Editing, a.front.Mode)

	a = open(exampleText(t, "reading-room"), 80, 24)
	focusOn(t, a, "hand.hours.meter.coil")
	press(a, "ctrl+u", "abc")
	assert.Nil(t, press(a, "f9"))
	assert.Contains(t, a.Plain(), "No kits can be made until")
}

func TestGrouped(t *testing.T) {
	for n, want := range map[int]string{0: "0", 999: "999", 1000: "1 000", 20_000: "20 000", 1_000_005: "1 000 005"} {
		assert.Equal(t, want, quantity.Grouped(n), fmt.Sprint(n))
	}
}

// What no tolerance moves is said once. Derived: the rate of a crystal that was
// measured is the same in every kit.
func TestKitsAlike(t *testing.T) {
	a := open(exampleText(t, "harbour-office"), 120, 40)
	news(a, press(a, "f9"))
	require.Equal(t, front.Paging, a.front.Mode)
	rate := a.kits.made.Got().Rate
	assert.Contains(t, wholePage(a), rate.Text(rate.Least)+" in every kit.")
	assert.NotContains(t, wholePage(a), rate.Text(rate.Least)+" to "+rate.Text(rate.Most))
}

// When the page comes, how many are made is no news any more.
func TestHowManyAreMadeGoes(t *testing.T) {
	a := open(exampleText(t, "reading-room"), 80, 24)
	news(a, press(a, "f9"))
	press(a, "esc")
	assert.NotContains(t, a.Plain(), "kits are made")
	assert.Contains(t, a.Plain(), "Of the moving coil")
}
