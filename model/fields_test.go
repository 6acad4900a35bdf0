package model

import (
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/calc"
	"example.com/needlewright/model/quantity"
)

// leaves calls visit with the address of every leaf of a build: of every
// quantity, count, text and list of points.
func leaves(v reflect.Value, path string, visit func(path string, address any)) {
	switch p := v.Addr().Interface().(type) {
	case *quantity.Value, *int, *string, *[]calc.Point, *[]calc.Charge, *[]Hole:
		visit(path, p)
		return
	}
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			if !v.Type().Field(i).IsExported() {
				continue
			}
			leaves(v.Field(i), path+"."+v.Type().Field(i).Name, visit)
		}
	case reflect.Slice:
		for i := range v.Len() {
			leaves(v.Index(i), path, visit)
		}
	default:
		panic(path + " is of a kind no field can have")
	}
}

func oneOfEach() *Build {
	return Builds.room(func(string, int) int { return 1 }).(*Build)
}

func TestEveryLeafHasOneField(t *testing.T) {
	b := oneOfEach()
	rows := map[any][]string{}
	for _, f := range Builds.Fields {
		require.Equal(t, 1, f.Of(b), f.Path)
		at := f.At(b, 0)
		rows[at] = append(rows[at], f.Path)
	}
	seen := 0
	leaves(reflect.ValueOf(b).Elem(), "Build", func(path string, address any) {
		assert.Len(t, rows[address], 1, "%s has fields %v", path, rows[address])
		seen++
	})
	assert.Equal(t, seen, len(Builds.Fields), "a field has no leaf")
}

func TestFieldsCountTheirElements(t *testing.T) {
	of := map[string]int{"hand": 2, "hand.scale": 7, "hand.survey.step": 8, "lamp": 3, "reading": 4, "drain": 5, "button": 6, "walk": 2, "walk.met": 9}
	b := Builds.room(func(list string, owner int) int { return of[list] + 10*owner })
	for _, f := range Builds.Fields {
		head := f.Path
		for of[head] == 0 && head != "" {
			head = parent(head)
		}
		want, list := of[head]
		switch {
		case !list:
			want = 1
		case head == "hand.scale" || head == "hand.survey.step" || head == "walk.met": // of the first that has them, and 10 more of the second
			want = 2*want + 10
		}
		assert.Equal(t, want, f.Of(b), f.Path)
		if list {
			assert.NotSame(t, f.At(b, 0), f.At(b, 1), f.Path)
		}
	}
}

func TestFieldRowsAreWhole(t *testing.T) {
	labels := map[string]string{}
	for _, f := range Builds.Fields {
		assert.NotEmpty(t, f.Label, f.Path)
		assert.NotEmpty(t, f.Help, f.Path)
		assert.NotEmpty(t, f.Group, f.Path)
		key := string(rune('0'+f.Pane)) + f.Group + "/" + f.Label
		assert.Empty(t, labels[key], "%s has the label of %s", f.Path, labels[key])
		labels[key] = f.Path
		b := oneOfEach()
		switch f.At(b, 0).(type) {
		case *quantity.Value:
			checkQuantityRow(t, f)
		case *int:
			checkCountRow(t, f)
		default:
			assert.Empty(t, f.Least+f.Most, "%s: a range without numbers", f.Path)
			if f.Choices != nil {
				assert.Contains(t, append(f.Choices, ""), f.New, f.Path)
				assert.Contains(t, append(f.Choices, ""), f.Absent, f.Path)
			}
		}
	}
}

func checkQuantityRow(t *testing.T, f *Field) {
	parse := func(what, text string) float64 {
		v, err := quantity.Parse(text, f.Unit)
		assert.NoError(t, err, "%s: %s", f.Path, what)
		return v.Number
	}
	least, most := parse("Least", f.Least), parse("Most", f.Most)
	assert.Less(t, least, most, f.Path)
	if f.New != "" {
		assert.GreaterOrEqual(t, parse("New", f.New), least, f.Path)
		assert.LessOrEqual(t, parse("New", f.New), most, f.Path)
	}
	if f.Absent != "" {
		parse("Absent", f.Absent)
	}
}

