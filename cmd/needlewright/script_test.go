package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/examples"
)

// TestStories runs testdata's stories with the built program. Besides
// testscript's own commands they have
//
//	exits STATUS PROGRAM ARGS...   run it; its exit status must be this
//	report                         the last output must be check's JSON
//	holds FILE...                  the folder must hold these files only
//
// and $EXAMPLES, the folder of examples.
func TestStories(t *testing.T) {
	folder, err := filepath.Abs(filepath.Join("..", "..", "examples"))
	require.NoError(t, err)
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata",
		Deadline:            time.Now().Add(5 * time.Minute), // a dashboard that wrongly opens would stay
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Setup: func(e *testscript.Env) error {
			e.Setenv("PATH", filepath.Dir(program)+string(os.PathListSeparator)+e.Getenv("PATH"))
			e.Setenv("EXAMPLES", folder)
			return nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"exits": exits, "report": reportJSON, "holds": holds,
		},
	})
}

func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits STATUS PROGRAM ARGS...")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got, err := 0, ts.Exec(args[1], args[2:]...)
	if exit := (*exec.ExitError)(nil); errors.As(err, &exit) {
		got = exit.ExitCode()
	} else {
		ts.Check(err)
	}
	if got != want {
		ts.Fatalf("exit status %d, want %d", got, want)
	}
}

func reportJSON(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) > 0 {
		ts.Fatalf("usage: report")
	}
	ts.Check(checkJSON([]byte(ts.ReadFile("stdout"))))
}

func holds(ts *testscript.TestScript, neg bool, args []string) {
	if neg {
		ts.Fatalf("usage: holds FILE...")
	}
	entries, err := os.ReadDir(ts.MkAbs("."))
	ts.Check(err)
	var names []string
	for _, e := range entries {
		if e.Name() != ".tmp" { // testscript's own
			names = append(names, e.Name())
		}
	}
	if got, want := strings.Join(names, " "), strings.Join(args, " "); got != want {
		ts.Fatalf("the folder holds %q, want %q", got, want)
	}
}

// checkJSON holds a text to the form that the catalogue of results gives: these
// keys and no others.
func checkJSON(text []byte) error {
	var r struct {
		Title   *string `json:"title"`
		Results []struct {
			ID        string   `json:"id"`
			Value     *float64 `json:"value"`
			Unit      *string  `json:"unit"`
			Low       *float64 `json:"low"`
			High      *float64 `json:"high"`
			WorstLow  *float64 `json:"worst_low"`
			WorstHigh *float64 `json:"worst_high"`
			Band      *string  `json:"band"`
			Shares    []struct {
				Path  string   `json:"path"`
				Share *float64 `json:"share"`
			} `json:"shares"`
		} `json:"results"`
		Findings []struct {
			ID       string  `json:"id"`
			About    *string `json:"about"`
			Severity string  `json:"severity"`
			Text     string  `json:"text"`
			Advice   string  `json:"advice"`
			Changes  []struct {
				Path  string  `json:"path"`
				Value *string `json:"value"`
			} `json:"changes"`
		} `json:"findings"`
		Suggestions []struct {
			ID      string  `json:"id"`
			About   *string `json:"about"`
			Text    string  `json:"text"`
			Changes []struct {
				Path  string  `json:"path"`
				Value *string `json:"value"`
			} `json:"changes"`
		} `json:"suggestions"`
		Budget   []json.RawMessage `json:"budget"`
		Cautions []struct {
			ID     string  `json:"id"`
			To     string  `json:"to"`
			Text   string  `json:"text"`
			Source *string `json:"source"`
		} `json:"cautions"`
		Points []struct {
			ID     string   `json:"id"`
			Unit   *string  `json:"unit"`
			Value  *float64 `json:"value"`
			Low    *float64 `json:"low"`
			High   *float64 `json:"high"`
			Least  *float64 `json:"least"`
			Most   *float64 `json:"most"`
			Words  []string `json:"words"`
			State  string   `json:"state"`
			Probes string   `json:"probes"`
			Cost   *float64 `json:"cost"`
		} `json:"points"`
		Readings []json.RawMessage `json:"readings"`
		Causes   []json.RawMessage `json:"causes"`
		Next     []struct {
			At   string   `json:"at"`
			Why  string   `json:"why"`
			Gain *float64 `json:"gain"`
			Cost *float64 `json:"cost"`
		} `json:"next"`
		Stages []struct {
			ID    string   `json:"id"`
			Hand  string   `json:"hand"`
			State string   `json:"state"`
			Needs []string `json:"needs"`
			Met   []string `json:"met"`
		} `json:"stages"`
	}
	d := json.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	if err := d.Decode(&r); err != nil {
		return err
	}
	if d.More() {
		return errors.New("something follows the JSON")
	}
	if r.Title == nil || len(r.Results) == 0 || r.Findings == nil || r.Suggestions == nil {
		return errors.New("title, results, findings or suggestions are missing")
	}
	here := 0
	for _, s := range r.Stages {
		if s.ID == "" || s.State == "" || s.Needs == nil || s.Met == nil {
			return errors.New("a stage is not whole: " + s.ID)
		}
		if s.State == "here" {
			here++
		}
	}
	if len(r.Stages) == 0 || here > 1 {
		return errors.New("no stages, or more than one is here")
	}
	for _, x := range r.Results {
		if x.ID == "" || x.Value == nil || x.Unit == nil {
			return errors.New("a result is not whole: " + x.ID)
		}
		if x.Low == nil || x.High == nil || x.WorstLow == nil || x.WorstHigh == nil || x.Shares == nil || x.Band != nil && *x.Band != "simulated" {
			return errors.New("a band is not whole: " + x.ID)
		}
		if !(*x.Low <= *x.Value && *x.Value <= *x.High && *x.WorstLow <= *x.Value && *x.Value <= *x.WorstHigh) {
			return errors.New("a band does not hold its value: " + x.ID)
		}
		for _, s := range x.Shares {
			if s.Path == "" || s.Share == nil {
				return errors.New("a share is not whole: " + x.ID)
			}
		}
	}
	for _, f := range r.Findings {
		known := f.Severity == "note" || f.Severity == "caution" || f.Severity == "fault"
		if f.ID == "" || f.About == nil || f.Text == "" || f.Advice == "" || f.Changes == nil || !known {
			return errors.New("a finding is not whole: " + f.ID)
		}
	}
	for _, s := range r.Suggestions {
		if s.ID == "" || s.About == nil || s.Text == "" || len(s.Changes) == 0 {
			return errors.New("a suggestion is not whole: " + s.ID)
		}
		for _, c := range s.Changes {
			if c.Path == "" || c.Value == nil {
				return errors.New("a change is not whole: " + c.Path)
			}
		}
	}
	for _, c := range r.Cautions {
		if c.ID == "" || c.To == "" || c.Text == "" || c.Source == nil {
			return errors.New("a caution is not whole: " + c.ID)
		}
	}
	return nil
}

