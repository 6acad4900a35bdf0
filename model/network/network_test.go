package network

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/calc/nodal"
	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/modeltest"
)

// wired is a build's network.
func wired(b *model.Build) *Network {
	p := new(circuit.Plan)
	circuit.Evaluate(b, p)
	return Of(b, p)
}

// Each connection joins something to what is there already, and all of them together join
// exactly the terminals of each net: computed here by merging sets of ends.
func TestConnectionsWireEveryTerminal(t *testing.T) {
	for name, b := range modeltest.Every(t, 30) {
		n := wired(b)
		group := map[string]string{Ground: Ground, Rail: Rail}
		ends := map[string]string{Ground: Ground, Rail: Rail} // the net of each end
		for _, p := range n.Parts {
			require.NotEmpty(t, p.Terminals, "%s: %s", name, p.ID)
			for _, terminal := range p.Terminals {
				end := End{p.Called(b), terminal.Name}.String()
				_, twice := ends[end]
				require.False(t, twice, "%s: %s stands twice", name, end)
				ends[end], group[end] = terminal.Net, end
			}
		}
		ids := map[string]bool{}
		for _, c := range n.Connections {
			require.False(t, ids[c.ID], "%s: %s stands twice", name, c.ID)
			ids[c.ID] = true
			from, to := c.From.String(), c.To.String()
			require.Contains(t, ends, from, name)
			require.Contains(t, ends, to, name)
			require.NotEmpty(t, c.Expect, "%s: %s has no check", name, c.ID)
			old, with := root(group, from), root(group, to)
			require.NotEqual(t, old, with, "%s: %s joins what is joined", name, c.ID)
			group[old] = with
		}
		netOf, rootOf := map[string]string{}, map[string]string{}
		for end, net := range ends {
			r := root(group, end)
			if netOf[r] == "" {
				netOf[r] = net
			}
			if rootOf[net] == "" {
				rootOf[net] = r
			}
			require.Equal(t, net, netOf[r], "%s: %s is joined to more than it should", name, end)
			require.Equal(t, r, rootOf[net], "%s: %s is not joined to all that it should", name, end)
		}
		used := map[string]int{}
		for _, net := range ends {
			used[net]++
		}
		for net, count := range used {
			assert.True(t, count > 1 || net == Ground || net == Rail, "%s: nothing else is on %s", name, net)
		}
	}
}

// root is the end that stands for all that one is joined to.
func root(group map[string]string, end string) string {
	for group[end] != end {
		end = group[end]
	}
	return end
}

// What feeds the clock comes first and the meters last; a terminal is joined to what was
// joined before, but where a part's own other lead waits for it.
func TestConnectionsInOrder(t *testing.T) {
	for name, b := range modeltest.Every(t, 30) {
		n := wired(b)
		if len(n.Connections) == 0 {
			continue
		}
		assert.Equal(t, "Supply", n.Connections[0].Section, name)
		first := slices.IndexFunc(n.Connections, func(c Connection) bool { return c.Meter })
		for k, c := range n.Connections {
			assert.Equal(t, first >= 0 && k >= first, c.Meter, "%s: %s", name, c.ID)
		}
		if len(b.Hands) > 0 {
			assert.Len(t, n.Connections[first:], 2*len(b.Hands), name)
		}
	}
}

// An id says which part and which lead: it stays while other parts come and go.
func TestConnectionsKeepTheirIDs(t *testing.T) {
	text := modeltest.Example("reading-room")
	ids := func(text string) (all []string) {
		for _, c := range wired(modeltest.Sound(t, text)).Connections {
			all = append(all, c.ID)
		}
		return all
	}
	before, after := ids(text), ids(modeltest.With(t, text, "rail.capacitor", "0 F", "hand.hours.drive.stage", "330 Ω", "hand.hours.meter.diodes", "silicon"))
	assert.Contains(t, after, "hand.hours.stage.one-end")
	for _, id := range before {
		if id != "rail.capacitor.plus" && id != "rail.capacitor.minus" {
			assert.Contains(t, after, id)
		}
	}
}

