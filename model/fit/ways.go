package fit

import (
	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/quantity"
)

// The ids of the ways.
const (
	direct   = "direct"
	filter   = "filter"
	half     = "half"
	bridge   = "bridge"
	switched = "switch"
	rail     = "rail"
	opened   = "opened"
)

// A way is one of those in which a meter can be driven: one row of the table.
type way struct {
	id string
	// when says whether it may be tried: by closed forms, before any part is chosen.
	when func(c *candidate) bool
	// sets is what makes it, before series resistance and filter are chosen.
	sets func(c *candidate) []set
	// where its capacitor may stand.
	where judge.Place
	// needs is what it takes besides resistors and capacitor, in words; nil: nothing.
	needs func(c *candidate) []string
}

// A set is a value that a way asks for: of the hand, or of the whole build.
type set struct{ path, text string }

// ways is the table of them, in the order in which they are tried: a filter of its own is
// looked for where the one before is not quiet.
var ways = []way{
	{id: direct, where: judge.AtCoil,
		when: func(c *candidate) bool { return !c.isCentred() && c.pinCarries() && c.reachesBy(c.byPin()) },
		sets: (*candidate).byAPin},
	{id: filter, where: judge.AtStage,
		when: func(c *candidate) bool {
			return !c.isCentred() && c.pinCarries() && c.reachesBy(c.byPin()) && c.noisy
		},
		sets: (*candidate).byAPin},
	{id: half,
		when: func(c *candidate) bool { return c.isCentred() && c.pinCarries() && c.reachesBy(c.byPin()) },
		sets: (*candidate).byAPin,
		needs: func(*candidate) []string {
			return []string{"a dial for half of its scale"}
		}},
	{id: bridge,
		when: func(c *candidate) bool {
			return c.isCentred() && c.goesEitherWay() && c.pinCarries() && c.reachesBy(c.byTwoPins())
		},
		sets: func(*candidate) []set { return []set{{"hand.drive.by", "bridge"}} },
		needs: func(*candidate) []string {
			return []string{"a second pin; the firmware holds both low at reset"}
		}},
	{id: switched,
		when: func(c *candidate) bool { return !c.pinCarries() && c.switchCarries() && c.reachesBy(c.bySwitch()) },
		sets: (*candidate).byASwitch, needs: (*candidate).switchNeeds},
	{id: rail,
		when: func(c *candidate) bool { return c.switchCarries() && c.railFor() > 0 },
		sets: func(c *candidate) []set { return append(c.byWhatCarries(), c.otherRail()...) },
		needs: func(c *candidate) []string {
			return append(c.switchNeeds(), "a rail of "+quantity.Show(c.railFor(), quantity.Volts, 3))
		}},
	{id: opened,
		when: (*candidate).mayBeOpened, sets: (*candidate).openedUp},
}

func (c *candidate) byAPin() []set { return []set{{"hand.drive.by", "pin"}} }

func (c *candidate) byASwitch() []set {
	if c.drive().By == "switch" {
		return nil
	}
	return []set{{"hand.drive.by", "switch"}, {"hand.drive.switch_resistance", usualSwitchOhms}, {"hand.drive.switch_drop", usualSwitchDrop}}
}

// byWhatCarries is a pin, or what it switches.
func (c *candidate) byWhatCarries() []set {
	switch {
	case !c.pinCarries():
		return c.byASwitch()
	case c.drive().By == "switch" || c.drive().By == "bridge" && !c.isCentred():
		return c.byAPin()
	}
	return nil
}

// switchNeeds is what a switch takes: none where a pin does.
func (c *candidate) switchNeeds() []string {
	if c.pinCarries() {
		return nil
	}
	return []string{
		"two transistors that pull both ways, a P-channel and an N-channel MOSFET with their gates at the pin",
		"pull resistor 10 kΩ from their gates to the rail: it keeps the meter off while the pin floats at reset; the firmware inverts the pin",
	}
}

// otherRail is the rail that reaches, and a step-up where what feeds it is lower.
func (c *candidate) otherRail() []set {
	volts := c.railFor()
	sets := []set{{"rail.voltage", quantity.Show(volts, quantity.Volts, 2) + " ±" + quantity.Show(railWithin, quantity.Percent, 1)}}
	pack := c.circuitPack()
	if b := c.build; b.Battery.HasCells() && b.Converter.Kind != "boost" && pack < volts {
		for _, usual := range judge.UsualConverter("boost") {
			sets = append(sets, set{usual[0], usual[1]})
		}
	}
	return sets
}

// circuitPack is the voltage of the fresh cells, V.
func (c *candidate) circuitPack() float64 {
	if !c.build.Battery.HasCells() {
		return 0
	}
	return float64(c.build.Battery.Cells) * c.build.Battery.Curve[0].Rest
}

// openedUp is the movement alone, with the figures it has or may have.
func (c *candidate) openedUp() []set {
	fullScale, coil, _ := c.movement()
	sets := []set{
		{fullScalePath, fullScale}, {coilPath, coil}, {"hand.meter.in_circuit", "no"}, {"hand.meter.internal_kind", none},
		{internalPath, ""}, {ohmsPath, ""}, {currentPath, ""},
	}
	if c.inside == rectifier {
		sets = append(sets, set{kindPath, "moving coil"}, set{lawPath, "linear"}, set{"hand.meter.table", ""})
	}
	moved := *c
	moved.current = quantity.MustParse(fullScale, quantity.Microamperes).Number
	moved.resistance = quantity.MustParse(coil, quantity.Ohms).Number
	return append(sets, moved.byWhatCarries()...)
}
