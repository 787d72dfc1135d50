package provisions

import (
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// lineOf is the first line of a working that tells something.
func lineOf(t require.TestingT, w Working, what string) WorkingLine {
	at := slices.IndexFunc(w.Lines, func(l WorkingLine) bool { return l.What == what })
	require.GreaterOrEqual(t, at, 0, "%q is not told in %s: %v", what, w.Title, w.Lines)
	return w.Lines[at]
}

func has(w Working, what string) bool {
	return slices.ContainsFunc(w.Lines, func(l WorkingLine) bool { return l.What == what })
}

func requireLines(t *testing.T, w Working, want []WorkingLine) {
	t.Helper()
	for _, l := range want {
		assert.Equal(t, l, lineOf(t, w, l.What), l.What)
	}
}

// Rows W7 and W8 of the reference: 400 L available, 20 L held back, three persons with
// 3 + 1 + 1.5 L a day each and 2 L for the boat are 18.5 L a day, 20.54 days to the
// reserve and 21.62 to the last drop; with hot = 1.5 they are 23 L and 16.52 days.
func TestWorkingOfThePublishedWaterPlan(t *testing.T) {
	b := cruiser()
	b.Tanks = []Tank{{Name: "the tank", Holds: passage.Water, Capacity: 400, Level: Level{Kind: Brim, Text: "full"}}}
	b.Rates.Reserve[passage.Water] = Reserve{Amount: 20}
	plan := one(3)
	r := reckoned(b, plan, Aboard{}, days(4), galley{})
	w := situation(b, plan).ExplainStretch(r, passage.Water, 0, quantity.Metric)
	assert.Equal(t, "Water, Near Bay to Far Harbour, slow case", w.Title)
	requireLines(t, w, []WorkingLine{
		{"time", "96 h at sea", "4.0 days"},
		{"a person a day", "drinking 3 L + cooking 1 L + washing 1.5 L", "5.5 L"},
		{"all a day", "3 persons x 5.5 L + the boat 2 L", "18.5 L"},
		{"at sea", "4 days x 18.5 L a day", "74 L"},
		{"need", "all of this, to Far Harbour", "74 L"},
		{"reserve by amount", "", "20 L"},
		{"reserve", "the largest of these", "20 L"},
		{"the tank", "400 L (told as full, not sounded, to the brim)", "400 L"},
		{"available", "the sum", "400 L"},
		{"to the reserve", "(400 L - 20 L) / 18.5 L a day", "20.5 days, until Sun 21 Jun 18:28"},
		{"to the last drop", "400 L / 18.5 L a day", "21.6 days, until Mon 22 Jun 20:25"},
		{"margin", "20.54 days - 4 days", "16.5 days"},
		{"short", "74 L + 20 L - 400 L, not below nothing", "none"},
	})
	assert.Equal(t, "holds", lineOf(t, w, "verdict").Result)

	plan.Climate = passage.Hot
	w = situation(b, plan).ExplainStretch(reckoned(b, plan, Aboard{}, days(4), galley{}), passage.Water, 0, quantity.Metric)
	requireLines(t, w, []WorkingLine{
		{"a person a day", "drinking 3 L x 1.5 for the heat + cooking 1 L + washing 1.5 L", "7 L"},
		{"all a day", "3 persons x 7 L + the boat 2 L", "23 L"},
		{"margin", "16.52 days - 4 days", "12.5 days"},
	})

	// 18.5 L are 4.89 US gal at 3.785412 L (NIST SP 811 B.8)
	plan.Climate = passage.Temperate
	w = situation(b, plan).ExplainStretch(reckoned(b, plan, Aboard{}, days(4), galley{}), passage.Water, 0, quantity.US)
	assert.Equal(t, "4.89 US gal", lineOf(t, w, "all a day").Result)
	assert.Equal(t, "20 US gal", lineOf(t, w, "need").Result, "74 L are 19.55 US gal")
}

// The passage worked by hand at TestPassageWorkedByHand.
func TestWorkingOfThePassageWorkedByHand(t *testing.T) {
	b := cruiser()
	b.Watermaker = &Watermaker{Output: 6, Run: 2 * time.Hour, NeedsEngine: true}
	plan := outAndOn()
	r := reckoned(b, plan, Aboard{}, handVoyages(), galley{})
	s := situation(b, plan)

	requireLines(t, s.ExplainStretch(r, passage.Fuel, 0, quantity.Metric), []WorkingLine{
		{"time", "144 h at sea + 24 h in stays + 24 h in waits", "8.0 days"},
		{"burn at 2100 rpm", "linear between the rows 1800 rpm, 1.7 L/h and 2400 rpm, 3.1 L/h", "2.4 L/h"},
		{"charging a day", "1.5 h x 1.4 L/h, on a day without other engine hours", "2.1 L"},
		{"leg 1 under engine", "50 % of 48 h = 24 h, x 2.4 L/h at 2100 rpm", "57.6 L"},
		{"leg 2 under engine", "25 % of 96 h = 24 h, x 2.4 L/h at 2100 rpm", "57.6 L"},
		{"charging at sea", "4 days of 6 days not under engine, x 2.1 L a day", "8.4 L"},
		{"charging at anchor", "2 days x 2.1 L a day", "4.2 L"},
		{"need", "all of this, to Far Harbour", "128 L"},
		{"reserve by capacity", "33.33 % of 170 L, the unsealed tanks above their pick-ups", "56.67 L"},
		{"diesel", "150 L (told as 150 L, not sounded) - 9 L that the gauge may be out by - 10 L below the pick-up", "131 L"},
		{"to the reserve", "(131 L - 56.67 L): 63.9 L of it go in the first 4 days, the rest at 15.98 L a day", "4.6 days, until Fri 5 Jun 21:10"},
		{"to the last drop", "131 L: 127.8 L of it go to Far Harbour in 8 days, the rest at the mean of 15.98 L a day", "8.2 days, until Tue 9 Jun 10:18"},
		{"margin", "4.65 days - 8 days", "-3.4 days"},
		{"short", "127.8 L + 56.67 L - 131 L, not below nothing", "54 L"},
	})
	requireLines(t, s.ExplainStretch(r, passage.Water, 0, quantity.Metric), []WorkingLine{
		{"watermaker at sea", "it needs the engine: 6 L/h x (2 h x 50 % under engine + 1.5 h x 50 % while charging); 23 L - 10.5 L, not below nothing: 12.5 L a day of what is aboard", "10.5 L a day"},
		{"at sea", "2 days x 12.5 L a day", "25 L"},
		{"reserve by need", "50 % of 46 L before the watermaker", "23 L"},
		{"cans under the bunk", "sealed: kept for an emergency, never planned on", "0 L"},
	})
	requireLines(t, s.ExplainStretch(r, passage.Water, 1, quantity.Metric), []WorkingLine{
		{"port water", "full: 220 L - 8 L below the pick-up", "212 L"},
		{"available", "the sum: all tanks filled at Middle Island", "320 L"},
	})
	requireLines(t, s.ExplainStretch(r, passage.Gas, 0, quantity.Metric), []WorkingLine{
		{"all a day", "the boat 0.25 kg + 3 persons x 0.05 kg", "0.4 kg"},
		{"in stays", "1 day x 0.4 kg a day", "0.4 kg"},
		{"need", "all of this, to Far Harbour", "3.2 kg"},
		{"short", "3.2 kg + 0.8 kg - 3.4 kg, not below nothing", "0.6 kg"},
	})
}

// Where she does not go alike all along a leg, the days of each rate are told once.
func TestWorkingTellsEachRateOnce(t *testing.T) {
	b, plan := cruiser(), one(3)
	b.Watermaker = &Watermaker{Output: 6, Run: 2 * time.Hour, NeedsEngine: true}
	r := reckoned(b, plan, Aboard{}, []passage.Voyage{voyage(passage.Slow, sea(0, 24, 1), sea(0, 48, 0), sea(0, 24, 1))}, galley{})
	w := situation(b, plan).ExplainStretch(r, passage.Water, 0, quantity.Metric)
	var told []WorkingLine
	for _, l := range w.Lines {
		if strings.HasPrefix(l.What, "at sea") {
			told = append(told, l)
		}
	}
	// 18.5 L a day, less 12 L under engine and 9 L while charging
	assert.Equal(t, []WorkingLine{{"at sea, leg 1", "2 days x 6.5 L a day", "13 L"}, {"at sea, leg 1", "2 days x 9.5 L a day", "19 L"}}, told)
}

// Without a curve: 28 kW x 0.30 L/kWh x (2000/3000)^3 = 2.49 L/h; the factor is reckoned
// at the reference's section on fuel.
func TestWorkingOfTheEstimatedBurn(t *testing.T) {
	e := passage.Engine{RatedRPM: 3000, RatedPower: 28}
	burn, how, ok := slate{}.burnOf(e, 2000)
	require.True(t, ok)
	assert.Equal(t, "2.49 L/h", burn)
	assert.Equal(t, "estimated, there is no curve: 28 kW x 0.30 L/kWh x (2000/3000)^3, not below 0.5 L/h", how)
	flow, _, _ := e.BurnAt(2000)
	assert.InDelta(t, 28*0.30*8.0/27, float64(flow), 1e-9, "what the words say is what is reckoned")
	least, _, _ := e.BurnAt(500)
	assert.InDelta(t, 0.5, float64(least), 1e-9)

	_, _, ok = slate{}.burnOf(passage.Engine{}, 2000)
	assert.False(t, ok)
	_, how, _ = slate{}.burnOf(cruiser().Engine, 1800)
	assert.Equal(t, "the curve's row", how)
	burn, how, _ = slate{}.burnOf(cruiser().Engine, 1500)
	assert.Equal(t, "1.7 L/h", burn)
	assert.Equal(t, "below the curve's first row, taken as there: 1800 rpm, 1.7 L/h", how)
}

func TestWorkingOfWhatWasUsedSinceTheSounding(t *testing.T) {
	b, plan := cruiser(), one(3)
	a := Aboard{
		Tanks: map[string]Held{
			"diesel":     {Level: Level{Kind: ByShare, Share: 0.5, Text: "50 %"}, At: hoursBefore(30), Added: 20},
			"port water": {Level: Level{Kind: ByDip, Dip: 0.1, Text: "100 mm"}, At: hoursBefore(12)},

			"starboard water": {Level: Level{Kind: Brim, Text: "full"}, At: hoursBefore(3)},
		},
		Meter: []Meter{{At: hoursBefore(40), Hours: 1490}, {At: hoursBefore(6), Hours: 1492}},
	}
	r := reckoned(b, plan, a, days(4), galley{})
	s := situation(b, plan)
	s.Aboard = a

	// 2 h at 2.4 L/h, then 6 h of 2.1 L a day
	fuel := s.ExplainStretch(r, passage.Fuel, 0, quantity.Metric)
	requireLines(t, fuel, []WorkingLine{
		{"diesel", "110 L (told as 50 %, then 20 L filled) - 9 L that the gauge may be out by - 10 L below the pick-up", "91 L"},
		{"used since sounding", "30 h from Sat 30 May 23:30 to departure: the hour-meter ran 2 h, x 2.4 L/h at cruise revs + 6 h of charging at 2.1 L a day", "5.33 L"},
		{"available", "the sum of the tanks less what was used since, not below nothing", "85 L"},
	})
	a.Tanks["diesel"] = Held{Level: Level{Kind: ByShare, Share: 0.5, Text: "50 %"}, At: hoursBefore(30), Added: -5}
	b.Tanks[0].Dip = []DipRow{{0, 0}, {0.2, 200}}
	dipped := s.ExplainStretch(reckoned(b, plan, a, days(4), galley{}), passage.Water, 0, quantity.Metric)
	assert.Equal(t, "100 L (told as 100 mm) - 4.4 L that the dip may be out by - 8 L below the pick-up", lineOf(t, dipped, "port water").How)
	taken := s.ExplainStretch(reckoned(b, plan, a, days(4), galley{}), passage.Fuel, 0, quantity.Metric)
	assert.Contains(t, lineOf(t, taken, "diesel").How, "85 L (told as 50 %, then 5 L taken)")

	water := s.ExplainStretch(r, passage.Water, 0, quantity.Metric)
	assert.Contains(t, lineOf(t, water, "port water").How, "it cannot be at that level: ")
	assert.Equal(t, WorkingLine{"used since sounding", "12 h from Sun 31 May 17:30 to departure x 18.5 L a day at anchor", "9.25 L"}, lineOf(t, water, "used since sounding"))
}

func TestWorkingOfFood(t *testing.T) {
	b, plan := cruiser(), one(2)
	b.Foods = []Food{{Name: "rice", Pack: 1, Kcal: 365}, {Name: "milk", Pack: 1, Kcal: 60}}
	b.Rates.Rations = []Ration{{"rice", 0.2}, {"milk", 0.5}}
	b.Rates.Energy = 1050 // rice 730 + milk 300 = 1030
	b.Rates.Reserve[passage.Food] = Reserve{Days: 1}
	b.Lots = []Lot{packs("rice", 2, 30), packs("milk", 9, 3)}
	r := reckoned(b, plan, Aboard{}, days(3), galley{})
	w := situation(b, plan).ExplainStretch(r, passage.Food, 0, quantity.Metric)
	// Milk goes off after three days, of 9 kg 1 kg a day is eaten. On the fourth rice fills
	// up: 400 g and for 600 kcal 164.4 g more. On the fifth 235.6 g are left: 860 kcal.
	requireLines(t, w, []WorkingLine{
		{"rice", "200 g x 365 kcal in 100 g", "730 kcal"},
		{"milk", "500 g x 60 kcal in 100 g", "300 kcal"},
		{"rations a person a day", "the sum; 1050 kcal are wanted", "1030 kcal"},
		{"a day is fed from", "90 % of 2 persons x 1050 kcal", "1890 kcal"},
		{"at sea", "3 days x 2 persons", "6 person-days"},
		{"first day not fed", "860 kcal of 2100 kcal are eaten, 1030 kcal short of 90 %; none is left of milk", "Fri 5 Jun"},
		{"goes off uneaten", "at the end of its last day", "milk 6 packs"},
		{"available", "4 days x 2 persons", "8 person-days"},
		{"reserve", "1 day x 2 persons", "2 person-days"},
		{"to the reserve", "4 days - 1 day held back, not below nothing", "3.0 days, until Thu 4 Jun 05:30"},
		{"short", "6 person-days + 2 person-days - 8 person-days, not below nothing", "none"},
	})
}

func TestWorkingOfFoodWithoutAnEnd(t *testing.T) {
	b, plan := cruiser(), one(1)
	b.Foods, b.Rates.Rations, b.Rates.Energy = []Food{plain("it")}, []Ration{{"it", 0.1}}, 100
	b.Rates.Reserve[passage.Food] = Reserve{None: true}
	b.Lots = []Lot{{Food: "it", Packs: 99999}}
	r := reckoned(b, plan, Aboard{}, days(3), galley{})
	w := situation(b, plan).ExplainStretch(r, passage.Food, 0, quantity.Metric)
	requireLines(t, w, []WorkingLine{
		{"first day not fed", "ten years are fed: further was not looked", "none"},
		{"reserve", "none is held back, on purpose", "none"},
	})
}

// What is used in another stretch's food is bought there.
func TestWorkingOfFoodThatIsBought(t *testing.T) {
	b, plan := cruiser(), outAndOn()
	b.Foods, b.Rates.Rations, b.Rates.Energy = []Food{plain("it")}, []Ration{{"it", 0.1}}, 100
	b.Rates.Reserve[passage.Food] = Reserve{Days: 2}
	r := reckoned(b, plan, Aboard{}, handVoyages(), galley{})
	w := situation(b, plan).ExplainStretch(r, passage.Food, 1, quantity.Metric)
	requireLines(t, w, []WorkingLine{
		{"need", "all of this, to Far Harbour", "12 person-days"},
		{"reserve", "2 days x 3 persons", "6 person-days"},
		{"available", "it is bought at Middle Island, as much as is needed with the reserve", "not judged"},
	})
	assert.False(t, has(w, "verdict"))
}

func TestWorkingOfALeg(t *testing.T) {
	plan := outAndOn()
	plan.Legs[1].Current = -0.3
	plan.Legs[1].Position = &passage.Position{Lat: -35, Lon: 174}
	s := Situation{Boat: cruiser(), Plan: plan, Trim: passage.Trim{Fouling: 0.9}, Now: sails}
	r := s.Reckon()
	// 0.6*0.85*5.6*0.9 + 0.4*0.7*5*0.9 - 0.3 = 2.5704 + 1.26 - 0.3 = 3.5304 kn; 400 nm in 113.31 h
	w := s.ExplainLeg(r, 1, passage.Slow, quantity.Metric)
	assert.Equal(t, "Leg 2, Middle Island to Far Harbour, slow case", w.Title)
	requireLines(t, w, []WorkingLine{
		{"distance", "as written", "400 nm"},
		{"under sail", "5 kn x 0.9 for the bottom x 0.7 in the slow case", "3.15 kn"},
		{"under engine", "at 2100 rpm 5.6 kn (linear between the rows 1800 rpm, 5.2 kn and 2400 rpm, 6 kn) x 0.9 for the bottom x 0.85 in the slow case", "4.28 kn"},
		{"made good", "60 % of the time under engine x 4.28 kn + 40 % under sail x 3.15 kn - 0.3 kn of foul current", "3.53 kn"},
		{"time", "400 nm / 3.53 kn", "113.31 h"},
		{"leaves", "the arrival at Middle Island + a stay of 24 h + a wait of 24 h", "Fri 5 Jun 20:09"},
		{"arrives", "4.8 days later", "Wed 10 Jun 13:27"},
	})
	assert.Equal(t, "by day", lineOf(t, w, "daylight").Result)
	assert.Equal(t, "not known", lineOf(t, s.ExplainLeg(r, 0, passage.Slow, quantity.Metric), "daylight").Result)

	plan.Legs[0].AsIs = true
	s.Trim.RPMCap = 1200
	s.Plan = plan
	w = s.ExplainLeg(s.Reckon(), 0, passage.Slow, quantity.Metric)
	assert.Equal(t, "5 kn as she goes now x 0.7 in the slow case", lineOf(t, w, "under sail").How)
	assert.Equal(t, "at 1200 rpm, the most that a defect allows, 5.2 kn x 1200/1800, in proportion below the curve's first row x 0.9 for the bottom x 0.85 in the slow case",
		lineOf(t, w, "under engine").How)

	plan.Legs[1].Current = -9
	s.Plan = plan
	r = s.Reckon()
	assert.Equal(t, "she cannot make this leg: less than 0.5 kn made good, or no speed is known at these revs", lineOf(t, s.ExplainLeg(r, 1, passage.Slow, quantity.Metric), "time").How)
	w = s.ExplainLeg(r, 0, passage.Slow, quantity.Metric)
	assert.Equal(t, WorkingLine{"time", "she cannot make leg 2, so that no time of this case is told", "not made"}, lineOf(t, w, "time"))
	assert.Equal(t, WorkingLine{"not reckoned", noCase, "no figure"}, s.ExplainStretch(r, passage.Water, 0, quantity.Metric).Lines[0])
}

func TestWorkingOfARouteNamesIt(t *testing.T) {
	plan := one(2)
	plan.Cases = outAndOn().Cases
	plan.Legs[0].Route = []passage.Position{{Lat: 0, Lon: 0}, {Lat: 1, Lon: 0}, {Lat: 2, Lon: 0}}
	plan.Legs[0].Distance = passage.RouteLength(plan.Legs[0].Route)
	s := situation(cruiser(), plan)
	w := s.ExplainLeg(s.Reckon(), 0, passage.Expected, quantity.Metric)
	assert.Equal(t, WorkingLine{"distance", "the sum of the great circles along the 3 points of the route", "120 nm"}, lineOf(t, w, "distance"))
}

// What is told of a leg is what she sails: the shares add up to the speed made good.
func TestWorkingOfALegAddsUpToItsSpeed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := anyWorld(t, free)
		s := Situation{Boat: w.boat, Plan: w.plan, Trim: passage.Trim{
			Fouling: rapid.Float64Range(0.5, 1.2).Draw(t, "fouling"), RPMCap: rapid.SampledFrom([]int{0, 900, 2000}).Draw(t, "cap"),
		}, Now: sails}
		for i := range s.Plan.Legs {
			s.Plan.Legs[i].Current = quantity.Speed(rapid.Float64Range(-2, 2).Draw(t, "current"))
			s.Plan.Legs[i].AsIs = rapid.Bool().Draw(t, "as is")
		}
		if rapid.Bool().Draw(t, "no curve") {
			s.Boat.Engine.Curve = nil
			for i := range s.Plan.Legs {
				s.Plan.Legs[i].Power = 5
			}
			s.Boat.Engine.RatedPower = 20
		}
		r := s.Reckon()
		for _, name := range passage.CaseNames {
			for leg, l := range s.Plan.Legs {
				told := &legSlate{situation: s, leg: l, name: name, bent: s.Plan.Cases[name]}
				told.underSail()
				told.underEngine()
				require.NotEmpty(t, s.ExplainLeg(r, leg, name, quantity.Metric).Lines)
				for _, span := range r.Cases[name].Voyage.Spans {
					if span.Kind == passage.AtSea && span.Leg == leg {
						require.InDelta(t, span.Speed, told.made(), 1e-9)
					}
				}
			}
		}
	})
}

