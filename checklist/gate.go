package checklist

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"boat/hoveshort/provisions/passage"
)

// Matter is what a blocker or a caution is about.
type Matter string

// The matters. The first eleven can stand in the way; the others are cautions alone.
const (
	MatterCheck     Matter = "check"
	MatterRound     Matter = "round"
	MatterEndurance Matter = "endurance"
	MatterService   Matter = "service"
	MatterSpare     Matter = "spare"
	MatterDated     Matter = "dated"
	MatterDefect    Matter = "defect"
	MatterSounding  Matter = "sounding"
	MatterSeason    Matter = "season"
	MatterClock     Matter = "clock"
	MatterPlan      Matter = "plan"

	MatterDaylight Matter = "daylight"
	MatterLoosened Matter = "loosened"
	MatterWhatIf   Matter = "what if"
	MatterReading  Matter = "reading"
	MatterUse      Matter = "use"
)

// Blocker is something that stands in the way of the sign-off.
type Blocker struct {
	Matter Matter
	Name   string // of the check (its id), tank, thing, service, spare …
	Title  string // what the skipper calls it
	Why    string
	Clears string // what would clear it
	Where  string // "only with a shop", "here" …
	Takes  time.Duration
	Stale  bool // only its age stands in the way: it lapses no sign-off
}

// How long it usually takes to clear what stands in the way; only the order of the
// list depends on it. Common practice, no source.
const (
	takesReplan  = 48 * time.Hour
	takesShop    = 24 * time.Hour
	takesRepair  = 3 * time.Hour
	takesService = time.Hour
	takesProof   = 30 * time.Minute
	takesLoading = 2 * time.Hour
	takesWriting = 15 * time.Minute
	takesSound   = 5 * time.Minute
	takesCheck   = 2 * time.Minute
	takesClock   = time.Minute
)

// gate finds what stands in the way and what wants a reason.
type gate struct {
	definitions Definitions
	state       State
	now         time.Time
	slow        passage.Voyage
	troubles    map[string]string // tanks whose level cannot be right
	dark        []darkArrival
	assessment  *Assessment
}

func (g *gate) judge() {
	g.dark = g.darkArrivals()
	g.sailedAlready()
	g.plan()
	g.season()
	g.clock()
	g.endurance()
	g.watermakerDead()
	g.services()
	g.spares()
	g.dated()
	g.defects()
	g.soundings()
	g.consumables()
	g.counts()
	g.rounds()
	g.cautions()
	g.usesAbove()
	a := g.assessment
	slices.SortStableFunc(a.Blockers, func(x, y Blocker) int { return cmp.Compare(y.Takes, x.Takes) })
	a.Ready = len(a.Blockers) == 0
}

func (g *gate) block(b Blocker) {
	if b.Title == "" {
		b.Title = b.Name
	}
	g.assessment.Blockers = append(g.assessment.Blockers, b)
}

// plan: a leg that she cannot make in one of the cases.
func (g *gate) plan() {
	legs := g.definitions.Plan.Legs
	for i, leg := range legs {
		var in []string
		for _, name := range passage.CaseNames {
			if slices.Contains(g.assessment.Reckoning.Cases[name].Voyage.Unmade, i) {
				in = append(in, string(name))
			}
		}
		if len(in) == 0 {
			continue
		}
		g.block(Blocker{
			Matter: MatterPlan, Name: leg.From + " to " + leg.To, Takes: takesReplan,
			Why:    fmt.Sprintf("she cannot make this leg in the %s case: less than 0.5 kn over the ground", strings.Join(in, " and ")),
			Clears: "another speed, share under engine, current or route in passage.toml",
			Where:  "at the chart table",
		})
	}
}

// season: everything slow must be over before the season's end begins.
func (g *gate) season() {
	if ends, why := g.seasonEnds(); ends {
		g.block(Blocker{
			Matter: MatterSeason, Name: g.definitions.Plan.Before.String(), Title: "season", Takes: takesReplan, Why: why,
			Clears: "leave earlier, or plan a shorter passage", Where: "at the chart table",
		})
	}
}

func (g *gate) seasonEnds() (bool, string) {
	before, arrive := g.definitions.Plan.Before, g.slow.Arrive()
	if !g.definitions.Plan.IsLate(arrive) {
		return false, ""
	}
	return true, fmt.Sprintf("the slow case arrives on %s, and it must be over before %s", g.definitions.moment(arrive), before)
}

func (g *gate) clock() {
	doubt := g.state.Clock.Doubt
	if doubt == "" {
		doubt = g.state.Clock.doubts(g.now)
	}
	if doubt == "" {
		return
	}
	g.block(Blocker{
		Matter: MatterClock, Name: "clock", Takes: takesClock, Why: doubt,
		Clears: "set the clock if it is wrong, then say that it is right; answers from the doubtful span are asked again",
		Where:  "here",
	})
}

// arrival is the slow arrival; now, where she cannot make the passage.
func (g *gate) arrival() time.Time {
	if at := g.slow.Arrive(); !at.IsZero() {
		return at
	}
	return g.localNow()
}

// localNow is the moment in the departure's offset, in which the plan's dates are meant.
func (g *gate) localNow() time.Time { return g.now.In(g.definitions.Plan.Depart.Location()) }
