package terminal

import (
	"os"

	"golang.org/x/sys/unix"
)

// discard throws away what was written to a terminal and not read yet. A write
// that waits for room there is not woken by that, but by going on after a stop.
func discard(terminal *os.File) {
	fd := int(terminal.Fd())
	_ = unix.IoctlSetInt(fd, unix.TCFLSH, unix.TCOFLUSH)
	_ = unix.IoctlSetInt(fd, unix.TCXONC, unix.TCOOFF)
	_ = unix.IoctlSetInt(fd, unix.TCXONC, unix.TCOON)
}