// anySituation is a world with what else may be aboard, and places to go to.
func anySituation(t *rapid.T) Situation {
	w := anyWorld(t, free)
	s := Situation{Boat: w.boat, Plan: w.plan, Aboard: w.aboard, Trim: clean, Now: sails.Add(-time.Hour)}
	if rapid.Bool().Draw(t, "watermaker") {
		s.Boat.Watermaker = &Watermaker{Output: 5, Run: 2 * time.Hour, NeedsEngine: rapid.Bool().Draw(t, "needs the engine")}
	}
	if rapid.Bool().Draw(t, "heater") {
		s.Boat.Heater = &Heater{Burn: 0.25, Run: 6 * time.Hour}
	}
	s.Boat.Foods = append(s.Boat.Foods, Food{Name: "fish", Pack: 0.2, Kcal: 200, Chilled: true, Cook: true})
	s.Boat.Rates.Rations = append(s.Boat.Rates.Rations, Ration{"fish", 0.05})
	s.Plan.Fill = []passage.Giving{{Thing: passage.Fuel, Sure: true}, {Thing: passage.Water, Sure: true}}
	s.Plan.Legs[0].Alternates = []passage.Alternate{{Name: "Side Bay", After: 10, Distance: 30}}
	last := &s.Plan.Legs[len(s.Plan.Legs)-1]
	last.Position = &passage.Position{Lat: -35, Lon: 174}
	if rapid.Bool().Draw(t, "home") {
		last.Home = &passage.Home{Sail: 3, Power: 0.5}
	}
	s.Plan.Uses = anyUses(t, s.Plan)
	return s
}

