package provisions

import (
	"fmt"
	"math"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// The contingencies have no published tables. What is checked here against is the
// arithmetic written beside each row, for the boat and the passage of threePlaces.

// threePlaces is a passage on which all holds, in round figures. Two people, 120 nm,
// a day's stay where water is given, 480 nm; under sail and under engine at 1800 rpm
// she makes 5 kn in every case: 24 + 24 + 96 h, six days.
//
//	water 20 L a day of 160 L, 20 L held back; 20 L in a sealed can
//	fuel  0.25*120 h*2 L/h + 1 L a day without engine = 64.75 L of 100 L, 10 L held back
//	food  12 person-days of 16, a day held back
//	gas   0.3 kg a day, 1.8 kg of 3 kg, 0.3 kg held back
func threePlaces() Situation {
	same := passage.Case{Speed: 1, Motor: 1, Power: 0.25}
	return Situation{
		Boat: Boat{
			Engine: passage.Engine{
				RatedRPM: 3000, CruiseRPM: 1800, ChargingBurn: 1, Charging: time.Hour,
				Curve: []passage.CurveRow{
					{RPM: 1400, Speed: 4, Burn: 1},
					{RPM: 1800, Speed: 5, Burn: 2},
					{RPM: 2400, Speed: 6, Burn: 4},
				},
			},
			Tanks: []Tank{
				{Name: "aft water", Holds: passage.Water, Capacity: 60, Level: Level{Kind: Brim}},
				{Name: "fore water", Holds: passage.Water, Capacity: 100, Level: Level{Kind: Brim}},
				{Name: "raft can", Holds: passage.Water, Capacity: 20, Level: Level{Kind: Brim}, Sealed: true},
				{Name: "diesel", Holds: passage.Fuel, Capacity: 100, Level: Level{Kind: Brim}},
				{Name: "bottle", Holds: passage.Gas, Capacity: 3, Level: Level{Kind: Brim}},
			},
			Rates: Rates{
				Water: WaterRates{Drinking: 10, Rationed: 5}, Gas: GasRates{Boat: 0.3},
				Energy: 100, Rations: []Ration{{"it", 0.1}},
				Reserve: map[passage.Thing]Reserve{
					passage.Water: {Amount: 20}, passage.Fuel: {Amount: 10}, passage.Food: {Days: 1}, passage.Gas: {Amount: 0.3},
				},
			},
			Foods: []Food{plain("it")},
			Lots:  []Lot{packs("it", 16, 0)},
		},
		Plan: passage.Plan{
			Name: "three places", Depart: sails, Crew: 2, Climate: passage.Temperate, Kind: passage.Offshore,
			Fill: []passage.Giving{
				{Thing: passage.Water, Sure: true}, {Thing: passage.Fuel, Sure: true}, {Thing: passage.Food, Sure: true},
			},
			Cases: map[passage.CaseName]passage.Case{passage.Slow: same, passage.Expected: same, passage.Quick: same},
			Legs: []passage.Leg{
				{
					From: "Near Bay", To: "Middle Island", Distance: 120, Sail: 5, Stay: 24 * time.Hour,
					Fill: []passage.Giving{{Thing: passage.Water, Sure: true}},
				},
				{From: "Middle Island", To: "Far Harbour", Distance: 480, Sail: 5},
			},
		},
		Trim: clean, Now: sails,
	}
}

// asked is the what-if of that kind.
func asked(t require.TestingT, s Situation, k Contingency) WhatIf {
	list := s.WhatIfs(s.Reckon()).List
	at := slices.IndexFunc(list, func(w WhatIf) bool { return w.Kind == k })
	require.GreaterOrEqual(t, at, 0, "%s is not asked", k)
	return list[at]
}

func TestAsPlannedThreePlacesHold(t *testing.T) {
	r := threePlaces().Reckon()
	assert.Equal(t, Holds, r.Verdict)
	assert.InDelta(t, 64.75, float64(r.first(passage.Fuel).Need), 1e-9)
	assert.InDelta(t, 144, r.Cases[passage.Slow].Voyage.Hours, 1e-9)
}

func TestWhatBecomesOfHer(t *testing.T) {
	maker := &Watermaker{Output: 5, Run: 2 * time.Hour}
	for _, c := range []struct {
		name   string
		kind   Contingency
		change func(*Situation)
		want   WhatIf // Leg, Worse, Cures and At apart
		hours  float64
	}{
		// Without the 100 L tank 60 L: the first stretch needs 20, the second 80; it begins
		// after 48 h, 60/20 = 3 days on there is nothing, 24 h at 5 kn before the end.
		{"tank lost", FullestTankLost, func(*Situation) {}, WhatIf{
			Verdict: RunsOut, Thing: passage.Water, Place: "fore water", From: "Middle Island", To: "Far Harbour",
			Day: 6, Miles: 120, Missing: 20, Sealed: 20,
		}, 120},
		{"tank lost, one of equals", FullestTankLost, func(s *Situation) { s.Boat.Tanks[0].Capacity = 100 }, WhatIf{
			Verdict: Holds, Place: "aft water",
		}, 0},
		// 5 L/h for 2 h: 10 of 20 L a day are made. Dead, 2*5 L rationed: the same.
		{"watermaker dead, rationed", WatermakerDead, func(s *Situation) { s.Boat.Watermaker = maker }, WhatIf{Verdict: Holds}, 0},
		// 90 L less 20 L at 20 L a day: 3.5 days after 48 h. 80 + 20 - 90.
		{"watermaker dead, no ration given", WatermakerDead, func(s *Situation) {
			s.Boat.Watermaker = maker
			s.Boat.Rates.Water.Rationed = 0
			s.Boat.Tanks[1].Capacity = 30
		}, WhatIf{
			Verdict: IntoReserve, Thing: passage.Water, From: "Middle Island", To: "Far Harbour", Day: 6, Missing: 10, Sealed: 20,
		}, 132},
		// 90 L of fuel at 2 L/h: 24 h of the first leg, a litre in the stay, 20.5 h of the
		// second; adrift 75.5 h; 377.5 nm to go, another 75.5 h; 219.5 h in all. Food is for 8 days;
		// 27.5 h at 5 kn. Fuel, all used up, is not judged; water and gas go into their reserves.
		{"no wind", NoWind, func(*Situation) {}, WhatIf{
			Verdict: RunsOut, Thing: passage.Food, From: "Near Bay", To: "Far Harbour", Day: 9, Miles: 137.5, Missing: Amount(2*219.5/24 - 16),
		}, 192},
		// 2.25 L a day of 162 h are 15.1875; no: at sea 0.25*5 kn is what sail makes alone.
		{"no engine", NoEngine, func(*Situation) {}, WhatIf{Verdict: Holds}, 0},
		// At 2400 rpm 0.25*6 + 0.75*5 - 4.6 = 0.65 kn; under sail 0.4 kn is no way made.
		{"no engine against a stream", NoEngine, func(s *Situation) {
			leg := &s.Plan.Legs[1]
			leg.RPM, leg.Current, leg.Distance = 2400, -4.6, 48
		}, WhatIf{Verdict: RunsOut, Unmade: []int{1}, From: "Middle Island", To: "Far Harbour"}, 0},
		// 5 L a day are made with the engine running, none without: 20 L a day for 4 days, 20 held back, of 90.
		{"no engine to drive the watermaker", NoEngine, func(s *Situation) {
			s.Boat.Watermaker = &Watermaker{Output: 5, Run: time.Hour, NeedsEngine: true}
			s.Boat.Tanks[1].Capacity = 30
		}, WhatIf{
			Verdict: IntoReserve, Thing: passage.Water, From: "Middle Island", To: "Far Harbour", Day: 6, Missing: 10, Sealed: 20,
		}, 132},
		{"no engine, and the watermaker needs none", NoEngine, func(s *Situation) {
			s.Boat.Watermaker = maker
			s.Boat.Tanks[1].Capacity = 30
		}, WhatIf{Verdict: Holds}, 0},
		// 4 kn: 30 + 24 + 120 h. Food for 14.5 + 2 of 16 person-days: after 8 - 1 days.
		{"a fifth slower", FifthSlower, func(*Situation) {}, WhatIf{
			Verdict: IntoReserve, Thing: passage.Food, From: "Near Bay", To: "Far Harbour", Day: 8, Missing: 0.5,
		}, 168},
		// 0.8*5 - 0.5 = 3.5 kn where a fifth off the current too would be 3.6: 600/3.5 + 24 =
		// 195.43 h, 16.286 of 16 person-days; after 192 h 3.43 h are left.
		{"a fifth slower against a stream, which is no slower", FifthSlower, func(s *Situation) {
			s.Plan.Legs[0].Current, s.Plan.Legs[1].Current = -0.5, -0.5
		}, WhatIf{
			Verdict: RunsOut, Thing: passage.Food, From: "Near Bay", To: "Far Harbour", Day: 9, Miles: 12, Missing: Amount((600/3.5+24)/12 - 16),
		}, 192},
		// 16 rations feed three for 5 days; 24 h at 5 kn are left. 3*6 - 15.
		{"one more aboard", OneMoreAboard, func(*Situation) {}, WhatIf{
			Verdict: RunsOut, Thing: passage.Food, From: "Near Bay", To: "Far Harbour", Day: 6, Miles: 120, Missing: 3,
		}, 120},
		// All six days on 110 L at 20 L: 5.5 days, 12 h at 5 kn.
		{"nothing at the stop", NothingAt, func(s *Situation) { s.Boat.Tanks[1].Capacity = 50 }, WhatIf{
			Verdict: RunsOut, Thing: passage.Water, Place: "Middle Island", From: "Near Bay", To: "Far Harbour",
			Day: 6, Miles: 60, Missing: 10, Sealed: 20,
		}, 132},
		// On 120 L it is just enough, after it there is the reserve: 100 L, 5 days, the sixth begins.
		{"nothing at the stop, into the reserve", NothingAt, func(s *Situation) { s.Boat.Tanks[1].Capacity = 60 }, WhatIf{
			Verdict: IntoReserve, Thing: passage.Water, Place: "Middle Island", From: "Near Bay", To: "Far Harbour",
			Day: 6, Missing: 20, Sealed: 20,
		}, 120},
		// What is chilled is good on the first day alone: then the stay, and all of the second leg.
		{"fridge dead", FridgeDead, func(s *Situation) { s.Boat.Foods[0].Chilled = true }, WhatIf{
			Verdict: RunsOut, Thing: passage.Food, From: "Near Bay", To: "Far Harbour", Day: 2, Miles: 480, Missing: 10,
		}, 24},
		// Rice is for the stove. 20 packs of biscuits: 200 kcal a day, and for the rice that is
		// missing as much again: 5 days. Half of what they want would be enough.
		{"gas gone", GasGone, func(s *Situation) {
			rice, biscuits := plain("it"), plain("biscuits")
			rice.Cook = true
			s.Boat.Foods = []Food{rice, biscuits}
			s.Boat.Rates.Rations, s.Boat.Rates.Energy = []Ration{{"it", 0.1}, {"biscuits", 0.1}}, 200
			s.Boat.Lots = []Lot{packs("it", 20, 0), packs("biscuits", 20, 0)}
		}, WhatIf{
			Verdict: RunsOut, Thing: passage.Food, From: "Near Bay", To: "Far Harbour", Day: 6, Miles: 120, Missing: 2,
		}, 120},
		// 400 + 300 nm at 5 kn: 140 h after the stay. Food for 15.667 + 2 of 16 person-days.
		{"divert", DivertTo, func(s *Situation) {
			s.Plan.Legs[1].Alternates = []passage.Alternate{{Name: "Small Cove", After: 400, Distance: 300}}
		}, WhatIf{
			Verdict: IntoReserve, Thing: passage.Food, Place: "Small Cove", From: "Near Bay", To: "Small Cove", Day: 8, Missing: Amount(2*188.0/24 + 2 - 16),
		}, 168},
		{"divert from the first leg", DivertTo, func(s *Situation) {
			s.Plan.Legs[0].Alternates = []passage.Alternate{{Name: "Small Cove", After: 60, Distance: 30}}
		}, WhatIf{Verdict: Holds, Place: "Small Cove"}, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := threePlaces()
			c.change(&s)
			require.Equal(t, Holds, s.Reckon().Verdict)
			got := asked(t, s, c.kind)

			assert.Equal(t, c.want.Verdict, got.Verdict)
			assert.Equal(t, c.want.Verdict != Holds, got.Worse)
			assert.Equal(t, c.want.Thing, got.Thing)
			assert.Equal(t, c.want.Unmade, got.Unmade)
			assert.Equal(t, c.want.Place, got.Place)
			assert.Equal(t, c.want.From, got.From)
			assert.Equal(t, c.want.To, got.To)
			assert.Equal(t, c.want.Day, got.Day)
			assert.InDelta(t, float64(c.want.Miles), float64(got.Miles), 1e-6)
			assert.InDelta(t, float64(c.want.Missing), float64(got.Missing), 1e-6)
			assert.Equal(t, c.want.Sealed, got.Sealed)
			if c.want.Day > 0 {
				assert.WithinDuration(t, sails.Add(time.Duration(c.hours*float64(time.Hour))), got.At, time.Millisecond)
			} else {
				assert.Zero(t, got.At)
			}
			if c.want.Verdict != Holds {
				assert.Equal(t, passage.Slow, got.Case)
			}
		})
	}
}

