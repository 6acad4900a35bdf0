package circuit

import (
	"math"

	"example.com/needlewright/calc"
)

// PPM are the parts per million in one.
const PPM = 1e6 // parts per million in one

// DaysAMonth is a twelfth of the catalogue's year.
const DaysAMonth = calc.HoursAYear / 24.0 / 12

// DaysAYear are the catalogue's.
const DaysAYear = calc.HoursAYear / 24.0

// Solve computes the results of the crystal and its counter; one that does not swing has
// no tick and no rate.
func (c *CrystalCircuit) Solve() CrystalPlan {
	p := CrystalPlan{
		LoadActual:    calc.LoadActual(c.In, c.Out, c.Stray),
		CapacitorEach: calc.CapacitorEach(c.Load, c.Stray),
		TickPeriod:    c.Counter.TickPeriod(c.Frequency),
	}
	p.LoadOffset = c.Pulling.Offset(p.LoadActual, c.Load)
	p.Sensitivity = c.Pulling.Sensitivity(p.LoadActual)
	p.TransconductanceCritical = calc.Oscillation{
		Frequency: c.Frequency, ESR: c.ESR, Shunt: c.Pulling.Shunt, Load: p.LoadActual,
	}.TransconductanceCritical()
	p.GainMargin = c.Transconductance / p.TransconductanceCritical
	p.CapacitorRatio = math.NaN()
	if least := min(c.In, c.Out); least > 0 {
		p.CapacitorRatio = max(c.In, c.Out) / least
	}

	base, unknown := p.LoadOffset, c.Tolerance+c.Ageing
	p.StrayImplied = math.NaN()
	if !math.IsNaN(c.Measured) {
		base = (c.Measured/c.Frequency-1)*PPM + calc.Parabolic(c.Curvature, c.MeasuredAt, c.Turnover)
		unknown = c.Ageing
		p.StrayImplied = c.Pulling.Load(base, c.Load) - calc.LoadActual(c.In, c.Out, 0)
	}
	counted := base + PPM*(c.TickCounted/p.TickPeriod-1)
	least, greatest := calc.ParabolicRange(c.Curvature, c.Turnover, c.RoomLow, c.RoomHigh)
	p.Rate = calc.SecondsADay * (counted + c.Off)
	p.MonthDrift = p.Rate * DaysAMonth
	p.RateLow = calc.SecondsADay * (counted - greatest - unknown)
	p.RateHigh = calc.SecondsADay * (counted - least + unknown)
	if c.Fast != 0 { // another clock is counted
		p.TickPeriod /= 1 + c.Fast
		counted := base + PPM*(c.TickCounted/p.TickPeriod-1)
		p.Rate = calc.SecondsADay * (counted + c.Off)
		p.MonthDrift, p.RateLow, p.RateHigh = p.Rate*DaysAMonth, p.Rate, p.Rate
	}
	p.YearError = DaysAYear * (p.Rate - calc.SecondsADay*calc.ParabolicMean(c.Curvature, c.Turnover, c.RoomLow, c.RoomHigh))
	if c.Stopped {
		n := math.NaN()
		p.TickPeriod, p.Rate, p.MonthDrift, p.RateLow, p.RateHigh = n, n, n, n, n
		p.YearError = n
	}
	return p
}
