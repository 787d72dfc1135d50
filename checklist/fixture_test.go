package checklist

import (
	"testing"
	"time"

	"boat/hoveshort/checklist/machinery"
	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// aboardZone is the offset that the invented boat keeps.
var aboardZone = time.FixedZone("", 12*60*60)

// evening is the moment of most tests: twelve hours before departure.
var evening = time.Date(2026, 6, 11, 18, 0, 0, 0, aboardZone)

// fitBoat has one leg of 120 miles, two aboard: nothing but the checks and the
// soundings stands in the way.
func fitBoat() Definitions {
	litres := func(v float64) provisions.Level {
		return provisions.Level{Kind: provisions.ByAmount, Amount: provisions.Amount(v)}
	}
	d := Definitions{Sum: "files as they are"}
	d.Boat = Boat{Name: "Test Petrel", Boat: provisions.Boat{
		Engine: passage.Engine{
			RatedRPM: 3000, CruiseRPM: 2000, CoolantMax: 95, OilMinIdle: 1, Hours: 1000, ChargingBurn: 1, Charging: time.Hour,
			Curve: []passage.CurveRow{{RPM: 1500, Speed: 4.5, Burn: 1.2, Coolant: 78}, {RPM: 2500, Speed: 6, Burn: 3, Coolant: 82}},
		},
		Tanks: []provisions.Tank{
			{Name: "water", Holds: passage.Water, Capacity: 200, Unusable: 5, Level: litres(200)},
			{Name: "diesel", Holds: passage.Fuel, Capacity: 150, Unusable: 5, Level: litres(150)},
			{Name: "gas", Holds: passage.Gas, Capacity: 5, Level: litres(5)},
		},
		Rates: provisions.Rates{
			Water: provisions.WaterRates{Drinking: 3, Cooking: 1, HotWeather: 1}, Gas: provisions.GasRates{Boat: 0.2},
			Energy: 2000, Rations: []provisions.Ration{{Food: "biscuit", Each: 0.5}},
			Reserve: map[passage.Thing]provisions.Reserve{
				passage.Water: {Amount: 20}, passage.Fuel: {Amount: 30}, passage.Food: {Days: 2}, passage.Gas: {ShareOfNeed: 0.25},
			},
		},
		Foods: []provisions.Food{{Name: "biscuit", Pack: 1, Kcal: 400}},
		Lots:  []provisions.Lot{{Food: "biscuit", Packs: 20}},
	}}
	d.Plan = passage.Plan{
		Name: "across the bight", Depart: evening.Add(12 * time.Hour), Crew: 2, Climate: passage.Temperate, Kind: passage.Offshore,
		Cases: map[passage.CaseName]passage.Case{
			passage.Quick:    {Speed: 1.2, Motor: 1, Power: 0.1},
			passage.Expected: {Speed: 1, Motor: 1, Power: 0.3},
			passage.Slow:     {Speed: 0.7, Motor: 1, Power: 0.5},
		},
		Legs: []passage.Leg{{From: "Here", To: "There", Distance: 120, Sail: 5}},
	}
	d.Rounds = []Round{{Name: "Before departure", For: ForSign, Sections: []Section{{
		Name: "Engine", Mode: DoThenTick, Done: "engine done", Checks: []Check{
			{ID: "seacock", Ask: "Raw-water seacock", Right: "open", Critical: true, GoodFor: hours(12), VoidBy: []string{"seacock moved"}, Covers: "cooling"},
			{ID: "exhaust", Ask: "Water at the exhaust", Right: "steady", Critical: true, After: []string{"seacock"}},
			{ID: "volts", Ask: "Volts", Critical: true, Reading: &Range{Of: "volts", Min: volts(12.4), Max: volts(13)}},
			{ID: "belts", Ask: "Belts", Right: "firm", Say: "how firm"},
			{ID: "lights", Ask: "Lights", Right: "lit", CritWhen: []Condition{Night}, Covers: "lights"},
			{ID: "alone", Ask: "Look-out timer", Right: "set", Critical: true, Only: []Condition{SingleHanded}},
			{ID: "gear", Ask: "Deck gear", Right: "lashed"},
		},
	}}}}
	return d
}

func hours(n int) quantity.Period   { return quantity.Period{Rest: time.Duration(n) * time.Hour} }
func volts(v float64) *quantity.Any { return &quantity.Any{Dimension: quantity.OfVoltage, Value: v} }
func celsius(v float64) quantity.Any {
	return quantity.Any{Dimension: quantity.OfTemperature, Value: v}
}
func counted(v float64) quantity.Any { return quantity.Any{Dimension: quantity.OfCount, Value: v} }
func knots(v float64) quantity.Any   { return quantity.Any{Dimension: quantity.OfSpeed, Value: v} }

// log is a record in the making: acts with their moments.
type log []Entry

func (l *log) add(at time.Time, acts ...Act) {
	for _, act := range acts {
		*l = append(*l, Entry{Seq: len(*l) + 1, At: at, Act: act})
	}
}

func (l log) assess(d Definitions, now time.Time) Assessment { return Assess(d, Fold(l), now) }

// walked answers every check of the fit boat and sounds her tanks, an hour before evening.
func walked() log {
	var l log
	at := evening.Add(-time.Hour)
	l.add(at, Sound{"water", "full"}, Sound{"diesel", "full"}, Sound{"gas", "5 kg"})
	l.add(at, Answer{Check: "seacock", Answer: Right}, Answer{Check: "exhaust", Answer: Right},
		Answer{Check: "volts", Answer: Right, Value: volts(12.7)}, Answer{Check: "belts", Answer: Right, Say: "a thumb's width"},
		Answer{Check: "lights", Answer: Right}, Answer{Check: "gear", Answer: Right})
	return l
}

// ready is the fit boat and a record with nothing in the way; the test fails if there is.
func ready(t *testing.T) (Definitions, log) {
	t.Helper()
	d, l := fitBoat(), walked()
	a := l.assess(d, evening)
	require.Empty(t, a.Blockers)
	require.Empty(t, a.Cautions)
	require.True(t, a.Ready)
	return d, l
}

// inTheWay are the blockers as "kind name".
func inTheWay(a Assessment) []string {
	list := []string{}
	for _, b := range a.Blockers {
		list = append(list, string(b.Matter)+" "+b.Name)
	}
	return list
}

func cautionIDs(a Assessment) []string {
	list := []string{}
	for _, c := range a.Cautions {
		list = append(list, c.ID())
	}
	return list
}

func spare(need int, critical bool, stowed ...machinery.Stowed) machinery.Spare {
	return machinery.Spare{
		Name: "impeller", Critical: critical, Need: map[passage.Kind]int{passage.Offshore: need}, With: []string{"gasket"}, Stowed: stowed,
	}
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
