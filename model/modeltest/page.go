package modeltest

import (
	"encoding/xml"
	"errors"
	"io"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// ReadPage reads an HTML page with a parser that is not ours. It returns its elements in their
// order, with their attributes, and the text that a person reads: all but the style.
func ReadPage(t testing.TB, html string) (elements []xml.StartElement, text string) {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(html))
	d.Strict, d.AutoClose, d.Entity = false, xml.HTMLAutoClose, xml.HTMLEntity
	var read strings.Builder
	within := "" // the element that began last
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return elements, read.String()
		}
		require.NoError(t, err)
		switch token := token.(type) {
		case xml.StartElement:
			elements, within = append(elements, token.Copy()), token.Name.Local
		case xml.CharData:
			if within != "style" {
				read.Write(token)
			}
		}
	}
}
