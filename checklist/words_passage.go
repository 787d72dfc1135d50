package checklist

import (
	"fmt"
	"strings"

	"boat/hoveshort/provisions/passage"
)

// passageWords are leaving, noon, a change of plan and coming in, in one sentence.
func (d Definitions) passageWords(act Act) string {
	switch a := act.(type) {
	case Depart:
		return departWords(a)
	case Noon:
		return noonWords(a)
	case Change:
		return changeWords(a)
	case Arrive:
		return arriveWords(a)
	}
	return "nothing"
}

func departWords(a Depart) string {
	switch {
	case a.Of > 0:
		return fmt.Sprintf("why she left unsigned (entry %d)%s", a.Of, because(a.Why))
	case a.Sign == 0:
		return "LEFT UNSIGNED: " + a.Passage + because(a.Why)
	}
	return fmt.Sprintf("left: %s, signed off in entry %d", a.Passage, a.Sign)
}

func noonWords(a Noon) string {
	text := "noon"
	for _, part := range []struct {
		told bool
		text string
	}{
		{a.ToGo > 0, fmt.Sprintf("%.0f nm to go to %s", a.ToGo, a.To)},
		{a.Position != nil, "at " + positionWords(a.Position)},
		{a.Run > 0, fmt.Sprintf("%.0f nm run", a.Run)},
		{a.Hours > 0, fmt.Sprintf("meter %.1f h", a.Hours)},
		{len(a.Levels) > 0, levelWords(a.Levels)},
		{a.Wind != "", "wind " + a.Wind},
		{a.Pressure != "", a.Pressure},
		{a.Sleep != nil, sleepWords(a.Sleep)},
		{a.Note != "", a.Note},
	} {
		if part.told {
			text += ", " + part.text
		}
	}
	for _, decided := range a.Decided {
		turn := "not going on"
		if decided.GoOn {
			turn = "going on"
		}
		text += fmt.Sprintf("; %s: %s%s", decided.Point, turn, because(decided.Why))
	}
	return text
}

func positionWords(p *passage.Position) string {
	if p == nil {
		return ""
	}
	return p.String()
}

func sleepWords(hours *float64) string {
	if hours == nil {
		return ""
	}
	return fmt.Sprintf("slept %g h of the last 24", *hours)
}

func levelWords(levels []TankLevel) string {
	var words []string
	for _, l := range levels {
		words = append(words, l.Tank+" "+l.Level)
	}
	return strings.Join(words, ", ")
}

func changeWords(a Change) string {
	text := "change of plan: " + a.What
	if a.To != "" {
		text += ", making for " + a.To
	}
	return text + because(a.Why)
}

func arriveWords(a Arrive) string {
	text := "in at " + orElse(a.Place, "her berth")
	if a.Close {
		text = "passage closed"
	}
	if a.Miles > 0 {
		text += fmt.Sprintf(", %.0f nm by the log", a.Miles)
	}
	if a.Hours > 0 {
		text += fmt.Sprintf(", meter %.1f h", a.Hours)
	}
	if len(a.Levels) > 0 {
		text += ", " + levelWords(a.Levels)
	}
	if len(a.Failed) > 0 {
		text += "; failed: " + strings.Join(a.Failed, ", ")
	}
	return text + because(a.Note)
}
