package file

import (
	"cmp"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"sync/atomic"
	"time"
)

// A beside is a file written to be renamed over another in its folder.
type beside struct {
	name  string
	stamp Stamp
	lost  []string // what it could not be given of the former file
}

// writeBeside writes a text into a new file in the folder of target, down to the
// disk; nothing is left of it after an error. It gets what the former file has
// but for its names; where there is none, the given permissions as far as the
// person's own limits (umask) go.
func writeBeside(target, text string, former fs.FileInfo, fresh fs.FileMode) (b beside, err error) {
	if former != nil {
		fresh = 0o600 // until it has the former owner and permissions
	}
	file, err := createBeside(filepath.Dir(target), fresh)
	if err != nil {
		return b, err
	}
	b.name = file.Name()
	_, err = file.WriteString(text)
	if former != nil && err == nil {
		b.lost = keep(file, target, former)
		err = file.Chmod(former.Mode()) // last: another owner takes some away
	}
	err = cmp.Or(err, file.Sync())
	info, statErr := file.Stat()
	if err = cmp.Or(err, statErr, file.Close()); err != nil {
		_ = os.Remove(b.name)
		return beside{}, err
	}
	b.stamp = stampFor(info, text)
	return b, nil
}

// stampFor is the stamp of a file that holds a text.
func stampFor(info fs.FileInfo, text string) Stamp {
	if info == nil {
		return Stamp{}
	}
	return Stamp{info.Size(), info.ModTime(), sha256.Sum256([]byte(text))}
}

// moveOver renames what writeBeside wrote; it is removed where that fails.
func moveOver(name, target string) error {
	if err := os.Rename(name, target); err != nil {
		_ = os.Remove(name)
		return err
	}
	syncFolder(filepath.Dir(target))
	return nil
}

// syncFolder makes the new name last through a power cut, where the system can.
func syncFolder(path string) {
	if folder, err := os.Open(path); err == nil {
		_ = folder.Sync()
		_ = folder.Close()
	}
}

// besideName is the name of a file that is to be renamed: short, for a target's
// name may have all the 255 bytes there are, and made by nobody else. It names
// the machine and the process, so that what a kill leaves is known for litter.
var besideName = regexp.MustCompile(`^\.needlewright-([0-9a-f]{8})-([1-9][0-9]{0,9})-([0-9a-z]+)-[0-9]+\.tmp$`)

var (
	besides     atomic.Int64
	thisMachine = machine()
)

func machine() string {
	name, _ := os.Hostname() // none is a name too
	return sum(name)[:8]
}

// createBeside creates a file of such a name.
func createBeside(folder string, mode fs.FileMode) (*os.File, error) {
	for {
		name := fmt.Sprintf(".needlewright-%s-%d-%s-%d.tmp", thisMachine, thisProcess.pid, thisProcess.start, besides.Add(1))
		file, err := os.OpenFile(filepath.Join(folder, name), os.O_WRONLY|os.O_CREATE|os.O_EXCL, mode)
		if !errors.Is(err, fs.ErrExist) {
			return file, err
		}
	}
}

// mostNames is how many names of a folder are looked at.
const mostNames = 20_000

// litterAfter is after how long a file to be renamed is litter whoever writes it:
// no saving takes so long.
const litterAfter = 24 * time.Hour

// sweep removes from a folder the files that were to be renamed by processes of
// this machine that run no more, and old ones of any machine. What it cannot
// remove does no harm.
func sweep(folder string) {
	names, _ := readFolder(folder)
	for _, n := range names {
		m := besideName.FindStringSubmatch(n.Name())
		if m == nil || !n.Type().IsRegular() {
			continue
		}
		pid, err := strconv.ParseInt(m[2], 10, 32)
		by := process{int(pid), m[3]}
		if err != nil || m[1] == thisMachine && by == thisProcess {
			continue
		}
		info, err := n.Info()
		ended := m[1] == thisMachine && !by.runs()
		if err == nil && (ended || time.Since(info.ModTime()) > litterAfter) {
			_ = os.Remove(filepath.Join(folder, n.Name()))
		}
	}
}

// readFolder returns what is in a folder, of very many as many as are looked at.
func readFolder(path string) ([]fs.DirEntry, error) {
	folder, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer folder.Close()
	names, err := folder.ReadDir(mostNames)
	if len(names) > 0 || err == io.EOF {
		err = nil
	}
	return names, err
}
