package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"boat/hoveshort/checklist"
	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

func newReadyCommand(c *call) *cobra.Command {
	var asJSON bool
	cmd := &cobra.Command{
		Use:   "ready",
		Short: "The readiness report: what stands in the way, and how long everything lasts",
		Long: "The readiness report: what stands in the way, what wants a reason, and how long water,\nfuel, food and gas last." +
			exits(map[int]string{exitDone: "ready", exitRefused: "not ready", exitUnreadable: "cannot be computed: files with mistakes, or the record unreadable"},
				exitDone, exitRefused, exitUnreadable, exitUsage),
		Example: "  hoveshort ready\n  hoveshort ready --json\n  hoveshort ready --at 2026-10-18T17:30+13:00",
		Args:    atMost(0),
		RunE:    do(func([]string) error { return runReady(c, asJSON) }),
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "print the assessment as JSON")
	return cmd
}

func runReady(c *call, asJSON bool) error {
	m, err := c.look()
	if err != nil {
		return err
	}
	assessment := m.assess()
	if !assessment.Ready {
		c.code = exitRefused
	}
	if asJSON {
		return c.encode(assessment.Report())
	}
	c.text.WriteString(readyText(m.definitions.Plan, assessment))
	return nil
}

// readyText is the assessment for people. Its first line is the verdict.
func readyText(plan passage.Plan, a checklist.Assessment) string {
	var r report
	r.line("%s", verdict(a))
	r.line("%s: %s", a.Boat, a.Passage)
	if a.Way != nil {
		r.underWay(plan, a)
		return r.String()
	}
	r.line("as of %s; departure %s%s", a.Now.Format(longMoment), a.Reckoning.Depart.Format(longMoment), conditions(a))
	r.blockers(a)
	r.weighing(a)
	r.cautions(a)
	r.endurance(a)
	r.cases(a)
	r.arrivals(plan, a)
	r.signOff(a)
	r.listed(a)
	return r.String()
}

func verdict(a checklist.Assessment) string {
	open := 0
	for _, c := range a.Cautions {
		if c.Accepted == nil {
			open++
		}
	}
	switch {
	case a.Way != nil:
		return "UNDER WAY: " + a.WayVerdict()
	case !a.Ready && len(a.Blockers) == 1:
		return "NOT READY: one thing stands in the way."
	case !a.Ready:
		return fmt.Sprintf("NOT READY: %d things stand in the way.", len(a.Blockers))
	case a.SignOff.InForce && len(a.Weighing) > 0:
		return fmt.Sprintf("READY, and signed off by %s; %s before weighing.", a.SignOff.Signed.Name, plural(len(a.Weighing), "thing", "things"))
	case a.SignOff.InForce:
		return fmt.Sprintf("READY, and signed off by %s.", a.SignOff.Signed.Name)
	case open > 0:
		return fmt.Sprintf("READY, once %s a reason.", plural(open, "caution has", "cautions have"))
	}
	return "READY: nothing stands in the way of the sign-off."
}

func conditions(a checklist.Assessment) string {
	var words []string
	for _, c := range a.Conditions {
		words = append(words, string(c))
	}
	if len(words) == 0 {
		return ""
	}
	return "; " + strings.Join(words, ", ")
}

// together says that two blockers can be told in one item: they differ in their names alone.
func together(x, y checklist.Blocker) bool {
	return x.Matter == y.Matter && x.Why == y.Why && x.Where == y.Where &&
		(x.Matter == checklist.MatterCheck || x.Matter == checklist.MatterSounding && x.Clears == y.Clears)
}

func (r *report) blockers(a checklist.Assessment) {
	if len(a.Blockers) == 0 {
		return
	}
	r.head("STANDS IN THE WAY, longest to clear first")
	rest := slices.Clone(a.Blockers)
	for len(rest) > 0 {
		var group, others []checklist.Blocker
		for i, b := range rest {
			if i == 0 || together(rest[0], b) {
				group = append(group, b)
			} else {
				others = append(others, b)
			}
		}
		r.blocker(group)
		rest = others
	}
}

