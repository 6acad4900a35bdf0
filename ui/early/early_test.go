package early_test

import (
	"errors"
	"io"
	"os"
	"os/exec"
	"testing"

	_ "github.com/charmbracelet/bubbletea" // its init is what this test is about
	"github.com/creack/pty"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	_ "example.com/needlewright/ui/early"
)

const child = "NEEDLEWRIGHT_EARLY_CHILD"

func TestMain(m *testing.M) {
	if os.Getenv(child) != "" {
		os.Stdout.WriteString("started") // all inits are done
		os.Exit(0)
	}
	os.Exit(m.Run())
}

// A program with Bubble Tea and this package, on a terminal that never
// answers, must have asked nothing, for it would wait 5 s for the answer (measured
// with Bubble Tea 1.3.10): "started" is the first thing the terminal sees.
func TestStartAsksTheTerminalNothing(t *testing.T) {
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), child+"=1", "TERM=xterm-256color", "CI=", "NO_COLOR=")
	tty, err := pty.Start(cmd)
	if errors.Is(err, pty.ErrUnsupported) {
		t.Skip("no pseudo-terminals on this system")
	}
	require.NoError(t, err)
	defer tty.Close()
	out, _ := io.ReadAll(tty) // ends in an error when the other side closes
	require.NoError(t, cmd.Wait())

	assert.Equal(t, "started", string(out))
}
