package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"go/ast"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The limits of the structure. They state a design decision: what breaks one is to be cut
// another way, not the limit widened.
const (
	mostFiles     = 25  // of a folder, tests apart
	mostLines     = 400 // of a source file, but for a reason given in its package comment
	mostCircle    = 8   // files of a package that refer to each other in a circle
	mostAppFields = 20  // of ui.App, which only routes
	mostFields    = 25  // of any struct of the dashboard
)

// reasonForLines begins the sentence of a package comment that says why one of its files
// is longer.
const reasonForLines = "is longer because"

// TestStructure prints what is held: run it with -v.
func TestStructure(t *testing.T) {
	checkFolders(t, filepath.Join("..", ".."))
	parts := partTypes{}
	packages := checkedPackages(t)
	for _, p := range packages {
		circle := largestCircle(p)
		t.Logf("%-22s %2d files, largest circle %d %v", p.name(), len(p.files), len(circle), circle)
		assert.LessOrEqual(t, len(circle), mostCircle, "%s: files refer to each other in a circle: %v", p.name(), circle)
		if p.inUI() {
			parts.add(p)
		}
	}
	require.NotEmpty(t, parts)
	checkFields(t, parts)
	for _, p := range packages {
		if p.inUI() {
			for _, w := range foreignWrites(p, parts) {
				t.Error(w)
			}
		}
	}
}

// checkFolders counts source files and their lines.
func checkFolders(t *testing.T, root string) {
	files := map[string]int{}
	longest, most := "", 0
	err := fs.WalkDir(os.DirFS(root), ".", func(name string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && (d.Name() == "testdata" || len(name) > 1 && strings.HasPrefix(d.Name(), ".")):
			return fs.SkipDir
		case d.IsDir() || path.Ext(name) != ".go" || strings.HasSuffix(name, "_test.go"):
			return nil
		}
		files[path.Dir(name)]++
		text, err := os.ReadFile(filepath.Join(root, name))
		n := bytes.Count(text, []byte("\n"))
		if n > most {
			longest, most = name, n
		}
		if n > mostLines {
			assert.Contains(t, packageComment(t, filepath.Dir(filepath.Join(root, name))), path.Base(name)+" "+reasonForLines, "%s has %d lines", name, n)
		}
		return err
	})
	require.NoError(t, err)
	fullest := ""
	for folder, n := range files {
		assert.LessOrEqual(t, n, mostFiles, "source files in %s", folder)
		if n > files[fullest] {
			fullest = folder
		}
	}
	t.Logf("most source files: %d in %s; longest: %s, %d lines", files[fullest], fullest, longest, most)
}

// packageComment is what stands before the package clauses of a folder.
func packageComment(t *testing.T, folder string) string {
	packages, err := filepath.Glob(filepath.Join(folder, "*.go"))
	require.NoError(t, err)
	text := ""
	for _, name := range packages {
		f, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ParseComments|parser.PackageClauseOnly)
		require.NoError(t, err)
		text += f.Doc.Text()
	}
	return strings.Join(strings.Fields(text), " ")
}

// A checkedPackage is one of ours with its types.
type checkedPackage struct {
	path  string
	fset  *token.FileSet
	files []*ast.File
	info  *types.Info
	types *types.Package
}

func (p *checkedPackage) name() string { return strings.TrimPrefix(p.path, module+"/") }

func (p *checkedPackage) inUI() bool {
	return p.path == module+"/ui" || strings.HasPrefix(p.path, module+"/ui/")
}

// fileOf is the name of the file that something stands in.
func (p *checkedPackage) fileOf(at token.Pos) string {
	return filepath.Base(p.fset.Position(at).Filename)
}