// blocker tells one thing in the way, or several that differ in their names alone.
func (r *report) blocker(group []checklist.Blocker) {
	b := group[0]
	if len(group) == 1 {
		title := b.Title
		if b.Matter == checklist.MatterCheck && b.Name != b.Title {
			title = b.Name + ", " + b.Title
		}
		r.item(fmt.Sprintf("%s: %s", title, b.Why), fmt.Sprintf("clears: %s (%s)", b.Clears, b.Where))
		return
	}
	var names []string
	for _, one := range group {
		names = append(names, one.Name)
	}
	what := fmt.Sprintf("%s %s", plural(len(group), "check", "checks"), b.Where)
	if b.Matter == checklist.MatterSounding {
		what = fmt.Sprintf("%s (%s, %s)", plural(len(group), "sounding", "soundings"), b.Clears, b.Where)
	}
	r.item(fmt.Sprintf("%s, %s: %s", what, b.Why, strings.Join(names, ", ")))
}

// underWay is the report while she is out: what is due, how she stands, how long all lasts.
func (r *report) underWay(plan passage.Plan, a checklist.Assessment) {
	r.line("as of %s", a.Now.Format(longMoment))
	r.WriteString(wayText(a))
	r.endurance(a)
	r.cases(a)
	r.arrivals(plan, a)
	r.listed(a)
}

// weighing is what else is asked before she leaves.
func (r *report) weighing(a checklist.Assessment) {
	if !a.SignOff.InForce || len(a.Weighing) == 0 {
		return
	}
	r.head("BEFORE WEIGHING, once she is signed off")
	for _, b := range a.Weighing {
		r.item(fmt.Sprintf("%s, %s: %s", b.Name, b.Title, b.Why), "clears: "+b.Clears)
	}
}

func (r *report) cautions(a checklist.Assessment) {
	if len(a.Cautions) == 0 {
		return
	}
	r.head("CAUTIONS: each wants a reason before signing")
	for _, c := range a.Cautions {
		text := fmt.Sprintf("%s: %s", c.ID(), c.Why)
		if c.Title != c.Name {
			text = fmt.Sprintf("%s, %s: %s", c.ID(), c.Title, c.Why)
		}
		r.item(text, acceptance(a.SignOff, c)...)
	}
}

// acceptance tells whether a caution has its reason, and how often it had one.
func acceptance(s checklist.SignOff, c checklist.Caution) []string {
	if why := s.Reason(c); why != "" {
		return []string{"accepted at the sign-off: " + why}
	}
	under := []string{fmt.Sprintf("not accepted: hoveshort accept %q REASON", c.ID())}
	if c.Accepted != nil {
		under = []string{"accepted: " + c.Accepted.Why}
	}
	if c.Running > 0 {
		under = append(under, ordinal(c.Running+1)+" passage running")
	}
	return under
}

func ordinal(n int) string {
	switch n {
	case 2:
		return "second"
	case 3:
		return "third"
	}
	return fmt.Sprintf("%dth", n)
}

// endurance tells how long the four last, a row a stretch.
func (r *report) endurance(a checklist.Assessment) {
	title := "ENDURANCE from departure: " + string(a.Reckoning.Verdict)
	if a.Way != nil {
		title = "ENDURANCE from " + a.Reckoning.Depart.Format(shortMoment) + ": " + string(a.Reckoning.Verdict)
	}
	if a.Reckoning.Verdict == "" {
		title = "ENDURANCE cannot be told: she cannot make the passage in any case"
	}
	if !a.Stretches {
		title += " (a shift of berth: told only)"
	}
	r.head("%s", title)
	rows := [][]string{{"", "to the reserve", "last drop", "passage", "short"}}
	for _, t := range passage.Things {
		resource, counted := a.Reckoning.Resources[t]
		if !counted {
			continue
		}
		for _, s := range resource.Stretches {
			rows = append(rows, enduranceRow(t, s, len(resource.Stretches) > 1, a.Units))
		}
	}
	if len(rows) > 1 {
		r.table(true, rows)
	}
	if _, counted := a.Reckoning.Resources[passage.Food]; !counted {
		r.line("food is not reckoned: there are no rations")
	}
	if a.Reckoning.Estimated {
		r.line("the engine's burn is estimated from its power: there is no curve")
	}
}

