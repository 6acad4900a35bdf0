package schematic

import "example.com/needlewright/model/network"

// Where things stand on the page: the current runs down the trunk, what lies beside it hangs
// on branches, what it is stands behind, and the figures at the right edge.
const (
	trunk       = 5
	firstBranch = 9
	nextBranch  = 4
	labels      = 26
	toGround    = 54 // the columns of figures end before these
	across      = 65
	through     = Width
	nodeWide    = 18 // columns of what a node and a part are called
	elementWide = 28
)

// A ladder is a drawing that grows downwards.
type ladder struct {
	*Drawing
	n      *network.Network
	y      int
	active []int // columns of lines that go on downwards
}

// row lets all lines go on by so many rows, but one that a symbol interrupts.
func (l *ladder) row(rows, but int) {
	for _, x := range l.active {
		if x != but {
			l.down(x, l.y, l.y+rows)
		}
	}
	l.y += rows
}

// on goes down by a row.
func (l *ladder) on() { l.row(1, -1) }

// label writes what a part is, a line a row from here on; the column at its end.
func (l *ladder) label(y int, texts ...string) {
	for _, t := range texts {
		if t == "" {
			continue
		}
		l.text(labels, y, elementWide, t)
		y++
	}
}

// head writes the names of the columns.
func (l *ladder) head(y int) {
	l.number(toGround, y, "to ground")
	l.number(across, y, "across it")
	l.number(through, y, "through it")
}

// node is a place where parts are joined, with its volts to ground.
func (l *ladder) node(name string, volts string) {
	l.put(dot, trunk, l.y)
	l.text(labels, l.y, nodeWide, name)
	l.number(toGround, l.y, volts)
}

// branch opens a line beside the trunk at this row. What is opened later stands further left,
// so that no line crosses another.
func (l *ladder) branch(x int) {
	l.across(trunk, x, l.y)
	l.active = append(l.active, x)
}

// close joins all branches and the trunk in this row.
func (l *ladder) close() {
	for _, x := range l.active {
		if x != trunk {
			l.across(trunk, x, l.y)
		}
	}
	l.active = []int{trunk}
}

// figures writes what stands across a part, and what goes through it.
func (l *ladder) figures(y int, volts, amps string) {
	l.number(across, y, volts)
	l.number(through, y, amps)
}

// resistor draws one in the trunk or a branch.
func (l *ladder) resistor(x int) {
	l.box(x-1, l.y, x+1, l.y+2)
	l.symbol(x, 2)
}

// symbol goes down past one of so many rows more than one, in a column.
func (l *ladder) symbol(x, rows int) {
	l.row(rows, x)
	l.on()
}

// drawn notes that a part is drawn.
func (d *Drawing) drawn(ids ...string) { d.Drawn = append(d.Drawn, ids...) }
