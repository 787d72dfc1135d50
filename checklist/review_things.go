package checklist

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
)

// ThingReview is water, fuel or gas: what was to be used and what was. Litres, of gas kilograms; nil: not known.
type ThingReview struct {
	What      passage.Thing
	Available *float64 // that could be counted on at departure
	Reserve   *float64 // of the stretch that needed most
	Slow      *float64 // what each case was to use
	Expected  *float64
	Quick     *float64

	Used      *float64 // between the soundings, what was filled in between taken in
	Filled    float64  // between the soundings
	Left      *float64 // in the unsealed tanks, as sounded at the arrival
	Span      *float64 // days between the soundings
	PerDay    *float64
	PerPerson *float64 // and day
	Planned   *float64 // for the same time: the passage as long as it was, and what lies at anchor between the soundings
	Error     float64  // what the soundings may be out by, of all tanks together
	Unknown   string   // why Used is not known
}

// Difference is what was used beyond the plan in the time between the soundings; nil: not known.
func (t ThingReview) Difference() *float64 {
	if t.Used == nil || t.Planned == nil {
		return nil
	}
	more := *t.Used - *t.Planned
	return &more
}

// IsWithinError says that the difference is no more than the soundings may be out by.
func (t ThingReview) IsWithinError() bool {
	more := t.Difference()
	return more != nil && max(*more, -*more) <= t.Error
}

func thingReview(d Definitions, p Sailed, times TimeReview, what passage.Thing) ThingReview {
	t := ThingReview{What: what}
	t.plan(p.Depart.Depart)
	used, err := p.used(d, what)
	if err != "" {
		t.Unknown = err
		return t
	}
	t.Error, t.Filled, t.Left = used.err, used.filled, &used.left
	t.Used, t.Span = &used.amount, &used.days
	if used.days > 0 && times.Days != nil {
		day := used.amount / used.days
		t.PerDay = &day
		if p.Depart.Crew > 0 {
			person := day / float64(p.Depart.Crew)
			t.PerPerson = &person
		}
	}
	if sea := times.planned(p.Depart.Cases, func(c SignedCase) float64 { return ofCase(c, what) }); sea != nil {
		planned := *sea + max(0, used.days-*times.Days)*d.Boat.DayAtAnchor(d.Plan, p.Depart.Crew, what)
		t.Planned = &planned
	}
	return t
}

// plan is what was frozen at the departure.
func (t *ThingReview) plan(d Depart) {
	for _, r := range d.Resources {
		if r.What != string(t.What) {
			continue
		}
		if t.Available == nil { // later stretches are filled again on the way
			t.Available = &r.Available
		}
		if t.Reserve == nil || r.Reserve > *t.Reserve {
			t.Reserve = &r.Reserve
		}
	}
	for _, c := range d.Cases {
		if !c.Made {
			continue
		}
		amount := ofCase(c, t.What)
		switch passage.CaseName(c.Case) {
		case passage.Slow:
			t.Slow = &amount
		case passage.Expected:
			t.Expected = &amount
		case passage.Quick:
			t.Quick = &amount
		}
	}
}

func ofCase(c SignedCase, what passage.Thing) float64 {
	switch what {
	case passage.Water:
		return c.Water
	case passage.Fuel:
		return c.Fuel
	case passage.Gas:
		return c.Gas
	}
	return 0
}

// planned is a figure of the cases for a passage as long as this one was: between the cases on the straight line,
// beyond them in the measure of the nearest. Where she came in elsewhere it is in the measure of the expected case.
func (t TimeReview) planned(frozen []SignedCase, figure func(SignedCase) float64) *float64 {
	var cases []SignedCase
	for _, c := range frozen {
		if c.Made && c.Hours > 0 {
			cases = append(cases, c)
		}
	}
	if len(cases) == 0 || t.Days == nil {
		return nil
	}
	hours := *t.Days * dayHours
	whole := t.Case(passage.Expected) // none, or only up to a stop: then it is not this passage's length
	if expected := byName(cases, passage.Expected); whole == nil || whole.Hours != expected.Hours {
		return measured(expected, figure, hours)
	}
	slices.SortFunc(cases, func(a, b SignedCase) int { return cmp.Compare(a.Hours, b.Hours) })
	if hours <= cases[0].Hours {
		return measured(cases[0], figure, hours)
	}
	for i := 1; i < len(cases); i++ {
		a, b := cases[i-1], cases[i]
		if hours <= b.Hours {
			share := (hours - a.Hours) / (b.Hours - a.Hours)
			between := figure(a) + share*(figure(b)-figure(a))
			return &between
		}
	}
	return measured(cases[len(cases)-1], figure, hours)
}

