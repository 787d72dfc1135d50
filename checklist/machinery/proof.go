package machinery

import (
	"fmt"
	"slices"
	"time"

	"boat/hoveshort/provisions/quantity"
)

// ProofAt is where a repair is proved.
type ProofAt string

// The two stages of a proof.
const (
	ProofAtAnchor ProofAt = "anchor" // before she leaves: moored is enough
	ProofAtSea    ProofAt = "sea"    // under way
)

// Proof is what a repair must show, in readings, before it is believed.
type Proof struct {
	At         ProofAt
	RPM        int                   // at these revs or more
	For        time.Duration         // so long at the same revs
	Within     time.Duration         // of the departure (at anchor: of the repair); 0: no deadline
	CoolantMax *quantity.Temperature // nil: none asked for
	Else       string                // what is done when it is not passed, in the skipper's words
}

// Standing is how a proof stands.
type Standing string

// The standings. Failed and missed open the defect again.
const (
	ProofWaiting Standing = "waiting"
	ProofPassed  Standing = "passed"
	ProofFailed  Standing = "failed"
	ProofMissed  Standing = "missed"
)

const (
	// revsSlack is a division of a rev counter: a reading so much below the revs asked
	// for is still at them. Common practice, no source.
	revsSlack = 50
	// ColdestProof is the least a coolant can be after minutes under load; colder, it was
	// mistyped or not measured, and proves nothing. Common practice, no source.
	ColdestProof = quantity.Temperature(30)
)

// ProofOutcome is how a proof stands, and why.
type ProofOutcome struct {
	Standing Standing
	Why      string
	By       *Gauges   // the reading that passed or failed it; nil: none did
	Deadline time.Time // zero: none
}

// Outcome judges the proof from readings alone: a note proves nothing, however well it
// sounds. Readings count from the moment of the repair, at sea from the departure (zero:
// not yet), up to now, in any order; time at the revs from before it does not count. A
// reading passes at the revs asked for or more (a division of 50 rpm is forgiven), held
// for the time asked, at or below the coolant asked, both ends included. A reading hotter
// than that, or with little or no water or steam at the exhaust, fails it at any revs.
// At anchor a failing reading outweighs one that passed, at sea the first of the two
// decides: passed, the defect is closed, and what comes later is a new one.
func (p Proof) Outcome(readings []Gauges, from, now time.Time, units quantity.System) ProofOutcome {
	if from.IsZero() {
		return ProofOutcome{Standing: ProofWaiting, Why: "not left yet; under way it wants " + p.Wants(units)}
	}

	result := ProofOutcome{Standing: ProofWaiting, Why: "wants " + p.Wants(units)}
	if p.Within > 0 {
		result.Deadline = from.Add(p.Within)
	}
	for _, g := range inTime(readings, from, result.until(now)) {
		switch why, verdict := p.verdict(g, from, units); verdict {
		case ProofFailed:
			return ProofOutcome{Standing: ProofFailed, Why: why, By: &g, Deadline: result.Deadline}
		case ProofPassed:
			result.Standing, result.Why, result.By = ProofPassed, why, &g
			if p.At == ProofAtSea {
				return result
			}
		default:
			result.keepWaiting(why)
		}
	}
	if result.Standing == ProofWaiting && !result.Deadline.IsZero() && now.After(result.Deadline) {
		result.Standing = ProofMissed
		result.Why = fmt.Sprintf("not proved within %s: wanted %s", quantity.Rough(p.Within), p.Wants(units))
	}
	return result
}

// keepWaiting says why the newest reading did not do, if nothing passed yet.
func (o *ProofOutcome) keepWaiting(why string) {
	if o.Standing == ProofWaiting && why != "" {
		o.Why = why
	}
}

// until is the last moment at which a reading counts.
func (o *ProofOutcome) until(now time.Time) time.Time {
	if !o.Deadline.IsZero() && o.Deadline.Before(now) {
		return o.Deadline
	}
	return now
}

// inTime are the readings from one moment to another, both included, oldest first.
func inTime(readings []Gauges, from, to time.Time) []Gauges {
	var some []Gauges
	for _, g := range readings {
		if !g.At.Before(from) && !g.At.After(to) {
			some = append(some, g)
		}
	}
	slices.SortStableFunc(some, func(a, b Gauges) int { return a.At.Compare(b.At) })
	return some
}

// Wants is "15 min at 2300 rpm or more, coolant at or below 84 °C".
func (p Proof) Wants(units quantity.System) string {
	said := fmt.Sprintf("%s at %d rpm or more", quantity.RoughUp(p.For), p.RPM)
	if p.CoolantMax != nil {
		said += ", coolant at or below " + p.CoolantMax.In(units)
	}
	return said
}

// verdict is what one reading says. Waiting with "" is a reading that has nothing to do
// with the proof.
func (p Proof) verdict(g Gauges, from time.Time, units quantity.System) (why string, verdict Standing) {
	if why := p.fails(g, units); why != "" {
		return why, ProofFailed
	}
	if p.At == ProofAtSea && g.Moored {
		return "", ProofWaiting
	}
	if short := p.fallsShort(g, from, units); short != "" {
		return short, ProofWaiting
	}

	said := fmt.Sprintf("%s at %d rpm", quantity.RoughDown(heldSince(g, from)), *g.RPM)
	if p.CoolantMax != nil {
		said += ", coolant " + g.Coolant.In(units)
	}
	return said, ProofPassed
}

