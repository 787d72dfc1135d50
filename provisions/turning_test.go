package provisions

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// gasBoat burns a kilogram of gas an hour, whatever she does, and has so many hours'
// worth above her reserve.
func gasBoat(hours float64) Boat {
	const held = 10
	return Boat{
		Tanks: []Tank{{Name: "bottle", Holds: passage.Gas, Capacity: Amount(hours) + held, Level: Level{Kind: Brim}}},
		Rates: Rates{
			Gas:     GasRates{Boat: 24},
			Reserve: map[passage.Thing]Reserve{passage.Gas: {Amount: held}, passage.Food: {None: true}},
		},
	}
}

// outAndHome is a plan of one leg under sail alone with these speeds through the water.
func outAndHome(miles, out, home, current float64) passage.Plan {
	return passage.Plan{
		Depart: sails, Crew: 2,
		Cases: map[passage.CaseName]passage.Case{passage.Slow: {Speed: 1}},
		Legs: []passage.Leg{{
			From: "Near Bay", To: "Far Harbour", Distance: quantity.Distance(miles), Sail: quantity.Speed(out),
			Current: quantity.Speed(current), Home: &passage.Home{Sail: quantity.Speed(home)},
		}},
	}
}

// turnsFor are the turnings of one thing, leg by leg.
func (s Situation) turnsFor(thing passage.Thing) []Turning {
	var list []Turning
	for _, turn := range s.turning(s.Reckon()) {
		if turn.Thing == thing {
			list = append(list, turn)
		}
	}
	return list
}

func TestPublishedPointsOfNoReturn(t *testing.T) {
	// Rows N2 to N4 of the reference; the last is reckoned from the form for unequal burn. O and H are
	// the speeds made good: with a current c the speeds through the water are O-c and H+c.
	rows := []struct {
		source                  string
		hours, miles, out, home float64
		wantMiles, wantMinutes  float64
		within                  float64
	}{
		{"N2: air-navigation training text", 6.5, 2000, 240, 210, 728.0, 182.0, 0.1},
		{"N3: pilots' discussion page", 10, 1000, 100, 100, 500, 300, 1e-9},
		{"N3: foul going out", 10, 1000, 50, 150, 375, 450, 1e-9},
		{"N3: fair going out", 10, 1000, 150, 50, 375, 150, 1e-9},
		{"N4: vectors of a public geodesy library", 2.5, 200, 92, 118, 129.238, 84.286, 0.001},
	}
	for _, r := range rows {
		for _, current := range []float64{0, 7, -7} {
			s := Situation{Boat: gasBoat(r.hours), Plan: outAndHome(r.miles, r.out-current, r.home+current, current)}
			turns := s.turnsFor(passage.Gas)
			require.Len(t, turns, 1, r.source)
			got := turns[0]
			assert.Equal(t, TurnOnLeg, got.State, r.source)
			assert.InDelta(t, r.wantMiles, float64(got.After), r.within, r.source)
			assert.InDelta(t, r.wantMinutes, got.At.Sub(sails).Minutes(), r.within, r.source)
			assert.InDelta(t, r.hours*60-r.wantMinutes, got.Back*60, r.within, r.source)
			assert.Equal(t, "Near Bay", got.To)
			assert.Equal(t, passage.Slow, got.Case)
			assert.False(t, got.Guess)
		}
	}
}

func TestUnequalBurn(t *testing.T) {
	// PNR = fuel available / (burn out/O + burn home/H): the form of a retired air force navigator's notes;
	// the figures are ours. Out a fifth of the time under engine at 2.4 L/h, home all of it; 5.6 kn at
	// 2100 rpm (row D5), 5 kn under sail: O = 1.12+4 = 5.12, H = 5.6; 0.48 L/h and 2.4 L/h; no charging.
	b := cruiser()
	b.Engine.Charging = 0
	plan := outAndHome(2000, 5, 0, 0)
	plan.Cases[passage.Slow] = passage.Case{Speed: 1, Motor: 1, Power: 0.2}
	plan.Legs[0].Home = &passage.Home{Power: 1}
	turns := Situation{Boat: b, Plan: plan}.turnsFor(passage.Fuel)
	require.Len(t, turns, 1)
	const budget = 150 - 9 - 10 - 170.0/3 // of diesel: level, gauge, pick-up, reserve of a third
	assert.InDelta(t, budget/(0.48/5.12+2.4/5.6), float64(turns[0].After), 1e-9)
}

