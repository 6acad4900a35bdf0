package main

import (
	"bytes"
	"encoding/json"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/working"
	"example.com/needlewright/model/working/reader"
)

// printed is what the program prints, which it does with one of two exit statuses.
func printed(t *testing.T, args ...string) string {
	t.Helper()
	var out, complaint bytes.Buffer
	status := run(args, strings.NewReader(""), &out, &complaint)
	require.True(t, status == fine || status == faulty, "%v: %s", args, complaint.String())
	return out.String()
}

// TestPrintedWorkings reads what "working" prints of each result and chosen part of each
// example, with a calculator that shares nothing with the program, and holds its last exact
// line to what "check --json" prints. Random builds: model/working, TestPrintedOfAnyBuild.
func TestPrintedWorkings(t *testing.T) {
	files, err := filepath.Glob(filepath.Join("..", "..", "examples", "*.toml"))
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			t.Parallel()
			values := valuesOf(t, file)
			b, problems := model.Read(content(t, file))
			require.Empty(t, problems)
			p := new(circuit.Plan)
			circuit.Evaluate(b, p)
			lines, results := 0, 0
			for _, id := range working.IDs(b, p) {
				read, err := reader.Lines(printed(t, "working", file, id))
				require.NoError(t, err, id)
				for k := range read {
					if l := &read[k]; l.Expression != "" {
						_, err := l.Check()
						assert.NoError(t, err, "%s: %s", id, l)
						lines++
					}
				}
				if v, ok := values[id]; ok {
					assert.NoError(t, reader.Tells(read, v.Value, v.Unit), id)
					results++
				}
			}
			assert.Len(t, values, results, "results that have no working")
			t.Logf("%d lines that hold, of %d results and %d parts", lines, results, len(working.IDs(b, p))-results)
		})
	}
}

// A resultJSON is a result of "check --json".
type resultJSON struct {
	ID, Unit string
	Value    float64
}

func valuesOf(t *testing.T, file string) map[string]resultJSON {
	var report struct{ Results []resultJSON }
	require.NoError(t, json.Unmarshal([]byte(printed(t, "check", "--json", file)), &report))
	require.NotEmpty(t, report.Results)
	values := map[string]resultJSON{}
	for _, r := range report.Results {
		values[r.ID] = r
	}
	return values
}
