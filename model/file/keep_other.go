//go:build !unix

package file

import (
	"io/fs"
	"os"
)

// links, protected and keep know no owners, attributes and further names here.
func links(fs.FileInfo) uint64 { return 1 }

func protected(_ string, info fs.FileInfo) bool { return info.Mode()&0o200 == 0 }

func keep(*os.File, string, fs.FileInfo) (lost []string) { return nil }
