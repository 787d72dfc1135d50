package checklist

import (
	"cmp"
	"slices"
	"time"

	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// Sailed is a passage as the record tells it: from the first entry after the one before it to its closing.
type Sailed struct {
	Brought []Entry // what a page brought forward; its soundings and counts are of before
	Entries []Entry // as they came; those taken as never written are left out

	Sign    *SignState  // the sign-off that she left with; nil: none is in the record as it was read
	Depart  DepartState // Seq 0: signed, and never left
	Reason  DepartState // why she left unsigned, told later; Seq 0: not told
	Arrived *ArriveState
	Closed  *ArriveState
}

// HasLeft says that there is a departure to hold an arrival against.
func (p Sailed) HasLeft() bool { return p.Depart.Seq > 0 }

// Number is the entry it is called by: that of the sign-off, or of the departure where there is none.
func (p Sailed) Number() int {
	if p.Sign != nil {
		return p.Sign.Seq
	}
	return p.Depart.Seq
}

// Has says that an entry is its sign-off or its departure.
func (p Sailed) Has(seq int) bool {
	return seq > 0 && (p.Depart.Seq == seq || p.Sign != nil && p.Sign.Seq == seq)
}

// Name is the passage's, as it was signed or left on.
func (p Sailed) Name() string {
	if p.Sign != nil {
		return p.Sign.Passage
	}
	return p.Depart.Passage
}

// To is where it was to end.
func (p Sailed) To() string {
	resources := p.Depart.Resources
	if len(resources) == 0 && p.Sign != nil {
		resources = p.Sign.Resources
	}
	if n := len(resources); n > 0 {
		return resources[n-1].To
	}
	return p.Depart.To
}

// Definitions is the sum of the files it was reckoned with.
func (p Sailed) Definitions() string {
	if p.Sign != nil && !p.HasLeft() {
		return p.Sign.Definitions
	}
	return p.Depart.Definitions
}

// Passages are the passages of a record, oldest first, sign-offs that were never left on among them. A departure
// before the one before it was closed ends that one.
func Passages(entries []Entry) []Sailed {
	c := cutter{signs: map[int]SignState{}, used: map[int]bool{}}
	struck := Struck(entries)
	for _, e := range entries {
		carry, brought := e.Act.(Carry)
		switch {
		case brought:
			c.bring(carry)
		case !struck[e.Seq]:
			c.take(e)
		}
	}
	c.end(len(c.now.Entries))
	return c.withUnused()
}

// cutter cuts a record into passages.
type cutter struct {
	now     Sailed
	done    []Sailed
	signs   map[int]SignState
	used    map[int]bool // sign-offs that were left on
	clock   State        // of which only the clock is kept
	pending int          // where in now.Entries what belongs to the next departure begins; 0: nowhere yet
}

func (c *cutter) bring(carry Carry) {
	c.now.Brought = carry.Kept
	c.clock.Clock = Clock{Trusted: carry.Trusted, Doubt: carry.Doubt}
	for _, e := range carry.Kept {
		if sign, is := e.Act.(Sign); is {
			if _, known := c.signs[e.Seq]; !known {
				c.signs[e.Seq] = SignState{e.stamp(), sign}
			}
		}
	}
}

func (c *cutter) take(e Entry) {
	c.now.Entries = append(c.now.Entries, e)
	stamp := e.stamp()
	stamp.Doubtful = c.clock.judgeClock(e)
	switch a := e.Act.(type) {
	case Sign:
		c.signs[e.Seq] = SignState{stamp, a}
	case Depart:
		c.depart(DepartState{stamp, a})
	case Arrive:
		c.arrive(ArriveState{stamp, a})
	}
}

func (c *cutter) depart(d DepartState) {
	if d.Of > 0 {
		if c.now.Depart.Seq == d.Of {
			c.now.Reason = d
		}
		return
	}
	if c.now.HasLeft() {
		last := len(c.now.Entries) - 1
		c.end(cmp.Or(min(c.pending, last), last))
	}
	c.now.Depart = d
	if sign, known := c.signs[d.Sign]; known {
		c.now.Sign = &sign
		c.used[d.Sign] = true
	}
}

func (c *cutter) arrive(a ArriveState) {
	if c.now.HasLeft() && c.now.Arrived == nil {
		c.now.Arrived = &a
		c.pending = len(c.now.Entries)
	}
	if a.Close && c.now.HasLeft() {
		c.now.Closed = &a
		c.end(len(c.now.Entries))
	}
}

// end closes the passage before the n-th of its entries; the others belong to the next.
func (c *cutter) end(n int) {
	rest := c.now.Entries[n:]
	if c.now.HasLeft() {
		past := c.now
		past.Entries = past.Entries[:n:n]
		c.done = append(c.done, past)
	}
	c.now, c.pending = Sailed{Brought: c.now.Brought, Entries: slices.Clone(rest)}, 0
}

// withUnused puts the sign-offs that were never left on among the passages.
func (c *cutter) withUnused() []Sailed {
	all := c.done
	for seq, sign := range c.signs {
		if !c.used[seq] {
			all = append(all, Sailed{Sign: &sign})
		}
	}
	slices.SortFunc(all, func(a, b Sailed) int { return cmp.Compare(a.Number(), b.Number()) })
	return all
}

// PassageReview holds a passage as it was to be against what came of it. What the record does not tell is nil.
type PassageReview struct {
	Sailed

	Units   quantity.System
	Climate passage.Climate // "": the files it was reckoned with are not known
	HasKept bool            // they are known
	Crew    int
	Makes   bool // a watermaker is aboard: what was used is less what it made

	Time       TimeReview
	Things     []ThingReview // water, fuel, gas
	Food       []FoodReview  // those counted before and after
	Exceptions []ExceptionReview
	Defects    []DefectReview // opened from the sign-off on
	Services   []ServiceState // done from the departure on
	Refused    []RefusedCheck // not right at first
	Changes    []ChangeState
	Failed     []string

	Differences []Difference
}

// TimeReview is the time, the miles and the engine's hours.
type TimeReview struct {
	Cases    []SignedCase  // as they were to be, to where she came in: nil where that is not known
	Days     *float64      // from the departure to the arrival, of 24 h
	Miles    *float64      // by the log
	Planned  *float64      // miles of the plan to where she came in
	Engine   *float64      // hours, by the hour-meter
	Arrive   time.Time     // zero: not told
	Place    string        // where she came in
	Doubt    bool          // the clock was in doubt at one of the two: how long it took is not known
	AsMeant  bool          // that was the end of the passage, or a stop of it
	CameTrue string        // which case, in words; "" where it cannot be told
	Made     *passage.Case // the speed and the share under engine that would have given this time; nil: not known
}

// ReviewPassage holds a passage against its plan. d are the files it was reckoned with; where they are no longer
// known those of today serve for the tanks alone.
func ReviewPassage(d Definitions, p Sailed) PassageReview {
	r := PassageReview{Sailed: p, Units: d.Boat.Units, HasKept: d.Sum == p.Definitions(), Crew: p.Depart.Crew, Makes: d.Boat.Watermaker != nil}
	if r.HasKept {
		r.Climate = d.Plan.Climate
	}
	if !p.HasLeft() {
		return r
	}
	r.Refused = refusedAtFirst(d, p)
	r.Time = timeReview(d, p)
	for _, t := range []passage.Thing{passage.Water, passage.Fuel, passage.Gas} {
		r.Things = append(r.Things, thingReview(d, p, r.Time, t))
	}
	r.Food = foodReviews(d, p)
	r.Defects, r.Services, r.Changes, r.Failed = p.happened()
	r.Exceptions = exceptionReviews(d, r)
	r.Differences = differences(r)
	return r
}

// since are the entries from an entry on.
func (p Sailed) since(seq int) []Entry {
	at := slices.IndexFunc(p.Entries, func(e Entry) bool { return e.Seq >= seq })
	if at < 0 {
		return nil
	}
	return p.Entries[at:]
}

// meterAfter is the hour-meter as it was first read at the arrival or after it; 0: it was not.
func (p Sailed) meterAfter() float64 {
	for _, e := range p.since(p.Arrived.Seq) {
		switch a := e.Act.(type) {
		case Arrive:
			if a.Hours > 0 {
				return a.Hours
			}
		case Reading:
			for _, v := range a.Values {
				if v.Of == "hours" && v.Value.Value > 0 {
					return v.Value.Value
				}
			}
		}
	}
	return 0
}

func timeReview(d Definitions, p Sailed) TimeReview {
	var t TimeReview
	if p.Arrived == nil {
		t.Cases = p.Depart.Cases
		return t
	}
	t.Arrive, t.Place = p.Arrived.Moment(), p.Arrived.Place
	t.Doubt = p.Depart.Doubtful || p.Arrived.Doubtful && p.Arrived.When.IsZero()
	if days := t.Arrive.Sub(p.Depart.At).Hours() / dayHours; days > 0 && !t.Doubt {
		t.Days = &days
	}
	for _, told := range []*ArriveState{p.Arrived, p.Closed} {
		if told != nil && told.Miles > 0 && t.Miles == nil {
			t.Miles = &told.Miles
		}
	}
	if after, before := p.meterAfter(), p.Depart.Hours; before > 0 && after >= before {
		ran := after - before
		t.Engine = &ran
	}
	t.Cases, t.Planned, t.AsMeant = plannedTo(d, p)
	t.CameTrue = t.cameTrue()
	t.Made = t.made(d, p)
	return t
}

// dayHours is a day: 24 h.
const dayHours = 24

// Case is a case by its name; nil: it is not known, or was not to be made.
func (t TimeReview) Case(name passage.CaseName) *SignedCase {
	for i, c := range t.Cases {
		if c.Case == string(name) && c.Made {
			return &t.Cases[i]
		}
	}
	return nil
}

// plannedTo are the cases as they were to be up to where she came in: all of it, or up to a stop of it, as far as the
// kept files give the figures that were frozen.
func plannedTo(d Definitions, p Sailed) (cases []SignedCase, miles *float64, asMeant bool) {
	legs := []passage.Leg(nil)
	if d.Sum == p.Definitions() && d.Plan.Name == p.Depart.Passage {
		legs = legsFrom(d.Plan.Legs, p.Depart.From)
	}
	end := p.Arrived.Place == "" || p.Arrived.Place == p.To()
	stop := len(legs) - 1
	if !end {
		stop = legTo(legs, p.Arrived.Place, 0)
	}
	if stop >= 0 {
		sum := 0.0
		for _, l := range legs[:stop+1] {
			sum += float64(l.Distance)
		}
		miles = &sum
	}
	switch {
	case end:
		return p.Depart.Cases, miles, true
	case stop < 0:
		return nil, nil, false
	}
	return p.casesTo(d, legs, stop), miles, true
}

// legsFrom are the legs from the one that begins at a place.
func legsFrom(legs []passage.Leg, from string) []passage.Leg {
	for i, l := range legs {
		if l.From == from {
			return legs[i:]
		}
	}
	return nil
}

// casesTo are the cases up to the end of a leg. They are told only where the kept files still give the hours that
// were frozen for the whole; what is used up to there is not told.
func (p Sailed) casesTo(d Definitions, legs []passage.Leg, stop int) []SignedCase {
	plan, fouling := d.Plan, 1.0
	plan.Legs = legs
	if p.Sign != nil && p.Sign.Fouling > 0 {
		fouling = p.Sign.Fouling
	}
	var list []SignedCase
	for _, frozen := range p.Depart.Cases {
		v := passage.Run(plan, d.Boat.Engine, passage.CaseName(frozen.Case), p.Depart.At, passage.Trim{Fouling: fouling})
		if !frozen.Made || !v.Made() || !isNear(v.Hours, frozen.Hours) {
			continue
		}
		list = append(list, SignedCase{
			Case: frozen.Case, Made: true, Hours: v.Arrivals[stop].Sub(p.Depart.At).Hours(), Arrive: v.Arrivals[stop],
		})
	}
	return list
}

// isNear allows a thousandth of an hour's share.
func isNear(a, b float64) bool { return max(a-b, b-a) <= 1e-3*max(1, a, b) }

// cameTrue says between which cases she came in.
func (t TimeReview) cameTrue() string {
	quick, expected, slow := t.Case(passage.Quick), t.Case(passage.Expected), t.Case(passage.Slow)
	if t.Days == nil || quick == nil || expected == nil || slow == nil {
		return ""
	}
	const same = 0.02 // of the case: within half an hour a day it is that case
	hours := *t.Days * dayHours
	is := func(c *SignedCase) bool { return max(hours-c.Hours, c.Hours-hours) <= same*c.Hours }
	switch {
	case is(expected):
		return "as expected"
	case is(slow):
		return "the slow case"
	case is(quick):
		return "the quick case"
	case hours > slow.Hours:
		return "slower than slow"
	case hours > expected.Hours:
		return "between expected and slow"
	case hours < quick.Hours:
		return "quicker than quick"
	}
	return "between quick and expected"
}