// measured is a case's figure in the measure of its time.
func measured(c SignedCase, figure func(SignedCase) float64, hours float64) *float64 {
	amount := figure(c) / c.Hours * hours
	return &amount
}

// hot is how much more is drunk in this climate.
func (d Definitions) hot() float64 {
	if d.Plan.Climate == passage.Hot {
		return max(1, d.Boat.Rates.Water.HotWeather)
	}
	return 1
}

// byName is the case of a name, of those that there are; without it the last.
func byName(cases []SignedCase, name passage.CaseName) SignedCase {
	for _, c := range cases {
		if c.Case == string(name) {
			return c
		}
	}
	return cases[len(cases)-1]
}

// usedUp is what was used of a thing between the soundings.
type usedUp struct {
	amount, filled, left, err, days float64
}

// used is what the soundings before the departure and at the arrival, and the fills between them, come to. Every
// unsealed tank must have been sounded at both ends; else why says which was not.
func (p Sailed) used(d Definitions, what passage.Thing) (u usedUp, why string) {
	if p.Arrived == nil {
		return u, "she has not come in yet"
	}
	var from, to time.Time
	known := false
	for _, tank := range d.Boat.Tanks {
		if tank.Holds != what || tank.Sealed {
			continue
		}
		known = true
		g, why := p.gauged(tank)
		if why != "" {
			return usedUp{}, why
		}
		u.amount += g.amount
		u.filled += g.filled
		u.left += g.left
		u.err += g.err
		if from.IsZero() || g.from.Before(from) {
			from = g.from
		}
		if g.to.After(to) {
			to = g.to
		}
	}
	if !known {
		return u, "no tank holds it"
	}
	if u.days = to.Sub(from).Hours() / dayHours; u.days <= 0 {
		return u, "the soundings lie at the same time"
	}
	return u, ""
}

// gaugedTank is one tank between its two soundings.
type gaugedTank struct {
	usedUp
	from, to time.Time
}

func (p Sailed) gauged(tank provisions.Tank) (g gaugedTank, why string) {
	i := slices.IndexFunc(p.Depart.Tanks, func(t SignedTank) bool { return t.Tank == tank.Name })
	if i < 0 || p.Depart.Tanks[i].At.IsZero() {
		return g, tank.Name + " was not sounded before she left"
	}
	frozen := p.Depart.Tanks[i]
	sounded, moves := cutMoves(frozen.Level)
	before, kind, err := levelAmount(tank, sounded)
	if err != nil {
		return g, tank.Name + ": its level at the departure cannot be read"
	}
	after, to, ok := p.soundedAfter(tank.Name)
	if !ok {
		return g, tank.Name + " was not sounded at the arrival"
	}
	left, leftKind, err := levelAmount(tank, after)
	if err != nil {
		return g, tank.Name + ": its level at the arrival cannot be read"
	}
	for _, m := range moves {
		amount, err := provisions.ParseAmount(m.Amount, tank.Holds)
		if err != nil {
			return g, tank.Name + ": what was filled before the departure cannot be read"
		}
		if m.Out {
			amount = -amount
		}
		before += min(float64(amount), float64(tank.Capacity)-before)
	}
	filled, why := p.filledBetween(tank, p.Depart.Seq, to.Seq)
	if why != "" {
		return g, why
	}
	g.amount, g.filled, g.left = before+filled-left, filled, left
	g.err = errorOf(tank, before, kind) + errorOf(tank, left, leftKind)
	g.from, g.to = frozen.At, to.At
	return g, ""
}

// soundedAfter is a tank as it was first sounded at the arrival or after it.
func (p Sailed) soundedAfter(tank string) (level string, at Stamp, ok bool) {
	for _, e := range p.since(p.Arrived.Seq) {
		var levels []TankLevel
		switch a := e.Act.(type) {
		case Arrive:
			levels = a.Levels
		case Sound:
			levels = []TankLevel{TankLevel(a)}
		}
		for _, l := range levels {
			if l.Tank == tank {
				return l.Level, e.stamp(), true
			}
		}
	}
	return "", Stamp{}, false
}

// filledBetween is what went into a tank between two entries, less what went out of it into another. Filled to the
// brim tells how much only where it was sounded just before, which the record cannot know.
func (p Sailed) filledBetween(tank provisions.Tank, after, before int) (sum float64, why string) {
	for _, e := range p.Entries {
		fill, is := e.Act.(Fill)
		if !is || e.Seq <= after || e.Seq >= before || fill.Tank != tank.Name && fill.From != tank.Name {
			continue
		}
		amount, err := provisions.ParseAmount(fill.Amount, tank.Holds)
		if err != nil {
			return 0, tank.Name + " was filled to the brim on the way: how much went in was not told"
		}
		if fill.From == tank.Name {
			amount = -amount
		}
		sum += float64(amount)
	}
	return sum, ""
}

