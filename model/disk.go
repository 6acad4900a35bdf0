package model

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/pelletier/go-toml/v2/unstable"
)

// ErrChangedOnDisk is what SaveOver and Stamp.Changed wrap where a file is no
// longer the one that is known.
var ErrChangedOnDisk = errors.New("changed on disk meanwhile")

// A Stamp tells whether a file is still the one that was read or written. The
// zero Stamp stands for a file that is not there yet.
type Stamp struct {
	size     int64
	modified time.Time
	sum      [sha256.Size]byte
}

// StampOf returns the stamp of a file, links followed. Take it before the text
// is read: what changes in between is then noticed. It is an error where there
// is no file (fs.ErrNotExist), it cannot be read, or it is no plain file.
func StampOf(path string) (Stamp, error) {
	info, err := os.Stat(path)
	if err != nil {
		return Stamp{}, err
	}
	if !info.Mode().IsRegular() { // a pipe would wait for ever
		return Stamp{}, fmt.Errorf("%s is no file but a folder or a device: give the path of a file", path)
	}
	file, err := os.Open(path)
	if err != nil {
		return Stamp{}, err
	}
	defer file.Close()
	hash := sha256.New()
	if _, err := io.Copy(hash, file); err != nil {
		return Stamp{}, err
	}
	return Stamp{info.Size(), info.ModTime(), [sha256.Size]byte(hash.Sum(nil))}, nil
}

// Changed says whether a path holds something else than what was stamped. It
// reads the file only where its size or time differ, so that it may be asked
// often. Where the file is gone or cannot be read it is true, with an error
// that says so and what to do.
func (s Stamp) Changed(path string) (bool, error) {
	info, err := os.Stat(path)
	if err == nil && info.Size() == s.size && info.ModTime().Equal(s.modified) {
		return false, nil
	}
	err = s.compare(path)
	if errors.Is(err, ErrChangedOnDisk) && !errors.Is(err, fs.ErrNotExist) {
		return true, nil
	}
	return err != nil, err
}

// compare reads a file and returns nil where it is the one stamped.
func (s Stamp) compare(path string) error {
	now, err := StampOf(path)
	gone, fresh := errors.Is(err, fs.ErrNotExist), s == Stamp{}
	switch {
	case gone && fresh:
		return nil
	case gone:
		return fmt.Errorf("%s is no longer there (%w; %w): save anyway to write it anew", path, ErrChangedOnDisk, fs.ErrNotExist)
	case err != nil:
		return err
	case fresh:
		return fmt.Errorf("%s is already there (%w): save under another name, or save anyway to put yours in its place", path, ErrChangedOnDisk)
	case now.sum != s.sum:
		return fmt.Errorf("%s %w: save under another name, or save anyway to put yours in its place", path, ErrChangedOnDisk)
	}
	return nil
}

// ErrWriteProtected says that a file is not meant to be written over.
var ErrWriteProtected = errors.New("write-protected")

// SaveOver is Save for a file that must still be the one known, or not be there
// where known is the zero Stamp: otherwise it leaves the file as it is and
// returns an error that wraps ErrChangedOnDisk, or ErrWriteProtected where its
// owner may not write it. The content is compared just
// before the rename, when all the slow work is done. It returns the stamp of
// what it wrote, even if another program has written since.
func SaveOver(path, text string, known Stamp) (Stamp, error) {
	target, mode, err := destination(path)
	if err != nil {
		return Stamp{}, err
	}
	if mode&0o200 == 0 {
		return Stamp{}, fmt.Errorf("%s is %w: save under another name, or save anyway to put yours in its place", path, ErrWriteProtected)
	}
	beside, written, err := writeBeside(target, text, mode)
	if err != nil {
		return Stamp{}, err
	}
	if err := known.compare(target); err != nil {
		_ = os.Remove(beside)
		return Stamp{}, err
	}
	if err := moveOver(beside, target); err != nil {
		return Stamp{}, err
	}
	return written, nil
}

