package model

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
)

// Save writes a text to a file whole or not at all: beside it first, synced,
// then renamed over it. A symbolic link stays one and its target is replaced;
// an existing file keeps its permissions.
func Save(path, text string) (err error) {
	target, err := filepath.EvalSymlinks(path)
	if errors.Is(err, fs.ErrNotExist) {
		target, err = pointedAt(path), nil
	}
	if err != nil {
		return err
	}
	mode := fs.FileMode(0o644)
	if info, err := os.Stat(target); err == nil {
		mode = info.Mode().Perm()
	}
	beside, err := os.CreateTemp(filepath.Dir(target), "."+filepath.Base(target)+".*")
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			_ = beside.Close()
			_ = os.Remove(beside.Name())
		}
	}()
	if _, err = beside.WriteString(text); err != nil {
		return err
	}
	if err = beside.Chmod(mode); err != nil {
		return err
	}
	if err = beside.Sync(); err != nil {
		return err
	}
	if err = beside.Close(); err != nil {
		return err
	}
	if err = os.Rename(beside.Name(), target); err != nil {
		return err
	}
	syncFolder(filepath.Dir(target))
	return nil
}

// pointedAt is the file that a symbolic link names and that is not there yet,
// or the path itself.
func pointedAt(path string) string {
	link, err := os.Readlink(path)
	switch {
	case err != nil:
		return path
	case filepath.IsAbs(link):
		return link
	}
	return filepath.Join(filepath.Dir(path), link)
}

// syncFolder makes the new name last through a power cut, where the system can.
func syncFolder(path string) {
	if folder, err := os.Open(path); err == nil {
		_ = folder.Sync()
		_ = folder.Close()
	}
}
