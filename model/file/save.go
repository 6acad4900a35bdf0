package file

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
)

// ErrWriteProtected says that a file is not meant to be written over.
var ErrWriteProtected = errors.New("write-protected")

// A Saved tells what a saving did.
type Saved struct {
	Stamp Stamp  // of what was written, even if another program has written since
	Note  string // what could not be kept of the former file, and why; "" where all was
}

// Save writes a text to a file whole or not at all, whatever the file held: beside
// it first, synced, then renamed over it. A symbolic link stays one and its
// target is written; an existing file keeps its permissions, owner, group and
// extended attributes. Where a new file could not have them, or the file has
// several names (hard links), or its folder takes no new file, the file itself
// is written, once the text stands in a recovery copy in the folder copies, ""
// for none. It is an error where nothing was saved: the file is then as it was,
// or the error says otherwise and where the text is.
func Save(path, text, copies string) (Saved, error) {
	return save(path, text, copies, func(string, fs.FileInfo) error { return nil })
}

// SaveOver is Save for a file that must still be the one known, or not be there
// where known is the zero Stamp: otherwise it leaves the file as it is and
// returns an error that wraps ErrChangedOnDisk, or ErrWriteProtected where the
// file may not be written. The content is compared just before the file is
// changed, when all the slow work is done.
func SaveOver(path, text string, known Stamp, copies string) (Saved, error) {
	return save(path, text, copies, func(target string, former fs.FileInfo) error {
		if former != nil && protected(target, former) {
			return fmt.Errorf("%s is %w: save under another name, or save anyway to put yours in its place", path, ErrWriteProtected)
		}
		return known.compare(target)
	})
}

func save(path, text, copies string, check func(target string, former fs.FileInfo) error) (Saved, error) {
	target, former, err := destination(path)
	if err != nil {
		return Saved{}, err
	}
	s := saving{target, text, copies, former, func() error { return check(target, former) }}
	if err := s.check(); err != nil {
		return Saved{}, err
	}
	saved, err := s.run()
	if err == nil && len(text) > MostBytes {
		saved.Note = fmt.Sprintf("It has grown beyond %s, more than is opened again: shorten it.", mebibytes(MostBytes))
	}
	return saved, err
}

// destination returns the file that a path stands for, links followed, and what
// is known of it: nil where it is not there yet.
func destination(path string) (target string, former fs.FileInfo, err error) {
	if path == "" {
		return "", nil, errors.New("a path is needed")
	}
	if target, err = followed(path); err != nil {
		return "", nil, err
	}
	former, err = os.Stat(target)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return target, nil, nil
	case err == nil:
		err = needRegular(target, former)
	}
	return target, former, err
}

// A saving is a text on its way into a file.
type saving struct {
	target, text string
	copies       string
	former       fs.FileInfo // nil: there is no file yet
	check        func() error
}

// run puts a new file in the place of the former one, or writes the former one
// where it would lose something otherwise.
func (s *saving) run() (Saved, error) {
	b, err := writeBeside(s.target, s.text, s.former, 0o666)
	defer func() { _ = os.Remove(b.name) }() // not there any more once it was renamed
	if err == nil {
		if err := s.check(); err != nil {
			return Saved{}, err
		}
		if s.former != nil && links(s.former) > 1 {
			b.lost = append(b.lost, "its other names (hard links)")
		}
		if len(b.lost) == 0 {
			err = moveOver(b.name, s.target)
		}
	}
	switch {
	case err == nil && len(b.lost) == 0:
		return Saved{Stamp: b.stamp}, nil
	case err != nil && (s.former == nil || !refused(err)):
		return Saved{}, s.explained(err)
	}
	stamp, begun, inPlaceErr := s.inPlace()
	switch {
	case inPlaceErr == nil:
		return Saved{Stamp: stamp}, nil
	case begun:
		return Saved{}, s.explained(inPlaceErr)
	case err != nil:
		return Saved{}, s.explained(err)
	}
	if err := moveOver(b.name, s.target); err != nil {
		return Saved{}, s.explained(err)
	}
	return Saved{b.stamp, fmt.Sprintf("But %s could not be kept: %v.", strings.Join(b.lost, " and "), inPlaceErr)}, nil
}

// inPlace writes into the file itself. What a kill in the midst leaves of it is
// whole in a recovery copy until all is down on the disk; what an error leaves
// is put right. Where begun is false nothing was done.
func (s *saving) inPlace() (stamp Stamp, begun bool, err error) {
	if s.copies == "" {
		return Stamp{}, false, errors.New("there is no folder for a recovery copy meanwhile")
	}
	file, err := os.OpenFile(s.target, os.O_RDWR|syscall.O_NONBLOCK, 0)
	if err != nil {
		return Stamp{}, false, fmt.Errorf("the file itself cannot be written (%w)", plain(err))
	}
	defer file.Close()
	former, err := io.ReadAll(io.LimitReader(file, MostBytes+1))
	if err == nil && len(former) > MostBytes {
		err = fmt.Errorf("%w to be put back", errTooLarge)
	}
	if err != nil {
		return Stamp{}, false, err
	}
	kept := RecoveryFor(s.copies, s.target)
	kept.by.start += "s" // a copy of its own: the other is the dashboard's
	if err := kept.Write(s.text); err != nil {
		return Stamp{}, false, fmt.Errorf("no recovery copy can be kept meanwhile in %s (%w)", s.copies, plain(err))
	}
	if err = s.check(); err == nil {
		stamp, err = s.rewrite(file, former, kept)
	}
	if err == nil || !errors.Is(err, errCutShort) {
		_ = kept.Remove() // if it stays it is the same as the file, or asked for
	}
	return stamp, true, err
}

// errCutShort says that a file holds neither its former text nor its new one.
var errCutShort = errors.New("cut short while it was written")

// rewrite writes the new text into a file, or the former one again.
func (s *saving) rewrite(file *os.File, former []byte, kept Recovery) (Stamp, error) {
	err := fill(file, []byte(s.text))
	if err == nil {
		info, err := file.Stat()
		return stampFor(info, s.text), err
	}
	if fill(file, former) != nil {
		return Stamp{}, fmt.Errorf("%s was %w (%w): all your work is in %s, and is offered at the next start", s.target, errCutShort, plain(err), kept.file())
	}
	return Stamp{}, err
}

// fill makes bytes all that a file holds, down to the disk.
func fill(file *os.File, content []byte) error {
	_, err := file.WriteAt(content, 0)
	if err == nil {
		err = file.Truncate(int64(len(content)))
	}
	if err == nil {
		err = file.Sync()
	}
	return err
}

// refused says whether a folder takes no new file, or none in this place.
func refused(err error) bool {
	return errors.Is(err, fs.ErrPermission) || errors.Is(err, syscall.EROFS)
}

// explained says in a sentence why a file could not be written.
func (s *saving) explained(err error) error {
	folder := filepath.Dir(s.target)
	cause := plain(err)
	switch {
	case errors.Is(err, errCutShort):
		return err
	case errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("there is no folder %s (%w)", folder, cause)
	case errors.Is(err, syscall.ENOSPC), errors.Is(err, syscall.EDQUOT):
		return fmt.Errorf("there is no room left in the folder %s (%w)", folder, cause)
	case refused(err):
		return fmt.Errorf("nothing may be written in the folder %s (%w)", folder, cause)
	}
	return cause
}

// plain is an error without the paths of the program's own making.
func plain(err error) error {
	var at *fs.PathError
	var link *os.LinkError
	switch {
	case errors.As(err, &at):
		return at.Err
	case errors.As(err, &link):
		return link.Err
	}
	return err
}
