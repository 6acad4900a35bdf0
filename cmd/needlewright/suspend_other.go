//go:build !unix

package main

// canSuspend says whether someone can wake us again.
func canSuspend() bool { return false }
