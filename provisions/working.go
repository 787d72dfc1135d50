package provisions

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// Working is where a number comes from: what went in, the formula in words, the result.
//
// Figures on the way are shown to the nearest hundredth, so that they can be followed
// with a pencil. A figure that stands on the screens, with which a line of steps ends,
// is shown as it stands there: rounded to the safe side.
type Working struct {
	Title string
	Lines []WorkingLine
}

// WorkingLine is one step. How may be "": it was given, and Result says what.
type WorkingLine struct {
	What, How, Result string
}

// moment is how a working tells a moment, in the departure's offset.
const moment = "Mon 2 Jan 15:04"

// nothingToExplain is the working of what is not there.
func nothingToExplain(title, why string) Working {
	return Working{Title: title, Lines: []WorkingLine{{What: "not reckoned", How: why, Result: "no figure"}}}
}

const noCase = "no case makes every leg: see the working of each leg"

// slate is a working being written, with amounts of one thing in one system of units.
type slate struct {
	thing passage.Thing
	units quantity.System
	lines []WorkingLine
}

func (w *slate) put(what, result, how string) {
	w.lines = append(w.lines, WorkingLine{What: what, How: how, Result: result})
}

func (w *slate) putf(what, result, how string, args ...any) {
	w.put(what, result, fmt.Sprintf(how, args...))
}

// side is the side to which a number of hundredths is rounded. A float crumb does not
// bump it.
type side func(float64) float64

func nearest(v float64) float64   { return math.Round(v + math.Copysign(crumb, v)) }
func roundDown(v float64) float64 { return math.Floor(v + crumb) }
func roundUp(v float64) float64   { return math.Ceil(v - crumb) }

// number is v in hundredths, without zeros at its end.
func number(v float64, to side) string { return digits(v, 100, to) }

// digits is v in parts of one, without zeros at its end.
func digits(v, parts float64, to side) string {
	rounded := to(v*parts) / parts
	if rounded == 0 {
		rounded = 0 // never "-0"
	}
	return strconv.FormatFloat(rounded, 'f', -1, 64)
}

// unit is what amounts of the thing are told in, and how much that is in litres,
// kilograms or person-days.
func (w slate) unit() (name string, per float64) {
	switch {
	case w.thing == passage.Food:
		return "person-days", 1
	case w.thing == passage.Gas && w.units == quantity.US:
		return "lb", float64(quantity.Pound)
	case w.thing == passage.Gas:
		return "kg", 1
	case w.units == quantity.US:
		return "US gal", float64(quantity.USGallon)
	}
	return "L", 1
}

// small is an amount used in an hour or on a mile, in ten-thousandths.
func (w slate) small(v float64, to side) string {
	name, per := w.unit()
	return digits(v/per, 1e4, to) + " " + name
}

// exact is an amount on the way to a figure.
func (w slate) exact(v Amount) string {
	name, per := w.unit()
	return number(float64(v)/per, nearest) + " " + name
}

// aDay is an amount that goes into a formula by the day.
func (w slate) aDay(v float64) string { return w.exact(Amount(v)) + " a day" }

// flow is litres an hour, in the system's unit.
func (w slate) flow(v float64) string {
	if w.units == quantity.US {
		return number(v/float64(quantity.USGallon), nearest) + " US gal/h"
	}
	return number(v, nearest) + " L/h"
}

// lastsUntil is how long a thing lasts, with the moment at which that is over.
func lastsUntil(d Days, start time.Time) string {
	if d.Never || d.Days > longestEating || start.IsZero() {
		return d.String()
	}
	return d.String() + ", until " + start.Add(time.Duration(d.Days*dayHours*float64(time.Hour))).Format(moment)
}

func hoursText(h float64) string { return number(h, nearest) + " h" }

func daysText(d float64) string {
	if n := number(d, nearest); n != "1" {
		return n + " days"
	}
	return "1 day"
}

// kcalText is in whole ones.
func kcalText(e quantity.Energy, to side) string {
	return strconv.FormatFloat(to(float64(e)), 'f', 0, 64) + " kcal"
}

func knots(v float64) string { return number(v, nearest) + " kn" }

func miles(d quantity.Distance) string { return number(float64(d), nearest) + " nm" }

func percent(share float64) string { return number(share*100, nearest) + " %" }

func persons(n int) string {
	if n == 1 {
		return "1 person"
	}
	return strconv.Itoa(n) + " persons"
}

// heading is a title's first letter made large.
func heading(text string) string {
	if text == "" {
		return ""
	}
	return strings.ToUpper(text[:1]) + text[1:]
}
