//go:build unix

package terminal

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// A paste is cut at its bound wherever reads end, and nothing outside it is.
func TestPasteIsBounded(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		long := rapid.SampledFrom([]int{0, 1, 600, longestPaste, longestPaste + 1, 2 * longestPaste}).Draw(t, "long")
		inside := rapid.SampledFrom([]string{"x", "\x1b", "\x1b[20", "é\x1b[200~"}).Draw(t, "inside")
		inside = strings.Repeat(inside, long/len(inside))
		before, behind := "ab\x1b[A", "\x1b[200c\x1b[201~d"
		b := []byte(before + pasteStart + inside + pasteEnd + behind)
		var got []byte
		var p paste
		for len(b) > 0 {
			n := min(len(b), rapid.IntRange(1, 70_000).Draw(t, "read"))
			got = append(got, b[:p.bound(b[:n])]...)
			b = b[n:]
		}
		kept := strings.TrimSuffix(strings.TrimPrefix(string(got), before+pasteStart), pasteEnd+behind)
		assert.Equal(t, len(before+pasteStart+pasteEnd+behind), len(got)-len(kept), "all but the paste is whole")
		if len(inside) <= longestPaste {
			assert.Equal(t, inside, kept)
		} else {
			assert.True(t, strings.HasPrefix(kept, inside[:longestPaste]))
		}
		if strings.HasPrefix(inside, "x") {
			assert.LessOrEqual(t, len(kept), longestPaste)
		}
	})
}
