//go:build unix && !linux

package file

import (
	"os"
	"testing"
)

// asNobody needs a person without rights; Linux can make one of root.
func asNobody(t *testing.T, _ ...string) {
	t.Helper()
	if os.Geteuid() == 0 {
		t.Skip("root may write everywhere")
	}
}
