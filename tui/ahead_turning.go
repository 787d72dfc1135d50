package tui

import (
	"fmt"
	"strings"
	"time"

	"boat/hoveshort/checklist"
	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// turningItem is a row of the view: the last moment for turning back for one thing, or
// the point of a leg from which on and back take the same time.
type turningItem struct {
	leg  int
	turn *provisions.Turning
	same *provisions.OnOrBack
}

// turningItems are leg by leg.
func turningItems(o provisions.Outlook) []turningItem {
	legs := 0
	for _, t := range o.Turning {
		legs = max(legs, t.Leg+1)
	}
	for _, p := range o.OnOrBack {
		legs = max(legs, p.Leg+1)
	}
	var items []turningItem
	for leg := range legs {
		for _, t := range o.Turning {
			if t.Leg == leg {
				items = append(items, turningItem{leg: leg, turn: &t})
			}
		}
		for _, p := range o.OnOrBack {
			if p.Leg == leg {
				items = append(items, turningItem{leg: leg, same: &p})
			}
		}
	}
	return items
}

func (i turningItem) working(a checklist.Assessment) provisions.Working {
	if i.turn != nil {
		return a.ExplainTurning(*i.turn)
	}
	return a.ExplainOnOrBack(*i.same)
}

func turningRows(f facts) []sheetRow {
	l, p := f.look, f.prospect
	var rows []sheetRow
	for _, item := range turningItems(p.outlook) {
		leg := p.definitions.Plan.Legs[item.leg]
		row := sheetRow{style: l.keys, part: l.clean(fmt.Sprintf("Leg %d, %s to %s, %s", item.leg+1, leg.From, leg.To, leg.Distance.Up(p.assessment.Units)))}
		if item.turn != nil {
			row.line = l.pad(string(item.turn.Thing), nameColumn) + l.clean(turnLine(f, *item.turn))
			row.more = func(width int) []string { return wrap(l.clean(turnSentence(*item.turn)), width, 0) }
			if s := item.turn.State; s == provisions.TurnPassed || s == provisions.TurnNoWay {
				row.style = l.caution
			}
		} else {
			row.line = l.pad("on/back", nameColumn) + l.clean(sameLine(f, *item.same))
			row.more = func(width int) []string { return wrap(l.clean(sameSentence(f, *item.same, leg)), width, 0) }
		}
		rows = append(rows, row)
	}
	return rows
}

// turnLine is the last moment in a line.
func turnLine(f facts, t provisions.Turning) string {
	switch t.State {
	case provisions.TurnOnLeg:
		return fmt.Sprintf("%s out, %s", t.After.Down(f.prospect.assessment.Units), moment(f, t.At))
	case provisions.TurnBeyond:
		return "none on this leg: she can turn back all along it"
	case provisions.TurnPassed:
		return "passed before this leg: too late all along it"
	}
	return "no way home on this leg"
}

// turnSentence says what the last moment means.
func turnSentence(t provisions.Turning) string {
	inCase := fmt.Sprintf(" (%s case)", t.Case)
	switch t.State {
	case provisions.TurnOnLeg:
		return fmt.Sprintf("Until then she can go back to %s with the reserve of %s whole%s; from there it takes %s. Later the way back goes into the reserve.",
			t.To, t.Thing, inCase, hoursUp(t.Back))
	case provisions.TurnBeyond:
		return fmt.Sprintf("From any point of this leg she is back at %s with the reserve of %s whole%s.", t.To, t.Thing, inCase)
	case provisions.TurnPassed:
		return fmt.Sprintf("On this leg the way back to %s goes into the reserve of %s%s.", t.To, t.Thing, inCase)
	}
	return fmt.Sprintf("Against wind and current she makes no way back to %s: less than 0.5 kn%s.", t.To, inCase)
}

// moment is when, in the time kept aboard, rounded down: a last moment never comes later.
func moment(f facts, at time.Time) string {
	return at.In(f.zone()).Truncate(time.Minute).Format("Mon 2 Jan 15:04")
}

// hoursUp is a time rounded up.
func hoursUp(hours float64) string {
	return quantity.RoughUp(time.Duration(hours * float64(time.Hour)))
}

// sameLine is the point from which on, and back to the leg's beginning, take the same
// time; the name stands last, as it may be cut.
func sameLine(f facts, p provisions.OnOrBack) string {
	if !p.Known {
		return "no way home: going on is the only way"
	}
	if p.Passed {
		return "on is the shorter in time: back to " + p.To + " takes longer"
	}
	words := fmt.Sprintf("%s out, %s", p.After.In(f.prospect.assessment.Units), moment(f, p.At))
	if p.Guess {
		words += " (a guess)"
	}
	return words + ": same time on/back to " + p.To
}

// sameSentence is honest about what the way home rests on.
func sameSentence(f facts, p provisions.OnOrBack, leg passage.Leg) string {
	units := f.prospect.assessment.Units
	words := fmt.Sprintf("She makes no way back to %s in the %s case: less than 0.5 kn.", p.To, p.Case)
	switch {
	case p.Passed:
		words = fmt.Sprintf("Going on to %s takes less time than going back to %s: %s made good on, %s back (%s case).",
			leg.To, p.To, p.Out.In(units), p.Home.In(units), p.Case)
	case p.Known:
		words = fmt.Sprintf("From there going on to %s and going back to %s take the same time: %s made good on, %s back (%s case).",
			leg.To, p.To, p.Out.In(units), p.Home.In(units), p.Case)
	}
	if p.Guess {
		return words + " The way back is a GUESS: half the speed under sail, as the leg has no `home` in passage.toml. Upwind it may be much less."
	}
	if leg.Home != nil {
		words += fmt.Sprintf(" The way back is by your `home`: %s under sail, %.0f %% of the time under engine.", leg.Home.Sail.In(units), float64(leg.Home.Power)*100)
	}
	return words
}

// turningAnswer is for each leg the first moment after which a way back goes into a
// reserve, and on which legs the way home is a guess.
func turningAnswer(f facts) string {
	var parts, guessed []string
	o := f.prospect.outlook
	for leg := range f.prospect.definitions.Plan.Legs {
		parts = append(parts, fmt.Sprintf("leg %d %s", leg+1, lastMoment(f, leg)))
	}
	for _, p := range o.OnOrBack {
		if p.Guess {
			guessed = append(guessed, fmt.Sprint(p.Leg+1))
		}
	}
	words := "Turning back with every reserve whole: " + strings.Join(parts, "; ")
	if len(guessed) > 0 {
		words += ". The way home is GUESSED on leg " + strings.Join(guessed, ", ")
	}
	return words
}

// lastMoment is the first last moment of a leg's things.
func lastMoment(f facts, leg int) string {
	var first *provisions.Turning
	for _, t := range f.prospect.outlook.Turning {
		switch {
		case t.Leg != leg:
		case t.State == provisions.TurnNoWay:
			return "no way home"
		case t.State == provisions.TurnPassed:
			return "too late (" + string(t.Thing) + ")"
		case t.State == provisions.TurnOnLeg && (first == nil || t.At.Before(first.At)):
			first = &t
		}
	}
	if first == nil {
		return "all along it"
	}
	return fmt.Sprintf("until %s, %s out (%s)", moment(f, first.At), first.After.Down(f.prospect.assessment.Units), first.Thing)
}
