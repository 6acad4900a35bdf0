package model

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode"
)

// A Recovery is where the recovery copy of one build lives while its text and
// its file differ. Each running program has its own: two that have the same
// file open do not write over each other's.
type Recovery struct {
	dir  string
	path string // of the build, absolute, links followed; "" where it has no file yet
	by   process
}

// A process is one run of the program. Its start tells it from a former one
// that had the same number.
type process struct {
	pid   int
	start string
}

var thisProcess = process{os.Getpid(), strconv.FormatInt(time.Now().UnixMilli(), 36)}

// RecoveryFor returns the place of a build's copy in dir, the folder of all such
// copies, which need not be there yet. The path is that of the build's file, ""
// where it has none; one file is one build, by whatever path it is reached.
func RecoveryFor(dir, path string) Recovery {
	if path != "" {
		path = resolved(path)
	}
	return Recovery{dir, path, thisProcess}
}

// resolved is the one path of a file, whether it is there or not.
func resolved(path string) string {
	if absolute, err := filepath.Abs(path); err == nil {
		path = absolute
	}
	if real, err := filepath.EvalSymlinks(path); err == nil {
		return real
	}
	path = pointedAt(path)
	if folder, err := filepath.EvalSymlinks(filepath.Dir(path)); err == nil {
		return filepath.Join(folder, filepath.Base(path))
	}
	return path
}

// copyName is the name of a copy: a part for the reader, the key of the build,
// and the process that wrote it.
var copyName = regexp.MustCompile(`^.*-([0-9a-f]{12}|unnamed)-([0-9]+)-([0-9a-z]+)\.recovery\.toml$`)

// key tells builds apart whose files have the same name.
func (r Recovery) key() string {
	if r.path == "" {
		return "unnamed"
	}
	return sum(r.path)[:12]
}

// file is the path of the copy that this process writes.
func (r Recovery) file() string {
	readable := []rune("build")
	if r.path != "" {
		readable = []rune(strings.TrimSuffix(filepath.Base(r.path), ".toml"))
	}
	readable = readable[:min(len(readable), 40)] // a file's name has at most 255 bytes
	for i, c := range readable {
		if !unicode.IsLetter(c) && !unicode.IsDigit(c) || c == unicode.ReplacementChar {
			readable[i] = '-'
		}
	}
	return filepath.Join(r.dir, fmt.Sprintf("%s-%s-%d-%s.recovery.toml", string(readable), r.key(), r.by.pid, r.by.start))
}

// what names the build in a message.
func (r Recovery) what() string {
	if r.path == "" {
		return "the build without a file"
	}
	return r.path
}

// Write puts a text into the copy, whole or not at all, readable by nobody
// else. Of two calls at a time either text may be the one that stays.
func (r Recovery) Write(text string) error {
	err := os.MkdirAll(r.dir, 0o700)
	if err == nil {
		var beside string
		if beside, _, err = writeBeside(r.file(), wrap(r.path, text), 0o600); err == nil {
			err = moveOver(beside, r.file())
		}
	}
	if err != nil {
		return fmt.Errorf("no recovery copy of %s can be written (%w): save the build now, and see that %s is a folder with room that you may write in", r.what(), err, r.dir)
	}
	return nil
}

// Remove removes the copy that this process wrote, if there is one: for when
// the build was saved, or its changes were given up.
func (r Recovery) Remove() error { return removeCopy(r.file()) }

func removeCopy(file string) error {
	if err := os.Remove(file); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("the recovery copy cannot be removed (%w): delete it yourself, or it is offered again", err)
	}
	return nil
}

// A Copy is a recovery copy that a program left which runs no more.
type Copy struct {
	Text    string
	Written time.Time
	file    string
}

// Remove removes a copy, for when it was turned down, or taken and written
// elsewhere. One that is gone already is no error.
func (c Copy) Remove() error { return removeCopy(c.file) }

// Offer returns the copies of the build that programs left which run no more
// and that differ from the text on disk, the newest first; one that is the same
// is removed. The error, which may come together with copies, says that the
// folder cannot be read, or which copies are damaged: those are left alone.
func (r Recovery) Offer(onDisk string) ([]Copy, error) {
	found, err := r.left()
	var offer []Copy
	for _, c := range found {
		if c.Text == onDisk {
			_ = c.Remove() // if it stays it is as harmless at the next start
			continue
		}
		offer = append(offer, c)
	}
	return offer, err
}

