package checklist

import (
	"fmt"
	"strings"
	"time"

	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
)

// SideRow is one line of a review: as it was to be, and as it was. What is not known is said to be so.
type SideRow struct {
	Name, Planned, Actual string
}

const notKnown = "not known"

// Rows are the side by side of a passage, signed against actual.
func (r PassageReview) Rows() []SideRow {
	rows := []SideRow{
		{"left", r.plannedDepart(), r.Depart.At.Format(momentText) + r.leftFrom()},
		{"came in", r.Time.plannedArrive(), r.Time.arriveText()},
		{"took", r.Time.plannedDays(), r.Time.daysText()},
		{"miles", orUnknown(r.Time.Planned, "%.0f nm"), orUnknown(r.Time.Miles, "%.0f nm by the log")},
		{"engine", r.Time.plannedEngine(), orUnknown(r.Time.Engine, "%.1f h by the hour-meter")},
	}
	for _, t := range r.Things {
		rows = append(rows, SideRow{string(t.What), t.plannedText(r), t.actualText(r)})
	}
	for _, f := range r.Food {
		planned := "in no ration"
		if f.Planned > 0 {
			planned = fmt.Sprintf("%.1f packs", f.Planned)
		}
		rows = append(rows, SideRow{f.Food, planned, fmt.Sprintf("%.1f packs in %s", f.Eaten, daysText(f.Days))})
	}
	return rows
}

// momentText is how a moment of a passage is written, in the offset it stands in.
const momentText = "Mon 2 Jan 2006 15:04"

func orUnknown(v *float64, format string) string {
	if v == nil {
		return notKnown
	}
	return fmt.Sprintf(format, *v)
}

func (r PassageReview) plannedDepart() string {
	if r.Sign == nil {
		return "unsigned"
	}
	return r.Sign.Depart.Format(momentText)
}

func (r PassageReview) leftFrom() string {
	if r.Depart.From == "" {
		return ""
	}
	return " from " + r.Depart.From
}

func (t TimeReview) plannedArrive() string {
	return t.spread(func(c SignedCase) string {
		if c.Arrive.IsZero() {
			return "-"
		}
		return c.Arrive.Format("Mon 2 Jan 15:04")
	}, "", ", quick %s, slow %s")
}

func (t TimeReview) plannedDays() string {
	return t.spread(func(c SignedCase) string { return provisions.DaysUp(c.Hours / dayHours) }, "", " (quick %s, slow %s)")
}

func (t TimeReview) plannedEngine() string {
	return t.spread(func(c SignedCase) string {
		if c.EngineHours == 0 {
			return "-"
		}
		return fmt.Sprintf("%.0f", c.EngineHours)
	}, " h", " (%s to %s)")
}

// spread is the expected case with the quick and the slow one beside it.
func (t TimeReview) spread(figure func(SignedCase) string, unit, beside string) string {
	expected, quick, slow := t.Case(passage.Expected), t.Case(passage.Quick), t.Case(passage.Slow)
	if expected == nil {
		return notKnown
	}
	text := figure(*expected) + unit
	if quick != nil && slow != nil {
		text += fmt.Sprintf(beside, figure(*quick), figure(*slow))
	}
	return text
}

func (t TimeReview) arriveText() string {
	if t.Arrive.IsZero() {
		return "not in yet"
	}
	text := t.Arrive.Format(momentText)
	if t.Place != "" {
		text += " at " + t.Place
	}
	return text
}

func (t TimeReview) daysText() string {
	switch {
	case t.Doubt:
		return notKnown + ": the clock was in doubt"
	case t.Days == nil:
		return notKnown
	}
	text := daysText(*t.Days)
	if t.CameTrue != "" {
		text += ": " + t.CameTrue
	}
	return text
}

