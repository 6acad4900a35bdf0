//go:build unix

package main

import (
	"os"

	"golang.org/x/sys/unix"
)

// canSuspend says whether someone can wake us again: a parent in our session but
// in another process group. Without one the kernel drops the signal that
// suspends, and the program would wait for good.
func canSuspend() bool {
	parent := os.Getppid()
	session, err1 := unix.Getsid(0)
	parentSession, err2 := unix.Getsid(parent)
	parentGroup, err3 := unix.Getpgid(parent)
	return err1 == nil && err2 == nil && err3 == nil && session == parentSession && parentGroup != unix.Getpgrp()
}
