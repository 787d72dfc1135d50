package tui

import (
	"fmt"
	"strings"

	"boat/hoveshort/checklist"
	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
)

// signLines are the sign-off that is read, in full, as it was frozen.
func (r record) signLines(f facts, w int) []string {
	for _, e := range f.pages() {
		if sign, is := e.Act.(checklist.Sign); is && e.Seq == r.reading {
			return signedPage{f, w, nil}.all(e, sign)
		}
	}
	return []string{f.look.clip("That sign-off is not in the record as it was read.", w)}
}

// signedPage gathers the lines of a sign-off.
type signedPage struct {
	f     facts
	w     int
	lines []string
}

func (p *signedPage) title(text string) {
	if len(p.lines) > 0 {
		p.lines = append(p.lines, "")
	}
	p.lines = append(p.lines, para(p.f.look.title, "", p.f.look.clean(text), p.w)...)
}

func (p *signedPage) line(format string, args ...any) {
	p.lines = append(p.lines, para(p.f.look.keys, "  ", p.f.look.clean(fmt.Sprintf(format, args...)), p.w)...)
}

func (p signedPage) all(e checklist.Entry, s checklist.Sign) []string {
	p.title(fmt.Sprintf("Sign-off: %s, %s", s.Boat, s.Passage))
	p.line("signed by %s, %s%s", s.Name, e.At.Format(longMoment), byWords(e.By))
	p.line("entry %d of the record, digits %s", e.Seq, firstEight(e.Sum))
	p.line("leaving %s%s, %s", s.Depart.Format(longMoment), movedWords(s.Moved), count(s.Crew, "person", "persons"))
	p.line("the plan itself: %s; speed by fouling %.0f %% of clean", s.Verdict, s.Fouling*100)
	p.line("the walk: %s", s.Walk)
	p.line("the boat's files then: %s", firstEight(s.Definitions))
	p.cases(s)
	p.resources(s)
	p.tanks(s)
	p.exceptions(s)
	p.answers(s)
	p.rest(s)
	return p.lines
}

func byWords(by string) string {
	if by == "" {
		return ""
	}
	return ", entered by " + by
}

func movedWords(moved bool) string {
	if moved {
		return " (moved at signing)"
	}
	return ""
}

func (p *signedPage) cases(s checklist.Sign) {
	units := p.f.assessment.Units
	p.title("Cases")
	for _, c := range s.Cases {
		if !c.Made {
			p.line("%s: she could not make it", c.Case)
			continue
		}
		p.line("%s: %s, arrives %s; %.1f engine hours, %s of fuel, %s of water, %s of gas", c.Case, provisions.DaysUp(c.Hours/24),
			c.Arrive.Format(momentLayout), c.EngineHours, provisions.Amount(c.Fuel).Up(passage.Fuel, units),
			provisions.Amount(c.Water).Up(passage.Water, units), provisions.Amount(c.Gas).Up(passage.Gas, units))
	}
}

func (p *signedPage) resources(s checklist.Sign) {
	units := p.f.assessment.Units
	p.title("How long things were to last")
	for _, r := range s.Resources {
		t := passage.Thing(r.What)
		need, reserve := provisions.Amount(r.Need).Up(t, units), provisions.Amount(r.Reserve).Up(t, units)
		if r.Bought {
			p.line("%s, %s to %s: bought on the way, %s needed and %s in reserve", r.What, r.From, r.To, need, reserve)
			continue
		}
		p.line("%s, %s to %s: %s could be counted on, %s needed, %s in reserve; %s to the reserve, margin %s", r.What, r.From, r.To,
			provisions.Amount(r.Available).Down(t, units), need, reserve, r.Lasts(), r.Spare())
		if r.Short > 0 {
			p.line("%s was %s short", r.What, provisions.Amount(r.Short).Up(t, units))
		}
	}
	for _, r := range s.Reserves {
		p.line("reserve of %s asked for: %s", r.What, r.Words(units))
	}
}

func (p *signedPage) tanks(s checklist.Sign) {
	p.title("Tanks")
	for _, t := range s.Tanks {
		if t.At.IsZero() {
			p.line("%s: %s, its opening level", t.Tank, t.Level)
			continue
		}
		p.line("%s: %s, sounded %s", t.Tank, t.Level, t.At.Format(momentLayout))
	}
}

func (p *signedPage) exceptions(s checklist.Sign) {
	p.title("Exceptions: cautions accepted")
	if len(s.Exceptions) == 0 {
		p.line("none")
	}
	for _, e := range s.Exceptions {
		running := ""
		if e.Running > 1 {
			running = " (" + ordinal(e.Running) + " passage running)"
		}
		p.line("%s%s. Because: %s", e.Caution, running, e.Why)
	}
}

func (p *signedPage) answers(s checklist.Sign) {
	p.title("Answers")
	critical := criticalWords(s.Critical)
	for _, a := range s.Answers {
		words := string(a.Answer)
		if a.Value != nil {
			words = a.Value.Told(p.f.assessment.Units)
		}
		if a.Say != "" {
			words += " (" + a.Say + ")"
		}
		p.line("%s: %s, %s%s", a.Check, words, a.At.Format(momentLayout), critical[a.Check])
	}
}

// criticalWords is for each check how critical it was: always, or "when" something.
func criticalWords(signed []string) map[string]string {
	words := map[string]string{}
	for _, entry := range signed {
		id, when, some := strings.Cut(entry, " when ")
		switch {
		case !some:
			words[id] = ", critical"
		case words[id] == "":
			words[id] = ", critical when " + when
		default:
			words[id] += ", " + when
		}
	}
	return words
}

func (p *signedPage) rest(s checklist.Sign) {
	p.title("Besides")
	if len(s.NotLooked) > 0 {
		p.line("not looked at, and not critical: %s", strings.Join(s.NotLooked, ", "))
	}
	if len(s.Uncovered) > 0 {
		p.line("covered by no check: %s", strings.Join(s.Uncovered, ", "))
	}
	if len(s.Readings) > 0 {
		p.line("the last readings: %s", checklist.GaugeWords(s.Readings, p.f.assessment.Units))
	}
	p.line("%s", deference)
}
