package ui

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"runtime/debug"
	"strconv"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/file"
	"example.com/needlewright/model/spread"
	"example.com/needlewright/ui/cells"
	"example.com/needlewright/ui/front"
	"example.com/needlewright/ui/session"
	"example.com/needlewright/ui/uitest"
)

// Whatever is typed, pasted, clicked and resized, nothing panics, each frame has
// its size and nothing but text in it, and undo leads back to the first text byte
// for byte, redo forth again. DEVELOPERS.md says how to let it run long.
func TestAnything(t *testing.T) {
	events, seed := fromEnvironment(t, "NEEDLEWRIGHT_EVENTS", 5_000), fromEnvironment(t, "NEEDLEWRIGHT_SEED", 1)
	first := fromEnvironment(t, "NEEDLEWRIGHT_RUN", 0)
	starts, yield := startsOfRandom(t), smallYield(t)
	done, run, began := 0, first, time.Now()
	for ; done < events; run++ {
		r := rand.New(rand.NewPCG(uint64(seed), uint64(run)))
		p := &player{T: t, Rand: r, yield: yield, start: starts[run%len(starts)], seed: seed, run: run}
		done += p.play(min(100+r.IntN(200), events-done))
	}
	t.Logf("%d events in %d runs with seed %d, %.0f s", done, run-first, seed, time.Since(began).Seconds())
}

func fromEnvironment(t *testing.T, name string, otherwise int) int {
	text := os.Getenv(name)
	if text == "" {
		return otherwise
	}
	n, err := strconv.Atoi(text)
	require.NoError(t, err, name)
	return n
}

// startsOfRandom are the dashboards that random events begin with.
func startsOfRandom(t *testing.T) []Options {
	long := strings.Repeat("x", megabyte)
	longTable, problem := model.Set(exampleText(t, "harbour-office"), "hand.hours.meter.table", strings.Repeat(`["1 %", "2 %"], `, megabyte/16))
	require.Nil(t, problem)
	starts := []Options{
		{}, {Fresh: true}, {Text: "format = 1\n[rail]\nvoltage = \"5 V\"\n"}, {Text: "x = = 1"},
		{Text: withTitle(t, long)}, {Text: longTable}, {Text: "title = \"a\"\nnonsense = '" + long + "'\n"}, {Text: "x = = " + long},
	}
	for _, name := range []string{"reading-room", "station-platform", "school-store", "harbour-office"} {
		starts = append(starts, Options{Text: exampleText(t, name)}, Options{Text: exampleText(t, name), ASCII: true, Path: name + ".toml"})
	}
	return append(starts, Options{
		Text: exampleText(t, "reading-room"), RecoveryFolder: "nowhere", // its commands are not run
		Found: []file.Copy{{Text: withTitle(t, "found")}, {Text: withTitle(t, long)}},
	})
}

// smallYield is that of few kits, to be shown.
func smallYield(t *testing.T) *spread.Yield {
	b, problems := model.Read(exampleText(t, "reading-room"))
	require.Empty(t, problems)
	y, err := spread.NewYield(context.Background(), b, 100, 1, nil)
	require.NoError(t, err)
	return y
}

// A player plays one run of random events.
type player struct {
	*testing.T
	*rand.Rand
	*App
	yield     *spread.Yield
	start     Options
	seed, run int
	first     string // the text that undo leads back to
	log       []string
}

func (p *player) play(events int) int {
	p.start.At = teatime
	p.App = New(p.start)
	p.first = p.Text()
	defer func() {
		if r := recover(); r != nil {
			p.fail("%v\n%s", r, debug.Stack())
		}
	}()
	p.send(windowSize(80, 24))
	for range events {
		p.step()
	}
	p.rewind()
	return events
}

// fail says which run went wrong, and what its last events were.
func (p *player) fail(format string, values ...any) {
	p.T.Helper()
	p.T.Fatalf("NEEDLEWRIGHT_SEED=%d NEEDLEWRIGHT_RUN=%d: %s\nthe last of %d events: %s",
		p.seed, p.run, fmt.Sprintf(format, values...), len(p.log), strings.Join(p.log[max(0, len(p.log)-40):], ", "))
}

