package checklist

import (
	"fmt"
	"slices"
	"strings"

	"boat/hoveshort/checklist/machinery"
	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
)

// Caution blocks nothing, but wants a reason in the skipper's own words before she
// is signed off, for that sign-off alone.
type Caution struct {
	Matter   Matter
	Name     string
	Title    string
	Why      string
	Accepted *AcceptedState // nil: not yet
	Running  int            // how many sign-offs running it was accepted at, this one would be the next
}

// ID is what the caution is accepted by.
func (c Caution) ID() string { return string(c.Matter) + ":" + c.Name }

func (g *gate) caution(c Caution) {
	if c.Title == "" {
		c.Title = c.Name
	}
	if accepted, is := g.state.Accepted[c.ID()]; is {
		c.Accepted = &accepted
	}
	c.Running = g.state.running(c.ID())
	g.assessment.Cautions = append(g.assessment.Cautions, c)
}

// running is for how many sign-offs in a row the caution was accepted.
func (s State) running(id string) int {
	if s.Signed == nil {
		return 0
	}
	for _, e := range s.Signed.Exceptions {
		if e.ID == id {
			return e.Running
		}
	}
	return 0
}

func (g *gate) cautions() {
	for c := range g.assessment.signChecks() {
		told := c.Automatic != nil && g.toldBy(*c.Automatic) // it stands in the way by itself
		if c.Applies && !c.IsCritical && !told && (c.Status == StatusNotRight || c.Status == StatusOutside) {
			g.caution(Caution{Matter: MatterCheck, Name: c.ID, Title: c.Ask, Why: c.Why})
		}
	}
	if g.definitions.Plan.Daylight {
		for _, at := range g.dark {
			g.caution(Caution{Matter: MatterDaylight, Name: at.place, Title: "arrival at " + at.place, Why: at.why})
		}
	}
	for _, d := range g.state.Defects {
		if d.Grade == machinery.Limit {
			g.caution(Caution{Matter: MatterDefect, Name: fmt.Sprint(d.Seq), Title: d.Title(), Why: g.limitWords(d)})
		}
	}
	for _, s := range g.definitions.Services {
		if m := g.service(s); m.overdue && !s.Critical {
			g.caution(Caution{Matter: MatterService, Name: s.Name, Why: m.why})
		}
	}
	for _, l := range g.loosened() {
		g.caution(l)
	}
}

func (g *gate) limitWords(d Defect) string {
	why := fmt.Sprintf("defect %d of grade limit, open since %s", d.Seq, g.definitions.moment(d.At))
	if d.RPM > 0 {
		why += fmt.Sprintf(", not above %d rpm", d.RPM)
	}
	return why
}

// loosened is what was strict at the last sign-off and is no longer.
func (g *gate) loosened() []Caution {
	signed := g.state.Signed
	if signed == nil {
		return nil
	}
	var list []Caution
	now := criticality(g.definitions)
	told := map[string]bool{}
	for _, was := range signed.Critical {
		id, when, _ := strings.Cut(was, " when ")
		if slices.Contains(now, was) || slices.Contains(now, id) || told[id] {
			continue
		}
		told[id] = true
		list = append(list, Caution{Matter: MatterLoosened, Name: id, Why: "was critical at the last sign-off" + whenWords(when)})
	}
	for _, was := range signed.Reserves {
		is := g.definitions.Boat.Rates.Reserve[passage.Thing(was.What)]
		if smaller := smallerReserve(was, is); smaller != "" {
			list = append(list, Caution{Matter: MatterLoosened, Name: was.What + " reserve", Why: smaller})
		}
	}
	return list
}

func whenWords(when string) string {
	if when == "" {
		return ""
	}
	return " when " + when
}

// criticality lists what can be critical: a check's id, or "id when condition".
func criticality(d Definitions) []string {
	var list []string
	for _, r := range d.Rounds {
		if r.For != ForSign {
			continue
		}
		for _, s := range r.Sections {
			for _, c := range s.Checks {
				if c.Critical {
					list = append(list, c.ID)
				}
				for _, when := range c.CritWhen {
					list = append(list, c.ID+" when "+string(when))
				}
			}
		}
	}
	return list
}

func smallerReserve(was SignedReserve, is provisions.Reserve) string {
	if is.None {
		is = provisions.Reserve{}
	}
	for _, part := range []struct {
		name    string
		was, is float64
	}{
		{"days", was.Days, is.Days},
		{"share of need", was.ShareOfNeed, float64(is.ShareOfNeed)},
		{"share of capacity", was.ShareOfCapacity, float64(is.ShareOfCapacity)},
		{"amount", was.Amount, float64(is.Amount)},
	} {
		if part.is < part.was {
			return fmt.Sprintf("its %s was %g at the last sign-off and is %g", part.name, part.was, part.is)
		}
	}
	return ""
}
