package checklist

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// How long a sign-off holds. Design, section 5.
const (
	signedGoodFor    = 24 * time.Hour
	departureSlackBy = 6 * time.Hour
)

// SignOff is how the latest sign-off stands.
type SignOff struct {
	Signed  *SignState // nil: never signed
	InForce bool
	Until   time.Time // it holds until then, if nothing new stands in the way
	Lapsed  string    // why it no longer holds
}

// Reason is why the sign-off in force accepts a caution; "" where none is in force, or it
// does not know the caution.
func (s SignOff) Reason(c Caution) string {
	if !s.InForce {
		return ""
	}
	for _, e := range s.Signed.Exceptions {
		if e.ID == c.ID() {
			return e.Why
		}
	}
	return ""
}

// signOff lapses at the earliest of departure + 6 h and signing + 24 h, with a new
// blocker (age alone is none), with changed definitions, and with a defect or an unproved
// repair that it did not accept.
func (s State) signOff(d Definitions, a Assessment, now time.Time) SignOff {
	if s.Signed == nil {
		return SignOff{}
	}
	until := s.Signed.At.Add(signedGoodFor)
	if limit := s.Signed.Depart.Add(departureSlackBy); limit.Before(until) {
		until = limit
	}
	view := SignOff{Signed: s.Signed, Until: until, Lapsed: s.lapsed(d, a, until, now)}
	view.InForce = view.Lapsed == ""
	return view
}

func (s State) lapsed(d Definitions, a Assessment, until, now time.Time) string {
	if s.Voyage != nil && s.Voyage.Depart.Seq > s.Signed.Seq {
		return "she left since, on " + d.moment(s.Voyage.Depart.At)
	}
	if s.Signed.Definitions != d.Sum {
		return "the boat's files were changed since"
	}
	for _, b := range a.Blockers {
		if !b.Stale {
			return fmt.Sprintf("something new stands in the way: %s", b.Title)
		}
	}
	for _, c := range a.Cautions {
		signed := slices.ContainsFunc(s.Signed.Exceptions, func(e SignedException) bool { return e.ID == c.ID() })
		if c.Matter == MatterDefect && !signed {
			return fmt.Sprintf("a defect is not in it: %s", c.Title)
		}
	}
	if now.After(until) {
		return fmt.Sprintf("it held until %s", d.moment(until))
	}
	if s.Signed.Doubtful || now.Before(s.Signed.At) {
		return "it was signed at a time in doubt"
	}
	return ""
}

// Freeze makes the sign-off: everything that was known, as it stands. It refuses
// while anything stands in the way, a caution has no reason, or no name is given.
func Freeze(d Definitions, s State, a Assessment, name string) (Sign, error) {
	if err := refuseSigning(a, name); err != nil {
		return Sign{}, err
	}
	sign := Sign{
		Name: name, Boat: a.Boat, Passage: a.Passage, PassageKind: d.Plan.Kind, Depart: a.Reckoning.Depart, Moved: a.Moved, Definitions: d.Sum,
		Verdict: string(a.Reckoning.Verdict), Crew: d.Plan.Crew, Fouling: a.Fouling, Walk: a.Walk.String(),
		Cases: signedCases(a), Resources: signedResources(a), Tanks: signedTanks(d, s), Answers: signedAnswers(a),
		Exceptions: signedExceptions(a), Uncovered: a.Uncovered, Critical: criticality(d, ""), Reserves: signedReserves(d),
	}
	if n := len(s.Readings); n > 0 {
		sign.Readings = s.Readings[n-1].Values
	}
	for _, c := range a.NotLooked {
		sign.NotLooked = append(sign.NotLooked, c.ID)
	}
	return sign, nil
}

func refuseSigning(a Assessment, name string) error {
	if a.Stage == StageUnderWay {
		return refuse("she is under way", "come in first: hoveshort arrive PLACE")
	}
	if n := len(a.Blockers); n > 0 {
		return refuse(
			fmt.Sprintf("refused: %d %s in the way; first: %s (%s)", n, stands(n), a.Blockers[0].Title, a.Blockers[0].Why),
			"clear what stands in the way; `hoveshort ready` lists it")
	}
	for _, c := range a.Cautions {
		if c.Accepted == nil {
			return refuse(
				fmt.Sprintf("refused: the caution %q has no reason: %s", c.ID(), c.Why),
				fmt.Sprintf("accept it in your own words: hoveshort accept %q REASON", c.ID()))
		}
	}
	if strings.TrimSpace(name) == "" {
		return refuse("refused: no name was given", "type the name of who signs")
	}
	return checkText("name", name)
}