func (t ThingReview) plannedText(r PassageReview) string {
	if t.Expected == nil && t.Slow == nil {
		return notKnown
	}
	var words []string
	if t.Expected != nil {
		up := func(v float64) string { return provisions.Amount(v).Up(t.What, r.Units) }
		text := up(*t.Expected)
		if t.Quick != nil && t.Slow != nil {
			text += fmt.Sprintf(" (quick %s, slow %s)", up(*t.Quick), up(*t.Slow))
		}
		words = append(words, text)
	}
	if t.Planned != nil {
		words = append(words, fmt.Sprintf("for the time it took %s", Near(*t.Planned, t.What, r.Units)))
	}
	if t.Available != nil && t.Reserve != nil {
		words = append(words, fmt.Sprintf("%s could be counted on, %s of it reserve",
			provisions.Amount(*t.Available).Down(t.What, r.Units), provisions.Amount(*t.Reserve).Up(t.What, r.Units)))
	}
	return strings.Join(words, "; ")
}

func (t ThingReview) actualText(r PassageReview) string {
	if t.Used == nil {
		return notKnown + ": " + t.Unknown
	}
	text := fmt.Sprintf("%s in %s", Near(*t.Used, t.What, r.Units), daysText(*t.Span))
	if t.PerDay != nil {
		text += fmt.Sprintf(": %s a day", Near(*t.PerDay, t.What, r.Units))
	}
	if t.PerPerson != nil && r.Depart.Crew > 1 && t.What == passage.Water {
		text += fmt.Sprintf(", %s a person", Near(*t.PerPerson, t.What, r.Units))
	}
	if t.Filled != 0 {
		text += fmt.Sprintf("; %s filled on the way", Near(t.Filled, t.What, r.Units))
	}
	text += "; left " + Near(*t.Left, t.What, r.Units)
	if t.IsWithinError() {
		text += "; as planned, within the gauges' error of " + Near(t.Error, t.What, r.Units)
	}
	return text
}

// Told is a part of a review in sentences.
type Told struct {
	Title string
	Lines []string
}

// Parts are what a review tells besides the side by side; a part with nothing in it says so or is left out.
func (r PassageReview) Parts(proposals []Proposal) []Told {
	parts := []Told{{"Differences", r.differenceLines()}, {"Exceptions accepted, and what became of them", r.exceptionLines()}}
	for _, p := range []Told{
		{"Left unsigned", r.unsignedLines()},
		{"Not right at first", r.refusedLines()},
		{"Defects opened", r.defectLines()},
		{"Failed on the way", r.Failed},
		{"Services done", r.serviceLines()},
		{"Changes of plan", r.changeLines()},
		{"What the record speaks for; the files are yours", proposalLines(proposals)},
	} {
		if len(p.Lines) > 0 {
			parts = append(parts, p)
		}
	}
	return parts
}

func (r PassageReview) differenceLines() []string {
	var lines []string
	for _, d := range r.Differences {
		lines = append(lines, d.Text)
	}
	switch {
	case r.Arrived == nil:
		lines = append(lines, "she has not come in yet")
	case len(lines) == 0:
		lines = append(lines, "none, as far as the record tells")
	}
	return lines
}

func (r PassageReview) exceptionLines() []string {
	var lines []string
	for _, e := range r.Exceptions {
		lines = append(lines, fmt.Sprintf("%s (because: %s): %s", e.Caution, e.Why, e.Became))
	}
	if len(lines) == 0 {
		lines = append(lines, "none")
	}
	return lines
}

func (r PassageReview) unsignedLines() []string {
	if r.Depart.Sign > 0 {
		return nil
	}
	why := orElse(r.Depart.Why, r.Reason.Why)
	lines := []string{"the reason: " + orElse(why, "none was given")}
	if len(r.Depart.InTheWay) > 0 {
		lines = append(lines, "stood in the way: "+strings.Join(r.Depart.InTheWay, ", "))
	}
	return lines
}

func (r PassageReview) refusedLines() []string {
	var lines []string
	for _, c := range r.Refused {
		text := fmt.Sprintf("%s: %s at %s%s", orElse(c.Ask, c.Check), c.Answer, c.At.Format("Mon 2 Jan 15:04"), because(c.Why))
		if c.Times > 1 {
			text += fmt.Sprintf("; %d times before it was right", c.Times)
		}
		lines = append(lines, text)
	}
	return lines
}

