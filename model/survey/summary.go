package survey

// A Summary is what is known so far, at any time in a survey.
type Summary struct {
	Resistance Value // Ω, of the closed case at its terminals
	FullScale  Value // A, at its terminals
	Steps      []Step
}

// Summary returns what the answers so far leave of the meter. It takes some milliseconds.
func (s *Survey) Summary() Summary {
	d := s.stands().dialogue
	all := Summary{Resistance: nothing, FullScale: nothing, Steps: d.steps()}
	if v := s.now.verdict; v != nil {
		all.Resistance, all.FullScale = v.Resistance, v.FullScale
	} else if len(d.readings) > 0 {
		p := d.posterior()
		all.Resistance, all.FullScale = p.resistance, p.fullScale
	}
	return all
}

// steps are the readings so far, the needle and the terminals of one connection together
// where they were read after each other.
func (d *dialogue) steps() []Step {
	var all []Step
	for n := range d.readings {
		r := &d.readings[n]
		last := len(all) - 1
		if last < 0 || d.readings[n-1].at != r.at || *all[last].slot(r) != "" {
			all = append(all, Step{Volts: r.at.Volts, Source: d.volts(r.at).text, Series: d.ohms(r.at.Series).text})
			last++
		}
		*all[last].slot(r) = r.text
	}
	return all
}

// slot is where a step has the text of a reading.
func (s *Step) slot(r *reading) *string {
	if r.terminals {
		return &s.Terminals
	}
	return &s.Needle
}
