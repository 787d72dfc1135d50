package main

import (
	"fmt"
	"strconv"
	"strings"

	"boat/hoveshort/checklist"
	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/quantity"
)

// describe is an act in one sentence. The definitions give litres and units; nil where
// they are not known.
func describe(act checklist.Act, d *checklist.Definitions) string {
	switch a := act.(type) {
	case checklist.Sound:
		return fmt.Sprintf("%s %s%s", a.Tank, a.Level, litres(a, d))
	case checklist.Fill:
		return describeFill(a)
	case checklist.Count:
		return describeCount(a)
	case checklist.Answer:
		return describeAnswer(a, d)
	case checklist.Event:
		return "event: " + a.What
	case checklist.Reading:
		return describeReading(a, d)
	case checklist.DefectAct:
		if a.Close > 0 {
			return fmt.Sprintf("defect %d closed%s", a.Close, because(a.Why))
		}
		return fmt.Sprintf("defect of grade %s: %s", a.Grade, a.What)
	case checklist.Accept:
		return fmt.Sprintf("caution %s accepted%s", a.Caution, because(a.Why))
	case checklist.Sign:
		return fmt.Sprintf("signed off by %s: %s, departure %s", a.Name, a.Passage, a.Depart.Format(longMoment))
	case checklist.ClockSettled:
		return "the clock is right from here on" + because(a.Why)
	case checklist.Correct:
		return fmt.Sprintf("entry %d counts as never written%s", a.Of, because(a.Why))
	case checklist.Carry:
		return fmt.Sprintf("brought forward: %d entries", len(a.Kept))
	}
	return fmt.Sprintf("%s (kept; this program does not use it)", act.Kind())
}

func because(why string) string {
	if why == "" {
		return ""
	}
	return ": " + why
}

// litres is what a sounding comes to, where it was not told as an amount.
func litres(s checklist.Sound, d *checklist.Definitions) string {
	if d == nil {
		return ""
	}
	tank, known := d.Tank(s.Tank)
	if !known {
		return ""
	}
	level, err := provisions.ParseLevel(s.Level, tank.Holds)
	if err != nil || level.Kind == provisions.ByAmount {
		return ""
	}
	amount, err := tank.AmountAt(level)
	if err != nil {
		return ""
	}
	return fmt.Sprintf(" (%s)", amount.Down(tank.Holds, d.Boat.Units))
}

func describeFill(f checklist.Fill) string {
	switch {
	case f.From != "":
		return fmt.Sprintf("%s from %s into %s", f.Amount, f.From, f.Tank)
	case f.Amount == checklist.Full:
		return f.Tank + " filled to the brim"
	}
	return fmt.Sprintf("%s into %s", f.Amount, f.Tank)
}

func describeCount(c checklist.Count) string {
	text := fmt.Sprintf("%s: %s", c.Food, packs(c.Packs))
	for _, part := range []struct{ name, value string }{
		{"best before", c.BestBefore.String()}, {"use by", c.UseBy.String()}, {"bought", c.Bought.String()}, {"in", c.Place},
	} {
		if part.value != "" {
			text += fmt.Sprintf(", %s %s", part.name, part.value)
		}
	}
	return text
}

func packs(n float64) string {
	if n == 1 {
		return "1 pack"
	}
	return strconv.FormatFloat(n, 'f', -1, 64) + " packs"
}

func describeAnswer(a checklist.Answer, d *checklist.Definitions) string {
	if a.Answer == checklist.SectionDone {
		return fmt.Sprintf("section done: %s (%s)", a.Section, a.Round)
	}
	text := fmt.Sprintf("%s: %s", a.Check, a.Answer)
	if a.Value != nil {
		text = fmt.Sprintf("%s: %s, %s", a.Check, shown(*a.Value, d), a.Answer)
	}
	if a.Grade != "" {
		text += fmt.Sprintf(" (defect of grade %s)", a.Grade)
	}
	if a.Say != "" {
		text += "; " + a.Say
	}
	return text + because(a.Why)
}

func shown(v quantity.Any, d *checklist.Definitions) string {
	units := quantity.Metric
	if d != nil {
		units = d.Boat.Units
	}
	return valueIn(v, units)
}

// valueIn is a value as it was entered, to its last digit; converted where the reports
// have other units.
func valueIn(v quantity.Any, units quantity.System) string {
	if units == quantity.US {
		return v.In(units)
	}
	return v.String()
}

func describeReading(r checklist.Reading, d *checklist.Definitions) string {
	var parts []string
	for _, v := range r.Values {
		parts = append(parts, v.Of+" "+shown(v.Value, d))
	}
	if r.Minutes > 0 {
		parts = append(parts, fmt.Sprintf("after %g min", r.Minutes))
	}
	if r.Moored {
		parts = append(parts, "not under way")
	}
	if r.Sails != "" {
		parts = append(parts, "sails "+r.Sails)
	}
	if r.Note != "" {
		parts = append(parts, r.Note)
	}
	return "reading: " + strings.Join(parts, ", ")
}
