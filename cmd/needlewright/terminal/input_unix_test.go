//go:build unix

package terminal

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Keys as terminals send them: a control sequence is ESC [ … with a last byte of
// 0x40 to 0x7e, a function key ESC O and one byte (ECMA-48 5.4; xterm's PF1 to
// PF4); UTF-8 by RFC 3629. What is whole and what is half follows.
func TestHalf(t *testing.T) {
	for _, whole := range []string{
		"\x1b[B", "\x1b[1;2A", "\x1b[15~", "\x1bOP", "\x1b[<0;10;20M", "é", "µ", "Ω", "😀", "\x1b[200~",
	} {
		assert.False(t, half([]byte(whole)), "%q", whole)
		assert.False(t, half([]byte("ab"+whole)), "%q after letters", whole)
		assert.False(t, half([]byte(whole+"a")), "%q before a letter", whole)
		for i := 1; i < len(whole); i++ {
			assert.True(t, half([]byte(whole[:i])), "%q of %q", whole[:i], whole)
			assert.True(t, half([]byte("ab"+whole[:i])), "%q after letters", whole[:i])
		}
	}
	for _, other := range []string{"a", "\x1ba", "\xff", "\x80\x80\x80\x80\x80", "\r"} { // alt+a; never UTF-8
		assert.False(t, half([]byte(other)), "%q", other)
	}
	assert.False(t, half(nil))
}