// The hard case is found anew. The engine drives a watermaker that makes all 20 L of a
// day under engine; so the slow case, all of it under engine, uses none, and the
// expected one most. With nothing made it is the slow one, 30 + 24 + 120 h at 4 kn: on
// the second stretch 90 L at 20 L a day from 54 h on, 162 h.
func TestHardCaseIsFoundAnew(t *testing.T) {
	s := threePlaces()
	s.Boat.Watermaker = &Watermaker{Output: 10, Run: 2 * time.Hour, NeedsEngine: true}
	s.Boat.Engine.Charging = 0
	s.Boat.Tanks[1].Capacity, s.Boat.Tanks[3].Capacity = 50, 900
	s.Boat.Rates.Water.Rationed = 0
	s.Boat.Rates.Reserve[passage.Water] = Reserve{Amount: 10}
	s.Boat.Lots = []Lot{packs("it", 99, 0)}
	s.Plan.Cases = map[passage.CaseName]passage.Case{
		passage.Slow:     {Speed: 0.8, Motor: 0.8, Power: 1},
		passage.Expected: {Speed: 1, Motor: 1, Power: 0},
		passage.Quick:    {Speed: 1, Motor: 1, Power: 0.5},
	}
	r := s.Reckon()
	require.Equal(t, Holds, r.Verdict)
	require.Equal(t, passage.Expected, r.Resources[passage.Water].Stretches[1].Hard)

	s.Plan.Legs[1].Distance, s.Boat.Tanks[1].Capacity = 480, 30
	require.Equal(t, Holds, s.Reckon().Verdict)
	dead := asked(t, s, WatermakerDead)
	assert.Equal(t, RunsOut, dead.Verdict)
	assert.Equal(t, passage.Slow, dead.Case)
	assert.Equal(t, 7, dead.Day)
	assert.InDelta(t, 4*(174-162), float64(dead.Miles), 1e-6)
}

