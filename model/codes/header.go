package codes

import (
	_ "embed"
	"fmt"
	"io"
	"math"
	"strings"
	"text/template"
	"unicode"
)

// The header is one file of C99. Names of hands stand behind a prefix of their own kind, so
// that none of them can be a word of C or another of the header's names; what may stand in
// such a name, small letters, digits and hyphens, stays different from name to name.
//
//go:embed header.tmpl
var headerText string

var header = template.Must(template.New("header").Funcs(template.FuncMap{"comment": comment, "plain": plain}).Parse(headerText))

// A headerPin is a pin as the header numbers them.
type headerPin struct {
	Name   string
	Number int
	Lamp   bool
}

// A headerHand is what the header has of a hand.
type headerHand struct {
	*Hand
	ID, Macro, Meter, Drive string
	Table, Formula, IsLow   string
	TopC                    string // of the middle of a bridge
	Last, Seconds, Scale    int
	Jumps                   bool
	Step, Ticks             int64
	Parks                   []headerPark
}

// A headerPark is a step of the bring-up, from position to position.
type headerPark struct {
	From, To int
	Words    string
}

// WriteHeader writes the header.
func (c *Codes) WriteHeader(w io.Writer) error {
	of := struct {
		*Codes
		Rail, CodeType, Ticks    string
		Load                     int64
		Reads                    []int
		Hands                    []headerHand
		Pins                     []headerPin
		TimerLines, SettingLines []string
	}{Codes: c, Rail: c.rail, CodeType: "uint16_t", TimerLines: c.Timer.Lines(), SettingLines: c.Setting.Lines()}
	of.Load = int64(c.Timer.Reload) + c.Timer.Trim.Add
	if of.Ticks = fmt.Sprintf("INT32_C(%d)", 1+c.Timer.Trim.Add); c.Timer.Trim.Add < -1 {
		of.Ticks = fmt.Sprintf("-INT32_C(%d)", -1-c.Timer.Trim.Add)
	}
	pin := func(name string, lamp bool) {
		of.Pins = append(of.Pins, headerPin{name, len(of.Pins), lamp})
	}
	used := map[int]bool{}
	for i := range c.Hands {
		h := c.Hands[i].header()
		if pin("PIN_"+h.Macro, false); h.Bridge {
			pin("LOW_PIN_"+h.Macro, false)
		}
		if used[h.Bits] = true; h.Bits == 32 {
			of.CodeType = "uint32_t"
		}
		of.Hands = append(of.Hands, h)
	}
	for _, name := range c.Lamps {
		pin("LAMP_"+strings.ToUpper(identifier(name)), true)
	}
	for _, bits := range []int{8, 16, 32} {
		if used[bits] {
			of.Reads = append(of.Reads, bits)
		}
	}
	return header.Execute(w, of)
}

// identifier is a name as a part of one of C.
func identifier(name string) string { return strings.ReplaceAll(name, "-", "_") }

func (h *Hand) header() headerHand {
	id := identifier(h.Name)
	out := headerHand{
		Hand: h, ID: id, Macro: strings.ToUpper(id), Meter: h.meter, Drive: h.drive, Table: h.table(),
		Last: h.Instants - 1, Seconds: h.seconds(), Scale: h.scale(), Jumps: h.Ramp.Jumps, TopC: fmt.Sprintf("UINT32_C(%d)", h.Top),
	}
	if r := h.Recipe; r != nil {
		out.Formula = r.c(h.Bits)
	}
	if h.Bridge {
		out.IsLow = h.isLow()
	}
	out.Step, out.Ticks = h.step()
	rest := h.Park.Zero - h.least() // positions count from the least code
	at := rest
	for _, p := range h.parks() {
		out.Parks = append(out.Parks, headerPark{at, rest + p.code, p.words})
		at = rest + p.code
	}
	return out
}

type park struct {
	code  int
	words string
}

// parks are the codes at which bring-up holds the needle, and its way back to rest.
func (h *Hand) parks() []park {
	p := h.Park
	list := []park{{p.Half, "half"}, {p.ThreeQuarter, "three quarters"}, {p.Top, "top"}, {p.Zero, ""}}
	if h.Bridge {
		list = append(list, park{p.Low, "the low end"}, park{p.Zero, ""})
	}
	return list
}

// perLine is how many codes stand in a line of the header.
const perLine = 15

// table is the codes as a table of C has them: of a bridge without their sign.
func (h *Hand) table() string {
	var text strings.Builder
	for s, code := range h.Codes {
		switch {
		case s%perLine == 0 && s > 0:
			text.WriteString(",\n    ")
		case s > 0:
			text.WriteString(", ")
		default:
			text.WriteString("    ")
		}
		fmt.Fprintf(&text, "%dU", max(code, -code))
	}
	return text.String()
}

// c is the recipe as an expression of C: what is not explicitly of 32 bits is unsigned and
// fits 16.
func (r *Recipe) c(bits int) string {
	if r.Bits == 16 {
		return fmt.Sprintf("(uint%d_t)((uint16_t)(instant * %dU + %dU) >> %d)", bits, r.Multiply, r.Add, r.Shift)
	}
	return fmt.Sprintf("(uint%d_t)(((uint32_t)instant * UINT32_C(%d) + UINT32_C(%d)) >> %d)", bits, r.Multiply, r.Add, r.Shift)
}

// isLow is a condition of C for the instants at which the other pin of a bridge has the
// pulses: a stretch from the dial's beginning.
func (h *Hand) isLow() string {
	end := h.first()
	for end < h.Instants && h.Codes[end] < 0 {
		end++
	}
	switch {
	case end == h.first():
		return "0U"
	case h.first() == 0:
		return fmt.Sprintf("instant < %dU", end)
	}
	return fmt.Sprintf("instant > 0U && instant < %dU", end)
}

// step is by how much a ramp goes on, in 1/16384 of a code, and every how many ticks: never
// faster than it may, and slower by less than a hundredth. No step is more than the scale.
func (h *Hand) step() (step, ticks int64) {
	const whole, least = 1 << 14, 128
	perTick := min(h.Ramp.PerTick, float64(h.scale()))
	ticks = int64(math.Ceil(max(1, least/(perTick*whole))))
	return int64(perTick * float64(ticks) * whole), ticks
}

// commentWidth is how many columns a line of a comment takes.
const commentWidth = 92

// comment is a text as lines of a comment of C, whatever is in it: of letters, digits and
// plain signs alone, it can neither end the comment nor begin another, hide a line's end or
// turn the direction of writing.
func comment(prefix, text string) string {
	var lines []string
	line := prefix
	for _, word := range strings.Fields(plain(text)) {
		if len([]rune(line))+1+len([]rune(word)) > commentWidth && line != prefix {
			lines = append(lines, strings.TrimRight(line, " "))
			line = prefix + "  "
		}
		if line != prefix && !strings.HasSuffix(line, " ") {
			line += " "
		}
		line += word
	}
	return strings.Join(append(lines, strings.TrimRight(line, " ")), "\n")
}

// plain is a text with its signs spelled out and without what a comment had better not have;
// the letters of other languages stay.
func plain(text string) string {
	text = spelled.Replace(text)
	return strings.Map(func(r rune) rune {
		if r == ' ' || unicode.IsLetter(r) || unicode.IsDigit(r) || strings.ContainsRune(".,:;()+-=%<>&!'", r) {
			return r
		}
		return '_'
	}, text)
}

var spelled = strings.NewReplacer("µ", "u", "Ω", "Ohm", "°", " deg", "–", "-", "·", " x ", "−", "-", "s/day", "s a day")
