//go:build unix

package file

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"syscall"
)

// alive says whether a process of this person's still runs and may be this
// program: its number can have gone to another since, so that where the system
// tells which program it is, that must have our name.
func alive(pid int) bool {
	if syscall.Kill(pid, 0) != nil {
		return false // also where it is another person's: their copies lie elsewhere
	}
	ours, err := os.Readlink("/proc/self/exe")
	if err != nil {
		return true
	}
	its, _ := os.Readlink(fmt.Sprintf("/proc/%d/exe", pid)) // none: it has ended and nobody took notice
	return program(its) == program(ours)
}

// program is the name of an executable, also of one that was replaced while it ran.
func program(path string) string { return strings.TrimSuffix(filepath.Base(path), " (deleted)") }