func (p Proof) fails(g Gauges, units quantity.System) string {
	if p.CoolantMax != nil && g.Coolant != nil && isBeyond(float64(*g.Coolant), float64(*p.CoolantMax)) {
		return fmt.Sprintf("coolant %s, %s above the %s that it must not pass", g.Coolant.In(units), Degrees(*g.Coolant-*p.CoolantMax).In(units), p.CoolantMax.In(units))
	}
	switch {
	case g.stands():
		return ""
	case g.Water == WaterNone:
		return "no water at the exhaust"
	case g.Water == WaterLittle:
		return "little water at the exhaust"
	case g.Water == WaterSteam:
		return "steam at the exhaust"
	}
	return ""
}

// fallsShort is what a reading lacks to pass; "" where it lacks nothing, or was
// not about the engine at all.
func (p Proof) fallsShort(g Gauges, from time.Time, units quantity.System) string {
	wants := "; wants " + p.Wants(units)
	switch held := heldSince(g, from); {
	case g.RPM == nil:
		return "the last reading does not say the revs" + wants
	case *g.RPM < p.RPM-revsSlack:
		return fmt.Sprintf("the last reading was at %d rpm", *g.RPM) + wants
	case p.For > 0 && g.AtRevs <= 0:
		return "the last reading does not say how long at these revs" + wants
	case held < p.For:
		return fmt.Sprintf("the last reading held the revs for %s", quantity.RoughDown(held)) + wants
	case p.CoolantMax != nil && g.Coolant == nil:
		return "the last reading does not say the coolant" + wants
	case p.CoolantMax != nil && !(*g.Coolant >= ColdestProof):
		return fmt.Sprintf("the last reading has coolant at %s, which no engine under load has", g.Coolant.In(units)) + wants
	}
	return ""
}

// heldSince is how long the revs were held since a moment.
func heldSince(g Gauges, from time.Time) time.Duration {
	return min(g.AtRevs, g.At.Sub(from))
}

// Proving is how a repair stands with all its proofs.
type Proving struct {
	Standing    Standing
	Stops       bool           // she does not go: nothing proves the repair yet, or the defect is open again
	Conditional bool           // she goes, and proves it under way
	Why         string         // of the proof that decides
	By          *Gauges        // the reading that failed it
	Deadline    time.Time      // of the proof under way; zero: none, or not left yet
	Outcomes    []ProofOutcome // in the order of the proofs
}

// Prove judges a repair by its proofs: those at anchor from the repair to the departure,
// those at sea from the departure (zero: not left). Failed or missed, the defect is open
// again; passed at anchor it no longer stops her; passed everywhere it is proved. Nothing
// asked for proves nothing: it waits, and so does a repair whose cause was not found,
// which the caller must not close whatever the readings say.
func Prove(proofs []Proof, readings []Gauges, repaired, departed, now time.Time, units quantity.System) Proving {
	result := Proving{Standing: ProofWaiting, Stops: true, Why: "no proof was asked for"}
	for _, p := range proofs {
		result.Outcomes = append(result.Outcomes, p.in(readings, repaired, departed, now, units))
	}
	if len(proofs) == 0 {
		return result
	}
	outdo(proofs, result.Outcomes)

	worst := 0
	for i, o := range result.Outcomes {
		if standingRank(proofs[i], o) > standingRank(proofs[worst], result.Outcomes[worst]) {
			worst = i
		}
		if proofs[i].At == ProofAtSea && o.Standing == ProofWaiting && !o.Deadline.IsZero() {
			result.Deadline = earliest(result.Deadline, o.Deadline)
		}
	}
	decides := result.Outcomes[worst]
	result.Standing, result.Why, result.By = decides.Standing, decides.Why, decides.By
	result.Conditional = decides.Standing == ProofWaiting && proofs[worst].At == ProofAtSea
	result.Stops = decides.Standing != ProofPassed && !result.Conditional
	return result
}

// outdo takes what nobody proved at anchor as passed once every proof under way is: she
// left without it and showed more. A failure stays one.
func outdo(proofs []Proof, outcomes []ProofOutcome) {
	sea := 0
	for i, p := range proofs {
		if p.At != ProofAtSea {
			continue
		}
		if outcomes[i].Standing != ProofPassed {
			return
		}
		sea++
	}
	for i := range outcomes {
		if sea > 0 && outcomes[i].Standing != ProofFailed && outcomes[i].Standing != ProofPassed {
			outcomes[i].Standing, outcomes[i].Why = ProofPassed, "outdone by the proof under way"
		}
	}
}

// in gives the proof its stage of the readings.
func (p Proof) in(readings []Gauges, repaired, departed, now time.Time, units quantity.System) ProofOutcome {
	if p.At == ProofAtSea {
		return p.Outcome(readings, departed, now, units)
	}
	if !departed.IsZero() && departed.Before(now) {
		now = departed
	}
	return p.Outcome(readings, repaired, now, units)
}

// standingRank orders the outcomes: what opens the defect again, then what is
// waited for at anchor, then what is waited for at sea.
func standingRank(p Proof, o ProofOutcome) int {
	switch {
	case o.Standing == ProofFailed:
		return 4
	case o.Standing == ProofMissed:
		return 3
	case o.Standing == ProofWaiting && p.At != ProofAtSea:
		return 2
	case o.Standing == ProofWaiting:
		return 1
	}
	return 0
}

func earliest(a, b time.Time) time.Time {
	if a.IsZero() || b.Before(a) {
		return b
	}
	return a
}
