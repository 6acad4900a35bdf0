package page

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What fills a page is text, in its title as in its body, and the style is the page's own.
func TestMake(t *testing.T) {
	html, err := Make("a </title> & b", `<p title="{{.}}">{{.}}</p>`, `"<b>"`)
	require.NoError(t, err)
	assert.Contains(t, html, "<title>a &lt;/title&gt; &amp; b</title>")
	assert.Contains(t, html, `<p title="&#34;&lt;b&gt;&#34;">&#34;&lt;b&gt;&#34;</p>`)
	assert.Contains(t, html, style)
	assert.Regexp(t, `@page \{ margin: \d+mm \}`, style, "no size: the reader's paper holds, A4 or Letter")
	again, err := Make("a </title> & b", `<p title="{{.}}">{{.}}</p>`, `"<b>"`)
	require.NoError(t, err)
	assert.Equal(t, html, again)
	_, err = Make("", "{{", nil)
	require.Error(t, err)
	_, err = Make("", "{{.Nothing}}", 1)
	require.Error(t, err)
}