// checkedPackages reads ours. What they import comes from what the go command has built.
func checkedPackages(t *testing.T) []*checkedPackage {
	t.Helper()
	command := exec.Command("go", "list", "-export", "-deps", "-json=ImportPath,Export,Dir,GoFiles", "./...")
	command.Dir = filepath.Join("..", "..")
	var failure bytes.Buffer
	command.Stderr = &failure
	out, err := command.Output()
	require.NoError(t, err, "%s", &failure)
	exports := map[string]string{}
	fset := token.NewFileSet()
	imports := importer.ForCompiler(fset, "gc", func(path string) (io.ReadCloser, error) { return os.Open(exports[path]) })
	var packages []*checkedPackage
	for list := json.NewDecoder(bytes.NewReader(out)); ; {
		var listed struct {
			ImportPath, Export, Dir string
			GoFiles                 []string
		}
		if err := list.Decode(&listed); errors.Is(err, io.EOF) {
			break
		} else {
			require.NoError(t, err)
		}
		exports[listed.ImportPath] = listed.Export
		if !strings.HasPrefix(listed.ImportPath, module+"/") {
			continue
		}
		p := &checkedPackage{path: listed.ImportPath, fset: fset, info: &types.Info{
			Uses: map[*ast.Ident]types.Object{}, Defs: map[*ast.Ident]types.Object{}, Selections: map[*ast.SelectorExpr]*types.Selection{},
			Types: map[ast.Expr]types.TypeAndValue{},
		}}
		for _, name := range listed.GoFiles {
			f, err := parser.ParseFile(fset, filepath.Join(listed.Dir, name), nil, parser.SkipObjectResolution)
			require.NoError(t, err)
			p.files = append(p.files, f)
		}
		packages = append(packages, p)
	}
	require.NotEmpty(t, packages)
	for _, p := range packages {
		p.types, err = (&types.Config{Importer: imports}).Check(p.path, fset, p.files, p.info)
		require.NoError(t, err)
	}
	return packages
}

// largestCircle is the most files of a package of which each leads to each other by what
// it refers to (Tarjan's strongly connected components).
func largestCircle(p *checkedPackage) []string {
	refers := map[string][]string{}
	for _, f := range p.files {
		from := p.fileOf(f.Pos())
		ast.Inspect(f, func(n ast.Node) bool {
			if id, ok := n.(*ast.Ident); ok {
				if o := p.info.Uses[id]; o != nil && o.Pkg() == p.types && p.fileOf(o.Pos()) != from {
					refers[from] = append(refers[from], p.fileOf(o.Pos()))
				}
			}
			return true
		})
	}
	var largest, stack []string
	number, least := map[string]int{}, map[string]int{}
	var visit func(string)
	visit = func(file string) {
		number[file] = len(number) + 1
		least[file] = number[file]
		stack = append(stack, file)
		for _, to := range refers[file] {
			if number[to] == 0 {
				visit(to)
				least[file] = min(least[file], least[to])
			} else if slices.Contains(stack, to) {
				least[file] = min(least[file], number[to])
			}
		}
		if least[file] == number[file] {
			at := slices.Index(stack, file)
			if circle := slices.Clone(stack[at:]); len(circle) > len(largest) {
				largest = circle
			}
			stack = stack[:at]
		}
	}
	for _, f := range p.files {
		if file := p.fileOf(f.Pos()); number[file] == 0 {
			visit(file)
		}
	}
	slices.Sort(largest)
	return largest
}

// partTypes are the structs of the dashboard, by package and name.
type partTypes map[string]*types.Struct

// typeName is a named type behind pointers, as partTypes has it; "" of others.
func typeName(t types.Type) string {
	if p, ok := t.(*types.Pointer); ok {
		t = p.Elem()
	}
	named, ok := t.(*types.Named)
	if !ok || named.Obj().Pkg() == nil {
		return ""
	}
	return strings.TrimPrefix(named.Obj().Pkg().Path(), module+"/") + "." + named.Obj().Name()
}

// add adds the structs of a package, those without a name too.
func (parts partTypes) add(p *checkedPackage) {
	for _, f := range p.files {
		ast.Inspect(f, func(n ast.Node) bool {
			if s, ok := n.(*ast.StructType); ok {
				parts[fmt.Sprintf("%s (%s)", p.name(), p.fset.Position(s.Pos()))] = p.info.Types[s].Type.(*types.Struct)
			}
			return true
		})
	}
	for _, name := range p.types.Scope().Names() {
		if o, ok := p.types.Scope().Lookup(name).(*types.TypeName); ok {
			if s, ok := o.Type().Underlying().(*types.Struct); ok {
				parts[typeName(o.Type())] = s
			}
		}
	}
}

// checkFields counts the fields of the dashboard's structs.
func checkFields(t *testing.T, parts partTypes) {
	app := parts["ui.App"]
	require.NotNil(t, app)
	assert.LessOrEqual(t, app.NumFields(), mostAppFields, "fields of ui.App")
	most := "ui.App"
	for name, s := range parts {
		assert.LessOrEqual(t, s.NumFields(), mostFields, "fields of %s", name)
		if s.NumFields() > parts[most].NumFields() {
			most = name
		}
	}
	t.Logf("%d structs in ui; ui.App has %d fields, the largest, %s, %d", len(parts), app.NumFields(), most, parts[most].NumFields())
}
