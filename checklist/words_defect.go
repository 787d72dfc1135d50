package checklist

import "fmt"

func (d Definitions) defectWords(a DefectAct) string {
	switch {
	case a.Close > 0:
		return fmt.Sprintf("defect %d closed%s", a.Close, because(a.Why))
	case a.Of > 0 && a.Repaired:
		return fmt.Sprintf("defect %d repaired, to be proved: %s%s", a.Of, orElse(a.Cause, "no cause found"), because(a.Why))
	case a.Of > 0:
		return fmt.Sprintf("defect %d%s", a.Of, because(orElse(a.Why, string(a.Grade))))
	}
	return fmt.Sprintf("defect of grade %s: %s", a.Grade, a.What)
}

func (d Definitions) stepWords(a StepTaken) string {
	text := fmt.Sprintf("%s, for defect %d: %s", a.Look, a.Defect, a.Seen)
	if a.Note != "" {
		text += "; " + a.Note
	}
	return text
}
