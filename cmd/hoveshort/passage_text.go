package main

import (
	"fmt"
	"strings"
	"time"

	"boat/hoveshort/checklist"
	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

func legRPM(d checklist.Definitions, leg passage.Leg) int {
	if leg.RPM == 0 {
		return d.Boat.Engine.CruiseRPM
	}
	return leg.RPM
}

func passageText(d checklist.Definitions, trial checklist.Trial, a checklist.Assessment) string {
	var r report
	outlook := a.Outlook()
	r.line("%s: %s", a.Boat, a.Passage)
	if !trial.IsEmpty() {
		r.line("TRIED, nothing is written: %s", strings.Join(trial.Words(), "; "))
	}
	from := "departure"
	if a.Way != nil {
		from = "under way, reckoned from"
	}
	r.line("%s %s; crew %d, %s, %s%s", from, a.Reckoning.Depart.Format(longMoment), d.Plan.Crew, d.Plan.Climate, d.Plan.Kind, conditions(a))
	r.line("as of %s", a.Now.Format(longMoment))
	r.fouling(a)
	r.limits(d.Plan, a)
	for i, leg := range d.Plan.Legs {
		r.leg(d, a, i, leg)
		r.window(outlook, i, leg)
		r.points(leg, a.Units)
	}
	r.cases(a)
	r.stretches(a)
	r.whatIfs(a)
	r.turning(outlook, a)
	r.ranges(outlook, a)
	r.tanks(a)
	return r.String()
}

func (r *report) fouling(a checklist.Assessment) {
	if a.FoulingSeen == 0 {
		r.line("fouling 1.00: no readings tell otherwise, she is taken as clean")
		return
	}
	r.line("fouling %.2f, by %s", a.Fouling, count(a.FoulingSeen, "reading"))
}

// limits are the skipper's own.
func (r *report) limits(plan passage.Plan, a checklist.Assessment) {
	if plan.Limits.Wind > 0 {
		r.line("your own limit, written before leaving: wind %s", plan.Limits.Wind.In(quantity.Metric))
	}
	if !plan.Before.IsZero() {
		r.line("the season: everything slow must be over before %s", plan.Before)
	}
	if arrive := a.Reckoning.Cases[passage.Slow].Voyage.Arrive(); plan.IsLate(arrive) {
		r.line("AFTER THE SEASON: the slow case arrives %s", arrive.Format(longMoment))
	}
	for _, note := range a.Notes {
		r.line("note: %s", note)
	}
}

// window tells when to leave for arriving by day at the leg's end.
func (r *report) window(outlook provisions.Outlook, i int, leg passage.Leg) {
	for _, w := range outlook.Windows {
		if w.Leg == i {
			r.hang("  by day at "+leg.To+": ", "    ", windowWords(w))
		}
	}
}

func windowWords(w provisions.Window) string {
	if w.Cases == 0 {
		return "neither the expected nor the slow case makes every leg"
	}
	if len(w.Open) == 0 {
		return "no departure within a day of the planned one brings both the expected and the slow case in by day"
	}
	var spans []string
	for _, o := range w.Open {
		spans = append(spans, minuteUp(o.From).Format(shortMoment)+" to "+o.To.Format(shortMoment))
	}
	cases := " (expected and slow)"
	if w.Cases == 1 {
		cases = " (in one case alone: the other of expected and slow does not make every leg)"
	}
	return "leave " + strings.Join(spans, ", or ") + cases
}

// minuteUp is a moment as the first whole minute that is not before it.
func minuteUp(t time.Time) time.Time {
	if down := t.Truncate(time.Minute); !down.Equal(t) {
		return down.Add(time.Minute)
	}
	return t
}

// points are the alternates and the decisions of a leg, written before leaving.
func (r *report) points(leg passage.Leg, units quantity.System) {
	for _, a := range leg.Alternates {
		r.hang("  alternate: ", "    ", fmt.Sprintf("%s, %s on from %s of the leg", a.Name, a.Distance.Up(units), a.After.In(units)))
	}
	for _, p := range leg.Decisions {
		r.hang("  decide at "+p.At.In(units)+": ", "    ", fmt.Sprintf("go on if %s; else %s", p.GoOnIf, p.Else))
	}
}

// leg tells a leg, and its three arrivals against the daylight.
func (r *report) leg(d checklist.Definitions, a checklist.Assessment, i int, leg passage.Leg) {
	r.head("LEG %d: %s to %s", i+1, leg.From, leg.To)
	text := fmt.Sprintf("%s; %s under sail, %d rpm under engine, current %s", leg.Distance.Up(a.Units), leg.Sail.In(a.Units), legRPM(d, leg), leg.Current.In(a.Units))
	if leg.Stay > 0 && i < len(d.Plan.Legs)-1 {
		text += fmt.Sprintf("; then a stay of %.1f days", leg.Stay.Hours()/24)
	}
	r.hang("  ", "  ", text+"; gives "+giving(leg.Fill))
	rows := [][]string{}
	for _, name := range passage.CaseNames {
		if arrivals := a.Reckoning.Cases[name].Voyage.Arrivals; i < len(arrivals) {
			rows = append(rows, arrivalRow(name, passage.ArrivalAt(leg, arrivals[i])))
		} else {
			rows = append(rows, []string{string(name), "not reached", ""})
		}
	}
	r.table(false, rows)
	for _, told := range []struct{ name, text string }{{"dangers", leg.Dangers}, {"window", leg.Window}} {
		if told.text != "" {
			r.hang("  "+told.name+": ", "    ", told.text)
		}
	}
}

func arrivalRow(name passage.CaseName, at passage.Arrival) []string {
	light := ""
	if !at.FirstLight.IsZero() && !at.LastLight.IsZero() {
		light = fmt.Sprintf(" (day: %s to %s)", minuteUp(at.FirstLight).In(at.At.Location()).Format("15:04"), at.LastLight.In(at.At.Location()).Format("15:04"))
	}
	return []string{string(name), "arrives " + minuteUp(at.At).Format(shortMoment), lightOf(at) + light}
}

func lightOf(at passage.Arrival) string {
	switch {
	case !at.Known:
		return "no position: daylight not known"
	case at.ByDay:
		return "by day"
	}
	return "NOT BY DAY"
}

func giving(list []passage.Giving) string {
	var words []string
	for _, g := range list {
		word := string(g.Thing)
		if !g.Sure {
			word += " (not sure, not planned on)"
		}
		words = append(words, word)
	}
	if len(words) == 0 {
		return "nothing"
	}
	return strings.Join(words, ", ")
}

// stretches tells each thing from one place that gives it to the next.
func (r *report) stretches(a checklist.Assessment) {
	for _, t := range passage.Things {
		for _, s := range a.Reckoning.Resources[t].Stretches {
			r.head("%s, %s to %s: %s case, %s", strings.ToUpper(string(t)), s.From, s.To, s.Hard, provisions.DaysUp(s.Length))
			amounts := fmt.Sprintf("need %s, reserve %s", s.Need.Up(t, a.Units), s.Reserve.Up(t, a.Units))
			if s.Bought {
				r.hang("  ", "  ", amounts+"; bought there")
				continue
			}
			amounts += ", available " + s.Available.Down(t, a.Units)
			if s.Short > 0 {
				amounts += ", SHORT " + s.Short.Up(t, a.Units)
			}
			r.hang("  ", "  ", amounts)
			r.hang("  ", "  ", lasting(s))
		}
	}
}

// lasting tells how long a thing lasts.
func lasting(s provisions.Stretch) string {
	if s.LastDrop.Never {
		return "nothing is used of what is aboard: it lasts without end"
	}
	return fmt.Sprintf("lasts %s to the reserve, %s to the last drop; margin %s", s.Endurance, s.LastDrop, s.Margin)
}

// tanks tells what each tank is counted for.
func (r *report) tanks(a checklist.Assessment) {
	r.head("TANKS")
	rows := [][]string{{"", "told", "holds", "counted on"}}
	for _, t := range a.Reckoning.Tanks {
		counted := t.Counted.Down(t.Tank.Holds, a.Units)
		switch {
		case t.Tank.Sealed:
			counted = "none: sealed"
		case t.Problem != nil:
			counted = "cannot be right: " + t.Problem.Error()
		}
		told := t.Held.Level.Text
		if t.Held.At.IsZero() {
			told += " (not sounded)"
		}
		rows = append(rows, []string{t.Tank.Name, told, t.Level.Down(t.Tank.Holds, a.Units), counted})
	}
	r.table(false, rows)
}

// whatIfs tells what happens if something goes wrong, worst first.
func (r *report) whatIfs(a checklist.Assessment) {
	r.head("WHAT IF, worst first; as planned: %s", verdictWords(a.Reckoning.Verdict))
	zone := a.Reckoning.Depart.Location()
	for _, w := range a.WhatIfs.List {
		var under []string
		for _, c := range w.Cures {
			under = append(under, "it holds with "+c.Words(a.Units))
		}
		words := w.Words(a.Units, zone)
		if w.Verdict != provisions.Holds && !w.Worse {
			words += " (the plan does not hold either)"
		}
		r.item(w.Name()+": "+words, under...)
	}
	for _, left := range a.WhatIfs.LeftOut {
		r.line("not asked: %s", left)
	}
}

func verdictWords(v provisions.Verdict) string {
	if v == "" {
		return "she cannot make the passage in any case"
	}
	return string(v)
}

// turning tells the last moment at which going back still ends with the reserve whole.
func (r *report) turning(outlook provisions.Outlook, a checklist.Assessment) {
	if len(outlook.Turning) == 0 {
		return
	}
	r.head("TURNING BACK with the reserve whole, the last moment")
	rows := [][]string{}
	for _, t := range outlook.Turning {
		rows = append(rows, []string{fmt.Sprintf("leg %d", t.Leg+1), string(t.Thing), turningWords(t, a.Units)})
	}
	r.table(false, rows)
	for _, p := range outlook.OnOrBack {
		r.hang(fmt.Sprintf("  leg %d: ", p.Leg+1), "    ", onOrBackWords(p, a.Units))
	}
}

func turningWords(t provisions.Turning, units quantity.System) string {
	back := fmt.Sprintf("back to %s, %s case", t.To, t.Case)
	switch t.State {
	case provisions.TurnOnLeg:
		return fmt.Sprintf("%s, after %s, %s", t.At.Format(shortMoment), t.After.Down(units), back)
	case provisions.TurnBeyond:
		return "all along this leg, " + back
	case provisions.TurnPassed:
		return "not from this leg, " + back
	}
	return "she makes no way home, " + back
}

func onOrBackWords(p provisions.OnOrBack, units quantity.System) string {
	if !p.Known {
		return fmt.Sprintf("she makes no way back to %s, %s case", p.To, p.Case)
	}
	if p.Passed {
		return fmt.Sprintf("going on takes less time than going back to %s (%s case: %s on, %s back)", p.To, p.Case, p.Out.In(units), p.Home.In(units))
	}
	words := fmt.Sprintf("after %s, %s, going on and going back take the same time (%s case: %s on, %s back)",
		p.After.In(units), p.At.Format(shortMoment), p.Case, p.Out.In(units), p.Home.In(units))
	if p.Guess {
		words += "; the way home is a guess: half the speed under sail, as no `home` is written"
	}
	return words
}

// ranges tells how far the engine takes her at each row of its curve.
func (r *report) ranges(outlook provisions.Outlook, a checklist.Assessment) {
	if len(outlook.Range) == 0 {
		return
	}
	r.head("RANGE UNDER ENGINE in smooth water")
	rows := [][]string{{"", "speed", "burn", "reserve whole", "last drop", "against cruise"}}
	for _, row := range outlook.Range {
		rows = append(rows, rangeCells(row, a.Units))
	}
	r.table(true, rows)
	r.line("the passage at these revs, slow case:")
	rows = [][]string{{"", "arrives", "", "fuel", "in hand before the season"}}
	for _, row := range outlook.Range {
		rows = append(rows, revsCells(row, a.Units))
	}
	r.table(true, rows)
	if advice := rangeAdvice(outlook.Range); advice != "" {
		r.line("%s", advice)
	}
}

func rangeCells(row provisions.RangeRow, units quantity.System) []string {
	against := percent(row.Further)
	if row.Cruise {
		against = "cruise"
	}
	return []string{
		fmt.Sprintf("%d rpm", row.RPM), row.Speed.In(units), row.Burn.In(units), row.Whole.Down(units), row.LastDrop.Down(units), against,
	}
}

// revsCells are the passage with every leg at the row's revs.
func revsCells(row provisions.RangeRow, units quantity.System) []string {
	name := fmt.Sprintf("%d rpm", row.RPM)
	if !row.Made {
		return []string{name, "not made"}
	}
	inHand := "no season is given"
	if !row.InHand.Never {
		inHand = row.InHand.String()
	}
	return []string{name, row.Arrive.Format(shortMoment), hoursWords(row.Later), row.Fuel.Up(passage.Fuel, units), inHand}
}

// percent is a share with its sign: "+41 %".
func percent(share float64) string { return fmt.Sprintf("%+.0f %%", share*100) }

// hoursWords is how much later: "9 h later", "3 h earlier", "the same".
func hoursWords(d time.Duration) string {
	hours := d.Round(time.Hour).Hours()
	switch {
	case hours > 0:
		return fmt.Sprintf("%.0f h later", hours)
	case hours < 0:
		return fmt.Sprintf("%.0f h earlier", -hours)
	}
	return "the same"
}

// rangeAdvice is the slower row that takes her furthest, and what it costs.
func rangeAdvice(rows []provisions.RangeRow) string {
	var best *provisions.RangeRow
	for i, row := range rows {
		if row.Made && row.Further > 0.005 && (best == nil || row.Further > best.Further) {
			best = &rows[i]
		}
	}
	if best == nil {
		return ""
	}
	words := fmt.Sprintf("%d rpm: %.0f %% further, %s", best.RPM, best.Further*100, hoursWords(best.Later))
	if !best.InHand.Never {
		words += fmt.Sprintf(", %s in hand before the season", best.InHand)
	}
	return words
}