// The check itself must see what is wrong.
func TestCheckJSONSeesWhatIsWrong(t *testing.T) {
	const good = `{"title": "a", "results": [{"id": "a", "value": 0, "unit": "", "low": -1, "high": 0, "worst_low": -2, "worst_high": 0, "band": "simulated", "shares": [{"path": "a", "share": 1}]}],
		"findings": [{"id": "a", "about": "", "severity": "note", "text": "a", "advice": "a", "changes": []}],
		"suggestions": [{"id": "a", "about": "b", "text": "a", "changes": [{"path": "a", "value": ""}]}],
		"cautions": [{"id": "a", "to": "you", "text": "a", "source": ""}],
		"stages": [{"id": "a", "hand": "", "state": "here", "needs": [], "met": []}]}`
	require.NoError(t, checkJSON([]byte(good)))
	for _, change := range [][2]string{
		{`"title": "a", `, ""}, {`"value": 0, `, ""}, {`"low": -1`, `"low": 1`}, {`"low": -1`, `"low": null`}, {`, "high": 0`, ""},
		{`"worst_low": -2, `, ""}, {`, "worst_high": 0`, ""}, {`"worst_low": -2`, `"worst_low": 1`}, {"simulated", "guessed"}, {`, "share": 1`, ""}, {`, "shares": [{"path": "a", "share": 1}]`, ""},
		{`"about": "", `, ""}, {"note", "bad"}, {`"title"`, `"more": 1, "title"`}, {`]}`, `]} 1`}, {`]}`, `]`},
		{`, "changes": []`, ""}, {`"about": "b", `, ""}, {`[{"path": "a", "value": ""}]`, "[]"}, {`"to": "you", `, ""}, {`, "source": ""`, ""},
		{`"changes": [{"path": "a", "value": ""}]`, `"changes": [{"path": "a"}]`}, {`"state": "here", `, ""}, {`, "met": []`, ""}, {`"stages": [`, `"stages": [{"id": "b", "hand": "", "state": "here", "needs": [], "met": []}, `},
	} {
		bad := strings.Replace(good, change[0], change[1], 1)
		if change[0] == `]}` {
			bad = strings.TrimSuffix(good, change[0]) + change[1]
		}
		require.NotEqual(t, good, bad)
		assert.Error(t, checkJSON([]byte(bad)), bad)
	}
}

// Every example is read without a problem and exits with 1 where it has a fault
// and 0 where it has none, in text as in JSON.
func TestExamplesExitAsTheirFaultsSay(t *testing.T) {
	t.Parallel()
	names, err := fs.Glob(examples.Files, "*.toml")
	require.NoError(t, err)
	require.NotEmpty(t, names)
	faults := regexp.MustCompile(`(?m)^fault: | "severity": "fault"`)
	folder := t.TempDir()
	for _, name := range names {
		text, err := examples.Files.ReadFile(name)
		require.NoError(t, err)
		path := filepath.Join(folder, name)
		require.NoError(t, os.WriteFile(path, text, 0o644))
		for _, args := range [][]string{{"check", path}, {"check", "--json", path}} {
			var stdout, stderr bytes.Buffer
			status := run(args, nil, &stdout, &stderr)
			want := fine
			if faults.Match(stdout.Bytes()) {
				want = faulty
			}
			assert.Equal(t, want, status, "%v", args)
			assert.Empty(t, stderr.String())
		}
	}
}

// A terminal must not obey what a file holds, wherever the program shows it: an
// escape sequence begins with ESC or, in one character, with U+009B (ECMA-48).
func TestCheckSendsNoControls(t *testing.T) {
	for _, change := range [][2]string{
		{`title = "Reading-room clock"`, `title = "a\u001b[31mb\u009b31m\u0007\u202e"`},
		{`drift = "2 %"`, `"a\u001b[31m\u009b31m" = 1`},
		{`voltage = "5 V ±1 %"`, `voltage = "\u001b[31m\u009b31m"`},
		{`name = "hours"`, `name = "\u001b[31m\u009b31m"`},
	} {
		path := build(t, change[0], change[1])
		var out bytes.Buffer
		run([]string{"check", path}, nil, &out, &out)
		assert.NotContains(t, out.String(), "\x1b", "%s", change[1])
		assert.NotContains(t, out.String(), "\u009b", "%s", change[1])
		assert.Contains(t, out.String(), "31m", "it is shown: %s", change[1])
	}
}