func TestTurningBackLegByLeg(t *testing.T) {
	// Arithmetic: a kilogram an hour; out 5 kn, home 4. Leg 1 of 100 nm takes 20 h, home 25; ten hours in
	// the stop, and two of waiting; leg 2 of 200 nm. From the beginning of leg 2: 32 h used, 25 h home.
	plan := outAndHome(100, 5, 4, 0)
	plan.Cases[passage.Slow] = passage.Case{Speed: 1, Wait: 2 * time.Hour}
	plan.Legs[0].To, plan.Legs[0].Stay = "Middle Island", 10*time.Hour
	plan.Legs = append(plan.Legs, passage.Leg{
		From: "Middle Island", To: "Far Harbour", Distance: 200, Sail: 5, Home: &passage.Home{Sail: 4},
	})
	giving := plan
	giving.Legs = []passage.Leg{plan.Legs[0], plan.Legs[1]}
	giving.Legs[0].Fill = []passage.Giving{{Thing: passage.Gas, Sure: true}}
	unsure := plan
	unsure.Legs = []passage.Leg{plan.Legs[0], plan.Legs[1]}
	unsure.Legs[0].Fill = []passage.Giving{{Thing: passage.Gas}}

	type want struct {
		state       TurnState
		miles       float64
		hours, back float64
		to          string
	}
	for _, r := range []struct {
		name  string
		plan  passage.Plan
		hours float64
		want  [2]want
	}{
		{"on leg 2", plan, 102, [2]want{{TurnBeyond, 0, 0, 0, "Near Bay"}, {TurnOnLeg, 100, 32 + 20, 25 + 25, "Near Bay"}}},
		{"at the very beginning of leg 2", plan, 57, [2]want{{TurnBeyond, 0, 0, 0, "Near Bay"}, {TurnOnLeg, 0, 32, 25, "Near Bay"}}},
		{"in the stay", plan, 50, [2]want{{TurnBeyond, 0, 0, 0, "Near Bay"}, {TurnPassed, 0, 0, 0, "Near Bay"}}},
		{"at the very end of leg 1", plan, 45, [2]want{{TurnOnLeg, 100, 20, 25, "Near Bay"}, {TurnPassed, 0, 0, 0, "Near Bay"}}},
		{"on leg 1", plan, 36, [2]want{{TurnOnLeg, 80, 16, 20, "Near Bay"}, {TurnPassed, 0, 0, 0, "Near Bay"}}},
		{"nothing above the reserve", plan, 0, [2]want{{TurnOnLeg, 0, 0, 0, "Near Bay"}, {TurnPassed, 0, 0, 0, "Near Bay"}}},
		{"beyond leg 2", plan, 200, [2]want{{TurnBeyond, 0, 0, 0, "Near Bay"}, {TurnBeyond, 0, 0, 0, "Near Bay"}}},
		{"filled up in the stop", giving, 54, [2]want{{TurnBeyond, 0, 0, 0, "Near Bay"}, {TurnOnLeg, 120, 32 + 24, 30, "Middle Island"}}},
		{"a stop that may give it is none", unsure, 102, [2]want{{TurnBeyond, 0, 0, 0, "Near Bay"}, {TurnOnLeg, 100, 52, 50, "Near Bay"}}},
	} {
		got := Situation{Boat: gasBoat(r.hours), Plan: r.plan}.turnsFor(passage.Gas)
		require.Len(t, got, 2, r.name)
		for leg, w := range r.want {
			g := got[leg]
			assert.Equal(t, leg, g.Leg)
			assert.Equal(t, w.state, g.State, "%s, leg %d", r.name, leg)
			assert.Equal(t, w.to, g.To, "%s, leg %d", r.name, leg)
			assert.InDelta(t, w.miles, float64(g.After), 1e-9, "%s, leg %d", r.name, leg)
			assert.InDelta(t, w.back, g.Back, 1e-9, "%s, leg %d", r.name, leg)
			if w.state == TurnOnLeg {
				assert.WithinDuration(t, sails.Add(time.Duration(w.hours*float64(time.Hour))), g.At, time.Millisecond, "%s, leg %d", r.name, leg)
			} else {
				assert.Zero(t, g.At, "%s, leg %d", r.name, leg)
			}
		}
	}
}