func checkCountRow(t *testing.T, f *Field) {
	parse := func(what, text string) int {
		n, err := quantity.ParseCount(text)
		assert.NoError(t, err, "%s: %s", f.Path, what)
		return n
	}
	least, most := parse("Least", f.Least), parse("Most", f.Most)
	if f.Path == "format" { // there is one format only
		assert.Equal(t, least, most)
	} else {
		assert.Less(t, least, most, f.Path)
	}
	if f.New != "" {
		assert.GreaterOrEqual(t, parse("New", f.New), least, f.Path)
		assert.LessOrEqual(t, parse("New", f.New), most, f.Path)
	}
	if f.Absent != "" {
		parse("Absent", f.Absent)
	}
}

// TestRangesOfPractice holds the ranges to the table of defaults and ranges of
// the trade. Birthplace: common practice, no source.
func TestRangesOfPractice(t *testing.T) {
	for path, want := range map[string]string{
		"rail.voltage": "1 V to 24 V", "rail.drift": "0 % to 50 %", "rail.trimmed_at": "-20 °C to 60 °C", "rail.maximum": "1 V to 30 V",
		"hand.meter.coil": "1 mΩ to 1 MΩ", "hand.meter.full_scale": "1 µA to 100 A", "hand.meter.class": "0.05 % to 20 %",
		"hand.meter.sweep": "10° to 340°", "hand.meter.inductance": "0 H to 10 H", "hand.meter.period": "0.05 s to 20 s",
		"hand.meter.overshoot": "0 % to 90 %", "hand.meter.damping": "0.03 to 10", "hand.meter.overload": "1 to 20",
		"hand.drive.clock": "32 Hz to 500 MHz", "hand.drive.counts": "2 to 65536", "hand.drive.pin_resistance": "0 Ω to 5 kΩ",
		"hand.drive.pin_limit": "0.1 mA to 500 mA", "hand.drive.stage": "0 Ω to 1 MΩ", "hand.drive.fixed": "0 Ω to 10 MΩ",
		"hand.drive.trimmer": "0 Ω to 5 MΩ", "hand.drive.trimmer_turns": "0.5 to 50", "hand.drive.capacitor": "0 F to 10 mF",
		"crystal.frequency": "1 kHz to 50 MHz", "crystal.load": "3 pF to 40 pF", "crystal.stray": "0 F to 30 pF",
		"crystal.motional": "0.5 fF to 30 fF", "crystal.shunt": "0.3 pF to 10 pF", "crystal.esr": "1 Ω to 200 kΩ",
		"crystal.curvature": "0 ppm/K² to 0.1 ppm/K²", "crystal.turnover": "0 °C to 50 °C", "crystal.room_low": "-40 °C to 85 °C",
		"crystal.counter_bits": "4 to 32", "crystal.lost_counts": "0 to 100", "crystal.tick_counted": "1 µs to 1 h",
		"battery.cells": "0 to 24", "battery.capacity": "1 mAh to 1000 Ah", "battery.cutoff": "0 V to 12 V", "battery.shelf": "0.1 a to 50 a",
		"battery.self_discharge": "0 %/a to 400 %/a", "converter.efficiency": "20 % to 100 %", "converter.dropout": "0 V to 3 V",
		"load.controller_on": "1 µA to 500 mA", "load.hours_on": "0 h to 24 h", "load.minimum_voltage": "0.7 V to 6 V",
		"lamp.forward": "0.5 V to 24 V", "lamp.resistor": "10 Ω to 1 MΩ", "lamp.lit": "0 % to 100 %",
	} {
		require.NotNil(t, Builds.Field(path), path)
		assert.Equal(t, want, Builds.Field(path).Allowed(), path)
	}
}

