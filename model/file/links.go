package file

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// mostLinks is how many links may lead to one another, as in Linux.
const mostLinks = 40

// followed returns the file that a path stands for, whether it is there or not:
// all links followed, in its folder as in itself. It is an error where its folder
// is not there (fs.ErrNotExist), or the links go round.
func followed(path string) (string, error) {
	at, leads := path, ""
	for range mostLinks {
		found, err := filepath.EvalSymlinks(at)
		if err == nil || !errors.Is(err, fs.ErrNotExist) {
			return found, err
		}
		within, name := filepath.Split(at) // filepath.Dir would take away what stands before ..
		folder, err := filepath.EvalSymlinks(cmp.Or(within, "."))
		if err != nil {
			return "", fmt.Errorf("%sthere is no folder %s (%w)", leads, within, plain(err))
		}
		at = filepath.Join(folder, name)
		link, err := os.Readlink(at)
		if err != nil {
			return at, nil // not there yet
		}
		if at = link; !filepath.IsAbs(link) {
			at = folder + string(filepath.Separator) + link
		}
		leads = path + " is a link to " + at + ", and "
	}
	return "", fmt.Errorf("%s is a link that leads from link to link: give the path of a file", path)
}
