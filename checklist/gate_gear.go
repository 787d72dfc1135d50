package checklist

import (
	"fmt"
	"slices"
	"strings"

	"boat/hoveshort/checklist/machinery"
	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// serviceMatter is how a service stands against this passage.
type serviceMatter struct {
	overdue bool // due now or before
	within  bool // due before the slow arrival
	parts   []string
	why     string
}

func (g *gate) service(s machinery.Service) serviceMatter {
	due := s.Due()
	hours := g.state.hoursNow(g.definitions)
	arrive := g.arrival()
	m := serviceMatter{
		overdue: due.By(hours, quantity.DateOf(g.localNow())),
		within:  due.By(hours+g.assessment.Reckoning.Cases[passage.Slow].EngineHours, quantity.DateOf(arrive)),
		parts:   g.partsMissing(s),
	}
	switch {
	case m.overdue:
		m.why = "overdue: was due " + dueWords(due, hours)
	case m.within:
		m.why = "falls due on the slow passage, " + dueWords(due, hours)
	}
	if len(m.parts) > 0 && m.why != "" {
		m.why += "; not aboard: " + strings.Join(m.parts, ", ")
	}
	return m
}

func (m serviceMatter) stops(s machinery.Service) bool {
	if s.UnderWay && !m.overdue {
		return m.within && len(m.parts) > 0
	}
	return m.overdue || m.within
}

func dueWords(due machinery.Due, hours float64) string {
	meter := fmt.Sprintf("the meter stands at %.0f h", hours)
	switch {
	case due.NeverDone:
		return "from the start: it was never written down as done"
	case due.Date.IsZero():
		return fmt.Sprintf("at %.0f h, %s", due.Hours, meter)
	case due.Hours == 0:
		return fmt.Sprintf("on %s", due.Date)
	}
	return fmt.Sprintf("at %.0f h or on %s, whichever is first; %s", due.Hours, due.Date, meter)
}

func (g *gate) partsMissing(s machinery.Service) []string {
	var missing []string
	for _, part := range s.Uses {
		i := slices.IndexFunc(g.definitions.Spares, func(spare machinery.Spare) bool { return spare.Name == part })
		if i < 0 || g.definitions.Spares[i].Counts() == 0 {
			missing = append(missing, part)
		}
	}
	return missing
}

func (g *gate) services() {
	for _, s := range g.definitions.Services {
		m := g.service(s)
		if !s.Critical || !m.stops(s) {
			continue
		}
		b := Blocker{
			Matter: MatterService, Name: s.Name, Why: m.why, Takes: max(s.Takes, takesService),
			Clears: fmt.Sprintf("do it, then: hoveshort service %q", s.Name), Where: "here, with its parts aboard",
		}
		if len(m.parts) > 0 {
			b.Where, b.Takes = "only with a shop", max(b.Takes, takesShop)
		}
		g.block(b)
	}
}

func (g *gate) spareLacks(s machinery.Spare) (why string, lacks bool) {
	kind := g.definitions.Plan.Kind
	if s.Lacks(kind) == 0 {
		return "", false
	}
	why = fmt.Sprintf("%s asks for %d, %s", kindWords[kind], s.Need[kind], countWords(s.Counts()))
	if not := s.WhyNot(); len(not) > 0 {
		why += "; not counted: " + strings.Join(not, ", ")
	}
	return why, true
}

var kindWords = map[passage.Kind]string{
	passage.Shift: "a shift of berth", passage.Coastal: "a coastal passage", passage.Offshore: "an offshore passage",
}

func countWords(n int) string {
	if n == 0 {
		return "none aboard counts"
	}
	return fmt.Sprintf("%d aboard %s", n, map[bool]string{true: "counts", false: "count"}[n == 1])
}

func (g *gate) spares() {
	for _, s := range g.definitions.Spares {
		if why, lacks := g.spareLacks(s); lacks && s.Critical {
			g.block(Blocker{
				Matter: MatterSpare, Name: s.Name, Why: why, Takes: takesShop,
				Clears: fmt.Sprintf("a new one that fits, whole with its parts; then: hoveshort stow %q", s.Name), Where: "only with a shop",
			})
		}
	}
}

func (g *gate) datedEnds(d machinery.Dated) (why string, ends bool) {
	if len(d.Only) > 0 && !g.hasCondition(d.Only) || !d.Ends(g.arrival()) {
		return "", false
	}
	if d.Until.IsZero() {
		return "missing, or its date is not written", true
	}
	return fmt.Sprintf("good until %s, the slow case arrives on %s", d.Until, g.definitions.moment(g.arrival())), true
}

func (g *gate) hasCondition(list []string) bool {
	return slices.ContainsFunc(list, func(c string) bool { return slices.Contains(g.assessment.Conditions, Condition(c)) })
}

func (g *gate) dated() {
	for _, d := range g.definitions.Dated {
		if why, ends := g.datedEnds(d); ends && d.Critical {
			g.block(Blocker{
				Matter: MatterDated, Name: d.Name, Why: why, Takes: takesShop,
				Clears: fmt.Sprintf("renew it, then: hoveshort stow %q until DATE", d.Name), Where: "only with a shop or a service station",
			})
		}
	}
}

func (g *gate) defects() {
	for _, v := range g.assessment.Defects {
		if !v.Stops {
			continue
		}
		b := Blocker{
			Matter: MatterDefect, Name: fmt.Sprint(v.Seq), Title: v.Title(), Takes: takesRepair, Why: v.Why, Clears: v.Clears, Where: "where it can be mended",
		}
		if v.State == DefectToProve && len(v.Proofs) > 0 {
			b.Takes, b.Where = takesProof, "here, at anchor"
		}
		g.block(b)
	}
}

// Title is what the defect is called: its words, or its check's id.
func (d Defect) Title() string { return orElse(d.What, orElse(d.Check, "defect")) }
