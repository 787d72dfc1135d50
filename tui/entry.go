package tui

import (
	"fmt"
	"strings"

	"boat/hoveshort/checklist"
	"boat/hoveshort/provisions/quantity"
)

// entryWords is an entry of the record in one line, values in the units of the screens.
func entryWords(e checklist.Entry, units quantity.System) string {
	words := actWords(e.Act, units)
	if e.By != "" {
		words += " (" + e.By + ")"
	}
	return words
}

func actWords(act checklist.Act, units quantity.System) string {
	switch a := act.(type) {
	case checklist.Carry:
		return fmt.Sprintf("a page begins: %s brought forward", count(len(a.Kept), "entry", "entries"))
	case checklist.Sound:
		return fmt.Sprintf("%s sounded: %s", a.Tank, a.Level)
	case checklist.Fill:
		if a.From != "" {
			return fmt.Sprintf("%s from %s into %s", a.Amount, a.From, a.Tank)
		}
		return fmt.Sprintf("%s filled: %s", a.Tank, a.Amount)
	case checklist.Count:
		return countWords(a)
	case checklist.Answer:
		return answerWords(a, units)
	case checklist.Event:
		return "it happened: " + a.What
	case checklist.Reading:
		return strings.TrimSuffix("read: "+readingWords(a.Values, units)+"; "+a.Note, "; ")
	case checklist.DefectAct:
		if a.Close > 0 {
			return fmt.Sprintf("defect %d closed: %s", a.Close, a.Why)
		}
		return fmt.Sprintf("defect of grade %s: %s", a.Grade, a.What)
	case checklist.Accept:
		return fmt.Sprintf("caution %s accepted: %s", a.Caution, a.Why)
	case checklist.Sign:
		return fmt.Sprintf("signed off by %s for %s", a.Name, a.Passage)
	case checklist.ClockSettled:
		return strings.TrimSuffix("the clock is right from here on: "+a.Why, ": ")
	case checklist.Correct:
		return fmt.Sprintf("entry %d as never written: %s", a.Of, a.Why)
	case nil:
		return "an entry of no kind"
	}
	return fmt.Sprintf("an entry of the kind %s, kept as it stands", act.Kind())
}

func countWords(c checklist.Count) string {
	words := fmt.Sprintf("%s counted: %s", c.Food, packs(c.Packs))
	switch {
	case !c.UseBy.IsZero():
		words += ", use by " + c.UseBy.String()
	case !c.BestBefore.IsZero():
		words += ", best before " + c.BestBefore.String()
	case !c.Bought.IsZero():
		words += ", bought " + c.Bought.String()
	}
	if c.Place != "" {
		words += ", in " + c.Place
	}
	return words
}

func answerWords(a checklist.Answer, units quantity.System) string {
	if a.Answer == checklist.SectionDone {
		return fmt.Sprintf("%s, %s: done", a.Round, a.Section)
	}
	words := a.Check + ": " + string(a.Answer)
	if a.Value != nil {
		words = a.Check + ": " + valueWords(*a.Value, units)
	}
	for _, said := range []string{a.Say, a.Why} {
		if said != "" {
			words += " (" + said + ")"
		}
	}
	return words
}

func readingWords(values []checklist.ReadingValue, units quantity.System) string {
	var parts []string
	for _, v := range values {
		parts = append(parts, v.Of+" "+valueWords(v.Value, units))
	}
	return strings.Join(parts, ", ")
}
