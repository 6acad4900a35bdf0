package words

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// unseen are the folders and files whose texts stand on no screen: they hold what tests alone
// use, the samples of a file's own format, and what papers are written in: SVG, HTML, C.
var unseen = []string{"testdata", "modeltest", "faulty", "unknown", "reader", "uitest", "words", "page", "paper", "sheet", "letters", "header.go", "svg.go", "symbols.go", "ticks.go"}

// aCutWord is a word at the end of a room that is too short for it.
var aCutWord = regexp.MustCompile(`\p{L}+[…>]|…\p{L}+`)

// A shownText is a text that a screen may show, with where it stands.
type shownText struct{ at, text string }

// shownTexts are all texts that a screen can show: the literals of the sources of model and
// ui, in which every label, help, finding, cause, question and message is written, and the
// golden screens.
func shownTexts(t *testing.T) []shownText {
	t.Helper()
	root := filepath.Join("..", "..")
	var all []shownText
	for _, folder := range []string{"model", "ui"} {
		err := fs.WalkDir(os.DirFS(root), folder, func(name string, d fs.DirEntry, err error) error {
			switch {
			case err != nil:
				return err
			case d.IsDir() && isUnseen(d.Name()):
				return fs.SkipDir
			case d.IsDir() || isUnseen(d.Name()) || path.Ext(name) != ".go" || strings.HasSuffix(name, "_test.go"):
				return nil
			}
			texts, err := literals(filepath.Join(root, name))
			for _, text := range texts {
				all = append(all, shownText{name, aVerb.ReplaceAllString(text, " ")})
			}
			return err
		})
		require.NoError(t, err)
	}
	screens, err := filepath.Glob(filepath.Join(root, "ui", "testdata", "*.txt"))
	require.NoError(t, err)
	for _, name := range screens {
		text, err := os.ReadFile(name)
		require.NoError(t, err)
		all = append(all, shownText{filepath.Base(name), aCutWord.ReplaceAllString(string(text), "")})
	}
	return all
}

func isUnseen(name string) bool {
	return slices.Contains(unseen, name)
}

// aVerb stands for what Sprintf puts in.
var aVerb = regexp.MustCompile(`%[-+#0]*[\d.*\[\]]*[cdefgqsTvwXx]`)

// aColour is a colour of the theme.
var aColour = regexp.MustCompile(`^#[0-9a-f]{6}$`)

// literals are the texts in a source file, ids too, which a few screens show; imports, tags,
// patterns and colours nobody reads.
func literals(name string) ([]string, error) {
	file, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
	if err != nil {
		return nil, err
	}
	var texts []string
	ast.Inspect(file, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.ImportSpec:
			return false
		case *ast.Field:
			n.Tag = nil
		case *ast.CallExpr:
			if f, ok := n.Fun.(*ast.SelectorExpr); ok {
				if of, ok := f.X.(*ast.Ident); ok && of.Name == "regexp" {
					return false
				}
			}
		case *ast.BasicLit:
			if text, err := strconv.Unquote(n.Value); err == nil && n.Kind == token.STRING && !aColour.MatchString(text) {
				texts = append(texts, text)
			}
		}
		return true
	})
	return texts, nil
}
