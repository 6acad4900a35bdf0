package model

import (
	"os"
	"path/filepath"
)

// Save writes a text to a file whole or not at all: beside it first, synced,
// then renamed over it. A symbolic link stays one and its target is replaced;
// an existing file keeps its permissions.
func Save(path, text string) error {
	target, mode, err := destination(path)
	if err != nil {
		return err
	}
	beside, _, err := writeBeside(target, text, mode)
	if err != nil {
		return err
	}
	return moveOver(beside, target)
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
