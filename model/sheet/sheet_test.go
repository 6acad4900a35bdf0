package sheet

import (
	"html"
	"math/rand/v2"
	"regexp"
	"runtime"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/caution"
	"example.com/needlewright/model/modeltest"
	"example.com/needlewright/model/network"
	"example.com/needlewright/model/parts"
	"example.com/needlewright/model/walk"
)

// documents are the examples, and so many random builds or as many as NEEDLEWRIGHT_BUILDS says.
func documents(t *testing.T, random int) map[string]*model.Document {
	t.Helper()
	all := map[string]*model.Document{}
	names, err := modeltest.Examples()
	require.NoError(t, err)
	require.Greater(t, len(names), 6)
	for _, name := range names {
		all[name] = model.Open(modeltest.Example(name))
	}
	for seed := range modeltest.Sampled(t, random) {
		text := modeltest.AnyBuild(rand.New(rand.NewPCG(uint64(seed), 61)))
		if d := model.Open(text); len(d.Problems) == 0 {
			all["random "+string(rune('a'+seed%26))+strings.Repeat("'", seed/26)] = d
		}
	}
	return all
}

// sheetsOf are the full sheet of a document, the learner's and the key, made once for all
// tests that look at them.
func sheetsOf(t *testing.T, name string, d *model.Document) (full, learner, key *Sheet) {
	t.Helper()
	if s, ok := sheetsMade[d.Text]; ok {
		return s[0], s[1], s[2]
	}
	full, err := New(d)
	require.NoError(t, err, name)
	learner, key, err = ForLearner(d)
	require.NoError(t, err, name)
	sheetsMade[d.Text] = [3]*Sheet{full, learner, key}
	return full, learner, key
}

var (
	sheetsMade = map[string][3]*Sheet{} // by the texts
	formsMade  = map[*Sheet][3]string{} // of them
)

// forms are a sheet as HTML, read by a parser that is not ours, and as Markdown.
func forms(t *testing.T, s *Sheet) (page, read, markdown string) {
	t.Helper()
	made, ok := formsMade[s]
	if !ok {
		made[0], made[1], made[2] = readForms(t, s)
		formsMade[s] = made
	}
	return made[0], made[1], made[2]
}

// readForms makes and reads them, and looks for what runs or comes from outside.
func readForms(t *testing.T, s *Sheet) (page, read, markdown string) {
	t.Helper()
	page, err := s.HTML()
	require.NoError(t, err)
	elements, read := modeltest.ReadPage(t, page)
	for _, e := range elements {
		assert.NotContains(t, []string{"script", "link", "img", "iframe", "object", "form", "base"}, e.Name.Local)
		for _, a := range e.Attr {
			assert.False(t, strings.HasPrefix(a.Name.Local, "on"), a.Name.Local)
			assert.NotContains(t, []string{"src", "srcset", "data", "action"}, a.Name.Local)
			if a.Name.Local == "href" {
				assert.Regexp(t, `^#\w+$`, a.Value)
			}
		}
	}
	return page, read, s.Markdown()
}

// none is what is printed of a number that is none, or by a wrong Printf.
var none = regexp.MustCompile(`\bNaN\b|[+-]Inf\b|%!`)

// Every build has its sheet, a learner's and the key, in both forms, without anything that
// runs or comes from outside; both forms hold all that is in the data.
func TestEveryBuildHasItsSheet(t *testing.T) {
	for name, d := range documents(t, 2) {
		full, learner, key := sheetsOf(t, name, d)
		for _, s := range []*Sheet{full, learner, key} {
			page, read, markdown := forms(t, s)
			assert.NotRegexp(t, none, page, name)
			assert.NotRegexp(t, none, markdown, name)
			assert.NotContains(t, strings.ReplaceAll(page, "http://www.w3.org/2000/svg", ""), "://", name)
			plain := unmarked(markdown)
			words := strings.Join(strings.Fields(html.UnescapeString(read)), " ")
			texts := textsOf(s)
			slices.Sort(texts)
			for _, text := range slices.Compact(texts) {
				text = strings.Join(strings.Fields(visible(text)), " ")
				assert.Contains(t, words, text, "%s: HTML", name)
				assert.Contains(t, plain, text, "%s: Markdown", name)
			}
		}
	}
}

// textsOf are all texts of a sheet that both forms have.
func textsOf(s *Sheet) []string {
	all := []string{s.Title, s.About}
	for _, section := range s.Sections {
		all = append(all, section.Title)
		for _, k := range section.Blocks {
			all = append(append(append(append(all, k.Heading, k.After), k.Texts...), k.Warned...), k.Signs...)
			if k.Table == nil {
				continue
			}
			all = append(all, k.Table.Caption)
			for _, row := range k.Table.Rows {
				for _, c := range row {
					all = append(all, c.Text, c.Small)
				}
			}
		}
	}
	return all
}

var escape = regexp.MustCompile(`\\([^\w\s])`)

// unmarked is a Markdown text as it is read.
func unmarked(text string) string {
	return escape.ReplaceAllString(strings.Join(strings.Fields(strings.ReplaceAll(text, `\_`, "_")), " "), "$1")
}

