//go:build !unix

package main

import (
	"io"
	"os"
)

// input is the keyboard.
func input() io.Reader { return os.Stdin }
