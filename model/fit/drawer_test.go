package fit

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The same two meters in each way in which spreadsheets write tables.
func TestReadsTables(t *testing.T) {
	for name, text := range map[string]string{
		"commas":              "name,coil,full_scale\nA,\"98,5 Ω\",1 mA\nB,640,500\n",
		"semicolons":          "name;coil;full_scale\nA;98,5 Ω;1 mA\nB;640;500\n",
		"tabs":                "name\tcoil\tfull_scale\nA\t98,5 Ω\t1 mA\nB\t640\t500\n",
		"CRLF and a mark":     "\ufeffname;coil;full_scale\r\nA;98,5 Ω;1 mA\r\nB;640;500\r\n",
		"another order":       "Full Scale;note;NAME;coil\n1 mA;;A;98.5\n\n500 µA;;B;640 Ω\n",
		"empty lines":         "\n\nname,coil,full_scale\n\nA,98.5,1 mA\n   \nB,640,500",
		"all cells in quotes": "\"name\",\"coil\",\"full_scale\"\n\"A\",\"98,5\",\"1 mA\"\n\"B\",\"640\",\"500\"\n",
		"a column of nothing": "name,,coil,full_scale,\nA,,98.5,1 mA,\nB,,640,500,\n",
	} {
		d, err := Read(text)
		require.NoError(t, err, name)
		require.Empty(t, d.Problems, name)
		require.Len(t, d.Rows, 2, name)
		for k, want := range []struct {
			name       string
			coil, full float64
		}{{"A", 98.5, 1e-3}, {"B", 640, 500e-6}} { // what stands there
			row := d.Rows[k]
			m := row.known().meter
			assert.Equal(t, want.name, row.Name, name)
			assert.Equal(t, k+1, row.N, name)
			assert.InDelta(t, want.coil, m.Coil.Number, 1e-9, name)
			assert.InDelta(t, want.full, m.FullScale.Number, 1e-12, name)
		}
	}
}

func TestCellsInQuotes(t *testing.T) {
	d, err := Read("name,note,coil,full_scale\n\"two\nlines\",\"says \"\"5 V\"\", or so\",100,1 mA\n6\" dial,,100,1 mA\n")
	require.NoError(t, err)
	require.Empty(t, d.Problems)
	require.Len(t, d.Rows, 2)
	assert.Equal(t, "two\nlines", d.Rows[0].Name)
	assert.Equal(t, `says "5 V", or so`, d.Rows[0].Note)
	assert.Equal(t, `6" dial`, d.Rows[1].Name)
}

// Each names the line, what was given, what is allowed and what to do; the others go on.
func TestRowsThatCannotBeRead(t *testing.T) {
	d, err := Read(strings.Join([]string{
		"name,kind,coil,full_scale,zero_at,law",
		"good,moving coil,100,1 mA,left,",
		"a,,abc,1 mA,,",
		"b,gas,100,1 mA,,",
		"c,,100,5 V,,",
		"d,,100,1 mA,,table",
		"e,,100,1 mA,,,,7",
		"f,\"moving coil,100,1 mA,,",
		"g,,-3,1 mA,,",
		",MOVING_IRON,100,1 mA,center,Square",
	}, "\n"))
	require.NoError(t, err)
	var messages []string
	for _, p := range d.Problems {
		messages = append(messages, p.String())
	}
	assert.Equal(t, []string{
		`line 3: coil: "abc": "abc" is not a number; allowed: 1 mΩ to 1 MΩ; write 4.7 kΩ or 4k7`,
		`line 4: kind: "gas": no such choice; allowed: moving coil, moving iron, rectifier, thermal, cross coil or other; write one of these, or leave the cell empty`,
		`line 5: full_scale: "5 V": "V" is a unit of voltage; this is in µA; allowed: 1 µA to 100 A; enter the current of the last mark: the volts across the bare coil there, divided by its resistance, give it; what the dial says may be with a multiplier`,
		`line 6: law: "table": no such choice; allowed: linear or square; write one of these, or leave the cell empty`,
		`line 7: "7": 8 cells stand in it, more than the first line has columns; allowed: 6 cells; put a cell that holds the separator in quotes`,
		`line 8: "f,\"moving coil,100,1 mA,,": a cell in quotes does not end; allowed: "…", with "" for a quote in it; close the quotes`,
		`line 9: coil: "-3 Ω": too small; allowed: 1 mΩ to 1 MΩ; check the prefix: a bare number is in Ω`,
	}, messages)
	require.Len(t, d.Rows, 2)
	last := d.Rows[1]
	assert.Equal(t, "row 9", last.Name)
	assert.Equal(t, "centre", last.texts["hand.meter.zero_at"])
	assert.Equal(t, "moving iron", last.texts[kindPath])
	assert.Equal(t, "square", last.texts[lawPath])
}

func TestDrawersThatCannotBeRead(t *testing.T) {
	for text, want := range map[string]string{
		"":                      "nothing stands in it",
		" \n\n":                 "nothing stands in it",
		"name,colour\na,red\n":  `line 1: "colour": no column has this name; allowed: name, kind, marked, `,
		"\nname,coil,Coil\na\n": `line 2: "Coil": the column stands twice; allowed: each name once; take one of the two out`,
		"name\n" + strings.Repeat("a\n", MostRows+1): "more than 20000 meters",
	} {
		_, err := Read(text)
		assert.ErrorContains(t, err, want)
	}
	d, err := Read("name\n" + strings.Repeat("a\n", MostRows))
	require.NoError(t, err)
	assert.Len(t, d.Rows, MostRows)
}

func TestIsDrawer(t *testing.T) {
	for text, want := range map[string]bool{
		"name,coil\n": true, "\n\"coil\";name\n": true, "# a build\nformat = 1\n": false, "": false, "format = 1": false,
	} {
		assert.Equal(t, want, IsDrawer(text), text)
	}
}

func FuzzRead(f *testing.F) {
	f.Add("name,coil,full_scale\nA,\"98,5 Ω\",1 mA\n")
	f.Add("name;note\n\"a\nb\";x\n\"\n")
	f.Fuzz(func(t *testing.T, text string) {
		d, err := Read(text)
		if err != nil {
			require.NotEmpty(t, err.Error())
			return
		}
		for _, row := range d.Rows {
			require.NotEmpty(t, row.Name)
			row.known()
		}
	})
}