func TestAReserveAlreadyTouchedIsPassed(t *testing.T) {
	b := gasBoat(10)
	b.Tanks[0].Level = amount(9.9) // of the ten held back
	got := Situation{Boat: b, Plan: outAndHome(100, 5, 4, 0)}.turnsFor(passage.Gas)
	require.Len(t, got, 1)
	assert.Equal(t, TurnPassed, got[0].State)

	b.Tanks[0].Level = amount(10 - crumb/2)
	got = Situation{Boat: b, Plan: outAndHome(100, 5, 4, 0)}.turnsFor(passage.Gas)
	assert.Equal(t, TurnOnLeg, got[0].State, "a crumb is nothing")
	assert.Zero(t, got[0].After)
}

func TestNoWayHome(t *testing.T) {
	// Leg 1 has a fair current of 4 kn: 3.6 kn home is none. Then leg 2 has no way home either.
	plan := outAndHome(100, 5, 3.6, 4)
	plan.Legs = append(plan.Legs, passage.Leg{From: "Far Harbour", To: "Farther", Distance: 50, Sail: 5, Home: &passage.Home{Sail: 4}})
	s := Situation{Boat: gasBoat(1000), Plan: plan}
	got := s.turnsFor(passage.Gas)
	require.Len(t, got, 2)
	for _, turn := range got {
		assert.Equal(t, TurnNoWay, turn.State)
		assert.Zero(t, turn.After)
		assert.Zero(t, turn.At)
	}

	points := s.onOrBack(s.Reckon())
	require.Len(t, points, 2)
	assert.Equal(t, OnOrBack{To: "Near Bay", Leg: 0, Case: passage.Slow, Out: 9}, points[0])
	assert.True(t, points[1].Known, "of its own leg alone")
}

func TestHomeThatCannotBeReckonedIsNoWay(t *testing.T) {
	// Out under sail; home under engine, with a speed but nothing to tell the burn from.
	plan := outAndHome(100, 5, 0, 0)
	plan.Legs[0].Power, plan.Legs[0].RPM = 5, 2000
	plan.Legs[0].Home = &passage.Home{Power: 1}
	plan.Cases[passage.Slow] = passage.Case{Speed: 1, Motor: 1}
	got := Situation{Boat: gasBoat(1000), Plan: plan}.turnsFor(passage.Gas)
	require.Len(t, got, 1)
	assert.Equal(t, TurnNoWay, got[0].State)
}

func TestAGuessedWayHomeIsSaid(t *testing.T) {
	plan := outAndHome(100, 5, 4, 0)
	plan.Legs[0].Home = nil // half of 5
	plan.Legs = append(plan.Legs, passage.Leg{From: "Far Harbour", To: "Farther", Distance: 500, Sail: 5, Home: &passage.Home{Sail: 4}})
	s := Situation{Boat: gasBoat(120), Plan: plan}
	got := s.turnsFor(passage.Gas)
	require.Len(t, got, 2)
	assert.True(t, got[0].Guess)
	assert.True(t, got[1].Guess, "the way back leads over leg 1")
	// 120 - 20 out - 40 home = 60; 60/(1/5+1/4)
	assert.InDelta(t, 60/0.45, float64(got[1].After), 1e-9)
	assert.InDelta(t, 40+60/0.45/4, got[1].Back, 1e-9)

	points := s.onOrBack(s.Reckon())
	assert.True(t, points[0].Guess)
	assert.False(t, points[1].Guess)
	assert.Equal(t, quantity.Speed(2.5), points[0].Home)
}

func TestTheWatermakerRunsGoingHomeUnderEngine(t *testing.T) {
	// A litre an hour; the watermaker makes all of it on a day under engine and nothing without. Out
	// under sail at 5 kn, home under engine: only the way out uses water, and she turns at B*O.
	b := cruiser()
	b.Engine.Charging = 0
	b.Watermaker = &Watermaker{Output: 24, Run: time.Hour, NeedsEngine: true}
	b.Rates.Water = WaterRates{Boat: 24}
	b.Rates.Reserve[passage.Water] = Reserve{Amount: 20}
	plan := outAndHome(4000, 5, 0, 0)
	plan.Cases[passage.Slow] = passage.Case{Speed: 1, Motor: 1}
	plan.Legs[0].Home = &passage.Home{Power: 1}
	got := Situation{Boat: b, Plan: plan}.turnsFor(passage.Water)
	require.Len(t, got, 1)
	const budget = 200 - 11 - 8 + 110 - 2 - 20
	assert.InDelta(t, budget*5, float64(got[0].After), 1e-9)
}

