// Package calc holds the formulas of a meter clock: the meter and its series
// resistance, the pulse-width-modulated (PWM) pin and its filter, the needle's
// motion, the crystal and its counter, the cells and how long they last, and
// how far a result spreads with its parts.
//
// Every function is pure: plain numbers in, plain numbers out, no file, clock,
// chance or screen. Units are SI (V, A, Ω, F, H, Hz, S, s) with these
// exceptions, which the trade uses: frequency offsets in ppm (+ is fast), rates
// in seconds a day (+ is fast), temperatures in °C, capacity in Ah, life in h.
// Shares (of full-scale current, of the scale, of a cell's charge) are
// fractions. Each comment states the range of its arguments; who calls keeps to
// it (model's field table holds the limits). What has no answer within it is NaN
// or an infinity, as the comment says, never a number that looks like an answer.
//
// # Sources
//
//   - [Kuphaldt] T. Kuphaldt, Lessons In Electric Circuits, Vol. I (DC), ch. 8 "DC Metering Circuits"
//   - [Bird] J. Bird, Electrical Circuit Theory and Technology, ch. 10
//   - [Bakshi] U. A. and A. V. Bakshi, Electronic Instrumentation and Measurements
//   - [IEC60028] IEC 60028:1925, International standard of resistance for copper (from memory; its figures read second-hand)
//   - [Levido] A. Levido, "PWM DAC Ripple Reduction", Circuit Cellar, 7 Nov 2022, eq. 1-2
//   - [Ponikvar] D. Ponikvar, PWM digital-to-analogue converter on a watch crystal, EDN Design Ideas
//   - [Ogata] K. Ogata, Modern Control Engineering, ch. 5, second-order systems (from memory)
//   - [SLAA423] Texas Instruments SLAA423A (Dec 2009, rev. Nov 2018), crystal oscillators, "Load capacitance"
//   - [AN2867] STMicroelectronics AN2867, oscillator design guide, gain margin (Rev 18, read second-hand)
//   - [TF20] TF20 tuning-fork crystal data sheet 008-0353-0 Rev C
//   - [E2E1074967] Texas Instruments E2E thread 1074967, input current of a step-up converter
//   - [Fritsch] F. N. Fritsch and J. Butland, A method for constructing local monotone piecewise cubic interpolants, SIAM J. Sci. Stat. Comput. 5 (1984) 300-304, as gonum's interp has it
//   - [JCGM100] JCGM 100:2008, Evaluation of measurement data, Guide to the expression of uncertainty in measurement (from memory)
//   - [Catalogue] the project's own definitions, model/catalogue.md
package calc
