package tui

import (
	"fmt"
	"math"
	"strings"
	"time"

	"github.com/charmbracelet/lipgloss"

	"boat/hoveshort/checklist/machinery"
	"boat/hoveshort/provisions/quantity"
)

// trendScale is in what a trend is told.
type trendScale struct {
	units quantity.System
	zone  *time.Location
}

// trendMarks are the characters of the drawing, each of one column and none twice.
type trendMarks struct {
	value, flagged, usual, limit string
	side, corner, base, tick     string
}

func (g glyphs) trendMarks() trendMarks {
	switch g.set {
	case ASCII:
		return trendMarks{"o", "X", "-", "=", "|", "+", "-", "+"}
	case Box:
		return trendMarks{"•", "X", "─", "═", "│", "└", "─", "┴"}
	}
	return trendMarks{"●", "X", "─", "┄", "│", "└", "─", "┴"}
}

// The smallest drawing that still tells something.
const (
	leastTrendRows    = 4
	leastTrendColumns = 12
	widestStep        = 6 // columns from one reading to the next
)

// drawTrend draws a gauge, reading by reading from the oldest on: its centre and its
// limits as lines, the values as marks. Of more readings than columns the newest are
// drawn. Where there is no room one line says so.
func drawTrend(l look, t machinery.Trend, in trendScale, s size) []string {
	p := newTrendPlot(l, t, in, s)
	switch {
	case s.h < 1 || s.w < 1:
		return nil
	case len(p.points) == 0 || p.rows < leastTrendRows || p.columns < leastTrendColumns:
		return []string{l.clip("no room for the chart: make the window larger", s.w)}
	}
	m := l.trendMarks()
	p.draw(m)
	lines := []string{l.clip(p.legend(l, m, t), s.w)}
	for i, row := range p.cells {
		lines = append(lines, blanks(p.gutter-lipgloss.Width(p.labels[i]))+p.labels[i]+" "+m.side+strings.TrimRight(strings.Join(row, ""), " "))
	}
	return append(lines, p.foot(m)...)
}

// trendPlot is the field of the drawing; line 0 is the top.
type trendPlot struct {
	points        []machinery.Point
	of            machinery.Gauge
	left          int // readings that are not drawn
	low, high     float64
	rows, columns int
	gutter        int
	step          int
	cells         [][]string
	labels        []string
	in            trendScale
}

func newTrendPlot(l look, t machinery.Trend, in trendScale, s size) *trendPlot {
	p := &trendPlot{of: t.Of, in: in, rows: s.h - 3}
	for _, point := range t.Points {
		if v := float64(point.Value); !math.IsNaN(v) && !math.IsInf(v, 0) {
			p.points = append(p.points, point)
		}
	}
	if len(p.points) == 0 || p.rows < 1 {
		return p
	}
	p.scale()
	p.label(l)
	p.columns = s.w - p.gutter - 2
	if p.columns < leastTrendColumns {
		return p
	}
	if p.left = max(0, len(p.points)-p.columns); p.left > 0 {
		p.points = p.points[p.left:]
	}
	p.step = max(1, min(widestStep, (p.columns-1)/max(1, len(p.points)-1)))
	return p
}

// scale holds every value and limit, and for all but the volts clean itself.
func (p *trendPlot) scale() {
	p.low, p.high = math.Inf(1), math.Inf(-1)
	hold := func(list ...machinery.Off) {
		for _, v := range list {
			p.low, p.high = min(p.low, float64(v)), max(p.high, float64(v))
		}
	}
	if p.of != machinery.GaugeVolts {
		hold(0)
	}
	for _, point := range p.points {
		hold(point.Value)
		if point.Limited {
			hold(point.Lower, point.Upper)
		}
	}
	if !(p.high > p.low) {
		p.high++
		p.low--
	}
}

func (p *trendPlot) row(v machinery.Off) int {
	const crumb = 1e-6 // so that equal values never come to lie on two lines
	at := (p.high - float64(v)) / (p.high - p.low) * float64(p.rows-1)
	return max(0, min(int(math.Floor(at+0.5+crumb)), p.rows-1))
}

