package words

// safetyWords are those of the dangers. What may be done is for local codes and licensed
// practice to say.
var safetyWords = []Word{
	{"asbestos", "", "A mineral of thin threads, in old boards that had to stand heat. Its dust makes ill for life: do not drill, break or sand it.", "local codes"},
	{"cadmium", "", "A poisonous metal; old cases and screws are plated with it. Do not sand them, and wash your hands.", ""},
	{"caustic", "potash, lye", "Burning skin and eyes. Rinse with much water; eyes: see a doctor.", "leak"},
	{"current transformer", "current-transformer", "It stands between mains and a meter. With its leads open it makes deadly volts: not to be worked on here.", "mains, licensed practice"},
	{"flux", "rosin", "What makes solder flow. Its fume hurts the lungs; what is left of it on a board may let a little current through.", "solder, fume"},
	{"fume", "", "What rises from hot solder and flux. Do not breathe it: air the room, or draw it off.", "flux, solder"},
	{"fuse", "fused", "A thin wire that melts when the current is too large.", "short circuit"},
	{"isolated", "insulate, isolation", "Without any way for current between the two sides.", "plug-in supply, mains"},
	{"licensed practice", "licensed", "People who are allowed by law to work on it.", "local codes"},
	{"local codes", "local rules, codes and licensed", "The rules for such work where you live. They go before anything that is said here.", "licensed practice"},
	{"mains", "", "The power from the socket in the wall. It kills. Nothing is joined to it but a bought, closed supply.", "plug-in supply"},
	{"mercury", "", "A liquid metal, poisonous to breathe, in some old switches. Leave them whole.", "local codes"},
	{"PCB", "", "A poisonous oil in old capacitors that are filled with oil. Do not open them.", "capacitor, local codes"},
	{"radium", "radioactive", "What old glowing paint may hold. Its dust stays in the body and harms for life: never open, scrape or sand such a dial, also where it glows no more.", "tritium, dial"},
	{"relay", "", "A switch that a coil moves.", "switch, coil"},
	{"selenium", "", "A poisonous element, in the plates of old rectifiers. Do not heat them.", "rectifier"},
	{"survey meter", "", "An instrument that tells whether something is radioactive, also where nothing glows.", "radium"},
	{"swarf", "", "The chips of metal that drilling and filing leave. In a meter's gap they stop the needle.", "gap"},
	{"switchgear", "", "The large switches of a power plant or a factory.", "switch, asbestos"},
	{"transformer", "", "Two coils on one iron: it makes of AC another voltage.", "AC, mains"},
	{"tritium", "", "What newer glowing hands and figures may hold. Leave them closed and whole.", "radium"},
	{"vinegar", "", "A mild acid from the kitchen. It cleans what an alkaline cell left on contacts, with no cell in.", "alkaline, contact"},
}
