package checklist

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
)

// route is where she means to go, leg by leg, with what the skipper wrote of each.
func (w *sheetWriter) route() SheetPart {
	p := SheetPart{Title: "The route"}
	plan, units := w.definitions.Plan, w.assessment.Units
	for i, leg := range plan.Legs {
		text := fmt.Sprintf("%s to %s, %s, about %s under sail", leg.From, leg.To, leg.Distance.Up(units), leg.Sail.In(units))
		if end, known := leg.End(); known {
			text += "; to " + end.String()
		}
		if leg.Stay > 0 && i < len(plan.Legs)-1 {
			text += fmt.Sprintf("; then a stay of %s", hoursOrDays(leg.Stay))
		}
		p.row(fmt.Sprintf("Leg %d", i+1), "%s", text)
		if by := between(leg.Route); by != "" {
			p.row("By way of", "%s", by)
		}
		w.written(&p, leg)
	}
	if plan.Limits.Wind > 0 {
		p.row("Her limit", "wind %s, written by the skipper before leaving", plan.Limits.Wind.In(units))
	}
	if w.HasLeft {
		for _, c := range w.state.Voyage.Changes {
			p.mark("Changed", "%s: %s%s", w.moment(c.At), c.What, because(c.Why))
		}
	}
	return p
}

// written is what the skipper wrote of a leg.
func (w *sheetWriter) written(p *SheetPart, leg passage.Leg) {
	units := w.assessment.Units
	if leg.Dangers != "" {
		p.row("Dangers", "%s", leg.Dangers)
	}
	if leg.Window != "" {
		p.row("Goes if", "%s", leg.Window)
	}
	for _, a := range leg.Alternates {
		p.row("Or makes for", "%s: %s on from a point %s along the leg", a.Name, a.Distance.Up(units), a.After.In(units))
	}
	for _, point := range leg.Decisions {
		p.row("Decides", "%s along the leg: goes on if %s; else %s", point.At.In(units), point.GoOnIf, point.Else)
	}
}

// between are the points of a route but its ends.
func between(route []passage.Position) string {
	if len(route) <= 2 {
		return ""
	}
	var points []string
	for _, at := range route[1 : len(route)-1] {
		points = append(points, at.String())
	}
	return strings.Join(points, ", ")
}

// arrivals are when each case comes in where.
func (w *sheetWriter) arrivals() SheetPart {
	p := SheetPart{Title: "Arrivals, as planned"}
	if w.HasLeft {
		w.promised(&p)
		return p
	}
	for i, leg := range w.definitions.Plan.Legs {
		var cases []string
		for _, name := range slices.Backward(passage.CaseNames[:]) {
			told := "does not get there"
			if arrivals := w.assessment.Reckoning.Cases[name].Voyage.Arrivals; i < len(arrivals) {
				told = w.short(arrivals[i])
			}
			cases = append(cases, fmt.Sprintf("%s %s", name, told))
		}
		p.row(leg.To, "%s", strings.Join(cases, "; "))
	}
	p.line("Times are UTC%s.", w.Depart.Format("-07:00"))
	return p
}

// promised are the last arrivals as they stood at departure.
func (w *sheetWriter) promised(p *SheetPart) {
	var cases []string
	for _, c := range slices.Backward(w.state.Voyage.Depart.Cases) {
		told := "does not get there"
		if c.Made {
			told = w.short(c.Arrive)
		}
		cases = append(cases, c.Case+" "+told)
	}
	legs := w.definitions.Plan.Legs
	p.row(legs[len(legs)-1].To, "%s", strings.Join(cases, "; "))
	p.line("Times are UTC%s, as they were reckoned when she left.", w.Depart.In(w.zone).Format("-07:00"))
}

func (w *sheetWriter) short(t time.Time) string {
	return minuteUp(t).In(w.zone).Format("Mon 2 Jan 15:04")
}

