package main

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"boat/hoveshort/checklist"
	"boat/hoveshort/provisions/passage"
)

// matter is something of the numbered list: what stands in the way, the checks of a round that want an answer together, or
// a caution. Its number stays until the list is told again, whatever was cleared meanwhile.
type matter struct {
	blocker *checklist.Blocker
	checks  []string // ids of one round; none: it is one of the two others
	round   string
	weighs  bool // it is against leaving alone
	caution *checklist.Caution
}

// key is what the matter is about, the same whenever the list is told.
func (t matter) key() string {
	switch {
	case t.caution != nil:
		return "caution " + t.caution.ID()
	case t.blocker != nil:
		return string(t.blocker.Matter) + " " + t.blocker.Name
	}
	return "round " + t.round
}

// matters are what stands in the way, longest to clear first, then what is asked before weighing, then the cautions.
func matters(a checklist.Assessment) []matter {
	if a.Way != nil {
		return nil
	}
	list := mattersOf(a, a.Blockers, false)
	if a.SignOff.InForce {
		list = append(list, mattersOf(a, a.Weighing, true)...)
	}
	for _, c := range a.Cautions {
		list = append(list, matter{caution: &c})
	}
	return list
}

// mattersOf puts the checks of a round that are answered by hand together: they are walked.
func mattersOf(a checklist.Assessment, blockers []checklist.Blocker, weighs bool) []matter {
	var list []matter
	for _, b := range blockers {
		c, isCheck := a.Check(b.Name)
		if b.Matter != checklist.MatterCheck || !isCheck || c.Automatic != nil || !c.WantsAnswer() {
			list = append(list, matter{blocker: &b, weighs: weighs})
			continue
		}
		i := slices.IndexFunc(list, func(t matter) bool { return t.round == c.Round })
		if i < 0 {
			list = append(list, matter{round: c.Round, weighs: weighs})
			i = len(list) - 1
		}
		list[i].checks = append(list[i].checks, c.ID)
	}
	return list
}

// tellAll is the verdict, what stands in the way, and the next act.
func (p *plain) tellAll(m moment) {
	a := m.assess()
	p.say("%s", verdict(a))
	p.say("%s: %s.", a.Boat, a.Passage)
	p.say("It is %s.", m.now.Format(longMoment))
	if a.Way == nil {
		p.say("Departure %s.", a.Reckoning.Depart.Format(longMoment))
	}
	for _, row := range a.WayRows() {
		p.say("%s: %s", row.Name, row.Text)
	}
	p.list = matters(a)
	for i, t := range p.list {
		p.tell(i+1, t, a)
	}
	p.say("%s", nextAct(a, p.list))
}

// tell is one matter: what it is, and what clears it.
func (p *plain) tell(number int, t matter, a checklist.Assessment) {
	before := ""
	if t.weighs {
		before = "Before weighing: "
	}
	switch {
	case t.caution != nil:
		p.say("%d. Caution: %s: %s", number, t.caution.Title, t.caution.Why)
		if why := a.SignOff.Reason(*t.caution); why != "" {
			p.under("Accepted in the sign-off: %s", why)
		} else if t.caution.Accepted != nil {
			p.under("Accepted: %s", t.caution.Accepted.Why)
		} else {
			p.under("Wants your reason before signing.")
		}
	case t.blocker != nil:
		p.say("%d. %s%s: %s", number, before, t.blocker.Title, t.blocker.Why)
		p.under("Clears it: %s%s", t.blocker.Clears, inBrackets(t.blocker.Where))
	default:
		p.say("%d. %s%s of the round %s: %s", number, before, count(len(t.checks), "critical check"), t.round, "not answered, or too long ago")
		p.under("Clears it: walk the round")
	}
}

func inBrackets(text string) string {
	if text == "" {
		return ""
	}
	return " (" + text + ")"
}

// nextAct is the next act.
func nextAct(a checklist.Assessment, list []matter) string {
	open := slices.IndexFunc(list, func(t matter) bool { return t.caution != nil && t.caution.Accepted == nil })
	weighs := slices.IndexFunc(list, func(t matter) bool { return t.weighs })
	switch {
	case a.Way != nil:
		return "Next: noon, with the miles to go and the tanks; once she is in: arrive."
	case a.Stage == checklist.StageArrived:
		return "Next: sound the tanks, then arrive --close."
	case !a.Ready:
		return "Next: 1, which is longest to clear."
	case a.SignOff.InForce && weighs >= 0:
		return fmt.Sprintf("Next: %d, before she weighs; then depart.", weighs+1)
	case a.SignOff.InForce:
		return "Next: depart."
	case open >= 0:
		return fmt.Sprintf("Next: %d, and your reason for each caution.", open+1)
	}
	return "Next: sign."
}

// relist tells the list anew.
func (p *plain) relist() {
	if m, ok := p.stand(); ok {
		p.tellAll(m)
	}
}

// numberIn is the number that a line is; false: it is something else.
func numberIn(line string) (int, bool) {
	n, err := strconv.Atoi(strings.TrimSuffix(line, "."))
	return n, err == nil && !strings.HasPrefix(line, "+")
}

