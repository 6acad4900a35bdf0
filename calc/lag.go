package calc

// Lag returns how far behind its place a needle is at the end of each dt seconds
// (over 0) when its target goes on by one step every dt, as it has for long: a
// share of the step, below 0 where it swings ahead. A needle that is quick enough
// has none. It is the sum of Remaining over dt, 2·dt, 3·dt ... NaN without
// damping where the swings never die.
//
// In the frame that goes on with the target, place and speed at the end of a dt
// are what Advance makes of those at the end of the one before, less a step:
// s = M·(s - (1, 0)), two equations for s.
//
// Source: derived
func (m Movement) Lag(dt float64) float64 {
	place, speed := m.Advance(Swing{Place: 1}, 0, dt), m.Advance(Swing{Speed: 1}, 0, dt)
	a, b, c, d := 1-place.Place, -speed.Place, -place.Speed, 1-speed.Speed // I - M
	return (place.Place*d - place.Speed*b) / (a*d - b*c)
}
