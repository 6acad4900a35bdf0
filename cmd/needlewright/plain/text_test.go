package plain

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// One replacement for each character that is not to be seen.
func TestShown(t *testing.T) {
	for r, want := range map[rune]rune{
		'a': 'a', 'Ω': 'Ω', ' ': ' ', '漢': '漢', '\x00': '�', '\x1b': '�', '\n': '�', '\t': '�', '\x7f': '�', 0x85: '�', 0x9b: '�',
		0x61c: '�', 0x200e: '�', 0x200f: '�', 0x202a: '�', 0x202b: '�', 0x202c: '�', 0x202d: '�', 0x202e: '�',
		0x2066: '�', 0x2067: '�', 0x2068: '�', 0x2069: '�', 0x2028: '�', 0x2029: '�', 0xfeff: '�', 0xe000: '�', 0xe0041: '�',
	} {
		assert.Equal(t, string(want), Shown(string(r)), "%U", r)
	}
	assert.Equal(t, "a�b", Shown("a\x9bb"), "a byte that is no character")
}