func enduranceRow(t passage.Thing, s provisions.Stretch, several bool, units quantity.System) []string {
	name := string(t)
	if several {
		name += ", " + s.From + " to " + s.To
	}
	length := provisions.DaysUp(s.Length) + ", " + string(s.Hard)
	if s.Bought {
		return []string{name, "bought there", "", length, ""}
	}
	short := "none"
	if s.Short > 0 {
		short = s.Short.Up(t, units)
	}
	return []string{name, s.Endurance.String(), s.LastDrop.String(), length, short}
}

// cases tells the three cases and when each arrives where.
func (r *report) cases(a checklist.Assessment) {
	r.head("CASES, stays and waits included")
	rows := [][]string{{"", "takes", "engine", "fuel", "water", "gas", "arrives"}}
	for _, name := range passage.CaseNames {
		c := a.Reckoning.Cases[name]
		if !c.Voyage.Made() {
			rows = append(rows, []string{string(name), "cannot be made"})
			continue
		}
		rows = append(rows, []string{
			string(name), provisions.DaysUp(c.Voyage.Hours / 24), fmt.Sprintf("%.0f h", c.EngineHours), c.Fuel.Up(passage.Fuel, a.Units),
			c.Water.Up(passage.Water, a.Units), c.Gas.Up(passage.Gas, a.Units), c.Voyage.Arrive().Format(shortMoment),
		})
	}
	r.table(true, rows)
}

// arrivals tells when each case comes to each place, and whether by day.
func (r *report) arrivals(plan passage.Plan, a checklist.Assessment) {
	r.head("ARRIVALS")
	rows := [][]string{}
	for i, leg := range plan.Legs {
		for _, name := range passage.CaseNames {
			if arrivals := a.Reckoning.Cases[name].Voyage.Arrivals; i < len(arrivals) {
				at := passage.ArrivalAt(leg, arrivals[i])
				rows = append(rows, []string{leg.To, string(name), at.At.Format(shortMoment), lightOf(at)})
			}
		}
	}
	r.table(false, rows)
}

func (r *report) signOff(a checklist.Assessment) {
	s := a.SignOff
	switch {
	case s.Signed == nil:
		r.head("SIGN-OFF: none yet")
	case s.InForce:
		r.head("SIGN-OFF: entry %d, by %s on %s; it holds until %s", s.Signed.Seq, s.Signed.Name, s.Signed.At.Format(longMoment), s.Until.Format(longMoment))
	default:
		r.head("SIGN-OFF: entry %d, by %s on %s; it lapsed: %s", s.Signed.Seq, s.Signed.Name, s.Signed.At.Format(longMoment), s.Lapsed)
	}
	if a.Walk.Critical > 0 {
		r.line("the walk: %s", a.Walk)
	}
}

// listed is what is only told: it stands in no one's way.
func (r *report) listed(a checklist.Assessment) {
	if len(a.NotLooked) > 0 {
		var ids []string
		for _, c := range a.NotLooked {
			ids = append(ids, c.ID)
		}
		r.line("not looked at, not critical: %s", strings.Join(ids, ", "))
	}
	if len(a.Uncovered) > 0 {
		r.line("no check covers: %s", strings.Join(a.Uncovered, ", "))
	}
	for _, note := range a.Notes {
		r.line("note: %s", note)
	}
	if a.FoulingSeen > 0 {
		r.line("fouling: she makes %.0f %% of her clean speed, by %s", a.Fouling*100, count(a.FoulingSeen, "reading"))
	}
}
