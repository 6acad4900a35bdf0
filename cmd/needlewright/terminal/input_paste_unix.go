//go:build unix

package terminal

// longestPaste is how much of a paste is read, in bytes. No field takes as much,
// and Bubble Tea reads a paste in a time that grows with the square of it.
const longestPaste = 1 << 18

// What stands before and behind a paste (bracketed paste, xterm).
const pasteStart, pasteEnd = "\x1b[200~", "\x1b[201~"

// A paste follows what is read, from one read to the next.
type paste struct {
	within  bool
	matched int // bytes of the mark that comes next
	taken   int // bytes of this paste
}

// bound takes what is too much of a paste out of b, and returns how many bytes
// are left. The mark behind the paste stays.
func (p *paste) bound(b []byte) int {
	kept := 0
	for _, c := range b {
		mark := pasteStart
		if p.within {
			mark = pasteEnd
			p.taken++
		}
		switch {
		case c == mark[p.matched]:
			p.matched++
		case c == mark[0]:
			p.matched = 1
		default:
			p.matched = 0
		}
		if !p.within || p.matched > 0 || p.taken <= longestPaste {
			b[kept] = c
			kept++
		}
		if p.matched == len(mark) {
			*p = paste{within: !p.within}
		}
	}
	return kept
}
