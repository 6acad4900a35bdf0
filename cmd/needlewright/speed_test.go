//go:build unix

package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// The floor of what is measured here: a bare Bubble Tea program on such a
// terminal, in turns with needlewright.
func bareProgram(b *testing.B) setting {
	b.Helper()
	path := filepath.Join(b.TempDir(), "bare")
	out, err := exec.Command("go", "build", "-buildvcs=false", "-o", path, "./testdata/bare").CombinedOutput()
	require.NoError(b, err, "%s", out)
	return setting{width: 120, height: 40, program: path}
}

// reportToFloor reports medians, and the one as a multiple of the other.
func reportToFloor(b *testing.B, unit string, took, floor []float64) {
	slices.Sort(took)
	slices.Sort(floor)
	median := func(x []float64) float64 { return x[len(x)/2] }
	b.ReportMetric(0, "ns/op")
	b.ReportMetric(median(took), unit)
	b.ReportMetric(median(floor), "floor-"+unit)
	b.ReportMetric(median(took)/median(floor), "x-floor")
}

const milliseconds = float64(time.Millisecond)

// From the start of the program to its whole first frame.
func BenchmarkFirstFrameToFloor(b *testing.B) {
	bare, path := bareProgram(b), build(b)
	first := func(s setting, shows string, args ...string) float64 {
		begun := time.Now()
		x := start(b, s, args...)
		for !x.wrote(shows) {
			require.Less(b, time.Since(begun), patienceOfTests)
			time.Sleep(50 * time.Microsecond)
		}
		took := time.Since(begun)
		require.NoError(b, x.command.Process.Kill())
		<-x.ended
		return float64(took) / milliseconds
	}
	var took, floor []float64
	for b.Loop() {
		took = append(took, first(setting{width: 120, height: 40}, "quit", path))
		floor = append(floor, first(bare, "keys: 0"))
	}
	reportToFloor(b, "ms", took, floor)
}

// From a key to the changed screen.
func BenchmarkKeyToFloor(b *testing.B) {
	bare := start(b, bareProgram(b))
	bare.waitFor("keys: 0")
	x := start(b, setting{width: 120, height: 40}, build(b))
	x.visit("hand.meter.coil")
	x.typed(ctrlU)
	x.quiet()
	press := func(x *screen, key string, i int) float64 {
		size := x.length()
		begun := time.Now()
		x.typed(key)
		for x.length() == size {
			require.Less(b, time.Since(begun), patienceOfTests, "key %d changed nothing", i)
			time.Sleep(50 * time.Microsecond)
		}
		took := time.Since(begun)
		time.Sleep(time.Duration(1+i*7%11) * time.Millisecond) // a hand keeps no step with the screen
		return float64(took) / milliseconds
	}
	var took, floor []float64
	for i := 0; b.Loop(); i++ {
		key := string(rune('1' + i%9))
		if i%4 == 3 {
			key = ctrlU
		}
		took = append(took, press(x, key, i))
		floor = append(floor, press(bare, "x", i))
	}
	reportToFloor(b, "ms/key", took, floor)
}

// What a program takes of a processor while nobody types. The clock of the bare
// one ticks 120 times a second, which is why needlewright paints by itself.
func BenchmarkIdleToFloor(b *testing.B) {
	const rest = 3 * time.Second
	bare, x := start(b, bareProgram(b)), start(b, setting{width: 120, height: 40}, build(b))
	bare.waitFor("keys: 0")
	x.waitFor("quit")
	time.Sleep(rest) // what starting left to do
	var took, floor []float64
	for b.Loop() {
		ours, bares := processorTime(b, x), processorTime(b, bare)
		time.Sleep(rest)
		took = append(took, (processorTime(b, x)-ours)/rest.Seconds())
		floor = append(floor, (processorTime(b, bare)-bares)/rest.Seconds())
	}
	reportToFloor(b, "µs/s", took, floor)
}

// processorTime is what a program has used so far, µs.
func processorTime(b *testing.B, x *screen) float64 {
	b.Helper()
	tasks, err := filepath.Glob(fmt.Sprintf("/proc/%d/task/*/schedstat", x.command.Process.Pid))
	require.NoError(b, err)
	if len(tasks) == 0 {
		b.Skip("the system does not say")
	}
	all := 0.0
	for _, task := range tasks {
		text, _ := os.ReadFile(task) // a thread may have ended
		var ns float64
		_, _ = fmt.Fscan(bytes.NewReader(text), &ns)
		all += ns / 1000
	}
	return all
}

// wrote says whether the program has written a text, however long ago.
func (x *screen) wrote(text string) bool {
	x.lock.Lock()
	defer x.lock.Unlock()
	return strings.Contains(string(x.written), text)
}
