package checklist

import (
	"fmt"
	"strings"
)

func (d Definitions) defectWords(a DefectAct) string {
	switch {
	case a.Close > 0:
		return fmt.Sprintf("defect %d closed%s", a.Close, because(a.Why))
	case a.Of > 0 && a.Repaired:
		return repairWords(a)
	case a.Of > 0:
		return fmt.Sprintf("defect %d: %s", a.Of, strings.Join(append(d.toldOf(a), nonEmpty(a.Why)...), ", "))
	}
	return fmt.Sprintf("defect of grade %s: %s", a.Grade, strings.Join(append([]string{a.What}, d.toldOf(DefectAct{RPM: a.RPM, Card: a.Card, Seen: a.Seen})...), ", "))
}

// toldOf is what was told of a defect besides what it is.
func (d Definitions) toldOf(a DefectAct) []string {
	var told []string
	if a.Grade != "" {
		told = append(told, "grade "+string(a.Grade))
	}
	if a.RPM > 0 {
		told = append(told, fmt.Sprintf("not above %d rpm", a.RPM))
	}
	if a.Card != "" {
		told = append(told, fmt.Sprintf("walked by the card %q", a.Card))
	}
	if len(a.Seen) > 0 {
		told = append(told, "seen at "+GaugeWords(a.Seen, d.Boat.Units))
	}
	return told
}

func nonEmpty(text string) []string {
	if text == "" {
		return nil
	}
	return []string{text}
}

// repairWords is what was mended, with what, and what is to prove it.
func repairWords(a DefectAct) string {
	text := fmt.Sprintf("defect %d repaired, to be proved: %s%s", a.Of, orElse(a.Cause, "no cause found"), because(a.Why))
	if a.Minutes > 0 {
		text += fmt.Sprintf(", took %g min", a.Minutes)
	}
	if a.Minutes > 0 && a.Planned > 0 {
		text += fmt.Sprintf(" (planned %g)", a.Planned)
	}
	for _, part := range a.Parts {
		text += fmt.Sprintf("; took %s from %s%s", pieces(part.Count, part.Spare), orElse(part.Place, "where it counts"), oldWords(part.Old))
	}
	for _, p := range a.Proofs {
		text += "; proof: " + p.Text()
	}
	return text
}

func (d Definitions) stepWords(a StepTaken) string {
	text := fmt.Sprintf("%s, for defect %d: %s", a.Look, a.Defect, a.Seen)
	if a.Note != "" {
		text += "; " + a.Note
	}
	return text
}
