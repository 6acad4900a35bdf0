package codes

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// onSmall is what bench prints with on a controller whose int has 16 bits: by its serial
// port. Its tables stand in program memory.
const onSmall = `#include <avr/io.h>
#include <avr/pgmspace.h>
#include <avr/sleep.h>
#include <avr/interrupt.h>
#define CODES_TABLE PROGMEM
#define CODES_READ8(entry) pgm_read_byte(entry)
#define CODES_READ16(entry) pgm_read_word(entry)
#define CODES_READ32(entry) pgm_read_dword(entry)
typedef char int_has_16_bits[sizeof(int) == 2 ? 1 : -1];
static void put(char c) { while ((UCSR0A & (1U << UDRE0)) == 0U) { } UDR0 = (uint8_t)c; }
static void begin(void) { UCSR0B = (uint8_t)(1U << TXEN0); put('>'); }
static int end(void) { put('<'); put('\n'); cli(); sleep_mode(); return 0; }
`

// Where int has 16 bits the header compiles without a warning too, and prints the plan, on a
// simulated controller: every second build with tables alone. .ci/codes installs compiler and
// simulator by name.
func TestHeaderWhereIntHas16Bits(t *testing.T) {
	for _, tool := range []string{"avr-gcc", "simavr"} {
		if _, err := exec.LookPath(tool); err != nil {
			t.Skip(tool + " is not here: no header was tried where int has 16 bits")
		}
	}
	all := examples(t)
	texts := append([]string{all["two bridges"], all["three hands"], all["harbour-office.toml"], all["reading-room.toml"]}, anyBuilds(34, builds(2))...)
	marks, number := regexp.MustCompile("\x1b\\[[0-9;]*m"), regexp.MustCompile(`\d+`)
	for k, text := range texts {
		b, p := planned(t, text)
		c := Of(b, p)
		folder := t.TempDir()
		require.NoError(t, os.WriteFile(filepath.Join(folder, "codes.h"), []byte(headerOf(t, c)), 0o600))
		program := filepath.Join(folder, "bench")
		require.NoError(t, os.WriteFile(program+".c", []byte(onSmall+"#include \"codes.h\"\n"+bench(c)), 0o600))
		flags := []string{"-mmcu=atmega1284p", "-Os", "-std=c99", "-Wall", "-Wextra", "-Wpedantic", "-Wconversion", "-Werror"}
		if k%2 == 0 {
			flags = append(flags, "-DCODES_TABLES")
		}
		out, err := exec.Command("avr-gcc", append(flags, "-o", program, program+".c")...).CombinedOutput()
		require.NoError(t, err, "%s\n%s", out, text)
		require.Empty(t, string(out), "no warning")
		out, err = exec.Command("simavr", "-m", "atmega1284p", "-f", "16000000", program).CombinedOutput()
		require.NoError(t, err)
		printed := marks.ReplaceAllString(string(out), "")
		printed = strings.NewReplacer("\n", "", "\r", "").Replace(printed[strings.Index(printed, ">")+1:])
		printed, _, whole := strings.Cut(printed, "<")
		require.True(t, whole, "it ran to its end")
		assert.Equal(t, number.FindAllString(expected(b, p), -1), number.FindAllString(printed, -1), text)
	}
}
