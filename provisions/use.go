package provisions

import (
	"boat/hoveshort/provisions/passage"
)

// Inside the formulas volumes are litres, masses kilograms, times hours unless
// a name says a day; a day is 24 h.
const dayHours = 24

// use is what is used in an hour of a span.
type use struct {
	fuel   float64 // litres
	water  float64 // litres, after the watermaker; never below 0
	gross  float64 // litres of water before the watermaker: what the water's reserve is reckoned on
	gas    float64 // kilograms
	food   float64 // person-days
	engine float64 // engine hours, those for charging included
}

// of is the use of one thing.
func (u use) of(t passage.Thing) float64 {
	switch t {
	case passage.Water:
		return u.water
	case passage.Fuel:
		return u.fuel
	case passage.Gas:
		return u.gas
	case passage.Food:
		return u.food
	}
	return 0
}

// grossOf is the use of one thing before anything is made aboard.
func (u use) grossOf(t passage.Thing) float64 {
	if t == passage.Water {
		return u.gross
	}
	return u.of(t)
}

// household is who lives aboard and what runs for them: it knows what any span uses.
type household struct {
	engine passage.Engine
	maker  *Watermaker

	crew         float64
	water        float64 // litres a day, before the watermaker
	gas          float64 // kilograms a day
	heater       float64 // litres of fuel a day
	charging     float64 // hours a day without other engine hours
	chargingBurn float64 // litres of fuel an hour

	planned []planned // one-off uses
}

func newHousehold(b Boat, plan passage.Plan) household {
	h := household{
		engine:       b.Engine,
		maker:        b.Watermaker,
		crew:         float64(plan.Crew),
		charging:     b.Engine.Charging.Hours(),
		chargingBurn: float64(b.Engine.ChargingBurn),
		planned:      plannedUses(plan),
	}
	h.water = b.Rates.Water.daily(h.crew, plan.Climate)
	h.gas = h.crew*float64(b.Rates.Gas.Person) + float64(b.Rates.Gas.Boat)
	if b.Heater != nil && plan.Climate == passage.Cold {
		h.heater = float64(b.Heater.Burn) * b.Heater.Run.Hours()
	}
	return h
}

// daily is the water used a day in litres, before the watermaker:
// crew*(drinking*hot + cooking + washing) + boat. The table of rates it follows
// is that of the Sphere Handbook 2011, Water supply standard 1.
func (w WaterRates) daily(crew float64, climate passage.Climate) float64 {
	hot := 1.0
	if climate == passage.Hot && w.HotWeather > 1 {
		hot = w.HotWeather
	}
	person := float64(w.Drinking)*hot + float64(w.Cooking) + float64(w.Washing)
	return crew*person + float64(w.Boat)
}

// made is the water the watermaker makes a day, in litres, with the engine
// driving her for the share power of the time. One that needs the engine runs
// its whole time on a day under engine, and no longer than the charging on the rest.
func (h household) made(power float64) float64 {
	if h.maker == nil {
		return 0
	}
	run := h.maker.Run.Hours()
	if !h.maker.NeedsEngine {
		return float64(h.maker.Output) * run
	}
	return float64(h.maker.Output) * (run*power + min(run, h.charging)*(1-power))
}

// in is what the span uses an hour; ok is false where its burn under engine is
// not known. The share of the time under engine counts as whole days under
// engine and the rest as whole days without: on the safe side for charging.
func (h household) in(s passage.Span) (u use, ok bool) {
	power := 0.0
	if s.Kind == passage.AtSea {
		power = s.Power
	}
	u = h.without(power)
	if power == 0 {
		return u, true
	}
	burn, _, ok := h.engine.BurnUnderWay(s.RPM)
	u.fuel += power * float64(burn)
	u.engine += power
	return u, ok
}

// DayAtAnchor is what so many aboard use of a thing in a day at anchor: litres, of gas
// kilograms. What a watermaker makes is left out.
func (b Boat) DayAtAnchor(plan passage.Plan, crew int, t passage.Thing) float64 {
	plan.Crew = crew
	return newHousehold(b, plan).atAnchor().grossOf(t) * dayHours
}

// atAnchor is what is used an hour in a stay, in a wait, and before departure.
func (h household) atAnchor() use {
	return h.without(0)
}

// without is what is used an hour, but for the engine driving her the share power of the time.
func (h household) without(power float64) use {
	charging := h.charging * (1 - power)
	return use{
		fuel:   (h.chargingBurn*charging + h.heater) / dayHours,
		water:  max(0, h.water-h.made(power)) / dayHours,
		gross:  h.water / dayHours,
		gas:    h.gas / dayHours,
		food:   h.crew / dayHours,
		engine: charging / dayHours,
	}
}

// course is a voyage with what each of its spans uses an hour, and what is used once.
type course struct {
	voyage  passage.Voyage
	uses    []use
	planned []planned // one-off uses that may fall on it
	once    []once    // at the beginning of each span, where it is already known; nil: none
}

// follow puts the use beside each span. A span whose burn is not known makes
// its leg one that cannot be made.
func (h household) follow(v passage.Voyage) course {
	uses := make([]use, len(v.Spans))
	for i, s := range v.Spans {
		u, ok := h.in(s)
		if !ok {
			return course{voyage: passage.Voyage{Case: v.Case, Depart: v.Depart, Unmade: []int{s.Leg}}}
		}
		uses[i] = u
	}
	return course{voyage: v, uses: uses, planned: h.planned}
}

// figures are the course's totals, stays and waits included.
func (c course) figures() CaseFigures {
	f := CaseFigures{Voyage: c.voyage}
	for i, u := range c.uses {
		hours := c.voyage.Spans[i].Hours
		f.EngineHours += u.engine * hours
		f.Fuel += Amount(u.fuel * hours)
		f.Water += Amount(u.water * hours)
		f.Gas += Amount(u.gas * hours)
	}
	all := c.usedOnce()
	f.Fuel += Amount(all.fuel)
	f.Water += Amount(all.water)
	f.Gas += Amount(all.gas)
	return f
}

// WithoutWatermaker is the boat with the watermaker dead. Water is then used at
// the rationed rate where one is given, all told: the boat's own use is in it,
// and hot weather does not raise it.
func (b Boat) WithoutWatermaker() Boat {
	b.Watermaker = nil
	if rationed := b.Rates.Water.Rationed; rationed > 0 {
		b.Rates.Water = WaterRates{Drinking: rationed, HotWeather: 1, Rationed: rationed}
	}
	return b
}