// The working's components are the reckoning's figures taken apart.
func TestWorkingAddsUpToTheReckoning(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anySituation(t)
		r := s.Reckon()
		for _, thing := range passage.Things {
			for i, stretch := range r.Resources[thing].Stretches {
				w := s.stretchSlate(r, thing, i, quantity.Metric)
				sum := 0.0
				for _, c := range w.components() {
					sum += c.amount
				}
				require.InDelta(t, float64(stretch.Need), sum, 1e-6, "%s", thing)
				if thing == passage.Food {
					continue
				}
				held := 0.0
				for _, c := range w.heldBack(s.Boat.Rates.Reserve[thing]) {
					held = max(held, c.amount)
				}
				require.InDelta(t, float64(stretch.Reserve), held, 1e-6, "%s", thing)
				for budget, want := range map[Amount]Days{stretch.Available: stretch.LastDrop, stretch.Available - stretch.Reserve: stretch.Endurance} {
					got := w.part.walk(thing, float64(budget)).days(float64(budget))
					require.Equal(t, want.Never, got.Never)
					require.InDelta(t, want.Days, got.Days, 1e-9)
				}
				if i == 0 {
					requireTanksAddUp(t, w)
				}
			}
		}
	})
}

func requireTanksAddUp(t *rapid.T, w *stretchSlate) {
	var sum Amount
	for _, f := range w.reckoning.Tanks {
		if f.Tank.Holds == w.thing {
			sum += f.Counted
		}
	}
	used, _, _ := w.usedSince()
	require.InDelta(t, float64(w.stretch.Available), float64(max(0, sum-used)), 1e-6)
}