// destination returns the file that a path stands for, links followed, and the
// permissions it has or is to have.
func destination(path string) (target string, mode fs.FileMode, err error) {
	target, err = filepath.EvalSymlinks(path)
	if errors.Is(err, fs.ErrNotExist) {
		target, err = pointedAt(path), nil
	}
	mode = 0o644
	if info, err := os.Stat(target); err == nil {
		mode = info.Mode().Perm()
	}
	return target, mode, err
}

// writeBeside writes a text into a new file in the folder of target, down to
// the disk; nothing is left of it after an error.
func writeBeside(target, text string, mode fs.FileMode) (name string, s Stamp, err error) {
	file, err := os.CreateTemp(filepath.Dir(target), "."+filepath.Base(target)+".*")
	if err != nil {
		return "", Stamp{}, err
	}
	_, err = file.WriteString(text)
	err = cmp.Or(err, file.Chmod(mode))
	err = cmp.Or(err, file.Sync())
	info, statErr := file.Stat()
	if err = cmp.Or(err, statErr, file.Close()); err != nil {
		_ = os.Remove(file.Name())
		return "", Stamp{}, err
	}
	return file.Name(), Stamp{info.Size(), info.ModTime(), sha256.Sum256([]byte(text))}, nil
}

// moveOver renames what writeBeside wrote; it is removed where that fails.
func moveOver(beside, target string) error {
	if err := os.Rename(beside, target); err != nil {
		_ = os.Remove(beside)
		return err
	}
	syncFolder(filepath.Dir(target))
	return nil
}

// An Entry is a line of the list from which a build is opened.
type Entry struct {
	Name   string // within its folder; ".." is the folder above
	Folder bool
	Title  string // of a build, as it stands in its text; "" where none is found
}

// ListBuilds returns what a folder has to choose from: ".." where there is a
// folder above, then folders, then TOML files, by name whatever the case. What
// begins with a dot and links to nothing are left out. It is an error where the
// folder cannot be listed.
func ListBuilds(dir string) ([]Entry, error) {
	dir, err := filepath.Abs(dir)
	if err != nil {
		return nil, err
	}
	names, err := os.ReadDir(dir)
	if err != nil {
		return nil, fmt.Errorf("the folder cannot be listed (%w): choose another, or type the path of a file", err)
	}
	var list []Entry
	for _, n := range names {
		info, err := os.Stat(filepath.Join(dir, n.Name())) // a link is what it leads to
		if err != nil || strings.HasPrefix(n.Name(), ".") {
			continue
		}
		e := Entry{Name: n.Name(), Folder: info.IsDir()}
		switch {
		case e.Folder:
		case !info.Mode().IsRegular() || !strings.EqualFold(filepath.Ext(e.Name), ".toml"):
			continue
		default:
			e.Title = titleOf(filepath.Join(dir, e.Name))
		}
		list = append(list, e)
	}
	slices.SortFunc(list, compareEntries)
	if filepath.Dir(dir) != dir {
		list = slices.Insert(list, 0, Entry{Name: "..", Folder: true})
	}
	return list, nil
}

func compareEntries(a, b Entry) int {
	switch {
	case a.Folder && !b.Folder:
		return -1
	case b.Folder && !a.Folder:
		return 1
	}
	return cmp.Or(cmp.Compare(strings.ToLower(a.Name), strings.ToLower(b.Name)), cmp.Compare(a.Name, b.Name))
}

// titleWithin is how far into a file its title is looked for, bytes.
const titleWithin = 64 << 10

// titleOf returns the title of a build's file, "" where none stands above its
// first table or the file cannot be read.
func titleOf(path string) string {
	file, err := os.Open(path)
	if err != nil {
		return ""
	}
	defer file.Close()
	head, err := io.ReadAll(io.LimitReader(file, titleWithin))
	if err != nil {
		return ""
	}
	var p unstable.Parser
	p.Reset(bytes.TrimPrefix(head, byteOrderMark))
	for p.NextExpression() {
		e := p.Expression()
		if e.Kind != unstable.KeyValue {
			return "" // the first table
		}
		if path, _, _ := dotted(e.Key()); path == "title" && e.Value().Kind == unstable.String {
			return string(e.Value().Data)
		}
	}
	return ""
}