func TestFuelIsNotJudgedWithoutWindNorEngine(t *testing.T) {
	s := threePlaces()
	s.Boat.Tanks[3].Capacity = 70 // 64.75 L used and 10 L held back
	require.Equal(t, IntoReserve, s.Reckon().Verdict)
	assert.Equal(t, Holds, asked(t, s, NoEngine).Verdict)
	assert.NotEqual(t, passage.Fuel, asked(t, s, NoWind).Thing)
	assert.Equal(t, passage.Fuel, asked(t, s, NothingAt).Thing, "else it is")
}

func TestGasIsNotJudgedOnceItIsGone(t *testing.T) {
	s := threePlaces()
	s.Boat.Foods = append(s.Boat.Foods, Food{Name: "soup", Cook: true})
	s.Boat.Tanks[4].Capacity = 1
	require.Equal(t, RunsOut, s.Reckon().Verdict)
	assert.Equal(t, Holds, asked(t, s, GasGone).Verdict)
}

// What is worse than as planned is a caution; what is not, is not, and gets no cure.
func TestOnlyWhatIsWorseThanAsPlannedIsWorse(t *testing.T) {
	s := threePlaces()
	s.Boat.Tanks[4].Capacity = 2 // 1.8 kg used and 0.3 kg held back
	require.Equal(t, IntoReserve, s.Reckon().Verdict)
	slower := asked(t, s, FifthSlower)
	assert.True(t, slower.Worse, "gas runs out")
	s.Boat.Tanks[4].Capacity = 1.5
	slower = asked(t, s, FifthSlower)
	assert.Equal(t, RunsOut, slower.Verdict)
	assert.False(t, slower.Worse, "as it does anyway")
	assert.Empty(t, slower.Cures)
}

