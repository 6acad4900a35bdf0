package sheet

import (
	"fmt"
	"html"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/modeltest"
)

// printed says whether sheets are to be printed by a browser and measured, as .ci/papers does.
func printed(t *testing.T) {
	t.Helper()
	if os.Getenv("NEEDLEWRIGHT_PRINTED") == "" {
		t.Skip("NEEDLEWRIGHT_PRINTED=1 prints sheets by chromium and measures them: .ci/papers")
	}
}

// pages are the forms of a build's sheet as HTML.
func pages(t *testing.T, name string) map[string]string {
	t.Helper()
	d := model.Open(modeltest.Example(name))
	full, err := New(d)
	require.NoError(t, err)
	learner, key, err := ForLearner(d)
	require.NoError(t, err)
	all := map[string]string{}
	for form, s := range map[string]*Sheet{"full": full, "learner": learner, "key": key} {
		all[form], err = s.HTML()
		require.NoError(t, err)
	}
	return all
}

// chromium runs the browser without a window, and returns what it prints.
func chromium(t *testing.T, args ...string) string {
	t.Helper()
	args = append([]string{"--headless", "--no-sandbox", "--disable-gpu", "--user-data-dir=" + t.TempDir()}, args...)
	out, err := exec.Command("chromium", args...).Output()
	require.NoError(t, err, strings.Join(args, " "))
	return string(out)
}

var (
	aBody    = regexp.MustCompile(`(?s)<tbody>.*?</tbody>`)
	aRow     = regexp.MustCompile(`<tr>.*?</tr>`)
	aCellEnd = regexp.MustCompile(`</t[hd]>`)
	aPicture = regexp.MustCompile(`(?s)<svg [^>]*viewBox="([-\d. ]+)".*?</svg>`)
	aCheck   = regexp.MustCompile(`<line class="check" x1="([\d.]+)" y1="([\d.]+)" x2="([\d.]+)" y2="([\d.]+)"`)
)

// withMarks puts tiny marks, which take no room, at the beginning and the ends of each row, at two corners of each
// picture, and at the ends of check lines.
func withMarks(page string) string {
	n := 0
	page = aBody.ReplaceAllStringFunc(page, func(body string) string {
		return aRow.ReplaceAllStringFunc(body, func(row string) string {
			n++
			first := strings.IndexByte(row[4:], '>') + 5
			row = row[:first] + fmt.Sprintf(`<i class="mark">row%dbegins</i>`, n) + row[first:]
			return aCellEnd.ReplaceAllString(row, fmt.Sprintf(`<i class="mark"> row%dends</i>$0`, n))
		})
	})
	page = aPicture.ReplaceAllStringFunc(page, func(svg string) string {
		n++
		box := strings.Fields(aPicture.FindStringSubmatch(svg)[1])
		x, y, w, h := numberIn(box[0]), numberIn(box[1]), numberIn(box[2]), numberIn(box[3])
		mark := func(x, y float64, name string) string {
			return fmt.Sprintf(`<text x="%g" y="%g" font-size="0.5" fill="black" stroke="none">%s</text>`, x, y, name)
		}
		marks := mark(x+w/100, y+h/100, fmt.Sprintf("row%dbegins", n)) + mark(x+w*0.9, y+h*0.995, fmt.Sprintf("row%dends", n))
		for k, c := range aCheck.FindAllStringSubmatch(svg, -1) {
			marks += mark(numberIn(c[1]), numberIn(c[2]), fmt.Sprintf("check%d-%dfrom", n, k)) + mark(numberIn(c[3]), numberIn(c[4]), fmt.Sprintf("check%d-%dto", n, k))
		}
		return strings.TrimSuffix(svg, "</svg>") + marks + "</svg>"
	})
	return strings.Replace(page, "</style>", ".mark { display: inline-block; width: 0; white-space: nowrap; font-size: 1px; line-height: 1px }\n</style>", 1)
}

func numberIn(text string) float64 { x, _ := strconv.ParseFloat(text, 64); return x }

// aWord is a word of a PDF where poppler has found it.
var aWord = regexp.MustCompile(`<page width="([\d.]+)"|<word xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)">([^<]*)</word>`)

type spot struct {
	page int
	x, y float64
}

// Printed on A4 and Letter, no row of a table, no dial and no other picture is cut by a page's
// end, nothing stands outside of a page, and the check lines of dials measure 50 mm.
func TestPrintedSheets(t *testing.T) {
	printed(t)
	names, err := modeltest.Examples()
	require.NoError(t, err)
	for _, name := range names {
		for form, page := range pages(t, name) {
			for _, size := range []string{"A4", "letter"} {
				of := name + " " + form + " on " + size
				folder := t.TempDir()
				in, pdf := filepath.Join(folder, "in.html"), filepath.Join(folder, "out.pdf")
				require.NoError(t, os.WriteFile(in, []byte(strings.Replace(withMarks(page), "@page {", "@page { size: "+size+";", 1)), 0o644))
				chromium(t, "--no-pdf-header-footer", "--print-to-pdf="+pdf, "file://"+in)
				out, err := exec.Command("pdftotext", "-bbox", pdf, "-").Output()
				require.NoError(t, err)
				n, rows, checks := measured(t, of, string(out))
				assert.Greater(t, rows, 50, of)
				t.Logf("%s: %d pages, %d rows and pictures whole, %d check lines", of, n, rows, checks)
			}
		}
	}
}

