//go:build unix

package main

import (
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// mostMissing is how much of the last typing a kill may cost (the project's own
// limit). Only the long run judges it: on a busy machine keys are late.
const mostMissing = 1200 * time.Millisecond

// A program that types and saves is killed at instants spread over its run, half
// of them just after a saving was asked for. Each time the file is whole, what
// was kept is offered at the next start, and nothing else is left. The long run:
//
//	KILLS=200 SEED=9 go test ./cmd/needlewright -run TestKilledAnytime -v
func TestKilledAnytime(t *testing.T) {
	kills, long := numberFrom("KILLS", 10)
	seed, _ := numberFrom("SEED", 9)
	var lock sync.Mutex
	var sum struct {
		offered, saved, litter int
		missing                time.Duration
	}
	t.Run("kills", func(t *testing.T) {
		for i := range kills {
			t.Run(strconv.Itoa(i), func(t *testing.T) {
				t.Parallel()
				k := newKilled(t, rand.New(rand.NewPCG(uint64(seed), uint64(i))), i)
				k.typeAndDie()
				litter := k.left()
				offered := k.nextStart()
				lock.Lock()
				defer lock.Unlock()
				sum.litter += litter
				sum.missing = max(sum.missing, k.missing())
				if offered {
					sum.offered++
				} else {
					sum.saved++
				}
				if long {
					assert.LessOrEqual(t, k.missing(), mostMissing)
				}
			})
		}
	})
	t.Logf("%d kills, seed %d: %d files whole, %d copies offered, %d needed none, %d left litter until the next start; at most %v of typing missing",
		kills, seed, kills, sum.offered, sum.saved, sum.litter, sum.missing.Round(time.Millisecond))
}

// numberFrom is a number of the environment, or the usual one.
func numberFrom(variable string, usual int) (n int, given bool) {
	if n, err := strconv.Atoi(os.Getenv(variable)); err == nil {
		return n, true
	}
	return usual, false
}

// A killed is a program that is killed while somebody types into it.
type killed struct {
	t      *testing.T
	random *rand.Rand
	usual  setting
	folder string
	file   string
	state  string // the folder of recovery copies
	linked bool   // the file has a second name, and is written in place
	first  string // the file's text at first

	keys   []time.Time  // when each was typed: one that empties the field, then a digit each
	digits string       // typed so far
	saved  map[int]bool // after how many keys a saving was asked for
	died   time.Time
	stands int // how many of the keys the text holds in the end
}

func newKilled(t *testing.T, random *rand.Rand, i int) *killed {
	state := t.TempDir()
	file := build(t)
	k := &killed{t: t, random: random, usual: setting{env: []string{"XDG_STATE_HOME=" + state}}, folder: filepath.Dir(file), file: file,
		state: filepath.Join(state, "needlewright"), linked: i%4 == 3, first: content(t, file), saved: map[int]bool{}}
	if k.linked {
		require.NoError(t, os.Link(file, file+".link"))
	}
	return k
}

// typeAndDie types a key about every 60 ms and saves now and then, until it is
// killed within three seconds.
func (k *killed) typeAndDie() {
	x := start(k.t, k.usual, k.file)
	x.waitFor("Reading-room clock") // the coil has the focus
	begun := time.Now()
	end := begun.Add(time.Duration(k.random.IntN(3000)) * time.Millisecond)
	afterSaving, rarely := k.random.IntN(2) == 0, 40
	if afterSaving {
		rarely = 8
	}
	for len(k.keys) < 45 { // the field takes no more, with unit and tolerance
		key := ctrlU
		if len(k.keys) > 0 {
			key = strconv.Itoa(k.random.IntN(10))
			k.digits += key
		}
		x.typed(key)
		k.keys = append(k.keys, time.Now())
		if k.random.IntN(rarely) == 0 {
			k.saved[len(k.keys)] = true
			x.typed(ctrlS)
			if afterSaving && time.Now().After(end) {
				time.Sleep(time.Duration(k.random.IntN(12_000)) * time.Microsecond)
				break
			}
		}
		pause := time.Duration(25+k.random.IntN(70)) * time.Millisecond
		if !afterSaving && time.Until(end) < pause {
			time.Sleep(time.Until(end))
			break
		}
		time.Sleep(pause)
	}
	require.NoError(k.t, x.command.Process.Kill())
	k.died = time.Now()
	x.exit()
}

// coil is what is typed into the coil's field.
var coil = regexp.MustCompile(`(?m)^coil = "(.*)"`)

// keysIn is how many of the keys a text holds; it must be one that was typed.
func (k *killed) keysIn(text string) int {
	k.t.Helper()
	if text == k.first {
		return 0
	}
	given := ""
	if m := coil.FindStringSubmatch(text); m != nil {
		given, _, _ = strings.Cut(m[1], " ") // a saving puts unit and tolerance behind it
	}
	require.True(k.t, strings.HasPrefix(k.digits, given), "%q was never typed", given)
	if given != "" { // all else is as it was
		require.Equal(k.t, k.first, coil.ReplaceAllLiteralString(text, coil.FindString(k.first)))
	}
	return 1 + len(given)
}

// left looks at what the kill left: the file is whole, as it was at first or as it
// was to be saved once. It says whether there was litter (0 or 1).
func (k *killed) left() (litter int) {
	text := content(k.t, k.file)
	if !k.linked {
		n := k.keysIn(text)
		require.True(k.t, n == 0 || k.saved[n], "the file holds %d keys, which were never saved", n)
	}
	for _, folder := range []string{k.folder, k.state} {
		for _, name := range namesIn(k.t, folder) {
			if strings.HasSuffix(name, ".tmp") {
				litter = 1
			}
		}
	}
	return litter
}

// namesIn lists a folder, which need not be there.
func namesIn(t *testing.T, folder string) (names []string) {
	t.Helper()
	entries, err := os.ReadDir(folder)
	if !os.IsNotExist(err) {
		require.NoError(t, err)
	}
	for _, e := range entries {
		names = append(names, e.Name())
	}
	return names
}

// kept is how many recovery copies differ from the file, and the most keys one of
// them holds.
func (k *killed) kept() (copies, most int) {
	for _, name := range namesIn(k.t, k.state) {
		_, text, _ := strings.Cut(content(k.t, filepath.Join(k.state, name)), "\n")
		if strings.HasSuffix(name, ".recovery.toml") && text != content(k.t, k.file) {
			copies, most = copies+1, max(most, k.keysIn(text))
		}
	}
	return copies, most
}

// nextStart opens the file again: what was kept is offered, taken up and saved,
// and then nothing is left but the file.
func (k *killed) nextStart() (offered bool) {
	copies, most := k.kept()
	x := start(k.t, k.usual, k.file)
	x.waitFor("ctrl+q")
	offered = strings.Contains(x.quiet(), "Unsaved work was found")
	assert.Equal(k.t, copies > 0, offered, "is it offered?")
	for _, name := range append(namesIn(k.t, k.folder), namesIn(k.t, k.state)...) {
		assert.NotContains(k.t, name, ".tmp", "litter")
	}
	if offered {
		x.typed("\r")
		x.waitFor("Taken up")
		x.typed(ctrlS)
		x.waitFor("Saved")
	}
	x.typed(ctrlQ)
	x.exit()
	k.stands = k.keysIn(content(k.t, k.file))
	if offered {
		assert.GreaterOrEqual(k.t, k.stands, most)
	}
	want := []string{filepath.Base(k.file)}
	if k.linked {
		want = append(want, want[0]+".link")
		assert.Equal(k.t, content(k.t, k.file), content(k.t, k.file+".link"), "the link is lost")
	}
	assert.Equal(k.t, want, namesIn(k.t, k.folder))
	assert.Len(k.t, namesIn(k.t, k.state), max(0, copies-1), "another is offered at the next start")
	return offered
}

// missing is how long before the end the first of the keys was typed that are
// gone.
func (k *killed) missing() time.Duration {
	if k.stands >= len(k.keys) {
		return 0
	}
	return k.died.Sub(k.keys[k.stands])
}
