package model

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// seeds are texts from which a fuzzer may start.
func seeds(f *testing.F) []string {
	list := []string{
		"", "\uFEFF", "[[hand]]\nname='a'\n[hand.meter]\ncoil={}\n", "[[hand.meter]]\n", "hand.name=1\n", "hand={name=1}\n",
		"[[reading]]\nat=''\nvalue=''\n", "[\"\"]\n", "\"a=b\".c=[[1,2]]#\n", "rail={voltage=5,\ndrift=1}\n", "x=[[1,[2]],{}]\n", "a=\xff\n",
		"\"rail.voltage\"=5\n", "[hand.hand]\n", "[ hand . \"meter\" ]\n", rowsOfTwo, "[[hand.scale]]\nat=1\n", "[[hand]]\nscale=[{at=1}]\nsurvey={step=[]}\n[hand.scale]\n[hand.scale.x]\n",
		"format=0b1\n", "title='''\n'''\n",
	}
	for _, name := range []string{"whole.toml", "three-hands.toml", "bare-cells.toml", "bad.toml", "public-1.toml", "public-2.toml"} {
		list = append(list, testdata(f, name))
	}
	return list
}

// FuzzRead: no text makes Read panic, and each problem is on a line of the text.
func FuzzRead(f *testing.F) {
	for _, text := range seeds(f) {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		_, problems := Read(text)
		lines := 1 + strings.Count(text, "\n")
		for _, p := range problems {
			require.True(t, 1 <= p.Line && p.Line <= lines, "line %d of %d: %v", p.Line, lines, p)
			require.NotEmpty(t, p.Wrong)
		}
	})
}

// FuzzSet: the law of checkSet where the value is there, and where it is not
// the key is added and nothing else read differently.
func FuzzSet(f *testing.F) {
	for _, text := range seeds(f) {
		f.Add(text, uint8(7), uint8(0), "1k2 ±5 %")
	}
	for row, field := range Builds.Fields {
		if field.IsRow() {
			f.Add(rowsOfTwo, uint8(row), uint8(1), "1k2 ±5 %")
		}
	}
	f.Fuzz(func(t *testing.T, text string, row, index uint8, given string) {
		o, field := Builds.scan(text), Builds.Fields[int(row)%len(Builds.Fields)]
		i := int(index)
		if o.broken || len(o.problems) > 0 || field.list == "" && i > 0 || field.list != "" && i >= o.count[field.list] {
			return
		}
		if o.find(field.Path, i) != nil {
			checkSet(t, text, field, i, given)
			return
		}
		got, ok := o.set(field, i, given, "")
		require.True(t, ok)
		after := Builds.scan(got)
		require.False(t, after.broken, got)
		require.Empty(t, after.problems, got)
		if given == "" {
			require.Equal(t, text, got)
			return
		}
		require.Equal(t, strings.ToValidUTF8(given, "\uFFFD"), after.find(field.Path, i).text)
		for _, v := range o.values {
			if v.start != v.end && v.text != "{}" { // an empty inline table may have been filled
				kept := after.find(v.path, v.index)
				require.NotNil(t, kept, v.path)
				require.Equal(t, v.text, kept.text)
			}
		}
	})
}
