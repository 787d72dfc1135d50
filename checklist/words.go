package checklist

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/quantity"
)

// Words is an act in one sentence, for reports and screens. The definitions give what a
// sounding comes to, the units and the time kept aboard; without them it stands as typed.
func (d Definitions) Words(act Act) string {
	switch a := act.(type) {
	case Sound:
		return fmt.Sprintf("%s sounded: %s%s", a.Tank, a.Level, d.comesTo(a))
	case Fill:
		return fillWords(a)
	case Count:
		return d.countedWords(a)
	case Answer:
		return d.answerWords(a)
	case Event:
		return "it happened: " + a.What
	case Reading:
		return d.readingWords(a)
	case DefectAct:
		return d.defectWords(a)
	case StepTaken:
		return d.stepWords(a)
	case ServiceDone:
		return serviceWords(a)
	case Stow:
		return d.stowWords(a)
	case Accept:
		return fmt.Sprintf("caution %s accepted%s", a.Caution, because(a.Why))
	case Sign:
		return fmt.Sprintf("signed off by %s: %s, departure %s", a.Name, a.Passage, a.Depart.Format("2 Jan 2006 15:04 -07:00"))
	case ClockSettled:
		return "the clock is right from here on" + because(a.Why)
	case Correct:
		return fmt.Sprintf("entry %d counts as never written%s", a.Of, because(a.Why))
	case Carry:
		return fmt.Sprintf("brought forward: %d entries", len(a.Kept))
	}
	return d.passageWords(act)
}

func because(why string) string {
	if why == "" {
		return ""
	}
	return ": " + why
}