// Every number of a passage can be asked for, and the working ends at that number.
func TestWorkingOfEveryNumber(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anySituation(t)
		units := quantity.System(rapid.IntRange(0, 1).Draw(t, "units"))
		r := s.Reckon()
		for _, thing := range passage.Things {
			for i, stretch := range r.Resources[thing].Stretches {
				w := s.ExplainStretch(r, thing, i, units)
				requireTold(t, w)
				require.Equal(t, stretch.Need.Up(thing, units), lineOf(t, w, "need").Result)
				if !stretch.Bought {
					require.Equal(t, stretch.Available.Down(thing, units), lineOf(t, w, "available").Result)
					require.Equal(t, stretch.Margin.String(), lineOf(t, w, "margin").Result)
					require.True(t, strings.HasPrefix(lineOf(t, w, "to the reserve").Result, stretch.Endurance.String()))
				}
			}
		}
		o := s.Outlook(r)
		for _, p := range o.OnOrBack {
			requireTold(t, s.ExplainOnOrBack(r, p, units))
		}
		for _, win := range o.Windows {
			w := s.ExplainWindow(r, win, units)
			requireTold(t, w)
			require.Equal(t, max(1, len(win.Open)), len(w.Lines)-win.Cases-1)
		}
		for _, turning := range o.Turning {
			w := s.ExplainTurning(r, turning, units)
			requireTold(t, w)
			if turning.State == TurnOnLeg {
				require.Equal(t, turning.At.Format(moment), lineOf(t, w, "last moment").Result)
				continue
			}
			require.Equal(t, string(turning.State), lineOf(t, w, "last moment").Result)
		}
		for _, row := range o.Range {
			w := s.ExplainRange(r, row, units)
			requireTold(t, w)
			require.Equal(t, row.Whole.Down(units), lineOf(t, w, "with the reserve whole").Result)
		}
		for _, l := range s.Loads(r) {
			w := s.ExplainLoad(r, l, units)
			requireTold(t, w)
			require.Equal(t, orNothing(l.Amount, func(a Amount) string { return a.Up(l.Thing, units) }), lineOf(t, w, "to load").Result)
		}
	})
}