// measured looks at what a PDF has where.
func measured(t *testing.T, of, bbox string) (pages, rows, checks int) {
	t.Helper()
	const most, point = 0.3, 25.4 / 72 // mm
	begins, spots, width := map[string]int{}, map[string]spot{}, 0.0
	ends := map[string][]int{}
	for _, w := range aWord.FindAllStringSubmatch(bbox, -1) {
		if w[1] != "" {
			pages++
			width = numberIn(w[1])
			continue
		}
		x, y, word := numberIn(w[2]), numberIn(w[3]), html.UnescapeString(w[6])
		assert.LessOrEqual(t, numberIn(w[4]), width-20, "%s, page %d: %q", of, pages, word)
		for _, mark := range regexp.MustCompile(`(row|check)[\d-]+(begins|ends|from|to)`).FindAllString(word, -1) {
			switch {
			case strings.HasSuffix(mark, "begins"):
				begins[strings.TrimSuffix(mark, "begins")] = pages
			case strings.HasSuffix(mark, "ends"):
				ends[strings.TrimSuffix(mark, "ends")] = append(ends[strings.TrimSuffix(mark, "ends")], pages)
			default:
				spots[mark] = spot{pages, x, y}
			}
		}
	}
	for mark, a := range spots {
		if line, is := strings.CutSuffix(mark, "from"); is {
			b := spots[line+"to"]
			checks++
			assert.Equal(t, a.page, b.page, "%s: %s", of, line)
			assert.InDelta(t, 50, max(b.x-a.x, b.y-a.y)*point, most, "%s: %s", of, line)
		}
	}
	for row, page := range begins {
		rows++
		assert.NotEmpty(t, ends[row], "%s: %s", of, row)
		for _, end := range ends[row] {
			assert.Equal(t, page, end, "%s: %s is cut", of, row)
		}
	}
	return pages, rows, checks
}

// On a phone of 390 px and on a screen of 1200 px nothing makes the page wider than it is.
func TestSheetsOnScreens(t *testing.T) {
	printed(t)
	names, err := modeltest.Examples()
	require.NoError(t, err)
	for _, name := range names {
		for form, page := range pages(t, name) {
			for _, width := range []int{390, 1200} {
				outer := fmt.Sprintf(`<!DOCTYPE html><iframe id="f" width="%d" height="800" style="border:0" srcdoc="%s"></iframe><p id="out"></p><script>
f.onload = () => { out.textContent = "is " + f.contentDocument.documentElement.scrollWidth + " of " + f.contentDocument.documentElement.clientWidth }</script>`, width, html.EscapeString(page))
				in := filepath.Join(t.TempDir(), "in.html")
				require.NoError(t, os.WriteFile(in, []byte(outer), 0o644))
				dom := chromium(t, "--window-size=1400,900", "--virtual-time-budget=5000", "--dump-dom", "file://"+in)
				is := regexp.MustCompile(`id="out">is (\d+) of (\d+)<`).FindStringSubmatch(dom)
				require.NotNil(t, is, "%s %s", name, form)
				assert.Equal(t, is[2], is[1], "%s %s at %d px", name, form, width)
				t.Logf("%s %s at %d px: %s of %s px", name, form, width, is[1], is[2])
			}
		}
	}
}

// What is printed is HTML as the checker of the W3C's community has it.
func TestSheetsAreValid(t *testing.T) {
	printed(t)
	jar := os.Getenv("VNU_JAR")
	require.NotEmpty(t, jar, "the path of vnu.jar")
	names, err := modeltest.Examples()
	require.NoError(t, err)
	folder := t.TempDir()
	for _, name := range names {
		for form, page := range pages(t, name) {
			require.NoError(t, os.WriteFile(filepath.Join(folder, name+"-"+form+".html"), []byte(page), 0o644))
		}
	}
	out, err := exec.Command("java", "-jar", jar, folder).CombinedOutput()
	assert.NoError(t, err)
	assert.Empty(t, string(out))
	bad := filepath.Join(folder, "bad.html")
	require.NoError(t, os.WriteFile(bad, []byte("<!DOCTYPE html><title>x</title><p></b>"), 0o644))
	require.Error(t, exec.Command("java", "-jar", jar, bad).Run(), "the checker says what is wrong")
}