func (r PassageReview) defectLines() []string {
	var lines []string
	for _, d := range r.Defects {
		state := "open"
		if d.Closed {
			state = "closed"
		}
		lines = append(lines, fmt.Sprintf("entry %d, grade %s: %s; %s", d.Seq, d.Grade, d.What, state))
	}
	return lines
}

func (r PassageReview) serviceLines() []string {
	var lines []string
	for _, s := range r.Services {
		text := s.Service + ", " + s.At.Format("2 Jan 2006")
		if s.Minutes > 0 {
			text += fmt.Sprintf(", took %.0f min", s.Minutes)
		}
		lines = append(lines, text)
	}
	return lines
}

func (r PassageReview) changeLines() []string {
	var lines []string
	for _, c := range r.Changes {
		lines = append(lines, c.At.Format("Mon 2 Jan 15:04")+": "+c.What+because(c.Why))
	}
	return lines
}

// proposalLines are the reasons, each with the lines for the file under it.
func proposalLines(list []Proposal) []string {
	var lines []string
	for _, p := range list {
		lines = append(lines, p.File+": "+p.Why)
		for _, l := range p.Lines {
			lines = append(lines, "    "+l)
		}
	}
	return lines
}

// CompareRow is one line of two passages side by side.
type CompareRow struct {
	Name, First, Second string
}

// Compare puts what came of two passages side by side.
func Compare(a, b PassageReview) []CompareRow {
	var rows []CompareRow
	row := func(name string, tell func(PassageReview) string) {
		rows = append(rows, CompareRow{name, tell(a), tell(b)})
	}
	row("passage", func(r PassageReview) string { return r.Name() })
	row("left", func(r PassageReview) string { return dateOr(r.Depart.At) })
	row("crew", func(r PassageReview) string { return fmt.Sprint(r.Crew) })
	row("took", func(r PassageReview) string { return r.Time.daysText() })
	row("of expected", func(r PassageReview) string { return r.Time.ofExpected() })
	row("miles", func(r PassageReview) string { return orUnknown(r.Time.Miles, "%.0f nm") })
	row("miles a day", func(r PassageReview) string { return r.Time.milesADay() })
	row("engine", func(r PassageReview) string { return orUnknown(r.Time.Engine, "%.1f h") })
	for _, what := range []passage.Thing{passage.Water, passage.Fuel, passage.Gas} {
		row(string(what)+" used", func(r PassageReview) string { return r.near(what, r.Thing(what).Used) })
		row(string(what)+" a day", func(r PassageReview) string { return r.near(what, r.Thing(what).PerDay) })
	}
	row("water a person", func(r PassageReview) string { return r.near(passage.Water, r.Thing(passage.Water).PerPerson) })
	row("fuel an hour", func(r PassageReview) string {
		if b := r.burnt(); b != nil {
			return litresAnHour(b.burn, r.Units)
		}
		return notKnown
	})
	row("exceptions", func(r PassageReview) string { return fmt.Sprint(len(r.Exceptions)) })
	row("defects", func(r PassageReview) string { return fmt.Sprint(len(r.Defects)) })
	row("not right at first", func(r PassageReview) string { return fmt.Sprint(len(r.Refused)) })
	return rows
}

func dateOr(t time.Time) string {
	if t.IsZero() {
		return "did not leave"
	}
	return t.Format("2 Jan 2006 15:04")
}

func (r PassageReview) near(what passage.Thing, v *float64) string {
	if v == nil {
		return notKnown
	}
	return Near(*v, what, r.Units)
}

func (t TimeReview) ofExpected() string {
	expected := t.Case(passage.Expected)
	if expected == nil || t.Days == nil || expected.Hours <= 0 {
		return notKnown
	}
	return fmt.Sprintf("%.0f %%", *t.Days*dayHours/expected.Hours*100)
}

func (t TimeReview) milesADay() string {
	if t.Miles == nil || t.Days == nil {
		return notKnown
	}
	return fmt.Sprintf("%.0f nm", *t.Miles / *t.Days)
}
