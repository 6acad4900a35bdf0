package walk

import (
	"fmt"
	"hash/fnv"
	"strconv"
	"strings"
	"unicode/utf8"

	"example.com/needlewright/model"
	"example.com/needlewright/model/quantity"
)

// text is what a ground is now, as the file keeps it: "coil=640 Ω ±1 %; full_scale=500 µA
// ±1 %".
func (s *site) text(g ground) string { return fitting(s.parts(g)) }

// parts are the readings, values and findings of a ground. They are those of the build, not
// of how the file spells them; what is 0, or a choice as if it were absent, is left out. A clock's
// stage has the fields of all hands and lamps, each with its name.
func (s *site) parts(g ground) (parts []string) {
	for _, point := range g.points {
		if text := s.readingText(point); text != "" {
			parts = append(parts, point+"="+text)
		}
	}
	return append(parts, s.values(g)...)
}

// values are those parts without the readings.
func (s *site) values(g ground) (parts []string) {
	for _, path := range g.paths {
		f := model.Builds.Field(path)
		if f.List() == "hand" && s.hand != noHand {
			parts = s.addTo(parts, last(path), f, s.hand)
			continue
		}
		for i := range f.Of(s.b) {
			parts = s.addTo(parts, f.PathOf(s.b, i), f, i)
		}
	}
	for k := range s.found {
		if f := &s.found[k]; g.findings {
			parts = append(parts, strings.TrimSuffix(f.ID+" "+f.About, " "))
		}
	}
	return parts
}

// readingText is the reading that counts at a test point of the hand, and which of the file's
// it is, so that one that is read again and comes to the same is another; "" without one.
func (s *site) readingText(point string) string {
	i := s.readingAt(s.pointID(point))
	if i < 0 {
		return ""
	}
	number := 0
	for k := range s.b.Readings[:i+1] {
		if s.b.Readings[k].At == s.b.Readings[i].At {
			number++
		}
	}
	if number == 1 {
		return s.b.Readings[i].Value
	}
	return s.b.Readings[i].Value + ", no. " + strconv.Itoa(number)
}

// isBefore says whether the reading that counts at a test point is from before a change of the
// other things that the stage rests on: a part or a value is another now. It counts no more.
func (s *site) isBefore(point string) bool {
	row := s.row()
	if row < 0 {
		return false
	}
	kept := s.b.Walk[row].RestedOn
	was := split(strings.Split(kept, between))
	if was.of[point] == "" || was.of[point] != s.readingText(point) {
		return false
	}
	var parts []string
	for _, p := range s.rests.points {
		if was.of[p] != "" {
			parts = append(parts, p+"="+was.of[p])
		}
	}
	return fitting(append(parts, s.values(s.rests)...)) != kept
}

// addTo adds what a field says, where it says something.
func (s *site) addTo(parts []string, called string, f *model.Field, i int) []string {
	text := f.Text(s.b, i)
	_, measured := f.At(s.b, i).(*quantity.Value)
	if text == "" || !measured && text == f.Absent || f.Number(s.b, i) == 0 {
		return parts
	}
	return append(parts, called+"="+text)
}

const (
	between = "; "
	nothing = "nothing" // what rests on no value
	cut     = "… #"     // before the sum of what does not fit
)

// fitting joins parts. Where they are more than a field takes, as many as fit are followed
// by a sum of all, so that a change of any of them shows.
func fitting(parts []string) string {
	if len(parts) == 0 {
		return nothing
	}
	text := strings.Join(parts, between)
	most := model.Builds.Field("walk.rested_on").Longest()
	if utf8.RuneCountInString(text) <= most {
		return text
	}
	sum := fnv.New64a()
	_, _ = sum.Write([]byte(text)) // it never fails
	end := cut + fmt.Sprintf("%016x", sum.Sum64())
	room, text := most-utf8.RuneCountInString(end), ""
	for _, p := range parts {
		if utf8.RuneCountInString(text+p+between) > room {
			break
		}
		text += p + between
	}
	return text + end
}

// moved says what is otherwise now than in a text that was kept: "coil 640 Ω ±1 % → 650 Ω
// ±1 %".
func moved(was string, now []string) []string {
	old, present := split(strings.Split(was, between)), split(now)
	whole := !strings.Contains(was, cut)
	var all []string
	for _, key := range old.keys {
		if present.of[key] != old.of[key] {
			all = append(all, key+" "+old.of[key]+" → "+model.OrNone(present.of[key]))
		}
	}
	for _, key := range present.keys {
		if _, there := old.of[key]; whole && !there {
			all = append(all, key+" none → "+present.of[key])
		}
	}
	if all == nil {
		return []string{"something it rested on"}
	}
	return all
}

// Parted values, by what they are called.
type parted struct {
	keys []string
	of   map[string]string
}

// split is parts by their names; the sum of what did not fit has none.
func split(parts []string) parted {
	p := parted{of: map[string]string{}}
	for _, part := range parts {
		if key, value, ok := strings.Cut(part, "="); ok {
			p.keys = append(p.keys, key)
			p.of[key] = value
		}
	}
	return p
}

func last(path string) string { return path[strings.LastIndexByte(path, '.')+1:] }