// Of several the worst verdict, then the earliest day, then water, fuel, food, gas.
func TestWhatIsToldOfSeveral(t *testing.T) {
	at := func(v Verdict, day int, t passage.Thing) failure { return failure{verdict: v, day: day, thing: t} }
	for _, c := range []struct {
		name string
		list []failure
		want int
	}{
		{"the worst verdict, though later", []failure{at(IntoReserve, 1, passage.Water), at(RunsOut, 9, passage.Gas)}, 1},
		{"the earliest day", []failure{at(RunsOut, 3, passage.Water), at(RunsOut, 2, passage.Gas)}, 1},
		{"water before fuel", []failure{at(RunsOut, 2, passage.Fuel), at(RunsOut, 2, passage.Water)}, 1},
		{"fuel before food", []failure{at(RunsOut, 2, passage.Food), at(RunsOut, 2, passage.Fuel)}, 1},
		{"food before gas", []failure{at(RunsOut, 2, passage.Gas), at(RunsOut, 2, passage.Food)}, 1},
		{"the first", []failure{at(RunsOut, 2, passage.Gas), at(RunsOut, 3, passage.Gas)}, 0},
	} {
		o := outcome{failing: c.list}
		assert.Same(t, &c.list[c.want], o.worst(), c.name)
	}
	assert.Nil(t, (&outcome{}).worst())
}

