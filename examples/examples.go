// Package examples holds whole builds in invented scenarios; each file's first
// comment says what it shows.
package examples

import "embed"

// Files are the builds, by name, and the drawer.
//
//go:embed *.toml drawer.csv
var Files embed.FS

// First is the build the program opens with when it is given no file, and Finished one of
// which all the work is done.
const (
	First    = "reading-room.toml"
	Finished = "bakery.toml"
)

// Drawer is the table of meters that may be tried with it.
const Drawer = "drawer.csv"
