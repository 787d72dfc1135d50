package checklist

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"boat/hoveshort/checklist/machinery"
	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
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
	takesLoading = 2 * time.Hour
	takesWriting = 15 * time.Minute
	takesSound   = 5 * time.Minute
	takesCheck   = 2 * time.Minute
	takesClock   = time.Minute
)

// How old a sounding and a count may be at the sign-off. Design, section 5.
const (
	soundingGoodFor = 24 * time.Hour
	countGoodFor    = 14 * 24 * time.Hour
)

// gate finds what stands in the way and what wants a reason.
type gate struct {
	definitions Definitions
	state       State
	now         time.Time
	slow        passage.Voyage
	trim        passage.Trim
	aboard      provisions.Aboard
	troubles    map[string]string // tanks whose level cannot be right
	dark        []darkArrival
	assessment  *Assessment
}

func (g *gate) judge() {
	g.dark = g.darkArrivals()
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
	g.counts()
	g.rounds()
	g.cautions()
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
	before := g.definitions.Plan.Before
	arrive := g.slow.Arrive()
	if before.IsZero() || arrive.IsZero() || arrive.Before(before.In(g.definitions.Plan.Depart.Location())) {
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

// short says whether a thing is short on any stretch, and where.
func (g *gate) short(t passage.Thing) (provisions.Stretch, bool) {
	for _, s := range g.assessment.Reckoning.Resources[t].Stretches {
		if s.Short > 0 {
			return s, true
		}
	}
	return provisions.Stretch{}, false
}

func (g *gate) endurance() {
	if !g.assessment.Stretches {
		return
	}
	for _, t := range passage.Things {
		for i, s := range g.assessment.Reckoning.Resources[t].Stretches {
			if s.Short > 0 {
				g.blockShort(t, s, i == 0)
			}
		}
	}
}

func (g *gate) blockShort(t passage.Thing, s provisions.Stretch, first bool) {
	units := g.definitions.Boat.Units
	clears, where, takes := fmt.Sprintf("%s more aboard", s.Short.Up(t, units)), "wherever it can be had", takesShop
	switch {
	case !first:
		clears, where = "full tanks do not reach: cans, a stop on the way, or a slower use", "before departure"
	case g.definitions.Plan.Gives(t):
		where, takes = "here, before departure", takesLoading
	}
	g.block(Blocker{
		Matter: MatterEndurance, Name: string(t), Takes: takes,
		Why: fmt.Sprintf("%s short from %s to %s: %s case needs %s, the reserve is %s, %s can be counted on", s.Short.Up(t, units),
			s.From, s.To, s.Hard, s.Need.Up(t, units), s.Reserve.Up(t, units), s.Available.Down(t, units)),
		Clears: clears, Where: where,
	})
}

// watermakerDead: the passage must be possible without it, at the rationed use.
func (g *gate) watermakerDead() {
	boat := g.definitions.Boat.Boat
	if boat.Watermaker == nil || !g.assessment.Stretches {
		return
	}
	without := boat.WithoutWatermaker()
	without.Rates.Rations, without.Rates.Reserve = nil, withoutFood(boat.Rates.Reserve)
	dead := provisions.Reckon(without, g.definitions.Plan, g.aboard, g.trim, g.now)
	units := g.definitions.Boat.Units
	for _, s := range dead.Resources[passage.Water].Stretches {
		if s.Need <= s.Available {
			continue
		}
		g.block(Blocker{
			Matter: MatterEndurance, Name: "water without the watermaker", Takes: takesLoading,
			Why: fmt.Sprintf("with the watermaker dead from the first day the water runs out from %s to %s: %s needed, %s can be counted on",
				s.From, s.To, s.Need.Up(passage.Water, units), s.Available.Down(passage.Water, units)),
			Clears: fmt.Sprintf("%s more water aboard, or a smaller rationed use in rates.toml", (s.Need-s.Available).Up(passage.Water, units)),
			Where:  "wherever water can be had",
		})
		return
	}
}

func withoutFood(reserve map[passage.Thing]provisions.Reserve) map[passage.Thing]provisions.Reserve {
	rest := make(map[passage.Thing]provisions.Reserve, len(reserve))
	for t, r := range reserve {
		rest[t] = r
	}
	rest[passage.Food] = provisions.Reserve{None: true}
	return rest
}

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
		return "from the start: upkeep.toml says no `last` time"
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
			Clears: "do it, then write date and hours under `last` in upkeep.toml", Where: "here, with its parts aboard",
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
				Clears: "a new one that fits, whole with its parts; then write it in spares.toml", Where: "only with a shop",
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
				Clears: "renew it, then write its new date in dated.toml", Where: "only with a shop or a service station",
			})
		}
	}
}

