package file

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Law: what was kept is what is read; kept without answers, nothing is.
func TestAnswersAreKept(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "new")
	assert.Nil(t, Answers(folder))
	require.NoError(t, KeepAnswers(folder, nil))
	answers := []string{"salvaged", "no", "free", "0 %", "30 V"}
	require.NoError(t, KeepAnswers(folder, answers))
	assert.Equal(t, answers, Answers(folder))
	require.NoError(t, KeepAnswers(folder, nil))
	assert.Nil(t, Answers(folder))
	list, err := os.ReadDir(folder)
	require.NoError(t, err)
	assert.Empty(t, list, "nothing is left over")

	file := filepath.Join(t.TempDir(), "file")
	require.NoError(t, os.WriteFile(file, nil, 0o600))
	assert.ErrorContains(t, KeepAnswers(file, answers), "see that")
}
