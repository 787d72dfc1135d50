package main

import (
	"fmt"
	"strings"

	"boat/hoveshort/checklist"
	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// signed reads a sign-off back in full: all that was frozen.
func (r *report) signed(s checklist.Sign, units quantity.System) {
	r.line("signed off by %s: %s, %s", s.Name, s.Boat, s.Passage)
	r.signedPlan(s, units)
	r.signedAnswers(s, units)
	r.signedExceptions(s)
	r.signedLists(s, s.Critical)
	r.line("the boat's files then: %s", s.Definitions)
}

// toBeSigned is what a sign-off would freeze, short enough to be looked at before it is
// confirmed: what is nearest to the question is what was excepted.
func (r *report) toBeSigned(s checklist.Sign, units quantity.System) {
	r.line("to be signed off by %s: %s, %s", s.Name, s.Boat, s.Passage)
	r.signedPlan(s, units)
	r.signedLists(s, nil)
	r.line("%s and the boat's files as they are now", plural(len(s.Answers), "answer", "answers"))
	r.signedExceptions(s)
}

// signedPlan is the plan, the figures and the levels.
func (r *report) signedPlan(s checklist.Sign, units quantity.System) {
	moved := ""
	if s.Moved {
		moved = " (moved at signing)"
	}
	r.line("departure %s%s; crew %d; fouling %.2f; the plan %s", s.Depart.Format(longMoment), moved, s.Crew, s.Fouling, orDash(s.Verdict))
	r.line("the walk: %s", orDash(s.Walk))
	r.signedCases(s, units)
	r.signedResources(s, units)
	r.signedTanks(s)
}

func orDash(text string) string {
	if text == "" {
		return "-"
	}
	return text
}

func (r *report) signedCases(s checklist.Sign, units quantity.System) {
	r.head("CASES as promised")
	rows := [][]string{{"", "takes", "engine", "fuel", "water", "gas", "arrives"}}
	for _, c := range s.Cases {
		if !c.Made {
			rows = append(rows, []string{c.Case, "cannot be made"})
			continue
		}
		rows = append(rows, []string{
			c.Case, provisions.DaysUp(c.Hours / 24), fmt.Sprintf("%.0f h", c.EngineHours), provisions.Amount(c.Fuel).Up(passage.Fuel, units),
			provisions.Amount(c.Water).Up(passage.Water, units), provisions.Amount(c.Gas).Up(passage.Gas, units), c.Arrive.Format(shortMoment),
		})
	}
	r.table(true, rows)
}

func (r *report) signedResources(s checklist.Sign, units quantity.System) {
	r.head("WHAT IS ABOARD against it")
	for _, what := range s.Resources {
		t := passage.Thing(what.What)
		text := fmt.Sprintf("%s, %s to %s: need %s, reserve %s", t, what.From, what.To,
			provisions.Amount(what.Need).Up(t, units), provisions.Amount(what.Reserve).Up(t, units))
		if what.Bought {
			r.item(text + "; bought there")
			continue
		}
		r.item(text+", available "+provisions.Amount(what.Available).Down(t, units),
			fmt.Sprintf("lasts %s to the reserve, margin %s", what.Lasts(), what.Spare()))
	}
	for _, reserve := range s.Reserves {
		r.item(fmt.Sprintf("reserve of %s: %s", reserve.What, reserve.Words(units)))
	}
}

func (r *report) signedTanks(s checklist.Sign) {
	r.head("TANKS")
	rows := [][]string{}
	for _, t := range s.Tanks {
		at := "not sounded"
		if !t.At.IsZero() {
			at = t.At.Format(longMoment)
		}
		rows = append(rows, []string{t.Tank, t.Level, at})
	}
	r.table(false, rows)
}

func (r *report) signedAnswers(s checklist.Sign, units quantity.System) {
	r.head("ANSWERS")
	rows := [][]string{}
	for _, a := range s.Answers {
		value := ""
		if a.Value != nil {
			value = a.Value.Told(units)
		}
		rows = append(rows, []string{a.Check, string(a.Answer), a.At.Format("2 Jan 15:04"), strings.TrimSpace(value + " " + a.Say)})
	}
	r.table(false, rows)
	if len(s.Readings) > 0 {
		r.line("last reading: %s", checklist.GaugeWords(s.Readings, units))
	}
}

func (r *report) signedExceptions(s checklist.Sign) {
	if len(s.Exceptions) > 0 {
		r.head("ACCEPTED")
	} else {
		r.head("ACCEPTED: nothing had to be")
	}
	for _, e := range s.Exceptions {
		text := fmt.Sprintf("%s: %s", e.ID, e.Caution)
		if e.Running > 1 {
			text += fmt.Sprintf(" (%s passage running)", ordinal(e.Running))
		}
		r.item(text, "because: "+e.Why)
	}
}

// signedLists are what nobody looked at, what nothing covered, and what was critical.
func (r *report) signedLists(s checklist.Sign, critical []string) {
	r.WriteByte('\n')
	for _, list := range []struct {
		name  string
		words []string
	}{{"not looked at, not critical", s.NotLooked}, {"no check covered", s.Uncovered}, {"critical were", critical}} {
		if len(list.words) > 0 {
			r.line("%s: %s", list.name, strings.Join(list.words, ", "))
		}
	}
}
