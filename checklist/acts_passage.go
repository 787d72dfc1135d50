package checklist

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"boat/hoveshort/provisions/quantity"
)

// reasonWithin is how long the reason for leaving unsigned may be told later. Design, section 5.
const reasonWithin = 24 * time.Hour

// NewDepart is leaving. It is refused while no sign-off is in force, while anything stands in
// the way of leaving (answers that are only old too: they are to be looked at again), and
// while a round before weighing is not right. Left unsigned it is never refused, and stands
// so for ever; where nothing is against it she leaves signed all the same.
func NewDepart(d Definitions, s State, a Assessment, unsigned bool, why string) (Depart, error) {
	if s.Voyage.UnderWay() {
		return Depart{}, refuse("she is under way since "+d.moment(s.Voyage.Depart.At), "come in first: hoveshort arrive PLACE")
	}
	if err := checkText("reason", why); err != nil {
		return Depart{}, err
	}
	against := a.AgainstLeaving()
	if len(against) > 0 && !unsigned {
		return Depart{}, refuse("refused: "+fewOf(against),
			"clear it, and look again at what is too old: `hoveshort ready` lists all of it; who must leave in an emergency: hoveshort depart --unsigned")
	}
	depart := Depart{
		Passage: a.Passage, PassageKind: d.Plan.Kind, Definitions: d.Sum, Crew: d.Plan.Crew, Hours: s.hoursNow(d),
		Cases: signedCases(a), Resources: signedResources(a), Tanks: signedTanks(d, s),
	}
	if legs := a.situation.Plan.Legs; len(legs) > 0 {
		depart.From, depart.To = legs[0].From, legs[0].To
	}
	depart.ToProve = a.toProve()
	if len(against) > 0 {
		depart.InTheWay, depart.Why = against, strings.TrimSpace(why)
		return depart, nil
	}
	depart.Sign = s.Signed.Seq
	return depart, nil
}

// mostTold is how many things against leaving are told in a sentence.
const mostTold = 4

func fewOf(list []string) string {
	if more := len(list) - mostTold; more > 1 {
		return fmt.Sprintf("%s; and %d more", strings.Join(list[:mostTold], "; "), more)
	}
	return strings.Join(list, "; ")
}

// toProve are the defects whose repair is to be proved under way.
func (a Assessment) toProve() []int {
	var list []int
	for _, due := range a.proofsDue() {
		if !slices.Contains(list, due.Defect) {
			list = append(list, due.Defect)
		}
	}
	return list
}

// AgainstLeaving is why she may not leave: no sign-off in force, what stands in the way, what
// is to be looked at again, and the rounds before weighing. Empty: she may.
func (a Assessment) AgainstLeaving() []string {
	var against []string
	switch {
	case a.SignOff.Signed == nil:
		against = append(against, "she is not signed off")
	case !a.SignOff.InForce:
		against = append(against, "the sign-off no longer holds: "+a.SignOff.Lapsed)
	}
	for _, b := range slices.Concat(a.Blockers, a.Weighing) {
		against = append(against, b.Against())
	}
	return against
}

// Against is a thing that is against leaving, in a few words.
func (b Blocker) Against() string { return fmt.Sprintf("%s (%s)", b.Title, b.Why) }

// NewDepartReason is why she left unsigned, told within a day of leaving.
func (s State) NewDepartReason(now time.Time, why string) (Depart, error) {
	v := s.Voyage
	why = strings.TrimSpace(why)
	switch {
	case !v.IsUnsigned():
		return Depart{}, refuse("she did not leave unsigned", "no reason is wanted")
	case v.Depart.Why != "" || v.Reason.Seq > 0:
		return Depart{}, refuse("the reason is written already", "what was written stands")
	case now.Sub(v.Depart.At) > reasonWithin:
		return Depart{}, refuse("she left unsigned more than a day ago", "it stands without a reason; write what happened as a note when the passage is closed")
	case why == "":
		return Depart{}, refuse("no reason was given", "say why, in your own words")
	}
	return Depart{Of: v.Depart.Seq, Why: why}, checkText("reason", why)
}

// NewChange is a change of plan under way: what, why, and where to if that is another place,
// with the miles to it.
func NewChange(d Definitions, s State, what, why, to, toGo string) (Change, error) {
	c := Change{What: strings.TrimSpace(what), Why: strings.TrimSpace(why), To: strings.TrimSpace(to)}
	switch {
	case !s.Voyage.UnderWay():
		return Change{}, refuse("she is not under way", "before leaving, change passage.toml; she leaves with: hoveshort depart")
	case c.What == "" && c.To == "":
		return Change{}, refuse("nothing was changed", "say what, and why")
	case c.Why == "":
		return Change{}, refuse("a change of plan has a reason", "say why, in your own words")
	case c.To != "" && strings.TrimSpace(toGo) == "":
		return Change{}, refuse("how far it is to "+clip(c.To)+" is not told", `give the miles to it, as "140 nm"`)
	case c.To == "" && strings.TrimSpace(toGo) != "":
		return Change{}, refuse("miles to nowhere", "name the place too")
	}
	if c.What == "" {
		c.What = "another destination"
	}
	if c.To != "" {
		miles, err := parseMiles(toGo)
		if err != nil {
			return Change{}, err
		}
		c.ToGo = miles
		if c.To, err = d.place(c.To); err != nil {
			return Change{}, err
		}
	}
	for what, text := range map[string]string{"change": c.What, "reason": c.Why, "place": c.To} {
		if err := checkText(what, text); err != nil {
			return Change{}, err
		}
	}
	return c, nil
}

