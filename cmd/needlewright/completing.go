package main

import (
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"example.com/needlewright/cmd/needlewright/plain"
	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/file"
	"example.com/needlewright/model/whatif"
	"example.com/needlewright/model/working"
)

// addCompletions says of every command what a shell may offer: for its arguments by the
// words of its usage, for its flags by their names, both of the build that stands on the
// line already. So a new command has them as soon as it is there.
func addCompletions(root *cobra.Command) {
	root.ValidArgsFunction = commandsAndFiles
	for _, c := range root.Commands() {
		if c.ValidArgsFunction == nil {
			c.ValidArgsFunction = ofArguments
		}
	}
	for _, c := range append(root.Commands(), root) {
		c.Flags().VisitAll(func(f *pflag.Flag) {
			if _, known := c.GetFlagCompletionFunc(f.Name); known || f.Annotations != nil || f.NoOptDefVal != "" {
				return
			}
			offer := offersOfFlags[f.Name]
			if offer == nil {
				offer = cobra.NoFileCompletions
			}
			_ = c.RegisterFlagCompletionFunc(f.Name, offer)
		})
	}
}

// offersOfFlags are what is offered for a flag of any command.
var offersOfFlags = map[string]cobra.CompletionFunc{
	"set":    ofBuild(settings),
	"change": ofBuild(func(b *model.Build, _ string) []string { return whatif.Paths(b) }),
	"hand":   ofBuild(func(b *model.Build, _ string) []string { return handNames(b) }),
	"for":    filesEnding("toml"),
	"output": cobra.FixedCompletions(nil, cobra.ShellCompDirectiveDefault),
	"theme":  cobra.FixedCompletions([]string{"dark", "light"}, cobra.ShellCompDirectiveNoFileComp),
}

// offersOfArguments are what is offered for a word of a usage.
var offersOfArguments = map[string]cobra.CompletionFunc{
	"FILE": filesEnding("toml"), "FOLDER": filesEnding("toml"), "A": filesEnding("toml"), "B": filesEnding("toml"),
	"RESULT": results,
}

// ofArguments offers what the usage calls for at this place: of "fit FILE | fit DRAWER.csv"
// both kinds of file.
func ofArguments(c *cobra.Command, args []string, word string) ([]string, cobra.ShellCompDirective) {
	if strings.Contains(c.Use, "DRAWER.csv") && len(args) == 0 {
		return []string{"toml", "csv", "tsv"}, cobra.ShellCompDirectiveFilterFileExt
	}
	usage, _, _ := strings.Cut(c.Use, " | ")
	names := strings.Fields(usage)[1:]
	at := len(args)
	if n := len(names); n > 0 && strings.HasSuffix(names[n-1], "...") {
		at = min(at, n-1)
	}
	if at < len(names) {
		if offer := offersOfArguments[strings.Trim(names[at], "[].")]; offer != nil {
			return offer(c, args, word)
		}
	}
	return nil, cobra.ShellCompDirectiveNoFileComp
}

// filesEnding offers files by how they end, and folders.
func filesEnding(of ...string) cobra.CompletionFunc {
	return cobra.FixedCompletions(of, cobra.ShellCompDirectiveFilterFileExt)
}

// commandsAndFiles offers, beside the commands, the builds of the folder: a shell that is
// told to look for files itself would take the commands for endings.
func commandsAndFiles(c *cobra.Command, args []string, word string) ([]string, cobra.ShellCompDirective) {
	if len(args) > 0 {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	if word != "" && !slices.ContainsFunc(c.Commands(), func(sub *cobra.Command) bool { return strings.HasPrefix(sub.Name(), word) }) {
		return filesEnding("toml")(c, args, word)
	}
	entries, _ := os.ReadDir(".")
	var files []string
	for _, e := range entries {
		if !e.IsDir() && filepath.Ext(e.Name()) == ".toml" && strings.HasPrefix(e.Name(), word) {
			files = append(files, e.Name())
		}
	}
	return files, cobra.ShellCompDirectiveNoFileComp
}

// ofBuild offers what a build on the line gives: the first of its arguments that can be
// read. What has problems is read as far as it goes.
func ofBuild(of func(b *model.Build, word string) []string) cobra.CompletionFunc {
	return func(c *cobra.Command, args []string, word string) ([]string, cobra.ShellCompDirective) {
		if f := c.Flag("for"); f != nil && f.Changed {
			args = append([]string{f.Value.String()}, args...)
		}
		for _, path := range args {
			text, _, err := file.ReadFile(path)
			if err != nil || !strings.EqualFold(filepath.Ext(path), ".toml") {
				continue
			}
			var found []string
			directive := cobra.ShellCompDirectiveNoFileComp | cobra.ShellCompDirectiveKeepOrder
			for _, text := range of(model.Open(text).Build, word) {
				if strings.HasPrefix(text, word) {
					found = append(found, plain.Shown(text))
				}
			}
			if slices.ContainsFunc(found, func(text string) bool { return strings.HasSuffix(text, "=") }) {
				directive |= cobra.ShellCompDirectiveNoSpace
			}
			return found, directive
		}
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
}

// settings are the paths of a build, each with its =, and behind that the field's choices.
func settings(b *model.Build, word string) []string {
	given, _, behind := strings.Cut(word, "=")
	var all []string
	for _, f := range model.Builds.Fields {
		for i := range f.Of(b) {
			path := f.PathOf(b, i)
			if !behind {
				all = append(all, path+"=")
				continue
			}
			for _, choice := range f.Choices {
				if path == given {
					all = append(all, path+"="+choice)
				}
			}
		}
	}
	return all
}

// handNames are the hands of a build.
func handNames(b *model.Build) []string {
	var names []string
	for i := range b.Hands {
		names = append(names, b.Hands[i].Name)
	}
	return names
}

// results offers the ids of a build's results; of working also the parts that have one.
func results(c *cobra.Command, args []string, word string) ([]string, cobra.ShellCompDirective) {
	return ofBuild(func(b *model.Build, _ string) []string {
		p := new(circuit.Plan)
		circuit.Evaluate(b, p)
		if c.Name() == "working" {
			return working.IDs(b, p)
		}
		var ids []string
		for k := range circuit.Results {
			r := &circuit.Results[k]
			for i := range r.Of(p) {
				ids = append(ids, r.IDOf(b, i))
			}
		}
		return ids
	})(c, args, word)
}
