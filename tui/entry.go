package tui

import (
	"fmt"
	"strings"

	"boat/hoveshort/checklist"
)

// entryWords is an entry of the record in one line.
func entryWords(e checklist.Entry) string {
	words := actWords(e.Act)
	if e.By != "" {
		words += " (" + e.By + ")"
	}
	return words
}

func actWords(act checklist.Act) string {
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
		return answerWords(a)
	case checklist.Event:
		return "it happened: " + a.What
	case checklist.Reading:
		return strings.TrimSuffix("read: "+readingWords(a.Values)+"; "+a.Note, "; ")
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

func answerWords(a checklist.Answer) string {
	if a.Answer == checklist.SectionDone {
		return fmt.Sprintf("%s, %s: done", a.Round, a.Section)
	}
	words := a.Check + ": " + string(a.Answer)
	if a.Value != nil {
		words = a.Check + ": " + a.Value.String()
	}
	for _, said := range []string{a.Say, a.Why} {
		if said != "" {
			words += " (" + said + ")"
		}
	}
	return words
}

func readingWords(values []checklist.ReadingValue) string {
	var parts []string
	for _, v := range values {
		parts = append(parts, v.Of+" "+v.Value.String())
	}
	return strings.Join(parts, ", ")
}