// By hand, of reading-room at 6:00: code 120 of 256 gives 5 V × 120/256 = 2.34375 V; at the
// top, 500 µA through 9375 Ω, the code is twice that, so 250 µA flow now: 12.5 mV inside the
// pin, 2.05 V across 8.2 kΩ, 0.16 V across 640 Ω. The lamps: (5 − 1.95) V / 1.5 kΩ = 2.0333
// mA, two of them half the time.
func TestFlowByHand(t *testing.T) {
	n := wired(modeltest.Sound(t, modeltest.Example("reading-room")))
	f := n.At(n.Shares(0, 0.5))
	h := f.Hands[0]
	assert.Equal(t, "2.344 V", h.Driven.Text())
	assert.Equal(t, "250.0 µA", h.Current.Text())
	assert.Equal(t, "2.331 V", h.Chain[0].Behind.Text())
	assert.Equal(t, "2.050 V", h.Chain[1].Across.Text())
	assert.Equal(t, "0.160 V", h.Chain[3].Across.Text())
	resistor, _, led, current := n.LampFlow(0)
	assert.Equal(t, []string{"3.050 V", "1.950 V", "2.033 mA"}, []string{resistor.Text(), led.Text(), current.Text()})
	assert.Equal(t, "2.033 mA", f.Supply.Pins[1].Amps.Text())
	assert.Equal(t, "1.600 mA", f.Supply.Own.Text())
}

// The printed volts are those of the wired parts: an independent computation by the nodes of
// the parts and nets themselves, with what is inside pin and meter added, in 200 bits.
func TestFlowByNodes(t *testing.T) {
	judged := 0
	for name, b := range modeltest.Every(t, 30) {
		n := wired(b)
		for i := range b.Hands {
			f := n.At(n.Shares(i, 0.7)).Hands[i]
			if !f.Driven.Known || f.Needle.Code == 0 {
				continue
			}
			judged++
			volts := nodesOf(n, i, &f)
			for k := range f.Chain[:len(f.Chain)-1] {
				got, want := f.Chain[k].Behind, volts[k]*math.Abs(f.Needle.Pin)
				require.True(t, got.Known, name)
				printed := float64(got.Last) * math.Pow10(-got.Of.Decimals) * got.Of.Factor
				assert.InDelta(t, want, printed, 0.51*math.Pow10(-got.Of.Decimals)+1e-9*math.Abs(want), "%s: hand %s behind %s", name, b.Hands[i].Name, f.Chain[k].Part)
			}
		}
	}
	assert.Greater(t, judged, 60)
}

// nodesOf are the voltages behind each of a hand's chain for 1 V of its driver, by the nets of
// its parts.
func nodesOf(n *Network, i int, f *HandFlow) []float64 {
	c := &n.Plan.Circuit.Hands[i]
	id := "hand." + n.Build.Hands[i].Name + "."
	nets := map[string]int{Ground: 0, "driver": 1}
	at := func(net string) int {
		if _, there := nets[net]; !there {
			nets[net] = len(nets)
		}
		return nets[net]
	}
	begin := at(id + "pin")
	if c.Switched {
		begin = at(id + "switch")
	}
	var branches []nodal.Branch
	add := func(from, to int, ohms float64) {
		branches = append(branches, nodal.Branch{From: from, To: to, Ohms: ohms})
	}
	back, inside := 0, c.Pin
	if c.Bridge {
		back, inside = at(id+"back"), c.Pin/2
	}
	high, low := 1, 0
	if f.Down {
		high, low = 0, 1
	}
	add(high, begin, inside)
	if c.Bridge {
		add(low, back, inside)
	}
	meter := 0
	for k := range n.Parts {
		p := &n.Parts[k]
		if p.Hand != i {
			continue
		}
		switch p.Kind {
		case Resistor, Trimmer:
			if p.ID == id+"pull" {
				continue
			}
			ohms := p.Value.Number
			if p.Kind == Trimmer {
				ohms = c.InForce()
			}
			last := p.Terminals[len(p.Terminals)-1].Net
			add(at(p.Terminals[0].Net), at(last), ohms)
		case Meter:
			meter = at(p.Terminals[0].Net)
		}
	}
	coil := at("coil")
	add(meter, coil, c.Multiplier)
	add(coil, back, c.Coil)
	if !math.IsInf(c.Shunt, 1) {
		add(coil, back, c.Shunt)
	}
	v := nodal.Voltages(len(nets), branches)
	var behind []float64
	for _, d := range f.Chain {
		switch {
		case d.Inside == "pin":
			behind = append(behind, v[begin])
		case d.Inside == "multiplier":
			behind = append(behind, v[coil])
		case d.Inside == "coil":
			behind = append(behind, v[back])
		case d.Inside == "":
			p := n.Find(d.Part)
			behind = append(behind, v[nets[p.Terminals[len(p.Terminals)-1].Net]])
		}
	}
	return behind
}

