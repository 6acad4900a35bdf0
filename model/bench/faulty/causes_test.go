package faulty

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
)

// Source: the contract's table of causes, "nothing" and "other" left out.
const contract = `zero_not_set needle_sticks scale_uneven magnet_near meter_reversed coil_open multiplier_left shunt_left
other_full_scale series_open fixed_decade_high fixed_decade_low trimmer_at_maximum trimmer_at_zero trimmer_by_its_ends
capacitor_missing capacitor_decade capacitor_leaky capacitor_shorted pin_gives_nothing pin_stuck_high pins_swapped
duty_inverted pwm_clock_off top_code_wrong rail_set_wrong converter_passes converter_sags converter_idle_high contacts_bad
cells_weak cell_reversed never_sleeps leak_asleep pin_high_asleep programmer_attached lamp_always lamp_dark lamp_decade_low
lamp_decade_high load_capacitors_low load_capacitors_high crystal_stopped clock_not_from_crystal reload_missing counts_lost
tick_miscounted button_joined button_pull_missing reset_low`

func ids(faults []Fault) []string {
	var all []string
	for _, f := range faults {
		all = append(all, f.ID)
	}
	slices.Sort(all)
	return slices.Compact(all)
}

func TestFaultsAreTheContracts(t *testing.T) {
	want := strings.Fields(contract)
	slices.Sort(want)
	assert.Equal(t, want, ids(Faults(read(t, exact))))
	assert.Len(t, ids(Foreign(read(t, exact))), 8)
}

func TestDaggersAreTheContracts(t *testing.T) {
	// Source: the contract's †.
	want := strings.Fields("multiplier_left shunt_left other_full_scale fixed_decade_high fixed_decade_low capacitor_leaky top_code_wrong converter_passes")
	var got []string
	for _, id := range strings.Fields(contract) {
		if MayBeTrimmedWith(id) {
			got = append(got, id)
		}
	}
	slices.Sort(want)
	slices.Sort(got)
	assert.Equal(t, want, got)
}

// What a build does not have cannot be wrong with it.
func TestFaultsGoWithTheParts(t *testing.T) {
	all := func(name string) []Fault { return Faults(example(t, name)) }
	assert.NotContains(t, ids(all("station-platform")), "contacts_bad")
	assert.NotContains(t, ids(all("station-platform")), "capacitor_missing")
	assert.Contains(t, ids(all("station-platform")), "rail_set_wrong")
	assert.NotContains(t, ids(all("reading-room")), "shunt_left") // a multiplier was found inside
	assert.NotContains(t, ids(all("reading-room")), "button_joined")
	assert.NotContains(t, ids(Faults(read(t, exact, "converter.kind", "none"))), "converter_passes")
	assert.NotContains(t, ids(Faults(read(t, exact, "hand.hours.meter.law", "square"))), "meter_reversed")
	count := func(id string) (n int) {
		for _, f := range all("station-platform") {
			if f.ID == id {
				n++
			}
		}
		return n
	}
	assert.Equal(t, 3, count("coil_open"))
	assert.Equal(t, 3, count("pins_swapped")) // pairs of three hands
}

// Source of the ranges: the contract.
func TestAmountsWithinTheirRanges(t *testing.T) {
	b := read(t, exact)
	ranges := map[string][][2]float64{
		"zero_not_set": {{-0.15, -0.03}, {0.03, 0.15}}, "needle_sticks": {{0.03, 0.10}}, "scale_uneven": {{-0.2, -0.05}, {0.05, 0.2}},
		"magnet_near": {{-0.1, -0.03}, {0.03, 0.1}}, "multiplier_left": {{1e3, 100e3}}, "shunt_left": {{32, 640}},
		"other_full_scale": {{0.1, 0.5}, {2, 10}}, "capacitor_decade": {{0.1, 0.1}, {10, 10}}, "capacitor_leaky": {{128, 12800}},
		"top_code_wrong": {{0.8, 0.95}, {1.05, 256. / 240}}, "rail_set_wrong": {{0.6, 0.9}, {1.1, 1.4}}, "converter_sags": {{0.6, 0.9}},
		"converter_idle_high": {{4, 100}}, "contacts_bad": {{2, 30}}, "cells_weak": {{0.8, 1}}, "leak_asleep": {{30e-6, 3e-3}},
		"programmer_attached": {{-10e-3, -0.5e-3}, {0.5e-3, 10e-3}}, "reset_low": {{0.1, 1}}, "load_capacitors_high": {{3, 10}},
		"clock_not_from_crystal": {{-0.05, -0.003}, {0.003, 0.05}}, "counts_lost": {{1, 8}}, "tick_miscounted": {{0.5, 0.5}, {2, 2}},
		"button_pull_missing": {{0, 0.3}}, "pwm_clock_off": {{1. / 64, 0.5}, {2, 64}}, "load_capacitors_low": {{0, 0}, {0.1, 0.3}},
	}
	random := seeded(5)
	for _, f := range Faults(b) {
		trimmed := 0
		hit := make([]int, 2)
		for range 400 {
			drawn := complete(b, f, random)
			if drawn.TrimmedWithIt {
				trimmed++
			}
			in := slices.IndexFunc(ranges[f.ID], func(r [2]float64) bool { return drawn.Amount >= r[0]-1e-12 && drawn.Amount <= r[1]+1e-12 })
			if len(ranges[f.ID]) == 0 {
				require.Zero(t, drawn.Amount, f.ID)
				continue
			}
			require.GreaterOrEqual(t, in, 0, "%v", drawn)
			hit[in]++
		}
		for i := range ranges[f.ID] {
			assert.Greater(t, hit[i], 20, "%s: range %d of both", f.ID, i)
		}
		if MayBeTrimmedWith(f.ID) {
			assert.InDelta(t, 200, trimmed, 60, f.ID) // six deviations of 400 throws of a coin
		} else {
			assert.Zero(t, trimmed, f.ID)
		}
	}
}

