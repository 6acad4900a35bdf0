package sheet

import (
	"fmt"
	"strings"
)

// Markdown returns the sheet as Markdown: the same content, drawings as text, plots and dials
// as tables. All that comes from the build is text, whatever it holds.
func (s *Sheet) Markdown() string {
	var b strings.Builder
	fmt.Fprintf(&b, "# %s\n\n%s\n", marked(s.Title), marked(s.About))
	for _, section := range s.Sections {
		fmt.Fprintf(&b, "\n## %s\n", marked(section.Title))
		for k := range section.Blocks {
			section.Blocks[k].markdown(&b)
		}
	}
	b.WriteString("\nMade with needlewright. Where the work can hurt somebody, local codes and licensed practice decide.\n")
	return visible(b.String())
}

func (k *Block) markdown(b *strings.Builder) {
	if k.Heading != "" {
		fmt.Fprintf(b, "\n### %s\n", marked(k.Heading))
	}
	for _, s := range k.Texts {
		fmt.Fprintf(b, "\n%s\n", marked(s))
	}
	if k.Warned != nil {
		b.WriteString("\n")
	}
	for _, s := range k.Warned {
		fmt.Fprintf(b, "> * ⚠ %s\n", marked(s))
	}
	for _, s := range k.Signs {
		fmt.Fprintf(b, "\n%s: %s\n", marked(s), written)
	}
	if k.Table != nil {
		k.Table.markdown(b)
	}
	if f := k.Figure; f != nil {
		fmt.Fprintf(b, "\n%s\n", marked(f.Name))
		if f.Text != nil {
			fence := "```"
			for strings.Contains(strings.Join(f.Text, "\n"), fence) {
				fence += "`"
			}
			fmt.Fprintf(b, "\n%stext\n%s\n%s\n", fence, strings.Join(f.Text, "\n"), fence)
		}
		if f.Table != nil {
			f.Table.markdown(b)
		}
	}
	if k.After != "" {
		fmt.Fprintf(b, "\n%s\n", marked(k.After))
	}
}

// written is room to write.
const written = `\_\_\_\_\_\_\_\_\_\_\_\_`

func (t *Table) markdown(b *strings.Builder) {
	if t.Caption != "" {
		fmt.Fprintf(b, "\n**%s**\n", marked(t.Caption))
	}
	b.WriteString("\n|")
	for _, h := range t.Head {
		fmt.Fprintf(b, " %s |", marked(h))
	}
	b.WriteString("\n|" + strings.Repeat(" --- |", len(t.Head)) + "\n")
	for _, row := range t.Rows {
		b.WriteString("|")
		for _, c := range row {
			fmt.Fprintf(b, " %s |", c.markdown())
		}
		b.WriteString("\n")
	}
}

// markdown is a cell in a line.
func (c *Cell) markdown() string {
	says := marked(c.Text)
	switch {
	case c.Box && c.Ticked:
		says = "✓"
	case c.Box:
		says = `\[ \]`
	case c.Blank > 0:
		says = fmt.Sprintf("(%d) %s", c.Blank, written)
	case c.Room:
		says = written
	}
	if c.Small != "" {
		says += " – " + marked(c.Small)
	}
	return says
}

// marked is a text in a line with what Markdown would obey escaped.
func marked(text string) string {
	var b strings.Builder
	for _, r := range strings.Join(strings.Fields(text), " ") {
		if strings.ContainsRune("\\`*_{}[]<>#|&!~", r) {
			b.WriteByte('\\')
		}
		b.WriteRune(r)
	}
	s := b.String()
	if s != "" && strings.ContainsRune("+-=", rune(s[0])) && len(s) > 1 && s[1] == ' ' {
		s = `\` + s
	}
	return s
}
