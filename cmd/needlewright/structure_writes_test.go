package main

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"go/types"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// foreignWrites are the places at which a package writes a field of one of the dashboard's
// structs outside the methods of its own type. Copies that a function holds by itself are
// its own, and so is what it has just built by a composite literal.
func foreignWrites(p *checkedPackage, parts partTypes) []string {
	var all []string
	for _, f := range p.files {
		for _, d := range f.Decls {
			w := writer{p, parts, "", built(p, d)}
			if method, ok := d.(*ast.FuncDecl); ok {
				w.receiver = receiverOf(p, method)
			}
			for _, written := range writtenIn(p, d) {
				if owner := w.owner(written); owner != "" {
					all = append(all, fmt.Sprintf("%s: a field of %s is written outside its methods", p.fset.Position(written.Pos()), owner))
				}
			}
		}
	}
	return all
}

// receiverOf is the type that a method is of, "" of a function.
func receiverOf(p *checkedPackage, d *ast.FuncDecl) string {
	if d.Recv == nil {
		return ""
	}
	return typeName(p.info.Defs[d.Name].Type().(*types.Signature).Recv().Type())
}

// built are the variables of a function that hold what it has built itself.
func built(p *checkedPackage, d ast.Decl) map[types.Object]bool {
	all := map[types.Object]bool{}
	ast.Inspect(d, func(n ast.Node) bool {
		a, ok := n.(*ast.AssignStmt)
		if !ok || a.Tok != token.DEFINE || len(a.Lhs) != len(a.Rhs) {
			return true
		}
		for i, value := range a.Rhs {
			if u, ok := value.(*ast.UnaryExpr); ok && u.Op == token.AND {
				value = u.X
			}
			if _, ok := value.(*ast.CompositeLit); ok {
				all[p.info.Defs[a.Lhs[i].(*ast.Ident)]] = true
			}
		}
		return true
	})
	return all
}

// writtenIn are the expressions that a declaration writes to.
func writtenIn(p *checkedPackage, d ast.Decl) []ast.Expr {
	var all []ast.Expr
	ast.Inspect(d, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.AssignStmt:
			if n.Tok != token.DEFINE {
				all = append(all, n.Lhs...)
			}
		case *ast.IncDecStmt:
			all = append(all, n.X)
		case *ast.RangeStmt:
			if n.Tok == token.ASSIGN {
				all = append(all, n.Key, n.Value)
			}
		case *ast.UnaryExpr:
			if _, ok := n.X.(*ast.SelectorExpr); ok && n.Op == token.AND { // whoever has its address may write
				all = append(all, n.X)
			}
		case *ast.CallExpr:
			if id, ok := n.Fun.(*ast.Ident); ok {
				if b, ok := p.info.Uses[id].(*types.Builtin); ok && (b.Name() == "clear" || b.Name() == "copy" || b.Name() == "delete") {
					all = append(all, n.Args[0])
				}
			}
		}
		return true
	})
	return all
}

// A writer is a function that may write fields of its own type.
type writer struct {
	p        *checkedPackage
	parts    partTypes
	receiver string
	built    map[types.Object]bool
}

// owner is the struct whose field is written though it is not the writer's; "" where the
// writing is fine.
func (w *writer) owner(written ast.Expr) string {
	owner, shared := "", false // shared: the way from the variable leads through memory that others see
	for {
		switch e := written.(type) {
		case *ast.ParenExpr:
			written = e.X
		case *ast.SliceExpr:
			written = e.X
		case *ast.IndexExpr: // an element of a field is the field's
			_, array := w.p.info.TypeOf(e.X).Underlying().(*types.Array)
			shared = shared || owner != "" && !array
			written = e.X
		case *ast.StarExpr: // all fields at once
			if owner == "" {
				owner = typeName(w.p.info.TypeOf(e.X))
			}
			written = e.X
		case *ast.SelectorExpr:
			s := w.p.info.Selections[e]
			if s == nil {
				return "" // of another package
			}
			if owner == "" {
				owner = fieldOwner(s)
			}
			_, first := e.X.(*ast.Ident)
			shared = shared || !first && s.Indirect()
			written = e.X
		default:
			_, isPart := w.parts[owner]
			if !isPart || owner == w.receiver || !shared && w.isOwn(written) {
				return ""
			}
			return owner
		}
	}
}

// isOwn says whether a variable holds a struct itself, or what the function has built.
func (w *writer) isOwn(e ast.Expr) bool {
	id, ok := e.(*ast.Ident)
	if !ok {
		return false
	}
	_, value := w.p.info.TypeOf(id).Underlying().(*types.Struct)
	return value || w.built[w.p.info.Uses[id]]
}

// fieldOwner is the struct that a selected field stands in, which may be embedded in the
// one it is selected of.
func fieldOwner(s *types.Selection) string {
	t := s.Recv()
	for _, i := range s.Index()[:len(s.Index())-1] {
		if p, ok := t.(*types.Pointer); ok {
			t = p.Elem()
		}
		t = t.Underlying().(*types.Struct).Field(i).Type()
	}
	return typeName(t)
}

// The check itself: what it finds, and what it lets pass, in examples of both kinds.
func TestForeignWrites(t *testing.T) {
	const source = `package ui
type inner struct{ n int; all []int }
type part struct { n int; all []int; in inner; other *part; sub struct{ n int } }
func (p *part) own()        { p.n++; p.all[0] = 1; p.n, p.all = 2, nil; clear(p.all); *p = part{}; q := &p.n; *q = 3 }
func (p *part) closure()    { func() { p.n = 1 }() }
func newPart() *part        { p := &part{}; p.n = 1; return p }
func copied(p part) part    { p.n = 1; q := p; q.n = 2; return q }
func (i inner) grown() inner { i.n++; return i }
func bad1(p *part)          { p.n = 1 }
func bad2(p *part)          { p.all[0]++ }
func (p *part) bad3()       { p.in.n = 1 }
func bad4(p *part)          { *p = part{} }
func bad5(p *part)          { clear(p.all) }
func (i *inner) bad6(p *part) { q := &p.n; *q = 1 }
func bad7(all []part)       { for i := range all { all[i].n = 1 } }
func bad8() int             { get().n = 1; return 0 }
func bad9() *part           { p := &part{other: get()}; p.other.n = 1; return p }
func bad10(p part)          { p.other.n = 1 }
var bad11 = func(p *part)   { p.n = 1 }
func get() *part            { return nil }
`
	p := &checkedPackage{path: module + "/ui", fset: token.NewFileSet(), info: &types.Info{
		Uses: map[*ast.Ident]types.Object{}, Defs: map[*ast.Ident]types.Object{}, Selections: map[*ast.SelectorExpr]*types.Selection{},
		Types: map[ast.Expr]types.TypeAndValue{},
	}}
	f, err := parser.ParseFile(p.fset, "part.go", source, parser.SkipObjectResolution)
	require.NoError(t, err)
	p.files = []*ast.File{f}
	p.types, err = new(types.Config).Check(p.path, p.fset, p.files, p.info)
	require.NoError(t, err)
	parts := partTypes{}
	parts.add(p)
	found := foreignWrites(p, parts)
	var lines []string
	for _, w := range found {
		_, line, _ := strings.Cut(strings.SplitN(w, ": ", 2)[0], ":")
		line, _, _ = strings.Cut(line, ":")
		n, err := strconv.Atoi(line)
		require.NoError(t, err)
		lines = append(lines, strings.Split(source, "\n")[n-1])
	}
	require.Len(t, lines, 11, "%v", found)
	for _, line := range lines {
		assert.Contains(t, line, "bad")
	}
}