func TestDayIsTheNthTwentyFourHours(t *testing.T) {
	for hours, want := range map[float64]int{0: 1, 0.01: 1, 23.99: 1, 24: 2, 24 - 1e-9: 2, 24 + 1e-9: 2, 47.99: 2, 48: 3, math.Inf(1): math.MaxInt32 + 1} {
		assert.Equal(t, want, dayAfter(hours), "%v h", hours)
	}
}

func TestWorstComesFirst(t *testing.T) {
	at := func(h int) time.Time { return sails.Add(time.Duration(h) * time.Hour) }
	list := []WhatIf{
		{Kind: FullestTankLost, Verdict: Holds},
		{Kind: WatermakerDead, Verdict: IntoReserve, At: at(1)},
		{Kind: NoWind, Verdict: RunsOut, At: at(9)},
		{Kind: NoEngine, Verdict: RunsOut, At: at(5)},
		{Kind: FifthSlower, Verdict: RunsOut, Unmade: []int{3}},
		{Kind: OneMoreAboard, Verdict: RunsOut, At: at(5)},
		{Kind: FridgeDead, Verdict: RunsOut, Unmade: []int{1, 2}},
		{Kind: GasGone, Verdict: Holds},
	}
	slices.SortStableFunc(list, worstFirst)
	var order []Contingency
	for _, w := range list {
		order = append(order, w.Kind)
	}
	assert.Equal(t, []Contingency{FifthSlower, FridgeDead, NoEngine, OneMoreAboard, NoWind, WatermakerDead, FullestTankLost, GasGone}, order)

	s := threePlaces()
	assert.True(t, slices.IsSortedFunc(s.WhatIfs(s.Reckon()).List, worstFirst))
}

func TestWhatIsAskedOfHer(t *testing.T) {
	names := func(w WhatIfs) (list []string) {
		for _, w := range w.List {
			list = append(list, w.Name())
		}
		slices.Sort(list)
		return list
	}
	always := []string{"a fifth slower", "no engine", "no wind", "one more aboard"}
	for _, c := range []struct {
		name   string
		change func(*Situation)
		more   []string
		out    []string
	}{
		{"as she is", func(*Situation) {}, []string{"fullest water tank lost", "nothing at Middle Island"}, nil},
		{"one water tank", func(s *Situation) { s.Boat.Tanks = s.Boat.Tanks[1:] }, []string{"nothing at Middle Island"},
			[]string{"fullest water tank lost: there is one water tank alone"}},
		{"sealed water alone", func(s *Situation) { s.Boat.Tanks = s.Boat.Tanks[2:] }, []string{"nothing at Middle Island"},
			[]string{"fullest water tank lost: there is no water tank"}},
		{"a watermaker, a fridge and a stove", func(s *Situation) {
			s.Boat.Watermaker = &Watermaker{}
			s.Boat.Foods = []Food{{Name: "it", Chilled: true, Cook: true}}
		}, []string{"fridge dead", "fullest water tank lost", "gas gone", "nothing at Middle Island", "watermaker dead"}, nil},
		{"food is not reckoned", func(s *Situation) {
			s.Boat.Foods = []Food{{Name: "it", Chilled: true, Cook: true}}
			s.Boat.Rates.Rations, s.Boat.Rates.Reserve[passage.Food] = nil, Reserve{None: true}
		}, []string{"fullest water tank lost", "nothing at Middle Island"}, nil},
		{"a stop that may give something", func(s *Situation) {
			s.Plan.Legs[0].Fill = []passage.Giving{{Thing: passage.Water}}
		}, []string{"fullest water tank lost"}, nil},
		{"the last leg's end is no stop", func(s *Situation) { s.Plan.Legs[1].Fill = s.Plan.Legs[0].Fill },
			[]string{"fullest water tank lost", "nothing at Middle Island"}, nil},
		{"stops and alternates of one name", func(s *Situation) {
			s.Plan.Legs = append(s.Plan.Legs, s.Plan.Legs[0], s.Plan.Legs[1])
			other := passage.Alternate{Name: "Cove", After: 10, Distance: 10}
			s.Plan.Legs[0].Alternates, s.Plan.Legs[3].Alternates = []passage.Alternate{other, {Name: "Ria"}, other, {Name: "Inlet"}}, []passage.Alternate{other}
		}, []string{
			"divert to Cove (leg 1, no. 1)", "divert to Cove (leg 1, no. 2)", "divert to Cove (leg 4)", "divert to Inlet", "divert to Ria",
			"fullest water tank lost", "nothing at Middle Island (leg 1)", "nothing at Middle Island (leg 3)",
		}, nil},
	} {
		s := threePlaces()
		c.change(&s)
		got := s.WhatIfs(s.Reckon())
		want := append(slices.Clone(always), c.more...)
		slices.Sort(want)
		assert.Equal(t, want, names(got), c.name)
		assert.Equal(t, c.out, got.LeftOut, c.name)
	}
}

