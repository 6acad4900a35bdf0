package uitest

import (
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
)

// Sizes are those at which screens are looked at.
var Sizes = [][2]int{{60, 20}, {80, 24}, {120, 40}}

// WithEachList returns a build with a drain and a button more.
func WithEachList(t testing.TB, text string) string {
	t.Helper()
	d := model.Open(text)
	for _, list := range []string{"drain", "button"} {
		var problem *model.Problem
		d, problem = d.Add(list, "spare", -1)
		require.Nil(t, problem)
	}
	return d.Text
}
