// Package passage knows the planned passage: its legs, the engine that drives
// some of it, the three cases it may turn out as, and how long each takes.
//
// Words: a plan is a chain of legs; a case (quick, expected, slow) bends speeds
// and the share of the time under engine; a voyage is a plan run in one case,
// cut into spans at sea, in a stay or in a wait.
//
//	voyage := passage.Run(plan, engine, passage.Slow, plan.Depart, passage.Trim{Fouling: 1})
//	fmt.Println(voyage.Hours, voyage.Arrive())
package passage

import (
	"time"

	"boat/hoveshort/provisions/quantity"
)

// Position is a point on the earth in degrees, north and east positive.
type Position struct {
	Lat, Lon float64
}

// Climate is what the skipper expects to live in: it drives drinking and heating.
type Climate string

// The climates a plan may name.
const (
	Cold      Climate = "cold"
	Temperate Climate = "temperate"
	Hot       Climate = "hot"
)

// Kind is the sort of passage; it chooses rounds, spares and checks.
type Kind string

// The kinds of a passage. A shift of berth is never refused for endurance.
const (
	Shift    Kind = "shift"
	Coastal  Kind = "coastal"
	Offshore Kind = "offshore"
)

// CaseName names one of the three cases.
type CaseName string

// The three cases, in the order in which they are shown and compared.
const (
	Slow     CaseName = "slow"
	Expected CaseName = "expected"
	Quick    CaseName = "quick"
)

// CaseNames are the three cases in their fixed order.
var CaseNames = [3]CaseName{Slow, Expected, Quick}

// Case is how a passage may turn out.
type Case struct {
	Speed float64        // multiplies the speed under sail, over 0
	Motor float64        // multiplies the speed under engine, over 0
	Power quantity.Share // share of the time at sea under engine, 0 to 1
	Wait  time.Duration  // before each leg but the first, at the place it leaves
}

// Thing is what is carried and used up.
type Thing string

// The four things, in the order in which they are shown and compared.
const (
	Water Thing = "water"
	Fuel  Thing = "fuel"
	Food  Thing = "food"
	Gas   Thing = "gas"
)

// Things are the four in their fixed order.
var Things = [4]Thing{Water, Fuel, Food, Gas}

// Giving is a thing that can be had at a place. A thing that is not sure is
// shown, and never planned on.
type Giving struct {
	Thing Thing
	Sure  bool
}

// Plan is the passage as the skipper wrote it.
type Plan struct {
	Name     string
	Depart   time.Time
	Crew     int // 1 to 20
	Climate  Climate
	Kind     Kind
	Daylight bool          // arrivals are wanted by day
	Before   quantity.Date // the season's end; zero: none
	Fill     []Giving      // what can be had before departure
	Price    map[Thing]float64
	Cases    map[CaseName]Case
	Limits   Limits
	Ashore   Ashore
	Legs     []Leg
	Uses     []Use // one-off uses beside the daily ones, in file order
}

// Use is something used once, beside what is used every day: a laundry, a deck washed
// down. It has a day, or a stop.
type Use struct {
	What   Thing         // Water, Fuel or Gas
	Amount float64       // litres, of gas kilograms; above 0
	On     quantity.Date // in the departure's offset; zero: At says where
	At     string        // the first stop between two legs of this name; "": On says when
	Why    string
}

// Words say what it is for, and on which day or where.
func (u Use) Words() string {
	when := "at " + u.At
	if !u.On.IsZero() {
		when = "on " + u.On.In(time.UTC).Format("Mon 2 Jan")
	}
	if u.Why == "" {
		return when
	}
	return u.Why + ", " + when
}

// Stop is the leg that ends at the first stop of this name; stops lie between two legs.
func (p Plan) Stop(name string) (leg int, ok bool) {
	for i := range len(p.Legs) - 1 {
		if p.Legs[i].To == name {
			return i, true
		}
	}
	return 0, false
}

// Limits are the skipper's own, written before leaving.
type Limits struct {
	Wind quantity.Speed // 0: none written
}

// Ashore is the person who worries: free text but the two times.
type Ashore struct {
	Name    string
	Reports time.Duration
	Overdue time.Duration // after the slow arrival
	Then    string
}

// Leg is one stretch of sea between two places.
type Leg struct {
	From, To string
	Distance quantity.Distance // of the route where one is given
	Route    []Position
	Sail     quantity.Speed // under sail, clean bottom unless AsIs
	AsIs     bool           // Sail is as she goes now: the fouling factor does not touch it
	RPM      int            // under engine; 0: the engine's cruise rpm
	Power    quantity.Speed // under engine, where there is no curve; 0: none given
	Current  quantity.Speed // along the track, fair is positive
	Home     *Home          // going back; nil: half of Sail and the case's share of power
	Stay     time.Duration  // at To, before the next leg
	Fill     []Giving       // what can be had at To
	Price    map[Thing]float64
	Position *Position // of To; nil: not known (the end of Route serves)
	Dangers  string
	Window   string

	Alternates []Alternate
	Decisions  []Decision
}

// Home is how she goes if she turns back.
type Home struct {
	Sail  quantity.Speed
	Power quantity.Share
}

// Alternate is another place to make for from a point of the leg.
type Alternate struct {
	Name     string
	After    quantity.Distance // from this point of the leg
	Distance quantity.Distance // so far
}

// Decision is a point at which the skipper promised to think again.
type Decision struct {
	At     quantity.Distance
	GoOnIf string
	Else   string
}

// End is the position of the leg's end, and whether it is known.
func (l Leg) End() (Position, bool) {
	if l.Position != nil {
		return *l.Position, true
	}
	if n := len(l.Route); n > 0 {
		return l.Route[n-1], true
	}
	return Position{}, false
}

// Gives says whether t can surely be had at the leg's end.
func (l Leg) Gives(t Thing) bool { return gives(l.Fill, t) }

// Gives says whether t can surely be had before departure.
func (p Plan) Gives(t Thing) bool { return gives(p.Fill, t) }

// IsLate says whether an arrival is after the season: on the day of its end or later, in
// the departure's offset. Without a season, or an arrival, nothing is.
func (p Plan) IsLate(arrive time.Time) bool {
	return !p.Before.IsZero() && !arrive.IsZero() && !arrive.Before(p.Before.In(p.Depart.Location()))
}

func gives(list []Giving, t Thing) bool {
	for _, g := range list {
		if g.Thing == t && g.Sure {
			return true
		}
	}
	return false
}
