package walk

import (
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/modeltest"
)

// Birthplace of the order, of what is a hand's and of the ids that are signed: the contract,
// catalogue.md, "Stages".
func TestStagesAreTheContracts(t *testing.T) {
	var ids, hands []string
	for _, s := range Stages {
		ids = append(ids, s.ID)
		if s.OfHand {
			hands = append(hands, s.ID)
		}
	}
	assert.Equal(t, strings.Fields("survey drive smooth time power dial build bring-up set write-up"), ids)
	assert.Equal(t, strings.Fields("survey drive smooth dial bring-up set"), hands)
	assert.Equal(t, ids, model.StageIDs)
	signed := map[string][]string{}
	for _, s := range Stages {
		for _, page := range s.Pages {
			for _, q := range page {
				if q.Sign != "" {
					signed[s.ID] = append(signed[s.ID], q.Sign)
				}
			}
		}
	}
	assert.Equal(t, map[string][]string{
		"survey": {"from-dial"}, "smooth": {"no-hum"}, "time": {"set-weekly"}, "dial": {"ruler-true"}, "build": {"parts-ticked"},
		"bring-up": {"first-power", "needle-steady"}, "set": {"ran-a-day"}, "write-up": {"accepted"},
	}, signed)
	for _, id := range model.MetIDs {
		assert.Contains(t, signs, id)
	}
	assert.Len(t, signs, len(model.MetIDs))
}

// The table names nothing that is not there: fields, results, findings and test points.
func TestStagesNameWhatIsThere(t *testing.T) {
	catalogue := modeltest.FileText("../catalogue.md")
	d := finished(t)
	results := resultIDs()
	for _, s := range Stages {
		for _, page := range s.Pages {
			assert.True(t, len(page) >= 1 && len(page) <= 3, "%s asks for %d things at once", s.ID, len(page))
			for _, q := range page {
				assert.NotEmpty(t, q.What)
				assert.LessOrEqual(t, utf8.RuneCountInString(q.What), 41, "%s: beside a drawing", q.What)
				assert.LessOrEqual(t, utf8.RuneCountInString(q.How), 3*40, "%s: three rows", q.What)
				assert.Len(t, slices.DeleteFunc([]string{q.Field, q.Point, q.Sign}, func(s string) bool { return s == "" }), 1, q.What)
				if q.Field != "" {
					assert.NotNil(t, model.Builds.Field(q.Field), q.Field)
				}
				if q.Point != "" {
					assert.NotEmpty(t, planned(t, d, "hours."+q.Point))
				}
			}
		}
		for _, id := range s.Shows {
			assert.Contains(t, results, id, s.ID)
		}
		for _, path := range s.rests.paths {
			assert.NotNil(t, model.Builds.Field(path), path)
		}
		assert.LessOrEqual(t, utf8.RuneCountInString(s.Caution), 2*58, "%s: two rows of the narrowest screen", s.ID)
		assert.LessOrEqual(t, utf8.RuneCountInString(s.Purpose), 2*74, "%s: two rows beside a frame of 80", s.ID)
		assert.Regexp(t, `^[A-Z].*[.;:,].*\.$`, s.Purpose, s.ID)
	}
	for _, id := range harmful {
		assert.Contains(t, catalogue, "`"+id+"`")
	}
}

// resultIDs are those of the table of results.
func resultIDs() (ids []string) {
	for k := range circuit.Results {
		ids = append(ids, circuit.Results[k].ID)
	}
	return ids
}