func stands(n int) string {
	if n == 1 {
		return "thing stands"
	}
	return "things stand"
}

func signedCases(a Assessment) []SignedCase {
	var list []SignedCase
	for _, name := range passage.CaseNames {
		c := a.Reckoning.Cases[name]
		list = append(list, SignedCase{
			Case: string(name), Made: c.Voyage.Made(), Hours: c.Voyage.Hours, EngineHours: c.EngineHours,
			Fuel: float64(c.Fuel), Water: float64(c.Water), Gas: float64(c.Gas), Arrive: c.Voyage.Arrive(),
		})
	}
	return list
}

func signedResources(a Assessment) []SignedResource {
	var list []SignedResource
	for _, t := range passage.Things {
		for _, s := range a.Reckoning.Resources[t].Stretches {
			list = append(list, SignedResource{
				What: string(t), From: s.From, To: s.To, Available: float64(s.Available), Need: float64(s.Need),
				Reserve: float64(s.Reserve), Short: float64(s.Short), Endurance: orNever(s.Endurance),
				Margin: orNever(s.Margin), Bought: s.Bought,
			})
		}
	}
	return list
}

// orNever writes a time that does not end as -1.
func orNever(d provisions.Days) float64 {
	if d.Never {
		return -1
	}
	return d.Days
}

func signedTanks(d Definitions, s State) []SignedTank {
	var list []SignedTank
	for _, t := range d.Boat.Tanks {
		state, told := s.Tanks[t.Name]
		if !told || state.Seq == 0 {
			list = append(list, SignedTank{Tank: t.Name, Level: t.Level.Text})
			continue
		}
		list = append(list, SignedTank{Tank: t.Name, Level: state.Level + moved(state.Moves), At: state.At})
	}
	return list
}

func moved(moves []Move) string {
	var text strings.Builder
	for _, m := range moves {
		sign := " + "
		if m.Out {
			sign = " - "
		}
		text.WriteString(sign + m.Amount)
	}
	return text.String()
}

func signedAnswers(a Assessment) []SignedAnswer {
	var list []SignedAnswer
	for c := range a.signChecks() {
		switch {
		case !c.Applies:
		case c.Automatic != nil:
			list = append(list, SignedAnswer{Check: c.ID, Answer: AnswerWord(c.Status), At: a.Now})
		case c.Answer != nil:
			list = append(list, SignedAnswer{
				Check: c.ID, Answer: c.Answer.Answer.Answer, Value: c.Answer.Value, Say: c.Answer.Say, At: c.Answer.At,
			})
		}
	}
	return list
}

func signedExceptions(a Assessment) []SignedException {
	var list []SignedException
	for _, c := range a.Cautions {
		list = append(list, SignedException{ID: c.ID(), Caution: c.Title + ": " + c.Why, Why: c.Accepted.Why, Running: c.Running + 1})
	}
	return list
}

func signedReserves(d Definitions) []SignedReserve {
	var list []SignedReserve
	for _, t := range passage.Things {
		r := d.Boat.Rates.Reserve[t]
		if r.None {
			continue
		}
		list = append(list, SignedReserve{
			What: string(t), Days: r.Days, ShareOfNeed: float64(r.ShareOfNeed),
			ShareOfCapacity: float64(r.ShareOfCapacity), Amount: float64(r.Amount),
		})
	}
	return list
}

// refuse is an act that is not done: what is wrong, and what would be right.
func refuse(problem, cure string) error { return &quantity.Error{Problem: problem, Cure: cure} }

// Lasts is the time to the reserve as it was frozen.
func (r SignedResource) Lasts() provisions.Days { return frozenDays(r.Endurance) }

// Spare is the margin as it was frozen.
func (r SignedResource) Spare() provisions.Days { return frozenDays(r.Margin) }

func frozenDays(d float64) provisions.Days { return provisions.Days{Days: d, Never: d == -1} }

// Words tell what was held back: "5 days, 50 % of the need".
func (r SignedReserve) Words(units quantity.System) string {
	var words []string
	if r.Days > 0 {
		words = append(words, fmt.Sprintf("%g days", r.Days))
	}
	if r.ShareOfNeed > 0 {
		words = append(words, fmt.Sprintf("%.0f %% of the need", r.ShareOfNeed*100))
	}
	if r.ShareOfCapacity > 0 {
		words = append(words, fmt.Sprintf("%.0f %% of what the tanks hold", r.ShareOfCapacity*100))
	}
	if r.Amount > 0 {
		words = append(words, provisions.Amount(r.Amount).Up(passage.Thing(r.What), units))
	}
	return orElse(strings.Join(words, " or "), "nothing")
}
