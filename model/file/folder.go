package file

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
)

// ErrThere says that files are there already, which stay.
var ErrThere = errors.New("there already")

// A Named file is what is to be written under a name.
type Named struct{ Name, Text string }

// SaveFolder writes files into a folder, all of them or none: first into one of another name,
// then each is moved. The folder is made where there is none, but not those it stands in. What else
// stands in it stays; a file of the same name stays too, and then none is written, with an
// error that wraps ErrThere, but where over is true.
func SaveFolder(path string, files []Named, over bool) error {
	path = filepath.Clean(path)
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
	case err != nil:
		return err
	case !info.IsDir():
		return fmt.Errorf("%s is a file, not a folder", path)
	}
	fresh := err != nil
	if !fresh && !over {
		for _, f := range files {
			if _, err := os.Lstat(filepath.Join(path, f.Name)); err == nil {
				return fmt.Errorf("%s is %w", filepath.Join(path, f.Name), ErrThere)
			}
		}
	}
	place := path // files are moved on one disk alone, and the folder may be one of its own
	if fresh {
		place = filepath.Dir(path)
	}
	hidden, err := os.MkdirTemp(place, ".needlewright-")
	if err != nil {
		return err
	}
	defer func() { _ = os.RemoveAll(hidden) }()
	made, former := filepath.Join(hidden, "new"), filepath.Join(hidden, "old")
	if err := errors.Join(os.Mkdir(made, 0o777), os.Mkdir(former, 0o777)); err != nil {
		return err
	}
	for _, f := range files {
		if err := writeSynced(filepath.Join(made, f.Name), f.Text); err != nil {
			return err
		}
	}
	syncFolder(made)
	if fresh {
		err = os.Rename(made, path)
	} else {
		err = moveAll(files, made, path, former)
	}
	syncFolder(filepath.Dir(path))
	return err
}

// writeSynced writes a new file down to the disk.
func writeSynced(path, text string) error {
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		return err
	}
	_, err = f.WriteString(text)
	return errors.Join(err, f.Sync(), f.Close())
}

// moveAll moves files into a folder, and what was there under their names into another. Where
// one cannot be moved all is put back.
func moveAll(files []Named, from, to, former string) error {
	var back []func() error
	move := func(name, from, to string) error {
		err := os.Rename(filepath.Join(from, name), filepath.Join(to, name))
		if err == nil {
			back = append(back, func() error { return os.Rename(filepath.Join(to, name), filepath.Join(from, name)) })
		}
		return err
	}
	for _, f := range files {
		err := move(f.Name, to, former)
		if err == nil || errors.Is(err, fs.ErrNotExist) {
			err = move(f.Name, from, to)
		}
		if err != nil {
			for _, undo := range slices.Backward(back) {
				err = errors.Join(err, undo())
			}
			return err
		}
	}
	syncFolder(to)
	return nil
}
