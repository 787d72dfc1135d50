package provisions

import (
	"fmt"
	"strings"

	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// rations tells what is eaten a day, and when a day is fed.
func (w *stretchSlate) rations() {
	rates, crew := w.situation.Boat.Rates, w.situation.Plan.Crew
	for _, ration := range rates.Rations {
		f, known := w.foodNamed(ration.Food)
		if !known {
			continue
		}
		w.putf(ration.Food, kcalText(quantity.Energy(grams(ration.Each)*f.density()), roundDown), "%s g x %s kcal in 100 g",
			number(grams(ration.Each), nearest), number(f.Kcal, nearest))
	}
	w.putf("rations a person a day", kcalText(rates.DailyEnergy(w.situation.Boat.Foods), roundDown), "the sum; %s are wanted", kcalText(rates.Energy, nearest))
	wanted := float64(rates.Energy) * float64(crew)
	w.putf("a day is fed from", kcalText(quantity.Energy(wanted*w.galley.enough()), roundUp), "%s of %s x %s", percent(w.galley.enough()), persons(crew), kcalText(rates.Energy, nearest))
}

func (w *stretchSlate) foodNamed(name string) (Food, bool) {
	for _, f := range w.situation.Boat.Foods {
		if f.Name == name {
			return f, true
		}
	}
	return Food{}, false
}

// fed tells how far what is aboard goes.
func (w *stretchSlate) fed() {
	crew := w.situation.Plan.Crew
	fed := int(w.stretch.LastDrop.Days)
	w.putf("days fed", daysText(float64(fed)), "eaten day by day from %s on: soonest date first, what is missing from its substitute, then from any ration", w.reckoning.Depart.Format("Mon 2 Jan"))
	w.firstHungryDay(fed)
	w.wasted()
	w.putf("available", w.stretch.Available.Down(w.thing, w.units), "%s x %s", daysText(float64(fed)), persons(crew))
}

// firstHungryDay tells what is missing on the first day that is not fed.
func (w *stretchSlate) firstHungryDay(fed int) {
	days := w.reckoning.FoodDays
	if len(days) == 0 {
		return
	}
	last := days[len(days)-1]
	if last.Enough {
		w.put("first day not fed", "none", "ten years are fed: further was not looked")
		return
	}
	enough := w.galley.enough()
	missing := quantity.Energy(enough*float64(last.Wanted)) - last.Eaten
	how := fmt.Sprintf("%s of %s are eaten, %s short of %s", kcalText(last.Eaten, nearest), kcalText(last.Wanted, nearest), kcalText(missing, roundUp), percent(enough))
	if gone := w.goneBy(fed); len(gone) > 0 {
		how += "; none is left of " + strings.Join(gone, ", ")
	}
	w.put("first day not fed", last.Date.In(w.reckoning.Depart.Location()).Format("Mon 2 Jan"), how)
}

// goneBy are the rations of which nothing that counts is left on a day, with those eaten
// up to then as the reckoning eats them.
func (w *stretchSlate) goneBy(day int) []string {
	s := w.situation
	p := stock(s.Boat, s.Aboard, s.Plan.Crew, w.reckoning.Depart, w.galley)
	for i := range day {
		p.eat(i)
	}
	var gone []string
	for i, f := range s.Boat.Foods {
		shelf := &p.shelves[i]
		if shelf.ration > 0 && !shelf.barred && shelf.isEmpty(day) {
			gone = append(gone, f.Name)
		}
	}
	return gone
}

func (s *shelf) isEmpty(day int) bool {
	for i := range s.batches {
		if b := &s.batches[i]; b.grams > crumb && b.last >= day {
			return false
		}
	}
	return true
}

// wasted tells what goes off before it is eaten.
func (w *stretchSlate) wasted() {
	var words []string
	for _, l := range w.reckoning.Stock {
		if l.Wasted >= 0.05 {
			words = append(words, fmt.Sprintf("%s %s packs", l.Lot.Food, number(l.Wasted, nearest)))
		}
	}
	if len(words) > 0 {
		w.put("goes off uneaten", strings.Join(words, ", "), "at the end of its last day")
	}
}

// foodLasts counts whole days.
func (w *stretchSlate) foodLasts() {
	s := w.stretch
	days := w.situation.Boat.Rates.Reserve[passage.Food].daysHeld()
	w.putf("to the reserve", lastsUntil(s.Endurance, s.Start), "%s - %s held back, not below nothing", daysText(s.LastDrop.Days), daysText(days))
	w.put("to the last drop", lastsUntil(s.LastDrop, s.Start), "the days fed")
}
