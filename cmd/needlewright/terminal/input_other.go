//go:build !unix

package terminal

import (
	"io"
	"os"
)

// input is the keyboard.
func input() io.Reader { return os.Stdin }