// goTo goes to a matter of the list, as it stands now.
func (p *plain) goTo(number int) {
	if number < 1 || number > len(p.list) {
		p.say("There is no %d in the list. list tells it anew.", number)
		return
	}
	m, ok := p.stand()
	if !ok {
		return
	}
	a, was := m.assess(), p.list[number-1]
	now := matters(a)
	i := slices.IndexFunc(now, func(t matter) bool { return t.key() == was.key() })
	if i < 0 {
		p.say("%d is cleared. list tells what is left.", number)
		return
	}
	t := now[i]
	if t.blocker == nil && t.caution == nil {
		p.walk(t.round, t.checks[0])
		return
	}
	p.tell(number, t, a)
	if t.caution != nil {
		p.reason(t.caution)
		return
	}
	p.clear(m, a, *t.blocker)
}

// reason asks why a caution is accepted.
func (p *plain) reason(c *checklist.Caution) {
	why := p.ask("the reason for "+c.ID(), "Why is it accepted, for the next sign-off alone? ")
	if why != "" {
		p.do("accept", c.ID(), "--", why)
	}
}

// clear asks the question that clears what stands in the way, as the screens do.
func (p *plain) clear(m moment, a checklist.Assessment, b checklist.Blocker) {
	switch b.Matter {
	case checklist.MatterCheck:
		if c, known := a.Check(b.Name); known && c.Automatic != nil {
			p.say("The program answers this check itself: %s", b.Why)
			return
		}
		p.walk(roundWith(a, b.Name), b.Name)
	case checklist.MatterSounding:
		p.sound(m, b.Name)
	case checklist.MatterEndurance:
		p.load(m, b.Name)
	case checklist.MatterClock:
		p.say("The clock says %s.", m.now.Format(longMoment))
		if how := p.ask("the clock", "If it is right, how do you know? "); how != "" {
			p.do("clock", "--", how)
		}
	case checklist.MatterDefect:
		p.defect(a, b.Name)
	case checklist.MatterService:
		p.service(b.Name)
	case checklist.MatterSpare:
		p.say("What was done with it, in the words of stow, as: bought 2 --to %q --fit proved --has all", "fore cabin / box 3")
		if how := p.ask("the spare "+b.Name, "What was done? "); how != "" {
			p.do(append([]string{"stow", b.Name}, parted(how)...)...)
		}
	case checklist.MatterDated:
		if day := p.ask("the date of "+b.Name, "Until when is the new one good, as 2029-05-01? "); day != "" {
			p.do("stow", b.Name, "until", "--", day)
		}
	default:
		p.say("It is written in the boat's files, which this program never changes: %s", m.file(b))
	}
}

// file is where in the boat's folder a matter is written.
func (m moment) file(b checklist.Blocker) string {
	if b.Matter == checklist.MatterRound {
		return "rounds/"
	}
	return "passage.toml"
}

func roundWith(a checklist.Assessment, check string) string {
	c, _ := a.Check(check)
	return c.Round
}

// sound asks for the level of a tank, or for the packs of a food.
func (p *plain) sound(m moment, name string) {
	if _, isTank := m.definitions.Tank(name); !isTank {
		if packs := p.ask("the count of "+name, "How many packs are there, all lots together? "); packs != "" {
			p.do("count", "--", name, packs)
		}
		return
	}
	level := p.ask("the level of "+name, "What does it read: a share, an amount, a dip, or full? ")
	if level != "" {
		p.do("sound", "--", name, level)
	}
}

// load tells what could be loaded, and asks what was.
func (p *plain) load(m moment, name string) {
	thing, _, _ := strings.Cut(name, " ")
	var tanks []string
	for _, t := range m.definitions.Boat.Tanks {
		if t.Holds == passage.Thing(thing) && !t.Sealed {
			tanks = append(tanks, t.Name)
		}
	}
	if len(tanks) == 0 {
		p.say("What was bought is counted: count NAME PACKS. load tells what is missing.")
		return
	}
	p.say("Tanks for it: %s. load tells how much to put where.", strings.Join(tanks, ", "))
	said := p.ask("what was filled of "+thing, "What was filled, as: "+tanks[0]+" 20 L? ")
	if said != "" {
		p.do(append([]string{"fill", "--"}, parted(said)...)...)
	}
}

// defect asks what was done; one of the engine wants its repair and its proof.
func (p *plain) defect(a checklist.Assessment, name string) {
	n, _ := strconv.Atoi(name)
	v, err := a.Defect(n)
	if err == nil && (v.Engine || v.Repair != nil) {
		p.do("defect", name)
		p.say("It is closed by its repair and a proof: defect repaired %d CAUSE --did WHAT; then readings.", n)
		return
	}
	p.say("What was done or found closes it, and its check is asked again.")
	if did := p.ask("defect "+name, "What was done or found? "); did != "" {
		p.do("defect", "close", name, "--", did)
	}
}

// service asks when it was done; what it uses is taken from the spares.
func (p *plain) service(name string) {
	p.say("Write it down once it is done. With parts or time: service %s --took \"45 min\"", name)
	day := p.ask("the service "+name, "When was it done: today, or a day as 2026-11-20? ")
	if day == "" {
		return
	}
	hours := p.ask("the service "+name, "The hour-meter then: a figure, or unknown? ")
	if hours == "" {
		p.say("Nothing was written.")
		return
	}
	words := []string{"service"}
	if strings.ToLower(day) != "today" {
		words = append(words, "--date="+day)
	}
	if strings.ToLower(hours) != "unknown" {
		words = append(words, "--hours="+hours)
	}
	p.do(append(words, "--", name)...)
}
