package working

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/modeltest"
)

func TestLook(t *testing.T) {
	b := modeltest.Sound(t, modeltest.Example("reading-room"))
	p := new(circuit.Plan)
	circuit.Evaluate(b, p)
	for _, o := range circuit.Outcomes(p) {
		w, err := Of(b, p, o)
		if err != nil {
			fmt.Println("ERR", o.ID, err)
			continue
		}
		fmt.Println(o.IDOf(b, o.Index), o.Value)
		for _, s := range w.Steps {
			fmt.Printf("   %-32s %s = %s\n", s.Words, s.Expression, s.Answer)
		}
	}
	_ = assert.True
	_ = require.True
}