// requireTold holds for every working: titled, each line with what and result, what
// short enough for a column of 24.
func requireTold(t *rapid.T, w Working) {
	require.NotEmpty(t, w.Title)
	require.NotEmpty(t, w.Lines)
	for _, l := range w.Lines {
		require.NotEmpty(t, l.What, w.Title)
		require.NotEmpty(t, l.Result, "%s: %s", w.Title, l.What)
		require.LessOrEqual(t, len(l.What), 24, l.What)
		for _, text := range []string{l.How, l.Result} {
			require.NotContains(t, text, "NaN")
			require.NotContains(t, text, "Inf")
			require.NotContains(t, text, "%!")
		}
	}
}

// What turning, range and load are said to be made of makes the figure.
func TestWorkingOfWaysBackAndLoadsAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anySituation(t)
		r := s.Reckon()
		o := s.Outlook(r)
		for _, turning := range o.Turning {
			stretch, cut, ok := s.stretchOf(r, turning.Thing, turning.Leg)
			require.True(t, ok)
			home := newHousehold(s.Boat, s.Plan)
			w := &turnSlate{slate: slate{thing: turning.Thing}, stretch: stretch, turning: turning,
				ways: s.goingBack(home, home.follow(r.Cases[turning.Case].Voyage), cut, turning.Leg)}
			switch turning.State {
			case TurnOnLeg:
				_, left, stop := w.onTheWay()
				if stop != nil {
					require.InDelta(t, float64(turning.After), stop.miles, 1e-6)
					require.GreaterOrEqual(t, float64(left), w.perMile()*stop.miles-1e-6)
					require.Less(t, float64(left)-stop.use.of(turning.Thing), w.perMile()*stop.miles)
					continue
				}
				require.InDelta(t, float64(turning.After), float64(left)/w.perMile(), 1e-6)
			case TurnPassed:
				require.Negative(t, float64(w.free()))
			case TurnBeyond:
				_, left, _ := w.onTheWay()
				require.GreaterOrEqual(t, float64(left), w.perMile()*float64(s.Plan.Legs[turning.Leg].Distance)-1e-6)
			}
		}
		fuel := r.first(passage.Fuel)
		for _, row := range o.Range {
			w := &rangeSlate{situation: s, row: row, fuel: fuel}
			require.InDelta(t, float64(row.Whole), max(0, float64(fuel.Available-fuel.Reserve))/w.hourly()*float64(row.Speed), 1e-6)
			require.InDelta(t, float64(row.LastDrop), float64(fuel.Available)/w.hourly()*float64(row.Speed), 1e-6)
		}
	})
}

// The working of a what-if reckons the same stretch, and comes to the same numbers.
func TestWorkingOfAWhatIfComesToItsNumbers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anySituation(t)
		r := s.Reckon()
		for _, what := range s.WhatIfs(r).List {
			w := s.ExplainWhatIf(r, what, quantity.Metric)
			requireTold(t, w)
			require.Equal(t, what.Name(), w.Lines[0].Result)
			require.NotEmpty(t, w.Lines[0].How)
			require.Equal(t, string(what.Verdict), lineOf(t, w, "verdict").Result)
			if what.Verdict == Holds || len(what.Unmade) > 0 {
				require.False(t, has(w, "what fails"))
				continue
			}
			require.Equal(t, what.Missing.Up(what.Thing, quantity.Metric), lineOf(t, w, "missing").Result)
			requireSameStretch(t, s, r, what)
		}
	})
}

func requireSameStretch(t *rapid.T, s Situation, r Reckoning, what WhatIf) {
	_, reckoned, ok := s.reckonWhatIf(r, what)
	require.True(t, ok)
	missing := math.Inf(1)
	for _, st := range reckoned.Resources[what.Thing].Stretches {
		if st.From != what.From || st.To != what.To {
			continue
		}
		missing = float64(st.Short)
		if what.Verdict == RunsOut {
			missing = float64(st.Need - st.Available)
		}
	}
	require.InDelta(t, float64(what.Missing), missing, 1e-6, "%s", what.Name())
}

func TestWorkingOfWhatIsNotThereSaysSo(t *testing.T) {
	s := situation(cruiser(), outAndOn())
	s.Plan.Cases = outAndOn().Cases
	r := s.Reckon()
	for _, w := range []Working{
		s.ExplainStretch(r, passage.Water, 7, quantity.Metric),
		s.ExplainStretch(r, passage.Water, -1, quantity.Metric),
		s.ExplainStretch(r, passage.Food, 0, quantity.Metric),
		s.ExplainStretch(Reckoning{}, passage.Gas, 0, quantity.Metric),
		s.ExplainLeg(r, 9, passage.Slow, quantity.Metric),
		s.ExplainLeg(r, -1, passage.Slow, quantity.Metric),
		s.ExplainTurning(r, Turning{Leg: 5}, quantity.Metric),
		s.ExplainTurning(Reckoning{}, Turning{Thing: passage.Gas}, quantity.Metric),
		s.ExplainOnOrBack(r, OnOrBack{Leg: -1}, quantity.Metric),
		s.ExplainRange(Reckoning{}, RangeRow{}, quantity.Metric),
		s.ExplainWindow(r, Window{Leg: 5}, quantity.Metric),
		s.ExplainLoad(r, Load{Leg: 5, Thing: passage.Gas}, quantity.Metric),
		s.ExplainWhatIf(r, WhatIf{Kind: "nothing of the kind"}, quantity.Metric),
		s.ExplainWhatIf(Reckoning{}, WhatIf{Kind: NoWind}, quantity.Metric),
	} {
		require.Len(t, w.Lines, 1, w.Title)
		assert.Equal(t, "not reckoned", w.Lines[0].What, w.Title)
		assert.NotEmpty(t, w.Lines[0].How)
	}
	assert.Equal(t, "not made", lineOf(t, s.ExplainLeg(Reckoning{}, 0, passage.Slow, quantity.Metric), "time").Result)
}