func TestALegOfNoLengthIsReckonedLikeAnyOther(t *testing.T) {
	// 100 nm out take 20 h and home 25 h: 50 kg are enough to turn back from the end, 40 are not.
	plan := outAndHome(100, 5, 4, 0)
	plan.Legs = append(plan.Legs, passage.Leg{From: "Far Harbour", To: "the quay", Sail: 5, Home: &passage.Home{Sail: 4}})
	assert.Equal(t, TurnBeyond, Situation{Boat: gasBoat(50), Plan: plan}.turnsFor(passage.Gas)[1].State)
	assert.Equal(t, TurnPassed, Situation{Boat: gasBoat(40), Plan: plan}.turnsFor(passage.Gas)[1].State)
}

func TestWhereNothingIsUsedSheCanAlwaysTurnBack(t *testing.T) {
	b := gasBoat(0)
	b.Rates.Gas = GasRates{}
	got := Situation{Boat: b, Plan: outAndHome(100, 5, 4, 0)}.turnsFor(passage.Gas)
	require.Len(t, got, 1)
	assert.Equal(t, TurnBeyond, got[0].State)
}

func TestThingsAreInTheirFixedOrderAndBoughtFoodIsLeftOut(t *testing.T) {
	s := Situation{Boat: cruiser(), Plan: outAndOn(), Trim: passage.Trim{Fouling: 1}}
	r := s.Reckon()
	r.Resources[passage.Food] = Resource{Thing: passage.Food, Stretches: []Stretch{
		{From: "Near Bay", To: "Middle Island", Hard: passage.Slow, Available: 30},
		{From: "Middle Island", To: "Far Harbour", Hard: passage.Slow, Bought: true},
	}}
	type row struct {
		leg   int
		thing passage.Thing
		to    string
	}
	var got []row
	for _, turn := range s.turning(r) {
		got = append(got, row{turn.Leg, turn.Thing, turn.To})
	}
	assert.Equal(t, []row{
		{0, passage.Water, "Near Bay"}, {0, passage.Fuel, "Near Bay"}, {0, passage.Food, "Near Bay"}, {0, passage.Gas, "Near Bay"},
		{1, passage.Water, "Middle Island"}, {1, passage.Fuel, "Near Bay"}, {1, passage.Gas, "Near Bay"},
	}, got)
}

func TestTheHardCaseOfTheStretchDecides(t *testing.T) {
	// Of water slow needs most and of fuel, all under engine in the quick case, that one.
	plan := outAndOn()
	plan.Cases[passage.Quick] = passage.Case{Speed: 1, Motor: 1, Power: 1}
	s := Situation{Boat: cruiser(), Plan: plan}
	r := s.Reckon()
	for _, turn := range s.turning(r) {
		stretch, _, ok := s.stretchOf(r, turn.Thing, turn.Leg)
		require.True(t, ok)
		assert.Equal(t, stretch.Hard, turn.Case, turn.Thing)
	}
	assert.Equal(t, passage.Quick, s.turnsFor(passage.Fuel)[0].Case)
	assert.Equal(t, passage.Slow, s.turnsFor(passage.Water)[0].Case)
}

func TestNoCaseMadeNoTurning(t *testing.T) {
	plan := outAndHome(100, 0.4, 4, 0)
	s := Situation{Boat: gasBoat(10), Plan: plan}
	assert.Empty(t, s.turning(s.Reckon()))
	assert.Empty(t, s.onOrBack(s.Reckon()))
	assert.Equal(t, Outlook{}, s.Outlook(s.Reckon()))
}

