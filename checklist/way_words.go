package checklist

import (
	"fmt"
	"strings"
	"time"

	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// WayRow is one line of how she stands under way, for screens and reports alike.
type WayRow struct {
	Name string
	Text string
	Bad  bool // it wants the skipper now
}

// WayRows tell how she stands under way, what is due first; none where she is not.
func (a Assessment) WayRows() []WayRow {
	w := a.Way
	if w == nil {
		return nil
	}
	rows := append(w.due(a), w.where(a)...)
	for _, e := range w.Ends {
		rows = append(rows, WayRow{Name: string(e.Thing), Text: e.words(a)})
	}
	if text := w.turningWords(a); text != "" {
		rows = append(rows, WayRow{"turn back", text, false})
	}
	for _, p := range w.Points {
		if row := p.row(a.Units); !row.Bad {
			rows = append(rows, row)
		}
	}
	return rows
}

// due is what wants the skipper: proofs, decisions, what left the plan, the noon.
func (w *Way) due(a Assessment) []WayRow {
	var rows []WayRow
	for _, p := range w.Proofs {
		rows = append(rows, WayRow{"prove", p.words(a), true})
	}
	for _, warn := range w.Warns {
		rows = append(rows, WayRow{"beware", warn, true})
	}
	for _, p := range w.Points {
		if row := p.row(a.Units); row.Bad {
			rows = append(rows, row)
		}
	}
	if w.NoonDue {
		rows = append(rows, WayRow{"noon due", "nothing was told for " + quantity.Rough(w.NoonAge), true})
	}
	if w.Voyage.IsUnsigned() {
		rows = append(rows, WayRow{"unsigned", w.unsignedWords(), false})
	}
	return rows
}

func (w *Way) unsignedWords() string {
	why := orElse(w.Voyage.Depart.Why, w.Voyage.Reason.Why)
	if why != "" {
		return "she left unsigned: " + why
	}
	return "she left unsigned; the reason may follow within a day: hoveshort depart --why REASON"
}

func (p DefectDue) words(a Assessment) string {
	said := fmt.Sprintf("defect %d, %s", p.Defect, p.Title)
	switch {
	case p.Missed:
		said += ": NOT PROVED, open again"
	case !p.Deadline.IsZero():
		said += ": by " + a.moment(p.Deadline)
	}
	if p.Wants != "" {
		said += ": " + p.Wants
	}
	if p.Else != "" {
		said += "; else " + p.Else
	}
	return said
}

func (p DecisionPoint) row(units quantity.System) WayRow {
	text := p.Point
	if p.Else != "" {
		text += "; else " + p.Else
	}
	if p.ToGo > 0 {
		return WayRow{"ahead", "in " + p.ToGo.Up(units) + ": " + text, false}
	}
	return WayRow{"decide", text, true}
}

func (w *Way) where(a Assessment) []WayRow {
	left := "left " + a.moment(w.Voyage.Depart.At)
	if w.Fix.To == "" || !a.situation.UnderWay {
		return []WayRow{{"day", fmt.Sprintf("%d, %s", w.Day, left), false}}
	}
	rows := []WayRow{{"day", fmt.Sprintf("%d, %s; as of %s", w.Day, left, a.moment(w.Fix.At)), false}}
	where := fmt.Sprintf("%s to %s", w.Fix.ToGo.Up(a.Units), w.Fix.To)
	if w.Done > 0 {
		where += fmt.Sprintf("; %s of %s done", w.Done.Down(a.Units), w.Planned.Up(a.Units))
	}
	if w.Fix.Position != nil {
		where += "; at " + w.Fix.Position.String()
	}
	rows = append(rows, WayRow{"to go", where, false})
	if w.Pace > 0 {
		pace := w.Pace.In(a.Units) + " made good since leaving"
		if w.LastPace > 0 {
			pace += ", " + w.LastPace.In(a.Units) + " since the last time"
		}
		rows = append(rows, WayRow{"pace", pace, false})
	}
	return append(rows, WayRow{"comes in", w.arrivals(a), false})
}

// turningWords tell whether turning back is still possible, and until when; "": what lies
// behind her is not known.
func (w *Way) turningWords(a Assessment) string {
	late := map[string][]string{} // by the place to go back to
	var parts, places, whole []string
	guess := false
	for _, t := range w.Turning {
		guess = guess || t.Guess
		switch t.State {
		case provisions.TurnNoWay:
			return fmt.Sprintf("she makes no way back to %s (%s case)", t.To, t.Case)
		case provisions.TurnPassed:
			if late[t.To] == nil {
				places = append(places, t.To)
			}
			late[t.To] = append(late[t.To], string(t.Thing))
		case provisions.TurnBeyond:
			whole = append(whole, t.To)
		}
	}
	for _, place := range places {
		parts = append(parts, fmt.Sprintf("too late for %s with the reserve whole of %s", place, strings.Join(late[place], ", ")))
	}
	switch first := firstTurning(w.Turning); {
	case first != nil && first.At.Before(a.Now):
		parts = append(parts, fmt.Sprintf("too late for %s since %s with the reserve whole of %s", first.To, a.moment(first.At), first.Thing))
	case first != nil:
		parts = append(parts, fmt.Sprintf("to %s until %s with every reserve whole, %s on from here (%s ends it)",
			first.To, a.moment(first.At), first.After.Down(a.Units), first.Thing))
	case len(parts) == 0 && len(whole) > 0:
		parts = append(parts, fmt.Sprintf("to %s from anywhere on this leg with every reserve whole", whole[0]))
	}
	if len(parts) == 0 {
		return ""
	}
	if guess {
		parts = append(parts, "the way back is a guess: no `home` is written")
	}
	return strings.Join(parts, "; ")
}

// WayBrief is the stage under way and what is due in one short line, what is due first; "": she
// is not under way. Due says that something wants the skipper.
func (a Assessment) WayBrief() (text string, due bool) {
	w := a.Way
	if w == nil {
		return "", false
	}
	var parts []string
	lost := 0
	for _, p := range w.Proofs {
		switch {
		case p.Missed:
			lost++
		case !p.Deadline.IsZero():
			parts = append(parts, fmt.Sprintf("prove defect %d by %s", p.Defect, a.inZone(p.Deadline).Format("15:04")))
		default:
			parts = append(parts, fmt.Sprintf("prove defect %d", p.Defect))
		}
	}
	if lost > 0 {
		parts = append([]string{fmt.Sprintf("%d NOT PROVED", lost)}, parts...)
	}
	if len(w.Warns) > 0 {
		parts = append(parts, "beware")
	}
	if w.NoonDue {
		parts = append(parts, "noon due")
	}
	asked := 0
	for _, p := range w.Points {
		if p.ToGo <= 0 {
			asked++
		}
	}
	if asked > 0 {
		parts = append(parts, fmt.Sprintf("%d to decide", asked))
	}
	due = len(parts) > 0
	parts = append(parts, fmt.Sprintf("day %d", w.Day))
	if w.Fix.To != "" && a.situation.UnderWay {
		parts = append(parts, fmt.Sprintf("%s to %s", w.Fix.ToGo.Up(a.Units), w.Fix.To))
	}
	return "UNDER WAY: " + strings.Join(parts, "; "), due
}

// arrivals are the window in which she comes in now, and what was promised on leaving.
func (w *Way) arrivals(a Assessment) string {
	var parts []string
	for _, name := range []passage.CaseName{passage.Expected, passage.Slow} {
		if at := a.Reckoning.Cases[name].Voyage.Arrive(); !at.IsZero() {
			parts = append(parts, fmt.Sprintf("%s %s", name, a.moment(at)))
		}
	}
	if !w.AtPace.IsZero() {
		parts = append(parts, "at this pace "+a.moment(w.AtPace))
	}
	if slow, told := w.Signed[passage.Slow]; told {
		parts = append(parts, "slow as promised "+a.moment(slow))
	}
	if len(parts) == 0 {
		return "she makes less than 0.5 kn: not known"
	}
	return strings.Join(parts, "; ")
}

// words tell when the reserve is touched and when there is nothing, as used and as planned.
func (e Ending) words(a Assessment) string {
	parts := []string{}
	if e.Seen != nil {
		parts = append(parts, fmt.Sprintf("as used (%s a day) %s", amountIn(e.Thing, e.Use, a.Units), e.Seen.words(a)))
	}
	parts = append(parts, "as planned "+e.Planned.words(a))
	if e.Rations != nil {
		parts = append(parts, "on rations "+e.Rations.words(a))
	}
	return strings.Join(parts, "; ")
}

func (e Ends) words(a Assessment) string {
	day := func(t time.Time) string {
		if t.IsZero() {
			return "never"
		}
		return a.inZone(t).Format("2 Jan")
	}
	return fmt.Sprintf("to the reserve %s, to nothing %s", day(e.Reserve), day(e.Nothing))
}

// moment is a time as the skipper reads it, in the offset kept aboard.
func (a Assessment) moment(t time.Time) string { return a.inZone(t).Format("Mon 2 Jan 15:04") }

func (a Assessment) inZone(t time.Time) time.Time { return t.In(a.situation.Plan.Depart.Location()) }

// WayVerdict is the answer under way in a sentence: will it last, and what is due.
func (a Assessment) WayVerdict() string {
	due := 0
	for _, row := range a.Way.due(a) {
		if row.Bad {
			due++
		}
	}
	said := "all lasts to the slow arrival with the reserve whole"
	switch {
	case !a.situation.UnderWay:
		said = "what is left is not reckoned"
	case a.Reckoning.Verdict == "":
		said = "she does not make what is left in any case"
	case a.Reckoning.Verdict == provisions.RunsOut:
		said = "not all lasts to the slow arrival"
	case a.Reckoning.Verdict == provisions.IntoReserve:
		said = "it lasts to the slow arrival, into the reserve"
	case len(a.Way.Warns) > 0:
		said = "it lasts as planned; beware of what was seen"
	}
	switch due {
	case 0:
		return said + "."
	case 1:
		return said + "; one thing is due."
	}
	return fmt.Sprintf("%s; %d things are due.", said, due)
}
