package terminal

import (
	"fmt"
	"io"
	"os"
	"runtime/debug"
	"strings"
	"sync"
	"time"

	"github.com/charmbracelet/x/ansi"
)

// A terminal is where the dashboard is seen. Its goroutine alone writes to it,
// so that one that does not read, as after ctrl+s or on a broken line, holds up
// nobody else. What switches modes waits in its order; of frames only the newest
// waits.
//
// It is the output Bubble Tea gets: what switches modes, which Bubble Tea writes
// as strings, passes; frames, which it writes as bytes, do not.
type terminal struct {
	*os.File // Bubble Tea asks it for its size and settings
	out      io.Writer
	work     chan struct{} // holds one where something may wait
	hurried  chan struct{} // closed when nobody waits for the screen any more
	failed   func()        // called when the goroutine has panicked

	lock     sync.Mutex // of the rest but the last
	before   string     // switches modes before the frame
	frame    string     // the newest; "": none waits
	after    string     // switches modes after the frame
	whole    bool       // the next frame is painted whole
	drains   []chan struct{}
	panicked error
	trace    []byte // of the panic

	paper paper // the goroutine's own
}

// leavingTakes is how long leaving waits for a terminal that takes nothing, at most.
const leavingTakes = 5 * time.Second

// stuck is how long a write takes after which what stands on the screen is not
// relied on.
const stuck = time.Second

// newTerminal returns a terminal and starts its goroutine. What is written goes
// to out, which is the file but in tests.
func newTerminal(file *os.File, out io.Writer) *terminal {
	t := &terminal{File: file, out: out, work: make(chan struct{}, 1), hurried: make(chan struct{})}
	go func() {
		for range t.work {
			for t.put() {
			}
		}
	}()
	return t
}

var _ io.StringWriter = (*terminal)(nil) // how Bubble Tea writes modes

// Write drops what Bubble Tea would draw.
func (t *terminal) Write(b []byte) (int, error) { return len(b), nil }

// WriteString switches modes, when those before are written. Leaving the
// alternate screen waits for it: the terminal is another's then.
func (t *terminal) WriteString(modes string) (int, error) {
	t.queue(modes)
	if modes == ansi.ResetModeAltScreenSaveCursor {
		t.drain()
	}
	return len(modes), nil
}

// queue has modes switched after what waits already.
func (t *terminal) queue(modes string) {
	t.lock.Lock()
	if t.frame == "" {
		t.before += modes
	} else {
		t.after += modes
	}
	t.lock.Unlock()
	t.wake()
}

// show puts a frame in the place of one that still waits. One without a cell is
// not shown: the terminal has no size.
func (t *terminal) show(frame string) {
	if strings.Trim(frame, "\n") == "" {
		return
	}
	t.lock.Lock()
	t.before, t.frame, t.after = t.before+t.after, frame, ""
	t.lock.Unlock()
	t.wake()
}

// repaint has the next frame painted whole.
func (t *terminal) repaint() {
	t.lock.Lock()
	t.whole = true
	t.lock.Unlock()
}

func (t *terminal) wake() {
	select {
	case t.work <- struct{}{}:
	default: // it will look anyway
	}
}

// allOff leaves the alternate screen with all modes as they were.
const allOff = ansi.ResetModeBracketedPaste + ansi.ResetModeMouseButtonEvent + ansi.ResetModeMouseExtSgr +
	ansi.SetModeTextCursorEnable + ansi.ResetModeAltScreenSaveCursor

// drain waits until all is written, but not for ever. Then what the system still
// holds is thrown away, until it takes the rest and the modes once more.
func (t *terminal) drain() {
	select {
	case <-t.drained():
		return
	case <-t.hurried:
	case <-time.After(leavingTakes):
	}
	const tries, pause = 20, 3 * time.Millisecond // a frame may be more than the system holds
	for range tries {
		discard(t.File)
		if t.drainedWithin(pause) {
			break
		}
	}
	t.queue(allOff)
	t.drainedWithin(pause)
}

// drained is closed as soon as nothing waits any more.
func (t *terminal) drained() <-chan struct{} {
	d := make(chan struct{})
	t.lock.Lock()
	t.drains = append(t.drains, d)
	t.lock.Unlock()
	t.wake()
	return d
}

func (t *terminal) drainedWithin(limit time.Duration) bool {
	select {
	case <-t.drained():
		return true
	case <-time.After(limit):
		return false
	}
}

// hurry ends all waiting for the screen. It is called once.
func (t *terminal) hurry() { close(t.hurried) }

// failure tells of a panic of the goroutine; nil where it works.
func (t *terminal) failure() error {
	t.lock.Lock()
	defer t.lock.Unlock()
	_, _ = os.Stderr.Write(t.trace)
	return t.panicked
}

// put writes what waits, and says whether there was anything.
func (t *terminal) put() (more bool) {
	t.lock.Lock()
	before, frame, after, whole := t.before, t.frame, t.after, t.whole
	t.before, t.frame, t.after, t.whole = "", "", "", whole && frame == ""
	if before+frame+after == "" {
		for _, d := range t.drains {
			close(d)
		}
		t.drains = nil
		t.lock.Unlock()
		return false
	}
	broken := t.panicked != nil
	t.lock.Unlock()
	defer t.fail(before + after)

	t.paper.modes(before)
	if frame != "" && !broken {
		t.paper.paint(frame, whole)
	}
	t.paper.modes(after)
	bytes := t.paper.take()
	if len(bytes) == 0 {
		return true
	}
	begun := time.Now()
	_, _ = t.out.Write(bytes) // a terminal that is gone says so by a signal
	if time.Since(begun) > stuck && frame != "" && !whole {
		t.again(frame)
	}
	return true
}

// again has the newest frame painted whole; that is the one just painted unless
// another waits.
func (t *terminal) again(frame string) {
	t.lock.Lock()
	t.whole = true
	if t.frame == "" {
		t.before, t.frame, t.after = t.before+t.after, frame, ""
	}
	t.lock.Unlock()
}

// fail is deferred: it catches a panic, after which no frame is painted any
// more. The modes it cost come again.
func (t *terminal) fail(modes string) {
	r := recover()
	if r == nil {
		return
	}
	t.lock.Lock()
	first := t.panicked == nil
	if first {
		t.panicked, t.trace = fmt.Errorf("painting the screen failed: %v", r), debug.Stack()
		t.before = modes + t.before
		t.paper = paper{}
	}
	t.lock.Unlock()
	if first {
		t.failed()
	}
	t.wake()
}