func TestPublishedEqualTimePoints(t *testing.T) {
	// Rows N1 and N4 of the reference.
	for _, r := range []struct {
		source                  string
		miles, out, home        float64
		want, remaining, within float64
	}{
		{"N1: CASA (Australia) AC 91-15 v1.2, Annex B, table 9", 906, 250, 290, 487, 419, 0.5},
		{"N1: exact", 906, 250, 290, 486.56, 419.44, 0.005},
		{"N4: vectors of a public geodesy library", 85, 92, 118, 47.762, 85 - 47.762, 0.001},
	} {
		s := Situation{Boat: gasBoat(1e6), Plan: outAndHome(r.miles, r.out, r.home, 0)}
		points := s.onOrBack(s.Reckon())
		require.Len(t, points, 1, r.source)
		p := points[0]
		assert.True(t, p.Known)
		assert.Equal(t, passage.Slow, p.Case)
		assert.InDelta(t, r.want, float64(p.After), r.within, r.source)
		assert.InDelta(t, r.remaining, r.miles-float64(p.After), r.within, r.source)
		assert.InDelta(t, float64(p.After)/r.out, p.At.Sub(sails).Hours(), 1e-9, r.source)
		assert.InDelta(t, r.out, float64(p.Out), 1e-9)
		assert.InDelta(t, r.home, float64(p.Home), 1e-9)
	}

	// N4: E 2.5 h there is 129.238 nm, which is beyond the leg of 85.
	got := Situation{Boat: gasBoat(2.5), Plan: outAndHome(85, 92, 118, 0)}.turnsFor(passage.Gas)
	require.Len(t, got, 1)
	assert.Equal(t, TurnBeyond, got[0].State)
}

func TestOnOrBackTakesTheFirstCaseThatMakesEveryLeg(t *testing.T) {
	plan := outAndHome(100, 4, 4, 0)
	plan.Cases[passage.Slow] = passage.Case{Speed: 0.1}
	plan.Cases[passage.Expected] = passage.Case{Speed: 1}
	plan.Cases[passage.Quick] = passage.Case{Speed: 1.2}
	plan.Legs[0].Stay = 5 * time.Hour
	plan.Legs = append(plan.Legs, passage.Leg{From: "Far Harbour", To: "Farther", Distance: 80, Sail: 4, Home: &passage.Home{Sail: 2}})
	s := Situation{Boat: gasBoat(10), Plan: plan}
	points := s.onOrBack(s.Reckon())
	require.Len(t, points, 2)
	assert.Equal(t, passage.Expected, points[0].Case)
	assert.InDelta(t, 50, float64(points[0].After), 1e-9)
	// 80*2/6, after 25 h of leg 1 and 5 h of stay
	assert.InDelta(t, 80*2/6.0, float64(points[1].After), 1e-9)
	assert.InDelta(t, 30+80*2/6.0/4, points[1].At.Sub(sails).Hours(), 1e-6)
}

func TestOnAndBackTakeTheSameTime(t *testing.T) {
	// N5 and the definition: without current and with equal speeds it is half way, exactly.
	rapid.Check(t, func(t *rapid.T) {
		miles := rapid.Float64Range(1, 5000).Draw(t, "miles")
		out := rapid.Float64Range(1, 10).Draw(t, "out")
		home := rapid.Float64Range(1, 10).Draw(t, "home")
		s := Situation{Boat: gasBoat(10), Plan: outAndHome(miles, out, out, 0)}
		assert.InDelta(t, miles/2, float64(s.onOrBack(s.Reckon())[0].After), 1e-9*miles)

		current := rapid.Float64Range(-0.5, 0.5).Draw(t, "current")
		s.Plan = outAndHome(miles, out, home, current)
		p := s.onOrBack(s.Reckon())[0]
		require.Equal(t, p.Known, home-current >= 0.5-1e-9 && out+current >= 0.5-1e-9)
		if p.Known {
			on, back := (miles-float64(p.After))/(out+current), float64(p.After)/(home-current)
			require.InDelta(t, on, back, 1e-6)
		}
	})
}