func TestNoCaseMakesItNothingIsAsked(t *testing.T) {
	s := threePlaces()
	s.Plan.Legs[0].Current = -5
	assert.Equal(t, WhatIfs{}, s.WhatIfs(s.Reckon()))
	assert.Equal(t, WhatIfs{}, s.WhatIfs(Reckoning{}))
}

// A leg that a case did not make as planned is not what a contingency unmakes.
func TestLegThatWasNotMadeAsPlannedIsNoNews(t *testing.T) {
	s := threePlaces()
	s.Plan.Cases[passage.Slow] = passage.Case{Speed: 0.12, Motor: 1, Power: 0} // 0.6 kn, a fifth less 0.48 kn
	s.Plan.Cases[passage.Quick] = passage.Case{Speed: 0.05, Motor: 1, Power: 0}
	for _, tank := range []int{0, 1, 3, 4} {
		s.Boat.Tanks[tank].Capacity = 1e5
	}
	s.Boat.Rates.Rations, s.Boat.Rates.Reserve[passage.Food] = nil, Reserve{None: true}
	require.Equal(t, Holds, s.Reckon().Verdict)
	assert.Equal(t, Holds, asked(t, s, OneMoreAboard).Verdict)

	slower := asked(t, s, FifthSlower)
	assert.Equal(t, RunsOut, slower.Verdict)
	assert.Equal(t, passage.Slow, slower.Case)
	assert.Equal(t, []int{0, 1}, slower.Unmade)
	assert.Equal(t, "cannot make leg 1 (Near Bay to Middle Island), nor leg 2, in the slow case", slower.Words(quantity.Metric, nil))
	assert.Empty(t, slower.Cures)
}

// The slow case makes 2.5 kn on the first leg and no way on the second. To a refuge off
// the first leg it is then made too, and is the hard one: 48 h, 40 + 20 of 50 L.
func TestCaseThatIsMadeAsFarAsTheRefugeCounts(t *testing.T) {
	s := threePlaces()
	s.Plan.Cases[passage.Slow] = passage.Case{Speed: 0.5, Motor: 1}
	s.Plan.Legs[0].Alternates = []passage.Alternate{{Name: "Small Cove", After: 60, Distance: 60}}
	s.Plan.Legs[1].Current = -2.1
	s.Boat.Tanks[0].Capacity, s.Boat.Tanks[1].Capacity = 20, 30
	require.Equal(t, RunsOut, s.Reckon().Verdict)
	w := asked(t, s, DivertTo)
	assert.Equal(t, IntoReserve, w.Verdict)
	assert.Equal(t, passage.Slow, w.Case)
	assert.InDelta(t, 10, float64(w.Missing), 1e-9)
}

// spansOf are the spans of a becalmed voyage as text: leg, kind, hours, knots, share under engine.
func spansOf(v passage.Voyage) (list []string) {
	for _, s := range v.Spans {
		list = append(list, fmt.Sprintf("%d %d %.2fh %.2fkn %.2f", s.Leg, s.Kind, s.Hours, s.Speed, s.Power))
	}
	return list
}

