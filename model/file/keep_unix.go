//go:build unix

package file

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"slices"
	"syscall"

	"github.com/pkg/xattr"
	"golang.org/x/sys/unix"
)

// links is how many names a file has.
func links(info fs.FileInfo) uint64 {
	if stat, ok := info.Sys().(*syscall.Stat_t); ok {
		return uint64(stat.Nlink) //nolint:unconvert // it is narrower on other systems
	}
	return 1
}

// protected says whether a file is not meant to be written, by anybody or by
// this person.
func protected(path string, info fs.FileInfo) bool {
	return info.Mode()&0o200 == 0 || errors.Is(unix.Access(path, unix.W_OK), unix.EACCES)
}

// keep gives a new file the owner, group and extended attributes (access lists
// among them) of another, and says what it could not give.
func keep(file *os.File, from string, former fs.FileInfo) (lost []string) {
	if !keepOwner(file, former) {
		lost = append(lost, "its owner and group")
	}
	if !keepAttributes(file, from) {
		lost = append(lost, "its extended attributes")
	}
	return lost
}

func keepOwner(file *os.File, former fs.FileInfo) bool {
	was, known := former.Sys().(*syscall.Stat_t)
	info, err := file.Stat()
	if err != nil || !known {
		return err == nil
	}
	is, known := info.Sys().(*syscall.Stat_t)
	return !known || was.Uid == is.Uid && was.Gid == is.Gid || file.Chown(int(was.Uid), int(was.Gid)) == nil
}

// keepAttributes gives a file the attributes of another and no others.
func keepAttributes(file *os.File, from string) bool {
	want, err := xattr.List(from)
	if err != nil {
		return true // the file system has none
	}
	have, _ := xattr.FList(file)
	for _, name := range want {
		value, err := xattr.Get(from, name)
		if err != nil {
			return false
		}
		if got, err := xattr.FGet(file, name); err == nil && bytes.Equal(got, value) {
			continue
		}
		if xattr.FSet(file, name, value) != nil {
			return false
		}
	}
	for _, name := range have { // a folder can hand its access list on
		if !slices.Contains(want, name) && xattr.FRemove(file, name) != nil {
			return false
		}
	}
	return true
}
