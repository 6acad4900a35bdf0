package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime/debug"
	"strings"

	"github.com/spf13/cobra"
)

// mistyped is the error of a first word that is no command and no file. Nor does a
// new build begin by such a name, which may be a command's with a slip in it: the
// name of a new one ends in .toml, or a folder stands before it.
func mistyped(c *cobra.Command, args []string) error {
	if c.HasParent() || len(args) == 0 {
		return nil
	}
	word := args[0]
	if strings.EqualFold(filepath.Ext(word), ".toml") || filepath.Base(word) != word {
		return nil
	}
	if _, err := os.Stat(word); !errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	hint := "needlewright --help lists the commands; a new build begins with  needlewright " + word + ".toml"
	if near := c.SuggestionsFor(word); len(near) > 0 {
		hint = "did you mean " + strings.Join(near, " or ") + "? A new build begins with  needlewright " + word + ".toml"
	}
	return &failure{fmt.Errorf("%s is no command, and there is no file of this name", word), hint}
}

// refuseHelp has the command help refuse what is no command.
func refuseHelp(root *cobra.Command) {
	root.InitDefaultHelpCmd()
	for _, c := range root.Commands() {
		if c.Name() != "help" {
			continue
		}
		c.Args = func(_ *cobra.Command, args []string) error {
			if about, _, err := root.Find(args); len(args) == 0 || err == nil && about != root {
				return nil
			}
			hint := "needlewright --help lists the commands"
			if near := root.SuggestionsFor(args[0]); len(near) > 0 {
				hint = "did you mean " + strings.Join(near, " or ") + "?"
			}
			return &failure{fmt.Errorf("%s is no command", args[0]), hint}
		}
	}
}

// release is the version of a program that is handed out; .ci/release puts it in.
var release string

// version is what the program was built from.
func version() string {
	if release != "" {
		return release
	}
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "devel"
	}
	return versionOf(info)
}

// versionOf is the version of a build, "devel" where it is of none, and its revision
// in the version control where that is known.
func versionOf(info *debug.BuildInfo) string {
	set := map[string]string{}
	for _, s := range info.Settings {
		set[s.Key] = s.Value
	}
	v := info.Main.Version
	if v == "" || v == "(devel)" {
		v = "devel"
	}
	if revision := set["vcs.revision"]; revision != "" {
		v += ", revision " + revision
		if set["vcs.modified"] == "true" {
			v += " and changes to it"
		}
	}
	return v
}
