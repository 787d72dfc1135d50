package provisions

import (
	"math"
	"time"

	"boat/hoveshort/provisions/passage"
)

// Consumable is something else that is used up: engine oil, filters, paper. Its amounts are
// in its own unit, whatever that is. What is used is the sum of the three rates.
type Consumable struct {
	Name string
	Unit string // a word for people: "L", "roll", "filter"

	Day        float64 // a day, for all
	Person     float64 // a person and day
	EngineHour float64 // an hour the engine runs, charging included

	Aboard   float64 // as of departure, until it is counted
	Reserve  float64 // held back
	Pack     float64 // how much is in what can be bought; 0: it is sold by the one
	Price    float64 // a pack
	Priced   bool
	Critical bool
}

// Counted is how much of a consumable was there when it was counted.
type Counted struct {
	Amount float64 // in the consumable's unit
	At     time.Time
}

// ConsumableFigures is one consumable against the whole passage, in the hard case: the one
// that needs most of it, of equals the longest. It is bought nowhere on the way.
type ConsumableFigures struct {
	Consumable Consumable
	Counted    time.Time // zero: as of departure
	Hard       passage.CaseName
	Available  float64 // at departure: what was counted less what is used until then, not below 0
	Need       float64 // from departure to the last arrival, stays and waits included
	Left       float64 // at the end, not below 0
	Lasts      Days    // from departure, until the reserve is touched; beyond the end at the mean
	LastDrop   Days    // the same with nothing held back
	Short      float64 // need and reserve less what is available, not below 0
	Packs      int     // to buy so that it is not short
	Price      float64 // of them; 0 where no price is given
}

// Consumables are those of the boat in file order; none where no case makes every leg.
func (s Situation) Consumables(r Reckoning) []ConsumableFigures {
	if r.Verdict == "" {
		return nil
	}
	h := newHousehold(s.Boat, s.Plan)
	var courses []course
	for _, name := range passage.CaseNames {
		if made, named := r.Cases[name]; named && made.Voyage.Made() {
			courses = append(courses, h.follow(made.Voyage))
		}
	}
	list := make([]ConsumableFigures, 0, len(s.Boat.Consumables))
	for _, c := range s.Boat.Consumables {
		list = append(list, s.consumable(h, c, courses, r.Depart))
	}
	return list
}

func (s Situation) consumable(h household, c Consumable, courses []course, depart time.Time) ConsumableFigures {
	f := ConsumableFigures{Consumable: c, Available: c.Aboard}
	if counted, told := s.Aboard.Consumables[c.Name]; told {
		f.Counted = counted.At
		f.Available = max(0, counted.Amount-c.usedBetween(h, s.Aboard.Meter, counted.At, depart))
	}

	var hard part
	for _, course := range courses {
		p := c.along(course, h.crew)
		need, _ := p.need(likeGas)
		if hours := p.hours(); f.Hard == "" || over(need, f.Need) || !over(f.Need, need) && over(hours, hard.hours()) {
			f.Hard, f.Need, hard = course.voyage.Case, need, p
		}
	}
	f.Left = max(0, f.Available-f.Need)
	f.Lasts = hard.lasts(likeGas, f.Available-c.Reserve)
	f.LastDrop = hard.lasts(likeGas, f.Available)
	f.Short = float64(short(Amount(f.Need), Amount(c.Reserve), Amount(f.Available)))
	f.buy()
	return f
}

// likeGas is the thing in whose place a consumable is reckoned: it is used at a rate of
// its own in each span, and nothing of it is made aboard.
const likeGas = passage.Gas

// along is the whole of a course with what is used of c an hour, in the place of the gas.
func (c Consumable) along(of course, crew float64) part {
	p := part{spans: of.voyage.Spans, uses: make([]use, len(of.uses))}
	for i, u := range of.uses {
		p.uses[i].gas = c.daily(crew)/dayHours + c.EngineHour*u.engine
	}
	return p
}

// daily is what is used a day beside the engine hours.
func (c Consumable) daily(crew float64) float64 { return c.Day + c.Person*crew }

// usedBetween is what is used from a count to the departure: by the day, and by the hours
// that the hour-meter ran, as fuelBetween takes them.
func (c Consumable) usedBetween(h household, meter []Meter, from, to time.Time) float64 {
	ran, until, known := h.meterBetween(meter, from, to)
	if !known {
		ran, until = 0, from
	}
	engine := ran + h.charging/dayHours*hoursBetween(until, to)
	return c.daily(h.crew)/dayHours*hoursBetween(from, to) + c.EngineHour*engine
}

// buy is how many packs make good what is short.
func (f *ConsumableFigures) buy() {
	pack := f.Consumable.Pack
	if pack <= 0 {
		pack = 1
	}
	f.Packs = int(min(math.Ceil((f.Short-crumb)/pack), math.MaxInt32))
	f.Packs = max(0, f.Packs)
	f.Price = float64(f.Packs) * f.Consumable.Price
}