// label names the lines of the field; of two at one line the first here.
func (p *trendPlot) label(l look) {
	p.labels = make([]string, p.rows)
	put := func(v machinery.Off, words string) {
		if i := p.row(v); p.labels[i] == "" {
			p.labels[i] = l.clean(words + p.told(v))
		}
	}
	if first := p.points[0]; first.Limited {
		put(first.Centre, "usual ")
		put(first.Upper, "limit ")
		put(first.Lower, "limit ")
	}
	if p.of != machinery.GaugeVolts {
		put(0, "clean ")
	}
	put(machinery.Off(p.high), "")
	put(machinery.Off(p.low), "")
	for _, text := range p.labels {
		p.gutter = max(p.gutter, lipgloss.Width(text))
	}
}

// told is a value of the axis, with its sign where it is a difference.
func (p *trendPlot) told(v machinery.Off) string {
	size, sign := math.Abs(float64(v)), "+"
	if v < 0 {
		sign = "-"
	}
	var text string
	switch p.of {
	case machinery.GaugeVolts:
		return quantity.Voltage(v).In(p.in.units)
	case machinery.GaugeOil:
		text = quantity.Pressure(size).In(p.in.units)
	case machinery.GaugeSpeed:
		text = quantity.Share(size).In(p.in.units)
	default:
		text = machinery.Degrees(size).In(p.in.units)
	}
	if strings.HasPrefix(text, "0 ") || v == 0 {
		sign = ""
	}
	return sign + text
}

// draw puts the values over the lines.
func (p *trendPlot) draw(m trendMarks) {
	for range p.rows {
		p.cells = append(p.cells, strings.Split(blanks(p.columns), ""))
	}
	if first := p.points[0]; first.Limited {
		for x := range p.columns {
			p.cells[p.row(first.Upper)][x], p.cells[p.row(first.Lower)][x] = m.limit, m.limit
			p.cells[p.row(first.Centre)][x] = m.usual
		}
	}
	for i, point := range p.points {
		mark := m.value
		if len(point.Flags) > 0 {
			mark = m.flagged
		}
		p.cells[p.row(point.Value)][i*p.step] = mark
	}
}

// legend is what is drawn and what the marks mean.
func (p *trendPlot) legend(l look, m trendMarks, t machinery.Trend) string {
	what := " a reading, off clean"
	if p.of == machinery.GaugeVolts {
		what = " a reading"
	}
	words := []string{m.value + what}
	if t.Wanted == 0 {
		words = append(words, m.flagged+" out of its way", m.usual+" usual", m.limit+" limit")
	}
	if p.left > 0 {
		words = append(words, fmt.Sprintf("(%d older are not drawn)", p.left))
	}
	return l.clean(strings.Join(words, "  "))
}

// foot is the axis, and the dates of as many readings as have room; the newest always.
func (p *trendPlot) foot(m trendMarks) []string {
	axis, dates := strings.Split(strings.Repeat(m.base+"\n", p.columns), "\n")[:p.columns], strings.Split(blanks(p.columns), "")
	last := len(p.points) - 1
	shown := ""
	put := func(i int) (from int) {
		shown = p.points[i].At.In(p.in.zone).Format("2 Jan")
		from = max(0, min(i*p.step, p.columns-len(shown)))
		for k, r := range shown {
			dates[from+k] = string(r)
		}
		axis[i*p.step] = m.tick
		return from
	}
	free := put(last)
	end, before := 0, shown
	for i := range last {
		date := p.points[i].At.In(p.in.zone).Format("2 Jan")
		if from := i * p.step; (i == 0 || from >= end+2) && from+len(date)+2 <= free && date != before {
			put(i)
			end, before = from+len(date), date
		}
	}
	indent := blanks(p.gutter + 2)
	return []string{blanks(p.gutter+1) + m.corner + strings.Join(axis, ""), strings.TrimRight(indent+strings.Join(dates, ""), " ")}
}
