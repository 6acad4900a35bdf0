//go:build !unix

package file

import "os"

// alive says whether a process still runs: Windows finds no other.
func alive(pid int) bool {
	process, err := os.FindProcess(pid)
	if err != nil {
		return false
	}
	_ = process.Release()
	return true
}