// What a build has stands on its sheet: parts, connections, stages, test points, cautions,
// results with their workings, dials; none is left out.
func TestSheetHoldsAllOfABuild(t *testing.T) {
	for name, d := range documents(t, 0) {
		s, err := New(d)
		require.NoError(t, err, name)
		page, read, _ := forms(t, s)
		read = strings.Join(strings.Fields(read), " ")
		m := newMaker(d, false)
		for _, c := range caution.Of(m.b) {
			assert.Contains(t, read, c.Text, "%s: %s", name, c.ID)
		}
		for _, l := range parts.New(m.n, 1, 0).Parts {
			assert.Contains(t, read, strings.Join(strings.Fields(l.Name()), " "), name)
		}
		for _, c := range network.Of(m.b, &m.r.Plan).Connections {
			assert.Contains(t, read, c.Expect, "%s: %s", name, c.ID)
		}
		for i := range walk.Stages {
			stage := &walk.Stages[i]
			if !stage.OfHand || len(m.b.Hands) > 0 {
				assert.Contains(t, read, stage.Title, name)
				assert.Contains(t, read, stage.Caution, name)
			}
		}
		for _, p := range m.points {
			assert.Contains(t, read, m.x.CalledOf(p.ID), name)
		}
		for _, row := range m.r.Results {
			assert.Contains(t, read, row.TextIn(3), "%s: %s", name, row.ID)
		}
		assert.Equal(t, len(m.points)+len(m.n.Connections)+len(parts.New(m.n, 1, 0).Parts), countBoxes(s)-countConditions(m), "%s: a box to tick for each", name)
		drawn := strings.Count(page, `<g class="dial"`) + strings.Count(read, "too large for this sheet")
		assert.Equal(t, len(m.b.Hands), drawn, "%s: dials", name)
	}
}

func countBoxes(s *Sheet) (n int) {
	for _, section := range s.Sections {
		for _, k := range section.Blocks {
			if k.Table == nil {
				continue
			}
			for _, row := range k.Table.Rows {
				for _, c := range row {
					if c.Box {
						n++
					}
				}
			}
		}
	}
	return n
}

func countConditions(m *maker) (n int) {
	for _, s := range m.r.Walk().States {
		n += len(s.Conditions)
	}
	return n
}

// fenced is a drawing in Markdown, in which all is text.
var fenced = regexp.MustCompile("(?s)\n```+text\n.*?\n```+\n")

// Titles and names are text whatever they hold, in both forms, and turn nothing round.
func TestSheetOfAHostileTitle(t *testing.T) {
	const hostile = "</title></style><script>alert(1)</script><img src=x onerror=alert(1)> \"q\" & 'so' {{.Title}} \u202egnp\u2066 | *b* [a](b) `c` # # <!--"
	harmless := strings.Repeat("mm ", len([]rune(hostile))/3)
	plain, err := New(model.Open(modeltest.With(t, modeltest.Example("reading-room"), "title", harmless, "builder", harmless)))
	require.NoError(t, err)
	wanted, _, _ := forms(t, plain)
	d := model.Open(modeltest.With(t, modeltest.Example("reading-room"), "title", hostile, "builder", hostile))
	require.Empty(t, d.Problems)
	for _, form := range []func() (*Sheet, error){
		func() (*Sheet, error) { return New(d) },
		func() (*Sheet, error) { s, _, err := ForLearner(d); return s, err },
		func() (*Sheet, error) { _, s, err := ForLearner(d); return s, err },
	} {
		s, err := form()
		require.NoError(t, err)
		page, read, markdown := forms(t, s) // which looks for what runs
		for _, text := range []string{page, markdown} {
			assert.NotContains(t, text, "\u202e")
			assert.NotContains(t, text, "\u2066")
		}
		assert.Contains(t, read, `<script>alert(1)</script><img src=x onerror=alert(1)> "q" & 'so' {{.Title}} gnp`)
		assert.NotContains(t, fenced.ReplaceAllString(markdown, ""), "<script>")
		assert.Contains(t, markdown, `\<script\>alert(1)\</script\>`)
	}
	s, err := New(d)
	require.NoError(t, err)
	page, _, _ := forms(t, s)
	tag := regexp.MustCompile(`</?\w+`)
	assert.Equal(t, count(tag.FindAllString(wanted, -1)), count(tag.FindAllString(page, -1)), "no element more")
}

// count counts the opening tags.
func count(tags []string) (n int) {
	for _, tag := range tags {
		if !strings.HasPrefix(tag, "</") {
			n++
		}
	}
	return n
}

// The same build gives the same bytes, on one core as on all.
func TestSheetsAreTheSameBytes(t *testing.T) {
	made := func() (all string) {
		d := model.Open(modeltest.Example("station-platform"))
		full, err := New(d)
		require.NoError(t, err)
		learner, key, err := ForLearner(d)
		require.NoError(t, err)
		for _, s := range []*Sheet{full, learner, key} {
			page, _, markdown := forms(t, s)
			all += page + markdown
		}
		return all
	}
	wanted := made()
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	t.Setenv("TZ", "Pacific/Kiritimati")
	assert.Equal(t, wanted, made())
}
