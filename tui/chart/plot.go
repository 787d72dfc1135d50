package chart

import (
	"fmt"
	"math"
	"strings"

	"boat/hoveshort/provisions"
)

// plot is the field of a chart. Line 0 is the axis: nothing left.
type plot struct {
	marks   marks
	rows    int // above the axis
	columns int
	hours   float64 // to the rightmost column
	top     float64 // amount at the topmost line, in litres, kilograms or person-days
	cells   [][]rune
}

func newPlot(m marks, rows, columns int, hours, top float64) *plot {
	p := &plot{marks: m, rows: rows, columns: columns, hours: hours, top: top}
	for range rows + 1 {
		p.cells = append(p.cells, blank(columns))
	}
	return p
}

// draw puts one thing over the other, what matters most last. The floor is that of the
// first line alone: the others have the same reserves, at other hours.
func (p *plot) draw(lines []provisions.Left, t ticks, planned []provisions.LeftPoint) {
	for x := range p.columns {
		p.cells[0][x] = p.marks.base
	}
	for i := 1; i < t.count(); i++ {
		p.cells[0][p.column(float64(i)*t.step)] = p.marks.tick
	}
	for _, f := range lines[0].Floor {
		p.floor(f)
	}
	p.planned(planned)
	for i := range lines {
		p.line(lines[len(lines)-1-i])
	}
	for _, l := range lines {
		for _, at := range l.Arrivals {
			p.cells[0][p.column(at)] = p.marks.arrives
		}
	}
	for _, l := range lines {
		p.touches(l)
	}
}

// planned samples what was promised; a fact or a line of now lies over it.
func (p *plot) planned(points []provisions.LeftPoint) {
	if len(points) < 2 {
		return
	}
	was := provisions.Left{Points: points}
	for x := p.column(points[0].Hours); x <= p.column(was.Ends()); x++ {
		hours := max(points[0].Hours, min(float64(x)/float64(p.columns-1)*p.hours, was.Ends()))
		if left, known := was.At(hours); known {
			p.cells[p.row(left, 0)][x] = p.marks.planned
		}
	}
}

// facts are what was sounded, over all else.
func (p *plot) facts(points []provisions.LeftPoint) {
	for _, at := range points {
		p.cells[p.row(at.Amount, 0)][p.column(at.Hours)] = p.marks.fact
	}
}

func (p *plot) column(hours float64) int {
	x := int(math.Round(hours / p.hours * float64(p.columns-1)))
	return max(0, min(x, p.columns-1))
}

// row is the line of an amount over a reserve: the nearest, but the axis for nothing
// alone, under the floor what is under the reserve, and on it or over it what is not.
func (p *plot) row(amount, reserve provisions.Amount) int {
	if amount <= 0 {
		return 0
	}
	row := p.nearest(amount)
	if amount < reserve*(1-1e-9) {
		return max(1, min(row, p.nearest(reserve)-1))
	}
	return row
}

// nearest is never the axis.
func (p *plot) nearest(amount provisions.Amount) int {
	row := int(math.Round(float64(amount) / p.top * float64(p.rows)))
	return max(1, min(row, p.rows))
}

func (p *plot) floor(f provisions.Floor) {
	if f.Amount <= 0 {
		return
	}
	for x := p.column(f.From); x <= p.column(f.To); x++ {
		p.cells[p.nearest(f.Amount)][x] = p.marks.floor
	}
}

// line samples a line at every column. Where it is filled up the column shows from
// which amount to which.
func (p *plot) line(l provisions.Left) {
	mark := p.marks.of(l.Case)
	before := -1
	for x := range p.columns {
		hours := float64(x) / float64(p.columns-1) * p.hours
		left, known := l.At(hours)
		if x == p.column(l.Ends()) {
			left, known = l.Points[len(l.Points)-1].Amount, true
			hours = l.Ends()
		}
		if !known {
			continue
		}
		low, high, filled := p.filled(l, x)
		row := p.row(left, reserveAt(l, hours))
		switch {
		case filled:
			p.upright(x, low, high, mark)
			p.upright(x, low, nextTo(low, before), mark)
			before = high
			continue
		case before >= 0:
			p.upright(x, row, nextTo(row, before), mark)
		}
		p.put(x, row, mark)
		before = row
	}
}

// put marks a cell. Where two lines run on top of each other they take turns.
func (p *plot) put(x, row int, mark rune) {
	if cell := &p.cells[row][x]; x%2 == 0 || !p.isLine(*cell) {
		*cell = mark
	}
}

func (p *plot) isLine(mark rune) bool {
	return mark == p.marks.slow || mark == p.marks.expected || mark == p.marks.quick
}

// nextTo is the row beside before, on the side of row: what joins them begins there.
func nextTo(row, before int) int {
	switch {
	case before < 0 || before == row:
		return row
	case before > row:
		return before - 1
	}
	return before + 1
}

func (p *plot) upright(x, from, to int, mark rune) {
	for row := min(from, to); row <= max(from, to); row++ {
		p.put(x, row, mark)
	}
}

// filled are the rows from which and to which a line is filled up in a column.
func (p *plot) filled(l provisions.Left, x int) (low, high int, ok bool) {
	for i, point := range l.Points[1:] {
		from := l.Points[i]
		if from.Hours == point.Hours && p.column(point.Hours) == x {
			return p.row(from.Amount, reserveAt(l, from.Hours)), p.row(point.Amount, 0), true
		}
	}
	return 0, 0, false
}

// reserveAt is the floor at an hour; 0 between two stretches.
func reserveAt(l provisions.Left, hours float64) provisions.Amount {
	for _, f := range l.Floor {
		if f.From <= hours && hours <= f.To {
			return f.Amount
		}
	}
	return 0
}

// touches marks where the reserve is touched and where nothing is left.
func (p *plot) touches(l provisions.Left) {
	reserve, nothing := l.Touched()
	for _, at := range reserve {
		p.cells[p.row(at.Amount, reserveAt(l, at.Hours))][p.column(at.Hours)] = p.marks.touched
	}
	for _, at := range nothing {
		p.cells[0][p.column(at.Hours)] = p.marks.gone
	}
}

// lines are the field with the numbers beside it, from the top down.
func (p *plot) lines(s scale, gutter int) []string {
	out := make([]string, 0, p.rows+1)
	for row := p.rows; row >= 0; row-- {
		side := p.marks.side
		if row == 0 {
			side = p.marks.corner
		}
		line := fmt.Sprintf("%*s %c%s", gutter, s.at(row), side, string(p.cells[row]))
		out = append(out, strings.TrimRight(line, " "))
	}
	return out
}
