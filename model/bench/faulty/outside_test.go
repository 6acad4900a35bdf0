package faulty

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/modeltest"
	"example.com/needlewright/model/quantity"
)

// nominal is the clock of a build without tolerances, trimmed exactly, with fresh cells.
func nominal(t *testing.T, name string) (*model.Build, *circuit) {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("..", "..", "testdata", name+".toml"))
	require.NoError(t, err)
	b := read(t, string(text))
	for _, f := range model.Builds.Fields {
		for i := range f.Of(b) {
			if v, ok := f.At(b, i).(*quantity.Value); ok {
				v.Tolerance = 0
			}
		}
	}
	x := &b.Crystal
	x.Tolerance.Number, x.Ageing.Number, x.RoomLow, x.RoomHigh = 0, 0, x.Turnover, x.Turnover
	bench := UsualBench()
	bench.Used = 0
	c := &circuit{}
	c.draw(b, bench, seeded(1))
	c.supply.contacts = 0
	c.trimming = true
	for i := range c.hands {
		c.trim(i, 0)
	}
	c.trimming = false
	return b, c
}

// dialMinutes is the whole time of a dial. Source: the catalogue.
var dialMinutes = map[string]float64{"12 h": 720, "24 h": 1440, "60 min": 60, "60 s": 1}

// Independent: the results beside the builds of testdata, by another program from the
// catalogue's words; its README says how.
func TestAgreesWithOutsideResults(t *testing.T) {
	compared := map[string]int{}
	for _, name := range []string{"public-1", "public-2", "effects-1", "effects-2", "effects-3", "effects-4"} {
		raw, err := os.ReadFile(filepath.Join("..", "..", "testdata", name+".json"))
		require.NoError(t, err)
		var file struct{ Results map[string]float64 }
		require.NoError(t, json.Unmarshal(raw, &file))
		if len(file.Results) == 0 {
			require.NoError(t, json.Unmarshal(raw, &file.Results))
		}
		b, c := nominal(t, name)
		agree := func(id string, got, relative float64) {
			if want, ok := file.Results[id]; ok {
				compared[id[strings.LastIndexByte(id, '.')+1:]]++
				assert.InDelta(t, want, got, relative*math.Abs(want)+1e-9, "%s of %s", id, name)
			}
		}
		u := c.supply.rail
		for i := range c.hands {
			h := &c.hands[i]
			agree(h.name+".pwm_frequency", h.pwm, 1e-9)
			if h.diodes || h.zero != 0 {
				continue // the outside results are of another current at the top
			}
			agree(h.name+".needle_damping", h.damping, 1e-9)
			minutes := dialMinutes[b.Hands[i].Shows]
			agree(h.name+".ripple_needle", minutes*toAndFro(h.swings(u)), 0.02)
			if !h.given {
				agree(h.name+".trimmer_setting", h.setting, 1e-6)
			}
			duty := float64(min(h.top, h.counts/2)+h.offset) / float64(h.counts)
			if b.Hands[i].Meter.Law == "square" {
				agree(h.name+".law_ripple_error", minutes*math.Pow(u*h.rms(duty, func(w wave) complex128 { return w.coil })/h.fullScale, 2), 5e-3)
			}
		}
		for i := range c.lamps {
			agree("lamp."+c.lamps[i].name+".current", c.lamps[i].current(u), 1e-9)
		}
		agree("crystal.load_offset", c.crystal.loadOffset(), 1e-9)
		agree("crystal.rate", c.crystal.drift(), 1e-4) // 0.0864·(ppm + ppm) there, their product too here
		rail, out, pack := c.powered(asleep)
		if !c.supply.outside && rail > 0 {
			agree("battery.current_off", pack, 1e-8)
			agree("battery.rail_current_off", out, 1e-8)
		}
	}
	for _, id := range []string{"pwm_frequency", "needle_damping", "ripple_needle", "current", "load_offset", "rate", "current_off", "rail_current_off", "law_ripple_error"} {
		assert.NotZero(t, compared[id], id)
	}
}

// Any build there can be makes clocks whose readings are words or numbers.
func TestAnyBuildMakesClocks(t *testing.T) {
	random, made := rand.New(rand.NewPCG(11, 12)), 0
	defer func() { assert.Greater(t, made, 50) }()
	for range 150 {
		text := modeltest.AnyBuild(random)
		b, _ := model.Read(text)
		for i := range b.Hands { // these clocks have pins, and movements that were measured themselves
			text = modeltest.With(t, text, "hand."+b.Hands[i].Name+".drive.by", "pin", "hand."+b.Hands[i].Name+".meter.in_circuit", "no")
		}
		b, problems := model.Read(text)
		if len(problems) > 0 {
			continue
		}
		made++
		faults := append(Faults(b), Foreign(b)...)
		f := faults[random.IntN(len(faults))]
		for _, c := range []*Clock{Make(b, random), Make(b, random, f)} {
			for _, p := range c.points {
				reading := c.Read(p.id)
				if math.IsNaN(p.value) || reading == "" || strings.Contains(reading, "NaN") || strings.Contains(reading, "Inf") {
					t.Errorf("%s of a clock with %v reads %q (%v) in\n%s", p.id, c.Faults(), reading, p.value, text)
					return
				}
			}
		}
	}
}
