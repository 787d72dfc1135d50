package provisions

import (
	"time"

	"boat/hoveshort/provisions/passage"
)

// tanked are the things that tanks hold.
var tanked = [...]passage.Thing{passage.Water, passage.Fuel, passage.Gas}

// Reckon runs the plan in its three cases from its departure, or from now if
// that is past, and sets what is aboard against them. It changes nothing of
// what it is given, and the same input gives the same answer.
func Reckon(b Boat, plan passage.Plan, a Aboard, t passage.Trim, now time.Time) Reckoning {
	depart := departure(plan, now)
	return reckon(b, plan, a, run(plan, b.Engine, depart, t), b.feed(a, plan.Crew, depart, galley{}))
}

// run is the plan in its cases, in their fixed order.
func run(plan passage.Plan, e passage.Engine, depart time.Time, t passage.Trim) []passage.Voyage {
	voyages := make([]passage.Voyage, 0, len(passage.CaseNames))
	for _, name := range passage.CaseNames {
		voyages = append(voyages, passage.Run(plan, e, name, depart, t))
	}
	return voyages
}

// departure is the plan's, or now, in the plan's offset, if that is past.
func departure(plan passage.Plan, now time.Time) time.Time {
	if plan.Depart.Before(now) {
		return now.In(plan.Depart.Location())
	}
	return plan.Depart
}

// reckon is Reckon for voyages that were run, or bent by a what-if, and for what
// there is to eat. Voyages come in the fixed order of the cases and leave together.
func reckon(b Boat, plan passage.Plan, a Aboard, voyages []passage.Voyage, m meals) Reckoning {
	h := newHousehold(b, plan)
	depart := voyages[0].Depart
	out := Reckoning{
		Depart:    depart,
		Cases:     make(map[passage.CaseName]CaseFigures, len(voyages)),
		Resources: make(map[passage.Thing]Resource, len(passage.Things)),
		Tanks:     b.tankFigures(a),
		Estimated: b.isEstimated(),
		meals:     m,
	}

	made := make([]course, 0, len(voyages))
	for _, v := range voyages {
		c := h.follow(v)
		out.Cases[v.Case] = c.figures()
		if c.voyage.Made() {
			made = append(made, c)
		}
	}

	for _, t := range tanked {
		available := h.available(t, out.Tanks, a, depart)
		out.Resources[t] = Resource{Thing: t, Stretches: b.tankStretches(plan, made, t, available)}
	}
	out.reckonFood(b, plan, made, m)

	for _, r := range out.Resources {
		out.Verdict = Worse(out.Verdict, r.Verdict())
	}
	return out
}

// tankStretches are the sections of what tanks hold: the first lives on what is
// aboard, the others on full tanks. There is none where no case makes every leg.
func (b Boat) tankStretches(plan passage.Plan, made []course, t passage.Thing, available Amount) []Stretch {
	if len(made) == 0 {
		return nil
	}
	cuts := sections(plan, t)
	list := make([]Stretch, 0, len(cuts))
	for i, s := range cuts {
		if i > 0 {
			available = b.usable(t)
		}
		list = append(list, b.stretch(plan, made, s, t, available))
	}
	return list
}

// reckonFood fills in the stock, and the food where it is counted at all.
func (r *Reckoning) reckonFood(b Boat, plan passage.Plan, made []course, m meals) {
	r.Stock = m.stock
	if !m.counted {
		return
	}
	food := Resource{Thing: passage.Food}
	if len(made) > 0 {
		food.Stretches = b.foodStretches(plan, made, m.fed)
		r.FoodDays = m.days
	}
	r.Resources[passage.Food] = food
}

// isEstimated says whether the engine's burn comes from her power, there being no curve.
func (b Boat) isEstimated() bool {
	_, estimated, ok := b.Engine.BurnAt(b.Engine.CruiseRPM)
	return ok && estimated
}
