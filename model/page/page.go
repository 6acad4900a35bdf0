// Package page makes a paper to print or to read on a phone: one HTML file without a
// script or anything from outside.
package page

import (
	_ "embed"
	"html/template"
	"strings"
)

//go:embed page.css
var style string

// frame is what stands around the body of every paper. What it is filled with is text,
// whatever it holds: html/template sees to that.
const frame = `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>{{.Title}}</title>
<style>
{{.Style}}</style>
</head>
<body>
{{template "body" .Of}}</body>
</html>
`

// Make makes a paper of the template of its body: its title, and what the body takes.
// The same gives the same bytes. A body that is no template is an error of the program,
// which its tests find.
func Make(title, body string, of any) (string, error) {
	t, err := template.New("page").Parse(frame)
	if err == nil {
		_, err = t.New("body").Parse(body)
	}
	if err != nil {
		return "", err
	}
	var out strings.Builder
	err = t.Execute(&out, struct {
		Title string
		Style template.CSS
		Of    any
	}{title, template.CSS(style), of})
	return out.String(), err
}
