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

// New makes a template of a paper from that of its body. It panics where the body is no
// template: it is part of the program.
func New(body string) *template.Template {
	t := template.Must(template.New("page").Parse(frame))
	return template.Must(t.New("body").Parse(body))
}

// Make fills a template of New: its title, and what its body takes. The same gives the
// same bytes.
func Make(t *template.Template, title string, of any) (string, error) {
	var out strings.Builder
	err := t.ExecuteTemplate(&out, "page", struct {
		Title string
		Style template.CSS
		Of    any
	}{title, template.CSS(style), of})
	return out.String(), err
}
