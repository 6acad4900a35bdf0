package model

import "strings"

// Evidence are the fields that say how a thing is: what was measured or read off, how
// far it may be off, what it came out of and how it stands. Whoever has the thing in
// hand knows them; no advice may make them up.
var evidence = strings.Fields(`
rail.voltage rail.drift rail.trimmed_at rail.maximum
hand.meter.coil hand.meter.coil_copper hand.meter.full_scale hand.meter.class hand.meter.sweep
hand.meter.law hand.meter.table hand.meter.inductance hand.meter.period hand.meter.overshoot hand.meter.damping
hand.meter.movement_tempco hand.meter.internal hand.meter.internal_kind hand.meter.origin hand.meter.removed
hand.meter.overload hand.meter.stop hand.meter.zero_offset hand.meter.stick hand.meter.position_for
hand.meter.position hand.meter.panel_for hand.meter.panel hand.meter.trimmed_in_place hand.meter.diameter hand.meter.neighbour
hand.drive.pin_resistance hand.drive.pin_limit hand.drive.pin_high hand.drive.pin_low hand.drive.pin_tempco hand.drive.resistor_tempco
crystal.stray crystal.motional crystal.shunt crystal.esr crystal.transconductance crystal.tolerance crystal.ageing
crystal.curvature crystal.turnover crystal.room_low crystal.room_high crystal.measured crystal.measured_at crystal.lost_counts
load.controller_on load.controller_off load.package_limit
lamp.forward lamp.pin_resistance drain.on drain.off drain.from reading.at reading.value`)

// Choices are all others: parts that are bought, with what comes with them, what the
// firmware is given, the dial, and how the clock is used.
var choices = strings.Fields(`
format title hand.name hand.shows hand.noon hand.correct hand.mark hand.meter.in_circuit hand.meter.diodes
hand.drive.clock hand.drive.prescale hand.drive.counts hand.drive.top hand.drive.duty_offset hand.drive.rounding hand.drive.pwm_wanted hand.drive.ramp_tick
hand.drive.stage hand.drive.fixed hand.drive.trimmer hand.drive.trimmer_turns hand.drive.setting hand.drive.resistor_rating
hand.drive.capacitor hand.drive.capacitor_at hand.drive.capacitor_kind hand.drive.capacitor_rating rail.capacitor
crystal.frequency crystal.load crystal.capacitor_in crystal.capacitor_out
crystal.counter_bits crystal.prescale crystal.reload crystal.tick_counted
battery.cell battery.cells battery.capacity battery.cutoff battery.resistance battery.resistance_end battery.series_drop
battery.self_discharge battery.shelf battery.curve
converter.kind converter.efficiency converter.quiescent converter.minimum_input converter.dropout
load.hours_on load.minimum_voltage
lamp.name lamp.resistor lamp.lit lamp.count lamp.resistor_rating drain.name button.name button.pull button.wakes`)
