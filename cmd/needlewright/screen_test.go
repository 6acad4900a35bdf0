//go:build unix

package main

import (
	"io"
	"os"
	"os/exec"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/charmbracelet/x/vt"
	"github.com/creack/pty"
	"github.com/stretchr/testify/require"
	"golang.org/x/sys/unix"
)

// patienceOfTests is how long a test waits for what must come: many times what
// it takes, for the machine may be busy with something else.
const patienceOfTests = 40 * time.Second

// A screen is the program on a pseudo-terminal, and what a person sees there.
type screen struct {
	t       testing.TB
	command *exec.Cmd
	keys    *os.File // the terminal's side: what is written here was typed
	before  unix.Termios
	after   unix.Termios  // once the program has ended
	gone    chan struct{} // closed when it has
	ended   chan struct{} // closed when it has, and all it wrote was read
	reading sync.Mutex    // held while the terminal reads nothing
	stuck   bool          // it is held so

	lock     sync.Mutex // one for both; the emulator's own gives out live cells
	emulator *vt.Emulator
	written  []byte
}

// A setting says how a screen differs from the usual one.
type setting struct {
	width, height int
	exact         bool // also where they are 0
	env           []string
	mute          bool   // the terminal answers no question
	program       string // "": the usual one
}

// start runs the program with arguments on a terminal, 100 x 30 unless said
// otherwise.
func start(t testing.TB, s setting, args ...string) *screen {
	t.Helper()
	if s.width == 0 && !s.exact {
		s.width, s.height = 100, 30
	}
	keys, tty, err := pty.Open()
	require.NoError(t, err)
	require.NoError(t, pty.Setsize(keys, size(s.width, s.height)))
	if s.program == "" {
		s.program = program
	}
	x := &screen{t: t, command: exec.Command(s.program, args...), keys: keys,
		emulator: vt.NewEmulator(max(1, s.width), max(1, s.height)), gone: make(chan struct{}), ended: make(chan struct{})}
	x.before = termios(t, tty)
	x.command.Env = append([]string{"TERM=xterm-256color", "COLORTERM=truecolor", "LANG=C.UTF-8", "HOME=" + t.TempDir(), "PATH=" + os.Getenv("PATH")}, s.env...)
	x.command.Stdin, x.command.Stdout, x.command.Stderr = tty, tty, tty
	x.command.SysProcAttr = &unix.SysProcAttr{Setsid: true, Setctty: true}
	require.NoError(t, x.command.Start())
	drained := make(chan struct{})
	go x.read(drained)
	go x.answer(s.mute)
	go func() {
		_ = x.command.Wait() // its status is read from ProcessState
		x.after = termios(t, tty)
		close(x.gone)
		_ = tty.Close() // no one holds it any more: read ends
		<-drained
		close(x.ended)
	}()
	t.Cleanup(func() {
		_ = x.command.Process.Kill()
		if x.stuck {
			x.unstick()
		}
		<-x.ended
		_ = keys.Close()
		_ = x.emulator.InputPipe().(io.Closer).Close() // not Emulator.Close, which races with Read
	})
	return x
}

// read brings what the program writes to the screen.
func (x *screen) read(drained chan struct{}) {
	defer close(drained)
	b := make([]byte, 32<<10)
	for {
		n, err := x.keys.Read(b)
		x.reading.Lock()   // waits while the terminal is stuck
		x.reading.Unlock() //nolint:staticcheck // nothing else is to be done meanwhile
		x.lock.Lock()
		x.written = append(x.written, b[:n]...)
		_, _ = x.emulator.Write(b[:n])
		x.lock.Unlock()
		if err != nil {
			return
		}
	}
}

// answer brings what the terminal answers to the program, or nowhere.
func (x *screen) answer(mute bool) {
	b := make([]byte, 4096)
	for {
		n, err := x.emulator.Read(b)
		if n > 0 && !mute {
			_, _ = x.keys.Write(b[:n])
		}
		if err != nil {
			return
		}
	}
}

func size(width, height int) *pty.Winsize {
	return &pty.Winsize{Rows: uint16(height), Cols: uint16(width)}
}

// raw is every byte the program has written.
func (x *screen) raw() string {
	x.lock.Lock()
	defer x.lock.Unlock()
	return string(x.written)
}

// text is what a person sees, without spaces at the ends of lines.
func (x *screen) text() string {
	x.lock.Lock()
	defer x.lock.Unlock()
	lines := make([]string, x.emulator.Height())
	for y := range lines {
		var line strings.Builder
		for column := 0; column < x.emulator.Width(); column++ {
			switch cell := x.emulator.CellAt(column, y); {
			case cell == nil || cell.Width == 1 && cell.Content == "":
				line.WriteByte(' ')
			default: // the right half of a wide character has no content
				line.WriteString(cell.Content)
			}
		}
		lines[y] = strings.TrimRight(line.String(), " ")
	}
	return strings.Join(lines, "\n")
}

// alternate says whether the alternate screen is on.
func (x *screen) alternate() bool {
	x.lock.Lock()
	defer x.lock.Unlock()
	return x.emulator.IsAltScreen()
}

// typed types s as it stands.
func (x *screen) typed(s string) {
	x.t.Helper()
	_, err := x.keys.WriteString(s)
	require.NoError(x.t, err)
}

// waitFor waits until the screen shows s.
func (x *screen) waitFor(s string) {
	x.t.Helper()
	x.waitUntil("the screen shows "+s, func(text string) bool { return strings.Contains(text, s) })
}

// waitUntil waits until what is on the screen holds.
func (x *screen) waitUntil(what string, holds func(text string) bool) {
	x.t.Helper()
	for end := time.Now().Add(patienceOfTests); !holds(x.text()); time.Sleep(2 * time.Millisecond) {
		if time.Now().After(end) {
			x.t.Fatalf("never came: %s; screen:\n%s", what, x.text())
		}
	}
}

// quiet waits until nothing has been written for a while, and gives the screen.
func (x *screen) quiet() string {
	x.t.Helper()
	end := time.Now().Add(patienceOfTests)
	for before := -1; before < len(x.raw()); time.Sleep(80 * time.Millisecond) {
		if time.Now().After(end) {
			x.t.Fatalf("it never stops writing; screen:\n%s", x.text())
		}
		before = len(x.raw())
	}
	return x.text()
}

// resize changes the window's size.
func (x *screen) resize(width, height int) {
	x.t.Helper()
	x.lock.Lock()
	x.emulator.Resize(max(1, width), max(1, height))
	x.lock.Unlock()
	require.NoError(x.t, pty.Setsize(x.keys, size(width, height)))
}

// exit waits for the program to end and gives its status.
func (x *screen) exit() *os.ProcessState {
	x.t.Helper()
	select {
	case <-x.ended:
	case <-time.After(patienceOfTests):
		x.t.Fatalf("the program did not end; screen:\n%s", x.text())
	}
	return x.command.ProcessState
}

// stick has the terminal read nothing, and the program write so much that it
// feels that.
func (x *screen) stick() {
	x.t.Helper()
	x.reading.Lock()
	x.stuck = true
	for range 9 * panes { // back to the one it was
		x.typed(tab) // a form is some thousand bytes; the system holds a few of them
		time.Sleep(5 * time.Millisecond)
	}
}

// unstick has it read again.
func (x *screen) unstick() {
	x.stuck = false
	x.reading.Unlock()
}

// alive says whether the program still runs.
func (x *screen) alive() bool {
	select {
	case <-x.ended:
		return false
	default:
		return true
	}
}