func TestNoWindBendsTheVoyage(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*Situation)
		want   []string
	}{
		{"fuel gone on the second leg", func(*Situation) {}, []string{
			"0 0 24.00h 5.00kn 1.00", "0 1 24.00h 0.00kn 0.00",
			"1 0 20.50h 5.00kn 1.00", "1 0 75.50h 0.00kn 0.00", "1 0 75.50h 5.00kn 0.25",
		}},
		// 120 h need 240 L and a litre in the stay.
		{"fuel for all of it", func(s *Situation) { s.Boat.Tanks[3].Capacity = 251; s.Plan.Legs[1].Distance = 600 }, []string{
			"0 0 24.00h 5.00kn 1.00", "0 1 24.00h 0.00kn 0.00", "1 0 96.00h 5.00kn 1.00", "1 0 24.00h 5.00kn 0.25",
		}},
		{"fuel for more", func(s *Situation) { s.Boat.Tanks[3].Capacity = 900; s.Plan.Legs[1].Distance = 600 }, []string{
			"0 0 24.00h 5.00kn 1.00", "0 1 24.00h 0.00kn 0.00", "1 0 96.00h 5.00kn 1.00", "1 0 24.00h 5.00kn 0.25",
		}},
		// 2400 rpm: 20 h at 6 kn and 4 L/h, 80 L; then 80 h, of which there is fuel for 9 L less a litre.
		{"at other revs", func(s *Situation) { s.Boat.Engine.CruiseRPM = 2400; s.Boat.Tanks[3].Capacity = 99 }, []string{
			"0 0 20.00h 6.00kn 1.00", "0 1 24.00h 0.00kn 0.00", "1 0 2.00h 6.00kn 1.00", "1 0 98.00h 0.00kn 0.00", "1 0 89.14h 5.25kn 0.25",
		}},
		{"no fuel above the reserve: adrift at once", func(s *Situation) { s.Boat.Tanks[3].Capacity = 10 }, []string{
			"0 0 120.00h 0.00kn 0.00", "0 0 24.00h 5.00kn 0.25", "0 1 24.00h 0.00kn 0.00", "1 0 96.00h 5.00kn 0.25",
		}},
		// 0.5*5 - 2.1 = 0.4 kn under engine, 0.25*2.5 + 0.75*5 - 2.1 = 2.275 kn as planned. Not even the current moves her.
		{"the engine makes no way", func(s *Situation) {
			slow := s.Plan.Cases[passage.Slow]
			slow.Motor = 0.5
			s.Plan.Cases[passage.Slow] = slow
			s.Plan.Legs[0].Current = -2.1
		}, []string{
			"0 0 120.00h 0.00kn 0.00", "0 0 52.75h 2.27kn 0.25", "0 1 24.00h 0.00kn 0.00", "1 0 109.71h 4.38kn 0.25",
		}},
		// 0.5 kn is way: 120 h of 2 L/h are 240 L, of which there are 90: 45 h and 22.5 nm.
		{"the engine just makes way", func(s *Situation) {
			slow := s.Plan.Cases[passage.Slow]
			slow.Motor = 0.5
			s.Plan.Cases[passage.Slow] = slow
			s.Plan.Legs[0].Current = -2
		}, []string{
			"0 0 45.00h 0.50kn 1.00", "0 0 75.00h 0.00kn 0.00", "0 0 41.05h 2.38kn 0.25", "0 1 24.00h 0.00kn 0.00", "1 0 109.71h 4.38kn 0.25",
		}},
		// Filled where it is sure: 48 L of 90 on the first leg, then 90 again: 45 h; the stay takes none.
		{"fuel at the stop", func(s *Situation) {
			s.Plan.Legs[0].Fill = append(s.Plan.Legs[0].Fill, passage.Giving{Thing: passage.Fuel, Sure: true})
		}, []string{
			"0 0 24.00h 5.00kn 1.00", "0 1 24.00h 0.00kn 0.00", "1 0 45.00h 5.00kn 1.00", "1 0 51.00h 0.00kn 0.00", "1 0 51.00h 5.00kn 0.25",
		}},
		{"perhaps fuel at the stop", func(s *Situation) {
			s.Plan.Legs[0].Fill = append(s.Plan.Legs[0].Fill, passage.Giving{Thing: passage.Fuel})
		}, []string{
			"0 0 24.00h 5.00kn 1.00", "0 1 24.00h 0.00kn 0.00", "1 0 20.50h 5.00kn 1.00", "1 0 75.50h 0.00kn 0.00", "1 0 75.50h 5.00kn 0.25",
		}},
		// 0.25 L/h for 24 h is 6 L of heating a day: 2.25 L/h under engine, 54 L on the first leg, 7 L in
		// the stay, 29 L are 12.89 h.
		{"the heater burns too", func(s *Situation) {
			s.Boat.Heater = &Heater{Burn: 0.25, Run: 24 * time.Hour}
			s.Plan.Climate = passage.Cold
		}, []string{
			"0 0 24.00h 5.00kn 1.00", "0 1 24.00h 0.00kn 0.00", "1 0 12.89h 5.00kn 1.00", "1 0 83.11h 0.00kn 0.00", "1 0 83.11h 5.00kn 0.25",
		}},
		{"a wait does not count as the sea", func(s *Situation) {
			slow := s.Plan.Cases[passage.Slow]
			slow.Wait = 24 * time.Hour
			s.Plan.Cases[passage.Slow] = slow
		}, []string{
			"0 0 24.00h 5.00kn 1.00", "0 1 24.00h 0.00kn 0.00", "0 2 24.00h 0.00kn 0.00",
			"1 0 20.00h 5.00kn 1.00", "1 0 76.00h 0.00kn 0.00", "1 0 76.00h 5.00kn 0.25",
		}},
		{"over before the calm is", func(s *Situation) { s.Plan.Legs = s.Plan.Legs[:1] }, []string{"0 0 24.00h 5.00kn 1.00"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := threePlaces()
			c.change(&s)
			r := s.Reckon()
			slow := newBasis(s, &r).becalmed()[0]
			got := spansOf(slow)
			assert.Equal(t, c.want, got)

			hours := 0.0
			for _, span := range slow.Spans {
				assert.WithinDuration(t, sails.Add(time.Duration(hours*float64(time.Hour))), span.Start, time.Microsecond)
				hours += span.Hours
			}
			assert.InDelta(t, hours, slow.Hours, 1e-9)
			assert.Len(t, slow.Arrivals, len(s.Plan.Legs))
			assert.WithinDuration(t, sails.Add(time.Duration(hours*float64(time.Hour))), slow.Arrive(), time.Microsecond)
		})
	}
}

