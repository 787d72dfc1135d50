package checklist

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"boat/hoveshort/checklist/machinery"
)

// Caution blocks nothing, but wants a reason in the skipper's own words before she
// is signed off, for that sign-off alone.
type Caution struct {
	Matter   Matter
	Name     string
	Title    string
	Why      string
	Accepted *AcceptedState // nil: not yet
	Running  int            // for how many passages running it was accepted before this one

	since int    // the entry that it stands on: a reason given before it was given for something else
	bad   badly  // how bad it is: a reason given for less is none
	stage string // of a defect that was repaired: a reason given while it stood otherwise is none
}

// badly is how bad a caution is, of those that can become worse: the sooner the worse.
type badly struct {
	Of  string // what fails; of an arrival: the case
	Day int    // on which day from departure; 0: from the beginning, or it has no day
}

// said is how bad it was, as it stands with the reason.
func (b badly) said() string { return fmt.Sprintf("%s, day %d", b.Of, b.Day) }

// covers says that a reason which was given when it was so still serves now.
func (b badly) covers(now badly) bool { return b.Of == now.Of && b.Day <= now.Day }

// badlySaid reads what said wrote.
func badlySaid(text string) (b badly, ok bool) {
	i := strings.LastIndex(text, ", day ")
	if i < 0 {
		return b, false
	}
	day, err := strconv.Atoi(text[i+len(", day "):])
	return badly{text[:i], day}, err == nil
}

// ID is what the caution is accepted by.
func (c Caution) ID() string { return string(c.Matter) + ":" + c.Name }

func (g *gate) caution(c Caution) {
	if c.Title == "" {
		c.Title = c.Name
	}
	if accepted, is := g.state.Accepted[c.ID()]; is && c.isMeantBy(accepted) {
		c.Accepted = &accepted
	}
	c.Running = g.running(c.ID())
	g.assessment.Cautions = append(g.assessment.Cautions, c)
}

// isMeantBy says that the reason was given for this caution as it is now: not for an
// earlier answer, nor for something that was loosened less, ran out later or was
// another arrival in the dark.
func (c Caution) isMeantBy(a AcceptedState) bool {
	if a.Why == "" || a.Seq <= c.since {
		return false
	}
	switch c.Matter {
	case MatterLoosened:
		return a.Said == c.Why
	case MatterDefect:
		return a.Said == c.stage
	case MatterWhatIf, MatterDaylight:
		said, ok := badlySaid(a.Said)
		early := a.Said == "" && c.Matter == MatterDaylight // of a record in which it was not written yet
		return early || ok && said.covers(c.bad)
	}
	return true
}

// told is what of the caution stands with its reason: how bad it is.
func (c Caution) told() string {
	switch c.Matter {
	case MatterLoosened:
		return c.Why
	case MatterDefect:
		return c.stage
	case MatterWhatIf, MatterDaylight:
		return c.bad.said()
	}
	return ""
}

// samePassage is how far a departure may be moved and still be that of the same passage.
const samePassage = 48 * time.Hour

// running is for how many passages in a row the caution was accepted before this one.
// A passage that is signed off once more is the same passage.
func (g *gate) running(id string) int {
	signed := g.state.Signed
	if signed == nil {
		return 0
	}
	i := slices.IndexFunc(signed.Exceptions, func(e SignedException) bool { return e.ID == id })
	if i < 0 {
		return 0
	}
	if signed.Passage == g.assessment.Passage && signed.Depart.Sub(g.assessment.Reckoning.Depart).Abs() <= samePassage {
		return signed.Exceptions[i].Running - 1
	}
	return signed.Exceptions[i].Running
}

func (g *gate) cautions() {
	for c := range g.assessment.signChecks() {
		told := c.Automatic != nil && g.toldBy(*c.Automatic) // it stands in the way by itself
		if c.Applies && !c.IsCritical && !told && (c.Status == StatusNotRight || c.Status == StatusOutside) {
			caution := Caution{Matter: MatterCheck, Name: c.ID, Title: c.Ask, Why: c.Why}
			if c.Answer != nil {
				caution.since = c.Answer.Seq
			}
			g.caution(caution)
		}
	}
	if g.definitions.Plan.Daylight {
		for _, at := range g.dark {
			g.caution(Caution{Matter: MatterDaylight, Name: at.place, Title: "arrival at " + at.place, Why: at.why, bad: badly{Of: string(at.in)}})
		}
	}
	g.whatIfs()
	g.lastReading()
	for _, v := range g.assessment.Defects {
		if v.Asks {
			g.caution(Caution{Matter: MatterDefect, Name: fmt.Sprint(v.Seq), Title: v.Title(), Why: v.Why, stage: v.stage()})
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

// lastReading wants a reason where the engine, as it was last read, is at a limit or must
// be stopped. A reading as usual takes it away.
func (g *gate) lastReading() {
	i := g.state.latestReading(g.now)
	if i < 0 {
		return
	}
	r := g.state.Readings[i]
	judged := g.definitions.JudgeReading(g.state, r, g.definitions.Boat.Units)
	if judged.Level < machinery.LevelLimit || len(judged.Findings) == 0 {
		return
	}
	worst := judged.Findings[0]
	g.caution(Caution{
		Matter: MatterReading, Name: "engine", Title: "the engine as last read", since: r.Seq,
		Why: fmt.Sprintf("%s, read %s: %s, %s", strings.ToUpper(judged.Level.String()), g.definitions.moment(r.At), worst.Gauge, worst.Words),
	})
}
