package words

// unitWords are units, and signs of the workings.
var unitWords = []Word{
	{"Ah", "mAh, amp-hour, amperehour, amperehours, amphour, amphours, amp-hours", "Ampere-hour: an ampere for an hour, or a tenth of one for ten hours. A thousandth is 1 mAh.", "capacity, ampere"},
	{"ampere", "mA, µA, μA, uA, nA, amp, amps, mAmps, milliampere, milliamps, microampere, microamps", "The unit of current. A thousandth is 1 mA, a millionth 1 µA; meters for clocks take 50 µA to some mA.", "current"},
	{"degree", "°C", "The unit of temperature, °C. Also that of angles: a full turn has 360.", "kelvin"},
	{"exp", "", "Of a working: e, 2.718, to the power of what follows.", "ln"},
	{"farad", "µF, uF, nF, pF, fF, mF, picofarad", "The unit of capacitance. A millionth is 1 µF, a millionth of that 1 pF, a thousandth of that 1 fF.", "capacitance, capacitor"},
	{"henry", "mH, µH, henrys, henries", "The unit of inductance.", "inductance"},
	{"hertz", "Hz, kHz, MHz", "The unit of frequency: once a second. 1 kHz is a thousand times, 1 MHz a million times.", "frequency"},
	{"kelvin", "K", "A degree, where a difference of temperature is meant.", "degree"},
	{"ln", "log, logarithm", "A logarithm, on a calculator ln: to which power 2.718 must be raised to give the number.", "exp"},
	{"ohm", "Ω, kR, MR, mR, kΩ, MΩ, mΩ, GΩ, kilohm, kilohms, megohm, megohms, milliohms, meg, megs", "The unit of resistance. 1 kΩ is a thousand, 1 MΩ a million.", "resistance, resistor"},
	{"radian", "", "The unit of angles in computing: a full turn has 6.283.", "degree"},
	{"siemens", "µS, mS, conductance", "The unit of conductance: amperes for each volt, the ohm turned over.", "transconductance"},
	{"volt", "V, mV, µV, kV, millivolt, millivolts", "The unit of voltage. A fresh AA cell has 1.6 V; a thousandth is 1 mV.", "voltage"},
	{"watt", "mW, W, µW, dissipation", "The unit of power: volts times amperes. In a resistor all of it turns to heat.", "rating"},
}
