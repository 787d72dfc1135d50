package tui

import (
	"fmt"
	"strings"
	"time"

	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// legRows are the legs; the arrivals of the selected one are drawn against the daylight.
func legRows(f facts) []sheetRow {
	l, p := f.look, f.prospect
	var rows []sheetRow
	for i, leg := range p.definitions.Plan.Legs {
		name := fmt.Sprintf("Leg %d of %d, %s to %s, %s", i+1, len(p.definitions.Plan.Legs), leg.From, leg.To, leg.Distance.Up(p.assessment.Units))
		row := sheetRow{line: l.clean(name + ": " + legEnds(f, i, leg)), brief: l.clean(name), style: l.keys}
		if legIsBad(p, i, leg) {
			row.style = l.caution
		}
		row.more = func(width int) []string { return legMore(f, i, leg, width) }
		rows = append(rows, row)
	}
	return rows
}

// legEnds is when the slow case arrives, and which cases do not by day.
func legEnds(f facts, i int, leg passage.Leg) string {
	words := "slow not known"
	var dark []string
	for _, name := range passage.CaseNames {
		at, reached := arrival(f.prospect, name, i)
		switch {
		case !reached && name == passage.Slow:
			words = "slow not made"
		case !reached:
			continue
		case name == passage.Slow:
			words = "slow " + at.In(f.zone()).Format("Mon 2 Jan 15:04")
		}
		if judged := passage.ArrivalAt(leg, at); reached && judged.Known && !judged.ByDay {
			dark = append(dark, string(name))
		}
	}
	if len(dark) > 0 {
		words += "; NOT BY DAY: " + strings.Join(dark, ", ")
	}
	return words
}

func legIsBad(p prospect, i int, leg passage.Leg) bool {
	for _, name := range passage.CaseNames {
		at, reached := arrival(p, name, i)
		judged := passage.ArrivalAt(leg, at)
		if !reached || p.definitions.Plan.Daylight && judged.Known && !judged.ByDay {
			return true
		}
	}
	return false
}

// arrival is when a case reaches the end of a leg.
func arrival(p prospect, name passage.CaseName, leg int) (at time.Time, reached bool) {
	arrivals := p.assessment.Reckoning.Cases[name].Voyage.Arrivals
	if leg >= len(arrivals) {
		return time.Time{}, false
	}
	return arrivals[leg], true
}

// legMore is what is told of the selected leg: what may go wrong with it first.
func legMore(f facts, i int, leg passage.Leg, w int) []string {
	l, p := f.look, f.prospect
	lines := arrivalLines(f, i, leg, w)
	for _, text := range []string{lightWords(f, i, leg), leaveWords(f, i)} {
		if text != "" {
			lines = append(lines, wrap(l.clean(text), w, 2)...)
		}
	}
	lines = append(lines, wrap(l.clean(stayWords(p, i, leg)), w, 2)...)
	for _, d := range leg.Decisions {
		text := fmt.Sprintf("At %s go on if %s; else %s.", d.At.In(p.assessment.Units), unstopped(d.GoOnIf), unstopped(d.Else))
		lines = append(lines, wrap(l.clean(text), w, 2)...)
	}
	for _, a := range leg.Alternates {
		text := fmt.Sprintf("Or from %s of the leg on: %s, %s off.", a.After.In(p.assessment.Units), a.Name, a.Distance.Up(p.assessment.Units))
		lines = append(lines, wrap(l.clean(text), w, 2)...)
	}
	if leg.Dangers != "" {
		lines = append(lines, hang(l, "Dangers: ", leg.Dangers, w)...)
	}
	if leg.Window != "" {
		lines = append(lines, hang(l, "Weather wanted: ", leg.Window, w)...)
	}
	return append(lines, wrap(l.clean(howSailed(p, leg)), w, 2)...)
}

// hang is a text of the skipper's behind its name.
func hang(l look, name, text string, w int) []string { return wrap(name+l.clean(text), w, 2) }

func unstopped(text string) string { return strings.TrimRight(strings.TrimSpace(text), ".") }

// howSailed is the leg's way, as it is planned.
func howSailed(p prospect, leg passage.Leg) string {
	units := p.assessment.Units
	words := leg.Distance.Up(units)
	if n := len(leg.Route); n > 1 {
		words += fmt.Sprintf(" along great circles through %d points", n)
	}
	clean := " under sail"
	if leg.AsIs {
		clean = " under sail as she goes now"
	}
	words += fmt.Sprintf("; %s%s, %d rpm under engine", leg.Sail.In(units), clean, legRPM(p, leg))
	switch {
	case leg.Current > 0:
		words += ", current fair " + leg.Current.In(units)
	case leg.Current < 0:
		words += ", current foul " + (-leg.Current).In(units)
	}
	return words + "."
}

func legRPM(p prospect, leg passage.Leg) int {
	if leg.RPM > 0 {
		return leg.RPM
	}
	return p.definitions.Boat.Engine.CruiseRPM
}

// stayWords is how long she stays at the leg's end, and what can be had there.
func stayWords(p prospect, i int, leg passage.Leg) string {
	words := ""
	if i < len(p.definitions.Plan.Legs)-1 {
		words = "No stay there. "
		if leg.Stay > 0 {
			words = "Stay there: " + quantity.RoughUp(leg.Stay) + ". "
		}
		if wait := p.definitions.Plan.Cases[passage.Slow].Wait; wait > 0 {
			words += "The slow case waits " + quantity.RoughUp(wait) + " more. "
		}
	}
	return words + "To be had there: " + havings(leg.Fill, leg.Price) + "."
}

// havings are the things that can be had, those first that are planned on.
func havings(list []passage.Giving, prices map[passage.Thing]float64) string {
	var sure, unsure []string
	for _, g := range list {
		word := string(g.Thing)
		if price, priced := prices[g.Thing]; priced {
			per := "a litre"
			if g.Thing == passage.Gas {
				per = "a kilogram"
			}
			word += fmt.Sprintf(" (%.2f %s)", price, per)
		}
		if !g.Sure {
			unsure = append(unsure, word+", not sure")
			continue
		}
		sure = append(sure, word)
	}
	if len(sure)+len(unsure) == 0 {
		return "nothing"
	}
	return strings.Join(append(sure, unsure...), "; ")
}

// leaveWords is when to leave the first place for arriving by day at the end of a leg.
func leaveWords(f facts, leg int) string {
	for _, w := range f.prospect.outlook.Windows {
		if w.Leg == leg {
			return windowWords(w, f.prospect.definitions.Plan.Legs[0].From, casesByDay(f.prospect, leg), f.zone())
		}
	}
	return ""
}

// casesByDay are those of expected and slow that come to a leg's end, and so those for
// which it is told when to leave.
func casesByDay(p prospect, leg int) []passage.CaseName {
	var made []passage.CaseName
	for _, name := range []passage.CaseName{passage.Expected, passage.Slow} {
		if _, reached := arrival(p, name, leg); reached {
			made = append(made, name)
		}
	}
	return made
}

// forCases names the cases for which a time to leave is told, and the one that is left out.
func forCases(made []passage.CaseName) string {
	switch {
	case len(made) != 1:
		return "expected and slow"
	case made[0] == passage.Slow:
		return "slow alone (expected is not made)"
	}
	return "expected alone (slow is not made)"
}

func windowWords(w provisions.Window, from string, made []passage.CaseName, zone *time.Location) string {
	open := wholeMinutes(w.Open)
	switch {
	case len(made) == 0:
		return "When to leave for arriving by day is not known: neither the expected nor the slow case makes every leg."
	case len(open) == 0:
		return "No time within a day of the departure arrives by day, " + forCases(made) + "."
	}
	if w.Leg == 0 {
		from = ""
	}
	return fmt.Sprintf("Leave%s between %s to arrive by day, %s.", spaced(from), openWords(open, zone), forCases(made))
}

func spaced(text string) string {
	if text == "" {
		return ""
	}
	return " " + text
}

// openWords are openings of whole minutes.
func openWords(open []provisions.Opening, zone *time.Location) string {
	var spans []string
	for _, o := range open {
		spans = append(spans, openingWords(o, zone))
	}
	return strings.Join(spans, ", or ")
}

// everywhereByDay is when to leave for arriving by day at the end of every leg; "" where
// there is one place alone, or no arrivals by day are wanted.
func everywhereByDay(f facts) string {
	windows := f.prospect.outlook.Windows
	if !f.prospect.definitions.Plan.Daylight || len(windows) < 2 {
		return ""
	}
	made := casesByDay(f.prospect, windows[0].Leg) // the same all along: a case is reckoned where it makes every leg
	if len(made) == 0 {
		return ""
	}
	open := windows[0].Open
	for _, w := range windows[1:] {
		open = inBoth(open, w.Open)
	}
	open = wholeMinutes(open)
	where := "everywhere"
	if len(windows) < len(f.prospect.definitions.Plan.Legs) {
		where = "wherever the place is known"
	}
	if len(open) == 0 {
		return "No time within a day of the departure arrives by day " + where + ", " + forCases(made)
	}
	return fmt.Sprintf("By day %s, %s: leave between %s", where, forCases(made), openWords(open, f.zone()))
}

// inBoth are the times that lie in an opening of each.
func inBoth(a, b []provisions.Opening) []provisions.Opening {
	var both []provisions.Opening
	for _, x := range a {
		for _, y := range b {
			o := provisions.Opening{From: later(x.From, y.From), To: earlier(x.To, y.To)}
			if o.From.Before(o.To) {
				both = append(both, o)
			}
		}
	}
	return both
}

func later(a, b time.Time) time.Time {
	if a.After(b) {
		return a
	}
	return b
}

func earlier(a, b time.Time) time.Time {
	if a.Before(b) {
		return a
	}
	return b
}

// wholeMinutes are openings rounded to minutes inwards, so that both ends still arrive by
// day; those that hold no whole minute are none.
func wholeMinutes(open []provisions.Opening) []provisions.Opening {
	var whole []provisions.Opening
	for _, o := range open {
		if from, to := inwards(o.From, o.To); !to.Before(from) {
			whole = append(whole, provisions.Opening{From: from, To: to})
		}
	}
	return whole
}

// inwards is from the first whole minute to the last.
func inwards(from, to time.Time) (first, last time.Time) {
	first, last = from.Truncate(time.Minute), to.Truncate(time.Minute)
	if first.Before(from) {
		first = first.Add(time.Minute)
	}
	return first, last
}

// openingWords is an opening of whole minutes. All lie within a day of the departure: the
// weekday tells which.
func openingWords(o provisions.Opening, zone *time.Location) string {
	from, to := o.From.In(zone), o.To.In(zone)
	if quantity.DateOf(from) == quantity.DateOf(to) {
		return fmt.Sprintf("%s and %s", from.Format("Mon 15:04"), to.Format("15:04"))
	}
	return fmt.Sprintf("%s and %s", from.Format("Mon 15:04"), to.Format("Mon 15:04"))
}