// aSituation is a random passage of up to four legs with stops that may give water,
// fuel or gas.
func aSituation(t *rapid.T) Situation {
	b := cruiser()
	b.Tanks = append(b.Tanks, Tank{Name: "bladder", Holds: passage.Fuel, Capacity: 400, Level: Level{Kind: Brim}})
	b.Tanks = append(b.Tanks, Tank{Name: "bow water", Holds: passage.Water, Capacity: 600, Level: Level{Kind: Brim}})
	if rapid.Bool().Draw(t, "maker") {
		b.Watermaker = &Watermaker{Output: 20, Run: time.Hour, NeedsEngine: rapid.Bool().Draw(t, "needs engine")}
	}
	b.Heater = &Heater{Burn: 0.25, Run: 6 * time.Hour}
	plan := outAndOn()
	plan.Climate = rapid.SampledFrom([]passage.Climate{passage.Cold, passage.Temperate, passage.Hot}).Draw(t, "climate")
	plan.Crew = rapid.IntRange(1, 5).Draw(t, "crew")
	plan.Legs = nil
	for i := range rapid.IntRange(1, 4).Draw(t, "legs") {
		leg := passage.Leg{
			From: "place", To: "place", RPM: rapid.IntRange(1800, 2400).Draw(t, "rpm"),
			Distance: quantity.Distance(rapid.Float64Range(1, 600).Draw(t, "miles")),
			Sail:     quantity.Speed(rapid.Float64Range(2, 7).Draw(t, "sail")),
			Current:  quantity.Speed(rapid.Float64Range(-0.7, 0.7).Draw(t, "current")),
			Stay:     time.Duration(rapid.IntRange(0, 72).Draw(t, "stay")) * time.Hour,
			AsIs:     rapid.Bool().Draw(t, "as is"),
		}
		if rapid.Bool().Draw(t, "home") {
			leg.Home = &passage.Home{Sail: quantity.Speed(rapid.Float64Range(0.5, 6).Draw(t, "home sail")), Power: quantity.Share(rapid.Float64Range(0, 1).Draw(t, "home power"))}
		}
		if thing := rapid.SampledFrom([]passage.Thing{"", passage.Water, passage.Fuel, passage.Gas}).Draw(t, "fill"); i < 3 && thing != "" {
			leg.Fill = []passage.Giving{{Thing: thing, Sure: rapid.Bool().Draw(t, "sure")}}
		}
		plan.Legs = append(plan.Legs, leg)
	}
	return Situation{Boat: b, Plan: plan, Trim: passage.Trim{Fouling: rapid.Float64Range(0.8, 1).Draw(t, "fouling")}}
}

// sailed is what is used of a thing on legs sailed one after the other in a case, with
// the stays and waits between them.
func (s Situation) sailed(thing passage.Thing, name passage.CaseName, legs []passage.Leg) (use, hours float64) {
	plan := s.Plan
	plan.Legs = legs
	f := newHousehold(s.Boat, plan).follow(passage.Run(plan, s.Boat.Engine, name, sails, s.Trim)).figures()
	used := map[passage.Thing]Amount{passage.Water: f.Water, passage.Fuel: f.Fuel, passage.Gas: f.Gas}
	return float64(used[thing]), f.Voyage.Hours
}

// sailedHome is the same for going back along legs, each a passage of its own without stops.
func (s Situation) sailedHome(thing passage.Thing, name passage.CaseName, legs []passage.Leg) (use, hours float64) {
	for _, leg := range legs {
		c := s.Plan.Cases[name]
		leg.Current = -leg.Current
		leg.Sail /= 2
		if leg.Home != nil {
			leg.Sail, c.Power = leg.Home.Sail, leg.Home.Power
		}
		one := s
		one.Plan.Cases = map[passage.CaseName]passage.Case{name: c}
		u, h := one.sailed(thing, name, []passage.Leg{leg})
		use, hours = use+u, hours+h
	}
	return use, hours
}

// roundTrip is what is used of a thing, and how long it takes, to sail from the beginning
// of the stretch so many miles of a leg and back again.
func (s Situation) roundTrip(turn Turning, first int, miles float64) (use, out, home float64) {
	legs := append([]passage.Leg(nil), s.Plan.Legs[first:turn.Leg+1]...)
	legs[len(legs)-1].Distance = quantity.Distance(miles)
	useOut, out := s.sailed(turn.Thing, turn.Case, legs)
	useHome, home := s.sailedHome(turn.Thing, turn.Case, legs)
	return useOut + useHome, out, home
}

