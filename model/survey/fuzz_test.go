package survey

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// FuzzAnswers: whatever is answered, there is either something to ask or a verdict; an answer
// that was taken and taken back leaves what was asked; and no connection lets more through
// than the 1.5 V cell at its most behind the least resistor.
func FuzzAnswers(f *testing.F) {
	f.Add("new\nno\nfree\n0 %\n30 V\nmoving coil\n1.5 V\nnone\n1.5 mV\n3 %")
	f.Add("mains\nyes\nno\nfree\n50 %\n10 A\nunknown\n1.6 V\nbelow\ndone\n-20 %\nnone")
	f.Add("new\nno\nfree\nskip\nskip\nskip\n1.2 V\n5 %\nskip\n5 %\n5 %\n5 %\nover")
	f.Fuzz(func(t *testing.T, text string) {
		s, most := &Survey{}, 2e-6/32
		for _, line := range strings.Split(text, "\n") {
			before, verdict := s.Next()
			if verdict != nil {
				return
			}
			require.NotNil(t, before)
			assert.NotEmpty(t, before.Text)
			if before.Kind == "needle" {
				assert.LessOrEqual(t, before.Current, 32*most, before.Text)
				most = before.Current
			}
			taken := len(s.answers)
			require.NoError(t, s.Answer(line))
			if len(s.answers) > taken {
				kind := before.Kind
				require.NoError(t, s.Answer("back"))
				again, _ := s.Next()
				require.NotNil(t, again)
				assert.Equal(t, kind, again.Kind)
				require.NoError(t, s.Answer(line))
			}
		}
	})
}

func ExampleSurvey() {
	s := &Survey{}
	for _, answer := range []string{"mains", "no"} {
		if err := s.Answer(answer); err != nil {
			fmt.Println(err)
		}
	}
	_, verdict := s.Next()
	fmt.Println(verdict.Verdict + ": " + verdict.Why)
	// Output: stop: Nothing is connected to a meter that is not out of its set for certain. Taking it out is for licensed practice.
}
