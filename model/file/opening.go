package file

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// A File is a build's file as it is opened, and the work that was found of it.
type File struct {
	Path, Text string
	Stamp      Stamp
	Fresh      bool   // there is no file at the path yet
	Found      []Copy // unsaved work that earlier runs left, the newest first
	Warning    string // of something else that was found; "" for nothing
}

// OpenFile reads a build's file and looks for unsaved work on it in copies, the
// folder of recovery copies, "" for none. Where there is no file yet, or no more,
// the text is empty. It is an error where the file cannot be read, as with
// ReadFile, or neither it nor its folder is there nor any work on it.
func OpenFile(path, copies string) (File, error) {
	f := File{Path: path}
	var err, warning error
	f.Text, f.Stamp, err = ReadFile(path)
	if copies != "" {
		r := RecoveryFor(copies, path)
		f.Found, warning = r.Offer(f.Text)
		if warning != nil {
			f.Warning = warning.Error()
		}
		if pid, ok := r.Other(); ok {
			f.Warning = fmt.Sprintf("Another needlewright (process %d) has unsaved changes to this file.", pid)
		}
	}
	f.Fresh = errors.Is(err, fs.ErrNotExist)
	switch {
	case f.Fresh && (len(f.Found) > 0 || hasFolder(path)):
		err = nil
	case err != nil && len(f.Found) > 0:
		err = fmt.Errorf("%w; your unsaved work on it is kept: start needlewright without a file to take it up", err)
	}
	return f, err
}

// hasFolder says whether a file can be made at a path, as far as its folder goes.
func hasFolder(path string) bool {
	target, err := followed(path)
	if err != nil {
		return false
	}
	info, err := os.Stat(filepath.Dir(target))
	return err == nil && info.IsDir()
}
