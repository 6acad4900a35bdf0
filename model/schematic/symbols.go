package schematic

// A symbol is the picture of a part, or of what joins parts.
type symbol int

// The symbols. Those that stand upright lie on the line through their middle column.
const (
	dot symbol = iota
	capacitorUp
	polarUp
	diodeDown
	diodeUp
	meterUp
	arrowLeft
	crystalUp
	capacitorAcross
	polarAcross
	ledAcross
	buttonAcross
	intoNext
)

// A picture is a symbol: its rows of text, the first column of which stands so many columns
// left of its place; and its path of SVG in cells, from its place's upper left corner.
type picture struct {
	rows, plain []string
	before      int
	lines       string // a path that is drawn
	filled      string // a path that is filled
}

var symbols = map[symbol]picture{
	dot: {rows: []string{"●"}, plain: []string{"o"}, filled: "M.9 .5A.4 .19 0 1 0 .1 .5A.4 .19 0 1 0 .9 .5Z"},
	capacitorUp: {rows: []string{"─┴─", "─┬─"}, plain: []string{"-+-", "-+-"}, before: 1,
		lines: "M.5 .5V.85M-.75 .85H1.75M-.75 1.15H1.75M.5 1.15V1.5"},
	polarUp: {rows: []string{"─┴─+", "─┬─"}, plain: []string{"-+-+", "-+-"}, before: 1,
		lines: "M.5 .5V.8M-.75 .8H1.75V1H-.75ZM-.75 1.15H1.75M.5 1.15V1.5"},
	diodeDown: {rows: []string{"▼", "─┬─"}, plain: []string{"V", "-+-"},
		lines: "M.5 .5V1.5M-.25 1.3H1.25", filled: "M-.25 .7H1.25L.5 1.3Z"},
	diodeUp: {rows: []string{"─┴─", "▲"}, plain: []string{"-+-", "A"},
		lines: "M.5 .5V1.5M-.25 .7H1.25", filled: "M-.25 1.3H1.25L.5 .7Z"},
	meterUp: {rows: []string{"+│", "(↗)", "−│"}, plain: []string{"+|", "(/)", "-|"}, before: 1,
		lines: "M.5 .5V.7M.5 2.3V2.5M2.1 1.5A1.6 .8 0 1 0 -1.1 1.5A1.6 .8 0 1 0 2.1 1.5ZM-.3 1.85L1.3 1.15M.8 1.12L1.3 1.15L1.05 1.4"},
	arrowLeft: {rows: []string{"◄"}, plain: []string{"<"}, filled: "M.5 .5L1.3 .3V.7Z", lines: "M1.3 .5H1.5"},
	crystalUp: {rows: []string{"─┴─", "[ ]", "─┬─"}, plain: []string{"-+-", "[ ]", "-+-"}, before: 1,
		lines: "M.5 .5V.9M-.75 .9H1.75M-1 1.15H2V1.85H-1ZM-.75 2.1H1.75M.5 2.1V2.5"},
	capacitorAcross: {rows: []string{"┤├"}, plain: []string{"||"},
		lines: "M-.5 .5H.7M.7 0V1M1.3 0V1M1.3 .5H2.5"},
	polarAcross: {rows: []string{"┤├"}, plain: []string{"||"},
		lines: "M-.5 .5H.6M.6 0H.9V1H.6ZM1.3 0V1M1.3 .5H2.5"},
	ledAcross: {rows: []string{"▶│"}, plain: []string{">|"},
		lines: "M-.5 .5H2.5M1.5 .1V.9M1 0L1.6 -.35M1.25 -.35H1.6V-.15M1.6 .05L2.2 -.3M1.85 -.3H2.2V-.1", filled: "M.2 .1V.9L1.5 .5Z"},
	buttonAcross: {rows: []string{"o/ o"}, plain: []string{"o/ o"},
		lines: "M-.5 .5H.4M.4 .5L2.6 .05M3 .5H4.5M.7 .5A.2 .1 0 1 0 .3 .5A.2 .1 0 1 0 .7 .5ZM3.3 .5A.2 .1 0 1 0 2.9 .5A.2 .1 0 1 0 3.3 .5Z"},
	intoNext: {rows: []string{"▶"}, plain: []string{">"}, lines: "M-.5 .5H.2", filled: "M.2 .25L1 .5L.2 .75Z"},
}

// offset is how far left of its place a row of a symbol begins.
func (p *picture) offset(row int) int {
	if p.before == 0 && len([]rune(p.rows[row])) == 3 { // the bar of an upright diode
		return 1
	}
	return p.before
}
