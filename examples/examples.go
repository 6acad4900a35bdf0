// Package examples holds whole builds in invented scenarios; each file's first
// comment says what it shows.
package examples

import "embed"

// Files are the builds, by name.
//
//go:embed *.toml
var Files embed.FS

// First is the build the program opens with when it is given no file, and Finished one of
// which all the work is done.
const (
	First    = "reading-room.toml"
	Finished = "bakery.toml"
)