// farthest is the longest way that a leg may be, in nautical miles: once round the earth.
const farthest = 21600

func parseMiles(text string) (float64, error) {
	miles, err := quantity.ParseDistance(text)
	if err != nil {
		return 0, err
	}
	if !(miles > 0 && miles <= farthest) {
		return 0, refuse(fmt.Sprintf("%q is no distance to go", clip(text)), `write it like "140 nm"; in is told with: hoveshort arrive`)
	}
	return float64(miles), nil
}

// place is a place as the plan writes it; another is taken as it stands, unless it is nearly
// one of the plan's.
func (d Definitions) place(name string) (string, error) {
	var names []string
	for _, leg := range d.Whole().Plan.Legs {
		names = append(names, leg.From, leg.To)
		for _, a := range leg.Alternates {
			names = append(names, a.Name)
		}
	}
	for _, known := range names {
		if strings.EqualFold(known, name) {
			return known, nil
		}
	}
	slices.Sort(names)
	if near := Nearest(name, slices.Compact(names)); near != "" {
		return "", refuse(fmt.Sprintf("the plan has no place %q", clip(name)), fmt.Sprintf("did you mean %q?", near))
	}
	return name, nil
}

// ArrivalTold is what a skipper told of coming in, as typed; any but the place may be "".
type ArrivalTold struct {
	Place  string // "": the end of the leg she is on
	Miles  string // by the log since the departure, "412 nm"
	Hours  string // of the hour-meter
	Levels []TankLevel
	Failed []string
	Note   string
	When   time.Time // zero: now
	Close  bool
	Sure   bool // what looks wrong was looked at again
}

// NewArrive is coming in, or with Close the closing of the passage; closing what is under
// way is both.
func NewArrive(d Definitions, s State, now time.Time, told ArrivalTold) (Arrive, error) {
	if err := refuseArrival(d, s, now, told); err != nil {
		return Arrive{}, err
	}
	in := Arrive{Place: strings.TrimSpace(told.Place), Close: told.Close, Failed: told.Failed, Note: strings.TrimSpace(told.Note), When: told.When}
	var err error
	switch {
	case in.Place != "" && s.Voyage.Arrived != nil:
		return Arrive{}, refuse("she came in at "+s.Voyage.Arrived.Place+" already", "leave the place out to close the passage")
	case in.Place != "":
		in.Place, err = d.place(in.Place)
	case s.Voyage.Arrived == nil:
		in.Place = s.fix(d.Whole()).To
	default:
		in.Place = s.Voyage.Arrived.Place
	}
	if err != nil {
		return Arrive{}, err
	}
	if told.Miles != "" {
		if in.Miles, err = parseMiles(told.Miles); err != nil {
			return Arrive{}, err
		}
	}
	if in.Hours, err = s.hoursTold(d, now, told.Hours, told.Sure); err != nil {
		return Arrive{}, err
	}
	if in.Levels, err = d.levelsTold(s, now, told.Levels, told.Sure); err != nil {
		return Arrive{}, err
	}
	for _, text := range append(slices.Clone(in.Failed), in.Place, in.Note) {
		if err := checkText("text", text); err != nil {
			return Arrive{}, err
		}
	}
	return in, nil
}

func refuseArrival(d Definitions, s State, now time.Time, told ArrivalTold) error {
	v := s.Voyage
	switch {
	case v == nil:
		return refuse("she has not left: no departure is written", "leave with: hoveshort depart")
	case v.Closed != nil:
		return refuse("the passage is closed: "+v.Depart.Passage, "leave anew with: hoveshort depart")
	case v.Arrived != nil && !told.Close:
		return refuse(fmt.Sprintf("she came in at %s on %s already", v.Arrived.Place, d.moment(v.Arrived.Moment())), "close the passage with: hoveshort arrive --close")
	case told.When.After(now):
		return refuse("she cannot have come in later than now", "write when she came in, or leave it out")
	case !told.When.IsZero() && told.When.Before(v.Depart.At):
		return refuse("she cannot have come in before she left, "+d.moment(v.Depart.At), "write when she came in, or leave it out")
	}
	return nil
}
