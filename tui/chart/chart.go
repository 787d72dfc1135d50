// Package chart draws what is left of a thing along a passage as lines of plain text,
// without colours: hours run to the right, amounts upwards, and the axis is nothing left.
//
// Words: a line is what is left in one case, the floor is the reserve, a mark is one
// character that tells them apart.
//
//	lines := chart.Draw(outlook.Left, passage.Water, chart.Options{Width: 78, Height: 12, Depart: r.Depart})
package chart

import (
	"fmt"
	"math"
	"slices"
	"time"

	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// Options are how a chart is drawn.
type Options struct {
	Width, Height int // columns and lines, at most
	Glyphs        Glyphs
	Units         quantity.System
	Depart        time.Time // in the offset in which days are told; zero: no dates

	Planned []provisions.LeftPoint // under way: as it was promised on leaving, of rising hours
	Facts   []provisions.LeftPoint // under way: as it was sounded
}

// The smallest plot that still tells something: columns, and lines above the axis.
const (
	leastColumns = 16
	leastRows    = 2
)

// Draw draws the lines of one thing, at most o.Height of at most o.Width columns. Where
// there is no room or nothing to draw, one line says so.
//
// No line is drawn better than it is: on the axis it is nothing left and nowhere else,
// and on the floor or above it the reserve is whole.
func Draw(lefts []provisions.Left, of passage.Thing, o Options) []string {
	lines := drawable(lefts, of)
	switch {
	case len(lines) == 0:
		return o.say("nothing to draw: what is left of " + string(of) + " is not known")
	case o.ends(lines) <= 0:
		return o.say("nothing to draw: the passage takes no time")
	}

	legend := o.legend(lines, of)
	foot := o.foot(len(legend))
	rows := o.Height - len(legend) - foot.lines()
	if rows < leastRows {
		return o.tooSmall()
	}
	up := newScale(o.most(lines)/unitOf(of, o.Units), rows)
	gutter := max(up.width(), foot.width())
	columns := o.Width - gutter - 2
	if columns < leastColumns {
		return o.tooSmall()
	}

	p := newPlot(o.Glyphs.marks(), up.rows, columns, o.ends(lines), up.top()*unitOf(of, o.Units))
	across := newTicks(o.ends(lines), columns, o.Depart)
	p.draw(lines, across, o.Planned)
	p.facts(o.Facts)
	return slices.Concat(legend, p.lines(up, gutter), foot.draw(p, lines, across, gutter))
}

// drawable are the lines of one thing that have points, and no number that is none.
func drawable(lefts []provisions.Left, of passage.Thing) []provisions.Left {
	var list []provisions.Left
	for _, l := range lefts {
		sick := slices.ContainsFunc(l.Points, func(p provisions.LeftPoint) bool { return !finite(p.Hours) || !finite(float64(p.Amount)) })
		if l.Thing == of && len(l.Points) > 0 && !sick {
			list = append(list, l)
		}
	}
	return list
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// ends is the last hour that is drawn.
func (o Options) ends(lines []provisions.Left) (hours float64) {
	for _, l := range lines {
		hours = max(hours, l.Ends())
	}
	for _, p := range slices.Concat(o.Planned, o.Facts) {
		hours = max(hours, p.Hours)
	}
	return hours
}

// most is the largest amount that is drawn.
func (o Options) most(lines []provisions.Left) float64 {
	var amount provisions.Amount
	for _, l := range lines {
		for _, p := range l.Points {
			amount = max(amount, p.Amount)
		}
	}
	for _, f := range lines[0].Floor {
		amount = max(amount, f.Amount)
	}
	for _, p := range slices.Concat(o.Planned, o.Facts) {
		amount = max(amount, p.Amount)
	}
	return float64(amount)
}

// unitOf is how much of a thing the unit of the axis is: litres, kilograms or person-days.
func unitOf(of passage.Thing, s quantity.System) float64 {
	switch {
	case of == passage.Food || s != quantity.US:
		return 1
	case of == passage.Gas:
		return float64(quantity.Pound)
	}
	return float64(quantity.USGallon)
}

func unitName(of passage.Thing, s quantity.System) string {
	switch {
	case of == passage.Food:
		return "person-days"
	case of == passage.Gas && s == quantity.US:
		return "lb"
	case of == passage.Gas:
		return "kg"
	case s == quantity.US:
		return "US gal"
	}
	return "litres"
}

// legend is what the marks mean, in words; what does not occur is left out. It is one
// line where that fits.
func (o Options) legend(lines []provisions.Left, of passage.Thing) []string {
	m := o.Glyphs.marks()
	var words []string
	for _, l := range lines {
		words = append(words, string(m.of(l.Case))+" "+string(l.Case))
	}
	var held, touched, gone bool
	for _, l := range lines {
		reserve, nothing := l.Touched()
		touched, gone = touched || len(reserve) > 0, gone || len(nothing) > 0
	}
	for _, f := range lines[0].Floor {
		held = held || f.Amount > 0
	}
	for _, w := range []struct {
		mark   rune
		word   string
		occurs bool
	}{{m.planned, "as promised", len(o.Planned) > 1}, {m.fact, "as sounded", len(o.Facts) > 0}, {m.floor, "reserve", held}, {m.arrives, "arrives", true}, {m.touched, "reserve touched", touched}, {m.gone, "nothing left", gone}} {
		if w.occurs {
			words = append(words, string(w.mark)+" "+w.word)
		}
	}

	unit := unitName(of, o.Units)
	long := wrap(append([]string{unit + " of " + string(of)}, words...), o.Width)
	if len(long) == 1 {
		return long
	}
	return wrap(append([]string{unit}, words...), o.Width)
}

// wrap puts words on lines of a width, two blanks between them.
func wrap(words []string, width int) []string {
	lines := []string{words[0]}
	for _, w := range words[1:] {
		last := len(lines) - 1
		if runes(lines[last])+2+runes(w) > width {
			lines = append(lines, w)
			continue
		}
		lines[last] += "  " + w
	}
	return lines
}

func (o Options) tooSmall() []string {
	return o.say("no room for the chart: see the numbers, or make the window larger")
}

// say is one line of words, cut to the width.
func (o Options) say(text string) []string {
	if o.Height < 1 || o.Width < 1 {
		return nil
	}
	letters := []rune(text)
	return []string{string(letters[:min(len(letters), o.Width)])}
}

func runes(text string) int { return len([]rune(text)) }

// label is a number of an axis.
func label(v float64) string { return fmt.Sprint(math.Round(v*1e6) / 1e6) }
