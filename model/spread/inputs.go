package spread

import (
	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/quantity"
)

// An Input is a value of a build that is known only to within a tolerance.
type Input struct {
	Field *model.Field
	Index int // of its hand or lamp

	offset bool // it is what the value allows, not the value: the crystal's own offset
}

// Path is the path of the value: "hand.hours.meter.coil".
func (in Input) Path(b *model.Build) string { return in.Field.PathOf(b, in.Index) }

// crystalTolerance is an input by its own value: how far the crystal may be off,
// either way.
const crystalTolerance = "crystal.tolerance"

// inputs are those of a build, in the order of the fields: each value with a
// tolerance, and the crystal's, where its frequency was not measured.
func inputs(b *model.Build) []Input {
	var all []Input
	for _, f := range model.Builds.Fields {
		if f.IsRow() {
			continue
		}
		for i := range f.Of(b) {
			v, ok := f.At(b, i).(*quantity.Value)
			if !ok || !v.Given() {
				continue
			}
			if f.Path == crystalTolerance && v.Number > 0 && !b.Crystal.Measured.Given() {
				all = append(all, Input{Field: f, Index: i, offset: true})
			}
			if v.High() > v.Low() {
				all = append(all, Input{Field: f, Index: i})
			}
		}
	}
	return all
}

// A kit is a copy of a build whose inputs can be set to what one set of parts has
// of them.
type kit struct {
	build  *model.Build
	inputs []Input
	at     []*quantity.Value // of the inputs, in the copy
	whole  []quantity.Value  // as the build gives them
}

func newKit(b *model.Build) *kit {
	k := &kit{build: b.Changed(nil), inputs: inputs(b)}
	if !b.Crystal.TickCounted.Given() { // the firmware counts the nominal frequency's tick, whatever a kit's crystal is
		k.build.Crystal.TickCounted = quantity.Value{Number: circuit.WireCrystal(b).TickCounted}
	}
	for _, in := range k.inputs {
		v := in.Field.At(k.build, in.Index).(*quantity.Value)
		k.at, k.whole = append(k.at, v), append(k.whole, *v)
	}
	return k
}

// set gives an input a place between the ends of its tolerance, -1 to 1: it is
// known exactly then. The crystal's tolerance becomes an offset of its own.
func (k *kit) set(input int, place float64) {
	v := k.whole[input]
	if k.inputs[input].offset {
		k.build.Crystal.PutOff(place * v.Number)
		return
	}
	middle := v.Number
	reach := v.High() - middle
	if place < 0 {
		reach = middle - v.Low()
	}
	*k.at[input] = quantity.Value{Number: middle + place*reach}
}

// reset gives an input back its value and its tolerance.
func (k *kit) reset(input int) {
	if k.inputs[input].offset {
		k.build.Crystal.PutOff(0)
		return
	}
	*k.at[input] = k.whole[input]
}
