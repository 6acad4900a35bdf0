package file

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
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

// runs says whether a process other than this one still runs. With our own number
// it was a former one.
func (p process) runs() bool { return p.pid != thisProcess.pid && alive(p.pid) }

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
	if target, err := followed(path); err == nil {
		return target
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
		var b beside
		if b, err = writeBeside(r.file(), wrap(r.path, text), nil, 0o600); err == nil {
			err = moveOver(b.name, r.file())
		}
	}
	if err != nil {
		return fmt.Errorf("no recovery copy of %s can be written (%w): save the build now, and see that %s is a folder with room that you may write in", r.what(), plain(err), r.dir)
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

// pathWithin is the path that a copy's first line tells; the rest is not read.
func pathWithin(file string) (string, error) {
	head, err := headOf(file, 64<<10) // a path has 4 KiB at most, and quotes
	if err != nil {
		return "", unreadable(file, err)
	}
	quoted, err := strconv.QuotedPrefix(strings.TrimPrefix(string(head), opening))
	if err != nil {
		return "", damaged(file)
	}
	path, err := strconv.Unquote(quoted)
	return path, err
}

// sum is a short name for a text.
func sum(text string) string {
	full := sha256.Sum256([]byte(text))
	return fmt.Sprintf("%x", full[:8])
}