// allThatMayHappen is a situation in which every contingency makes sense.
func allThatMayHappen() Situation {
	b, plan := cruiser(), outAndOn()
	b.Watermaker = &Watermaker{Output: 6, Run: time.Hour}
	b.Foods = []Food{plain("biscuit"), {Name: "rice", Pack: 1, Kcal: 365, Cook: true}, {Name: "cheese", Pack: 0.5, Kcal: 400, Chilled: true}}
	b.Rates.Rations, b.Rates.Energy = []Ration{{"biscuit", 0.1}, {"rice", 0.3}}, 1200
	b.Rates.Reserve[passage.Food] = Reserve{Days: 2}
	b.Lots = []Lot{packs("biscuit", 60, 30), packs("rice", 5, 30)}
	plan.Fill = []passage.Giving{{Thing: passage.Fuel, Sure: true}, {Thing: passage.Water, Sure: true}}
	plan.Price = map[passage.Thing]float64{passage.Fuel: 1.5}
	plan.Legs[1].Position = &passage.Position{Lat: -35, Lon: 174}
	plan.Legs[1].Alternates = []passage.Alternate{{Name: "Side Bay", After: 100, Distance: 50}}
	return Situation{Boat: b, Plan: plan, Trim: passage.Trim{Fouling: 0.93}, Now: sails.Add(-2 * time.Hour)}
}

func TestWorkingOfAWhatIfTellsWhatWasChanged(t *testing.T) {
	s := allThatMayHappen()
	r := s.Reckon()
	want := map[Contingency]string{
		FullestTankLost: "port water, the water tank most counted on, is empty from the departure on, for good: 181 L less",
		WatermakerDead:  "nothing is made; water at the rationed use, all told: 2.5 L a person a day",
		NoWind:          "for the first 5 days at sea she goes under engine until the fuel less its reserve is gone, and drifts for the rest of them; then as planned. Fuel is not judged",
		NoEngine:        "no time under engine, no charging, nothing made by what the engine drives. Fuel is not judged",
		FifthSlower:     "the speeds under sail and under engine x 0.8 in every case; the current is not slower",
		OneMoreAboard:   "4 persons in place of 3 persons",
		NothingAt:       "Middle Island does not give water and food",
		FridgeDead:      "from the departure on chilled food keeps as long as it does warm, or else for the first day: cheese",
		GasGone:         "from the departure on only what needs no stove is eaten, and a day is fed from 50 % of the energy on. Gas is not judged. Not eaten: rice",
		DivertTo:        "100 nm of leg 2, then 50 nm to Side Bay at the leg's speed and current, ending there",
	}
	list := s.WhatIfs(r).List
	require.Len(t, list, len(want))
	for _, what := range list {
		w := s.ExplainWhatIf(r, what, quantity.Metric)
		assert.Equal(t, "What if: "+what.Name(), w.Title)
		assert.Equal(t, WorkingLine{"changed", want[what.Kind], what.Name()}, w.Lines[0])
	}

	cold := s.ExplainWhatIf(r, list[slices.IndexFunc(list, func(w WhatIf) bool { return w.Kind == GasGone })], quantity.Metric)
	assert.Equal(t, WorkingLine{"a day is fed from", "50 % of 3 persons x 1200 kcal", "1800 kcal"}, lineOf(t, cold, "a day is fed from"))
	assert.Equal(t, "600 kcal of 3600 kcal are eaten, 1200 kcal short of 50 %", lineOf(t, cold, "first day not fed").How)

	s.Boat.Rates.Water.Rationed = 0
	r = s.Reckon()
	w := s.ExplainWhatIf(r, WhatIf{Kind: WatermakerDead, Leg: -1}, quantity.Metric)
	assert.Equal(t, "nothing is made; water is used as planned, for no rationed use is written", w.Lines[0].How)
}

// One water tank of 100 L over the passage worked by hand: 23 L a day in the slow case, 184
// needed. With one more aboard 30 L a day, 240 needed and 120 held back of what is left.
func TestWorkingOfAWhatIfWorkedByHand(t *testing.T) {
	b, plan := cruiser(), one(3)
	b.Tanks = []Tank{
		{Name: "the tank", Holds: passage.Water, Capacity: 200, Level: Level{Kind: Brim, Text: "full"}},
		{Name: "the cans", Holds: passage.Water, Capacity: 20, Level: Level{Kind: Brim, Text: "full"}, Sealed: true},
	}
	b.Rates.Reserve = map[passage.Thing]Reserve{
		passage.Water: {Amount: 10}, passage.Fuel: {None: true}, passage.Gas: {None: true}, passage.Food: {None: true},
	}
	b.Rates.Gas = GasRates{}
	plan.Climate = passage.Hot
	plan.Legs[0].Distance = 5 * 24 * 8 // 8 days at 5 kn
	plan.Cases = map[passage.CaseName]passage.Case{}
	for _, name := range passage.CaseNames {
		plan.Cases[name] = passage.Case{Speed: 1, Motor: 1}
	}
	b.Engine.Charging = 0
	plan.Fill = []passage.Giving{{Thing: passage.Water, Sure: true}}
	s := situation(b, plan)
	r := s.Reckon()
	require.Equal(t, Holds, r.Verdict, "184 L needed and 10 held back, of 200")

	// four persons: 4*7+2 = 30 L a day; 240 L; 200 L last 6 days and 16 h
	list := s.WhatIfs(r).List
	at := slices.IndexFunc(list, func(w WhatIf) bool { return w.Kind == OneMoreAboard })
	require.GreaterOrEqual(t, at, 0)
	w := s.ExplainWhatIf(r, list[at], quantity.Metric)
	requireLines(t, w, []WorkingLine{
		{"what fails", "Near Bay to Far Harbour, in the slow case; of several the worst, then the earliest", "water"},
		{"all a day", "4 persons x 7 L + the boat 2 L", "30 L"},
		{"at sea", "8 days x 30 L a day", "240 L"},
		{"to the last drop", "200 L / 30 L a day", "6.6 days, until Sun 7 Jun 21:30"},
		{"missing", "240 L needed - 200 L available", "40 L"},
		{"on", "the last drop is gone; day 7 is the 7th 24 h from departure", "day 7, Sun 7 Jun 21:30"},
		{"short of", "the miles from there to Far Harbour", "160 nm"},
		{"then", "what is in sealed cans: never planned on", "20 L sealed"},
		{"verdict", verdictRule, "runs out"},
		{"than planned", "as planned: holds", "worse"},
	})
	require.NotEmpty(t, list[at].Cures)
	for i, c := range list[at].Cures {
		line := w.Lines[len(w.Lines)-len(list[at].Cures)+i]
		assert.Equal(t, c.Words(quantity.Metric), line.Result)
		assert.Contains(t, line.How, "reckoned: with it this holds; ")
	}
}

