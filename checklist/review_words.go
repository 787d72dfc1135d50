package checklist

import (
	"fmt"
	"math"

	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// Difference is one thing that went otherwise than planned, in words.
type Difference struct {
	What string // water | fuel | gas | food | time | engine | place | reserve
	Text string
	More bool // it took more than planned: of time, of a thing
}

// A difference in time, engine hours or burn is told from a twentieth on: less is the plan come true.
const worthTelling = 0.05

// differences are told only where both sides are known, and what is within the error of the gauges is none.
func differences(r PassageReview) []Difference {
	list := r.Time.differences(r.Sailed)
	for _, t := range r.Things {
		list = append(list, t.differences(r)...)
	}
	for _, f := range r.Food {
		list = append(list, f.differences()...)
	}
	return list
}

func (t TimeReview) differences(p Sailed) []Difference {
	var list []Difference
	if !t.Arrive.IsZero() && t.Place != "" && t.Place != p.To() {
		where := "a stop of the passage"
		if !t.AsMeant {
			where = "not in the plan"
		}
		list = append(list, Difference{"place", fmt.Sprintf("came in at %s (%s), the passage ends at %s", t.Place, where, p.To()), false})
	}
	expected := t.Case(passage.Expected)
	if expected == nil || t.Days == nil {
		return list
	}
	hours := *t.Days * dayHours
	if apart(hours, expected.Hours) {
		list = append(list, Difference{
			"time",
			fmt.Sprintf("%s %s than expected: %s", daysText(math.Abs(hours-expected.Hours)/dayHours), longer(hours > expected.Hours), orElse(t.CameTrue, "of the plan")),
			hours > expected.Hours,
		})
	}
	if t.Engine != nil && expected.EngineHours > 0 && apart(*t.Engine, expected.EngineHours) {
		more := *t.Engine > expected.EngineHours
		list = append(list, Difference{
			"engine", fmt.Sprintf("%.0f engine hours %s than expected: %.0f, not %.0f", math.Abs(*t.Engine-expected.EngineHours), moreOrFewer(more), *t.Engine, expected.EngineHours), more,
		})
	}
	return list
}

func apart(a, b float64) bool { return math.Abs(a-b) > worthTelling*b }

func longer(yes bool) string {
	if yes {
		return "longer"
	}
	return "shorter"
}

func moreOrLess(more bool) string {
	if more {
		return "more"
	}
	return "less"
}

func moreOrFewer(more bool) string {
	if more {
		return "more"
	}
	return "fewer"
}

func daysText(days float64) string { return fmt.Sprintf("%.1f days", days) }

// Near is an amount for people, rounded to the nearest: what was used.
func Near(amount float64, t passage.Thing, s quantity.System) string {
	switch t {
	case passage.Gas:
		return quantity.Mass(amount).In(s)
	case passage.Food:
		return provisions.Amount(amount).Up(t, s)
	}
	return quantity.Volume(amount).In(s)
}

func (t ThingReview) differences(r PassageReview) []Difference {
	more := t.Difference()
	if more == nil {
		return nil
	}
	var list []Difference
	if !t.IsWithinError() && apart(*t.Used, *t.Planned) {
		list = append(list, Difference{string(t.What), t.text(*more, r), *more > 0})
	}
	if t.touched() > t.Error {
		list = append(list, Difference{
			"reserve", fmt.Sprintf("%s of the reserve of %s (%s) was used", Near(t.touched(), t.What, r.Units), t.What, provisions.Amount(*t.Reserve).Up(t.What, r.Units)), true,
		})
	}
	return list
}

func (t ThingReview) text(more float64, r PassageReview) string {
	size, day := math.Abs(more), math.Abs(more) / *t.Span
	text := fmt.Sprintf("%s %s %s a day than planned (%s in %s)", Near(day, t.What, r.Units), moreOrLess(more > 0), t.What,
		Near(size, t.What, r.Units), daysText(*t.Span))
	if t.What == passage.Fuel {
		text = fmt.Sprintf("%s %s fuel than planned for %s", Near(size, t.What, r.Units), moreOrLess(more > 0), daysText(*t.Span))
		if b := r.burnt(); b != nil {
			text += fmt.Sprintf(" (%.0f engine hours at %s, planned %s)", b.hours, litresAnHour(b.burn, r.Units), litresAnHour(b.planned, r.Units))
		}
	}
	if told := r.told(t.What); told != "" {
		text += ": " + told
	}
	if t.What == passage.Water && r.Makes {
		text += "; the watermaker may have made " + moreOrLess(more < 0) + " than planned"
	}
	return text + "; the gauges may be out by " + Near(t.Error, t.What, r.Units)
}

// litresAnHour is fuel over engine hours, to the tenth.
func litresAnHour(v float64, s quantity.System) string { return quantity.Flow(v).In(s) }

// burnRate is the fuel over the engine hours, as it was and as it was planned.
type burnRate struct{ hours, burn, planned float64 }

// leastRun is how many engine hours tell what she burns; below, a gauge's error is most of it.
const leastRun = 10.0

// burnt is nil where it cannot be told: no hour-meter, hardly any engine hours, fuel not sounded.
func (r PassageReview) burnt() *burnRate {
	fuel := r.Thing(passage.Fuel)
	hours := r.Time.planned(r.Depart.Cases, func(c SignedCase) float64 { return c.EngineHours })
	sea := r.Time.planned(r.Depart.Cases, func(c SignedCase) float64 { return c.Fuel })
	if fuel.Used == nil || hours == nil || sea == nil || r.Time.Engine == nil || *r.Time.Engine < leastRun || *hours <= 0 {
		return nil
	}
	atAnchor := *fuel.Planned - *sea
	return &burnRate{*r.Time.Engine, (*fuel.Used - atAnchor) / *r.Time.Engine, *sea / *hours}
}

// Thing is the review of one thing.
func (r PassageReview) Thing(what passage.Thing) ThingReview {
	for _, t := range r.Things {
		if t.What == what {
			return t
		}
	}
	return ThingReview{What: what}
}

// touched is how much of what was held back was used; 0: none, or it is not known. What was filled on the way is told
// apart, as nobody knows which litre it was.
func (t ThingReview) touched() float64 {
	if t.Used == nil || t.Available == nil || t.Reserve == nil || t.Filled > 0 {
		return 0
	}
	return min(*t.Reserve, max(0, *t.Used-(*t.Available-*t.Reserve)))
}

func (f FoodReview) differences() []Difference {
	if f.Planned <= 0 || math.Abs(f.Eaten-f.Planned) < 1 || !apart(f.Eaten, f.Planned) {
		return nil
	}
	more := f.Eaten > f.Planned
	return []Difference{{
		"food", fmt.Sprintf("%.1f packs of %s %s than the rations in %s: %.1f, not %.1f", math.Abs(f.Eaten-f.Planned), f.Food, moreOrFewer(more), daysText(f.Days), f.Eaten, f.Planned), more,
	}}
}
