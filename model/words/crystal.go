package words

// crystalWords are those of what keeps the time.
var crystalWords = []Word{
	{"ageing", "", "The slow change of a part with the years; of a crystal mostly in the first.", "crystal, ppm"},
	{"beat", "", "One of the even steps of something that swings.", "frequency, counter"},
	{"crystal", "watch crystal", "A tiny tuning fork of stone. Kept swinging by a little current, it gives 32 768 beats a second, nearly always the same.", "oscillator, ppm, load"},
	{"curvature", "", "How fast a crystal falls behind as it gets warmer or colder than its turnover: with the square of the degrees.", "turnover, parabola"},
	{"drift", "drifts, drifted", "A slow change by itself: of a clock's time, of a rail's volts, of a resistor's ohms.", "rate, temperature coefficient"},
	{"ESR", "", "Equivalent series resistance: what a crystal loses while it swings. The more, the harder it starts.", "gain margin, crystal"},
	{"gain margin", "margin", "How many times over the oscillator has what the crystal needs to start. By common practice it should be 5 or more.", "transconductance, ESR"},
	{"load", "loads, loaded, loading, specified load", "What draws current from a supply. Of a crystal: the capacitance across it with which it swings as fast as it is sold for. To load a counter is to put a number into it.", "load capacitor, supply, reload"},
	{"load capacitor", "load capacitors, load capacitance", "One of the two small capacitors from the crystal's ends to ground. With the stray they make its load.", "load, stray"},
	{"lost counts", "", "Counts that slip by each time the counter is loaded anew. They make a clock slow, never fast.", "counts, reload"},
	{"motional", "", "Of the crystal's own swinging, which acts like a tiny capacitance. The larger it is, the more the load changes the speed.", "crystal, load"},
	{"offset", "", "How far something is shifted from where it should be.", "ppm, duty offset"},
	{"oscillator", "oscillation", "The circuit that keeps the crystal swinging.", "crystal, gain margin"},
	{"circuit", "", "Parts joined so that current can go round.", "node, ground"},
	{"parabola", "", "The curve that a square makes, such as the path of a ball that is thrown.", "curvature, square"},
	{"ppm", "parts per million", "Parts per million. A clock that is 1 ppm fast gains a second in some 12 days; 20 ppm are 1.7 s a day.", "rate, crystal"},
	{"rate", "", "How many seconds a day the clock gains (+) or loses (−).", "ppm, drift"},
	{"stray", "strays", "Capacitance that nobody put there: of tracks, pins and wires beside each other. A clock strays when it does not keep time.", "capacitance, load"},
	{"tick", "", "One step of the program's time, at each overflow of its counter. A ramp has ticks of its own.", "overflow, ramp"},
	{"transconductance", "Transconduct", "How much current the oscillator gives for each volt at its input. Enough of it starts the crystal.", "gain margin, siemens"},
	{"turnover", "", "The temperature at which a crystal runs fastest, some 25 °C. Warmer or colder, it falls behind.", "curvature, crystal"},
	{"wrap", "", "The instant when a dial is at its end and begins anew, as at 12 sharp.", "dial, ramp"},
}
