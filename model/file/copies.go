package file

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"slices"
	"strconv"
	"time"
)

// A Copy is a recovery copy that a program left which runs no more.
type Copy struct {
	Text    string
	Path    string // of the build's file, absolute, links followed; "" where it had none
	Written time.Time
	file    string
}

// Title returns the build's title, "" where its text has none at its top.
func (c Copy) Title() string { return titleIn([]byte(c.Text)) }

// Remove removes a copy, for when it was turned down, or taken and written
// elsewhere. One that is gone already is no error.
func (c Copy) Remove() error { return removeCopy(c.file) }

// mostOffered is how many copies are offered at a time; others are once these
// are dealt with.
const mostOffered = 20

// Offer returns the copies of the build that programs left which run no more
// and that differ from the text on disk, the newest first; one that is the same
// is removed, and so is what a kill has left beside the copies and the build's
// file while they were written. The error, which may come together with copies,
// says that the folder cannot be read, or which copies are damaged: those are
// left alone.
func (r Recovery) Offer(onDisk string) ([]Copy, error) {
	if r.path != "" {
		sweep(filepath.Dir(r.path))
	}
	return left(r.dir, func(l listed) (bool, error) { return l.key == r.key(), nil }, func(c Copy) bool {
		if c.Text != onDisk {
			return true
		}
		_ = c.Remove() // if it stays it is as harmless at the next start
		return false
	})
}

// Stray returns the copies which no start on a file offers, that programs left
// which run no more, the newest first: of builds without a file, and of files
// that are not there or cannot be opened. The error is as with Offer.
func Stray(dir string) ([]Copy, error) {
	return left(dir, func(l listed) (bool, error) {
		path, err := pathWithin(l.file)
		return path == "" || !opens(path), err
	}, func(Copy) bool { return true })
}

// opens says whether a build's file can be opened.
func opens(path string) bool {
	_, _, err := ReadFile(path)
	return err == nil
}

// left returns the copies in a folder that programs left which run no more, of
// those the newest that are wanted by their name and then by their text; and what
// is wrong with others.
func left(dir string, wanted func(listed) (bool, error), taken func(Copy) bool) ([]Copy, error) {
	sweep(dir)
	list, err := copiesIn(dir)
	wrong := []error{err}
	var found []Copy
	for _, l := range list {
		if l.by == thisProcess || l.by.runs() {
			continue
		}
		ok, err := wanted(l)
		var c Copy
		if ok && err == nil {
			c, err = l.read()
		}
		switch {
		case errors.Is(err, fs.ErrNotExist): // another program may just have removed it
		case err != nil:
			wrong = append(wrong, err)
		case ok && taken(c):
			found = append(found, c)
		}
		if len(found) == mostOffered {
			break
		}
	}
	return found, errors.Join(wrong...)
}

// Other says whether another running program has changes to the same file that
// are not saved, and the number of its process.
func (r Recovery) Other() (pid int, ok bool) {
	if r.path == "" {
		return 0, false // builds without a file have nothing in common
	}
	list, _ := copiesIn(r.dir) // Offer tells of the error
	for _, l := range list {
		if l.key == r.key() && l.by.runs() {
			return l.by.pid, true
		}
	}
	return 0, false
}

// A listed is a file that has the name of a copy.
type listed struct {
	file    string
	key     string
	by      process
	written time.Time
}

// copiesIn returns the files of a folder that have the name of a copy, the newest
// first.
func copiesIn(dir string) ([]listed, error) {
	names, err := readFolder(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, nil
	case err != nil:
		return nil, fmt.Errorf("the folder of recovery copies cannot be read (%w): see that %s is a folder you may read", err, dir)
	}
	var list []listed
	for _, n := range names {
		m := copyName.FindStringSubmatch(n.Name())
		if m == nil {
			continue
		}
		info, err := n.Info()
		pid, pidErr := strconv.ParseInt(m[2], 10, 32)
		if cmp.Or(err, pidErr) == nil && pid > 0 {
			list = append(list, listed{filepath.Join(dir, n.Name()), m[1], process{int(pid), m[3]}, info.ModTime()})
		}
	}
	slices.SortStableFunc(list, func(a, b listed) int { return b.written.Compare(a.written) })
	return list, nil
}

// read reads a copy; one that is not whole or not of the build its name tells
// is damaged.
func (l listed) read() (Copy, error) {
	content, _, err := readBounded(l.file, 2*MostBytes) // typing may add to the most a file may hold
	if err != nil {
		return Copy{}, unreadable(l.file, err)
	}
	path, text, ok := unwrap(string(content))
	if !ok || (Recovery{path: path}).key() != l.key {
		return Copy{}, damaged(l.file)
	}
	return Copy{text, path, l.written, l.file}, nil
}

// unreadable says what is wrong with a copy that gave an error.
func unreadable(file string, err error) error {
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return err
	case errors.Is(err, fs.ErrPermission):
		return fmt.Errorf("a recovery copy cannot be read (%w): see that you may read it", err)
	}
	return damaged(file)
}

func damaged(file string) error {
	return fmt.Errorf("the recovery copy %s is damaged: look into it with an editor, then delete it", file)
}