// cutMoves takes a frozen level apart, as signedTanks puts it together: "62 % + 40 L - 10 L".
func cutMoves(frozen string) (level string, moves []Move) {
	level = frozen
	for {
		at := max(strings.LastIndex(level, " + "), strings.LastIndex(level, " - "))
		if at < 0 {
			slices.Reverse(moves)
			return level, moves
		}
		moves = append(moves, Move{Amount: level[at+3:], Out: level[at+1] == '-'})
		level = level[:at]
	}
}

func levelAmount(tank provisions.Tank, text string) (amount float64, kind provisions.LevelKind, err error) {
	level, err := provisions.ParseLevel(text, tank.Holds)
	if err != nil {
		return 0, 0, err
	}
	there, err := tank.AmountAt(level)
	return float64(there), level.Kind, err
}

// errorOf is what a level may be out by; filled to the brim it has no error.
func errorOf(tank provisions.Tank, amount float64, kind provisions.LevelKind) float64 {
	const brim = 1e-9
	switch {
	case amount >= float64(tank.Capacity)*(1-brim):
		return 0
	case kind == provisions.ByDip:
		return float64(tank.DipError) * float64(tank.Capacity)
	}
	return float64(tank.GaugeError) * float64(tank.Capacity)
}

// FoodReview is a food that was counted whole before the departure and after the arrival.
type FoodReview struct {
	Food    string
	Eaten   float64 // packs between the counts
	Planned float64 // packs that the rations take in that time; 0: it is in no ration
	Days    float64
}

func foodReviews(d Definitions, p Sailed) []FoodReview {
	if p.Arrived == nil {
		return nil
	}
	var list []FoodReview
	for _, f := range d.Boat.Foods {
		before, after := p.countsOf(f.Name)
		if before == nil || after == nil {
			continue
		}
		days := after.at.Sub(before.at).Hours() / dayHours
		if days <= 0 {
			continue
		}
		list = append(list, FoodReview{
			Food: f.Name, Eaten: before.packs - after.packs, Days: days,
			Planned: d.packsADay(f) * days * float64(p.Depart.Crew),
		})
	}
	return list
}

// packsADay is what the rations take of a food, per person.
func (d Definitions) packsADay(f provisions.Food) float64 {
	var each float64
	for _, r := range d.Boat.Rates.Rations {
		if r.Food == f.Name {
			each += float64(r.Each)
		}
	}
	if edible := float64(f.Pack) * (1 - float64(f.Refuse)); edible > 0 {
		return each / edible
	}
	return 0
}

// countedAt is a food, all its lots together.
type countedAt struct {
	at    time.Time
	packs float64
}

// countsOf are the last count before the departure of all that is there of a food, and the first from the arrival on.
// Counts of single lots are taken together where both times the same lots were counted.
func (p Sailed) countsOf(food string) (before, after *countedAt) {
	var first, then []CountState
	for _, e := range append(slices.Clone(p.Brought), p.Entries...) {
		c, is := e.Act.(Count)
		if !is || c.Food != food {
			continue
		}
		counted := CountState{e.stamp(), c}
		switch {
		case e.Seq < p.Depart.Seq:
			first = withLot(first, counted, true)
		case e.Seq > p.Arrived.Seq:
			then = withLot(then, counted, false)
		}
	}
	if len(first) == 0 || !sameLots(first, then) {
		return nil, nil
	}
	return takenTogether(first), takenTogether(then)
}

// withLot adds the count of a lot: in place of an earlier one of the same where the newer holds.
func withLot(list []CountState, c CountState, newer bool) []CountState {
	if c.IsWhole() && (newer || len(list) == 0) {
		return []CountState{c}
	}
	for i := range list {
		if list[i].SameLot(c.Count) {
			if newer {
				list[i] = c
			}
			return list
		}
	}
	return append(list, c)
}

func sameLots(a, b []CountState) bool {
	has := func(list []CountState, c CountState) bool {
		return slices.ContainsFunc(list, func(o CountState) bool { return o.SameLot(c.Count) })
	}
	for _, c := range a {
		if !has(b, c) {
			return false
		}
	}
	return len(a) == len(b)
}

// takenTogether adds counts up; their moment is the last.
func takenTogether(list []CountState) *countedAt {
	var sum countedAt
	for _, c := range list {
		sum.packs += c.Packs
		if c.At.After(sum.at) {
			sum.at = c.At
		}
	}
	return &sum
}
