package survey

import (
	"fmt"
	"slices"
)

// Where meters come from, and what tells their kinds apart; the words of the build's file.
var (
	origins = []string{"new", "salvaged", "mains", "high voltage", "vehicle", "military"}
	kinds   = []string{"moving coil", "moving iron", "rectifier", "thermal", "cross coil", "other", "unknown"}
)

// look asks what can be told without connecting anything.
func (d *dialogue) look() *Verdict {
	d.origin = d.choose("origin", "Where does the meter come from?", origins...)
	if slices.Contains([]string{"mains", "high voltage", "vehicle"}, d.origin) {
		d.removed = d.choose("removed", "Is it out of its set, with nothing else on its terminals and no capacitor in its case? What hangs on the set can kill: the set itself is for licensed practice.", "yes", "no", notKnown)
		if d.removed != "yes" {
			return stop("Nothing is connected to a meter that is not out of its set for certain. Taking it out is for licensed practice.")
		}
	}
	if d.glow = d.choose("glow", "Are hands or figures painted so that they glow, or may they once have? The paint may be radium, and its dust is the danger: do not open the case.", "no", "yes", notKnown); d.glow != "no" {
		return stop("The paint may be radium. Keep the case closed, and have it looked at where that is measured.")
	}
	if swing := d.choose("swing", "With no lead and no strap across the terminals, rock it gently: does the needle swing free and come back?", "free", "stuck"); swing != "free" {
		return stop("A needle that does not swing tells nothing, and current would only hurt it. A strap across the terminals damps it: look for one.")
	}
	d.rests = d.ask(&Ask{Kind: "rest", Text: "Nothing connected, tapped: where does the needle rest? A share of the whole scale, from its left end: 0 %, -2 %, 50 %. Where a screw in front sets it, set it on its zero first.", read: func(s string) error {
		v, err := share(s)
		if err == nil && !(v >= -0.2 && v <= 1.2) {
			err = fmt.Errorf("%q is not on the scale; write -20 %% to 120 %%, a share of the whole scale", s)
		}
		d.rest, d.right = v, v >= rightFrom
		if d.right { // places count from there
			d.rest = 1 - v
		}
		return err
	}})
	d.ask(&Ask{Kind: "marked", Text: "What does the dial say at its end, with its unit? 30 V, 10 A; unknown where it says nothing.", read: func(s string) error {
		d.marked = s
		return nil
	}})
	d.kind = d.choose("kind", "What do the sign on the dial and the looks say? A horseshoe is a moving coil, a wavy line under it a rectifier; an uneven scale that is crowded at its start a moving iron.", kinds...)
	return nil
}