func (g *gate) defects() {
	for _, d := range g.state.Defects {
		if d.Grade == machinery.Limit || d.Grade == machinery.Note { // what is no grade stops her
			continue
		}
		g.block(Blocker{
			Matter: MatterDefect, Name: fmt.Sprint(d.Seq), Title: d.Title(), Takes: takesRepair,
			Why:    fmt.Sprintf("defect %d of grade stop, open since %s", d.Seq, g.definitions.moment(d.At)),
			Clears: fmt.Sprintf("mend it, close defect %d with what was done, and answer its check again", d.Seq),
			Where:  "where it can be mended",
		})
	}
}

// Title is what the defect is called: its words, or its check's id.
func (d Defect) Title() string { return orElse(d.What, orElse(d.Check, "defect")) }

func (g *gate) soundings() {
	for _, t := range g.definitions.Boat.Tanks {
		why, old := g.soundingLacks(t)
		if why == "" {
			continue
		}
		g.block(Blocker{
			Matter: MatterSounding, Name: t.Name, Why: why, Stale: old, Takes: takesSound,
			Clears: "sound it", Where: "here",
		})
	}
}

// soundingLacks is why a tank's level cannot be counted on; old: only its age is why.
// Sealed cans are never planned on, so they need no sounding.
func (g *gate) soundingLacks(t provisions.Tank) (why string, old bool) {
	held := g.state.Tanks[t.Name]
	switch {
	case t.Sealed:
		return "", false
	case g.troubles[t.Name] != "":
		return g.troubles[t.Name], false
	case held.Seq == 0:
		return "never sounded", false
	case held.Doubtful || held.At.After(g.now):
		return "sounded while the clock was in doubt", false
	case g.now.Sub(held.At) > soundingGoodFor:
		return fmt.Sprintf("sounded %s ago, more than 24 h", quantity.Rough(g.now.Sub(held.At))), true
	}
	return "", false
}

// counts: a food that is planned on was counted, but too long ago.
func (g *gate) counts() {
	for _, food := range g.definitions.plannedFoods() {
		for _, c := range standingCounts(g.state.Counts[food]) {
			age := g.now.Sub(c.At)
			if age >= 0 && age <= countGoodFor && !c.Doubtful {
				continue
			}
			g.block(Blocker{
				Matter: MatterSounding, Name: food, Stale: age > countGoodFor && !c.Doubtful, Takes: takesSound,
				Why:    countWhy(c.Stamp, age),
				Clears: "count it, all lots together", Where: "here",
			})
			break
		}
	}
}

// plannedFoods are the foods of the rations and those eaten in their place.
func (d Definitions) plannedFoods() []string {
	var names []string
	for _, r := range d.Boat.Rates.Rations {
		food, _ := d.Food(r.Food)
		for _, name := range []string{r.Food, food.Instead} {
			if name != "" && !slices.Contains(names, name) {
				names = append(names, name)
			}
		}
	}
	return names
}

// standingCounts are those that the stock is still taken from, oldest first: the last of
// all lots together, and each lot's last one since. A lot counted anew says nothing of the
// others, and one that is gone cannot grow old.
func standingCounts(counts []CountState) []CountState {
	var list []CountState
	for i, c := range slices.Backward(counts) {
		if c.IsWhole() {
			list = append(list, c)
			break
		}
		if c.Packs > 0 && !countedAgain(counts, i, len(counts)-1) {
			list = append(list, c)
		}
	}
	slices.Reverse(list)
	return list
}

func countWhy(s Stamp, age time.Duration) string {
	if s.Doubtful || age < 0 {
		return "counted while the clock was in doubt"
	}
	return fmt.Sprintf("counted %s ago, more than 14 days", quantity.Rough(age))
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
