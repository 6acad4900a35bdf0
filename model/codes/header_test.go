package codes

import (
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/modeltest"
)

// builds is how many random builds a test looks at.
func builds(few int) int {
	if n, err := strconv.Atoi(os.Getenv("NEEDLEWRIGHT_BUILDS")); err == nil && n > 0 {
		return n
	}
	return few
}

// examples are the builds of the folder, and one with two bridges.
func examples(t *testing.T) map[string]string {
	t.Helper()
	all := map[string]string{"two bridges": modeltest.Text(t, "meters-2.toml"), "three hands": modeltest.Text(t, "three-hands.toml")}
	files, err := filepath.Glob("../../examples/*.toml")
	require.NoError(t, err)
	require.Greater(t, len(files), 5)
	for _, f := range files {
		all[filepath.Base(f)] = modeltest.FileText(f)
	}
	return all
}

// planned reads a text and solves it.
func planned(t testing.TB, text string) (*model.Build, *circuit.Plan) {
	t.Helper()
	b, p := modeltest.Sound(t, text), new(circuit.Plan)
	circuit.Evaluate(b, p)
	return b, p
}

// anyBuilds are random builds without problems that have a hand.
func anyBuilds(seed uint64, n int) []string {
	random := rand.New(rand.NewPCG(seed, 1))
	var texts []string
	for len(texts) < n {
		text := modeltest.AnyBuild(random)
		if b, problems := model.Read(text); len(problems) == 0 && len(b.Hands) > 0 {
			texts = append(texts, text)
		}
	}
	return texts
}

// strict are the flags of the contract, and what would show a number that is only right
// where int is large.
var strict = []string{"-std=c99", "-Wall", "-Wextra", "-Wpedantic", "-Wconversion", "-Warith-conversion", "-Werror"}

