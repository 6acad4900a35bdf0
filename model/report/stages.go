package report

import "example.com/needlewright/model/walk"

// Walk returns where the work on the build stands; of a build without its document that is
// not known, and there are no stages.
func (r *Report) Walk() *walk.Walk {
	if r.doc == nil {
		return &walk.Walk{}
	}
	return walk.Of(r.doc, r.Findings)
}

// A stageJSON is a stage in the form of the catalogue.
type stageJSON struct {
	ID    string   `json:"id"`
	Hand  string   `json:"hand"`
	State string   `json:"state"`
	Needs []string `json:"needs"`
	Met   []string `json:"met"`
}

func (r *Report) stages() []stageJSON {
	all := []stageJSON{}
	for _, s := range r.Walk().States {
		all = append(all, stageJSON{s.ID, s.Hand, s.State, s.Needs(), s.Met()})
	}
	return all
}
