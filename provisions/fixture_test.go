package provisions

import (
	"testing"
	"time"

	"pgregory.net/rapid"

	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// The invented boat, plan and dates of these tests.

var (
	offset = time.FixedZone("", 13*3600)
	sails  = time.Date(2026, 6, 1, 5, 30, 0, 0, offset)
)

func day(n int) quantity.Date { return quantity.Date{Year: 2026, Month: time.June, Day: n} }

// cruiser is a boat with the engine curve of the reference's row D5, charging
// 1.5 h a day at 1.4 L/h.
func cruiser() Boat {
	return Boat{
		Engine: passage.Engine{
			RatedRPM: 3000, CruiseRPM: 2100, Hours: 1482,
			ChargingBurn: 1.4, Charging: 90 * time.Minute,
			Curve: []passage.CurveRow{
				{RPM: 1800, Speed: 5.2, Burn: 1.7},
				{RPM: 2400, Speed: 6.0, Burn: 3.1},
			},
		},
		Tanks: []Tank{
			{Name: "port water", Holds: passage.Water, Capacity: 220, Unusable: 8, Level: amount(200), GaugeError: 0.05, DipError: 0.02},
			{Name: "starboard water", Holds: passage.Water, Capacity: 110, Unusable: 2, Level: Level{Kind: Brim}, GaugeError: 0.05},
			{Name: "cans under the bunk", Holds: passage.Water, Capacity: 20, Level: Level{Kind: Brim}, Sealed: true},
			{Name: "diesel", Holds: passage.Fuel, Capacity: 180, Unusable: 10, Level: amount(150), GaugeError: 0.05},
			{Name: "gas bottle", Holds: passage.Gas, Capacity: 6, Level: amount(4), GaugeError: 0.1},
		},
		Rates: Rates{
			Water: WaterRates{Drinking: 3, Cooking: 1, Washing: 1.5, Boat: 2, HotWeather: 1.5, Rationed: 2.5},
			Gas:   GasRates{Boat: 0.25, Person: 0.05},
			Reserve: map[passage.Thing]Reserve{
				passage.Water: {ShareOfNeed: 0.5, Amount: 20},
				passage.Fuel:  {ShareOfCapacity: quantity.Share(1.0 / 3)},
				passage.Gas:   {ShareOfNeed: 0.25},
				passage.Food:  {None: true},
			},
		},
	}
}

func amount(a Amount) Level { return Level{Kind: ByAmount, Amount: a} }

// outAndOn is a plan of two legs with a stop that surely gives water and food.
func outAndOn() passage.Plan {
	return passage.Plan{
		Name: "out and on", Depart: sails, Crew: 3, Climate: passage.Hot, Kind: passage.Offshore,
		Cases: map[passage.CaseName]passage.Case{
			passage.Slow:     {Speed: 0.7, Motor: 0.85, Power: 0.6, Wait: 24 * time.Hour},
			passage.Expected: {Speed: 1, Motor: 1, Power: 0.35},
			passage.Quick:    {Speed: 1.15, Motor: 1, Power: 0.2},
		},
		Legs: []passage.Leg{
			{
				From: "Near Bay", To: "Middle Island", Distance: 240, Sail: 5, RPM: 2100, Stay: 24 * time.Hour,
				Fill: []passage.Giving{
					{Thing: passage.Water, Sure: true}, {Thing: passage.Food, Sure: true}, {Thing: passage.Fuel},
				},
			},
			{From: "Middle Island", To: "Far Harbour", Distance: 400, Sail: 5, RPM: 2100},
		},
	}
}

// sea, stay and wait make spans by hand; voyage puts them one after the other.
func sea(leg int, hours, power float64) passage.Span {
	s := passage.Span{Kind: passage.AtSea, Leg: leg, Hours: hours, Power: power, Speed: 5}
	if power > 0 {
		s.RPM = 2100
	}
	return s
}

func stay(leg int, hours float64) passage.Span {
	return passage.Span{Kind: passage.Stay, Leg: leg, Hours: hours}
}

func wait(leg int, hours float64) passage.Span {
	return passage.Span{Kind: passage.Wait, Leg: leg, Hours: hours}
}

func voyage(name passage.CaseName, spans ...passage.Span) passage.Voyage {
	v := passage.Voyage{Case: name, Depart: sails, Spans: spans}
	for i := range v.Spans {
		v.Spans[i].Start = sails.Add(time.Duration(v.Hours * float64(time.Hour)))
		v.Hours += v.Spans[i].Hours
		if v.Spans[i].Kind == passage.AtSea {
			v.Arrivals = append(v.Arrivals, v.Spans[i].End())
		}
	}
	return v
}

func unmade(name passage.CaseName, leg int) passage.Voyage {
	return passage.Voyage{Case: name, Depart: sails, Unmade: []int{leg}}
}

// handVoyages are outAndOn in whole days: slow 2 days, a day's stay, a day's
// wait, 4 days; the others quicker in everything.
func handVoyages() []passage.Voyage {
	return []passage.Voyage{
		voyage(passage.Slow, sea(0, 48, 0.5), stay(0, 24), wait(0, 24), sea(1, 96, 0.25)),
		voyage(passage.Expected, sea(0, 36, 0.25), stay(0, 24), sea(1, 72, 0.25)),
		voyage(passage.Quick, sea(0, 24, 0.25), stay(0, 24), sea(1, 48, 0.25)),
	}
}

// one is a plan of one leg without a stop.
func one(crew int) passage.Plan {
	return passage.Plan{
		Name: "one leg", Depart: sails, Crew: crew, Climate: passage.Temperate,
		Legs: []passage.Leg{{From: "Near Bay", To: "Far Harbour", Distance: 100, Sail: 5}},
	}
}

// days is a voyage of one leg under sail that takes so many days.
func days(n float64) []passage.Voyage {
	return []passage.Voyage{voyage(passage.Slow, sea(0, n*24, 0))}
}

// first is the first stretch of t.
func (r Reckoning) first(t passage.Thing) Stretch {
	s, _ := r.Resources[t].First()
	return s
}

// reckoned is reckon with what there is to eat in such a galley.
func reckoned(b Boat, plan passage.Plan, a Aboard, voyages []passage.Voyage, g galley) Reckoning {
	return reckon(b, plan, a, voyages, b.feed(a, plan.Crew, sails, g))
}

// untilMet checks a property until what it must have met was met: a few draws may miss it,
// a thousand do not.
func untilMet(t *testing.T, met func() bool, property func(*rapid.T)) {
	t.Helper()
	for range 50 {
		rapid.Check(t, property)
		if met() {
			return
		}
	}
	t.Error("the property never met what it is about")
}