// compiler is a C compiler of this machine.
func compiler(t testing.TB) string {
	t.Helper()
	for _, name := range []string{"gcc", "clang", "cc"} {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	t.Skip("there is no C compiler here: the header was not compiled")
	return ""
}

// headerOf is the header of a build.
func headerOf(t testing.TB, c *Codes) string {
	t.Helper()
	var text strings.Builder
	require.NoError(t, c.WriteHeader(&text))
	return text.String()
}

// bench is a program around a header: put and end are how it prints; it prints each code of
// each hand, what each time becomes, and what the pins are given in bring-up.
func bench(c *Codes) string {
	var text strings.Builder
	text.WriteString("static uint32_t at[CODES_PINS], sent;\nstatic uint8_t ramped;\n" +
		"static void tell(uint32_t x) { char digit[11]; uint8_t n = 0U; do { digit[n++] = (char)('0' + (char)(x % 10U)); x /= 10U; } while (x != 0U); while (n > 0U) { put(digit[--n]); } put(' '); }\n" +
		"void board_tick(uint8_t pin) { (void)pin; ramped = 1U; }\n" +
		"void board_wait(void) { uint8_t pin; for (pin = 0U; pin < CODES_PINS; pin++) { tell(at[pin]); } put('\\n'); }\n")
	code := "uint16_t"
	for i := range c.Hands {
		if c.Hands[i].Bits == 32 {
			code = "uint32_t"
		}
	}
	fmt.Fprintf(&text, "void board_pin(uint8_t pin, %s code) { at[pin] = code; if (sent < CODES_PINS && (code != 0U || pin != sent)) { tell(99999U); } sent++; }\n", code)
	text.WriteString("int main(void)\n{\n    uint16_t s;\n    begin();\n")
	for i := range c.Hands {
		h := &c.Hands[i]
		id := identifier(h.Name)
		low := "0U"
		if h.Bridge {
			low = "low_" + id + "(s)"
		}
		fmt.Fprintf(&text, "    for (s = 0U; s < %dU; s++) { tell(%s); tell(code_%s(s)); }\n    put('\\n');\n", h.Instants, low, id)
		fmt.Fprintf(&text, "    for (s = 0U; s < 24U; s++) { tell(instant_%s(UINT32_C(3661) * s)); tell(code_%s((uint16_t)(s + %dU))); }\n    put('\\n');\n", id, id, h.Instants)
	}
	text.WriteString("    bring_up();\n    board_wait();\n    return end();\n}\n")
	return text.String()
}

// onHost is what bench prints with on this machine.
const onHost = "#include <stdio.h>\nstatic void begin(void) {}\nstatic int end(void) { return 0; }\nstatic void put(char c) { putchar(c); }\n"

// expected is what bench should print, by the plan.
func expected(b *model.Build, p *circuit.Plan) string {
	var text strings.Builder
	for i := range b.Hands {
		minutes, n := circuit.Dial(b.Hands[i].Shows)
		each := minutes * 60 / float64(n)
		code := func(s int) int { return int(p.Needle(i, float64(s)*each).Code) }
		for s := range n {
			low, size := 0, code(s)
			if size < 0 {
				low, size = 1, -size
			}
			fmt.Fprintf(&text, "%d %d ", low, size)
		}
		text.WriteString("\n")
		for s := range 24 {
			size := code(s)
			fmt.Fprintf(&text, "%d %d ", int(float64(3661*s)/each)%n, max(size, -size))
		}
		text.WriteString("\n")
	}
	return text.String() + broughtUp(b)
}

// broughtUp is what the pins are given at each stop of bring-up, by the words of the
// catalogue, "Test points".
func broughtUp(b *model.Build) string {
	pins, first := 0, make([]int, len(b.Hands))
	for i := range b.Hands {
		first[i] = pins
		pins++
		if b.Hands[i].Drive.By == "bridge" {
			pins++
		}
	}
	var text strings.Builder
	stop := func(pin, code int) {
		for k := range pins + len(b.Lamps) {
			if k == pin {
				fmt.Fprintf(&text, "%d ", code)
			} else {
				text.WriteString("0 ")
			}
		}
		text.WriteString("\n")
	}
	for i := range b.Hands {
		top := b.Hands[i].Drive.Top
		for _, code := range []int{0, top / 2, 3 * top / 4, top} {
			stop(first[i], code)
		}
		if b.Hands[i].Drive.By == "bridge" {
			stop(first[i]+1, top)
		}
	}
	for k := range b.Lamps {
		stop(pins+k, 1)
	}
	stop(0, 0)
	return text.String()
}

// compiled compiles a program of a build and returns what it prints.
func compiled(t testing.TB, with string, text string, flags ...string) (printed string, c *Codes) {
	t.Helper()
	b, p := planned(t, text)
	c = Of(b, p)
	folder := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(folder, "codes.h"), []byte(headerOf(t, c)), 0o600))
	program := filepath.Join(folder, "bench")
	require.NoError(t, os.WriteFile(program+".c", []byte(onHost+"#include \"codes.h\"\n"+bench(c)), 0o600))
	arguments := append(append([]string{}, strict...), flags...)
	out, err := exec.Command(with, append(arguments, "-o", program, program+".c")...).CombinedOutput()
	require.NoError(t, err, "%s\n%s", out, text)
	require.Empty(t, string(out), "no warning")
	out, err = exec.Command(program).Output()
	require.NoError(t, err)
	return string(out), c
}

// The header compiles without a warning, and what it computes is the plan at every instant,
// for the examples with tables and with recipes and for random builds:
// NEEDLEWRIGHT_BUILDS=300 for so many.
func TestHeaderIsThePlan(t *testing.T) {
	gcc := compiler(t)
	for name, text := range examples(t) {
		for _, flags := range [][]string{nil, {"-DCODES_TABLES", "-O2"}} {
			t.Run(fmt.Sprint(name, flags), func(t *testing.T) {
				t.Parallel()
				printed, _ := compiled(t, gcc, text, flags...)
				b, p := planned(t, text)
				assert.Equal(t, expected(b, p), printed)
			})
		}
	}
	for k, text := range anyBuilds(31, builds(6)) {
		t.Run(fmt.Sprint("random ", k), func(t *testing.T) {
			t.Parallel()
			printed, _ := compiled(t, gcc, text)
			b, p := planned(t, text)
			assert.Equal(t, expected(b, p), printed, text)
		})
	}
}

