package fit

import (
	"math"
	"slices"
	"strings"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/measure"
	"example.com/needlewright/model/quantity"
)

// What stands in for what nobody measured of a movement. Common practice, no source.
const (
	mostBare      = 0.5  // V across a moving coil at full scale; more, and a multiplier is inside
	behindShunt   = 0.06 // V at full scale of a movement behind a shunt, which is made for 50 to 75 mV
	usualMovement = 1e-3 // A, amid the 0.1 to 10 mA of such movements by their ratio
	mostByItself  = 0.2  // A: no moving coil carries more, a shunt takes the rest
	mostBareCoil  = 10e3 // Ω
)

// Paths of a meter's figures.
const (
	coilPath      = "hand.meter.coil"
	fullScalePath = "hand.meter.full_scale"
	ohmsPath      = "hand.meter.terminal_resistance"
	currentPath   = "hand.meter.terminal_full_scale"
	internalPath  = "hand.meter.internal"
	lawPath       = "hand.meter.law"
	kindPath      = "hand.meter.kind"
)

// Known is what is known of a meter: the texts of its fields, with what stands in for what
// is not, and what is to be measured for that.
type known struct {
	meter   *model.Meter
	texts   map[string]string
	missing []string          // columns, the most telling first
	figures bool              // there are such that a build can be solved with them
	inside  string            // what can be taken out; none: nothing, unknown: nobody knows
	typed   map[string]string // of texts, those that somebody typed
	dial    []string          // paths of texts that the dial alone says
	closed  bool              // coil is of the closed case, which shows more volts than a coil
}

// put puts in the text of a number that nobody measured.
func (k *known) put(path string, x float64) {
	k.texts[path] = quantity.Show(x, model.Builds.Field(path).Unit, 3)
}

// lacks says what is to be measured.
func (k *known) lacks(columns ...string) {
	for _, c := range columns {
		if !slices.Contains(k.missing, c) {
			k.missing = append(k.missing, c)
		}
	}
}

// known works out what a row says of its meter.
func (row *Row) known() *known {
	k := &known{texts: map[string]string{}, inside: row.inside, typed: row.texts}
	for path, text := range row.texts {
		k.texts[path] = text
	}
	if row.inside == "" && row.texts[kindPath] == rectifier {
		k.inside = rectifier
	}
	k.reread()
	k.settle(k.inside)
	k.settleKind()
	for _, path := range k.reread() {
		delete(k.texts, path) // as no meter is: what it follows from is not
		k.figures = k.figures && !slices.Contains([]string{fullScalePath, coilPath, currentPath, ohmsPath}, path)
	}
	k.reread()
	return k
}

// reread reads the meter of the texts, and returns the paths of those that cannot be.
func (k *known) reread() (unread []string) {
	m, problems := meterOf(k.texts)
	k.meter = m
	for _, p := range problems {
		path := "hand." + strings.TrimPrefix(p.Path, "hand."+handName+".")
		if k.texts[path] != "" {
			unread = append(unread, path)
		}
	}
	return unread
}

// settleKind puts in the law of a moving coil, and asks for that of another kind.
func (k *known) settleKind() {
	if k.inside == rectifier && k.texts[kindPath] == "" {
		k.texts[kindPath] = rectifier
	}
	switch k.texts[kindPath] {
	case "", "moving coil", "cross coil":
		if k.texts[lawPath] == "" {
			k.texts[lawPath] = "linear"
		}
	case rectifier:
		k.inside = rectifier
		fallthrough
	default:
		if k.texts[lawPath] == "" {
			k.lacks("law")
		}
	}
}

// settle makes coil and full scale, or what the closed case shows, of what is said.
func (k *known) settle(inside string) {
	m := k.meter
	movement := m.Coil.Given() && m.FullScale.Given()
	terminals := m.TerminalResistance.Given() && m.TerminalFullScale.Given()
	within := inside == multiplier || inside == shunt
	if within {
		k.texts["hand.meter.internal_kind"] = inside
	} else {
		delete(k.texts, internalPath) // of what, is not said
	}
	switch {
	case terminals:
		k.texts["hand.meter.in_circuit"], k.figures = "yes", true
		k.infer(m.TerminalResistance.Number * m.TerminalFullScale.Number)
	case movement && !within && inside != rectifier:
		k.figures = true
		k.closed = k.infer(m.Coil.Number * m.FullScale.Number)
	case movement && within && m.Internal.Given():
		k.texts["hand.meter.in_circuit"], k.figures = "yes", true
	case movement && within:
		k.lacks("inside_value")
	case within || inside == rectifier || k.byDialInside():
		k.settleClosed()
	default:
		k.settleBare()
	}
}

// infer says that a multiplier is inside where the terminals show more volts than a coil.
func (k *known) infer(volts float64) bool {
	if (k.inside == "" || k.inside == unknown) && volts > mostBare {
		k.inside = multiplier
		return true
	}
	return false
}

// byDialInside says whether the dial is one of volts, or of ohms per volt: then a multiplier
// is inside, unless someone looked.
func (k *known) byDialInside() bool {
	volts, _ := measure.Said(k.meter.Marked)
	if k.inside != "" && k.inside != unknown || !(volts > mostBare || k.meter.OhmsPerVolt.Given()) {
		return false
	}
	k.inside = multiplier
	return true
}

