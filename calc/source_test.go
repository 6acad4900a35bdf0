package calc

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var (
	citation  = regexp.MustCompile(`(?m)^Source: ((?:.+\n?)+)`)
	unsourced = regexp.MustCompile(`common practice, no source|from memory|derived`)
	sourceKey = regexp.MustCompile(`\[([A-Z][A-Za-z0-9]+)\]`)
)

// TestSources holds every exported function and method to a "Source:" line,
// its own or its receiver type's, whose keys are all in the package comment's
// list of sources, and that list to keys that are used.
func TestSources(t *testing.T) {
	fset, files := parsePackage(t)
	known, types := listed(files), typeComments(files)
	cited := map[string]bool{}
	checked := 0
	for _, f := range files {
		for _, d := range f.Decls {
			fn, ok := d.(*ast.FuncDecl)
			if !ok || !fn.Name.IsExported() {
				continue
			}
			checked++
			where := fset.Position(fn.Pos()).String() + ": " + fn.Name.Name
			comment := fn.Doc.Text()
			if fn.Recv != nil && !citation.MatchString(comment) {
				comment = types[receiver(fn)]
			}
			cite := citation.FindStringSubmatch(comment)
			if !assert.NotNil(t, cite, "%s has no Source: line", where) {
				continue
			}
			assert.True(t, sourceKey.MatchString(cite[1]) || unsourced.MatchString(cite[1]),
				"%s names no source: a [Key], or one of: common practice, no source; from memory; derived", where)
			for _, m := range sourceKey.FindAllStringSubmatch(cite[1], -1) {
				cited[m[1]] = true
				assert.Contains(t, known, m[1], "%s cites what the package comment does not list", where)
			}
		}
	}
	assert.Greater(t, checked, 20, "the walk over the sources found too few functions to be true")
	for key := range known {
		assert.Contains(t, cited, key, "the package comment lists what no formula cites")
	}
}

func parsePackage(t *testing.T) (*token.FileSet, []*ast.File) {
	entries, err := os.ReadDir(".")
	require.NoError(t, err)
	fset := token.NewFileSet()
	var files []*ast.File
	for _, e := range entries {
		if name := e.Name(); strings.HasSuffix(name, ".go") && !strings.HasSuffix(name, "_test.go") {
			f, err := parser.ParseFile(fset, name, nil, parser.ParseComments)
			require.NoError(t, err)
			files = append(files, f)
		}
	}
	return fset, files
}

// listed returns the keys of the package comment's list of sources.
func listed(files []*ast.File) map[string]bool {
	known := map[string]bool{}
	for _, f := range files {
		if _, list, ok := strings.Cut(f.Doc.Text(), "# Sources"); ok {
			for _, m := range sourceKey.FindAllStringSubmatch(list, -1) {
				known[m[1]] = true
			}
		}
	}
	return known
}

func typeComments(files []*ast.File) map[string]string {
	comments := map[string]string{}
	for _, f := range files {
		for _, d := range f.Decls {
			if g, ok := d.(*ast.GenDecl); ok && g.Tok == token.TYPE {
				for _, s := range g.Specs {
					comments[s.(*ast.TypeSpec).Name.Name] = g.Doc.Text()
				}
			}
		}
	}
	return comments
}

func receiver(fn *ast.FuncDecl) string {
	x := fn.Recv.List[0].Type
	if star, ok := x.(*ast.StarExpr); ok {
		x = star.X
	}
	return x.(*ast.Ident).Name
}