// Names that are words of C or of the header, and a title that would end the comment, hide
// its line's end, begin another, or turn the direction of writing.
func TestHeaderOfHostileNames(t *testing.T) {
	gcc := compiler(t)
	text := modeltest.Text(t, "three-hands.toml")
	text = strings.NewReplacer(`name = "hours"`, `name = "int"`, `name = "minutes"`, `name = "a-b"`, `name = "seconds"`, `name = "bring-up"`).Replace(text)
	text = modeltest.With(t, text, "title", "*/ int x; /* ??/ \\ // \u202e é “ # \" end*\\", "hand.int.shows", "24 h")
	b, p := planned(t, text)
	printed, c := compiled(t, gcc, text)
	assert.Equal(t, expected(b, p), printed)
	header := headerOf(t, c)
	for _, has := range []string{"code_int(", "code_a_b(", "code_bring_up(", "PIN_A_B ", "é"} {
		assert.Contains(t, header, has)
	}
	assert.NotContains(t, header, "\u202e")
	assert.NotContains(t, header, "??")
}

// A build without a hand has a header too: nothing in it compares with no pins.
func TestHeaderWithoutAHand(t *testing.T) {
	gcc := compiler(t)
	b, p := planned(t, "format = 1\n[rail]\nvoltage = \"5 V\"\n")
	folder := t.TempDir()
	unit := filepath.Join(folder, "codes.c")
	require.NoError(t, os.WriteFile(filepath.Join(folder, "codes.h"), []byte(headerOf(t, Of(b, p))), 0o600))
	require.NoError(t, os.WriteFile(unit, []byte("#include \"codes.h\"\nint main(void) { bring_up(); return 0; }\n"), 0o600))
	out, err := exec.Command(gcc, append(append([]string{}, strict...), "-c", "-o", unit+".o", unit)...).CombinedOutput()
	require.NoError(t, err, "%s", out)
	assert.Empty(t, string(out), "no warning")
}

// Who writes board_pin is told of a pin that its transistors turn round, and of no other.
func TestHeaderOfATurnedPin(t *testing.T) {
	text := modeltest.Example("reading-room")
	for by, turned := range map[string]bool{"pin": false, "switch": true, "bridge": false} {
		b, p := planned(t, modeltest.With(t, text, "hand.hours.drive.by", by))
		assert.Equal(t, turned, strings.Contains(headerOf(t, Of(b, p)), "PIN_HOURS is turned round by its two transistors: LOW for so many"), by)
	}
}

// The first that a program with the header does with its pins is to take all current off. No maker's
// register is named, and each function that the builder writes is declared once.
func TestHeaderSays(t *testing.T) {
	b, p := planned(t, modeltest.Example("station-platform"))
	header := headerOf(t, Of(b, p))
	for _, declared := range []string{"void board_pin(uint8_t pin, uint16_t code);", "void board_tick(uint8_t pin);", "void board_wait(void);"} {
		assert.Equal(t, 1, strings.Count(header, declared), declared)
	}
	_, up, _ := strings.Cut(header, "static inline void bring_up(void)\n{\n")
	first, _, _ := strings.Cut(up, "\n")
	assert.Equal(t, "    meters_off();", first)
	assert.Contains(t, header, "Build: "+b.Title)
	for k, line := range strings.Split(header, "\n") {
		assert.LessOrEqual(t, len([]rune(line)), 100, "line %d", k+1)
		for _, r := range line {
			assert.Less(t, r, rune(128), "line %d", k+1)
		}
	}
}

// No tick of a ramp takes the needle faster than the plan allows, and none much slower.
func TestRampSteps(t *testing.T) {
	for _, text := range append(anyBuilds(32, builds(20)), modeltest.Example("station-platform")) {
		b, p := planned(t, text)
		for i, h := range Of(b, p).Hands {
			step, ticks := h.step()
			sent := float64(step) / 16384 / float64(ticks)
			assert.LessOrEqual(t, sent, h.Ramp.PerTick*(1+1e-12), "%s\n%d", text, i)
			assert.GreaterOrEqual(t, sent, min(h.Ramp.PerTick, float64(h.scale()))*0.99, "%s\n%d", text, i)
			assert.LessOrEqual(t, int64(h.scale())<<14, int64(1)<<31, "it fits 32 bits")
			assert.LessOrEqual(t, ticks, int64(1)<<32-1)
		}
	}
}