// Stray returns the copies of builds without a file that programs left which
// run no more, the newest first; the error is as with Offer.
func Stray(dir string) ([]Copy, error) { return RecoveryFor(dir, "").left() }

// Other says whether another running program has changes to the same file that
// are not saved, and the number of its process.
func (r Recovery) Other() (pid int, ok bool) {
	if r.path == "" {
		return 0, false // builds without a file have nothing in common
	}
	list, _ := r.list() // Offer tells of the error
	for _, l := range list {
		if l.runs() {
			return l.by.pid, true
		}
	}
	return 0, false
}

// left returns the copies of the build that programs left which run no more,
// the newest first, and what is wrong with others.
func (r Recovery) left() ([]Copy, error) {
	list, err := r.list()
	wrong := []error{err}
	var found []Copy
	for _, l := range list {
		if l.by == r.by || l.runs() {
			continue
		}
		c, err := r.read(l.file)
		if err == nil {
			found = append(found, c)
		} else if !errors.Is(err, fs.ErrNotExist) { // another program may just have removed it
			wrong = append(wrong, err)
		}
	}
	slices.SortStableFunc(found, func(a, b Copy) int { return b.Written.Compare(a.Written) })
	return found, errors.Join(wrong...)
}

// read reads one copy of the build.
func (r Recovery) read(file string) (Copy, error) {
	info, err := os.Stat(file)
	if err != nil {
		return Copy{}, err
	}
	damaged := fmt.Errorf("the recovery copy %s of %s is damaged: look into it with an editor, then delete it", file, r.what())
	if !info.Mode().IsRegular() {
		return Copy{}, damaged
	}
	content, err := os.ReadFile(file)
	if err != nil {
		return Copy{}, fmt.Errorf("the recovery copy of %s cannot be read (%w): see that you may read it", r.what(), err)
	}
	path, text, ok := unwrap(string(content))
	if !ok || path != r.path {
		return Copy{}, damaged
	}
	return Copy{text, info.ModTime(), file}, nil
}

// A listed is a file that has the name of a copy.
type listed struct {
	file string
	by   process
}

// runs says whether the program that wrote the copy still runs. With our own
// number it was a former one.
func (l listed) runs() bool { return l.by.pid != thisProcess.pid && alive(l.by.pid) }

// list returns the files that have the name of a copy of the build.
func (r Recovery) list() ([]listed, error) {
	names, err := os.ReadDir(r.dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, nil
	case err != nil:
		return nil, fmt.Errorf("the folder of recovery copies cannot be read (%w): see that %s is a folder you may read", err, r.dir)
	}
	var list []listed
	for _, n := range names {
		m := copyName.FindStringSubmatch(n.Name())
		if m == nil || m[1] != r.key() {
			continue
		}
		if pid, err := strconv.ParseInt(m[2], 10, 32); err == nil && pid > 0 {
			list = append(list, listed{filepath.Join(r.dir, n.Name()), process{int(pid), m[3]}})
		}
	}
	return list, nil
}

// wrap is the content of a copy: a line that says what it is, of which file, and
// a sum that tells damage, then the text. It is TOML where the text is.
func wrap(path, text string) string {
	return fmt.Sprintf("%s%s, sum %s\n%s", opening, strconv.Quote(path), sum(text), text)
}

const opening = "# recovery copy by needlewright of "

// unwrap undoes wrap; ok is false for everything that wrap cannot have made.
func unwrap(content string) (path, text string, ok bool) {
	line, text, _ := strings.Cut(content, "\n")
	quoted, err := strconv.QuotedPrefix(strings.TrimPrefix(line, opening))
	if err != nil {
		return "", "", false
	}
	path, err = strconv.Unquote(quoted)
	return path, text, err == nil && wrap(path, text) == content
}

// sum is a short name for a text.
func sum(text string) string {
	full := sha256.Sum256([]byte(text))
	return fmt.Sprintf("%x", full[:8])
}