// settleClosed makes what a closed case shows of the dial's word and of what was measured.
func (k *known) settleClosed() {
	m := k.meter
	if m.FullScale.Given() && !m.TerminalFullScale.Given() && k.inside == multiplier {
		k.texts[currentPath] = k.texts[fullScalePath] // nothing passes it by
		k.reread()
	}
	if !k.meter.TerminalFullScale.Given() {
		k.lacks("terminal_full_scale")
	}
	if !k.meter.TerminalResistance.Given() {
		k.lacks("terminal_resistance")
	}
	k.takeTheDial()
	resistance, current := k.meter.TerminalResistance, k.meter.TerminalFullScale
	k.figures = resistance.Given() && current.Given()
	if k.figures {
		k.texts["hand.meter.in_circuit"] = "yes"
		k.infer(resistance.Number * current.Number)
	}
}

// takeTheDial puts in what the dial says of the terminals.
func (k *known) takeTheDial() {
	for _, p := range measure.Proposals(k.meter) {
		k.texts[p.Path] = p.Text
		k.dial = append(k.dial, p.Path)
	}
	k.reread()
}

// settleBare makes coil and full scale of a meter in which nothing seems to be: the closed
// case is the movement then. What nobody measured is what the dial says, else what is usual.
func (k *known) settleBare() {
	k.sameAs(fullScalePath, currentPath)
	k.sameAs(coilPath, ohmsPath)
	k.reread()
	current, resistance := k.meter.TerminalFullScale, k.meter.TerminalResistance
	if !current.Given() {
		k.lacks("full_scale")
	}
	if !resistance.Given() && !(k.meter.ShuntDrop.Given() && current.Given()) { // volts over amperes
		k.lacks("coil")
	}
	k.takeTheDial()
	current, resistance = k.meter.TerminalFullScale, k.meter.TerminalResistance
	switch {
	case current.Given() || resistance.Number <= mostBareCoil:
		k.figures = true
		k.onMovement(current, fullScalePath, currentPath, circuit.UsualCoilVoltage/resistance.Number)
		k.onMovement(resistance, coilPath, ohmsPath, circuit.UsualCoilVoltage/current.Number)
	case k.meter.ShuntDrop.Given():
		k.figures = true
		k.put(fullScalePath, usualMovement)
		k.put(coilPath, k.meter.ShuntDrop.Number/usualMovement)
	}
	delete(k.texts, ohmsPath)
	delete(k.texts, currentPath)
}

// sameAs takes a figure of the movement as one of the terminals.
func (k *known) sameAs(path, terminal string) {
	if k.texts[path] != "" && k.texts[terminal] == "" {
		k.texts[terminal] = k.texts[path]
	}
}

// onMovement writes a figure as one of the movement: as typed, as its terminals have it, or
// what is usual.
func (k *known) onMovement(v quantity.Value, path, terminal string, usual float64) {
	switch {
	case k.texts[path] != "":
	case v.Given():
		k.texts[path] = k.texts[terminal]
		if slices.Contains(k.dial, terminal) {
			k.dial = append(k.dial, path)
		}
	default:
		k.put(path, usual)
	}
}

// first is the first of two that is given.
func first(a, b quantity.Value) quantity.Value {
	if a.Given() {
		return a
	}
	return b
}

// movement are the full scale and the coil of what is left once what is inside is taken
// out, as texts; what is not known of them is what is usual. Missing are the columns of
// those that nobody measured; both, where somebody did, for it is to be seen whether they
// are still true.
func (k *known) movement() (fullScale, coil string, missing []string) {
	m := k.meter
	fullScale, coil = k.texts[fullScalePath], k.texts[coilPath]
	measured := m.FullScale.Given()
	if !measured && k.inside == multiplier && m.TerminalFullScale.Given() { // nothing passes it by
		fullScale, measured = k.texts[currentPath], !slices.Contains(k.missing, "terminal_full_scale")
	}
	unit := model.Builds.Field(fullScalePath).Unit
	if fullScale == "" {
		fullScale = quantity.Show(usualMovement, unit, 3)
	}
	if !measured {
		missing = append(missing, "full_scale")
	}
	if coil == "" || k.closed {
		volts := circuit.UsualCoilVoltage
		if k.inside == shunt {
			volts = behindShunt
		}
		missing = append(missing, "coil")
		coil = quantity.Show(volts/quantity.MustParse(fullScale, unit).Number, quantity.Ohms, 3)
	}
	if missing == nil {
		missing = []string{"full_scale", "coil"}
	}
	return fullScale, coil, missing
}

// carriesAmperes says whether its dial, or its terminals, say more current than any moving
// coil carries.
func (k *known) carriesAmperes() (current float64) {
	_, current = measure.Said(k.meter.Marked)
	if k.meter.ShuntDrop.Given() {
		current = math.NaN() // they are the shunt's, outside
	}
	if measured := first(k.meter.TerminalFullScale, k.meter.FullScale); measured.Given() {
		current = measured.Number
	}
	if current > mostByItself {
		return current
	}
	return math.NaN()
}