// Figures add up to the last digit, whatever they stand for: exact arithmetic of whole
// numbers is the check.
func TestFigures(t *testing.T) {
	assert.Equal(t, "0.0300 V", Volts(0.03).Round(0.03).Text())
	assert.Equal(t, "-0.055 V", Volts(0.2).Round(-0.0549).Text())
	assert.Equal(t, "500.0 µA", Currents(500e-6).Round(500e-6).Text())
	assert.Equal(t, "1.000 mA", Currents(1e-3).Round(1e-3).Text())
	assert.Equal(t, "99.99 µA", Currents(99.99e-6).Round(99.99e-6).Text())
	assert.Equal(t, "20.00 mA", Currents(20e-3).Round(20e-3).Text())
	assert.Equal(t, "?", Currents(math.NaN()).Round(math.NaN()).Text())
	m := Currents(1)
	assert.Equal(t, m.Round(0.3), m.Round(0.1).Plus(m.Round(0.2)))
}

// What is joined to what, by hand: with all that a hand by its pin may have, the capacitor
// behind the stage resistor; by two transistors; and between two pins.
func TestNodesByHand(t *testing.T) {
	all := modeltest.With(t, modeltest.Example("reading-room"), "hand.hours.drive.stage", "330 Ω", "hand.hours.drive.capacitor_at", "stage",
		"hand.hours.meter.diodes", "silicon", "battery.series_drop", "0.3 V", "lamp.seconds.count", "1") + "\n[[button]]\nname = \"set\"\npull = \"47 kΩ\"\n"
	common := []string{
		"battery.+ battery.diode.plain end",
		"battery.diode.striped end converter.input",
		"converter.output rail.capacitor.+ controller.supply button.set.pull.other end",
		"controller.crystal in crystal.one lead crystal.capacitor_in.one end",
		"controller.crystal out crystal.other lead crystal.capacitor_out.one end",
		"controller.button set button.set.pull.one end button.set.one side",
		"controller.lamp seconds lamp.seconds.1.resistor.one end",
		"lamp.seconds.1.resistor.other end lamp.seconds.1.led.long lead",
	}
	toGround := "battery.− converter.ground rail.capacitor.− controller.ground crystal.capacitor_in.other end crystal.capacitor_out.other end button.set.other side lamp.seconds.1.led.short lead"
	chain := []string{
		"hand.hours.stage.other end hand.hours.capacitor.other end hand.hours.fixed.one end",
		"hand.hours.fixed.other end hand.hours.trimmer.one end",
		"hand.hours.trimmer.wiper hand.hours.trimmer.other end hand.hours.diode_1.plain end hand.hours.diode_2.striped end hand.hours.meter.+",
	}
	back := " hand.hours.capacitor.one end hand.hours.diode_1.striped end hand.hours.diode_2.plain end hand.hours.meter.−"
	for by, want := range map[string][]string{
		"pin": {"controller.pin hours hand.hours.stage.one end", toGround + back},
		"switch": {"controller.pin hours hand.hours.pull.one end hand.hours.upper.gate hand.hours.lower.gate", "hand.hours.upper.drain hand.hours.lower.drain hand.hours.stage.one end",
			toGround + " hand.hours.lower.source" + back},
		"bridge": {"controller.pin hours up hand.hours.stage.one end", toGround, "controller.pin hours down" + back},
	} {
		want = append(append(want, common...), chain...)
		if by == "switch" {
			want[5] += " hand.hours.pull.other end hand.hours.upper.source"
		}
		joined := map[string][]string{}
		for _, p := range wired(modeltest.Sound(t, modeltest.With(t, all, "hand.hours.drive.by", by, "hand.hours.meter.zero_at", "centre"))).Parts {
			for _, terminal := range p.Terminals {
				joined[terminal.Net] = append(joined[terminal.Net], p.ID+"."+terminal.Name)
			}
		}
		var got []string
		for _, ends := range joined {
			got = append(got, alike(strings.Join(ends, " ")))
		}
		for k := range want {
			want[k] = alike(want[k])
		}
		assert.ElementsMatch(t, want, got, by)
	}
}

// alike is a list of ends whose order does not matter.
func alike(ends string) string {
	words := strings.Fields(ends)
	slices.Sort(words)
	return strings.Join(words, " ")
}