// TestMeasuringSaysWhatItCanHurt wants the caution where a measurement can hurt
// the movement, the multimeter, the pack or the reading.
// Birthplace: common practice, no source.
func TestMeasuringSaysWhatItCanHurt(t *testing.T) {
	for _, c := range []struct{ path, caution string }{
		{"hand.meter.coil", "through a large resistor"}, // an ohmmeter's current pegs the needle: its caution stands there
		{"hand.meter.full_scale", "slowly"},
		{"hand.meter.full_scale", "resistor"},
		{"hand.drive.fixed", "lead off"}, // the ohmmeter would drive the meter
		{"hand.drive.trimmer", "out of the circuit"},
		{"hand.drive.setting", "lead off"},
		{"hand.drive.capacitor", "discharging"},
		{"hand.drive.stage", "unpowered"},
		{"crystal.stray", "never probe"},
		{"crystal.measured", "never at"},
		{"load.controller_on", "back to volts"}, // a current range shorts what it is put across
		{"load.controller_off", "back to volts"},
		{"load.controller_off", "bridge the multimeter"},
		{"converter.quiescent", "back to volts"},
	} {
		f := Builds.Field(c.path)
		require.NotNil(t, f, c.path)
		assert.Contains(t, strings.ToLower(f.Measure), c.caution, c.path)
	}
}

func TestFieldTextReadsBack(t *testing.T) {
	text := testdata(t, "whole.toml")
	b := soundBuild(t, text)
	for _, f := range Builds.Fields {
		again := soundBuild(t, with(t, text, f.PathOf(b, 0), f.Text(b, 0)))
		assert.Equal(t, f.At(b, 0), f.At(again, 0), f.Path)
	}
}

// TestPeriodAsMeasured: the factors that the period's help gives make of the first peak of
// a step the period, by the needle's own curve sampled finely.
func TestPeriodAsMeasured(t *testing.T) {
	text := Builds.Field("hand.meter.period").Measure
	said := regexp.MustCompile(`(\d\.\d\d) at (\d+) %|, (\d\.\d\d) at (\d+) %`).FindAllStringSubmatch(text, -1)
	require.Len(t, said, 3, text)
	for _, s := range said {
		factor, _ := strconv.ParseFloat(s[1]+s[3], 64)
		overshoot, _ := strconv.ParseFloat(s[2]+s[4], 64)
		m := calc.Movement{Period: 1.3, Damping: calc.DampingFromOvershoot(overshoot / 100)}
		peak, most := 0.0, 0.0
		for k := range 20000 {
			at := float64(k) * 1e-4
			if place := 1 - m.Remaining(at); place > most {
				peak, most = at, place
			}
		}
		assert.InDelta(t, 1+overshoot/100, most, 1e-6, text)
		assert.InDelta(t, 1.3, peak*factor, 0.005*1.3, s[0])
	}
}

// words are those of three letters or more, in small letters.
func words(text string) []string {
	return regexp.MustCompile(`\pL{3,}`).FindAllString(strings.ToLower(text), -1)
}

// TestHelpSaysMoreThanTheLabel: every field has a help of four words or more that its label
// does not have (the project's own limit).
func TestHelpSaysMoreThanTheLabel(t *testing.T) {
	for _, f := range Builds.Fields {
		own, more := words(f.Label), map[string]bool{}
		for _, w := range words(f.Help) {
			if !slices.Contains(own, w) {
				more[w] = true
			}
		}
		assert.GreaterOrEqual(t, len(more), 4, "%s: %q says %q", f.Path, f.Label, f.Help)
	}
}

// TestStumbledOver: labels that made beginners stumble are told in one sentence of at most
// 150 characters, without a word of the trade that it does not explain (the project's own
// list).
func TestStumbledOver(t *testing.T) {
	unexplained := []string{"wrap", "overflow", "swamping", "kelvin", "symbol", "tick", "reload", "duty", "node"}
	for _, path := range []string{"hand.noon", "hand.meter.coil_copper", "hand.meter.position_for", "crystal.reload", "crystal.lost_counts", "load.controller_on"} {
		help := Builds.Field(path).Help
		assert.LessOrEqual(t, utf8.RuneCountInString(help), 150, "%s: %s", path, help)
		assert.True(t, strings.HasSuffix(help, ".") && !strings.Contains(help, ". "), "%s: one sentence: %s", path, help)
		for _, w := range unexplained {
			assert.NotContains(t, words(help), w, path)
		}
	}
}