// Under sail alone 0.7*5*0.93 = 3.26 kn are no match for 3 kn of foul current.
func TestWorkingOfAWhatIfInWhichALegIsNotMade(t *testing.T) {
	s := allThatMayHappen()
	s.Plan.Legs[1].Current = -3
	r := s.Reckon()
	list := s.WhatIfs(r).List
	w := s.ExplainWhatIf(r, list[slices.IndexFunc(list, func(w WhatIf) bool { return w.Kind == NoEngine })], quantity.Metric)
	assert.Equal(t, WorkingLine{"not made", "in the slow case less than 0.5 kn is made good there, and as planned she makes it", "leg 2"}, lineOf(t, w, "not made"))
	assert.Equal(t, "runs out", lineOf(t, w, "verdict").Result)
	assert.False(t, has(w, "missing"))

	s.Plan.Legs[1].Current = -3.7
	w = s.ExplainStretch(s.Reckon(), passage.Gas, 0, quantity.Metric)
	assert.Contains(t, lineOf(t, w, "hard case").How, "slow does not make every leg, expected ")
}

// Two stretches may have the same ends: she calls at Near Bay three times.
func TestWorkingOfAWhatIfFindsItsStretchAmongLikeOnes(t *testing.T) {
	s := allThatMayHappen()
	gives := []passage.Giving{{Thing: passage.Water, Sure: true}}
	leg := func(from, to string, miles quantity.Distance) passage.Leg {
		return passage.Leg{From: from, To: to, Distance: miles, Sail: 5, RPM: 2100, Fill: gives}
	}
	s.Plan.Legs = []passage.Leg{leg("A", "B", 300), leg("B", "A", 60), leg("A", "B", 3500)}
	s.Boat.Rates.Rations, s.Boat.Rates.Reserve[passage.Food] = nil, Reserve{None: true}
	s.Boat.Rates.Gas, s.Boat.Watermaker = GasRates{}, nil
	s.Plan.Cases = map[passage.CaseName]passage.Case{}
	for _, name := range passage.CaseNames {
		s.Plan.Cases[name] = passage.Case{Speed: 1, Motor: 1} // under sail alone: fuel is no matter
	}
	s.Boat.Engine.Charging = 0
	r := s.Reckon()
	list := s.WhatIfs(r).List
	what := list[slices.IndexFunc(list, func(w WhatIf) bool { return w.Kind == FifthSlower })]
	require.Equal(t, passage.Water, what.Thing)
	w := s.ExplainWhatIf(r, what, quantity.Metric)
	assert.Contains(t, lineOf(t, w, "missing").How, " - 320 L available", "full tanks: it is the last stretch, not the first, that has 289 L")
}

func TestWorkingOfCuresSaysWhatEachDoes(t *testing.T) {
	seen := map[string]bool{}
	for _, kind := range []CureKind{CureLoad, CureSlower, CureRation, CureStop, CureCans} {
		words := cureWords(Cure{Kind: kind})
		assert.Contains(t, words, "; ", kind)
		assert.False(t, seen[words], kind)
		seen[words] = true
	}
}

func TestWorkingOfTurningBack(t *testing.T) {
	s := allThatMayHappen()
	s.Trim.Fouling = 1
	r := s.Reckon()
	at := func(thing passage.Thing, leg int) Working {
		for _, turning := range s.Outlook(r).Turning {
			if turning.Thing == thing && turning.Leg == leg {
				return s.ExplainTurning(r, turning, quantity.Metric)
			}
		}
		require.Fail(t, "not told")
		return Working{}
	}
	// out 4.256 kn, home 0.6*0.85*5.6 + 0.4*0.7*2.5 = 3.556 kn; both 0.6*2.4 + 2.1*0.4/24 =
	// 1.475 L an hour; (131 - 56.67) / (1.475/4.256 + 1.475/3.556) = 97.6 nm
	w := at(passage.Fuel, 0)
	assert.Equal(t, "Fuel: the last moment for turning back on leg 1, Near Bay to Middle Island", w.Title)
	requireLines(t, w, []WorkingLine{
		{"may be used", "131 L available at Near Bay - 56.67 L reserve", "74.33 L"},
		{"a mile out and home", "1.475 L an hour / 4.26 kn + 1.475 L an hour / 3.56 kn", "0.7614 L"},
		{"after", "74.33 L / 0.7614 L a mile", "97 nm"},
		{"last moment", "97.63 nm / 4.26 kn after Near Bay", "Tue 2 Jun 04:26"},
		{"the way back", "97.63 nm / 3.56 kn", "27.46 h"},
	})
	w = at(passage.Fuel, 1)
	assert.Equal(t, "passed before", lineOf(t, w, "last moment").Result)
	assert.True(t, has(w, "home from its beginning"))
	assert.Equal(t, "none on this leg", lineOf(t, at(passage.Water, 0), "last moment").Result)

	s.Plan.Legs[0].Current = 3.4
	r = s.Reckon()
	assert.Equal(t, "no way home", lineOf(t, at(passage.Fuel, 0), "last moment").Result)
	back := s.ExplainOnOrBack(r, s.Outlook(r).OnOrBack[0], quantity.Metric)
	assert.Equal(t, "none", lineOf(t, back, "made good home").Result)

	// 400 nm * 3.556 / (4.256 + 3.556) = 182.08 nm, 42.8 h on and the same back: 51.2 h
	back = s.ExplainOnOrBack(r, s.Outlook(r).OnOrBack[1], quantity.Metric)
	requireLines(t, back, []WorkingLine{
		{"after", "400 nm x 3.56 kn / (4.26 kn + 3.56 kn)", "182 nm"},
		{"on from there", "217.92 nm / 4.26 kn", "51.21 h"},
		{"back from there", "182.08 nm / 3.56 kn", "51.21 h"},
	})
}