// comesTo is what a sounding comes to, where it was not told as an amount.
func (d Definitions) comesTo(s Sound) string {
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

func fillWords(f Fill) string {
	switch {
	case f.From != "":
		return fmt.Sprintf("%s from %s into %s", f.Amount, f.From, f.Tank)
	case f.Amount == Full:
		return f.Tank + " filled to the brim"
	}
	return fmt.Sprintf("%s into %s", f.Amount, f.Tank)
}

// countedWords are a count: of a consumable in its own unit, not in packs.
func (d Definitions) countedWords(c Count) string {
	show := packs
	for _, one := range d.Boat.Consumables {
		if one.Name == c.Food {
			show = func(n float64) string { return strings.TrimSpace(strconv.FormatFloat(n, 'f', -1, 64) + " " + one.Unit) }
		}
	}
	text := fmt.Sprintf("%s: %s", c.Food, show(c.Packs))
	if c.Did != "" {
		text = fmt.Sprintf("%s: %s %s, now %s", c.Food, show(c.Of), c.Did, show(c.Packs))
	}
	return text + lotWords(c)
}

// lotWords are what tells a lot from the others: ", best before 2027-02-01, in galley / locker".
func lotWords(c Count) string {
	text := ""
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

func (d Definitions) answerWords(a Answer) string {
	if a.Answer == SectionDone {
		return fmt.Sprintf("section done: %s (%s)", a.Section, a.Round)
	}
	text := fmt.Sprintf("%s: %s", a.Check, a.Answer)
	if a.Value != nil {
		text = fmt.Sprintf("%s: %s, %s", a.Check, a.Value.Told(d.Boat.Units), a.Answer)
	}
	if a.Grade != "" {
		text += fmt.Sprintf(" (defect of grade %s)", a.Grade)
	}
	if a.Say != "" {
		text += "; " + a.Say
	}
	return text + because(a.Why)
}

// GaugeWords are gauges and what they said: "rpm 2000, coolant 82 °C".
func GaugeWords(values []ReadingValue, units quantity.System) string {
	parts := make([]string, len(values))
	for i, v := range values {
		parts[i] = v.Of + " " + v.Value.Told(units)
	}
	return strings.Join(parts, ", ")
}

func (d Definitions) readingWords(r Reading) string {
	var parts []string
	if len(r.Values) > 0 {
		parts = append(parts, GaugeWords(r.Values, d.Boat.Units))
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
	if r.Water != "" {
		parts = append(parts, strings.Replace(r.Water, "none", "no", 1)+" water at the exhaust")
	}
	if r.Smoke != "" {
		parts = append(parts, strings.Replace(r.Smoke, "none", "no", 1)+" smoke")
	}
	if r.Note != "" {
		parts = append(parts, r.Note)
	}
	return "reading: " + strings.Join(parts, ", ")
}

func serviceWords(a ServiceDone) string {
	text := a.Service + " done"
	if !a.Date.IsZero() {
		text += " on " + a.Date.String()
	}
	if a.Hours > 0 {
		text += " at " + hoursText(a.Hours)
	}
	if a.Minutes > 0 {
		text += fmt.Sprintf(", took %g min", a.Minutes)
	}
	if a.Minutes > 0 && a.Planned > 0 {
		text += fmt.Sprintf(" (planned %g)", a.Planned)
	}
	for _, part := range a.Parts {
		text += fmt.Sprintf("; took %s from %s%s", pieces(part.Count, part.Spare), orElse(part.Place, "where it counts"), oldWords(part.Old))
	}
	return text + because(a.Note)
}

func oldWords(place string) string {
	if place == "" {
		return ""
	}
	return ", the old kept in " + place
}

func (d Definitions) stowWords(a Stow) string {
	if a.Dated != "" {
		return fmt.Sprintf("%s renewed, good until %s", a.Dated, a.Until) + because(a.Note)
	}
	if a.Tool != "" {
		return toolWordsOf(a) + because(a.Note)
	}
	what := pieces(a.Count, a.Spare)
	text := fmt.Sprintf("%s %s", what, a.Did)
	switch a.Did {
	case Bought, Back:
		text = fmt.Sprintf("%s %s: %s, in %s", what, a.Did, d.likeWords(a), a.To)
	case UsedUp:
		text += " from " + orElse(a.From, "where it counts") + oldWords(a.Old)
	case Moved:
		text += fmt.Sprintf(" from %s to %s", orElse(a.From, "where it counts"), a.To)
	case Lent:
		text += " from " + orElse(a.From, "where it counts")
	case Found:
		text = d.foundWords(a)
	}
	return text + because(a.Note)
}

func (d Definitions) foundWords(a Stow) string {
	rest := ", and nothing else of it"
	if a.Beside {
		rest = ", beside what else lies there"
	}
	if a.Count < 1 {
		if a.Beside {
			rest = ", of those that are " + string(a.Condition)
		} else {
			rest = ""
		}
		return fmt.Sprintf("found no %s in %s%s", a.Spare, a.To, rest)
	}
	return fmt.Sprintf("found %s in %s: %s%s", pieces(a.Count, a.Spare), a.To, d.likeWords(a), rest)
}

// likeWords is what a spare is like: "new, fit proved, without gasket".
func (d Definitions) likeWords(a Stow) string {
	text := string(a.Condition)
	if a.Fit != "" {
		text += ", fit " + string(a.Fit)
	}
	if len(a.Has) > 0 {
		text += ", with " + strings.Join(a.Has, " and ")
	}
	var lacks []string
	for _, spare := range d.Spares {
		if spare.Name != a.Spare {
			continue
		}
		for _, part := range spare.With {
			if !slices.Contains(a.Has, part) {
				lacks = append(lacks, part)
			}
		}
	}
	if len(lacks) > 0 {
		text += ", without " + strings.Join(lacks, " and ")
	}
	return text
}

func toolWordsOf(a Stow) string {
	switch {
	case a.Did == Moved:
		return fmt.Sprintf("%s moved to %s", a.Tool, a.To)
	case a.Did == Lent:
		return a.Tool + " lent"
	case a.Did == Found && a.To == "":
		return fmt.Sprintf("%s found %s", a.Tool, a.State)
	}
	return fmt.Sprintf("%s %s: %s, in %s", a.Tool, a.Did, a.State, a.To)
}
