package file

import (
	"bytes"
	"cmp"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/pelletier/go-toml/v2/unstable"

	"example.com/needlewright/model"
)

// An Entry is a line of the list from which a build is opened.
type Entry struct {
	Name   string // within its folder; ".." is the folder above
	Folder bool
	Title  string // of a build, as it stands in its text; "" where none is found
}

const (
	// mostListed is how many entries a list has at most: nobody reads more.
	mostListed = 1000
	// listPatience is how long a list is waited for; titles that come later are
	// left out, and so are entries.
	listPatience = 2 * time.Second
)

// ListBuilds returns what a folder has to choose from: ".." where there is a
// folder above, then folders, then TOML files, by name whatever the case. What
// begins with a dot and links to nothing are left out. Of very many, or where the
// folder is slow, it returns a part, and whole is false. It is an error where the
// folder cannot be listed.
func ListBuilds(dir string) (list []Entry, whole bool, err error) {
	dir, err = filepath.Abs(dir)
	if err != nil {
		return nil, false, err
	}
	list, whole, err = listWithin(dir, titleOf, listPatience)
	if err != nil {
		return nil, false, fmt.Errorf("the folder cannot be listed (%w): choose another, or type the path of a file", err)
	}
	slices.SortFunc(list, compareEntries)
	if filepath.Dir(dir) != dir {
		list = slices.Insert(list, 0, Entry{Name: "..", Folder: true})
	}
	return list, whole, nil
}

// BuildsIn returns the paths of all builds in a folder, in the order of ListBuilds. It is an
// error where the folder cannot be listed whole.
func BuildsIn(folder string) (paths []string, err error) {
	list, whole, err := ListBuilds(folder)
	if err == nil && !whole {
		err = fmt.Errorf("%s holds more than can be listed, or is too slow", folder)
	}
	if err != nil {
		return nil, err
	}
	for _, e := range list {
		if !e.Folder {
			paths = append(paths, filepath.Join(folder, e.Name))
		}
	}
	return paths, nil
}

// A sighting is news of a folder that is being listed: an entry, then, once all
// entries came, their titles.
type sighting struct {
	Entry
	end   bool // of the entries
	whole bool // there are no others
	err   error
}

// listWithin lists a folder as far as it comes in a time, in no order.
func listWithin(dir string, title func(path string) string, patience time.Duration) (list []Entry, whole bool, err error) {
	news, stop := make(chan sighting), make(chan struct{})
	defer close(stop)
	go watch(dir, title, news, stop)
	deadline := time.After(patience)
	at := map[string]int{}
	for {
		select {
		case s, more := <-news:
			switch i, known := at[s.Name]; {
			case !more || s.err != nil:
				return list, whole, s.err
			case s.end:
				whole = s.whole
			case known:
				list[i] = s.Entry
			default:
				at[s.Name] = len(list)
				list = append(list, s.Entry)
			}
		case <-deadline:
			return list, whole, nil
		}
	}
}

// watch tells what it finds in a folder, until it is told to stop.
func watch(dir string, title func(path string) string, news chan<- sighting, stop <-chan struct{}) {
	defer close(news)
	heard := func(s sighting) bool {
		select {
		case news <- s:
			return true
		case <-stop:
			return false
		}
	}
	names, err := readFolder(dir)
	if err != nil {
		heard(sighting{err: err})
		return
	}
	var list []Entry
	for _, n := range inOrder(names) {
		e, ok := entryOf(dir, n)
		if !ok {
			continue
		}
		if len(list) == mostListed || !heard(sighting{Entry: e}) {
			break
		}
		list = append(list, e)
	}
	heard(sighting{end: true, whole: len(list) < mostListed && len(names) < mostNames})
	for _, e := range list {
		if e.Folder {
			continue
		}
		if e.Title = title(filepath.Join(dir, e.Name)); !heard(sighting{Entry: e}) {
			return
		}
	}
}

// inOrder puts the links last, for what they lead to can be slow, and the others
// by their name.
func inOrder(names []fs.DirEntry) []fs.DirEntry {
	isLink := func(n fs.DirEntry) int {
		if n.Type()&fs.ModeSymlink != 0 {
			return 1
		}
		return 0
	}
	slices.SortFunc(names, func(a, b fs.DirEntry) int {
		return cmp.Or(cmp.Compare(isLink(a), isLink(b)), cmp.Compare(a.Name(), b.Name()))
	})
	return names
}

// entryOf is the entry of a name in a folder; false where it has none.
func entryOf(dir string, n fs.DirEntry) (Entry, bool) {
	kind := n.Type()
	if strings.HasPrefix(n.Name(), ".") {
		return Entry{}, false
	}
	if kind&fs.ModeSymlink != 0 { // a link is what it leads to
		info, err := os.Stat(filepath.Join(dir, n.Name()))
		if err != nil {
			return Entry{}, false
		}
		kind = info.Mode()
	}
	e := Entry{Name: n.Name(), Folder: kind.IsDir()}
	return e, e.Folder || kind.IsRegular() && strings.EqualFold(filepath.Ext(e.Name), ".toml")
}

func compareEntries(a, b Entry) int {
	switch {
	case a.Folder && !b.Folder:
		return -1
	case b.Folder && !a.Folder:
		return 1
	}
	return cmp.Or(cmp.Compare(strings.ToLower(a.Name), strings.ToLower(b.Name)), cmp.Compare(a.Name, b.Name))
}

// titleWithin is how far into a file its title is looked for, bytes.
const titleWithin = 64 << 10

// titleOf returns the title of a build's file, "" where none stands above its
// first table or the file cannot be read.
func titleOf(path string) string {
	head, err := headOf(path, titleWithin)
	if err != nil {
		return ""
	}
	return titleIn(head)
}

// headOf reads the first bytes of a plain file.
func headOf(path string, most int64) ([]byte, error) {
	file, _, err := openFile(path)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	return io.ReadAll(io.LimitReader(file, most))
}

// titleIn returns the title above the first table of a text.
func titleIn(text []byte) string {
	var p unstable.Parser
	p.Reset(bytes.TrimPrefix(text, model.ByteOrderMark))
	for p.NextExpression() {
		e := p.Expression()
		if e.Kind != unstable.KeyValue {
			return "" // the first table
		}
		if path, _, _ := model.Dotted(e.Key()); path == "title" && e.Value().Kind == unstable.String {
			return string(e.Value().Data)
		}
	}
	return ""
}