func TestCaseThatIsNotMadeIsNotBecalmed(t *testing.T) {
	s := threePlaces()
	s.Plan.Cases[passage.Slow] = passage.Case{}
	r := s.Reckon()
	assert.Equal(t, r.Cases[passage.Slow].Voyage, newBasis(s, &r).becalmed()[0])
}

func TestWhatIfInWords(t *testing.T) {
	at := sails.Add(11 * 24 * time.Hour)
	for _, c := range []struct {
		what WhatIf
		zone *time.Location
		want string
	}{
		{WhatIf{Verdict: Holds}, offset, "holds"},
		{WhatIf{Verdict: RunsOut, Thing: passage.Water, Day: 12, At: at, Miles: 139.2, Sealed: 20.9}, nil,
			"runs out of water on day 12, 140 nm short; then 20 L sealed"},
		{WhatIf{Verdict: RunsOut, Thing: passage.Water, Day: 12, At: at, Miles: 139.2}, offset, "runs out of water on day 12 (12 Jun), 140 nm short"},
		{WhatIf{Verdict: RunsOut, Thing: passage.Gas, Day: 3}, nil, "runs out of gas on day 3"},
		{WhatIf{Verdict: IntoReserve, Thing: passage.Fuel, Day: 9, Missing: 11.1, Sealed: 5}, nil, "into the fuel reserve on day 9, 12 L missing"},
		{WhatIf{Verdict: RunsOut, Unmade: []int{1}, Case: passage.Slow, From: "Near Bay", To: "Far Harbour"}, offset,
			"cannot make leg 2 (Near Bay to Far Harbour) in the slow case"},
	} {
		assert.Equal(t, c.want, c.what.Words(quantity.Metric, c.zone))
	}
	assert.Equal(t, "into the fuel reserve on day 1, 3.0 US gal missing",
		WhatIf{Verdict: IntoReserve, Thing: passage.Fuel, Day: 1, Missing: Amount(2.95 * quantity.USGallon)}.Words(quantity.US, nil))
}
