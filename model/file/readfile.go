package file

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"os"
	"strconv"
	"syscall"
	"time"
	"unicode/utf8"
)

// MostBytes is the most that a build's file may hold: a thousand times what a
// build needs.
const MostBytes = 4 << 20

// readPatience is how long a file may take that gives nothing, such as some of
// /proc.
const readPatience = time.Second

// errTooLarge is what reading wraps where a file holds more than it may.
var errTooLarge = errors.New("too large")

// ReadFile returns the text of a build's file, links followed, and its stamp.
// Whatever stands at the path it neither waits nor fills the memory: it is an
// error where there is nothing (fs.ErrNotExist), what is there is no file, holds
// more than MostBytes, cannot be read or is not UTF-8 text.
func ReadFile(path string) (text string, s Stamp, err error) {
	content, s, err := readBounded(path, MostBytes)
	if err == nil {
		err = needText(path, content)
	}
	if err != nil {
		return "", Stamp{}, err
	}
	return string(content), s, nil
}

// readBounded reads a file of so many bytes at most.
func readBounded(path string, most int64) ([]byte, Stamp, error) {
	file, info, err := openFile(path)
	if err != nil {
		return nil, Stamp{}, err
	}
	defer file.Close()
	content, err := io.ReadAll(io.LimitReader(file, most+1))
	switch size := max(info.Size(), int64(len(content))); { // a file may grow, and in /proc all have none
	case size > most:
		return nil, Stamp{}, fmt.Errorf("%s is %w: it holds %s, a build's file at most %s; give the path of a build", path, errTooLarge, mebibytes(size), mebibytes(most))
	case errors.Is(err, os.ErrDeadlineExceeded) || errors.Is(err, syscall.EAGAIN):
		return nil, Stamp{}, fmt.Errorf("%s gave nothing for %v: give the path of a build, a text file", path, readPatience)
	case err != nil:
		return nil, Stamp{}, err
	}
	return content, Stamp{info.Size(), info.ModTime(), sha256.Sum256(content)}, nil
}

// openFile opens a plain file to read and waits for nothing: it looks before it
// opens, for opening alone does something to a device, and after, for another
// may stand there by then.
func openFile(path string) (*os.File, fs.FileInfo, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, nil, fmt.Errorf("%s: %w", path, plain(err))
	}
	if err := needRegular(path, info); err != nil {
		return nil, nil, err
	}
	file, err := os.OpenFile(path, os.O_RDONLY|syscall.O_NONBLOCK, 0)
	if err != nil {
		return nil, nil, fmt.Errorf("%s: %w", path, plain(err))
	}
	if info, err = file.Stat(); err == nil {
		err = needRegular(path, info)
	}
	if err != nil {
		_ = file.Close()
		return nil, nil, err
	}
	_ = file.SetReadDeadline(time.Now().Add(readPatience)) // files on a disk know no deadline and need none
	return file, info, nil
}

// needRegular refuses what is no plain file.
func needRegular(path string, info fs.FileInfo) error {
	if info.Mode().IsRegular() {
		return nil
	}
	kind := "a device"
	switch mode := info.Mode(); {
	case mode.IsDir():
		kind = "a folder"
	case mode&fs.ModeNamedPipe != 0:
		kind = "a pipe"
	case mode&fs.ModeSocket != 0:
		kind = "a socket"
	}
	return fmt.Errorf("%s is no file but %s: a build is a text file of at most %s; give the path of one", path, kind, mebibytes(MostBytes))
}

// needText refuses what no editor of texts has written.
func needText(path string, content []byte) error {
	wrong, at := "a zero byte", bytes.IndexByte(content, 0)
	if at < 0 {
		wrong, at = "bytes that are not UTF-8", notUTF8(content)
	}
	if at < 0 {
		return nil
	}
	line := 1 + bytes.Count(content[:at], []byte("\n"))
	return fmt.Errorf("line %d of %s holds %s: a build is text; save it as UTF-8 with an editor, or give the path of a build", line, path, wrong)
}

// notUTF8 is where UTF-8 ends, -1 where it does not.
func notUTF8(content []byte) int {
	for at := 0; at < len(content); {
		r, size := utf8.DecodeRune(content[at:])
		if r == utf8.RuneError && size == 1 {
			return at
		}
		at += size
	}
	return -1
}

// mebibytes is a size as it is read, rounded up.
func mebibytes(n int64) string {
	return strconv.FormatFloat(math.Ceil(float64(n)/(1<<20)*10)/10, 'f', -1, 64) + " MiB"
}
