// Package file reads and saves the files of builds so that nothing is lost: within
// bounds, whole or not at all, with a recovery copy of what is not saved yet.
package file

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"time"
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
	_, now, err := readBounded(path, max(MostBytes, s.size))
	if errors.Is(err, errTooLarge) {
		now, err = Stamp{size: -1}, nil // another file, whatever it holds
	}
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