// lasting is how long what she carries lasts.
func (w *sheetWriter) lasting() SheetPart {
	p := SheetPart{Title: "How long they can hold out"}
	for _, t := range passage.Things {
		resource, counted := w.assessment.Reckoning.Resources[t]
		if !counted {
			continue
		}
		for _, s := range resource.Stretches {
			name := sentence(string(t))
			if len(resource.Stretches) > 1 {
				name += " from " + s.From
			}
			told := p.row
			if s.Short > 0 {
				told = p.mark
			}
			told(name, "%s", w.holdsOut(t, s))
		}
	}
	if sealed := w.sealed(); sealed > 0 {
		p.row("Sealed water", "%s more in sealed cans, in no figure here", sealed.Down(passage.Water, w.assessment.Units))
	}
	if len(p.Rows) > 0 {
		p.line("By what was known aboard when this sheet was made: what is loaded later is not counted. Days run from departure, or from the place named, at the use of the case that needs most, nearly always the slow one.")
	}
	return p
}

func (w *sheetWriter) holdsOut(t passage.Thing, s provisions.Stretch) string {
	units := w.assessment.Units
	switch {
	case s.Bought:
		return "bought there"
	case s.LastDrop.Never:
		return "lasts without end: nothing is used of it"
	}
	ends := ""
	switch {
	case s.LastDrop.Days < s.Length:
		ends = ". SHORT: gone before the passage is over"
	case s.Short > 0:
		ends = ". SHORT: the reserve is needed"
	}
	return fmt.Sprintf("%s to the reserve (%s), %s to the last of it (%s); held back: %s%s",
		s.Endurance, w.day(s.Start, s.Endurance), s.LastDrop, w.day(s.Start, s.LastDrop), s.Reserve.Up(t, units), ends)
}

// day is the day on which a time in days from a moment is over.
func (w *sheetWriter) day(from time.Time, d provisions.Days) string {
	const furthest = 20 * 365 // days; beyond it a date tells nothing
	if d.Never || d.Days > furthest {
		return "no end in sight"
	}
	end := from.Add(time.Duration(d.Days * 24 * float64(time.Hour)))
	return end.In(w.zone).Format("Mon 2 Jan 2006")
}

func (w *sheetWriter) sealed() provisions.Amount {
	var sum provisions.Amount
	for _, t := range w.assessment.Reckoning.Tanks {
		if t.Tank.Sealed && t.Tank.Holds == passage.Water && t.Problem == nil {
			sum += t.Level
		}
	}
	return sum
}

func sentence(word string) string {
	if word == "" {
		return ""
	}
	return strings.ToUpper(word[:1]) + word[1:]
}

// signOff is whether she was signed off, and the digits that stand for the record.
func (w *sheetWriter) signOff() SheetPart {
	p := SheetPart{Title: "The skipper's sign-off"}
	s := w.assessment.SignOff
	if s.Signed == nil {
		p.mark("Sign-off", "NOT SIGNED OFF: this is a plan that the skipper has not confirmed")
		return p
	}
	if s.InForce || w.HasLeft && w.state.Voyage.Depart.Sign == s.Signed.Seq {
		p.row("Signed off", "by %s, %s, entry %d of the record", s.Signed.Name, w.moment(s.Signed.At), s.Signed.Seq)
	} else {
		p.mark("Sign-off", "NOT SIGNED OFF: what %s signed on %s, entry %d of the record, no longer holds: %s",
			s.Signed.Name, w.moment(s.Signed.At), s.Signed.Seq, s.Lapsed)
	}
	if w.Digits != "" {
		p.mark("First digits", "%s", w.Digits)
		p.line("Keep them: they are the first eight of that entry's sum. If the record is ever doubted, the same digits stand in it, or it is not the record she left with.")
	}
	return p
}

// mind is what whoever holds the sheet should keep in mind. That it stays with a person, is
// not handed in beforehand, and that every change is told: the float plan of the United
// States Coast Guard Auxiliary. The rest: common practice, no source.
func (w *sheetWriter) mind() SheetPart {
	p := SheetPart{Title: "Keep in mind"}
	p.line("These times are a plan, not a promise: wind, sea and repairs move them. The rescue authorities of the place decide what is done, and when; ask them early rather than late, and read them this sheet.")
	p.line("A distress call or a beacon is acted on at once: it does not wait for any time on this sheet.")
	p.line("Keep the sheet with you; it is not handed in beforehand unless the authorities ask for it. Ask for a new one whenever the plan changes, and tell whoever was told when she is safe.")
	return p
}