// Each cause of the contract, and each that is not in it, shows somewhere, but where
// the trimmer takes it away or two test points are the same by chance.
func TestFaultsLeaveATrace(t *testing.T) {
	for _, b := range []*model.Build{read(t, exact, "hand.hours.drive.setting", ""), example(t, "reading-room")} {
		for _, f := range append(Faults(b), Foreign(b)...) {
			shown := 0
			for seed := range uint64(8) {
				c := Make(b, seeded(seed), f)
				if len(c.Traces()) > 0 {
					shown++
					assert.Empty(t, c.Masked())
				}
			}
			least := 6
			if f.ID == "capacitor_decade" {
				least = 1 // ten times as large leaves less than the multimeter can judge
			}
			assert.GreaterOrEqual(t, shown, least, "%v", f)
		}
	}
}

// Two faults of one part: the one that the other takes away is masked.
func TestMaskedFaults(t *testing.T) {
	b := read(t, exact)
	atZero := Fault{ID: "trimmer_at_zero", About: "hours"}
	atEnd := Fault{ID: "trimmer_at_maximum", About: "hours"}
	masked := Make(b, seeded(1), atZero, atEnd).Masked()
	require.Len(t, masked, 1)
	assert.Equal(t, "trimmer_at_zero", masked[0].ID)
	assert.Empty(t, Make(b, seeded(1), atZero, Fault{ID: "never_sleeps"}).Masked())
}

// Derived: a trimmer set with the fault there brings the needle to the top, as far as
// it goes; one set before does not.
func TestTrimmedWithTheFault(t *testing.T) {
	b := example(t, "reading-room")
	f := Fault{ID: "top_code_wrong", About: "hours", Amount: 0.95, TrimmedWithIt: true}
	with := assemble(UsualBench(), b, 1, 1, []Fault{f})
	f.TrimmedWithIt = false
	without := assemble(UsualBench(), b, 1, 1, []Fault{f})
	stand := func(c *Clock) float64 {
		s := c.parked(0, c.hands[0].top)
		return c.hands[0].place(c.rail(s), c.duty(0, s))
	}
	assert.InDelta(t, 1, stand(with), 0.015+0.02)
	assert.InEpsilon(t, 0.95, stand(without)/stand(with), 0.01)
	assert.Less(t, with.hands[0].setting, without.hands[0].setting)
	assert.InEpsilon(t, math.Round(0.95*240), float64(with.hands[0].top), 1e-12)
}

// What is outside the table shows otherwise than each cause of the table does, with
// many amounts of it, on the same parts.
func TestForeignFaultsAreNoneOfTheTable(t *testing.T) {
	b := read(t, exact, "hand.hours.drive.setting", "")
	random := seeded(8)
	for _, f := range Foreign(b) {
		c := Make(b, seeded(3), f)
		least := 100
		for _, g := range Faults(b) {
			draws := 1
			if causeOf(g.ID).amount != nil {
				draws = 15
			}
			for range draws {
				unlike := c.unlike([]Fault{complete(b, g, random)})
				least = min(least, len(unlike))
				require.NotEmpty(t, unlike, "%v is %v", f, g)
			}
		}
		t.Logf("%s: at least %d test points speak against each cause", f.ID, least)
	}
}

func BenchmarkMake(b *testing.B) {
	build := example(b, "reading-room")
	random := seeded(1)
	for b.Loop() {
		Make(build, random, Fault{ID: "cells_weak"})
	}
}