func TestWorkingOfTheRange(t *testing.T) {
	s := allThatMayHappen()
	s.Plan.Climate = passage.Cold
	s.Boat.Heater = &Heater{Burn: 0.2, Run: 6 * time.Hour}
	s.Plan.Before = day(30)
	s.Trim.RPMCap = 2000
	r := s.Reckon()
	rows := s.Outlook(r).Range
	require.Len(t, rows, 2)
	// 5.2*0.93 = 4.836 kn; 1.7 + 0.05 L/h; 74.33/1.75*4.836 = 205.4 nm, 131/1.75*4.836 = 362 nm
	w := s.ExplainRange(r, rows[0], quantity.Metric)
	requireLines(t, w, []WorkingLine{
		{"speed", "5.2 kn by the curve x 0.93 for the bottom; smooth water, no current", "4.84 kn"},
		{"burn", "1.7 L/h by the curve + 0.05 L/h for the heater, all round the clock", "1.75 L/h"},
		{"with the reserve whole", "(131 L available - 56.67 L reserve) / 1.75 L/h x 4.84 kn", "205 nm"},
		{"to the last drop", "131 L / 1.75 L/h x 4.84 kn", "362 nm"},
	})
	assert.Contains(t, lineOf(t, w, "against the plan").Result, " later")
	assert.True(t, has(w, "in hand"))
	w = s.ExplainRange(r, rows[1], quantity.Metric)
	assert.Contains(t, lineOf(t, w, "the passage so").How, "a defect allows 2000 rpm and no more")
	assert.Contains(t, lineOf(t, w, "against cruise revs").Result, "less far")
}

func TestWorkingOfALoad(t *testing.T) {
	s := allThatMayHappen()
	s.Boat.Tanks[3].Level = amount(5) // below the pick-up of 10 L, and less what the gauge is out by
	r := s.Reckon()
	for _, l := range s.Loads(r) {
		if l.Thing != passage.Fuel {
			continue
		}
		w := s.ExplainLoad(r, l, quantity.Metric)
		assert.Equal(t, "Fuel to load at Near Bay", w.Title)
		requireLines(t, w, []WorkingLine{
			{"reserve", "to be whole on arrival", "57 L"},
			{"left there", "what is available at departure", "0.0 L"},
			{"below the pick-ups", "what must go in first before any of it counts", "10 L"},
			{"to load", "all tanks full", "180 L"},
			{"price", "180 L x 1.5", "270"},
		})
		assert.Equal(t, l.Lacks.Up(passage.Fuel, quantity.Metric), lineOf(t, w, "beyond the tanks").Result)
		assert.Equal(t, "180 L", lineOf(t, w, "fill diesel").Result)
	}
}

func TestWorkingOfWhenToLeave(t *testing.T) {
	s := allThatMayHappen()
	r := s.Reckon()
	windows := s.Outlook(r).Windows
	require.Len(t, windows, 1)
	w := s.ExplainWindow(r, windows[0], quantity.Metric)
	assert.Equal(t, "When to leave for Far Harbour by day", w.Title)
	assert.Equal(t, "Mon 1 Jun 03:30 to Tue 2 Jun 05:30", lineOf(t, w, "looked at").Result, "now is two hours before the departure")
	require.NotEmpty(t, windows[0].Open)
	for _, open := range windows[0].Open {
		for _, at := range []time.Time{upToMinute(open.From), open.To.Truncate(time.Minute)} {
			for _, name := range []passage.CaseName{passage.Slow, passage.Expected} {
				v := r.Cases[name].Voyage
				assert.True(t, passage.ArrivalAt(s.Plan.Legs[1], at.Add(v.Arrivals[1].Sub(v.Depart))).ByDay, "%s, leaving %s", name, at)
			}
		}
	}

	windows[0].Open = nil
	assert.Equal(t, "no time", lineOf(t, s.ExplainWindow(r, windows[0], quantity.Metric), "leave").Result)
}

func TestNumbersOfAWorking(t *testing.T) {
	for _, c := range []struct {
		v    float64
		to   side
		want string
	}{
		{5.325, nearest, "5.33"}, {-5.325, nearest, "-5.33"}, {0.001, nearest, "0"}, {-0.001, nearest, "0"}, {18.5, nearest, "18.5"},
		{0.071, roundUp, "0.08"}, {0.07 + 1e-12, roundUp, "0.07"}, {0.079, roundDown, "0.07"}, {0.08 - 1e-12, roundDown, "0.08"},
	} {
		assert.Equal(t, c.want, number(c.v, c.to), "%v", c.v)
	}
	for n, want := range map[int]string{1: "1st", 2: "2nd", 3: "3rd", 4: "4th", 11: "11th", 12: "12th", 13: "13th", 21: "21st", 102: "102nd", 113: "113th"} {
		assert.Equal(t, want, ordinal(n))
	}
	assert.Equal(t, "1 day", daysText(1))
	assert.Equal(t, "1.01 days", daysText(1.01))
	assert.Equal(t, "0.22 lb", slate{thing: passage.Gas, units: quantity.US}.exact(0.1), "0.1 kg, NIST SP 811 B.8")
	assert.Equal(t, "0.26 US gal/h", slate{units: quantity.US}.flow(1))
}

// The walk is told with the very figures of lasts, at the edges too: a budget that is
// just used up holds on through the time in which nothing is used.
func TestWorkingWalksAsTheReckoningLasts(t *testing.T) {
	p := part{
		spans: []passage.Span{{Hours: 24}, {Hours: 12}, {Hours: 24}},
		uses:  []use{{water: 1}, {}, {water: 2}},
	}
	for _, budget := range []float64{-1, -1e-5, -1e-7, 0, 1, 24, 24 + 1e-12, 25, 72, 73, 1e6} {
		assert.Equal(t, p.lasts(passage.Water, budget), p.walk(passage.Water, budget).days(budget), "%v", budget)
		assert.Equal(t, p.lasts(passage.Gas, budget), p.walk(passage.Gas, budget).days(budget), "%v of what is not used", budget)
	}
	assert.InDelta(t, 36, p.walk(passage.Water, 24).hours, 1e-9)
}

// Manila to Los Angeles, NGA Pub. 9, The Sailings: great circle 6185.9 nm, first course
// 050.3 (from memory; recomputed). The rhumb line is longer and steeper east.
func TestWorkingOfARouteTellsBothSailings(t *testing.T) {
	plan := one(1)
	plan.Cases = map[passage.CaseName]passage.Case{passage.Slow: {Speed: 1, Motor: 1}}
	plan.Legs[0].Route = []passage.Position{{Lat: 12 + 45.2/60, Lon: 124 + 20.1/60}, {Lat: 33 + 48.8/60, Lon: -(120 + 7.1/60)}}
	plan.Legs[0].Distance = passage.RouteLength(plan.Legs[0].Route)
	s := situation(Boat{}, plan)
	told := map[string]string{}
	for _, l := range s.ExplainLeg(s.Reckon(), 0, passage.Slow, quantity.Metric).Lines {
		told[l.What] = l.Result
	}
	assert.Equal(t, "6185.88 nm", told["distance"])
	assert.Equal(t, "050", told["first course, true"])
	assert.Regexp(t, `^6[2-9]\d\d\.\d+ nm$`, told["by rhumb lines"])
}