func TestTurningAtThePointKeepsTheReserveWholeAndLaterDoesNot(t *testing.T) {
	states := map[TurnState]int{}
	untilMet(t, func() bool { return states[TurnOnLeg] > 0 && states[TurnBeyond] > 0 && states[TurnPassed] > 0 }, func(t *rapid.T) {
		s := aSituation(t)
		r := s.Reckon()
		for _, turn := range s.turning(r) {
			states[turn.State]++
			stretch, cut, ok := s.stretchOf(r, turn.Thing, turn.Leg)
			require.True(t, ok)
			budget := float64(stretch.Available - stretch.Reserve)
			whole := float64(s.Plan.Legs[turn.Leg].Distance)
			switch turn.State {
			case TurnOnLeg:
				miles := float64(turn.After)
				require.True(t, 0 <= miles && miles <= whole+1e-9, miles)
				use, _, home := s.roundTrip(turn, cut.first, miles)
				require.InDelta(t, budget, use, 1e-6, "%v", turn)
				require.InDelta(t, home, turn.Back, 1e-6)
				use, _, _ = s.roundTrip(turn, cut.first, miles+0.01)
				require.Greater(t, use, budget, "a moment later")
			case TurnBeyond:
				use, _, _ := s.roundTrip(turn, cut.first, whole)
				require.LessOrEqual(t, use, budget+1e-6)
			case TurnPassed:
				use, _, _ := s.roundTrip(turn, cut.first, 0)
				require.Greater(t, use, budget)
			}
		}
	})
	t.Log(states)
}

func TestTheMomentIsWhenSheIsThere(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := aSituation(t)
		r := s.Reckon()
		for _, turn := range s.turning(r) {
			if turn.State != TurnOnLeg {
				continue
			}
			v := r.Cases[turn.Case].Voyage
			for _, span := range v.Spans {
				if span.Kind == passage.AtSea && span.Leg == turn.Leg {
					require.WithinDuration(t, span.Start.Add(time.Duration(float64(turn.After)/span.Speed*float64(time.Hour))), turn.At, time.Millisecond)
				}
			}
		}
	})
}

func TestMoreCurrentNeverLengthensTheWayOut(t *testing.T) {
	// Source: pilots' discussion page, numbers checked (N3): any steady current brings the point of no
	// return nearer. It holds where she is as fast home as out through the water and uses the same; one
	// who is slower home gains more of a current that sets home than she loses of it going out.
	rapid.Check(t, func(t *rapid.T) {
		hours := rapid.Float64Range(1, 500).Draw(t, "hours")
		speed := rapid.Float64Range(3, 8).Draw(t, "speed")
		less := rapid.Float64Range(0, 2).Draw(t, "less")
		more := less + rapid.Float64Range(0.01, 0.4).Draw(t, "more")
		miles := func(current float64) float64 {
			turns := Situation{Boat: gasBoat(hours), Plan: outAndHome(2500, speed, speed, current)}.turnsFor(passage.Gas)
			require.Equal(t, TurnOnLeg, turns[0].State)
			return float64(turns[0].After)
		}
		require.Less(t, miles(-more), miles(-less)+1e-9, "against")
		require.InDelta(t, miles(more), miles(-more), 1e-6, "fair is as bad: it is foul going home")
	})
}

func TestMoreAboardAndLessInTheTanksBringThePointNearer(t *testing.T) {
	far := func(turn Turning) float64 {
		switch turn.State {
		case TurnBeyond:
			return math.Inf(1)
		case TurnOnLeg:
			return float64(turn.After)
		}
		return -1
	}
	rapid.Check(t, func(t *rapid.T) {
		s := aSituation(t)
		s.Plan.Cases = map[passage.CaseName]passage.Case{passage.Slow: s.Plan.Cases[passage.Slow]}
		thing := rapid.SampledFrom([]passage.Thing{passage.Water, passage.Fuel, passage.Gas}).Draw(t, "thing")
		before := s.turnsFor(thing)
		more := s
		more.Boat.Tanks = append([]Tank(nil), s.Boat.Tanks...)
		for i := range more.Boat.Tanks {
			more.Boat.Tanks[i].Unusable = min(more.Boat.Tanks[i].Unusable+2, more.Boat.Tanks[i].Capacity)
		}
		after := more.turnsFor(thing)
		crowd := s
		crowd.Plan.Crew++
		crowded := crowd.turnsFor(thing)
		require.Len(t, after, len(before))
		require.Len(t, crowded, len(before))
		for i := range before {
			if before[i].State == TurnNoWay {
				continue
			}
			require.LessOrEqual(t, far(after[i]), far(before[i])+1e-9)
			require.LessOrEqual(t, far(crowded[i]), far(before[i])+1e-9)
		}
	})
}
