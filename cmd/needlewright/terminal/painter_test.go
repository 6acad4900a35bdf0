package terminal

import (
	"io"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"github.com/charmbracelet/x/vt"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// A gate is a terminal that takes nothing while it is locked.
type gate struct {
	sync.Mutex
	written strings.Builder
}

func (g *gate) Write(b []byte) (int, error) {
	g.Lock()
	defer g.Unlock()
	return g.written.Write(b)
}

// Whatever comes while the terminal is stuck: all modes are switched, in their
// order; the screen shows the newest frame, as if it had been painted alone; and
// nothing is painted outside the alternate screen.
func TestTheTerminalKeepsItsOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := new(gate)
		s := newTerminal(nil, g)
		defer close(s.work)
		var want []string // modes
		mode := func(m string) {
			want = append(want, m)
			_, err := io.WriteString(s, m) // as Bubble Tea does
			require.NoError(t, err)
		}
		s.show("too early\nfor any")
		mode(ansi.SetModeAltScreenSaveCursor)
		frame, stuck := "", false
		for range rapid.IntRange(0, 20).Draw(t, "steps") {
			switch rapid.IntRange(0, 4).Draw(t, "step") {
			case 0:
				mode("\x1b[?" + strconv.Itoa(3000+len(want)) + "h") // one that stands for nothing
			case 1:
				if !stuck {
					g.Lock()
				}
				stuck = true
			case 2:
				if !stuck && frame != "" {
					<-s.drained()
					g.written.WriteString("\x1b[2;1Hscribble") // by another program
					s.repaint()
					s.show(frame)
				}
			case 3:
				s.show(strings.Repeat("\n", rapid.IntRange(0, 3).Draw(t, "no cells")))
			default:
				if !stuck && rapid.Bool().Draw(t, "slowly") {
					<-s.drained()
				}
				frame = strings.Join(rapid.SliceOfN(rapid.SampledFrom([]string{"  ", "a ", "bc"}), 3, 3).Draw(t, "rows"), "\n") + "\nx "
				s.show(frame)
			}
		}
		if stuck {
			g.Unlock()
		}
		<-s.drained()
		shown := g.written.String()
		assert.Equal(t, screenOf(strings.ReplaceAll(frame, "\n", "\r\n")), screenOf(shown))
		assert.NotContains(t, shown, "early")
		mode(ansi.ResetModeAltScreenSaveCursor)
		s.show("too late\nfor any")
		<-s.drained()
		assert.Equal(t, shown+ansi.ResetModeAltScreenSaveCursor, g.written.String())
		assert.Equal(t, want, regexp.MustCompile(`\x1b\[\?\d+[hl]`).FindAllString(g.written.String(), -1))
		assert.NoError(t, s.failure())
	})
}

// screenOf is what a terminal shows that got these bytes, by an emulator that is
// not ours.
func screenOf(bytes string) string {
	e := vt.NewEmulator(10, 4)
	_, _ = e.Write([]byte(bytes))
	var rows []string
	for _, row := range strings.Split(e.String(), "\n") {
		rows = append(rows, strings.TrimRight(row, " "))
	}
	return strings.TrimRight(strings.Join(rows, "\n"), "\n")
}
