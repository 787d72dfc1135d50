package chart

import (
	"fmt"
	"math"
	"strings"
	"time"

	"boat/hoveshort/provisions"
)

// scale is the axis of amounts: so much a line, and a number at every few lines.
type scale struct {
	row   float64 // a line, in the unit of the axis
	every int     // lines from number to number
	rows  int     // lines above the axis; no more than most takes
}

// rounds are the steps from number to number that read well, of a power of ten.
var rounds = [...]float64{1, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10}

// newScale is the least round scale on which most still fits, to the nearest line.
func newScale(most float64, rows int) scale {
	s := scale{every: 1, rows: rows}
	for s.every*4 < rows {
		s.every *= 2
	}
	if !(most > 0) {
		s.row = 1 / float64(s.every)
		return s
	}

	least := most / (float64(rows) + nearly) * float64(s.every)
	power := math.Pow10(int(math.Floor(math.Log10(least))))
	for _, round := range rounds {
		s.row = round * power / float64(s.every)
		if round*power >= least {
			break
		}
	}
	s.rows = max(leastRows, min(rows, int(math.Ceil(most/s.row-nearly))))
	return s
}

// nearly is the share of a line by which an amount may be over the topmost.
const nearly = 0.499

// at is the number beside a line, or "".
func (s scale) at(row int) string {
	if row%s.every != 0 {
		return ""
	}
	return label(float64(row) * s.row)
}

func (s scale) top() float64 { return s.row * float64(s.rows) }

func (s scale) width() int {
	widest := 0
	for row := range s.rows + 1 {
		widest = max(widest, len(s.at(row)))
	}
	return widest
}

// ticks is the axis of time: round steps of hours, told in days where they are whole ones.
type ticks struct {
	step   float64 // hours
	hours  float64 // to the right edge
	depart time.Time
}

// A tick wants so many columns, for a date or a clock time below it.
const tickColumns = 8

func newTicks(hours float64, columns int, depart time.Time) ticks {
	t := ticks{hours: hours, depart: depart}
	least := hours / float64(columns) * tickColumns
	for _, t.step = range [...]float64{1, 2, 3, 6, 12, 24} {
		if t.step >= least {
			return t
		}
	}
	for days := 1.0; ; days *= 10 {
		for _, round := range [...]float64{1, 2, 5} {
			t.step = round * days * 24
			if t.step >= least {
				return t
			}
		}
	}
}

func (t ticks) inDays() bool { return t.step >= 24 }

func (t ticks) unit() string {
	if t.inDays() {
		return "days"
	}
	return "hours"
}

func (t ticks) count() int { return int(t.hours/t.step+1e-9) + 1 }

func (t ticks) number(i int) string {
	if t.inDays() {
		return label(float64(i) * t.step / 24)
	}
	return label(float64(i) * t.step)
}

// moment is the date of a tick, or the time of day where ticks are hours.
func (t ticks) moment(i int) string {
	at := t.depart.Add(time.Duration(float64(i) * t.step * float64(time.Hour)))
	if t.inDays() {
		return at.Format("2 Jan")
	}
	return at.Format("15:04")
}

// foot is what stands under the axis.
type foot struct {
	arrivals bool // in which case she arrives
	dates    bool
}

// foot leaves what is least wanted out where lines are few.
func (o Options) foot(legend int) foot {
	spare := o.Height - legend - 2
	return foot{arrivals: spare >= 6, dates: spare >= 7 && !o.Depart.IsZero()}
}

// lines counts the axis in.
func (f foot) lines() int {
	n := 2
	if f.arrivals {
		n++
	}
	if f.dates {
		n++
	}
	return n
}

func (f foot) width() int { return len("hours") }

func (f foot) draw(p *plot, lines []provisions.Left, t ticks, gutter int) []string {
	var out []string
	if f.arrivals {
		row := blank(p.columns)
		for i := range lines {
			l := lines[len(lines)-1-i]
			for _, at := range l.Arrivals {
				row[p.column(at)] = p.marks.of(l.Case)
			}
		}
		out = append(out, under("in", gutter, string(row)))
	}
	out = append(out, under(t.unit(), gutter, p.spread(t, t.number)))
	if f.dates {
		out = append(out, under("", gutter, p.spread(t, t.moment)))
	}
	return out
}

func under(name string, gutter int, row string) string {
	return strings.TrimRight(fmt.Sprintf("%*s  %s", gutter, name, row), " ")
}

// spread writes the ticks' texts under them, each around its tick where it fits.
func (p *plot) spread(t ticks, text func(int) string) string {
	row := blank(p.columns)
	free := 0
	for i := range t.count() {
		words := []rune(text(i))
		from := p.column(float64(i)*t.step) - len(words)/2
		from = max(0, min(from, p.columns-len(words)))
		if from < free || len(words) > p.columns {
			continue
		}
		copy(row[from:], words)
		free = from + len(words) + 1
	}
	return string(row)
}

func blank(columns int) []rune { return []rune(strings.Repeat(" ", columns)) }