// send sends a message and looks at the frame.
func (p *player) send(msg tea.Msg) {
	name := fmt.Sprintf("%T %v", msg, msg)
	if k, ok := msg.(tea.KeyMsg); ok {
		name = fmt.Sprintf("%q", k.String())
	}
	p.log = append(p.log, cells.Cut(name, 60))
	p.Update(msg)
	if strings.HasPrefix(p.notice.Text, "Values marked ?") && len(p.session.Undo) == 0 { // a new build took its place
		p.first = p.Text()
	}
	p.look()
}

// look holds a frame to its size, and to text between the colours.
func (p *player) look() {
	frame := p.View()
	rows := strings.Split(frame, "\n")
	if len(rows) != max(1, p.screen.height) {
		p.fail("%d rows in %d x %d", len(rows), p.screen.width, p.screen.height)
	}
	for y, row := range rows {
		want := p.screen.width
		if y == p.screen.height-1 {
			want--
		}
		if got := ansi.StringWidth(row); got != max(0, want) && p.screen.height > 0 {
			p.fail("row %d of %d x %d has %d columns", y, p.screen.width, p.screen.height, got)
		}
	}
	if r, ok := onlyColours(frame); !ok {
		p.fail("%q on the screen", r)
	}
}

// onlyColours says whether there is nothing but text and colours in a frame, and
// what else.
func onlyColours(frame string) (other rune, ok bool) {
	for i, r := range frame {
		switch {
		case r == '\n' || cells.IsText(r):
		case r == ansi.ESC && sets(frame[i:]):
		default:
			return r, false
		}
	}
	return 0, true
}

// sets says whether a text begins with a sequence that sets a colour (SGR).
func sets(s string) bool {
	rest, found := strings.CutPrefix(s, "\x1b[")
	return found && strings.HasPrefix(strings.TrimLeft(rest, "0123456789;"), "m")
}

// rewind goes back to the first text by undo, and forth again.
func (p *player) rewind() {
	for p.files.waiting {
		p.answerFiles()
	}
	p.send(windowSize(80, 24))
	for p.front.Mode != front.Editing {
		p.send(uitest.Pressed("esc"))
	}
	if p.survey.IsOpen() {
		p.send(uitest.Pressed("esc"))
	}
	for p.walk.IsOpen() {
		p.send(uitest.Pressed("esc"))
	}
	p.form.Leave()
	last := p.Text()
	if !isLines(last) {
		p.fail("the document holds what is no text: %s", cells.Cut(last, 3000))
	}
	back := len(p.session.Undo)
	for range back {
		p.send(uitest.Pressed("ctrl+z"))
	}
	if len(p.session.Undo) > 0 || p.Text() != p.first {
		p.fail("undo does not lead back to the first text")
	}
	for range back {
		p.send(uitest.Pressed("ctrl+y"))
	}
	if p.Text() != last {
		p.fail("redo does not lead forth to the last text")
	}
}

// isLines says whether a document is lines of text, and every value one line.
func isLines(text string) bool {
	for _, r := range text {
		if r != '\n' && !cells.IsText(r) {
			return false
		}
	}
	return !strings.Contains(strings.ReplaceAll(text, `\\`, ""), `\u`) // how a control character is written
}

// answerFiles brings an answer of what works on files, which is not run.
func (p *player) answerFiles() {
	s := session.Saving{Path: "clock.toml", Text: p.Text()}
	switch p.IntN(8) {
	case 0:
		p.send(session.SavedMsg{Saving: s, Err: []error{session.ErrThere, file.ErrChangedOnDisk, file.ErrWriteProtected, fs.ErrPermission}[p.IntN(4)]})
	case 1:
		p.send(session.OpenedMsg{Err: errors.New("no such\x1b[2J file")})
	case 2:
		text := withTitle(p.T, "another")
		p.send(session.OpenedMsg{File: file.File{Path: "another.toml", Text: text}})
		p.first = text
	case 3:
		p.send(session.ListedMsg{Folder: "a\x1b]0;b\x07", Entries: []file.Entry{{Name: "..", Folder: true}, {Name: "c\u202e.toml", Title: strings.Repeat("x", 100_000)}}})
	case 4:
		p.send(session.ListedMsg{Err: fs.ErrPermission})
	default:
		p.send(session.SavedMsg{Saving: s})
	}
}
